"""The list of jobs: what a folder holds, newest first, with the worst warning of each."""

from __future__ import annotations

import datetime as dt
import threading
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from pathlib import Path

from stanchion.base.errors import BadFile, StanchionError
from stanchion.base.progress import NEVER, NO_COUNT
from stanchion.base.record import record
from stanchion.job.carry import may_be_source
from stanchion.job.codec import header, loads
from stanchion.job.model import Job
from stanchion.job.name_match import match_key, plain_letters
from stanchion.store.copies import CopyCandidate, copies
from stanchion.store.disk import DISK, Disk, Entry, cause
from stanchion.store.index import FileKey, Index, Texts, key_of, settled
from stanchion.store.names import date_in, is_job
from stanchion.store.sources import Sources, content_of

Judge = Callable[[Job, Job | None], tuple[str, str]]
"""The worst severity of a job as a word (empty: nothing to say) and its headline, given the job and the one it was
carried from."""


@record
class JobRow:
    """One job in the list. Its texts are as in the file; what shows them must make them harmless."""

    folder: Path
    name: str
    """File name."""
    date: dt.date
    """Of the job; of the file, where the job cannot be read."""
    mtime_ns: int
    machine: str = ""
    rider: str = ""
    venue: str = ""
    use: str = ""
    sample: bool = False
    carried_from: str = ""
    severity: str = ""
    """The worst one, as a word; empty: nothing to say."""
    headline: str = ""
    """What the worst finding is, in a few words."""
    id: str = ""
    """What is the same in all copies of the job; empty in older files."""
    carried_id: str = ""
    copy_of: str = ""
    """File name of the job in the list that this is another copy of; empty: it is a job of its own."""
    problem: str = ""
    """Why the file cannot be read; empty if it can."""
    judged: bool = True
    """False: only the head of the file was read, and the job was not judged."""

    @property
    def path(self) -> Path:
        """The file."""
        return self.folder / self.name


def matching(rows: Iterable[JobRow], text: str) -> list[JobRow]:
    """The rows in which every word of the text is found, in capitals or not, with accents or without."""
    words = plain_letters(text).split()
    return [row for row in rows if _holds(row, words)]


def newest_first(rows: Iterable[JobRow]) -> list[JobRow]:
    """The rows by date of the job, then by when the file was last written; the newest first."""
    return sorted(sorted(rows, key=lambda row: row.name), key=lambda row: (row.date, row.mtime_ns), reverse=True)


def twins(rows: Iterable[JobRow]) -> dict[str, int]:
    """Which of several jobs of one day, machine, rider and venue each is, the one changed first being number 1.

    Args:
        rows: the list.

    Returns:
        File name to number; a job that is alone of its kind is not among them.
    """
    alike: dict[tuple[object, ...], list[JobRow]] = {}
    for row in rows:
        if not row.problem and not row.copy_of:
            key = (row.date, *map(match_key, (row.machine, row.rider, row.venue)))
            alike.setdefault(key, []).append(row)
    numbers: dict[str, int] = {}
    for group in alike.values():
        if len(group) > 1:
            in_order = sorted(group, key=lambda row: (row.mtime_ns, row.name))
            numbers |= {row.name: at + 1 for at, row in enumerate(in_order)}
    return numbers


def with_copies(rows: Iterable[JobRow]) -> list[JobRow]:
    """The rows, each copy of a job below that job."""
    found = list(rows)
    about = [CopyCandidate(row.name, row.id, None if row.problem else who_of(row)) for row in found]
    of = copies(about)
    under: dict[str, list[JobRow]] = {}
    for row in found:
        if row.name in of:
            under.setdefault(of[row.name], []).append(replace(row, copy_of=of[row.name]))
    return [one for row in found if row.name not in of for one in (row, *under.get(row.name, ()))]


