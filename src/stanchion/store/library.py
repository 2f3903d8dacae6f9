"""The library of one user's jobs: list, open, create, find the previous one, delete and restore."""

from __future__ import annotations

import contextlib
import threading
from collections.abc import Callable, Iterable, Iterator
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from stanchion.base.errors import BadFile, NotSaved
from stanchion.base.progress import NEVER, NO_COUNT
from stanchion.base.record import record
from stanchion.job.codec import comments_of, dumps, loads
from stanchion.job.lineage import Lineage, joined, mark_of
from stanchion.job.model import Job
from stanchion.store.atomic import fingerprint, make_folder, read, write_new
from stanchion.store.disk import DISK, Disk, advice, cause
from stanchion.store.history import ALL_BYTES, History
from stanchion.store.names import file_name, is_job, unique
from stanchion.store.paths import Places
from stanchion.store.sources import previous
from stanchion.store.temporary import sweep

if TYPE_CHECKING:
    from stanchion.store.deleted import Bin, Deleted
    from stanchion.store.listing import JobRow, Judge, Listing


@record
class Opened:
    """A job and the file it came from."""

    job: Job
    path: Path
    sha: str
    """Fingerprint of the file as it was read; a save makes sure it still has it. Empty: it has no file yet, and its
    first save makes one, under this name or the next like it that is free."""
    data: bytes
    """The file as it was read."""
    read_only: bool = False
    """It must not be written; the note says why."""
    newer: bool = False
    """A later version of the program wrote it."""
    upgraded: bool = False
    """The file has an earlier format; a copy of it is kept before it is written in this one."""
    edited_by_hand: bool = False
    """The file is not as the program wrote it; a copy of it is kept before it is written."""
    note: str = ""
    """What the user should know about the file, in plain words; may be empty."""
    follows: Lineage = ()
    """Marks of the states that this one came from."""

    @property
    def lineage(self) -> Lineage:
        """The same with the mark of this state."""
        return joined(self.follows, (mark_of(self.sha),))


def encoded(job: Job, follows: Lineage = ()) -> bytes:
    """The bytes of a job's file, read back and compared before anybody writes them.

    Args:
        job: the job.
        follows: marks of the states that it came from.

    Raises:
        NotSaved: a file cannot hold the job unchanged.
    """
    try:
        data = dumps(job, follows)
        again = loads(data)
    except (BadFile, ValueError, TypeError, RecursionError) as error:
        raise NotSaved(f"The job was not written: a file cannot hold it ({error}). Undo the last change.") from error
    texts = [sorted(one.text for one in comments_of(each)) for each in (job, again.job)]
    if again.job != job or again.follows != follows or again.edited_by_hand or texts[0] != texts[1]:
        raise NotSaved("The job was not written: it would not read back as it is. Undo the last change.")
    return data


def read_job(path: Path, disk: Disk = DISK) -> Opened:
    """Read one job file, wherever it is.

    Raises:
        BadFile: it cannot be read as a job; the message says where and what to do.
    """
    try:
        data = read(path, disk)
        known = disk.stat(path)
        writable = disk.writable(path, known)
    except OSError as error:
        raise BadFile(f"'{path.name}' cannot be read: {cause(error)}. {advice(error)}") from error
    loaded = loads(data)
    notes = []
    if loaded.read_only:
        notes.append("A later version of the program wrote this job: it can be looked at, but not changed here.")
    elif not writable:
        notes.append("The file is marked read-only: save as a copy to change the job.")
    if loaded.edited_by_hand and not loaded.read_only:
        notes.append("The file was edited outside the program, or damaged: check the values. A copy of it is kept.")
    if known.st_nlink > 1:
        notes.append("The file has a second name elsewhere (a hard link), which will keep the present state.")
    return Opened(
        job=loaded.job,
        path=path,
        sha=fingerprint(data),
        data=data,
        read_only=loaded.read_only or not writable,
        newer=loaded.read_only,
        upgraded=loaded.upgraded,
        edited_by_hand=loaded.edited_by_hand,
        note=" ".join(notes),
        follows=loaded.follows,
    )


TURN_S = 3.0
"""Longer than any save takes on a disk that does its work."""


