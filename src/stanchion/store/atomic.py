"""Reading and writing one file so that it is, at every instant, the complete old or the complete new one.

The protocol of a save:

1. follow links, so that a link stays a link; refuse a file marked read-only;
2. lock the folder for this save (a courtesy among programs on one machine);
3. read the file: if it is not the one last seen, another program wrote it, and the save stops;
4. write a temporary file beside it, give it the old one's mode, flush it, close it;
5. read the file once more, then replace it by the temporary one in one step;
6. flush the folder: only then would the new name survive a power cut.

A failure before step 5 leaves the old file; a failure after it leaves the new one, and is reported as that.
"""

from __future__ import annotations

import contextlib
import errno
import hashlib
import os
import stat
from collections.abc import Iterator
from pathlib import Path

from stanchion.base.errors import BadFile, ChangedOnDisk, NotSaved
from stanchion.base.record import record
from stanchion.base.toml import LARGEST
from stanchion.store.disk import DISK, NOT_KNOWN_HERE, READING, Disk, advice, cause
from stanchion.store.names import unique
from stanchion.store.temporary import discard, finished, swap

_LOCK_WAITS_S = (0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.4, 0.8, 1.0)  # another save takes a few ms


@record
class Written:
    """A file that was written."""

    sha: str
    """SHA-256 of its bytes, as hexadecimal."""
    caution: str = ""
    """Empty, or why the file might not survive a power cut."""


