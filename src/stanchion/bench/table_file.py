"""A file of a table as other programs write it: CSV with any delimiter, heading, comments and encoding."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Sequence
from pathlib import Path

from stanchion.base.errors import BadFile, NotOpened
from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.store.atomic import fingerprint, read
from stanchion.store.disk import DISK, Disk, cause

LARGEST = 20_000_000
"""Bytes of a table at most: some 400,000 lines."""
MOST_COLUMNS = 100
LOOKED_AT = 200
"""Lines from which the delimiter is told and among which the heading is looked for."""
DELIMITERS = ("\t", ";", ",")
COMMENTS = ("#", "%", "//")
_NUMBER = re.compile(r"[-+\u2212]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][-+]?\d+)?\Z")
_LINE_END = re.compile(r"\r\n|\n|\r")
LONGEST_NUMBER = 40


@record
class TableRow:
    """A line of the table."""

    line: int
    """Number of the line in the file, from 1."""
    cells: tuple[str, ...]


@record
class TableFile:
    """The table of a file."""

    name: str
    sha256: str
    delimiter: str
    headings: tuple[str, ...]
    """One for each column; empty where it has none."""
    rows: tuple[TableRow, ...]
    """The lines from the first with two numbers on."""

    @property
    def columns(self) -> tuple[str, ...]:
        """Each column by its number and its heading, as it is chosen."""
        count = max([len(self.headings), *(len(row.cells) for row in self.rows[:LOOKED_AT])])
        names = (self.headings[at] if at < len(self.headings) else "" for at in range(min(count, MOST_COLUMNS)))
        return tuple(f"{at} {clean(name, 50)}".strip() for at, name in enumerate(names, 1))


def read_table(path: Path, disk: Disk = DISK) -> TableFile:
    """The table of a file. Waits for the disk.

    Raises:
        NotOpened: it cannot be read, is too large, no text, or holds no table; the message says what to do.
    """
    name = clean(path.name, 60)
    try:
        data = read(path, disk, LARGEST)
    except (OSError, ValueError) as error:
        why = cause(error) if isinstance(error, OSError) else "no such path"
        raise NotOpened(f"{name} cannot be read: {why}. Check the path.") from None
    except BadFile:
        raise NotOpened(f"{name} is larger than {LARGEST // 1_000_000} MB, or no file: export fewer cycles.") from None
    return table_in(text_in(data, name), path.name, fingerprint(data))


def text_in(data: bytes, name: str) -> str:
    """The bytes as text: UTF-8 or UTF-16 by its mark, UTF-8 where that is valid, otherwise Windows-1252.

    Raises:
        NotOpened: it is no text.
    """
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return data.decode("utf-16", "replace")
    if b"\0" in data:
        raise NotOpened(f"{name} is not a text file: export the readings as CSV.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", "replace")


def table_in(text: str, name: str, sha256: str = "") -> TableFile:
    """The table in a text.

    Raises:
        NotOpened: no line holds two numbers, or a quotation mark is never closed.
    """
    lines = [(at, line) for at, line in enumerate(_LINE_END.split(text), 1) if not _skipped(line)]
    delimiter = _delimiter([line for _, line in lines[:LOOKED_AT]])
    rows = [TableRow(at, cells) for (at, _), cells in zip(lines, _cells(lines, delimiter), strict=True)]
    first = next((n for n, row in enumerate(rows) if _is_data(row.cells)), None)
    if first is None:
        raise NotOpened(f"{clean(name, 60)} holds no line with two numbers: export the readings as CSV.")
    width, above = len(rows[first].cells), len(rows[first - 1].cells) if first else 0
    if delimiter == "," and 1 < above < width == 2 * above:
        raise NotOpened(
            f"{clean(name, 60)} has commas between its columns and before its decimals, which cannot be told apart: "
            "export it with semicolons between the columns."
        )
    return TableFile(name, sha256, delimiter, _headings(rows[:first], len(rows[first].cells)), tuple(rows[first:]))


def _skipped(line: str) -> bool:
    bare = line.strip().strip(";,\t")
    return not bare or bare.startswith(COMMENTS)


def _delimiter(lines: Sequence[str]) -> str:
    """The first of tab, semicolon and comma by which most lines fall apart: only a file without the others has commas
    between its numbers, and not inside them."""
    for delimiter in DELIMITERS:
        if sum(delimiter in line for line in lines) * 2 > len(lines):
            return delimiter
    return max(DELIMITERS, key=lambda one: sum(one in line for line in lines))


def _cells(lines: Sequence[tuple[int, str]], delimiter: str) -> Iterator[tuple[str, ...]]:
    """The cells of each line, by itself: a quotation mark that is never closed spoils one line only."""
    for _, line in lines:
        try:
            cells = next(csv.reader([line], delimiter=delimiter, skipinitialspace=True), [])
        except csv.Error:
            cells = []
        yield tuple(cell.strip() for cell in cells[: MOST_COLUMNS + 1])


def _is_data(cells: Sequence[str]) -> bool:
    return sum(number_in(cell) is not None for cell in cells) > 1


def _headings(before: Sequence[TableRow], columns: int) -> tuple[str, ...]:
    """The one or two lines right above the numbers that have as many cells, the lower one with the units."""
    found: list[tuple[str, ...]] = []
    for row in reversed(before[-2:]):
        if len(row.cells) != columns:
            break
        found.insert(0, row.cells)
    return tuple(" ".join(filter(None, names)) for names in zip(*found, strict=True)) if found else ()


def number_in(cell: str) -> float | None:
    """The number in a cell, with point or comma before its decimals; None where there is none.

    Nothing is guessed: a cell with both signs, with a unit or with blanks between digits holds none.

    >>> number_in("-12,5"), number_in("1.2e3"), number_in("1.234,5"), number_in("12 N"), number_in("")
    (-12.5, 1200.0, None, None, None)
    """
    text = cell.strip()
    if len(text) > LONGEST_NUMBER or not _NUMBER.match(text):
        return None
    value = float(text.replace(",", ".").replace("\u2212", "-"))
    return value if abs(value) < 1e300 else None


def column_at(file: TableFile, chosen: str) -> int | None:
    """Which column a heading or number names, from 0; None where it names none or more than one.

    >>> file = table_in("Velocity;Force\\n1;2\\n", "a.csv")
    >>> column_at(file, "force"), column_at(file, "1"), column_at(file, "2 Force"), column_at(file, "9")
    (1, 0, 1, None)
    """
    wanted = chosen.strip().casefold()
    for names in (file.columns, file.headings):
        found = [at for at, name in enumerate(names) if name.strip().casefold() == wanted]
        if len(found) == 1:
            return found[0]
    number, _, heading = wanted.partition(" ")
    if number.isascii() and number.isdigit():
        headed = [at for at, name in enumerate(file.headings) if name.strip().casefold() == heading.strip()]
        if heading:
            return headed[0] if len(headed) == 1 else None
        return int(number) - 1 if 0 < int(number[:6]) <= len(file.columns) and len(number) < 6 else None
    return None
