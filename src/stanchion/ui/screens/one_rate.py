"""A dialog over the list of springs: one rate in place of springs whose rate changes."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Static

from stanchion.judgement.results.figures import Figure
from stanchion.planning.one_rate import OneRate
from stanchion.ui.one_rate_lines import HEADS, one_rate_lines
from stanchion.ui.screens.app_screen import Dialog
from stanchion.ui.widgets.panes import Drawn
from stanchion.units.known_units import Units


class OneRateScreen(Dialog[None]):
    """The two rates, what they give, and their force over that of the springs fitted.

    Args:
        of: the comparison, or why there is none.
        units: display units.
        plain: whether to draw in ASCII.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "dismiss(None)", show=False),
        Binding("tab", "other_rate", show=False),
    ]

    def __init__(self, of: OneRate | Figure, units: Units, *, plain: bool) -> None:
        super().__init__()
        self._of, self._units, self._plain = of, units, plain
        self._drawn = "same_sag"

    def compose(self) -> ComposeResult:
        """The table with the drawing."""
        with Vertical(classes="dialog full"):
            yield Static("One rate in place of the springs fitted", classes="dialog-title", markup=False)
            yield Drawn(id="one-rate")
            foot = "Preload and adjuster stay. Tab draws the other rate, Esc goes back."
            yield Static(foot, classes="dialog-foot", markup=False)

    def on_mount(self) -> None:
        """Draw it."""
        super().on_mount()
        self._draw()

    def _draw(self) -> None:
        of, units, drawn, plain = self._of, self._units, self._drawn, self._plain
        self.query_one("#one-rate", Drawn).draw(
            lambda width, height: one_rate_lines(of, drawn, units, width, height, plain=plain)
        )

    def action_other_rate(self) -> None:
        """Draw the other rate over the springs fitted."""
        names = list(HEADS)
        self._drawn = names[1 - names.index(self._drawn)]
        self._draw()
