"""How fast both ends swing and how much damping stops that, beside the job before and the best lap."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widget import Widget

from stanchion.bench.session import Session
from stanchion.job.edit import Edit
from stanchion.judgement.ends.rebound_after_spring import had_other_springs, unconfirmed
from stanchion.judgement.predict.damping import damping_figures
from stanchion.judgement.results.damping import DampingFigures
from stanchion.planning.damping_compared import EarlierDamping, earlier_damping
from stanchion.ui import keys, present
from stanchion.ui.damping_lines import damping_lines
from stanchion.ui.screens.job_screen import JobScreen
from stanchion.ui.widgets.panes import Drawn
from stanchion.wording.rebound_sentences import NO_OTHER_SPRING, NOTHING_LEFT, REBOUND, rebound_right_words


class DampingScreen(JobScreen):
    """Worked out only while this screen is shown."""

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
        left = [finding for finding in session.assessment.findings if finding.code in REBOUND]
        pane.draw(lambda width, _: damping_lines(figures, earlier, units, width, left=left))

    def action_rebound_right(self) -> None:
        """Record that rebound is right as it stands, where another spring went in."""
        session, program = self.session, self.program
        if session is None:
            return
        found = unconfirmed(session.job, session.previous)
        if not found:
            program.say(NOTHING_LEFT if had_other_springs(session.job, session.previous) else NO_OTHER_SPRING)
            return
        edits = [Edit(("damping", f"{end}_rates_n_per_mm"), rates) for end, rates in found.items()]
        undo = keys.shown(program.key("undo").keys)
        program.refresh_after(session.put_all(edits) or f"{rebound_right_words(list(found))} {undo} takes that back.")

    def _earlier(self, session: Session, figures: DampingFigures) -> tuple[EarlierDamping, ...]:
        """What the figures are compared with."""
        none: tuple[EarlierDamping, ...] = ()
        with_job = (session.previous, session.assessment_before)
        return session.judged("prediction", none, earlier_damping, session.job, figures, *with_job, session.profiles)

    def action_damper_sheets(self) -> None:
        """What a dynamometer measured of the dampers."""
        self.program.action_go("dampers")
