"""Drafts: typed text that cannot be read, kept beside the job's earlier states until the user corrects it.

A job file holds values only; this is what keeps the rest of the promise that nothing typed is lost.
"""

from __future__ import annotations

import contextlib
import threading
import time
from collections.abc import Mapping
from pathlib import Path

from stanchion.base.errors import BadFile
from stanchion.job.model import Path as Place
from stanchion.store.atomic import make_folder, put, read
from stanchion.store.disk import DISK, Disk

FILE = "drafts.json"
MOST = 500
"""Texts kept of one job."""
LONGEST = 5_000
"""Characters of one text."""
_LARGEST = 4_000_000
_DEEPEST = 16


class Drafts:
    """The unread texts of one open job. Writing is done by a thread that lives only as long as there is something to
    write, so that keep() never waits for the disk. A failure is not worth a word of its own: the job's own save meets
    the same disk and says so, and the next keep() tries again.

    Args:
        folder: where they are kept; made when there is something to keep.
        disk: the system calls.
    """

    def __init__(self, folder: Path, disk: Disk = DISK) -> None:
        self._path = folder / FILE
        self._disk = disk
        self._wake = threading.Condition()
        self._wanted: dict[Place, str] = {}
        self._kept: dict[Place, str] | None = None  # None: not known what the file holds
        self._writing = False

    def load(self) -> dict[Place, str]:
        """The texts of an earlier run; none where there is no such file, or it is damaged."""
        try:
            data = read(self._path, self._disk, _LARGEST)
        except FileNotFoundError:
            self._kept = {}
            return {}
        except (OSError, BadFile):
            return {}
        import json  # noqa: PLC0415 - not needed to start: most jobs have no such text

        try:
            rows = json.loads(data)
        except (ValueError, RecursionError):
            return {}
        found: dict[Place, str] = {}
        for row in rows[:MOST] if isinstance(rows, list) else ():
            if isinstance(row, dict) and isinstance(row.get("text"), str) and _is_place(row.get("at")):
                found[tuple(row["at"])] = row["text"][:LONGEST]
        self._kept = dict(found)
        return found

    def keep(self, texts: Mapping[Place, str]) -> None:
        """Keep these and no others. Never waits for the disk."""
        with self._wake:
            self._wanted = dict(texts)
            if self._writing or self._wanted == self._kept:
                return
            self._writing = True
            threading.Thread(target=self._run, name="drafts", daemon=True).start()

    def flush(self, timeout: float = 1.0) -> bool:
        """Wait until what was last given to keep() is written; whether it is."""
        deadline = time.monotonic() + timeout
        with self._wake:
            while self._writing and (left := deadline - time.monotonic()) > 0:
                self._wake.wait(left)
            return not self._writing and self._wanted == (self._kept or {})

    def _run(self) -> None:
        while True:
            with self._wake:
                wanted = self._wanted
            done = self._write(wanted)
            with self._wake:
                self._kept = wanted if done else None
                if not done or self._wanted == wanted:
                    self._writing = False
                    self._wake.notify_all()
                    return

    def _write(self, texts: Mapping[Place, str]) -> bool:
        try:
            if not texts:
                with contextlib.suppress(FileNotFoundError):
                    self._disk.unlink(self._path)
                return True
            import json  # noqa: PLC0415 - see load()

            rows = [{"at": list(place), "text": text[:LONGEST]} for place, text in list(texts.items())[:MOST]]
            make_folder(self._path.parent, self._disk)
            put(self._path, json.dumps(rows).encode("ascii"), self._disk)
        except OSError:
            return False
        return True


def _is_place(value: object) -> bool:
    """Whether this can name a field; whether there is such a field is for the job to say."""
    return (
        isinstance(value, list)
        and 0 < len(value) <= _DEEPEST
        and all(isinstance(step, str) or (type(step) is int and step >= 0) for step in value)
    )