def with_judged(rows: Iterable[JobRow], judged: Iterable[JobRow]) -> list[JobRow]:
    """The rows, each as it was judged where it was.

    Args:
        rows: the whole list.
        judged: some of it, from a listing that was stopped.
    """
    known = {row.name: row for row in judged}
    return [replace(known[row.name], copy_of=row.copy_of) if row.name in known else row for row in rows]


def copies_in(rows: Sequence[JobRow], name: str) -> list[str]:
    """File names of the other copies of a job, given the rows of the whole folder."""
    main = next((row.copy_of or row.name for row in rows if row.name == name), "")
    return [row.name for row in rows if main and main in (row.name, row.copy_of) and row.name != name]


class _Heads:
    """The heads of files that were read before, as long as the files stay as they are; shared by threads."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._rows: dict[str, tuple[FileKey, JobRow]] = {}

    def get(self, entry: Entry) -> JobRow | None:
        """The head of a file that has not changed since it was read."""
        with self._lock:
            key, row = self._rows.get(entry.name, (None, None))
        return row if key == key_of(entry) else None

    def put(self, entry: Entry, row: JobRow) -> None:
        """Remember the head of a file as it is now."""
        with self._lock:
            self._rows[entry.name] = key_of(entry), row


class Listing:
    """Lists one folder.

    Args:
        folder: the jobs folder; it need not exist.
        cache: where the index is kept. It is only ever a shortcut: without it the list is the same.
        judge: gives the worst severity of a job and its headline.
        mark: changes whenever the judge would judge differently: other bands, another version.
        disk: the system calls.
    """

    def __init__(self, folder: Path, cache: Path, judge: Judge, mark: str = "", disk: Disk = DISK) -> None:
        self.folder = folder
        self.cache = cache
        self.judge = judge
        self.mark = mark
        self.disk = disk
        self.index = Index(folder, cache, mark, disk)
        self._heads = _Heads()
        self._busy = threading.Lock()

    def apart(self) -> Listing:
        """A listing of the same folder for another thread; both share the heads that were read."""
        other = Listing(self.folder, self.cache, self.judge, self.mark, self.disk)
        other._heads = self._heads
        return other

    def rows(
        self,
        *,
        judged: bool = True,
        progress: Callable[[int, int], None] = NO_COUNT,
        cancelled: Callable[[], bool] = NEVER,
    ) -> list[JobRow]:
        """Every job file in the folder, newest first; one that cannot be read is there with its problem.

        Other copies of a job, such as a sync tool makes, follow it and name it. A second thread waits until the first
        has read the list. What was read is remembered, even if reading was stopped.

        Args:
            judged: False reads only the head of each file that the index does not know.
            progress: called with how many of how many are done.
            cancelled: asked between files; once it is true, the rows read so far are returned.

        Raises:
            OSError: the folder is there but cannot be listed.
        """
        with self._busy:
            return self._rows(progress, cancelled, judged=judged)

    def _rows(
        self, progress: Callable[[int, int], None], cancelled: Callable[[], bool], *, judged: bool
    ) -> list[JobRow]:
        try:
            entries = {entry.name: entry for entry in self.disk.scan(self.folder) if is_job(entry.name)}
        except FileNotFoundError:
            return []
        sources = Sources(self.folder, entries, self.disk)
        found: list[JobRow] = []
        wanted = [entry for entry in entries.values() if not entry.folder]
        waiting: list[Entry] = []
        try:
            for last, some in ((False, wanted), (True, waiting)):
                for entry in some:
                    if cancelled():
                        return with_copies(newest_first(found))
                    row = self._row(entry, sources, judged=judged, last=last)
                    if row is None:
                        waiting.append(entry)
                    else:
                        found.append(row)
                        progress(len(found), len(wanted))
            self.index.forget_all_but(entries)
        finally:
            self.index.save()
        return with_copies(newest_first(found))

    def _row(self, entry: Entry, sources: Sources, *, judged: bool, last: bool) -> JobRow | None:
        """The row of a file; None if the job it was carried from can be found only once the ids of all files are known,
        which they are as the last ones are read."""
        kept = self.index.get(entry)
        if kept is not None:
            row = JobRow(self.folder, entry.name, dt.date.fromordinal(kept.day), entry.mtime_ns, *kept.texts)
            sources.note(row.id, entry)
            if not last and sources.waits(row):
                return None
            if _key_of_source(sources.of(row)) == kept.source:
                return row
        if judged:
            return self._read(entry, sources, last=last)
        row = self._glance(entry)
        sources.note(row.id, entry)
        return row

    def _read(self, entry: Entry, sources: Sources, *, last: bool) -> JobRow | None:
        at = self.disk.now()
        try:
            job = loads(content_of(self.folder, entry, self.disk)).job
        except (BadFile, OSError) as error:
            return _bad(self.folder, entry, error)
        row = _row(self.folder, entry, job)
        sources.note(row.id, entry)
        source = sources.of(row)
        before = sources.job_of(source)
        if before is not None and not may_be_source(job.job, before.job):
            sources.note(before.job.id, source)
            before = None
        if not last and sources.waits(row):
            return None
        try:
            severity, headline = self.judge(job, before)
        except (StanchionError, ArithmeticError, ValueError, TypeError, LookupError) as error:
            return replace(row, problem=f"its warnings could not be worked out ({type(error).__name__})")
        row = replace(row, severity=severity, headline=headline)
        if settled(entry, at) and (source is None or settled(source, at)):
            self.index.put(entry, row.date, _texts(row), _key_of_source(source))
        return row

    def _glance(self, entry: Entry) -> JobRow:
        known = self._heads.get(entry)
        if known is not None:
            return known
        at = self.disk.now()
        row = glance(self.folder, entry, self.disk)
        if not row.problem and settled(entry, at):
            self._heads.put(entry, row)
        return row


def _key_of_source(source: Entry | None) -> FileKey | None:
    """What a row depends on besides its own file."""
    return None if source is None or not source.file else key_of(source)


def glance(folder: Path, entry: Entry, disk: Disk) -> JobRow:
    """What the head of a file says; nothing is judged."""
    try:
        job = Job(job=header(content_of(folder, entry, disk)).job)
    except (BadFile, OSError) as error:
        return _bad(folder, entry, error)
    return replace(_row(folder, entry, job), judged=False)


def who_of(row: JobRow) -> tuple[object, ...]:
    """Who and when, and where it was carried from: what copies of a job have in common that has no id."""
    return row.machine, row.rider, row.date, row.carried_from


def _row(folder: Path, entry: Entry, job: Job) -> JobRow:
    about = job.job
    return JobRow(
        folder,
        entry.name,
        about.date,
        entry.mtime_ns,
        about.machine,
        about.rider,
        about.venue,
        about.use,
        about.sample,
        about.carried_from,
        id=about.id,
        carried_id=about.carried_id,
    )


def _bad(folder: Path, entry: Entry, error: BadFile | OSError) -> JobRow:
    date = date_in(entry.name)
    if date is None:
        try:
            date = dt.date.fromtimestamp(entry.mtime_ns / 1e9)
        except (ValueError, OverflowError, OSError):
            date = dt.date(1970, 1, 1)
    problem = str(error) if isinstance(error, BadFile) else f"it cannot be read: {cause(error)}"
    return JobRow(folder, entry.name, date, entry.mtime_ns, problem=problem)


def _texts(row: JobRow) -> Texts:
    return (
        row.machine,
        row.rider,
        row.venue,
        row.use,
        row.sample,
        row.carried_from,
        row.severity,
        row.headline,
        row.id,
        row.carried_id,
    )


def _holds(row: JobRow, words: list[str]) -> bool:
    if not words:
        return True
    shown = (row.machine, row.rider, row.date.isoformat(), row.venue, row.use, row.headline, row.name, row.problem)
    text = plain_letters(" ".join(shown))
    return all(word in text for word in words)
