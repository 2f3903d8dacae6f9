"""The job in hand with all that keeps it on disk, and the jobs left a moment ago that are still being written."""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping
from functools import partial

from stanchion.job.model import Job
from stanchion.job.model import Path as Place
from stanchion.store.autosave import Autosave, SaveState
from stanchion.store.drafts import Drafts
from stanchion.store.jobfile import JobFile
from stanchion.store.library import Library, Opened


class OpenJob:
    """One job in hand: its file, what saves it, and where text is kept that cannot be read.

    A job that has no file yet is written at once; nobody waits for it.

    Args:
        library: where jobs live.
        opened: the job as it was opened or begun.
        on_state: told of every change of how its saving stands, on the saving thread.
        shared: the file lies in a folder that a sync tool watches.
    """

    def __init__(
        self, library: Library, opened: Opened, on_state: Callable[[OpenJob, SaveState], None], *, shared: bool = False
    ) -> None:
        self._library = library
        self._on_state = on_state
        self._texts: Mapping[Place, str] = {}
        self.file = JobFile(library, opened)
        self._drafts_beside, self._drafts = self.file.path, self._drafts_here()
        self.saver = Autosave(self.file, self._save_state_changed, shared=shared)
        if not opened.sha:
            self.saver.submit(opened.job, at_once=True)

    @property
    def name(self) -> str:
        """Name of its file; of one that is still to be made, the name it is to have."""
        return self.file.path.name

    @property
    def newest(self) -> Job:
        """Its newest state: what is waiting to be written, or what the file holds."""
        return self.saver.unsaved or self.file.opened.job

    def texts(self) -> dict[Place, str]:
        """What was typed into it in an earlier run and could not be read."""
        return self._drafts.load()

    def keep(self, texts: Mapping[Place, str]) -> None:
        """Keep what was typed and cannot be read, and nothing else. Never waits for the disk."""
        self._texts = texts
        self._keep()

    def flush(self) -> bool:
        """Write what is waiting; whether all of the job is written."""
        saved = self.saver.flush()
        self._keep()
        self._drafts.flush()
        return saved

    def close(self) -> bool:
        """Write what is waiting and stop saving; whether all of the job is written."""
        saved = self.saver.close()
        self._keep()
        self._drafts.flush()
        return saved

    def _save_state_changed(self, state: SaveState) -> None:
        self._keep()
        self._on_state(self, state)

    def _keep(self) -> None:
        """Text is kept under the name of the file, which is not certain before it is made."""
        if self.file.opened.sha:
            if self._drafts_beside != self.file.path:  # it got another name, or goes on in a copy
                self._drafts_beside, self._drafts = self.file.path, self._drafts_here()
            self._drafts.keep(self._texts)

    def _drafts_here(self) -> Drafts:
        return Drafts(self._library.history.folder_of(self.file.path), self._library.disk)


class ClosingJobs:
    """Jobs that were left while something of them was still to be written.

    Args:
        on_failure: told on a saving thread of a job that could not be written after it was left, and how it stands.
    """

    def __init__(self, on_failure: Callable[[str, SaveState], None]) -> None:
        self._on_failure = on_failure
        self._jobs: list[OpenJob] = []
        self._lock = threading.Lock()  # jobs are opened on one thread and moved to the bin on another

    def add(self, job: OpenJob) -> None:
        """Another job is in hand now. Never waits for the disk."""
        job.saver.finish(partial(self._failed, job))
        with self._lock:
            # one that ended without being written, as after a conflict, is still to be told of
            self._jobs = [one for one in self._jobs if not one.saver.ended or one.saver.unsaved is not None]
            self._jobs.append(job)

    def names(self) -> list[str]:
        """File names of all of them."""
        return [one.name for one in self._jobs]

    def unsaved(self) -> dict[str, SaveState]:
        """How those stand that are not written yet, by file name."""
        return {one.name: one.saver.state for one in self._jobs if one.saver.unsaved is not None}

    def of(self, name: str) -> OpenJob | None:
        """The job of this file name, if something of it may still be waiting."""
        return next((one for one in reversed(self._jobs) if one.name == name and one.saver.unsaved is not None), None)

    def flush(self) -> bool:
        """Write what is waiting; whether all is written."""
        done = [one.flush() for one in self._jobs]
        return all(done)

    def close(self) -> bool:
        """Write what is waiting and stop saving; whether all is written."""
        done = [one.close() for one in self._jobs]
        self._jobs.clear()
        return all(done)

    def settle(self, name: str) -> None:
        """Before the file of this name is opened or moved: write what is waiting for it, or put it in a safe place."""
        for one in [one for one in self._jobs if one.name == name]:
            one.close()
            with self._lock:
                self._jobs = [other for other in self._jobs if other is not one]

    def _failed(self, job: OpenJob, state: SaveState) -> None:
        self._on_failure(job.name, state)
