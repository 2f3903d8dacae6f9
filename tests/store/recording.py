"""A disk that knows what a power cut would leave: only what was flushed, of files and of the names in folders.

The model is the harsh one that POSIX allows, as LevelDB's own tests take it. A file holds what it held when it was
last flushed; nothing, if it never was. A folder has the names it had when it was last flushed, or those it has now:
either may be what is found, and for each folder apart. A folder whose own name was not flushed is gone with all in it.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path

from stanchion.store.disk import Disk

Tree = dict[str, bytes]
"""Relative path to content, for every file."""


class Recording(Disk):
    """Calls `after_each` after every call that changes something, and can tell what a cut then would leave."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.after_each: Callable[[], None] = lambda: None
        self._flushed: dict[int, bytes] = {}
        self._names: dict[Path, dict[str, int]] = {}
        self._folders: dict[int, Path] = {}
        self._held_open: dict[int, int] = {}
        for folder, _, files in os.walk(root):
            self._names[Path(folder)] = self._listed(Path(folder))
            for name in files:
                path = Path(folder, name)
                self._hold(path)
                self._flushed[path.stat().st_ino] = path.read_bytes()

    def end(self) -> None:
        """Let go of the files."""
        for fd in self._held_open.values():
            os.close(fd)
        self._held_open = {}

    def after_a_cut(self) -> Iterator[Tree]:
        """Everything that could be found after a power cut now: all names flushed, all new, and each folder apart."""
        folders = list({*self._names, *(Path(one) for one, _, _ in os.walk(self.root))})
        choices: list[set[Path]] = [set(), set(folders)]
        choices += [{folder} for folder in folders] + [set(folders) - {folder} for folder in folders]
        seen: set[tuple[tuple[str, bytes], ...]] = set()
        for newest in choices:
            tree: Tree = {}
            self._walk(self.root, newest, tree)
            key = tuple(sorted(tree.items()))
            if key not in seen:
                seen.add(key)
                yield tree

    def _walk(self, folder: Path, newest: set[Path], tree: Tree) -> None:
        names = self._listed(folder) if folder in newest else self._names.get(folder, {})
        for name, inode in names.items():
            path = folder / name
            if inode in self._flushed or inode in self._held_open:
                tree[str(path.relative_to(self.root))] = self._flushed.get(inode, b"")
            else:
                self._walk(path, newest, tree)

    def _listed(self, folder: Path) -> dict[str, int]:
        return {one.name: one.lstat().st_ino for one in folder.iterdir()} if folder.is_dir() else {}

    def _hold(self, path: Path) -> None:
        """While somebody has it open, no other file gets its number."""
        inode = path.stat().st_ino
        if inode not in self._held_open:
            self._held_open[inode] = os.open(path, os.O_RDONLY)

    # --- the calls ------------------------------------------------------------------------------------------------

    def open(self, path: Path, flags: int, mode: int = 0o600) -> int:
        fd = super().open(path, flags, mode)
        if flags & os.O_CREAT:
            self._hold(path)
            self.after_each()
        return fd

    def write(self, fd: int, data: memoryview) -> int:
        taken = super().write(fd, data[:900])
        self.after_each()
        return taken

    def sync(self, fd: int) -> None:
        super().sync(fd)
        inode = os.fstat(fd).st_ino
        held = self._held_open[inode]
        self._flushed[inode] = os.pread(held, os.fstat(held).st_size, 0)
        self.after_each()

    def replace(self, source: Path, target: Path) -> None:
        super().replace(source, target)
        self.after_each()

    def settle(self, source: Path, target: Path) -> None:
        super().settle(source, target)
        self.after_each()

    def unlink(self, path: Path) -> None:
        super().unlink(path)
        self.after_each()

    def mkdir(self, path: Path) -> None:
        super().mkdir(path)
        self.after_each()

    def open_folder(self, folder: Path) -> int | None:
        fd = super().open_folder(folder)
        if fd is not None:
            self._folders[fd] = folder
        return fd

    def sync_folder(self, fd: int) -> None:
        super().sync_folder(fd)
        folder = self._folders[fd]
        self._names[folder] = self._listed(folder)
        self.after_each()
