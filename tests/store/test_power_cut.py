"""A save seen by a disk that forgets, at a power cut, all that was not flushed.

The model is the harsh one that POSIX allows: of the names, either those of the last flush of the folder are left or
the newest; of each file, only what it held when it was last flushed itself.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from stanchion.store.atomic import fingerprint, put, write
from stanchion.store.disk import Disk

OLD, NEW = b"old " * 300, b"new " * 1000


class Forgetful(Disk):
    """Remembers, after every call, what each name could hold if the power failed then."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.held: dict[int, bytes] = {}  # by inode: what was flushed
        self.could_be: list[set[bytes | None]] = []
        self.names_flushed: dict[str, int] = {}
        self.first_look()

    def first_look(self) -> None:
        for one in self.path.parent.iterdir():
            self.held[one.stat().st_ino] = one.read_bytes()
        self.names_flushed = self.names()
        self.look()

    def names(self) -> dict[str, int]:
        return {one.name: one.stat().st_ino for one in self.path.parent.iterdir()}

    def look(self) -> None:
        """The states the file could be found in after a power cut now."""
        found: set[bytes | None] = set()
        for names in (self.names_flushed, self.names()):
            inode = names.get(self.path.name)
            found.add(None if inode is None else self.held.get(inode, b""))
        self.could_be.append(found)

    def write(self, fd: int, data: memoryview) -> int:
        taken = super().write(fd, data[:700])
        self.look()
        return taken

    def sync(self, fd: int) -> None:
        super().sync(fd)
        known = self.fstat(fd)
        path = next(one for one in self.path.parent.iterdir() if one.stat().st_ino == known.st_ino)
        self.held[known.st_ino] = path.read_bytes()
        self.look()

    def replace(self, source: Path, target: Path) -> None:
        super().replace(source, target)
        self.look()

    def settle(self, source: Path, target: Path) -> None:
        super().settle(source, target)
        self.look()

    def unlink(self, path: Path) -> None:
        super().unlink(path)
        self.look()

    def sync_folder(self, fd: int) -> None:
        super().sync_folder(fd)
        self.names_flushed = self.names()
        self.look()


@pytest.mark.parametrize("before", [OLD, None], ids=["overwriting", "new"])
def test_a_power_cut_at_any_moment_leaves_the_old_or_the_new_file_and_saved_means_saved(
    tmp_path: Path, before: bytes | None
) -> None:
    path = tmp_path / "job.toml"
    if before is not None:
        path.write_bytes(before)
    disk = Forgetful(path)
    written = write(path, NEW, None if before is None else fingerprint(before), disk)
    assert written.caution == ""
    assert disk.could_be[-1] == {NEW}
    assert set().union(*disk.could_be) == {before, NEW}


def test_our_own_files_are_as_safe(tmp_path: Path) -> None:
    path = tmp_path / "own.toml"
    path.write_bytes(OLD)
    disk = Forgetful(path)
    put(path, NEW, disk)
    assert disk.could_be[-1] == {NEW}
    assert set().union(*disk.could_be) == {OLD, NEW}


def test_the_model_catches_a_save_that_does_not_flush(tmp_path: Path) -> None:
    class Lazy(Forgetful):
        def sync(self, fd: int) -> None:
            self.look()

    path = tmp_path / "job.toml"
    path.write_bytes(OLD)
    disk = Lazy(path)
    write(path, NEW, fingerprint(OLD), disk)
    assert b"" in set().union(*disk.could_be)
