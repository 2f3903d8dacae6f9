"""The stock of springs as a file: stock.toml in the config folder, readable and editable by hand.

    format = 1

    [[spring]]
    for = "front"              # or "rear": a fork leg, or the shock
    label = "250 long, blue"   # own words
    rate_n_per_mm = 9.5
    free_length_mm = 250.0
    wire_mm = 4.5
    outer_mm = 38.0            # across the coils
    total_coils = 22.0         # end coils included
    ends = "closed_ground"     # or "closed", "open_ground", "open"
    solid_length_mm = 99.0     # as measured
    count = 2                  # how many there are; 1 if it is left out

Every key may be left out. Lengths are in mm, rates in N/mm. A row that cannot be used is reported and left as it is.
Comments stay, those of a row with that row.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, replace
from operator import itemgetter
from pathlib import Path
from typing import Any

from stanchion.base.errors import BadEdit, BadFile, NotSaved
from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.base.toml import TomlTable, normalised, read_tables
from stanchion.job.guard import check_foreign
from stanchion.job.spec import Number, as_stored, specs_of
from stanchion.judgement.springs.stock import MOST_ROWS, Stock, StockSpring
from stanchion.store.atomic import fingerprint, make_folder, read, write, write_new
from stanchion.store.disk import DISK, Disk, advice, cause
from stanchion.store.paths import Places

FORMAT = 1
"""The format this version writes."""
NAME = "stock.toml"
MOST_PROBLEMS = 50

_HEADER = """\
# Your stock of springs. Lengths in mm, rates in N/mm; every key of a [[spring]] may be left out:
# for ("front" or "rear"), label, rate_n_per_mm, free_length_mm, wire_mm, outer_mm, total_coils,
# ends ("closed_ground", "closed", "open_ground" or "open"), solid_length_mm, count.
"""
_KEYS = {("for" if name == "end" else name): (name, spec) for name, spec in specs_of(StockSpring).items()}


@record
class FoundStock:
    """The stock as it was read."""

    stock: Stock = Stock()
    problems: tuple[str, ...] = ()
    """One sentence for each row that cannot be used, or one for the whole file."""
    seen: str | None = None
    """Fingerprint of the file, which saving needs; None: there was no file."""
    read_only: bool = False
    """Whether a later version of the program wrote it, so that it must not be written."""


def stock_file(places: Places) -> Path:
    """The file that holds the stock."""
    return places.config / NAME


def load_stock(places: Places, disk: Disk = DISK) -> FoundStock:
    """Read the stock. What cannot be used is reported and kept; nothing is raised."""
    path = stock_file(places)
    try:
        data = read(path, disk)
    except FileNotFoundError:
        return FoundStock()
    except OSError as error:
        return FoundStock(problems=(f"{path} cannot be read: {cause(error)}. {advice(error)}",))
    except BadFile as error:
        return FoundStock(problems=(f"{path}: {error}",))
    seen = fingerprint(data)
    try:
        tables = read_tables(data, "a stock of springs")
    except BadFile as error:
        return FoundStock(problems=(f"{path}: {error}. None of it is used; correct it or delete it.",), seen=seen)
    number = tables.pop("format", FORMAT)
    read_only = not isinstance(number, int) or isinstance(number, bool) or number > FORMAT
    stock, places_of_rows, problems = _stock(tables)
    try:
        stock = _commented(stock, places_of_rows, normalised(data).decode())
    except BadFile as error:  # it could not be written without losing some
        return FoundStock(problems=(f"{path}: {error}. None of it is used.",), seen=seen, read_only=True)
    if read_only:
        problems.insert(0, f"{NAME}: a later version of the program wrote it. It is read as far as it is understood.")
    if len(problems) > MOST_PROBLEMS:
        problems = [*problems[:MOST_PROBLEMS], f"{NAME}: and {len(problems) - MOST_PROBLEMS} more."]
    return FoundStock(stock, tuple(problems), seen, read_only)


def save_stock(stock: Stock, places: Places, seen: str | None, disk: Disk = DISK) -> str:
    """Write the stock. A file that could not be read as one is kept beside it, as stock-damaged.toml.

    Args:
        stock: what to write.
        places: the folders.
        seen: fingerprint the file had when it was read or last written; None: there was none.
        disk: the system calls.

    Returns:
        The new fingerprint, which the next call needs.

    Raises:
        ChangedOnDisk: another program has written it since; it is unchanged.
        NotSaved: why it could not be written.
    """
    path = stock_file(places)
    data = _encoded(stock)
    try:
        make_folder(path.parent, disk)
        if seen is not None:
            _keep_damaged(path, disk)
    except OSError as error:
        raise NotSaved(f"The stock is not saved: {cause(error)}. {advice(error)}") from error
    return write(path, data, seen, disk).sha


def _keep_damaged(path: Path, disk: Disk) -> None:
    """Copy a damaged file beside itself before it is overwritten; refuse one of a later version."""
    try:
        before = read(path, disk)
    except (FileNotFoundError, BadFile):  # it is not the file that was read: write() will say so
        return
    try:
        tables = read_tables(before, "a stock of springs")
    except BadFile:
        write_new(path.parent, "stock-damaged.toml", set(), before, disk)
        return
    number = tables.get("format", FORMAT)
    if not isinstance(number, int) or number > FORMAT:
        raise NotSaved(f"The stock is not saved: a later version of the program wrote {path}. Update the program.")


# --- reading -----------------------------------------------------------------------------------------------------


def _commented(stock: Stock, places_of_rows: list[int], text: str) -> Stock:
    """The stock with the comments of its file, but for those that the program writes itself."""
    if "#" not in text:
        return stock
    from stanchion.job.comments import below, comments_in  # noqa: PLC0415 - few files have any

    own = set(_HEADER.splitlines())
    found = [one for one in comments_in(text) if one.text not in own]
    at_rows = {("spring", place) for place in places_of_rows}
    rows = tuple(
        replace(row, comments=below(found, ("spring", place)))
        for row, place in zip(stock.rows, places_of_rows, strict=True)
    )
    return replace(stock, rows=rows, comments=tuple(one for one in found if one.path[:2] not in at_rows))


def _stock(tables: TomlTable) -> tuple[Stock, list[int], list[str]]:
    """The stock, the place in the file of each of its rows, and problems with rows that cannot be used."""
    rows: list[StockSpring] = []
    places_of_rows: list[int] = []
    unreadable: list[tuple[int, Any]] = []
    problems: list[str] = []
    raw = tables.pop("spring", [])
    if not isinstance(raw, list):  # one spring, written [spring] by hand
        raw = [raw]
    for place, table in enumerate(raw):
        try:
            if len(rows) >= MOST_ROWS:
                raise BadFile(f"there are more than {MOST_ROWS} springs")
            rows.append(_row(table))
            places_of_rows.append(place)
        except BadFile as refused:
            unreadable.append((place, table))
            problems.append(f"{NAME}: spring {place + 1}{_called(table)} is not used: {refused}.")
    problems.extend(f"{NAME}: {clean(key, 40)!r} is not known to this version; it is left alone." for key in tables)
    stock = Stock(tuple(rows), tuple(unreadable), tuple(sorted(tables.items(), key=itemgetter(0))))
    return stock, places_of_rows, problems


def _row(table: Any) -> StockSpring:
    if not isinstance(table, dict):
        raise BadFile("it must be a table")
    values: dict[str, Any] = {}
    unknown: list[tuple[str, Any]] = []
    for key, value in table.items():
        if key not in _KEYS:
            check_foreign(value, key, key, 1)
            unknown.append((key, value))
            continue
        name, spec = _KEYS[key]
        try:
            values[name] = spec.check(value)  # type: ignore[union-attr]  # every field of a row is a leaf
        except BadEdit as refused:
            raise BadFile(f"{key}: {refused}") from None
    if (count := values.get("count")) is not None:
        if count != int(count):
            raise BadFile("count: a whole number is needed")
        values["count"] = int(count)
    return StockSpring(**values, unknown=tuple(sorted(unknown, key=itemgetter(0))))


def _called(table: Any) -> str:
    label = table.get("label") if isinstance(table, dict) else None
    return f" ({clean(label, 40)})" if isinstance(label, str) and label else ""


# --- writing -----------------------------------------------------------------------------------------------------


def _encoded(stock: Stock) -> bytes:
    """The bytes of the file.

    Raises:
        NotSaved: a key that was kept cannot be written back.
    """
    import tomli_w  # noqa: PLC0415 -- not needed to start

    springs: list[Any] = [dict(_written(row)) for row in stock.rows]
    of_rows: list[StockSpring | None] = [*stock.rows]
    for place, table in stock.unreadable:  # in order, so that each finds the place it had
        springs.insert(place, table)
        of_rows.insert(place, None)
    tables: TomlTable = {"format": FORMAT} | dict(stock.unknown)
    if springs:
        tables["spring"] = springs
    try:
        text = tomli_w.dumps(tables)
        if stock.comments or any(row.comments for row in stock.rows):
            from stanchion.job.comments import above, with_comments  # noqa: PLC0415 - few files have any

            comments = list(stock.comments)
            for place, row in enumerate(of_rows):
                comments += above(row.comments, ("spring", place)) if row is not None else ()
            text = with_comments(text, comments)
        return (_HEADER + "\n" + text).encode()
    except (ValueError, TypeError) as error:
        raise NotSaved(f"The stock is not saved: a key of it cannot be written back ({error}).") from error


def _written(row: StockSpring) -> Iterator[tuple[str, Any]]:
    defaults = {f.name: f.default for f in fields(row)}
    for key, (name, spec) in _KEYS.items():
        value = getattr(row, name)
        if name in ("end", "count") or value != defaults[name]:
            yield key, as_stored(value) if isinstance(spec, Number) and name != "count" else value
    yield from row.unknown
