"""Giving a job file another name: never onto a name that is taken, and with a whole file at every moment.

The file gets its new name before it loses the old one. A program that is killed in between leaves one file with two
names; the next renaming ends what was begun.
"""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator
from pathlib import Path

from stanchion.base.errors import BadFile
from stanchion.store.atomic import fingerprint, flush_folder, locked, make_folder, read
from stanchion.store.disk import Disk
from stanchion.store.history import History
from stanchion.store.names import date_in, unique


class NewNames:
    """The names that files of the jobs folder got since this start, for what was listed or noted before.

    Args:
        folder: the jobs folder.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._after: dict[str, str] = {}

    def note(self, before: str, after: str) -> None:
        """Note that a file got another name. Any thread may call this."""
        self._after.pop(after, None)
        self._after[before] = after

    def present(self, name: str) -> str:
        """The name a file has now."""
        while name in self._after and not os.path.lexists(self._folder / name):
            name = self._after[name]
        return name


def rename(path: Path, wanted: str, sha: str, history: History, disk: Disk) -> Path | None:
    """Give a job file the first free name like the one wanted, and its earlier states with it.

    Args:
        path: the file.
        wanted: the name to have if it is free.
        sha: fingerprint the file must have.
        history: the earlier states.
        disk: the system calls.

    Returns:
        The file under its new name; None if it was left alone: another program wrote it, or the disk refused.
    """
    folder = path.parent
    try:
        with locked(folder, disk):
            if disk.realpath(path) != disk.realpath(folder) / path.name or fingerprint(read(path, disk)) != sha:
                return None  # a link, or another program wrote it
            taken = {name.casefold() for name in disk.listed(folder)} - {path.name.casefold()}
            target = folder / unique(wanted, lambda one: _is_taken(folder / one, path, taken, disk))
            if target.name != path.name:
                _move(path, target, history, disk)
            return target
    except (OSError, BadFile):
        return None


def _is_taken(target: Path, path: Path, taken: set[str], disk: Disk) -> bool:
    """Whether another file has that name; a second name of this one is from a renaming that was cut short."""
    if target.name.casefold() not in taken:
        return False
    return not _is_same(target, path, disk)


def _is_same(target: Path, path: Path, disk: Disk) -> bool:
    """Whether both are names of one file, and not a link to it."""
    return disk.same(target, path) and not target.is_symlink()


def _move(path: Path, target: Path, history: History, disk: Disk) -> None:
    try:
        disk.settle(path, target)
    except FileExistsError:
        if not _is_same(target, path, disk):  # else it is the second name of a renaming that was cut short
            raise
    flush_folder(path.parent, disk)
    _move_states(history.folder_of(path), history.folder_of(target), disk)
    with contextlib.suppress(FileNotFoundError):  # on disks without second names it is gone already
        disk.unlink(path)
    flush_folder(path.parent, disk)


def _move_states(source: Path, target: Path, disk: Disk) -> None:
    """Move earlier states and drafts to the folder of the new name; what cannot be moved stays, and the rest goes on.

    The target is worked out while both names exist: it hangs on the name alone.
    """
    if source == target:
        return
    with contextlib.suppress(OSError):
        names = disk.listed(source)
        make_folder(target, disk)
        for name in names:
            with contextlib.suppress(OSError):
                disk.replace(source / name, target / name)
        flush_folder(target, disk)


def second_name(path: Path, disk: Disk) -> Path | None:
    """Another name of the file in its folder that begins with a day, as a renaming that was cut short leaves it."""
    with contextlib.suppress(OSError):
        if disk.stat(path).st_nlink > 1:
            others = (path.parent / name for name in disk.listed(path.parent) if name != path.name and date_in(name))
            return next((one for one in others if _is_same(one, path, disk)), None)
    return None


def renamed(path: Path, data: bytes, disk: Disk) -> Path | None:
    """The file that has the content of one that is gone, in the same folder: another program gave it another name.

    Returns:
        The file; None if there is none, or more than one.
    """
    found = list(_alike(path, data, disk))
    return found[0] if len(found) == 1 else None


def _alike(path: Path, data: bytes, disk: Disk) -> Iterator[Path]:
    try:
        entries = disk.scan(path.parent)
    except OSError:
        return
    for entry in entries:
        if entry.file and entry.size == len(data) and entry.name.endswith(path.suffix):
            with contextlib.suppress(OSError, BadFile):
                if read(path.parent / entry.name, disk) == data:
                    yield path.parent / entry.name
