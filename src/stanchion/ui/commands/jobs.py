"""Commands on the jobs themselves: open, begin, carry forward, copy, list, move to the bin."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import PurePath
from typing import TYPE_CHECKING

from stanchion.base.errors import BadFile, StanchionError
from stanchion.bench.session import Session
from stanchion.job.model import Job, Occasion
from stanchion.judgement.results.parts import Fault
from stanchion.ui.commands.job_list import ListingApp
from stanchion.ui.keys import shown
from stanchion.wording.kept_states import when_words

if TYPE_CHECKING:
    from stanchion.planning.machine_story import StoryRow
    from stanchion.store.samples import Sample


class LibraryApp(ListingApp):
    """Which job is open."""

    def action_save_copy(self) -> None:
        """Go on in a new file beside the present one, which stays as it is."""
        if self.session is None:
            return
        if self.workspace.newer:
            self.say("A later version wrote this job. A copy made here could lose what that version added.")
            return
        self.leave_fields()
        self.run_worker(lambda: self.settle("copy"), thread=True, exclusive=True, group="settling")

    def action_write_sheet(self) -> None:
        """Write the hand-over sheet of the open job, as text and as HTML."""
        if self.session is not None:
            self.leave_fields()
            self.run_worker(self._write_sheet, thread=True, exclusive=True, group="sheet")

    def _write_sheet(self) -> None:
        try:
            folder = self.workspace.write_sheets()
        except StanchionError as error:
            self.call_from_thread(self.say, str(error))
        except Exception as error:  # the job is as it was, and work goes on
            self.workspace.note_fault(Fault("sheet", error))
            self.call_from_thread(self.say, "The sheet was not written, by a fault of the program: please report it.")
        else:
            stem = PurePath(self.workspace.open_name).stem
            self.call_from_thread(self.say, f"Sheet written: {stem}.txt, and .html to print or send, in {folder}")

    def action_compare_job(self) -> None:
        """Where the job under the bar differs from the open one."""
        listed = self.list_shown
        name = listed.chosen_job() if listed is not None else ""
        if not name or self.session is None:
            self.say("Open a job first; then choose the one to compare it with.")
            return
        try:
            other = self.workspace.read(name)
        except StanchionError as error:
            self.say(str(error))
            return
        from stanchion.planning.machine_story import row_of  # noqa: PLC0415 - not needed to start

        here = row_of(self.workspace.open_name, self.session.job, None, self.workspace.profiles)
        there = row_of(name, other, None, self.workspace.profiles)
        self.show_comparison(here, there)

    def show_comparison(self, one: StoryRow, other: StoryRow) -> None:
        """Where one job or run differs from another, over the screen in hand."""
        from stanchion.report.comparison import compared  # noqa: PLC0415 - not needed to start
        from stanchion.ui.screens.compare import CompareScreen  # noqa: PLC0415

        self.push_screen(CompareScreen(compared(one, other, self.workspace.units)))

    def action_delete_job(self) -> None:
        """Move the job under the bar to the bin, after asking."""
        listed = self.list_shown
        name = listed.chosen_job() if listed is not None else ""
        if not name:
            return
        if name == self.workspace.open_name:
            self.say("This job is open. Open another one first, then move this one to the bin.")
            return

        def answered(answer: str | None) -> None:
            if answer == "bin":
                self.change_jobs(lambda: self._delete(name))
            else:
                self.list_jobs()

        answers = (("keep", "Keep it"), ("bin", "Move it to the bin; it can be brought back"))
        self.ask("Move this job to the bin?", name, answers, answered)

    def _delete(self, name: str) -> str:
        where = self.workspace.delete(name)
        return f"'{name}' lies in the bin, as {where.name}. {shown(self.key('jobs.bin').keys)} shows the bin."

    def action_new_job(self) -> None:
        """A job from an empty sheet."""
        from stanchion.ui.screens.new_job import NewJobScreen  # noqa: PLC0415

        if isinstance(self.screen, NewJobScreen):
            return
        blank = Session(Job(job=Occasion(date=self.today())), self.workspace.profiles, units=self.workspace.units)

        def begin(job: Job | None) -> None:
            if job is not None:
                self._try(lambda: self.workspace.create(job), "front")

        self.push_screen(NewJobScreen(blank), begin)

    def action_carry_forward(self) -> None:
        """A new job with the setup of the one chosen in the list, or of the one in hand."""
        listed = self.list_shown
        name = listed.chosen_job() if listed is not None else self.workspace.open_name
        if not name:
            return
        self.leave_fields()
        if self._carried_already(name):
            self.say("This job was carried forward today and has no readings yet: take them here, nothing is carried.")
            self.jump(("sag", "front", "hanging_mm", 0))
            return
        if self._try(lambda: self.workspace.carry_forward(name, self.today()), "sag"):
            self.say(f"A new job with the setup of {name}. That job stays as it was; readings and notes begin anew.")
            self.jump(("sag", "front", "hanging_mm", 0))

    def _carried_already(self, name: str) -> bool:
        """Whether the open job was itself carried forward today, and nothing has been measured in it."""
        if name != self.workspace.open_name or self.session is None:
            return False
        job = self.session.job
        ends = (job.sag.front, job.sag.rear)
        unread = not any(end.hanging_mm or end.static.down_mm or end.rider.down_mm for end in ends)
        return bool(job.job.carried_from) and job.job.date == self.today() and unread

    def start_from_sample(self, name: str) -> None:
        """A copy of a sample job."""
        sample = next((one for one in self.samples() if one.name == name), None)
        if sample is not None:
            self._try(lambda: self.workspace.create_from(sample.data), "front")

    def open_named(self, name: str) -> None:
        """A job of the list; of another copy of a job, ask what is wanted."""
        listed = self.list_shown
        main = listed.copy_of(name) if listed is not None else ""
        if main:
            self._ask_of_copy(name, main)
        else:
            self._open(name)

    def _ask_of_copy(self, name: str, main: str) -> None:
        def answered(answer: str | None) -> None:
            if answer == "merge" and (
                self.workspace.open_name == main or self._try(lambda: self.workspace.open(main), "machine")
            ):
                self.merge_copy(name)
            elif answer == "open":
                self._open(name)
            elif answer == "bin":
                self.action_delete_job()

        answers = (
            ("merge", "Merge it field by field into that job, which is opened"),
            ("open", "Open this copy by itself"),
            ("bin", "Move this copy to the bin"),
        )
        self.ask("Another copy of a job", f"{name} is another copy of {main}.", answers, answered)

    def _open(self, name: str) -> None:
        if name == self.workspace.open_name:
            self.action_go(self.last_part)
        else:
            self._try(lambda: self.workspace.open(name), self.last_part, damaged=name)

    def _try(self, work: Callable[[], object], then: str, damaged: str = "") -> bool:
        """Open or begin a job and show it; where that fails, say why in words that cannot be overlooked.

        Args:
            work: opens it.
            then: the screen to show it on.
            damaged: the job file that may turn out not to be whole; an earlier state of it is then offered.
        """
        try:
            work()
        except StanchionError as error:
            if self.current_mode != "jobs":
                self.action_go("jobs")
            answers = [("back", "Back to the list; nothing else was opened")]
            good = self.workspace.newest_good(damaged) if isinstance(error, BadFile) and damaged else None
            if good is not None:
                when = when_words(good.at.astimezone(), self.today())
                answers.append(("good", f"Open its newest whole state, of {when}, as a job of its own"))
            self.ask(
                "This job cannot be opened",
                str(error),
                answers,
                lambda answer: self._open_newest_good(damaged) if answer == "good" else None,
            )
            return False
        self.job_opened()
        self.clear_notifications()
        self.say_notes()
        before = self.current_mode
        self.action_go(then)
        if self.current_mode == before:
            self.refresh_bench()  # it was there already, with the job before
        return True

    def say_notes(self) -> None:
        """What is to be known of the job just opened."""
        if self.session is not None and not self.session.read_only:  # otherwise it stands with the findings
            for note in self.workspace.notes:
                self.say(note)

    def _open_newest_good(self, name: str) -> None:
        """A job of its own from the newest whole state of a damaged one."""
        if self._try(lambda: self.workspace.open_newest_good(name), self.last_part):
            self.say(f"This is a new job with the newest whole state of '{name}'. The damaged file stays as it is.")

    def samples(self) -> tuple[Sample, ...]:
        """The samples to start from."""
        from stanchion.store.samples import samples  # noqa: PLC0415 - not needed to start

        return samples()
