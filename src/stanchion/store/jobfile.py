"""The file of one open job: saving it, keeping its earlier content, and keeping edits that cannot be written."""

from __future__ import annotations

import contextlib
import os
from pathlib import Path

from stanchion.base.errors import BadFile, NotSaved
from stanchion.job.carry import identified
from stanchion.job.codec import loads
from stanchion.job.model import Job
from stanchion.store.atomic import fingerprint, make_folder, put, read, write
from stanchion.store.disk import advice, cause
from stanchion.store.history import BEFORE_UPGRADE, SESSION_START, SESSIONS
from stanchion.store.library import Library, Opened, encoded
from stanchion.store.names import SUFFIX, new_id, slug

SPACING_S = 120.0
"""The least time between two states that are kept while work goes on [s]: the last ten reach back twenty minutes."""


class JobFile:
    """The file of the job that is open.

    Args:
        library: where jobs live.
        opened: the job as it was opened or made.
    """

    def __init__(self, library: Library, opened: Opened) -> None:
        self.library = library
        self.disk = library.disk
        self.opened = opened
        self._kept_at: float | None = None  # None: nothing yet in this session
        self._spill: Path | None = None

    @property
    def path(self) -> Path:
        """The file."""
        return self.opened.path

    @property
    def read_only(self) -> bool:
        """Whether the file must not be written."""
        return self.opened.read_only

    def save(self, job: Job) -> str:
        """Write the job over the state last seen; keep that state first, at the session's start and now and then.

        A job that has no file yet gets one, under a free name.

        A file that is not as the program wrote it (edited by hand, or damaged), or of an earlier format, is only
        written once a copy of it is kept.

        Returns:
            A caution although the job is written; empty if there is none.

        Raises:
            NotSaved: it could not be written; the file is unchanged.
            ChangedOnDisk: another program has written the file; it is unchanged.
        """
        with self.library.turn():
            return self._save(job)

    def _save(self, job: Job) -> str:
        job = self._of_this_file(job)
        if not self.opened.sha:
            self.opened = self.library.create(job, self.path.parent, name=self.path.name)
            self._drop_spill()
            return self.opened.note
        data = encoded(job)
        if self.read_only:
            raise NotSaved(f"'{self.path.name}' is not saved: {self.opened.note} Save as a copy.")
        caution = ""
        now = self.disk.now()
        first = self._kept_at is None
        due = self._kept_at is None or not 0 <= now - self._kept_at < SPACING_S
        if due:
            if self.opened.upgraded:
                self._must_keep(self.opened.data, BEFORE_UPGRADE)
            elif self.opened.edited_by_hand:
                self._must_keep(self.opened.data, "edited-by-hand")
            else:
                caution = self._keep(self.opened.data, SESSION_START if first else "while-working")
        written = write(self.path, data, self.opened.sha, self.disk)
        if due:
            self._kept_at = now
        self._now(job, data, written.sha)
        return written.caution or caution

    def overwrite(self, job: Job) -> str:
        """Write the job without a check of the file, whose content is kept among the earlier states.

        Returns:
            A caution although the job is written; empty if there is none.

        Raises:
            NotSaved: it could not be written; the file is unchanged.
        """
        data = encoded(job := self._of_this_file(job))
        expected: str | None = None
        try:
            theirs = read(self.path, self.disk)
        except FileNotFoundError:
            pass  # deleted or moved: written anew, as long as the folder is there
        except (OSError, BadFile) as error:
            reason = f"{cause(error)}. {advice(error)}" if isinstance(error, OSError) else str(error)
            raise NotSaved(f"'{self.path.name}' is not saved: {reason}") from error
        else:
            expected = fingerprint(theirs)
            self._must_keep(theirs, "replaced-by-mine")
        written = write(self.path, data, expected, self.disk)
        self._now(job, data, written.sha)
        return written.caution

    def keep(self, job: Job, reason: str) -> None:
        """Keep a state of the open job among the earlier ones.

        Raises:
            NotSaved: it could not be kept.
        """
        self._must_keep(encoded(self._of_this_file(job)), reason)

    def reread(self, mine: Job | None) -> Opened:
        """Read the file again; keep my state among the earlier ones.

        Raises:
            BadFile: it cannot be read as a job.
            NotSaved: my state could not be kept.
        """
        theirs = self.library.open(self.path)
        if mine is not None:
            self.keep(mine, "replaced-by-theirs")
        self.opened = theirs
        self._kept_at = None
        self._drop_spill()
        return theirs

    def merge(self, job: Job, theirs: Opened, mine: Job) -> str:
        """Write what was merged from theirs and mine over theirs; both are kept among the earlier states first.

        Raises:
            ChangedOnDisk: the file is no longer theirs; it is unchanged.
            NotSaved: it could not be written, or what was there before could not be kept.
        """
        data = encoded(job := self._of_this_file(job))
        for state, reason in ((theirs.data, "merged-theirs"), (encoded(self._of_this_file(mine)), "merged-mine")):
            self._must_keep(state, reason)
        written = write(self.path, data, theirs.sha, self.disk)
        self._kept_at = self.disk.now()
        self._now(job, data, written.sha)
        return written.caution

    def states(self) -> list[Job]:
        """The earlier states of this file since it was first seen here, oldest first; none if that is no
        longer known because the oldest were deleted."""
        kept = self.library.history.states(self.path)
        if sum(state.reason == SESSION_START for state in kept) >= SESSIONS:
            return []
        found = []
        for state in reversed(kept):
            with contextlib.suppress(OSError, BadFile):
                found.append(loads(read(state.path, self.disk)).job)
        return [*found, self.opened.job]

    def copy(self, job: Job, *, another_job: bool) -> Opened:
        """Write the job into a new file beside this one, and go on with that.

        Args:
            job: what to write.
            another_job: it gets an id of its own; otherwise it is another copy of this job.

        Raises:
            NotSaved: it could not be written.
        """
        job = identified(job, new_id()) if another_job else self._of_this_file(job)
        self.opened = self.library.copy_beside(job, self.path)
        self._kept_at = self.disk.now()
        self._drop_spill()
        return self.opened

    def spill(self, job: Job) -> Path | None:
        """Write the job to a place of its own in the state folder, until its file can be written again.

        Returns:
            Where it is; None if that failed too.
        """
        folder = self.library.places.spill
        path = self._spill or folder / f"{slug(self.path.stem) or 'job'}-{os.getpid()}-{os.urandom(4).hex()}{SUFFIX}"
        try:
            make_folder(folder, self.disk)
            put(path, encoded(self._of_this_file(job)), self.disk)
        except (OSError, NotSaved):
            return None
        self._spill = path
        return path

    def _of_this_file(self, job: Job) -> Job:
        """The job with the id of its file, which no edit and no undo changes."""
        return identified(job, self.opened.job.job.id)

    def _now(self, job: Job, data: bytes, sha: str) -> None:
        self.opened = Opened(job, self.path, sha, data)
        self._drop_spill()

    def _drop_spill(self) -> None:
        if self._spill is not None:
            with contextlib.suppress(OSError):
                self.disk.unlink(self._spill)
            self._spill = None

    def _must_keep(self, data: bytes, reason: str) -> None:
        if problem := self._keep(data, reason):
            raise NotSaved(f"'{self.path.name}' is not saved. {problem}")

    def _keep(self, data: bytes, reason: str) -> str:
        try:
            self.library.history.keep(self.path, data, reason)
        except OSError as error:
            return f"The earlier state of '{self.path.name}' could not be kept: {cause(error)}. {advice(error)}"
        return ""
