"""How fast both ends swing and how much damping stops that, beside the job before and the best lap."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widget import Widget

from stanchion.bench.session import Session
from stanchion.judgement.predict.damping import damping_figures
from stanchion.judgement.results.damping import DampingFigures
from stanchion.planning.damping_compared import EarlierDamping, since_best_lap, since_job
from stanchion.ui import keys, present
from stanchion.ui.damping_lines import damping_lines
from stanchion.ui.screens.job_screen import JobScreen
from stanchion.ui.widgets.panes import Drawn


class DampingScreen(JobScreen):
    """Read only; worked out only while this screen is shown."""

    CSS_PATH = "../styles/damping.tcss"
    name_of = "damping"
    AUTO_FOCUS = "#damping-pane"
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("damping")]

    def body(self) -> Iterable[Widget]:
        """The figures over the whole width."""
        yield VerticalScroll(Drawn(id="damping"), id="damping-pane")

    def hints(self) -> list[str]:
        """Scrolling, then the keys of this screen."""
        return ["Arrows scroll", *super().hints()]

    def another_job(self) -> None:
        """Scroll to the top."""
        self.query_one("#damping-pane", VerticalScroll).scroll_home(animate=False)

    def show_figures(self, session: Session) -> None:
        """Work the figures out and show them."""
        job, units = session.job, session.units
        none: DampingFigures | None = None
        figures = session.judged("prediction", none, damping_figures, job, session.assessment)
        pane = self.query_one("#damping", Drawn)
        if figures is None:
            pane.draw(lambda *_: [present.NOT_JUDGED])
            return
        earlier = self._earlier(session, figures)
        pane.draw(lambda width, _: damping_lines(figures, earlier, units, width))

    def _earlier(self, session: Session, figures: DampingFigures) -> tuple[EarlierDamping, ...]:
        """What the figures are compared with."""
        none: tuple[EarlierDamping, ...] = ()
        return (
            *session.judged("prediction", none, since_job, figures, session.previous, session.assessment_before),
            *session.judged("prediction", none, since_best_lap, session.job, figures, session.profiles),
        )
