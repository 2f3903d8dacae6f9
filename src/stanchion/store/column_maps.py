"""How the dynamometer files of each folder are read: damper_columns.toml in the config folder.

    format = 1

    [[folder]]
    path = "/media/stick/dynamometer"
    speed = "1 Velocity"
    force = "3 Force"
    stroke_by = "speed_below"

A folder's table holds what DamperColumns declares; what is left out has its first word. The folder last used comes
last.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from stanchion.base.errors import BadEdit, BadFile, NotSaved
from stanchion.base.record import record
from stanchion.base.toml import TomlTable, read_tables
from stanchion.job.damper_columns import DamperColumns
from stanchion.job.spec import Leaf, specs_of
from stanchion.store.atomic import fingerprint, make_folder, read, write
from stanchion.store.disk import DISK, Disk, advice, cause
from stanchion.store.paths import Places

NAME = "damper_columns.toml"
FORMAT = 1
MOST_FOLDERS = 40
_SPECS = specs_of(DamperColumns)
DEFAULT = DamperColumns()


@record
class ColumnMaps:
    """What is kept, the folder used last at the end."""

    folders: tuple[tuple[str, DamperColumns], ...] = ()
    seen: str | None = None
    """Fingerprint of the file; None: there is none."""
    problem: str = ""
    """Why the file cannot be used; it is then left as it is."""

    def of(self, folder: str) -> DamperColumns | None:
        """How the files of a folder were read last; None: not known."""
        return next((columns for path, columns in reversed(self.folders) if path == folder), None)

    def with_folder(self, folder: str, columns: DamperColumns) -> tuple[tuple[str, DamperColumns], ...]:
        """The folders after a file of one was read so."""
        return (*(one for one in self.folders if one[0] != folder), (folder, columns))[-MOST_FOLDERS:]


def load_column_maps(places: Places, disk: Disk = DISK) -> ColumnMaps:
    """What is kept. Waits for the disk."""
    path = places.config / NAME
    try:
        data = read(path, disk)
    except FileNotFoundError:
        return ColumnMaps()
    except OSError as error:
        return ColumnMaps(problem=f"{path} cannot be read: {cause(error)}.")
    except BadFile as error:
        return ColumnMaps(problem=f"{path}: {error}")
    try:
        tables = read_tables(data, "a list of columns")
        if tables.get("format", FORMAT) != FORMAT:
            raise BadFile("another version of the program wrote it")
        return ColumnMaps(tuple(_folders(tables)), fingerprint(data))
    except BadFile as error:
        return ColumnMaps(seen=fingerprint(data), problem=f"{path}: {error}. Correct it or delete it.")


def save_column_maps(
    folders: Sequence[tuple[str, DamperColumns]], seen: str | None, places: Places, disk: Disk = DISK
) -> None:
    """Write what is kept. Waits for the disk.

    Raises:
        NotSaved: it could not be written.
        ChangedOnDisk: another program has written it since.
    """
    import tomli_w  # noqa: PLC0415 - not needed to start

    rows = [{"path": path, **_written(columns)} for path, columns in folders]
    text = tomli_w.dumps({"format": FORMAT, "folder": rows})
    try:
        make_folder(places.config, disk)
    except OSError as error:
        raise NotSaved(f"The columns are not kept: {cause(error)}. {advice(error)}") from error
    write(places.config / NAME, text.encode(), seen, disk)


def folder_of(path: Path) -> str:
    """The folder of a file as it is kept."""
    return path.parent.absolute().as_posix()


def _folders(tables: TomlTable) -> list[tuple[str, DamperColumns]]:
    rows = tables.get("folder", [])
    if not isinstance(rows, list):
        raise BadFile("[[folder]] must be a list of tables")
    return [_folder(row) for row in rows[-MOST_FOLDERS:]]


def _folder(row: object) -> tuple[str, DamperColumns]:
    if not isinstance(row, dict) or not isinstance(row.get("path"), str):
        raise BadFile("each [[folder]] needs a path")
    values: dict[str, Any] = {}
    for name, spec in _SPECS.items():
        if name in row and isinstance(spec, Leaf):
            try:
                values[name] = spec.check(row[name])
            except BadEdit as refused:
                raise BadFile(f"{name}: {refused}") from None
    return row["path"], DamperColumns(**values)


def _written(columns: DamperColumns) -> dict[str, Any]:
    values = {name: getattr(columns, name) for name in _SPECS}
    return {name: value for name, value in values.items() if value is not None and value != getattr(DEFAULT, name)}
