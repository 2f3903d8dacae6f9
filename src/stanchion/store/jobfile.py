"""The file of one open job: saving it, keeping its earlier content, and keeping edits that cannot be written."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from stanchion.base.errors import BadFile, ChangedOnDisk, NotSaved
from stanchion.job.carry import identified
from stanchion.job.codec import header, loads
from stanchion.job.lineage import Lineage, joined, mark_of
from stanchion.job.model import Job, Occasion
from stanchion.store.atomic import Written, fingerprint, make_folder, put, read, write
from stanchion.store.disk import advice, cause
from stanchion.store.following import copies_under, drop_old_names, led_to, name_again, rename_sheets
from stanchion.store.history import BEFORE_UPGRADE, SESSION_START, SESSIONS
from stanchion.store.library import Library, Opened, encoded
from stanchion.store.names import SUFFIX, date_in, file_name, is_name_of, new_id, slug
from stanchion.store.renaming import rename, renamed, second_name

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
        self._merged_in: Lineage = ()
        """Marks of copies that are merged into the job, to be written with it."""
        self._first = opened.job
        """The job as it was opened or made."""
        self._led: list[tuple[str, str]] = []
        """Names of the folder of attached copies before and after, each time it followed the file."""

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
        if self.read_only:
            raise NotSaved(f"'{self.path.name}' is not saved: {self.opened.note} Save as a copy.")
        caution = ""
        now = self.disk.now()
        first = self._kept_at is None
        due = self._kept_at is None or not 0 <= now - self._kept_at < SPACING_S
        merged_in = self._merged_in
        follows = joined(self.opened.lineage if due or merged_in else self.opened.follows, merged_in)
        data = encoded(job, follows)
        if due:
            if self.opened.upgraded:
                self._must_keep(self.opened.data, BEFORE_UPGRADE)
            elif self.opened.edited_by_hand:
                self._must_keep(self.opened.data, "edited-by-hand")
            else:
                caution = self._keep(self.opened.data, SESSION_START if first else "while-working")
        written = self._write(data)
        if due:
            self._kept_at = now
        self._now(job, data, written.sha, follows)
        if self._merged_in == merged_in:
            self._merged_in = ()
        return written.caution or caution

    def _write(self, data: bytes) -> Written:
        """Write over the state last seen, also where another program has given the file another name since."""
        try:
            return write(self.path, data, self.opened.sha, self.disk)
        except ChangedOnDisk:
            elsewhere = None if os.path.lexists(self.path) else renamed(self.path, self.opened.data, self.disk)
            if elsewhere is None:
                raise
            self.opened = replace(self.opened, path=elsewhere)
            return write(self.path, data, self.opened.sha, self.disk)

    def follow(self) -> tuple[str, str] | None:
        """Give the file the name that follows from who, what and when, if the program named it and that has changed;
        sheets and copies of attached files follow it.

        Files outside the jobs folder, read-only ones, those that a person named, and those from before ids keep their
        names.

        Returns:
            The names before and after; None if it has the same name.
        """
        if not self.opened.sha or self.read_only or not self.opened.job.job.id:
            return None
        if self.path.parent != self.library.places.jobs:
            return None
        names = self._follow()
        if names is not None:
            before, after = (name.removesuffix(SUFFIX) for name in names)
            rename_sheets(self.library.places.sheets, before, after, self.disk)
        self._follow_with_copies()
        return names

    def _follow(self) -> tuple[str, str] | None:
        before, job = self.path.name, self.opened.job.job
        fits, twin = is_name_of(before, job), second_name(self.path, self.disk)
        begun = twin is not None and (fits or is_name_of(twin.name, job))  # a renaming that was cut short
        if not begun and (fits or not self._named_by_program()):
            return None
        old, wanted = (twin, before) if fits and twin is not None else (self.path, file_name(job))
        with self.library.turn():
            path = rename(old, wanted, self.opened.sha, self.library.history, self.disk)
        if path is None or path.name == before:
            return None
        self.opened = replace(self.opened, path=path)
        return before, path.name

    def _follow_with_copies(self) -> None:
        """Let the copies of attached files follow the name the file has now, also where that was cut short before."""
        folder, after = self.path.parent, self.path.stem
        for before, copies in copies_under(self.opened.job).items():
            if before == after or not self._had_name(before):
                continue
            if name_again(folder, copies, before, after, self.disk):
                self._led.append((before, after))
                with contextlib.suppress(NotSaved, ChangedOnDisk, BadFile):
                    self.save(self.opened.job)
                    drop_old_names(folder, before, after, self.disk)

    def _had_name(self, stem: str) -> bool:
        """Whether this file once had a name, and no file has it now."""
        name = f"{stem}{SUFFIX}"
        known = (self._first.job, *self._named_before())
        return any(is_name_of(name, one) for one in known) and not os.path.lexists(self.path.with_name(name))

    def _named_by_program(self) -> bool:
        name = self.path.name
        if date_in(name) is None:
            return False
        return is_name_of(name, self._first.job) or any(is_name_of(name, one) for one in self._named_before())

    def _named_before(self) -> Iterator[Occasion]:
        """Who, what and when in the earlier states of the file."""
        for state in self.library.history.states(self.path):
            with contextlib.suppress(OSError, BadFile):
                yield header(read(state.path, self.disk)).job

    def overwrite(self, job: Job) -> str:
        """Write the job without a check of the file, whose content is kept among the earlier states.

        Returns:
            A caution although the job is written; empty if there is none.

        Raises:
            NotSaved: it could not be written; the file is unchanged.
        """
        job = self._of_this_file(job)
        expected: str | None = None
        follows = self.opened.lineage
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
            follows = joined(follows, (mark_of(expected),))
        data = encoded(job, follows)
        written = write(self.path, data, expected, self.disk)
        self._now(job, data, written.sha, follows)
        return written.caution

    def keep(self, job: Job, reason: str) -> None:
        """Keep a state of the open job among the earlier ones.

        Raises:
            NotSaved: it could not be kept.
        """
        self._must_keep(self._bytes_of(job), reason)

    def keep_copy(self, copy: Opened) -> None:
        """Keep a copy of this job among the earlier states before it is merged in: it is then the last state that both
        have in common.

        Raises:
            NotSaved: it could not be kept.
        """
        self._must_keep(copy.data, "merged-copy")

    def merges_in(self, copy: Opened) -> None:
        """Write with the next state that it came from a copy, too. Called as that state is handed over."""
        self._merged_in = joined(self._merged_in, copy.lineage)

    def last_common(self, other: Opened) -> Job | None:
        """The last state that this file and another one both came from, as far as it is kept here; None: not known."""
        common = set(self.opened.lineage) & set(other.lineage)
        for one in (self.opened, other):
            if mark_of(one.sha) in common:
                return one.job
        for state in self.library.history.states(self.path) if common else ():
            if state.mark in common:
                with contextlib.suppress(OSError, BadFile):
                    return self.library.history.load(state).job
        return None

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
        mine_data = self._bytes_of(mine)
        follows = joined(theirs.lineage, self.opened.lineage, (mark_of(fingerprint(mine_data)),))
        data = encoded(job := self._of_this_file(job), follows)
        for state, reason in ((theirs.data, "merged-theirs"), (mine_data, "merged-mine")):
            self._must_keep(state, reason)
        written = write(self.path, data, theirs.sha, self.disk)
        self._kept_at = self.disk.now()
        self._now(job, data, written.sha, follows)
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
        self.opened = self.library.copy_beside(job, self.path, () if another_job else self.opened.lineage)
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
        """The job with the id of its file, which no edit and no undo changes; its attached copies where they are."""
        for before, after in self._led:
            job = led_to(job, before, after)
        return identified(job, self.opened.job.job.id)

    def _bytes_of(self, job: Job) -> bytes:
        """The file of a state that came from the one last seen, or is that one."""
        job = self._of_this_file(job)
        return self.opened.data if job == self.opened.job and self.opened.sha else encoded(job, self.opened.lineage)

    def _now(self, job: Job, data: bytes, sha: str, follows: Lineage) -> None:
        self.opened = Opened(job, self.path, sha, data, follows=follows)
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
