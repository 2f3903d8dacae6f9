"""Job files from a stick or a mail, taken into the jobs folder under names nobody has."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from stanchion.errors import BadFile, NotSaved
from stanchion.store.atomic import read
from stanchion.store.library import Library, Opened, encoded, read_job
from stanchion.store.names import is_job, is_plain

EDITED = "it was edited outside the program, or damaged: check the values"
LATER = "a later version of the program wrote it; take it in with that version"


@dataclass(frozen=True, slots=True)
class TakenIn:
    """What became of one file."""

    source: Path
    name: str = ""
    """Its file name in the jobs folder; empty: it was not taken in."""
    problem: str = ""
    """Why not, in plain words."""
    note: str = ""
    """What is to be known of it although it was taken in."""
    already: bool = False
    """It lay in the jobs folder before, as it is, and nothing was written."""


def take_in(library: Library, sources: Iterable[Path]) -> list[TakenIn]:
    """Copy job files into the jobs folder, with the same checks as opening them; nothing there is overwritten.

    Each copy is written anew from what was read, under a name nobody has, with what it says it was carried forward
    from. Where that job came in the same call from the same folder and had to take another name, it is named by that.
    A file that a later version wrote is refused: a copy could lose what that version added. A job that lies in the
    folder already, as it is, is not written twice.

    Args:
        library: the jobs of the user.
        sources: the files, in any order.

    Returns:
        What became of each, in the order given.
    """
    files = list(sources)
    told: dict[int, TakenIn] = {}
    opened: dict[int, Opened] = {}
    for at, source in enumerate(files):
        try:
            job = read_job(source, library.disk)
        except BadFile as error:
            told[at] = TakenIn(source, problem=str(error))
            continue
        if job.newer:
            told[at] = TakenIn(source, problem=LATER)
        else:
            opened[at] = job
    names: dict[Path, str] = {}
    for at in _earlier_first(opened):
        one = _named_anew(opened[at], names)
        told[at] = _take(library, files[at], one)
        if told[at].name:
            names[opened[at].path] = told[at].name
    return [told[at] for at in range(len(files))]


def _take(library: Library, source: Path, opened: Opened) -> TakenIn:
    note = EDITED if opened.edited_by_hand else ""
    try:
        there = _lies_there(library, encoded(opened.job))
        if there:
            return TakenIn(source, name=there, note=note, already=True)
        created = library.create(opened.job)
    except NotSaved as error:
        return TakenIn(source, problem=str(error))
    return TakenIn(source, name=created.path.name, note=" ".join(part for part in (note, created.note) if part))


def _earlier_first(opened: dict[int, Opened]) -> list[int]:
    """The files in such an order that a job comes behind the one it was carried forward from."""
    by_path = {one.path: at for at, one in opened.items()}
    order: dict[int, None] = {}
    for at in opened:
        line = [at]
        while (before := by_path.get(_origin(opened[line[-1]]) or Path())) is not None and before not in line:
            line.append(before)
        order.update(dict.fromkeys(reversed(line)))
    return list(order)


def _origin(opened: Opened) -> Path | None:
    """Where the job it was carried forward from lies, beside it."""
    name = opened.job.job.carried_from
    return opened.path.parent / name if is_plain(name) else None


def _named_anew(opened: Opened, names: dict[Path, str]) -> Opened:
    """The job with the name that its origin has here."""
    origin = _origin(opened)
    here = names.get(origin) if origin is not None else None
    if here is None or here == opened.job.job.carried_from:
        return opened
    return replace(opened, job=replace(opened.job, job=replace(opened.job.job, carried_from=here)))


def _lies_there(library: Library, data: bytes) -> str:
    """The name of the file in the jobs folder that holds these very bytes; empty for none."""
    folder = library.places.jobs
    try:
        entries = library.disk.scan(folder)
    except OSError:
        return ""
    for entry in sorted(entries, key=lambda one: one.name):
        if entry.file and is_job(entry.name) and entry.size == len(data) and not entry.elsewhere:
            try:
                if read(folder / entry.name, library.disk) == data:
                    return entry.name
            except (OSError, BadFile):
                continue
    return ""
