"""The open job with its file and autosave, and closing jobs, which are still being written."""

from __future__ import annotations

import threading
from collections.abc import Callable
from functools import partial
from pathlib import Path

from stanchion.job.model import Job
from stanchion.store.autosave import Autosave, SaveState
from stanchion.store.drafts import Drafts, Kept
from stanchion.store.jobfile import JobFile
from stanchion.store.library import Library, Opened


class OpenJob:
    """One open job: its file, its autosave, and where text is kept that cannot be read.

    A job without a file yet is written at once, in the background.

    Args:
        library: the user's jobs.
        opened: the job as it was opened or made.
        on_state: called with every change of its saving state, on the thread that caused it.
        on_renamed: called on the saving thread with the file names before and after, where who, what or when changed.
        shared: the file lies in a folder that a sync tool watches.
    """

    def __init__(
        self,
        library: Library,
        opened: Opened,
        on_state: Callable[[OpenJob, SaveState], None],
        on_renamed: Callable[[str, str], None] = lambda before, after: None,
        *,
        shared: bool = False,
    ) -> None:
        self._on_renamed = on_renamed
        self._library = library
        self._on_state = on_state
        self._kept_lock = threading.Lock()  # the screen's thread and the saving thread both hand it over
        self._kept = Kept()
        self.file = JobFile(library, opened)
        self._drafts_beside, self._drafts = self.file.path, self._drafts_here()
        self.saver = Autosave(self.file, self._save_state_changed, shared=shared, on_quiet=self._follow_name)
        if not opened.sha:
            self.saver.submit(opened.job, at_once=True)

    @property
    def name(self) -> str:
        """Name of its file; if that does not exist yet, the name it should get."""
        return self.file.path.name

    @property
    def newest(self) -> Job:
        """Its newest state, written or not."""
        return self.saver.unsaved or self.file.opened.job

    def kept(self) -> Kept:
        """Unreadable text and a trial of an earlier run."""
        return self._drafts.load()

    def keep(self, kept: Kept) -> None:
        """Keep this unreadable text and this trial, and no others. Never waits for the disk."""
        with self._kept_lock:
            self._kept = kept
        self._hand_over_kept()

    def flush(self) -> bool:
        """Write what is pending; True if all of the job is written."""
        saved = self.saver.flush()
        self._hand_over_kept().flush()
        return saved

    def close(self) -> bool:
        """Write what is pending and stop saving; True if all of the job is written."""
        saved = self.saver.close()
        self._hand_over_kept().flush()
        return saved

    def _follow_name(self) -> None:
        """Let the name of the file follow the job; what is kept of it goes along."""
        self._drafts.flush()
        names = self.file.follow()
        if names is not None:
            self._hand_over_kept()
            self._on_renamed(*names)

    def _save_state_changed(self, state: SaveState) -> None:
        self._hand_over_kept()
        self._on_state(self, state)

    def _hand_over_kept(self) -> Drafts:
        """Hand text and trial to Drafts, under the name of the file, which is certain only once that exists."""
        with self._kept_lock:
            if self.file.opened.sha:
                if self._drafts_beside != self.file.path:  # it got another name, or work goes on in a copy
                    self._drafts_beside, self._drafts = self.file.path, self._drafts_here()
                self._drafts.keep(self._kept)
            return self._drafts

    def _drafts_here(self) -> Drafts:
        return Drafts(self._library.history.folder_of(self.file.path), self._library.disk)


class ClosingJobs:
    """Jobs that are no longer open, but whose edits are still being written.

    Args:
        on_failure: called on a saving thread with the file name and state of a closing job that could not be written.
    """

    def __init__(self, on_failure: Callable[[str, SaveState], None]) -> None:
        self._on_failure = on_failure
        self._jobs: tuple[OpenJob, ...] = ()
        self._lock = threading.Lock()  # the screen's thread opens jobs while a worker moves them to the bin

    def add(self, job: OpenJob) -> None:
        """Let a job write what is pending and end. Never waits for the disk."""
        job.saver.finish(partial(self._failed, job))
        with self._lock:
            # one that ended without being written, as after a conflict, is still to be reported
            pending = (one for one in self._jobs if not one.saver.ended or one.saver.unsaved is not None)
            self._jobs = (*pending, job)

    def names(self) -> list[str]:
        """File names of all of them."""
        return [one.name for one in self._all()]

    def unsaved(self) -> dict[str, SaveState]:
        """The saving state of those that are not written yet, by file name."""
        return {one.name: one.saver.state for one in self._all() if one.saver.unsaved is not None}

    def of(self, path: Path) -> OpenJob | None:
        """The closing job of this file, if it is not written yet."""
        unsaved = (one for one in reversed(self._all()) if one.saver.unsaved is not None)
        return next((one for one in unsaved if one.file.path == path), None)

    def flush(self) -> bool:
        """Write what is pending; True if all is written."""
        done = [one.flush() for one in self._all()]
        return all(done)

    def close(self) -> bool:
        """Write what is pending and stop saving, also of jobs added meanwhile; True if all is written."""
        saved = True
        while jobs := self._all():
            for one in jobs:
                saved = one.close() and saved
                self._drop(one)
        return saved

    def settle(self, path: Path) -> None:
        """Write what is pending for this file, or put it in a safe place, before it is opened or moved."""
        for one in self._all():
            if one.file.path == path:
                one.close()
                self._drop(one)

    def _all(self) -> tuple[OpenJob, ...]:
        with self._lock:
            return self._jobs

    def _drop(self, job: OpenJob) -> None:
        with self._lock:
            self._jobs = tuple(one for one in self._jobs if one is not job)

    def _failed(self, job: OpenJob, state: SaveState) -> None:
        self._on_failure(job.name, state)
