"""Drafts: typed text that cannot be read, and what is being tried, kept beside the job's earlier states.

A job file holds accepted values only. This module keeps the rest, so that nothing typed is lost.
"""

from __future__ import annotations

import contextlib
import threading
import time
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from stanchion.base.errors import BadFile
from stanchion.base.record import EMPTY, record
from stanchion.job.codec import dumps, loads
from stanchion.job.kept_trial import KeptTrial
from stanchion.job.model import ENDS
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


@record
class Kept:
    """What is kept for one open job."""

    texts: Mapping[Place, str] = EMPTY
    """Typed text that cannot be read, by field."""
    trial: KeptTrial | None = None

    @property
    def is_empty(self) -> bool:
        """Whether there is nothing to keep."""
        return not self.texts and self.trial is None


class Drafts:
    """The unread texts of one open job, and what is tried on it.

    Writing is done by a thread that lives only as long as there is something to write, so that keep() never waits for
    the disk. A failure is not reported: saving the job meets the same disk and reports it, and the next
    keep() tries again.

    Args:
        folder: where they are kept; made when there is something to keep.
        disk: the system calls.
    """

    def __init__(self, folder: Path, disk: Disk = DISK) -> None:
        self._path = folder / FILE
        self._disk = disk
        self._wake = threading.Condition()
        self._wanted = Kept()
        self._kept: Kept | None = None  # None: not known what the file holds
        self._writing = False

    def load(self) -> Kept:
        """What an earlier run kept; empty if there is no such file, or it is damaged."""
        try:
            data = read(self._path, self._disk, _LARGEST)
        except FileNotFoundError:
            self._kept = Kept()
            return self._kept
        except (OSError, BadFile):
            return Kept()
        import json  # noqa: PLC0415 - not needed to start: most jobs have no such text

        try:
            table = json.loads(data)
        except (ValueError, RecursionError):
            return Kept()
        if isinstance(table, dict):
            self._kept = Kept(_texts(table.get("texts")), _trial(table.get("trial")))
        else:
            self._kept = Kept(_texts(table))
        return self._kept

    def keep(self, kept: Kept) -> None:
        """Keep this and nothing else. Never waits for the disk."""
        with self._wake:
            self._wanted = kept
            if self._writing or self._wanted == self._kept:
                return
            self._writing = True
            threading.Thread(target=self._run, name="drafts", daemon=True).start()

    def flush(self, timeout: float = 1.0) -> bool:
        """Wait until what was last given to keep() is written; True if it is."""
        deadline = time.monotonic() + timeout
        with self._wake:
            while self._writing and (left := deadline - time.monotonic()) > 0:
                self._wake.wait(left)
            return not self._writing and self._wanted == (self._kept or Kept())

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

    def _write(self, kept: Kept) -> bool:
        try:
            if kept.is_empty:
                with contextlib.suppress(FileNotFoundError):
                    self._disk.unlink(self._path)
                return True
            import json  # noqa: PLC0415 - see load()

            rows = _rows(kept.texts)
            data = json.dumps({"texts": rows, "trial": _trial_table(kept.trial)} if kept.trial is not None else rows)
            make_folder(self._path.parent, self._disk)
            put(self._path, data.encode("ascii"), self._disk)
        except OSError:
            return False
        return True


def _rows(texts: Mapping[Place, str]) -> list[dict[str, Any]]:
    return [{"at": list(place), "text": text[:LONGEST]} for place, text in list(texts.items())[:MOST]]


def _texts(rows: object) -> dict[Place, str]:
    found: dict[Place, str] = {}
    for row in rows[:MOST] if isinstance(rows, list) else ():
        if isinstance(row, dict) and isinstance(row.get("text"), str) and _is_place(row.get("at")):
            found[tuple(row["at"])] = row["text"][:LONGEST]
    return found


def _trial_table(trial: KeptTrial) -> dict[str, Any] | None:
    try:
        start, tried = (dumps(job).decode() for job in (trial.start, trial.tried))
    except (ValueError, TypeError):
        return None  # a file cannot hold the job either, and saving it says so
    return {"start": start, "tried": tried, "texts": _rows(trial.texts), "springs": trial.springs}


def _trial(table: object) -> KeptTrial | None:
    if not isinstance(table, dict):
        return None
    try:
        start, tried = (loads(str(table.get(name)).encode()).job for name in ("start", "tried"))
    except (BadFile, ValueError):
        return None
    springs = table.get("springs")
    match springs:
        case [end, [*used]] if end in ENDS and all(type(row) is int and row >= 0 for row in used):
            return KeptTrial(start, tried, _texts(table.get("texts")), (end, tuple(used)))
        case _:
            return KeptTrial(start, tried, _texts(table.get("texts")))


def _is_place(value: object) -> bool:
    """Whether this has the form of a path; the job decides whether such a field exists."""
    return (
        isinstance(value, list)
        and 0 < len(value) <= _DEEPEST
        and all(isinstance(step, str) or (type(step) is int and step >= 0) for step in value)
    )
