"""Reading what helped before from the jobs folder: the verdicts on the runs of one machine.

Only its own files are read, and of those only such as hold a verdict are read whole. What a file gave is kept while the
program runs, until the file is written again.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping

from stanchion.base.errors import BadFile
from stanchion.base.progress import NEVER, NO_PROGRESS
from stanchion.base.record import record
from stanchion.job.codec import loads
from stanchion.job.model import Job
from stanchion.planning.what_helped import PastVerdict, past_verdicts
from stanchion.store.atomic import read
from stanchion.store.library import Library
from stanchion.store.listing import JobRow
from stanchion.store.machines import same_machine

_MARK = b"\nverdict = "
"""What stands in every file with a verdict."""


@record
class PastRead:
    """The verdicts on a machine's runs, as far as they were read."""

    verdicts: tuple[PastVerdict, ...] = ()
    unreadable: int = 0
    """Files that cannot be read and may be of this machine."""
    stopped: bool = False


class PastVerdicts:
    """Reads the verdicts, and keeps what each file gave.

    Args:
        library: the jobs.
    """

    def __init__(self, library: Library) -> None:
        self.library = library
        self._known: dict[str, tuple[int, tuple[PastVerdict, ...]]] = {}
        self._lock = threading.Lock()

    def of_machine(
        self,
        machine: str,
        name: str,
        *,
        instead: Mapping[str, Job],
        progress: Callable[[str, int, int], None] = NO_PROGRESS,
        cancelled: Callable[[], bool] = NEVER,
    ) -> PastRead:
        """All verdicts on a machine. Reads files: call it on a thread of its own.

        Args:
            machine: its name, however it is spelt.
            name: file name of the job in hand.
            instead: open jobs by file name, used in place of their files, which may lack the last edits.
            progress: called with what is done, and to how many of how many files ("scanned", "read").
            cancelled: asked between files; once it is true, what was read so far is returned.

        Raises:
            OSError: the folder cannot be listed.
        """
        rows = self.library.listing.apart().rows(
            judged=False, progress=lambda done, of: progress("scanned", done, of), cancelled=cancelled
        )
        wanted = same_machine([row for row in rows if not row.copy_of or row.name in instead], machine, name)
        listed = {row.name for row in wanted}
        # a job of another folder is not listed
        found = [one for file, job in instead.items() if file not in listed for one in past_verdicts(file, job)]
        unreadable = 0
        for done, row in enumerate(wanted):
            if cancelled():
                return PastRead(tuple(found), unreadable, stopped=True)
            if row.name in instead:
                found += past_verdicts(row.name, instead[row.name])
            else:
                of_file = self._of_file(row)
                unreadable += of_file is None
                found += of_file or ()
            progress("read", done + 1, len(wanted))
        return PastRead(tuple(found), unreadable, stopped=cancelled())

    def _of_file(self, row: JobRow) -> tuple[PastVerdict, ...] | None:
        """The verdicts in a file; None where it cannot be read."""
        if row.problem:
            return None
        with self._lock:
            known = self._known.get(row.name)
        if known is not None and known[0] == row.mtime_ns:
            return known[1]
        try:
            data = read(row.path, self.library.disk)
            verdicts = tuple(past_verdicts(row.name, loads(data).job)) if _MARK in data else ()
        except (BadFile, OSError):
            return None
        with self._lock:
            self._known[row.name] = (row.mtime_ns, verdicts)
        return verdicts
