"""Commands on the jobs themselves: open, begin, carry forward, compare, write the hand-over sheet."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import PurePath
from typing import TYPE_CHECKING

from textual.screen import ModalScreen

from stanchion.base.errors import BadFile, StanchionError
from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.job.carry import another_rider, without_aboard
from stanchion.job.model import Job, Occasion, Path
from stanchion.judgement.results.parts import Fault
from stanchion.ui.commands.machine_set_since import MachineSetSince
from stanchion.ui.commands.merging import Merging
from stanchion.ui.core import CoreApp
from stanchion.ui.keys import shown

if TYPE_CHECKING:
    from stanchion.planning.machine_story import StoryRow
    from stanchion.store.samples import Sample


def first_reading(session: Session | None) -> Path:
    """The first sag reading of a job just begun: L1 of the front, or what comes after it where L1 was carried over."""
    carried = session is not None and bool(session.job.sag.front.hanging_mm)
    return ("sag", "front", "static", "down_mm", 0) if carried else ("sag", "front", "hanging_mm", 0)


def _scales_cleared(begun: Job, carried: Job) -> str:
    """What is said of the scales where another rider's readings were taken out of a job carried forward."""
    share = begun.weights.rider_front_share_pct
    if share is None or share == carried.weights.rider_front_share_pct:
        return "The scales with the rider aboard are cleared: weigh the new rider."
    return (
        "The scales with the rider aboard are cleared. Until you weigh the new rider, loads are estimated (~) from the "
        f"last rider's share on the front, {share:g} %."
    )


