"""The workspace: folders, settings, the open job and its saving; everything but the screen."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from stanchion.base.errors import BadFile, NotSaved
from stanchion.bench.current_job import CurrentJob
from stanchion.bench.judged_library import judge_by, read_profiles
from stanchion.bench.preferences import Preferences
from stanchion.bench.session import Session
from stanchion.job.carry import LONGEST_NAME, carried, identified, may_be_source
from stanchion.job.codec import loads
from stanchion.job.model import Job
from stanchion.store.autosave import SaveState
from stanchion.store.drafts import Kept
from stanchion.store.faults import FaultLog, write_report
from stanchion.store.history import Earlier, KeptState
from stanchion.store.jobfile import JobFile
from stanchion.store.library import Library, Opened
from stanchion.store.names import is_plain, new_id
from stanchion.store.open_jobs import ClosingJobs, OpenJob
from stanchion.store.paths import Places, places
from stanchion.store.renaming import NewNames
from stanchion.store.settings import LastPlace
from stanchion.store.sources import path_from, source_name
from stanchion.units.known_units import Units

if TYPE_CHECKING:
    from stanchion.bench.own_studies import OwnStudies
    from stanchion.bench.spring_stock import SpringStock
    from stanchion.judgement.results.parts import Fault


class Workspace:
    """The open job, its folders, settings and saving.

    Only the screen's thread opens jobs and edits the session. Other threads may call the methods that say so.

    Args:
        where: the folders.
        remembers: whether the next start opens the job and screen that this one ends with.
    """

    def __init__(self, where: Places, *, remembers: bool = True) -> None:
        self.places = where
        self._remembers = remembers
        self._faults = FaultLog(where.faults)
        self.preferences = Preferences(where)
        self.profiles, mark, more = read_profiles(where)
        self.problems: list[str] = [*self.preferences.problems, *more]
        self.library = Library(where, judge_by(self.profiles, self.note_fault), mark)
        self.stock_trouble = ""
        """Why the last writing of the spring stock failed; empty if it did not."""
        self.current: CurrentJob | None = None
        """The open job. Code that needs both parts reads this once: the screen's thread may open another job."""
        self.notes: list[str] = []
        """Messages for the user on the job just opened."""
        self.on_saved: Callable[[SaveState], None] = lambda state: None
        """Called on the saving thread with each new saving state."""
        self.on_closing_unsaved: Callable[[str], None] = lambda words: None
        """Called on a saving thread with a message on a closing job that could not be written."""
        self.on_renamed: Callable[[str, str], None] = lambda before, after: None
        """Called on a saving thread with the file names of a job before and after, where it got another one."""
        self._names = NewNames(where.jobs)
        self._opening = ""
        """File name of the job being opened, or of one whose opening failed by a fault of the program."""
        self._closing = ClosingJobs(self._closing_failed)

    @classmethod
    def at(cls, jobs: str | None, *, remembers: bool = True) -> Workspace:
        """The workspace of this user.

        Args:
            jobs: the folder given on the command line.
            remembers: whether the next start opens the job and screen that this one ends with.
        """
        workspace = cls(places(jobs), remembers=remembers)
        if workspace.library.unsaved():
            where = f"Edits that could not be saved last time are in {workspace.places.spill}"
            workspace.problems.append(f"{where}; copy the file into the jobs folder to open it.")
        return workspace

    @property
    def session(self) -> Session | None:
        """The session of the open job; None with no job open."""
        current = self.current
        return current.session if current is not None else None

    @property
    def _open(self) -> OpenJob | None:
        current = self.current
        return current.open_job if current is not None else None

    def report_fault(self, error: BaseException, facts: Mapping[str, str]) -> str:
        """Save what is pending and write a report of a fault of the program; return a message on both."""
        any_job = self._open is not None or bool(self._closing.names())
        saved = self.flush()
        if self._opening or not self.opened_in_place:
            self.preferences.note_fault(self._opening or self.open_name)
        job = ("The job is saved. " if any_job else "") if saved else "The last edits could NOT be saved. "
        return job + write_report(self.places.faults, error, facts)

    def note_fault(self, fault: Fault) -> None:
        """Record an error because of which a part of a job was not judged. Any thread may call this."""
        self._faults.note(fault.part, fault.error)

    # --- opening --------------------------------------------------------------------------------------------------

    @property
    def open_name(self) -> str:
        """File name of the open job, or its whole path outside the jobs folder; empty with no job open."""
        open_job = self._open
        if open_job is None:
            return ""
        return str(open_job.file.path) if self.opened_in_place else open_job.name

    @property
    def folder_of_this_start(self) -> Path | None:
        """The jobs folder, if it was given for this start only; otherwise None."""
        return None if self._remembers else self.places.jobs

    @property
    def opened_in_place(self) -> Path | None:
        """The file of the open job if it is not in the jobs folder; otherwise None."""
        open_job = self._open
        path = open_job.file.path if open_job is not None else None
        return path if path is not None and path.parent != self.places.jobs else None

    @property
    def open_file(self) -> JobFile | None:
        """The file of the open job; None with no job open."""
        open_job = self._open
        return open_job.file if open_job is not None else None

    @property
    def newer(self) -> bool:
        """Whether the open job was written by a later version."""
        file = self.open_file
        return file is not None and file.opened.newer

    def delete(self, name: str) -> Path:
        """Move a job to the bin and return its place there. Waits for the disk.

        Raises:
            NotSaved: it could not be moved, or is the one that is open.
        """
        if name == self.open_name:
            raise NotSaved("This job is open. Open another one first, then move this one to the bin.")
        name = self._settled(name)
        return self.library.delete(self.places.jobs / name).path

    def read(self, name: str) -> Job:
        """A job of the jobs folder, without opening it.

        Raises:
            BadFile: it cannot be read.
        """
        if not is_plain(name):
            raise BadFile(f"'{name}' is not the name of a job file")
        name = self._names.present(name)
        closing = self._closing.of(self.places.jobs / name)
        return closing.newest if closing is not None else self.library.open(self.places.jobs / name).job

    def open(self, name: str) -> Session:
        """Open a job of the jobs folder.

        Raises:
            BadFile: it cannot be read; the job that was open stays open.
        """
        if not is_plain(name):
            raise BadFile(f"'{name}' is not the name of a job file")
        name = self._settled(name)
        self._opening = name
        try:
            return self._take(self.library.open(self.places.jobs / name), recalled=True)
        except BadFile:
            self._opening = ""
            raise

    def open_path(self, path: Path) -> Session:
        """Open a job file wherever it is. One outside the jobs folder is saved where it is.

        Raises:
            BadFile: it cannot be read; the job that was open stays open.
        """
        folder = path.parent.resolve()
        if folder == self.places.jobs.resolve() and is_plain(path.name):
            return self.open(path.name)
        path = folder / path.name
        self._closing.settle(path)
        session = self._take(self.library.open(path), recalled=True)
        if not session.read_only:
            self.notes.insert(
                0,
                f"Opened in place: {path}. It is saved there, and the jobs folder stays as it is; "
                "a new job goes into the jobs folder.",
            )
        return session

    def _settled(self, name: str) -> str:
        """Write what is pending for a job of the jobs folder; return its present file name."""
        self._closing.settle(self.places.jobs / name)
        return self._names.present(name)

    def _note_renamed(self, before: str, after: str) -> None:
        self._names.note(before, after)
        self.on_renamed(before, after)

    def follow_name(self) -> None:
        """Let the file name of the open job follow who, what and when once all is written. Does not wait for that."""
        if self._open is not None:
            self._open.saver.rest()

    def newest_good(self, name: str) -> KeptState | None:
        """The newest undamaged earlier state of a damaged job; None if there is none."""
        found = self.library.history.newest_good(self.places.jobs / name) if is_plain(name) else None
        return found[0] if found is not None else None

    def open_newest_good(self, name: str) -> Session:
        """Begin a new job from the newest undamaged state of a damaged one, whose file is not changed.

        Raises:
            BadFile: there is no such state.
        """
        found = self.library.history.newest_good(self.places.jobs / name) if is_plain(name) else None
        if found is None:
            raise BadFile(f"no earlier state of '{name}' is whole")
        return self.create(found[1].job)

    def create(self, job: Job) -> Session:
        """Begin a job with a file and an id of its own. The file is written in the background."""
        return self._take(self.library.begin(identified(job, new_id()), [self.open_name, *self._closing.names()]))

    def create_from(self, data: bytes) -> Session:
        """Begin a job as a copy of a file's content, such as a sample.

        Raises:
            BadFile: the content is no job.
        """
        return self.create(loads(data).job)

    def carried(self, name: str, today: dt.date) -> Job:
        """The job that would carry the setup of another on: readings, runs and notes cleared, dated today.

        Raises:
            BadFile: the other job cannot be read.
        """
        source = self.session.job if name == self.open_name and self.session is not None else self.read(name)
        return carried(source, source_name(self.places.jobs / name, self.places.jobs, LONGEST_NAME), today)

    def _take(self, opened: Opened, *, recalled: bool = False) -> Session:
        left = self.current
        tried_on = left.open_job.name if left is not None and left.trial.tried else ""
        if left is not None:
            left.keep_drafts()
            self._closing.add(left.open_job)
        previous = self._previous(opened)
        shared = self.preferences.settings.shared_folder
        open_job = OpenJob(self.library, opened, self._save_state_changed, self._note_renamed, shared=shared)
        kept = open_job.kept() if recalled else Kept()  # before the open job is replaced, because this can fail
        session = Session(opened.job, self.profiles, previous, units=self.units, read_only=opened.read_only)
        session.on_edit = open_job.saver.submit
        session.on_fault = self.note_fault
        self.current = current = CurrentJob(open_job, session)
        self.notes = [opened.note] if opened.note else []
        if recalled:
            self.notes += current.recall(kept)
        if tried_on:
            self.notes.append(f"The trial on '{tried_on}' stays with that job: open it again to go on.")
        current.keep_drafts()
        self._opening = ""
        self.preferences.forget_fault()
        return session

    @property
    def trial_in_hand(self) -> bool:
        """Whether something is being tried on the open job."""
        return self.current is not None and self.current.trial.tried

    def _previous(self, opened: Opened) -> Job | None:
        """The job it was carried forward from; of a closing job the state in memory, which is newer than its file."""
        folder, about = opened.path.parent, opened.job.job
        closing = self._closing.of(path_from(folder, about) or folder / self._names.present(about.carried_from))
        if closing is None:
            return self.library.previous(opened.job, folder)
        return closing.newest if may_be_source(about, closing.newest.job) else None

    def keep_drafts(self) -> None:
        """Keep unreadable text and what is tried for the next time the job is opened. Never waits for the disk."""
        if self.current is not None:
            self.current.keep_drafts()

    # --- earlier states ----------------------------------------------------------------------------------------------

    def earlier(self) -> tuple[Earlier, ...]:
        """The earlier states of the open job, newest first. Waits for the disk."""
        open_job = self._open
        return self.library.history.looked_into(open_job.file.path) if open_job is not None else ()

    # --- saving ---------------------------------------------------------------------------------------------------

    def _save_state_changed(self, open_job: OpenJob, state: SaveState) -> None:
        if open_job is self._open:  # _closing_failed reports on closing jobs
            self.on_saved(state)

    def last_place(self) -> LastPlace:
        """Job and screen of the last run; empty if the jobs folder was given for this start only."""
        return self.preferences.last_place() if self._remembers else LastPlace()

    def remember_name(self) -> None:
        """Remember the open job for the next start by the name its file really got."""
        self.remember("")

    def _closing_failed(self, name: str, state: SaveState) -> None:
        self.on_closing_unsaved(_closing_unsaved(name, state))

    def closing_unsaved(self) -> str:
        """A message on the closing jobs that are not written; empty if all are."""
        return " ".join(_closing_unsaved(name, state) for name, state in self._closing.unsaved().items())

    def save_state(self) -> SaveState | None:
        """The saving state of the open job; None with no job open. Any thread may call this."""
        open_job = self._open
        return open_job.saver.state if open_job is not None else None

    def flush(self) -> bool:
        """Write what is pending of the open job, of closing ones and of the spring stock; True if all is written."""
        self.keep_drafts()
        closed = self._closing.flush()
        saved = self.flush_open()
        self.remember_name()
        return not self._save_stock() and saved and closed

    def flush_open(self) -> bool:
        """Write what is pending of the open job; True if all of it is written. Any thread may call this."""
        open_job = self._open
        return open_job is None or open_job.flush()

    def close(self) -> bool:
        """Write what is pending and stop saving; the session can still be shown."""
        self.keep_drafts()
        closed = self._closing.close()
        saved = self._open is None or self._open.close()
        self.remember_name()
        return not self._save_stock() and saved and closed

    def _save_stock(self) -> str:
        """Write the spring stock if it was used; return why that failed, or an empty text."""
        self.stock_trouble = ""
        if self.spring_stock_in_use:
            try:
                self.spring_stock.save()
            except NotSaved as error:
                self.stock_trouble = str(error)
        return self.stock_trouble

    # --- stock of springs --------------------------------------------------------------------------------------------

    @cached_property
    def spring_stock(self) -> SpringStock:
        """The stock of springs, read when first needed."""
        from stanchion.bench.spring_stock import SpringStock  # noqa: PLC0415 - not needed to start

        return SpringStock(self.places, self.units)

    @property
    def spring_stock_in_use(self) -> bool:
        """Whether the stock has been read."""
        return "spring_stock" in self.__dict__

    @cached_property
    def own_studies(self) -> OwnStudies:
        """How well the technician's readings repeat, read when first needed."""
        from stanchion.bench.own_studies import OwnStudies  # noqa: PLC0415 - not needed to start

        return OwnStudies(self.places)

    # --- settings -------------------------------------------------------------------------------------------------

    @property
    def units(self) -> Units:
        """Display units, in which bare numbers are read too."""
        return self.preferences.units

    def next_unit(self, what: str) -> None:
        """Show rates or lengths in their next unit."""
        self.preferences.next_unit(what)
        if self.spring_stock_in_use:
            self.spring_stock.session.units = self.units
        if self.session is not None:
            self.session.units = self.units

    def remember(self, screen: str) -> None:
        """Remember the open job and the screen for the next start, if the job lies in the usual folder."""
        if self._remembers and not self.opened_in_place:
            self.preferences.remember(self.open_name, screen)


def _closing_unsaved(name: str, state: SaveState) -> str:
    where = f" They are in {state.spilled_to}." if state.spilled_to is not None else ""
    return f"The last edits of '{name}', which you left, are NOT saved. {state.cause}{where}"
