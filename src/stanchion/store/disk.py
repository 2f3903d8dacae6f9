"""The few system calls that saving needs, behind one thin seam.

Everything that reads or writes a file of the user goes through a Disk, so that a test can make any call fail, cut a
write short, or drop what was not flushed.
"""

from __future__ import annotations

import errno
import os
import stat
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

if sys.platform != "win32":
    import fcntl

BINARY = getattr(os, "O_BINARY", 0) | getattr(os, "O_CLOEXEC", 0)
READING = os.O_RDONLY | BINARY | getattr(os, "O_NONBLOCK", 0)  # O_NONBLOCK: a pipe named like a job must not hang us
NEW_FILE = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_NOFOLLOW", 0) | BINARY

NOT_KNOWN_HERE = frozenset({errno.EINVAL, errno.ENOTSUP, errno.EOPNOTSUPP, errno.EBADF, errno.ENOSYS})
"""Errors of a file system that does not support flushing or locking."""

ELSEWHERE = 0x1000 | 0x40000 | 0x400000
"""Windows attributes of a file whose content is held by a sync service; reading one may hang."""


class Entry(NamedTuple):
    """One name in a folder; a tuple, of which ten thousand are soon made."""

    name: str
    size: int = 0
    mtime_ns: int = 0
    ctime_ns: int = 0
    file: bool = False
    """An ordinary file, or a link to one."""
    folder: bool = False
    link: bool = False
    elsewhere: bool = False
    """Its content is held by a sync service and not on this machine."""
    problem: OSError | None = None
    """Why nothing more is known of it: a link that leads nowhere, for one."""


class Disk:
    """The system calls themselves: one a method; each may raise OSError."""

    def realpath(self, path: Path) -> Path:
        """The path with every link followed; it must exist."""
        return Path(os.path.realpath(path, strict=True))

    def stat(self, path: Path) -> os.stat_result:
        """The status of a file."""
        return path.stat()

    def writable(self, path: Path, known: os.stat_result) -> bool:
        """Whether the file may be written by its mode, which counts for root too."""
        return bool(known.st_mode & (stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH)) and os.access(path, os.W_OK)

    def open(self, path: Path, flags: int, mode: int = 0o600) -> int:
        """A descriptor of the file."""
        return os.open(path, flags, mode)

    def fstat(self, fd: int) -> os.stat_result:
        """The status of an open file."""
        return os.fstat(fd)

    def read(self, fd: int, size: int) -> bytes:
        """At most `size` bytes; none at the end."""
        return os.read(fd, size)

    def write(self, fd: int, data: memoryview) -> int:
        """Write bytes; return how many were written."""
        return os.write(fd, data)

    def give_mode(self, fd: int, mode: int) -> None:
        """Set the permissions of an open file."""
        if sys.platform != "win32":
            os.fchmod(fd, mode)

    def give_owner(self, fd: int, uid: int, gid: int) -> None:
        """Set the owner of an open file."""
        if sys.platform != "win32":
            os.fchown(fd, uid, gid)

    def sync(self, fd: int) -> None:
        """Flush an open file to the medium."""
        if sys.platform == "darwin":  # there fsync stops at the drive's own cache
            try:
                fcntl.fcntl(fd, fcntl.F_FULLFSYNC)
            except OSError as error:
                if error.errno not in NOT_KNOWN_HERE | {errno.ENOTTY}:
                    raise
            else:
                return
        os.fsync(fd)

    def close(self, fd: int) -> None:
        """Close a descriptor."""
        os.close(fd)

    def replace(self, source: Path, target: Path) -> None:
        """Replace one file by another, in one step."""
        source.replace(target)

    def settle(self, source: Path, target: Path) -> None:
        """Give a finished temporary file its name, but only if that name is free.

        Raises:
            FileExistsError: the name is taken.
        """
        if sys.platform == "win32":
            source.rename(target)  # refuses a name that is taken
            return
        try:
            os.link(source, target)
        except OSError as error:
            # FAT and some network file systems have no links
            if error.errno not in NOT_KNOWN_HERE | {errno.EPERM, errno.EMLINK, errno.EXDEV}:
                raise
            if target.exists() or target.is_symlink():
                raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(target)) from None
            source.rename(target)

    def link(self, source: Path, target: Path) -> None:
        """Give a file a second name.

        Raises:
            FileExistsError: the name is taken.
        """
        os.link(source, target)

    def same(self, one: Path, other: Path) -> bool:
        """Whether both are names of one file."""
        try:
            first, second = self.stat(one), self.stat(other)
        except OSError:
            return False
        return (first.st_dev, first.st_ino) == (second.st_dev, second.st_ino) and first.st_ino != 0

    def unlink(self, path: Path) -> None:
        """Remove a name."""
        path.unlink()

    def mkdir(self, path: Path) -> None:
        """Make a folder that only the user can read."""
        path.mkdir(0o700)

    def open_folder(self, folder: Path) -> int | None:
        """A descriptor of the folder, to lock and to flush it; None where the system has none."""
        if sys.platform == "win32":
            return None
        return os.open(folder, os.O_RDONLY | os.O_DIRECTORY | BINARY)

    def lock(self, fd: int) -> None:
        """Lock the folder for one save; closing the descriptor, or the end of the process, unlocks it.

        Raises:
            BlockingIOError: another process has locked it.
        """
        if sys.platform != "win32":
            fcntl.flock(fd, fcntl.LOCK_EX | fcntl.LOCK_NB)

    def sync_folder(self, fd: int) -> None:
        """Flush the names of a folder."""
        os.fsync(fd)

    def listed(self, folder: Path) -> list[str]:
        """The names in a folder, and nothing else of what it holds: a tenth of the time of scan()."""
        with os.scandir(folder) as found:
            return [one.name for one in found]

    def scan(self, folder: Path) -> list[Entry]:
        """Every name in the folder, with a problem where its status cannot be read."""
        return list(self.each(folder))

    def each(self, folder: Path) -> Iterator[Entry]:
        """The same one by one, without keeping all in memory."""
        with os.scandir(folder) as found:
            yield from map(_entry, found)

    def sleep(self, seconds: float) -> None:
        """Wait."""
        time.sleep(seconds)

    def now(self) -> float:
        """Seconds since 1970."""
        return time.time()


