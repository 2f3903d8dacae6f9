"""A scale calibrated with known masses: one value at a time, in large digits."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Static

from stanchion.bench.calibration_round import CalibrationRound
from stanchion.job.calibration import ScaleCalibration
from stanchion.ui.calibration_lines import calibration_lines, title_of
from stanchion.ui.screens.app_screen import Dialog
from stanchion.ui.widgets.panes import Drawn

FOOT = "Enter takes it and goes on. / or Up: back. Backspace deletes. Esc leaves."


class CalibrationScreen(Dialog[ScaleCalibration | None]):
    """A calibration from the name of the scale to its result. Gives the calibration where it is kept.

    Args:
        going: the calibration, not begun.
        plain: whether its digits are in ASCII.
    """

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "dismiss(None)", show=False)]

    def __init__(self, going: CalibrationRound, *, plain: bool = False) -> None:
        super().__init__()
        self.going = going
        self._plain = plain

    def compose(self) -> ComposeResult:
        """Title, what to do and what is typed, keys."""
        with Vertical(classes="dialog full"):
            yield Static(classes="dialog-title", markup=False)
            yield Drawn(id="study")
            yield Static(FOOT, classes="dialog-foot", markup=False)

    def on_mount(self) -> None:
        """Ask for the name of the scale."""
        self._show()

    def _show(self) -> None:
        self.query_one(".dialog-title", Static).update(title_of(self.going))
        self.query_one("#study", Drawn).draw(
            lambda width, height: calibration_lines(self.going, width, height, plain=self._plain)
        )

    def on_key(self, event: events.Key) -> None:
        """Take a key: a character into the text, Enter on, / or Up back."""
        going, key = self.going, event.key
        named = going.one is not None and going.one.key[0] == "called"
        if key in ("enter", "ctrl+j", "down", "tab"):
            if going.done:
                self.dismiss(going.calibration())
                return
            going.take()
        elif key in ("up", "shift+tab") or (event.character == "/" and not (named and going.typed)):
            going.back()
        elif key == "backspace":
            going.delete()
        elif event.character and event.is_printable:
            going.type(event.character)
        else:
            return
        event.stop()
        self._show()
