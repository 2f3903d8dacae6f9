"""Job files from a stick or a mail, taken into the jobs folder under names nobody has."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from stanchion.errors import BadFile, NotSaved
from stanchion.store.library import Library, read_job


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


def take_in(library: Library, source: Path) -> TakenIn:
    """Copy a job file into the jobs folder, with the same checks as opening it; nothing there is overwritten.

    The copy is written anew from what was read. A file that a later version wrote is refused: a copy could lose what
    that version added.
    """
    try:
        opened = read_job(source, library.disk)
    except BadFile as error:
        return TakenIn(source, problem=str(error))
    if opened.newer:
        return TakenIn(source, problem="a later version of the program wrote it; take it in with that version")
    try:
        created = library.create(opened.job)
    except NotSaved as error:
        return TakenIn(source, problem=str(error))
    edited = "it was edited outside the program, or damaged: check the values" if opened.edited_by_hand else ""
    return TakenIn(source, name=created.path.name, note=edited)
