"""Runs on the track: log one while the rider talks, read its markers, and see what was changed since the run before."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import ClassVar

from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.widget import Widget

from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.job.edit import Edit
from stanchion.job.model import Job, Path
from stanchion.job.runs import as_ridden, began_at, changes_before, changes_since, is_blank, new_run
from stanchion.judgement.work.proof import verdict_wanted
from stanchion.planning.ridden_as import RiddenAs, as_stamped, ridden_as
from stanchion.planning.ridden_changes import logged, restamped, waiting_again
from stanchion.ui import keys
from stanchion.ui.commands.changes import ask_for_verdict
from stanchion.ui.form_lines import FormLine
from stanchion.ui.run_form import run_form
from stanchion.ui.run_lines import run_pages, run_short
from stanchion.ui.screens.sheet_screen import SheetScreen
from stanchion.ui.widgets.pages import Pages
from stanchion.ui.widgets.sheet import FormSheet
from stanchion.units.known_units import Units
from stanchion.wording.finding_words import sentence
from stanchion.wording.proof_sentences import question_of_verdict
from stanchion.wording.ridden_words import question_of_run, ridden_as_words

TYRE_FIELDS = ("_bar", "_c")
"""How the names of fields end that have to do with tyres and temperatures."""


class RunSheet(FormSheet):
    """The fields of one run; the page keys turn to another run."""

    class Turned(Message):
        """An older (1) or a newer (-1) run is wanted."""

        def __init__(self, step: int) -> None:
            self.step = step
            super().__init__()

    def action_section(self, step: int) -> None:
        """PgDn leads to the run before, PgUp to the one after."""
        self.post_message(self.Turned(step))


class RunsScreen(SheetScreen):
    """Every run of the job, one of them current."""

    CSS_PATH = "../styles/runs.tcss"
    name_of = "runs"
    label_width = 14
    cell_width = 8
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("runs")]

    def __init__(self) -> None:
        super().__init__()
        self._at: int | None = None
        """The current run; None: the latest."""
        self._logged: int | None = None
        """The run that was logged last, until it is said which settings it was ridden with."""
        self._chosen: tuple[Job, int] | None = None
        """The job after the last choice of the settings a run was ridden with, and which one it was."""

    def body(self) -> Iterable[Widget]:
        """The fields of the current run, and the figures of all runs."""
        self._sheet = sheet = RunSheet(self._lines, label_width=self.label_width, cell_width=self.cell_width)
        yield VerticalScroll(sheet, id="sheet-pane", can_focus=False)
        yield Vertical(Pages(id="run"), id="figures")
        yield Pages(id="short")

    def _lines(self, job: Job, units: Units) -> tuple[FormLine, ...]:
        return run_form(job, units, self._within(job))

    def _within(self, job: Job) -> int:
        """The current run, if there still is such a run; otherwise the latest. -1: there is none."""
        last = len(job.runs) - 1
        return last if self._at is None else min(self._at, last)

    @property
    def current_run(self) -> int:
        """The number of the current run, from 0; -1: there is none."""
        return self._within(self.session.job) if self.session is not None else -1

    def hints(self) -> list[str]:
        """Logging and the words first: while the rider talks nothing else is needed."""
        own = [f"{keys.shown(self.program.key(name).keys)} {words}" for name, words in SHORT]
        return [*own, "PgUp PgDn runs"]

    def show_figures(self, session: Session) -> None:
        """Show all runs, and the figures of the current one."""
        at = self.current_run
        pane = self.query_one("#run", Pages)
        question = self._question(session) or self._verdict_wanted(session)
        if at < 0:
            pane.draw(lambda width, height: no_run_lines(keys.shown(self.program.key("run.log").keys)))
            return

        def drawing(width: int, height: int) -> list[list[Content]]:
            if at >= len(session.job.runs):  # undone from another screen, and this one drawn for another size
                return [[]]
            return run_pages(session, at, width - 1, height, tyres=self._at_tyres, question=question)

        pane.draw_pages(drawing, (at, self._at_tyres))

    def short(self, session: Session) -> Sequence[Content]:
        """Travel used by the current run, then all runs."""
        if self.current_run < 0:
            return no_run_lines(keys.shown(self.program.key("run.log").keys))[1:]
        width, question = self.size.width - 2, self._question(session)
        wanted = "" if question else self._verdict_wanted(session)
        return run_short(session, self.current_run, width, tyres=self._at_tyres, question=question, wanted=wanted)

    def short_about(self) -> object:
        """The current run, and whether its tyres come first."""
        return self.current_run, self._at_tyres

    @property
    def _at_tyres(self) -> bool:
        """Whether the current field has to do with tyres, which then come first."""
        field = self.sheet.at
        return field is not None and str(field[-1]).endswith(TYRE_FIELDS)

    def on_run_sheet_turned(self, message: RunSheet.Turned) -> None:
        """Go to the same field of another run."""
        message.stop()
        session, field = self.session, self.sheet.at
        if session is None or self.current_run < 0:
            return
        at = self.current_run - message.step
        if not 0 <= at < len(session.job.runs):
            self.program.say("This is the latest run." if message.step < 0 else "This is the first run.")
            return
        path: Path = ("runs", at, *field[2:]) if field is not None and field[0] == "runs" else ("runs", at)
        self.go_to(path)

    def go_to(self, path: Path) -> None:
        """Go to a field; its run becomes the current one."""
        if (
            self.session is not None
            and self.takes_keys
            and path[0] == "runs"
            and len(path) > 1
            and isinstance(path[1], int)
        ):
            if self.sheet.at is not None:
                self.session.leave(self.sheet.at)
            last = len(self.session.job.runs) - 1
            self._at = None if path[1] >= last else path[1]
            self.sheet.refresh_lines(refill=True)
        super().go_to(path)

    def _question(self, session: Session) -> str:
        """Whether the run logged last was ridden with the present settings, where those were changed since the run
        before, or after it began; empty where nothing is to be asked."""
        job, at = session.job, self._logged
        if at is None or at != self.current_run or at != len(job.runs) - 1 or changes_since(job, at):
            return ""
        began, changed = began_at(job, job.runs[at]), session.changed_at
        late = began is not None and changed is not None and began < changed.replace(second=0, microsecond=0)
        if not late and (job.runs[at].change is not None or not changes_before(job, at)):
            return ""
        key = keys.shown(self.program.key("run.stamp").keys)
        if not late:
            return question_of_run(at, None, None, key)
        return question_of_run(at, began, changed, key) if session.before_last_change() is not None else ""

    def _verdict_wanted(self, session: Session) -> str:
        """That the verdict on the current run is wanted; empty where it was given, or nothing was changed for it."""
        at = self.current_run
        wanted = session.judged("changes", False, verdict_wanted, session.job, at)  # noqa: FBT003
        return question_of_verdict(at, keys.shown(self.program.key("run.verdict").keys)) if wanted else ""

    # --- commands -------------------------------------------------------------------------------------------------

    def action_turn_page(self, step: int) -> None:
        """Show the figures that there is no room for."""
        super().action_turn_page(step)
        self.query_one("#run", Pages).turn(step)

    def action_log_run(self) -> None:
        """Add a run, with the time and the settings ridden filled in; its first field is current at once.

        Not while nothing is recorded of the one before, ridden with the same settings: then the key was pressed once
        too often, and what is typed next belongs to that run. A question would swallow it.
        """
        session, program = self.session, self.program
        if session is None:
            return
        program.leave_fields()
        runs, now = session.job.runs, program.now()
        if runs and is_blank(runs[-1]) and as_ridden(session.job, runs[-1]) == session.job:
            program.say(f"Run {len(runs)} is still empty: enter something in it first, even if only its laps.")
        elif refusal := session.put_all(logged(session.job, new_run(session.job, f"{now:%H:%M}", now.date()), now)):
            program.say(refusal)
        else:
            self._logged = len(runs)
            for finding in session.assessment.findings:
                if finding.code == "torques_open":
                    program.say(sentence(finding))
        program.refresh_screens()
        self._show_run(len(session.job.runs) - 1)

    def action_run_words(self) -> None:
        """Enter what the rider says, in standard words or in his own, whichever field is current."""
        from stanchion.ui.screens.complaint_dialog import enter_complaint  # noqa: PLC0415 - not needed to start

        session, at = self.session, self.current_run
        if session is not None:
            enter_complaint(self.program, session, at, lambda begun: self.write_text(("runs", at, "said"), begun))

    def action_what_to_try(self) -> None:
        """Show what to try after the complaints about this run."""
        self.program.leave_fields()
        self.program.jump(("runs", self.current_run, "complaints"))

    def action_stamp_run(self) -> None:
        """Record which settings the run shown was ridden with: of the latest run the next ones at each press, first
        those of now; of an older run after asking."""
        session, at = self.session, self.current_run
        if session is None or at < 0:
            return
        self.program.leave_fields()
        job = session.job
        offered = ridden_as(job, at, session.before_last_change())
        if at == len(job.runs) - 1:
            pressed = self._chosen is not None and self._chosen[0] is job
            last = self._chosen[1] if pressed and self._chosen is not None else as_stamped(job, at, offered)
            asked = bool(self._question(session))
            self._stamp(
                session, at, offered, (last + 1) % len(offered) if last is not None and (pressed or asked) else 0
            )
            return
        named = [(str(n), _capital(ridden_as_words(job, one, session.units))) for n, one in enumerate(offered)]
        self.program.ask(
            f"Run {at + 1} is not the latest",
            "Which settings was it ridden with?",
            (("keep", "Keep those it is recorded with"), *named),
            lambda answer: self._stamp(session, at, offered, int(answer)) if answer and answer != "keep" else None,
        )

    def _stamp(self, session: Session, at: int, offered: tuple[RiddenAs, ...], which: int) -> None:
        """Record a run with some of the settings that were offered, as one step of undo."""
        one = offered[which]
        words = ridden_as_words(session.job, one, session.units)
        key = keys.shown(self.program.key("run.stamp").keys)
        more = at == len(session.job.runs) - 1 and len(offered) > 1
        others = f" {key} again: {ridden_as_words(session.job, offered[(which + 1) % len(offered)])}." if more else ""
        edits = (Edit(("runs", at, "front"), one.front), Edit(("runs", at, "rear"), one.rear))
        refused = session.put_all((*edits, *restamped(session.job, at, edits)))
        self._logged, self._chosen = None, (session.job, which)
        self.program.refresh_after(refused or f"Run {at + 1} was ridden {words}. Undo takes that back.{others}")

    def action_judge_run(self) -> None:
        """Ask whether the run shown was better than the one before, or worse, with what is known of both beside it."""
        session, at = self.session, self.current_run
        if session is None or at < 0:
            return
        self.program.leave_fields()
        ask_for_verdict(self.program, session, at)

    def action_delete_run(self) -> None:
        """Delete the run shown, after asking."""
        session, at = self.session, self.current_run
        if session is None or at < 0:
            return

        def answered(answer: str | None) -> None:
            if answer == "delete":
                self._logged = None
                self.program.refresh_after(session.remove_row(("runs",), at, waiting_again(session.job, at)))
                self._show_run(min(at, len(session.job.runs) - 1))

        began = clean(session.job.runs[at].time)
        answers = (("keep", "Keep it"), ("delete", "Delete it: undo brings it back"))
        title = f"Delete run {at + 1}{f', begun at {began}' if began else ''}?"
        self.program.ask(
            title,
            "Its markers, lap, pressures, the rider's words and the settings ridden are deleted.",
            answers,
            answered,
        )

    def _show_run(self, at: int) -> None:
        if at >= 0:
            self.go_to(("runs", at, "front_marker_mm"))


SHORT = (("run.log", "log"), ("run.words", "words"), ("screen.what_to_try", "try"), ("run.stamp", "as set"))
"""The keys of the last line, in words short enough for eighty columns."""


def no_run_lines(key: str) -> list[Content]:
    """What to do where nothing was logged yet."""
    return [
        Content.styled("NO RUN YET", "$primary bold"),
        Content(f"{key} logs one: the time and the settings"),
        Content("ridden are filled in automatically."),
    ]


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
