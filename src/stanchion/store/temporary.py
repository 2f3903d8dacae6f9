"""Temporary files: written and flushed beside the file they replace, and removed later if the program died."""

from __future__ import annotations

import contextlib
import errno
import hashlib
import os
import platform
import re
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path

from stanchion.store.disk import DISK, NEW_FILE, NOT_KNOWN_HERE, Disk, process_alive

STALE_S = 60.0
"""A temporary file younger than this may still be in use, whoever made it."""

_TEMPORARY = re.compile(r"\.stanchion-([0-9a-f]{8})-([0-9]{1,10})-[0-9a-f]{8}\.part")
_HELD_ELSEWHERE = (5, 32, 33)  # Windows: access denied, sharing violation, lock violation
_WAITS_S = (0.05, 0.1, 0.2, 0.4, 0.8, 1.0)  # a virus scanner or an indexer lets go well within these


def sweep(folder: Path, disk: Disk = DISK, alive: Callable[[int], bool] = process_alive) -> int:
    """Remove temporary files of a dead process of this program on this machine; never anything else.

    Returns:
        How many were removed.
    """
    try:
        # Most often there are none, and thousands of jobs need not be asked about for that.
        found = disk.scan(folder) if any(map(_TEMPORARY.fullmatch, disk.listed(folder))) else ()
    except OSError:
        return 0
    gone = 0
    for entry in found:
        ours = _TEMPORARY.fullmatch(entry.name)
        if ours is None or not entry.file or entry.link or ours[1] != _machine() or alive(int(ours[2])):
            continue
        if disk.now() - entry.mtime_ns / 1e9 > STALE_S:
            with contextlib.suppress(OSError):
                disk.unlink(folder / entry.name)
                gone += 1
    return gone


@cache
def _machine() -> str:
    """A short mark of this machine: a process number means nothing on another one."""
    return hashlib.sha256(platform.node().encode("utf-8", "replace")).hexdigest()[:8]


def finished(
    folder: Path,
    data: bytes,
    disk: Disk,
    mode: int = 0o600,
    owner: tuple[int, int] | None = None,
    *,
    durable: bool = True,
) -> Path:
    """A finished temporary file beside the target; it is removed if anything fails."""
    path, fd = _new_file(folder, disk)
    try:
        try:
            view = memoryview(data)
            while view:
                taken = disk.write(fd, view)
                if taken <= 0:
                    raise OSError(errno.EIO, "the disk takes no more bytes")
                view = view[taken:]
            if owner is not None and owner != _self():
                with contextlib.suppress(OSError):  # only root may give a file away; the content matters more
                    disk.give_owner(fd, *owner)
            if mode != 0o600:
                _widen(fd, mode, disk)
            if durable:
                disk.sync(fd)
        except BaseException:
            with contextlib.suppress(OSError):
                disk.close(fd)
            raise
        disk.close(fd)
    except BaseException:
        discard(path, disk)
        raise
    return path


def _widen(fd: int, mode: int, disk: Disk) -> None:
    try:
        disk.give_mode(fd, mode)
    except OSError as error:  # FAT has no modes; the file stays private, which harms nobody
        if error.errno not in NOT_KNOWN_HERE | {errno.EPERM}:
            raise


def _new_file(folder: Path, disk: Disk) -> tuple[Path, int]:
    for attempt in range(20):
        path = folder / f".stanchion-{_machine()}-{os.getpid()}-{os.urandom(4).hex()}.part"
        try:
            return path, disk.open(path, NEW_FILE, 0o600)
        except FileExistsError:
            if attempt == 19:
                raise
    raise AssertionError


def _self() -> tuple[int, int]:
    if sys.platform == "win32":
        return 0, 0
    return os.geteuid(), os.getegid()


def swap(disk: Disk, source: Path, target: Path, move: Callable[[Path, Path], None]) -> None:
    """Move a file into its place; on Windows wait a moment for programs that have the target open."""
    for wait in (*_WAITS_S, None):
        try:
            return move(source, target)
        except PermissionError as error:
            if wait is None or getattr(error, "winerror", None) not in _HELD_ELSEWHERE:
                raise
            disk.sleep(wait)
    return None


def discard(path: Path, disk: Disk) -> None:
    """Remove a temporary file; if that fails, a later sweep does it."""
    with contextlib.suppress(OSError):
        disk.unlink(path)
