"""How well the technician's readings repeat, as a file: studies.toml in the config folder.

    format = 1

    [[study]]
    of = "alone"               # or "aboard", "bench"
    on = 2026-03-07
    by = "first person"
    helper = "second person"
    tape_mm = 1.0
    readings = [[[512.0, 512.5, 512.0], [511.5, 512.0, 512.0]], ...]   # by place, then person, then repeat

A table that cannot be used is left in the file as it is.
"""

from __future__ import annotations

import datetime as dt
from typing import Any

from stanchion.base.errors import BadEdit, BadFile, NotSaved
from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.base.toml import TomlTable, read_tables
from stanchion.job.repeatability import STUDIED
from stanchion.job.spec import Day, Text
from stanchion.job.study import LENGTH, Study
from stanchion.store.atomic import fingerprint, make_folder, read, write
from stanchion.store.disk import DISK, Disk, advice, cause
from stanchion.store.paths import Places

NAME = "studies.toml"
FORMAT = 1
MOST_STUDIES = 60
NAMES = Text(60)


@record
class Studies:
    """What is kept, in the order it was made."""

    studies: tuple[Study, ...] = ()
    tables: tuple[TomlTable, ...] = ()
    """The tables of the file, of which each study is one, with those that cannot be used."""
    rest: tuple[tuple[str, Any], ...] = ()
    """What else the file holds."""
    seen: str | None = None
    """Fingerprint of the file; None: there is none."""
    problems: tuple[str, ...] = ()
    """What cannot be used."""
    read_only: bool = False
    """Whether the file is damaged or of a later version, so that it must not be written."""


def load_studies(places: Places, disk: Disk = DISK) -> Studies:
    """What is kept. What cannot be used is reported and kept; nothing is raised. Waits for the disk."""
    path = places.config / NAME
    try:
        data = read(path, disk)
    except FileNotFoundError:
        return Studies()
    except OSError as error:
        return Studies(problems=(f"{path} cannot be read: {cause(error)}. {advice(error)}",), read_only=True)
    except BadFile as error:
        return Studies(problems=(f"{path}: {error}",), read_only=True)
    seen = fingerprint(data)
    try:
        tables = read_tables(data, "a list of studies")
    except BadFile as error:
        said = f"{path}: {error}. None of it is used; correct it or delete it."
        return Studies(problems=(said,), seen=seen, read_only=True)
    number = tables.pop("format", FORMAT)
    later = not isinstance(number, int) or isinstance(number, bool) or number > FORMAT
    rows = tables.pop("study", [])
    rows = rows if isinstance(rows, list) else [rows]
    studies: list[Study] = []
    problems = [f"{NAME}: a later version of the program wrote it. Update the program."] if later else []
    for at, row in enumerate(rows):
        try:
            studies.append(_study(row))
        except BadFile as refused:
            problems.append(f"{NAME}: study {at + 1} is not used: {clean(str(refused), 200)}.")
    return Studies(tuple(studies), tuple(rows), tuple(tables.items()), seen, tuple(problems), later)


def add_study(study: Study, places: Places, disk: Disk = DISK) -> Studies:
    """Write one study after those that are there, and return all. Waits for the disk.

    Raises:
        NotSaved: it could not be written, or the file must not be written.
        ChangedOnDisk: another program has written it meanwhile.
    """
    import tomli_w  # noqa: PLC0415 - not needed to start

    before = load_studies(places, disk)
    if before.read_only:
        raise NotSaved(f"The study is not saved. {' '.join(before.problems)}")
    rows = [*before.tables, _written(study)][-MOST_STUDIES:]
    text = tomli_w.dumps({"format": FORMAT, **dict(before.rest), "study": rows})
    try:
        make_folder(places.config, disk)
    except OSError as error:
        raise NotSaved(f"The study is not saved: {cause(error)}. {advice(error)}") from error
    write(places.config / NAME, text.encode(), before.seen, disk)
    return load_studies(places, disk)


def _study(row: object) -> Study:
    if not isinstance(row, dict):
        raise BadFile("it must be a table")
    if row.get("of") not in STUDIED:
        raise BadFile(f"of must be one of {', '.join(STUDIED)}")
    try:
        on, by, helper = Day().check(row.get("on")), NAMES.check(row.get("by")), NAMES.check(row.get("helper", ""))
        tape = None if row.get("tape_mm") is None else LENGTH.check(row["tape_mm"])
        readings = _readings(row.get("readings"))
    except BadEdit as refused:
        raise BadFile(str(refused)) from None
    if not isinstance(on, dt.date) or not isinstance(tape, float | None):
        raise BadFile("it needs a day")
    study = Study(of=row["of"], on=on, by=by, helper=helper, tape_mm=tape, readings=readings)
    if not study.complete:
        raise BadFile("readings are missing, or there are too many")
    return study


def _readings(rows: object) -> tuple[tuple[tuple[float, ...], ...], ...]:
    def listed(value: object) -> list[Any]:
        if not isinstance(value, list):
            raise BadFile("readings must be lists, by place, person and repeat")
        return value

    def length(value: object) -> float:
        checked = LENGTH.check(value)
        if not isinstance(checked, float):
            raise BadFile("a reading must be a number")
        return checked

    return tuple(tuple(tuple(length(x) for x in listed(one)) for one in listed(place)) for place in listed(rows))


def _written(study: Study) -> TomlTable:
    table: TomlTable = {"of": study.of, "on": study.on, "by": study.by, "helper": study.helper}
    if study.tape_mm is not None:
        table["tape_mm"] = study.tape_mm
    return table | {"readings": [[list(repeats) for repeats in place] for place in study.readings]}
