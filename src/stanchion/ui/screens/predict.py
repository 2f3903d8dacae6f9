"""What loads and springs predict, beside what was captured; how the machine stands; force against travel."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from stanchion.job.model import ENDS, End
from stanchion.session import Session
from stanchion.ui.predicted_lines import picture_lines, predicted_lines
from stanchion.ui.screens.job_screen import JobScreen


class PredictScreen(JobScreen):
    """Read only: the figures follow from the other screens."""

    name_of = "predict"
    AUTO_FOCUS = "#predicted-pane"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("tab", "other_end", show=False)]

    def __init__(self) -> None:
        super().__init__()
        self._end: End = "front"

    def body(self) -> Iterable[Widget]:
        """Figures on the left, the picture on the right."""
        yield VerticalScroll(Static(id="predicted", markup=False), id="predicted-pane")
        yield Static(id="picture", classes="pane", markup=False)

    def hints(self) -> list[str]:
        """Scrolling, and the end in the picture."""
        return ["Arrows scroll", "Tab other end in the picture"]

    def show_figures(self, session: Session) -> None:
        """Figures and picture."""
        pane, picture = self.query_one("#predicted", Static), self.query_one("#picture", Static)
        width = max(40, pane.size.width)
        pane.update(Content("\n").join(predicted_lines(session.assessment, session.units, width)))
        room = picture.size
        lines = picture_lines(session, self._end, room.width - 1, room.height)
        picture.update(Content("\n").join(lines))

    def action_other_end(self) -> None:
        """The other end in the picture."""
        self._end = ENDS[1 - ENDS.index(self._end)]
        self.show_derived()
