"""A dynamometer's file from the disk into the job: read, with the columns kept for its folder, and attached."""

from __future__ import annotations

from pathlib import Path

from stanchion.base.errors import ChangedOnDisk, NotSaved
from stanchion.base.record import record
from stanchion.bench.attached_files import file_at
from stanchion.bench.session import Session
from stanchion.bench.table_file import TableFile, read_table
from stanchion.job.damper_columns import DamperColumns
from stanchion.job.damper_sheet import MOST_SHEETS
from stanchion.job.edit import Edit, spec_at
from stanchion.job.model import Attached, DamperSheet, Job
from stanchion.job.spec import Rows, Text
from stanchion.store.column_maps import folder_of, load_column_maps, save_column_maps
from stanchion.store.paths import Places


@record
class FoundFile:
    """A file as it was read."""

    typed: str
    """The path as it was typed."""
    attached: str
    """As the job holds it among its files."""
    folder: str
    table: TableFile
    kept: DamperColumns | None
    """How a file of that folder was read last; None: none was."""
    problem: str
    """Why the columns kept could not be read."""


def find_file(typed: str, job_file: Path, places: Places) -> FoundFile:
    """Read a file. Waits for the disk.

    Args:
        typed: its path.
        job_file: the job's file, from whose folder a path may begin.
        places: the folders of the program.

    Raises:
        NotOpened: it cannot be read, or holds no table.
    """
    found = file_at(typed, job_file)
    table = read_table(found.where)
    maps = load_column_maps(places)
    folder = folder_of(found.where)
    return FoundFile(typed, found.path, folder, table, maps.of(folder), maps.problem)


def keep_columns(folder: str, columns: DamperColumns, places: Places) -> None:
    """Keep how the files of a folder are read. Waits for the disk.

    Raises:
        NotSaved: it could not be kept.
    """
    maps = load_column_maps(places)
    if maps.problem:
        raise NotSaved(f"The columns are not kept: {maps.problem}")
    try:
        save_column_maps(maps.with_folder(folder, columns), maps.seen, places)
    except ChangedOnDisk as error:
        raise NotSaved(f"The columns are not kept: {error}") from error


@record
class AddedSheet:
    """What became of a sheet that was to go into the job."""

    refused: str
    """Why it is refused; empty if it is in the job."""
    not_attached: str = ""
    """Why its file is not among those attached, as a sentence after another; empty where it is."""


def add_sheet(session: Session, sheet: DamperSheet, attached: str) -> AddedSheet:
    """Put a damper sheet into the job, and its file among those attached, as one step of undo."""
    job = session.job
    if len(job.damper_sheets) >= MOST_SHEETS:
        return AddedSheet(f"A job holds {MOST_SHEETS} damper sheets: take one out first.")
    edits = [Edit(("damper_sheets", len(job.damper_sheets)), sheet)]
    why_not = ""
    if Attached(path=attached) not in job.attached:
        why_not = _no_room(job, attached)
        if not why_not:
            edits.append(Edit(("attached", len(job.attached)), Attached(path=attached)))
    return AddedSheet(session.put_all(edits), why_not)


def _no_room(job: Job, attached: str) -> str:
    """Why a file cannot be attached too; empty where it can."""
    room, path = spec_at(("attached",)), spec_at(("attached", 0, "path"))
    if isinstance(room, Rows) and len(job.attached) >= room.most:
        return f" Its file is not attached: the list on Machine is full ({room.most} files)."
    if isinstance(path, Text) and len(attached) > path.longest:
        return f" Its file is not attached: its path is longer than {path.longest} characters."
    return ""