def fingerprint(data: bytes) -> str:
    """SHA-256 of the bytes, as hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def read(path: Path, disk: Disk = DISK, largest: int = LARGEST) -> bytes:
    """The bytes of an ordinary file.

    Raises:
        BadFile: it is larger than `largest` bytes, or not an ordinary file.
        OSError: it cannot be read.
    """
    fd = disk.open(path, READING)
    try:
        status = disk.fstat(fd)
        if stat.S_ISDIR(status.st_mode):
            raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))
        if not stat.S_ISREG(status.st_mode):
            raise BadFile(f"'{path.name}' is not an ordinary file. Take it out of the folder.")
        chunks: list[bytes] = []
        room = largest + 1
        while room > 0 and (chunk := disk.read(fd, min(room, 1 << 20))):
            chunks.append(chunk)
            room -= len(chunk)
    finally:
        with contextlib.suppress(OSError):  # the bytes are read, so a failure to close does not matter
            disk.close(fd)
    if room <= 0:
        raise BadFile(f"'{path.name}' is larger than {largest // 1000} kB: it cannot be a file of this program.")
    return b"".join(chunks)


def write(path: Path, data: bytes, expected: str | None, disk: Disk = DISK) -> Written:
    """Write a file by the protocol above.

    Args:
        path: the file; a link is followed.
        data: the whole new content.
        expected: fingerprint the file must still have; None: there must be no file of that name yet.
        disk: the system calls.

    Raises:
        ChangedOnDisk: the file is not the one expected; it is unchanged.
        NotSaved: why it could not be written; the old file is unchanged.
    """
    try:
        return _Save(path, data, expected, disk).run()
    except OSError as error:
        raise NotSaved(f"'{path.name}' is not saved: {cause(error)}. {advice(error)}") from error


def write_new(folder: Path, name: str, taken: set[str], data: bytes, disk: Disk = DISK) -> tuple[Path, Written]:
    """Write a new job file under the first free name of name, name-2, name-3, ...

    Args:
        folder: an existing folder.
        name: a safe file name.
        taken: names known to be taken, in small letters.
        data: the whole content.
        disk: the system calls.

    Raises:
        NotSaved: it could not be written.
    """
    tried = set(taken)
    for _ in range(50):
        free = unique(name, lambda one: one.casefold() in tried)
        try:
            return folder / free, write(folder / free, data, None, disk)
        except ChangedOnDisk:  # another program was faster
            tried.add(free.casefold())
    raise NotSaved(f"'{name}' is not saved: every name like it is taken. Move some files out of the folder {folder}.")


def put(path: Path, data: bytes, disk: Disk = DISK, *, durable: bool = True) -> None:
    """Write a file that only this program writes, without a check of what it holds.

    Raises:
        OSError: it could not be written; the old file is unchanged.
    """
    temporary = finished(path.parent, data, disk, durable=durable)
    try:
        swap(disk, temporary, path, disk.replace)
    except BaseException:
        discard(temporary, disk)
        raise
    if durable:
        flush_folder(path.parent, disk)


def make_folder(folder: Path, disk: Disk = DISK) -> None:
    """Make a folder, and those above it, readable by this user only; one that exists is not changed.

    Raises:
        OSError: it cannot be made.
    """
    try:
        if stat.S_ISDIR(disk.stat(folder).st_mode):
            return
        raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), str(folder))
    except FileNotFoundError:
        if folder.parent == folder:
            raise
    make_folder(folder.parent, disk)
    with contextlib.suppress(FileExistsError):
        disk.mkdir(folder)
    flush_folder(folder.parent, disk)


@contextlib.contextmanager
def locked(folder: Path, disk: Disk) -> Iterator[None]:
    """Hold the lock on a folder, as far as the system has one.

    Raises:
        OSError: another program holds it for too long, or the folder cannot be opened.
    """
    handle = disk.open_folder(folder)
    try:
        if handle is not None:
            lock(handle, disk)
        yield
    finally:
        if handle is not None:
            with contextlib.suppress(OSError):
                disk.close(handle)


def lock(handle: int, disk: Disk) -> None:
    """Lock a folder that was opened, waiting a moment for another program.

    Raises:
        OSError: another program holds the lock for too long.
    """
    for wait in (*_LOCK_WAITS_S, None):
        try:
            return disk.lock(handle)
        except BlockingIOError:
            if wait is None:
                raise OSError(errno.EBUSY, os.strerror(errno.EBUSY)) from None
            disk.sleep(wait)
        except OSError as error:
            if error.errno in NOT_KNOWN_HERE | {errno.ENOLCK}:
                return None  # no locks on this file system: the check before the swap has to do
            raise
    return None


class _Save:
    """One save, step by step."""

    def __init__(self, path: Path, data: bytes, expected: str | None, disk: Disk) -> None:
        self.path = path
        self.data = data
        self.expected = expected
        self.disk = disk
        self.sha = fingerprint(data)

    def run(self) -> Written:
        folder = self._real(self.path.parent)
        target = folder / self.path.name if self.expected is None else self._follow()
        handle, caution = self._lock_folder(target.parent)
        try:
            mode, owner = self._check(target)
            temporary = finished(target.parent, self.data, self.disk, mode, owner)
            try:
                self._move(temporary, target)
            except BaseException:
                discard(temporary, self.disk)
                raise
            return Written(self.sha, caution or self._flush(handle))
        finally:
            if handle is not None:
                with contextlib.suppress(OSError):
                    self.disk.close(handle)

    def _real(self, folder: Path) -> Path:
        return self.disk.realpath(folder)

    def _follow(self) -> Path:
        try:
            return self.disk.realpath(self.path)
        except FileNotFoundError:
            raise self._gone() from None

    def _gone(self) -> ChangedOnDisk:
        return ChangedOnDisk(f"'{self.path.name}' has been deleted or moved since it was opened. Nothing was written.")

    def _lock_folder(self, folder: Path) -> tuple[int | None, str]:
        """A handle of the folder, locked for this save; None and a caution if it cannot be opened."""
        try:
            handle = self.disk.open_folder(folder)
        except PermissionError:  # the folder may be entered and written, but not listed
            return (
                None,
                f"'{self.path.name}' is written, but {_AT_RISK}: the system could not flush the folder to the disk",
            )
        if handle is None:
            return None, ""
        try:
            lock(handle, self.disk)
        except BaseException:
            with contextlib.suppress(OSError):
                self.disk.close(handle)
            raise
        return handle, ""

    def _check(self, target: Path) -> tuple[int, tuple[int, int] | None]:
        """Check that the old file may be replaced; return the mode and owner for the new one."""
        if self.expected is None:
            return 0o600, None
        try:
            status = self.disk.stat(target)
        except FileNotFoundError:
            raise self._gone() from None
        if not self.disk.writable(target, status):
            raise NotSaved(
                f"'{self.path.name}' is not saved: the file is marked read-only. Make it writable, or save as a copy."
            )
        self._compare(target)
        return stat.S_IMODE(status.st_mode), (status.st_uid, status.st_gid)

    def _compare(self, target: Path) -> None:
        try:
            present = fingerprint(read(target, self.disk))
        except FileNotFoundError:
            raise self._gone() from None
        except BadFile:
            present = ""
        if present not in (self.expected, self.sha):
            raise ChangedOnDisk(
                f"'{self.path.name}' has been changed by another program since it was opened. Nothing was written."
            )

    def _move(self, temporary: Path, target: Path) -> None:
        if self.expected is None:
            try:
                swap(self.disk, temporary, target, self.disk.settle)
            except FileExistsError:
                raise ChangedOnDisk(f"There is a file '{target.name}' already. Nothing was written.") from None
            except OSError:
                if not self._swapped_after_all(target):
                    raise
            discard(temporary, self.disk)  # a new name made by a link leaves the temporary name there
            return
        self._compare(target)
        try:
            swap(self.disk, temporary, target, self.disk.replace)
        except OSError:
            if self.expected == self.sha or not self._swapped_after_all(target):
                raise

    def _swapped_after_all(self, target: Path) -> bool:
        """Whether the file was replaced although the call failed: a network disk may lose only the answer."""
        try:
            return fingerprint(read(target, self.disk)) == self.sha
        except (OSError, BadFile):
            return False

    def _flush(self, handle: int | None) -> str:
        if handle is None:
            return ""
        try:
            self.disk.sync_folder(handle)
        except OSError as error:
            reason = "this disk cannot promise it" if error.errno in NOT_KNOWN_HERE else cause(error)
            return f"'{self.path.name}' is written, but {_AT_RISK}: {reason}"
        return ""


_AT_RISK = "it may not survive a power cut"


def flush_folder(folder: Path, disk: Disk) -> None:
    """Flush the names in a folder of this program, as far as the system allows it."""
    with contextlib.suppress(OSError):
        handle = disk.open_folder(folder)
        if handle is not None:
            try:
                disk.sync_folder(handle)
            finally:
                disk.close(handle)