class Library:
    """The jobs of one user.

    Args:
        places: the folders.
        judge: says the worst severity and headline of a job, given the one it was carried from; for the list.
        mark: changes whenever the judge would judge differently (other bands), so that nothing stale is listed.
        disk: the system calls.
    """

    def __init__(self, places: Places, judge: Judge, mark: str = "", disk: Disk = DISK) -> None:
        self.places = places
        self.disk = disk
        self.history = History(places.history, disk)
        self._judge, self._mark = judge, mark
        self._turn = threading.Lock()

    @contextlib.contextmanager
    def turn(self) -> Iterator[None]:
        """Let one job of this program be saved at a time.

        Each job has a saving thread, and the lock on the folder, meant for other programs, would refuse the second one.
        If the disk hangs, the others wait for TURN_S at most; then the lock decides.
        """
        taken = self._turn.acquire(timeout=TURN_S)
        try:
            yield
        finally:
            if taken:
                self._turn.release()

    @cached_property
    def listing(self) -> Listing:
        """The list of jobs, which the open job does without."""
        from stanchion.store.listing import Listing  # noqa: PLC0415

        return Listing(self.places.jobs, self.places.cache, self._judge, self._mark, self.disk)

    @cached_property
    def bin(self) -> Bin:
        """The deleted jobs."""
        from stanchion.store.deleted import Bin  # noqa: PLC0415

        return Bin(self.places.bin, self.disk)

    def rows(
        self,
        text: str = "",
        *,
        judged: bool = True,
        progress: Callable[[int, int], None] = NO_COUNT,
        cancelled: Callable[[], bool] = NEVER,
    ) -> list[JobRow]:
        """The jobs in which every word of the text is found, newest first; see Listing.rows.

        Raises:
            BadFile: the folder cannot be listed.
        """
        from stanchion.store.listing import matching  # noqa: PLC0415

        try:
            rows = self.listing.rows(judged=judged, progress=progress, cancelled=cancelled)
        except OSError as error:
            raise BadFile(
                f"The jobs folder cannot be read: {cause(error)}. {advice(error)} It is {self.places.jobs}"
            ) from error
        return matching(rows, text)

    def is_empty(self) -> bool:
        """Whether there is no job at all yet."""
        try:
            return not any(is_job(entry.name) and not entry.folder for entry in self.disk.scan(self.places.jobs))
        except OSError:
            return True

    def open(self, path: Path) -> Opened:
        """Read a job.

        Raises:
            BadFile: it cannot be read as a job; the message says where and what to do.
        """
        return read_job(path, self.disk)

    def begin(self, job: Job, given: Iterable[str] = ()) -> Opened:
        """A new job under a free name, which is not written yet; nothing is flushed, so this takes no time.

        Args:
            job: the job.
            given: names of others that may not be written yet either.
        """
        taken = {name.casefold() for name in given}
        with contextlib.suppress(OSError):  # the first save meets the same folder, and says what is wrong with it
            taken |= {name.casefold() for name in self.disk.listed(self.places.jobs)}
        name = unique(file_name(job.job), lambda one: one.casefold() in taken)
        return Opened(job, self.places.jobs / name, sha="", data=b"")

    def create(
        self,
        job: Job,
        folder: Path | None = None,
        taken: set[str] | None = None,
        name: str | None = None,
        follows: Lineage = (),
    ) -> Opened:
        """Write a job into a file of its own at once, under a free name.

        Args:
            job: the job.
            folder: where; the jobs folder unless said otherwise.
            taken: names known to be taken, in small letters; None: the folder is asked.
            name: the name to have if it is free; None: made from what is in the job.
            follows: marks of the states that it came from.

        Raises:
            NotSaved: it could not be written.
        """
        folder = folder or self.places.jobs
        data = encoded(job, follows)
        try:
            make_folder(folder, self.disk)
            if taken is None:
                taken = {found.casefold() for found in self.disk.listed(folder)}
        except OSError as error:
            raise NotSaved(f"No job can be made in {folder}: {cause(error)}. {advice(error)}") from error
        path, written = write_new(folder, name or file_name(job.job), taken, data, self.disk)
        return Opened(job, path, written.sha, data, note=written.caution, follows=follows)

    def copy_beside(self, job: Job, path: Path, follows: Lineage = ()) -> Opened:
        """Write a job into a new file in the folder of another; in the jobs folder, where that one takes nothing.

        Raises:
            NotSaved: it could not be written.
        """
        with contextlib.suppress(NotSaved):
            return self.create(job, path.parent, follows=follows)
        return self.create(job, follows=follows)

    def previous(self, job: Job, folder: Path | None = None) -> Job | None:
        """The job this one was carried forward from, for a file of that folder (the jobs folder), if it can be read."""
        return previous(job, folder or self.places.jobs, self.disk)

    def delete(self, path: Path) -> Deleted:
        """Move a job to the bin.

        Raises:
            NotSaved: it could not be moved, and is where it was.
        """
        return self.bin.take(path)

    def restore(self, deleted: Deleted) -> Path:
        """Bring a deleted job back.

        Raises:
            NotSaved: it could not be brought back, and is still in the bin.
        """
        return self.bin.bring_back(deleted, self.places.jobs)

    def unsaved(self) -> list[Path]:
        """Edits that an earlier run could not write where they belong, as job files of their own; newest first."""
        try:
            found = [entry for entry in self.disk.scan(self.places.spill) if entry.file and is_job(entry.name)]
        except OSError:
            return []
        return [self.places.spill / one.name for one in sorted(found, key=lambda one: one.mtime_ns, reverse=True)]

    def tidy(self, also: Iterable[Path] = ()) -> int:
        """Remove half-written files of a killed run of this program; other files are not touched.

        Args:
            also: folders of open jobs outside the jobs folder.
        """
        folders = [self.places.jobs, self.places.config, self.places.state, self.places.cache]
        folders += [self.places.spill, self.places.bin, *also]
        return sum(sweep(folder, self.disk) for folder in folders)

    def tidy_history(self, given_up: Callable[[], bool] = NEVER) -> int:
        """The same among the earlier states, of which no more than so many bytes stay; waits for a folder of each job.

        Args:
            given_up: asked before each folder is looked into.
        """
        gone = 0
        with contextlib.suppress(OSError):
            for name in self.disk.listed(self.places.history):
                if given_up():
                    return gone
                gone += sweep(self.places.history / name, self.disk)
        return gone + self.history.trim(ALL_BYTES, given_up)
