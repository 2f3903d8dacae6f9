"""Deleted jobs: moved aside, not destroyed, so that a mistake can be taken back."""

from __future__ import annotations

import contextlib
import datetime as dt
import errno
import os
import re
from pathlib import Path

from stanchion.base.errors import BadFile, NotSaved
from stanchion.base.record import record
from stanchion.store.atomic import flush_folder, make_folder, put, read, write_new
from stanchion.store.disk import DISK, Disk, advice, cause
from stanchion.store.names import SUFFIX, is_plain
from stanchion.store.temporary import discard

MOST = 200
"""Deleted jobs kept; the oldest goes first."""
LARGEST = 64_000_000
"""Bytes of a file that is carried over to another disk."""

_NAME = re.compile(r"(\d{8}T\d{6}\d{6})-[0-9a-f]{4}-(.+)", re.DOTALL)


@record
class Deleted:
    """A deleted job."""

    path: Path
    """Its path in the bin."""
    name: str
    """The file name it had."""
    at: dt.datetime
    """When it was deleted, in UTC."""


class Bin:
    """The deleted jobs of one user.

    Args:
        folder: where they are; made when the first job is deleted.
        disk: the system calls.
    """

    def __init__(self, folder: Path, disk: Disk = DISK) -> None:
        self.folder = folder
        self.disk = disk

    def take(self, path: Path) -> Deleted:
        """Move a job file here.

        Raises:
            NotSaved: it could not be moved, and is still where it was.
        """
        try:
            make_folder(self.folder, self.disk)
            at = dt.datetime.fromtimestamp(self.disk.now(), dt.UTC)
            prefix = f"{at:%Y%m%dT%H%M%S%f}-{os.urandom(2).hex()}-"
            lying = self.folder / (prefix + _shortened(path.name))
            self._move(path, lying)
        except (OSError, BadFile) as error:
            reason = cause(error) if isinstance(error, OSError) else str(error)
            what = advice(error) if isinstance(error, OSError) else ""
            raise NotSaved(f"'{path.name}' was not deleted: {reason}. {what}".rstrip()) from error
        for old in self.list()[MOST:]:
            with contextlib.suppress(OSError):
                self.disk.unlink(old.path)
        return Deleted(lying, _shortened(path.name), at)

    def list(self) -> tuple[Deleted, ...]:
        """The deleted jobs, the last one first."""
        try:
            found = self.disk.scan(self.folder)
        except OSError:
            return ()
        lying = []
        for entry in found:
            parts = _NAME.fullmatch(entry.name)
            if parts is None or entry.folder:
                continue
            with contextlib.suppress(ValueError):
                at = dt.datetime.strptime(parts[1], "%Y%m%dT%H%M%S%f").replace(tzinfo=dt.UTC)
                lying.append(Deleted(self.folder / entry.name, parts[2], at))
        return tuple(sorted(lying, key=lambda one: (one.at, one.path.name), reverse=True))

    def bring_back(self, deleted: Deleted, folder: Path) -> Path:
        """Put a deleted job back under its old name, or a free one like it.

        Raises:
            NotSaved: it could not be put back, and is still in the bin.
        """
        wanted = deleted.name if is_plain(deleted.name) else "deleted-job.toml"
        try:
            make_folder(folder, self.disk)
            data = read(deleted.path, self.disk, LARGEST)
        except (OSError, BadFile) as error:
            reason = f"{cause(error)}. {advice(error)}" if isinstance(error, OSError) else str(error)
            raise NotSaved(f"'{deleted.name}' was not brought back: {reason}") from error
        path, _ = write_new(folder, wanted, set(), data, self.disk)
        with contextlib.suppress(OSError):  # two of it are better than none
            self.disk.unlink(deleted.path)
        return path

    def empty(self) -> int:
        """Destroy every deleted job; return how many there were.

        Raises:
            NotSaved: some could not be destroyed, and are still in the bin.
        """
        gone = 0
        for one in self.list():
            try:
                self.disk.unlink(one.path)
            except FileNotFoundError:
                pass
            except OSError as error:
                raise NotSaved(f"'{one.name}' is still in the bin: {cause(error)}. {advice(error)}") from error
            gone += 1
        return gone

    def _move(self, path: Path, lying: Path) -> None:
        if path.is_dir():
            raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR))
        if not path.is_symlink():
            try:
                self.disk.settle(path, lying)  # a second name first: a power cut must not find it without any
            except OSError as error:
                if error.errno != errno.EXDEV and getattr(error, "winerror", None) != 17:  # another disk
                    raise
                put(lying, read(path, self.disk, LARGEST), self.disk)
        else:
            put(lying, read(path, self.disk, LARGEST), self.disk)
        flush_folder(self.folder, self.disk)
        try:
            self.disk.unlink(path)
        except OSError as error:
            moved = isinstance(error, FileNotFoundError) and not path.exists()  # on disks without second names
            if not moved:
                discard(lying, self.disk)
                raise
        flush_folder(path.parent, self.disk)


def _shortened(name: str) -> str:
    """A name that leaves room for the mark before it."""
    while len(name.encode("utf-8", "surrogateescape")) > 200:
        name = name[: -len(SUFFIX) - 1] + SUFFIX
    return name
