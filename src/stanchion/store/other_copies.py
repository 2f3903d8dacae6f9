"""Finding the other copies of one job again and again in a folder that may hold thousands of other files.

The list of jobs finds the copies of all jobs, but keeps every row in memory. Of a file that is no copy, only a
mark is kept here.
"""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path

from stanchion.store.copies import made_by_a_tool
from stanchion.store.disk import DISK, Disk, Entry
from stanchion.store.index import key_of, settled
from stanchion.store.listing import JobRow, copies_in, glance, newest_first, who_of, with_copies
from stanchion.store.names import is_job

PASSED = 10
"""So many skipped files take about the time of one that is read."""


class OtherCopies:
    """Finds the other copies of one job.

    Args:
        folder: the jobs folder.
        name: file name of the job.
        disk: the system calls.
    """

    def __init__(self, folder: Path, name: str, disk: Disk = DISK) -> None:
        self.folder = folder
        self.name = name
        self.disk = disk
        self._looking = threading.Lock()
        self._ids: set[str] = set()
        self._whos: set[tuple[object, ...]] = set()
        self._strangers: set[int] = set()
        """Marks of the files, in their present state, that have neither."""

    def look(self, given_up: Callable[[], bool] = lambda: False) -> list[str] | None:
        """File names of the other copies, in the order of the list of jobs; None if the search was given up.

        Reads the heads of files that are new or changed since the last look: not for the thread that draws.

        Args:
            given_up: asked before each file is read, and now and then while others are skipped.

        Raises:
            OSError: the folder cannot be listed.
        """
        with self._looking:
            self._know_own()
            while (kin := self._kin(given_up)) is not None:
                if not self._widened(kin):
                    return copies_in(with_copies(newest_first(kin)), self.name)
                self._strangers.clear()
            return None

    def _know_own(self) -> None:
        """What the job has in common with its copies; as last known if its file cannot be read."""
        own = glance(self.folder, Entry(self.name, file=True), self.disk)
        if own.problem:
            return
        if who_of(own) not in self._whos or (own.id and own.id not in self._ids):
            self._ids, self._whos = {own.id} - {""}, {who_of(own)}
            self._strangers.clear()

    def _widened(self, kin: list[JobRow]) -> bool:
        """Include what the copies found have in common with further copies."""
        before = len(self._ids) + len(self._whos)
        self._ids.update(row.id for row in kin if row.id)
        self._whos.update(who_of(row) for row in kin if not row.problem)
        return len(self._ids) + len(self._whos) > before

    def _kin(self, given_up: Callable[[], bool]) -> list[JobRow] | None:
        strangers: set[int] = set()
        found = []
        passed = 0
        now = self.disk.now()
        try:
            for entry in self.disk.each(self.folder):
                if entry.folder or not is_job(entry.name):
                    continue
                mark = _mark(entry)
                known = mark in self._strangers
                passed += known
                if (not known or passed % PASSED == 0) and given_up():
                    strangers |= self._strangers
                    return None
                if known:
                    strangers.add(mark)
                    continue
                row = glance(self.folder, entry, self.disk)
                if self._is_kin(row):
                    found.append(row)
                elif settled(entry, now):
                    strangers.add(mark)
        finally:
            self._strangers = strangers
        return found

    def _is_kin(self, row: JobRow) -> bool:
        if row.name == self.name:
            return True
        if row.problem:
            return made_by_a_tool(row.name)
        return row.id in self._ids or who_of(row) in self._whos


def _mark(entry: Entry) -> int:
    """A number that differs for every file and every state of a file."""
    return hash((entry.name, key_of(entry)))
