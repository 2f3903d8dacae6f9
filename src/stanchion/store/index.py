"""The index: what the list shows of each job file, so that it need not read ten thousand files again.

It is in the cache folder and may be deleted or damaged at any time. An entry is valid only while its file has
the same size and times. A file changed within the last seconds is not entered at all: on some disks a second change
in that time would leave the times as they are.
"""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Container
from pathlib import Path
from typing import Any, NamedTuple

from stanchion import __version__
from stanchion.base.errors import BadFile
from stanchion.store.atomic import fingerprint, make_folder, put, read
from stanchion.store.disk import Disk, Entry

FileKey = tuple[int, int, int]
"""Time of change of the content and of the file's status [ns], and size: equal while the file is unchanged."""
Texts = tuple[str, str, str, str, bool, str, str, str, str, str]

LARGEST = 100_000_000
UNSETTLED_S = 2.0
"""Resolution of the coarsest clock of a file system still in use (FAT) [s]."""

_FORMAT = 2
_TEXTS = (str, str, str, str, bool, str, str, str, str, str)
_ALONE = (int, int, int, type(None), int, *_TEXTS)
_CARRIED = (int, int, int, list, int, *_TEXTS)
_LAST_DAY = dt.date.max.toordinal()


class IndexEntry(NamedTuple):
    """What the index knows of one file; a tuple, of which ten thousand are soon made."""

    key: FileKey
    source: FileKey | None
    """The key of the job it was carried from, on which its warnings depend too."""
    day: int
    texts: Texts


def key_of(entry: Entry) -> FileKey:
    """A key that changes when the file does."""
    return entry.mtime_ns, entry.ctime_ns, entry.size


def settled(entry: Entry, now: float) -> bool:
    """Whether the file was last changed long enough ago that another change would show."""
    return max(entry.mtime_ns, entry.ctime_ns) / 1e9 < now - UNSETTLED_S


class Index:
    """The index of one folder.

    Args:
        folder: the jobs folder.
        cache: the cache folder.
        mark: what the entries depend on besides the files.
        disk: the system calls.
    """

    def __init__(self, folder: Path, cache: Path, mark: str, disk: Disk) -> None:
        where = fingerprint(str(folder.absolute()).encode("utf-8", "surrogateescape"))[:12]
        self.path = cache / f"jobs-{where}.json"
        self.mark = f"{__version__} {mark}"
        self.disk = disk
        self._kept: dict[str, IndexEntry] | None = None
        self._changed = False

    def get(self, entry: Entry) -> IndexEntry | None:
        """The entry of a file; None if there is none, or the file has changed."""
        kept = self._all().get(entry.name)
        return kept if kept is not None and kept.key == key_of(entry) else None

    def put(self, entry: Entry, day: dt.date, texts: Texts, source: FileKey | None) -> None:
        """Remember a file."""
        self._all()[entry.name] = IndexEntry(key_of(entry), source, day.toordinal(), texts)
        self._changed = True

    def forget_all_but(self, names: Container[str]) -> None:
        """Forget files that no longer exist."""
        kept = self._all()
        for name in [name for name in kept if name not in names]:
            del kept[name]
            self._changed = True

    def save(self) -> None:
        """Write the index if it has changed; a failure costs time at the next list and nothing else."""
        if not self._changed:
            return
        rows = {name: [*one.key, one.source, one.day, *one.texts] for name, one in self._all().items()}
        whole = {"format": _FORMAT, "mark": self.mark, "rows": rows}
        try:
            make_folder(self.path.parent, self.disk)
            put(self.path, json.dumps(whole).encode("utf-8", "surrogatepass"), self.disk, durable=False)
        except (OSError, ValueError):
            return
        self._changed = False

    def _all(self) -> dict[str, IndexEntry]:
        if self._kept is None:
            self._kept = self._load()
        return self._kept

    def _load(self) -> dict[str, IndexEntry]:
        try:
            whole = json.loads(read(self.path, self.disk, LARGEST))
            if whole["format"] != _FORMAT or whole["mark"] != self.mark:
                return {}
            return {name: _kept(row) for name, row in whole["rows"].items()}
        except (OSError, BadFile, ValueError, TypeError, LookupError, AttributeError, RecursionError):
            return {}


def _kept(row: list[Any]) -> IndexEntry:
    """An entry as it was read.

    Raises:
        ValueError: it is not an entry.
    """
    if tuple(map(type, row)) not in (_ALONE, _CARRIED) or not 1 <= row[4] <= _LAST_DAY:
        raise ValueError("not an entry")
    source = row[3]
    if source is not None:
        mtime, ctime, size = source
        source = mtime, ctime, size
    return IndexEntry((row[0], row[1], row[2]), source, row[4], tuple(row[5:]))
