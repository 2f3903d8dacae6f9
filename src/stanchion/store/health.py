"""The condition of one user's files: each job file, and whether each folder can be written. No names are given."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Literal

from stanchion.base.errors import BadFile, CutShort
from stanchion.base.progress import NEVER, NO_COUNT
from stanchion.base.record import record
from stanchion.job.codec import loads
from stanchion.store.atomic import read
from stanchion.store.disk import DISK, Disk, Entry, advice, cause
from stanchion.store.listing import JobRow
from stanchion.store.temporary import discard, finished

Soundness = Literal["ok", "edited by hand", "cut short", "unreadable", "newer"]


@record
class Health:
    """The condition of one job file."""

    number: int
    """Its line in the list of jobs, from 1."""
    state: Soundness
    reason: str = ""
    """Why it is unreadable, as far as the system says so; never text from the file."""
    missing_files: int = 0
    """Attached files that are not where the job says."""
    copy_of: int = 0
    """Line of the job it is another copy of; 0: it is a job of its own."""


@record
class FolderHealth:
    """The condition of one folder."""

    words: str
    sound: bool
    """Whether it can be written, or made when it is needed."""


def health_of_jobs(
    folder: Path,
    rows: list[JobRow],
    disk: Disk = DISK,
    *,
    progress: Callable[[int, int], None] = NO_COUNT,
    cancelled: Callable[[], bool] = NEVER,
) -> list[Health]:
    """The condition of each job file, in the order of the list.

    Args:
        folder: the jobs folder.
        rows: the list of jobs, whole.
        disk: the system calls.
        progress: called with how many of how many are examined.
        cancelled: asked between files; once it is true, what was done so far is returned.

    Raises:
        OSError: the folder cannot be listed.
    """
    if not rows:
        return []
    entries = {entry.name: entry for entry in disk.scan(folder)}
    numbers = {row.name: number for number, row in enumerate(rows, start=1)}
    found = []
    for row in rows:
        if cancelled():
            break
        state, reason, missing = _health(folder, entries.get(row.name, Entry(row.name)), disk)
        found.append(Health(numbers[row.name], state, reason, missing, numbers.get(row.copy_of, 0)))
        progress(len(found), len(rows))
    return found


def health_of_folder(folder: Path, disk: Disk = DISK) -> FolderHealth:
    """The condition of a folder, tested by writing a file into it, which is removed again."""
    try:
        discard(finished(folder, b"", disk, durable=False), disk)
    except FileNotFoundError:
        return _not_there(folder, disk)
    except OSError as error:
        return FolderHealth(f"CANNOT be written: {cause(error)}. {advice(error)}", sound=False)
    return FolderHealth("can be written", sound=True)


def _not_there(folder: Path, disk: Disk) -> FolderHealth:
    for parent in folder.parents:
        try:
            known = disk.stat(parent)
        except OSError:
            continue
        if disk.writable(parent, known):
            return FolderHealth("not there yet: the program makes it when it is first needed", sound=True)
        break
    return FolderHealth("not there, and CANNOT be made: the system does not allow it", sound=False)


def _health(folder: Path, entry: Entry, disk: Disk) -> tuple[Soundness, str, int]:
    if entry.problem is not None:
        return "unreadable", cause(entry.problem), 0
    if entry.elsewhere:
        return "unreadable", "it is not on this machine: let the sync service fetch it", 0
    if not entry.file:
        return "unreadable", "it is not an ordinary file", 0
    try:
        loaded = loads(read(folder / entry.name, disk))
    except CutShort:
        return "cut short", "", 0
    except BadFile:
        return "unreadable", "it is no job, or a value in it does not fit", 0
    except OSError as error:
        return "unreadable", cause(error), 0
    if loaded.read_only:
        return "newer", "", 0
    missing = sum(not _there(folder, one.path, disk) for one in loaded.job.attached)
    return ("edited by hand" if loaded.edited_by_hand else "ok"), "", missing


def _there(folder: Path, path: str, disk: Disk) -> bool:
    """Whether an attached file is where the job says."""
    try:
        disk.stat(folder / Path(path).expanduser())
    except (OSError, ValueError, RuntimeError):
        return False
    return True
