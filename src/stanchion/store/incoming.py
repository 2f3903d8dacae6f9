"""Taking in job files from a stick or a mail: copies in the jobs folder under free names."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from stanchion.base.errors import BadFile, NotSaved
from stanchion.base.progress import NEVER, NO_PROGRESS
from stanchion.base.record import record
from stanchion.job.codec import header
from stanchion.job.model import Job
from stanchion.store.atomic import fingerprint, read
from stanchion.store.library import Library, Opened, encoded, read_job
from stanchion.store.names import is_job, is_plain
from stanchion.store.typed_names import existing_file

EDITED = "it was edited outside the program, or damaged: check the values"
LATER = "a later version of the program wrote it; import it with that version"


@record
class TakenIn:
    """The result for one file."""

    source: Path
    name: str = ""
    """Its file name in the jobs folder; empty: it was not taken in."""
    problem: str = ""
    """Why it was not taken in, in plain words."""
    note: str = ""
    """What the user should know of it although it was taken in."""
    already: bool = False
    """Whether the same file was in the jobs folder before, so that nothing was written."""


def take_in(
    library: Library,
    sources: Iterable[Path],
    *,
    progress: Callable[[str, int, int], None] = NO_PROGRESS,
    cancelled: Callable[[], bool] = NEVER,
) -> list[TakenIn]:
    """Copy job files into the jobs folder, with the same checks as opening them; nothing there is overwritten.

    Each copy is written anew from what was read, under a free name, with what it says it was carried forward
    from. Where that job came in the same call from the same folder and had to take another name, it is named by that.
    A file that a later version wrote is refused: a copy could lose what that version added. A job that lies in the
    folder already, as it is, is not written twice.

    Args:
        library: the jobs of the user.
        sources: the files, in any order.
        progress: called with what is done, and to how many of how many files ("scanned", "imported").
        cancelled: asked between files; once it is true, the remaining files are not touched.

    Returns:
        What became of each it came to, in the order given.
    """
    files = list(sources)
    origins: dict[int, Path | None] = {}
    for at, source in enumerate(files):
        if cancelled():
            return []
        origins[at] = _origin(source, _carried_from(source, library))
        progress("scanned", at + 1, len(files))
    taken: dict[int, TakenIn] = {}
    names: dict[Path, str] = {}
    there = _JobsFolder(library)
    for done, at in enumerate(_earlier_first(files, origins)):
        if cancelled():
            break
        taken[at] = _take(library, files[at], names, there)
        if taken[at].name:
            names[files[at]] = taken[at].name
        progress("imported", done + 1, len(files))
    return [taken[at] for at in sorted(taken)]


def _take(library: Library, source: Path, names: dict[Path, str], there: _JobsFolder) -> TakenIn:
    try:
        existing_file(source, in_jobs=False)
        opened = read_job(source, library.disk)
    except BadFile as error:
        return TakenIn(source, problem=str(error))
    if opened.newer:
        return TakenIn(source, problem=LATER)
    note = EDITED if opened.edited_by_hand else ""
    job = _named_anew(opened, names)
    try:
        data = encoded(job)
        known = there.name_of(data)
        if known:
            return TakenIn(source, name=known, note=note, already=True)
        created = library.create(job, taken=there.taken)
    except NotSaved as error:
        return TakenIn(source, problem=str(error))
    there.add(created.path.name, data)
    return TakenIn(source, name=created.path.name, note=" ".join(part for part in (note, created.note) if part))


def _carried_from(source: Path, library: Library) -> str:
    """The job that a file says it was carried forward from; empty if even that cannot be read."""
    try:
        return header(read(source, library.disk)).job.carried_from
    except (BadFile, OSError):
        return ""


def _origin(source: Path, carried_from: str) -> Path | None:
    """The file in the same folder that it was carried forward from."""
    return source.parent / carried_from if is_plain(carried_from) else None


def _earlier_first(files: Sequence[Path], origins: Mapping[int, Path | None]) -> list[int]:
    """The files in such an order that a job comes after the one it was carried forward from."""
    by_path = {path: at for at, path in enumerate(files)}
    order: dict[int, None] = {}
    for at in range(len(files)):
        line = [at]
        while (before := by_path.get(origins[line[-1]] or Path())) is not None and before not in line:
            line.append(before)
        order.update(dict.fromkeys(reversed(line)))
    return list(order)


def _named_anew(opened: Opened, names: Mapping[Path, str]) -> Job:
    """The job with the name that its origin has here."""
    job = opened.job
    origin = _origin(opened.path, job.job.carried_from)
    here = names.get(origin) if origin is not None else None
    if here is None or here == job.job.carried_from:
        return job
    return replace(job, job=replace(job.job, carried_from=here))


class _JobsFolder:
    """The content of the jobs folder, read once for all files that are taken in."""

    def __init__(self, library: Library) -> None:
        self._folder, self._disk = library.places.jobs, library.disk
        try:
            entries = sorted(self._disk.scan(self._folder), key=lambda one: one.name)
        except OSError:  # it is not there yet, or making the first file says why it cannot be used
            entries = []
        self.taken = {entry.name.casefold() for entry in entries}
        """Every name, in small letters."""
        self._unread: dict[int, list[str]] = {}
        for entry in entries:
            if entry.file and is_job(entry.name) and not entry.elsewhere:
                self._unread.setdefault(entry.size, []).append(entry.name)
        self._read: dict[str, str] = {}

    def name_of(self, data: bytes) -> str:
        """The name of the file that holds these very bytes; empty for none."""
        for name in self._unread.pop(len(data), ()):
            with contextlib.suppress(OSError, BadFile):
                self._read.setdefault(fingerprint(read(self._folder / name, self._disk)), name)
        known = self._read.get(fingerprint(data), "")
        with contextlib.suppress(OSError, BadFile):
            if known and read(self._folder / known, self._disk) == data:  # it may have been changed since
                return known
        return ""

    def add(self, name: str, data: bytes) -> None:
        """Note that a file was written."""
        self.taken.add(name.casefold())
        self._read[fingerprint(data)] = name
