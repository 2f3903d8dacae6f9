"""Two jobs or runs beside each other: where they differ, and nowhere else."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from stanchion.base.text import clean
from stanchion.report.comparison import Comparison, comparison_lines
from stanchion.ui.screens.modal import Dialog
from stanchion.ui.widgets.panes import Drawn


class CompareScreen(Dialog[None]):
    """What differs, both values, and by how much."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "dismiss(None)", show=False)]

    def __init__(self, comparison: Comparison) -> None:
        super().__init__()
        self._comparison = comparison

    def compose(self) -> ComposeResult:
        """Both names, then a line for each difference."""
        of = self._comparison
        with Vertical(classes="dialog full"):
            yield Static(clean(f"From {of.one} to {of.other}", 300), classes="dialog-title", markup=False)
            with VerticalScroll():
                yield Drawn(id="compared")
            yield Static("Arrows scroll, Esc goes back.", classes="dialog-foot", markup=False)

    def on_mount(self) -> None:
        """Give the text the focus, so that the arrows scroll it."""
        self.query_one("#compared", Drawn).draw(lambda width, _: self._lines(width))
        self.query_one(VerticalScroll).focus()

    def _lines(self, width: int) -> Iterator[Content]:
        for kind, line in comparison_lines(self._comparison, max(20, width - 1)):
            yield Content.styled(line, "$primary bold") if kind == "head" else Content(line)
