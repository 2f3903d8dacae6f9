"""The job that another one was carried forward from: by the name or the id it has in the folder of that one's file, or
by its path from there."""

from __future__ import annotations

import contextlib
import os
import stat
from collections.abc import Mapping
from pathlib import Path, PurePosixPath
from typing import Protocol

from stanchion.base.errors import BadFile
from stanchion.job.carry import may_be_source
from stanchion.job.codec import loads
from stanchion.job.model import Job
from stanchion.store.atomic import read
from stanchion.store.disk import DISK, Disk, Entry
from stanchion.store.names import date_in, is_plain

NAMES_LOOKED_INTO = 200
"""The most files that are looked into for a job whose file has another name by now."""
HEAD_BYTES = 16_384
"""The beginning of a file that holds its [job] table."""
REMEMBERED = 64
"""How many jobs that others were carried from are kept while a list is read."""


class CarriedFrom(Protocol):
    """What a job says of the one it was carried from."""

    @property
    def carried_from(self) -> str:
        """The name of its file, or the path to it."""

    @property
    def carried_id(self) -> str:
        """Its id; empty: not known."""


def source_name(path: Path, folder: Path, longest: int | None) -> str:
    """How a job of a folder names the file it is carried from: by its name there, else by its path from there; by its
    name alone where there is no such path, or it is too long.

    >>> source_name(Path("stick/mule.toml"), Path("jobs"), 120)
    '../stick/mule.toml'
    """
    if path.parent != folder:
        with contextlib.suppress(ValueError):  # on another drive
            from_there = Path(os.path.relpath(path, folder)).as_posix()
            if longest is None or len(from_there) <= longest:
                return from_there
    return path.name


def path_from(folder: Path, about: CarriedFrom) -> Path | None:
    """The file outside the folder that a job says it was carried from; None where it says no such thing.

    The file there has to have the id of the source, or none if that had none: see previous().
    """
    way = PurePosixPath(about.carried_from)
    if len(way.parts) < 2 or way.is_absolute() or not is_plain(way.name):
        return None
    return Path(os.path.normpath(folder / way))


def previous(job: Job, folder: Path, disk: Disk = DISK) -> Job | None:
    """The job this one was carried forward from; None if there is none, or it cannot be read.

    It is looked for in the folder by its name, and if that has changed since, by its id among the files of the days
    around; outside the folder only by its path, where it has the same id, or both have none and name one machine.
    """
    return _named(job, folder, disk) or _identified(job, folder, disk) or _elsewhere(job, folder, disk)


def _named(job: Job, folder: Path, disk: Disk) -> Job | None:
    name = job.job.carried_from
    if not is_plain(name):
        return None
    try:
        if disk.realpath(folder / name).parent != disk.realpath(folder):
            return None  # a link that leads out of the folder
        found = loads(read(folder / name, disk)).job
        return found if may_be_source(job.job, found.job) else None
    except (OSError, BadFile, ValueError):
        return None


def _identified(job: Job, folder: Path, disk: Disk) -> Job | None:
    """The job with the id of the one this was carried from; the nearest in time are looked into first."""
    wanted, day = job.job.carried_id, date_in(job.job.carried_from) or job.job.date
    if not wanted:
        return None
    try:
        names = [name for name in disk.listed(folder) if is_plain(name)]
    except OSError:
        return None
    dated = sorted((abs(((date_in(name) or day) - day).days), name) for name in names)
    for _, name in dated[:NAMES_LOOKED_INTO]:
        with contextlib.suppress(OSError, BadFile, ValueError):
            data = read(folder / name, disk)
            if wanted.encode() in data[:HEAD_BYTES]:
                found = loads(data).job
                if found.job.id == wanted:
                    return found
    return None


def _is_the_one(job: Job, found: Job) -> bool:
    """Whether the job found outside the folder is the source: by its id, or where the source had none, by a machine
    that both name."""
    named = job.job.carried_id or (job.job.machine and found.job.machine)
    return bool(named) and found.job.id == job.job.carried_id and may_be_source(job.job, found.job)


def _elsewhere(job: Job, folder: Path, disk: Disk) -> Job | None:
    path = path_from(folder, job.job)
    if path is None:
        return None
    with contextlib.suppress(OSError, BadFile, ValueError):
        found = loads(read(path, disk)).job
        return found if _is_the_one(job, found) else None
    return None


def content_of(folder: Path, entry: Entry, disk: Disk) -> bytes:
    """The content of a file that was found in a folder.

    Raises:
        BadFile, OSError: it cannot be read.
    """
    if entry.problem is not None:
        raise entry.problem
    if not entry.file:
        raise BadFile("it is not an ordinary file")
    if entry.elsewhere:
        raise BadFile("it is not on this machine: let the sync service fetch it")
    return read(folder / entry.name, disk)


class Sources:
    """The files that jobs of one folder were carried from, for its list.

    Args:
        folder: the folder.
        entries: its job files, by name.
        disk: the system calls.
    """

    def __init__(self, folder: Path, entries: Mapping[str, Entry], disk: Disk) -> None:
        self._folder, self._entries, self._disk = folder, entries, disk
        self._ids: dict[str, str] = {}
        self._by_id: dict[str, Entry] = {}
        self._jobs: dict[str, Job | None] = {}

    def note(self, identity: str, entry: Entry | None) -> None:
        """Note the id of a file."""
        if identity and entry is not None:
            self._ids[entry.name] = identity
            if entry.name in self._entries:
                self._by_id.setdefault(identity, entry)

    def waits(self, about: CarriedFrom) -> bool:
        """Whether the source can be found only once the ids of all files are known."""
        return bool(about.carried_id) and self._named(about) is None

    def of(self, about: CarriedFrom) -> Entry | None:
        """The file a job was carried from, as far as ids are known; its name may be a path from the folder on."""
        return self._named(about) or self._by_id.get(about.carried_id) or self._outside(about)

    def job_of(self, source: Entry | None) -> Job | None:
        """The job of such a file; None if it cannot be read. The last few are remembered."""
        if source is None:
            return None
        if source.name not in self._jobs:
            if len(self._jobs) >= REMEMBERED:
                self._jobs.pop(next(iter(self._jobs)))
            try:
                self._jobs[source.name] = loads(content_of(self._folder, source, self._disk)).job
            except (BadFile, OSError):
                self._jobs[source.name] = None
        return self._jobs[source.name]

    def _named(self, about: CarriedFrom) -> Entry | None:
        """The file of that name, unless it is known to be another job by now."""
        named = self._entries.get(about.carried_from) if is_plain(about.carried_from) else None
        known = self._ids.get(about.carried_from, "")
        return None if known and about.carried_id not in ("", known) else named

    def _outside(self, about: CarriedFrom) -> Entry | None:
        path = path_from(self._folder, about)
        if path is None:
            return None
        try:
            known = self._disk.stat(path)
        except OSError:
            return None
        name = os.path.relpath(path, self._folder)
        return Entry(name, known.st_size, known.st_mtime_ns, known.st_ctime_ns, stat.S_ISREG(known.st_mode))
