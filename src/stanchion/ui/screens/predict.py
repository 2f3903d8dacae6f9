"""What loads and springs predict, beside what was measured; the geometry; force against travel."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widget import Widget

from stanchion.bench.session import Session
from stanchion.job.model import ENDS, End
from stanchion.ui import keys
from stanchion.ui.predicted_lines import picture_lines, predicted_lines
from stanchion.ui.screens.job_screen import JobScreen
from stanchion.ui.widgets.panes import Drawn


class PredictScreen(JobScreen):
    """Read only: the figures follow from the other screens."""

    CSS_PATH = "../styles/predict.tcss"
    name_of = "predict"
    AUTO_FOCUS = "#predicted-pane"
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("predict"), Binding("tab", "other_end", show=False)]

    def __init__(self) -> None:
        super().__init__()
        self._end: End = "front"

    def body(self) -> Iterable[Widget]:
        """Figures on the left, the picture on the right."""
        yield VerticalScroll(Drawn(id="predicted"), id="predicted-pane")
        yield Drawn(id="picture")

    def hints(self) -> list[str]:
        """Scrolling, the keys of this screen, and the end in the picture after the first of them."""
        first, *others = super().hints()
        return ["Arrows scroll", first, "Tab other end", *others]

    def another_job(self) -> None:
        """Scroll to the top."""
        self.query_one("#predicted-pane", VerticalScroll).scroll_home(animate=False)

    def show_figures(self, session: Session) -> None:
        """Figures and picture."""
        a, units, end = session.assessment, session.units, self._end
        job = session.job
        self.query_one("#predicted", Drawn).draw(lambda width, _: predicted_lines(a, units, width, job))
        plain = self.program.only_ascii
        self.query_one("#picture", Drawn).draw(
            lambda width, height: picture_lines(session, end, width - 1, height, plain=plain)
        )

    def action_balance(self) -> None:
        """Weights, the centre of mass, and the machine on the brakes."""
        self.program.action_go("balance")

    def action_other_end(self) -> None:
        """The other end in the picture."""
        self._end = ENDS[1 - ENDS.index(self._end)]
        self.show_derived()