def _entry(found: os.DirEntry[str]) -> Entry:
    try:
        link = found.is_symlink()
        known = found.stat()
    except OSError as error:
        return Entry(found.name, problem=error)
    return Entry(
        found.name,
        known.st_size,
        known.st_mtime_ns,
        known.st_ctime_ns,
        stat.S_ISREG(known.st_mode),
        stat.S_ISDIR(known.st_mode),
        link,
        bool(getattr(known, "st_file_attributes", 0) & ELSEWHERE),
    )


DISK = Disk()


def process_alive(pid: int) -> bool:
    """Whether a process of that number runs on this machine; in doubt, yes."""
    if sys.platform == "win32":  # os.kill(pid, 0) would send a Ctrl-C there
        import ctypes  # noqa: PLC0415 -- only Windows has a use for it

        query_limited_information = 0x1000
        handle = ctypes.windll.kernel32.OpenProcess(query_limited_information, False, pid)  # noqa: FBT003
        if not handle:
            return bool(ctypes.windll.kernel32.GetLastError() == 5)  # access denied: it is there
        ctypes.windll.kernel32.CloseHandle(handle)
        return True
    try:
        os.kill(pid, 0)
    except (ProcessLookupError, OverflowError):
        return False
    except OSError:
        return True
    return True


_CAUSES: dict[str, tuple[str, str]] = {
    "ENOSPC": ("the disk is full", "Free some space."),
    "EDQUOT": ("your disk quota is used up", "Free some space."),
    "EROFS": ("the disk is read-only", "Check its write-protect switch, or use another disk."),
    "EACCES": ("the system does not allow it", "Check who owns the file and its folder."),
    "EPERM": ("the system does not allow it", "Check who owns the file and its folder."),
    "EIO": ("the disk reports a fault", "Copy your jobs to another disk."),
    "ENOENT": ("the file or its folder is gone", "Was the disk taken out, or the folder renamed? Put it back."),
    "ENOTDIR": ("there is a file where its folder should be", "Move it away, or put the folder back."),
    "EISDIR": ("there is a folder of that name", "Rename the folder."),
    "ENODEV": ("the disk is gone", "Put it back."),
    "ENXIO": ("the disk is gone", "Put it back."),
    "ESTALE": ("the network disk has been lost", "Check the connection."),
    "ETIMEDOUT": ("the network disk does not answer", "Check the connection."),
    "ELOOP": ("the link leads round in a circle", "Remove the link."),
    "ENAMETOOLONG": ("the name is too long for this disk", "Shorten the name of the folder."),
    "EBUSY": ("another program holds the file", "Close the other program."),
    "ETXTBSY": ("another program holds the file", "Close the other program."),
    "EMFILE": ("too many files are open", "Close other programs."),
    "ENFILE": ("too many files are open", "Close other programs."),
    "EFBIG": ("the disk does not take a file of this size", "Use another disk."),
    "EEXIST": ("the name is taken", "Rename the other file."),
}


def cause(error: OSError) -> str:
    """Why a file operation failed, in plain words.

    >>> cause(OSError(errno.ENOSPC, "No space left on device"))
    'the disk is full'
    """
    if getattr(error, "winerror", None) in (32, 33):
        return "another program holds the file"
    known = _CAUSES.get(errno.errorcode.get(error.errno or 0, ""))
    return known[0] if known else error.strerror or "the system gives no reason"


def advice(error: OSError) -> str:
    """What the user can do about it, as a sentence.

    >>> advice(OSError(errno.ENOSPC, "No space left on device"))
    'Free some space.'
    """
    known = _CAUSES.get(errno.errorcode.get(error.errno or 0, ""))
    return known[1] if known else "Check the disk and the folder."