class Jobs:
    """Decides which job is open.

    Args:
        app: the application.
        merging: looks for other copies of a job that is opened.
    """

    def __init__(self, app: CoreApp, merging: Merging) -> None:
        self._app = app
        self._workspace = app.workspace
        self.merging = merging
        self._set_since = MachineSetSince(app)

    # --- opening and beginning ------------------------------------------------------------------------------------

    def open(self, name: str) -> None:
        """Open a job of the list, on the screen shown last."""
        if name == self._workspace.open_name:
            self._app.action_go(self._app.last_part)
        else:
            self.opened(lambda: self._workspace.open(name), self._app.last_part, damaged=name)

    def new(self) -> None:
        """Begin a job from an empty sheet, after asking for its name."""
        from stanchion.ui.screens.new_job import NewJobScreen  # noqa: PLC0415

        if isinstance(self._app.screen, ModalScreen):
            return
        blank = Session(
            Job(job=Occasion(date=self._app.today())), self._workspace.profiles, units=self._workspace.units
        )

        def begin(job: Job | None) -> None:
            if job is not None:
                noted = self._workspace.own_studies.noted_in(job)
                self.opened(lambda: self._workspace.create(noted), "front")

        self._app.push_screen(NewJobScreen(blank), begin)

    def carry_forward(self, name: str) -> None:
        """Begin a new job with the setup of another one, after asking what changes with the occasion."""
        if not name:
            new = shown(self._app.key("job.new").keys)
            self._app.say(f"There is no job here to start the next one from. {new} begins one from an empty sheet.")
            return
        self._app.leave_fields()
        if self._carried_already(name):
            self._app.say("This job was begun today from the one before and has no readings yet: take them here.")
            self._app.jump(first_reading(self._app.session))
            return
        app, workspace = self._app, self._workspace
        if isinstance(app.screen, ModalScreen):
            return
        try:
            carried = workspace.carried(name, app.today())
        except StanchionError as error:
            self._say_why_not_opened(error, name)
            return
        from stanchion.ui.machine_form import next_occasion  # noqa: PLC0415 - not needed to start
        from stanchion.ui.screens.new_job import NewJobScreen  # noqa: PLC0415

        of_open = name == workspace.open_name
        if of_open:
            workspace.follow_name()

        def begin(job: Job | None) -> None:
            if job is None:
                return
            source = PurePath(workspace.open_name if of_open else name).name
            if source != PurePath(name).name:  # its file has got another name meanwhile
                job = replace(job, job=replace(job.job, carried_from=source))
            begun = without_aboard(job, carried) if another_rider(job, carried) else job
            noted = workspace.own_studies.noted_in(begun)
            if self.opened(lambda: workspace.create(noted), "sag"):
                rest = "That job stays as it was; readings and notes start empty."
                if begun != job:
                    rest = _scales_cleared(begun, job)
                if any(end.hanging_mm for end in (begun.sag.front, begun.sag.rear)):
                    rest += " L1 is carried over, as nothing changed it: measure it again if a mark was moved."
                app.say(f"A new job with the setup of {source}. {rest}")
                app.jump(first_reading(app.session))

        session = Session(carried, workspace.profiles, units=workspace.units)
        title = f"The next job of {clean(carried.job.machine, 40) or 'this machine'}, with its setup"
        app.push_screen(NewJobScreen(session, title, next_occasion, "F8"), begin)

    def _carried_already(self, name: str) -> bool:
        """Whether the open job was itself carried forward today, and nothing has been measured in it."""
        if name != self._workspace.open_name or self._app.session is None:
            return False
        job = self._app.session.job
        ends = (job.sag.front, job.sag.rear)
        unread = not any(end.static.down_mm or end.rider.down_mm for end in ends)
        return bool(job.job.carried_from) and job.job.date == self._app.today() and unread

    def samples(self) -> tuple[Sample, ...]:
        """The samples to start from."""
        from stanchion.store.samples import samples  # noqa: PLC0415 - not needed to start

        return samples()

    def start_from_sample(self, name: str) -> None:
        """Begin a job as a copy of a sample."""
        sample = next((one for one in self.samples() if one.name == name), None)
        if sample is not None:
            self.opened(lambda: self._workspace.create_from(sample.data), "front")

    def opened(self, work: Callable[[], object], then: str, damaged: str = "") -> bool:
        """Open or begin a job and show it; if that fails, explain in a dialog and return False.

        Args:
            work: opens it.
            then: the screen to show it on.
            damaged: the job file that may turn out to be damaged; an earlier state of it is then offered.
        """
        app = self._app
        try:
            work()
        except StanchionError as error:
            self._say_why_not_opened(error, damaged)
            return False
        self.merging.job_opened()
        self._set_since.job_opened()
        app.clear_notifications()
        self.say_notes()
        before = app.current_mode
        app.action_go(then)
        if app.current_mode == before:
            app.refresh_screens()  # it was shown already, with the job before
        return True

    def _say_why_not_opened(self, error: StanchionError, damaged: str) -> None:
        """Say why a job cannot be opened, and offer an earlier state of it where its file is damaged."""
        app = self._app
        if app.current_mode != "jobs":
            app.action_go("jobs")
        answers = [("back", "Back to the list; nothing else was opened")]
        good = self._workspace.newest_good(damaged) if isinstance(error, BadFile) and damaged else None
        if good is not None:
            from stanchion.wording.kept_states import when_words  # noqa: PLC0415 - not needed to start

            when = when_words(good.at.astimezone(), app.today())
            answers.append(("good", f"Open its newest whole state, of {when}, as a job of its own"))
        app.ask(
            "This job cannot be opened",
            str(error),
            answers,
            lambda answer: self._open_newest_good(damaged) if answer == "good" else None,
        )

    def say_notes(self) -> None:
        """Say what the user should know of the job just opened."""
        session = self._app.session
        if session is not None and not session.read_only:  # otherwise it is said with the findings
            for note in self._workspace.notes:
                self._app.say(note)

    def _open_newest_good(self, name: str) -> None:
        """Begin a job from the newest whole state of a damaged one."""
        if self.opened(lambda: self._workspace.open_newest_good(name), self._app.last_part):
            self._app.say(
                f"This is a new job with the newest whole state of '{name}'. The damaged file stays as it is."
            )

    # --- comparing ------------------------------------------------------------------------------------------------

    def compare_with_open(self, name: str) -> None:
        """Show where a job of the list differs from the open one."""
        if not name or self._app.session is None:
            self._app.say("Open a job first; then choose the one to compare it with.")
            return
        try:
            other = self._workspace.read(name)
        except StanchionError as error:
            self._app.say(str(error))
            return
        from stanchion.planning.machine_story import row_of  # noqa: PLC0415 - not needed to start

        here = row_of(self._workspace.open_name, self._app.session.job, None, self._workspace.profiles)
        there = row_of(name, other, None, self._workspace.profiles)
        self.show_comparison(here, there)

    def show_comparison(self, one: StoryRow, other: StoryRow) -> None:
        """Show where one job or run differs from another, over the current screen."""
        from stanchion.report.comparison import compared  # noqa: PLC0415 - not needed to start
        from stanchion.ui.screens.side_by_side import CompareScreen  # noqa: PLC0415

        self._app.push_screen(CompareScreen(compared(one, other, self._workspace.units)))

    # --- the hand-over sheet --------------------------------------------------------------------------------------

    def write_sheet(self) -> None:
        """Write the hand-over sheet of the open job, as text and as HTML."""
        self._begin_sheet(self._write_sheet)

    def print_sheet(self) -> None:
        """Write the hand-over sheet and print its text."""
        self._begin_sheet(lambda: self._write_sheet(printed=True))

    def _begin_sheet(self, work: Callable[[], None]) -> None:
        if self._app.session is not None:
            self._app.leave_fields()
            self._app.run_worker(work, thread=True, exclusive=True, group="sheet")

    def _write_sheet(self, *, printed: bool = False) -> None:
        current, folder = self._workspace.current, self._workspace.places.sheets
        if current is None:
            return
        stem = PurePath(current.open_job.name).stem
        try:
            current.write_sheets(folder)
            if printed:
                from stanchion.bench.printing import print_file  # noqa: PLC0415 - not needed to start

                print_file(folder / f"{stem}.txt")
        except StanchionError as error:
            words = str(error)
        except Exception as error:  # noqa: BLE001 - the job is as it was, and work goes on
            self._workspace.note_fault(Fault("sheet", error))
            words = "The sheet was not written, because of a fault in the program: please report it."
        else:
            words = f"Sheet written: {stem}.txt, and .html to print or send, in {folder}"
            if printed:
                words = f"Sheet sent to the printer; it is also in {folder}, as {stem}.txt and .html."
        self._app.call_from_thread(self._app.say, words)
