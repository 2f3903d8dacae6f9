"""Pairs of readings pasted as lines, or read from a file of two columns: into the rows of a tester or a linkage."""

from __future__ import annotations

import re
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace
from pathlib import Path as File

from stanchion.base.errors import BadQuantity, NotOpened
from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.job.edit import spec_at, value_at
from stanchion.job.model import Path
from stanchion.job.spec import Number, Rows, specs_of
from stanchion.units.known_units import Units
from stanchion.units.quantity import parse

LARGEST = 200_000
"""Bytes of a file of pairs at most: some thousand lines."""
SUFFIXES = (".csv", ".tsv", ".txt", ".dat")
"""Names of files that may hold pairs end so."""
MOST_NAMED = 6
"""Lines not read that are named by number; of more, only the first so many."""


@record
class ReadPairs:
    """What was found in a text of two columns."""

    pairs: tuple[tuple[float, float], ...]
    headings: int
    """Lines without a number, which were passed over."""
    unread: tuple[int, ...]
    """Numbers of the lines that are no pair, from 1."""
    why: str
    """Why the first of them was not read; empty: all were."""


def pair_rows(path: Path) -> Path | None:
    """The list of pairs that a field belongs to; None where it is not one of two numbers in such a list.

    >>> pair_rows(("rear", "linkage", 2, "wheel_mm")), pair_rows(("rear", "stroke_mm"))
    (('rear', 'linkage'), None)
    """
    if len(path) < len(("list", 0, "name")) or not isinstance(path[-2], int):
        return None
    rows = path[:-2]
    spec = spec_at(rows)
    return rows if isinstance(spec, Rows) and len(_columns(spec)) == len(specs_of(spec.type)) == 2 else None


def read_pairs(text: str, rows: Path, units: Units) -> ReadPairs:
    """The pairs in a text of two columns: parted by tab, semicolon, comma or blanks, with point or comma as decimal
    sign. A first column that only counts the lines is left out.

    Args:
        text: the lines.
        rows: the list that they are for.
        units: in which bare numbers are read.

    >>> from stanchion.units.known_units import METRIC
    >>> found = read_pairs("length; force\\n230,5; 180\\n210; 370,5", ("rear", "spring", "coils", "tester"), METRIC)
    >>> found.pairs, found.headings
    (((230.5, 180.0), (210.0, 370.5)), 1)
    """
    specs = [replace(number, low=min(0.0, number.low)) for number in _columns(_rows(rows)).values()]
    lines = [(at, _cells(line)) for at, line in enumerate(text.splitlines(), 1) if line.strip()]
    numbered = [(at, cells) for at, cells in lines if re.match(r"[-+.]?\d", cells[0] if cells else "")]
    if _counted([cells for _, cells in numbered]):
        numbered = [(at, cells[1:]) for at, cells in numbered]
    pairs, unread, why = [], [], ""
    for at, cells in numbered:
        try:
            pairs.append(_pair(cells, specs, units))
        except BadQuantity as error:
            unread.append(at)
            why = why or str(error)
    return ReadPairs(tuple(pairs), len(lines) - len(numbered), tuple(unread), why)


def take_pairs(session: Session, rows: Path, text: str, source: str = "") -> str:
    """Put the pairs of a text in place of those of a list, as one step of undo; what is to be said of it.

    Lengths and compressions of a spring are told apart by whether the force falls or rises with them.

    Args:
        session: the open job.
        rows: the list.
        text: two columns of numbers.
        source: name of the file they are from; empty: they were pasted.
    """
    found = read_pairs(text, rows, session.units)
    name = f"{clean(source, 40)}: " if source else "Pasted: "
    if not found.pairs:
        return f"{name}there are no pairs in it: each line needs two numbers. {found.why}".rstrip()
    pairs, how = list(found.pairs), ""
    if rows[-1] == "tester" and _rises(pairs):
        free_mm = value_at(session.job, (*rows[:-2], "free_length_mm"))
        if free_mm is None:
            return f"{name}the force rises with the first number, so it is a compression: enter the free length first."
        pairs, how = [(free_mm - mm, force) for mm, force in pairs], ", as compressions from the free length"
    spec, most = _rows(rows), _rows(rows).most
    columns = _columns(spec)
    for pair in pairs:
        beyond = next((v for v, column in zip(pair, columns.values(), strict=True) if not _within(v, column)), None)
        if beyond is not None:
            return f"{name}{beyond:g} cannot be right: nothing was taken. Check the columns and the free length."
    kept = _spread(pairs, most)
    refused = session.put(rows, tuple(spec.type(**dict(zip(columns, pair, strict=True))) for pair in kept))
    if refused:
        return refused
    for path in [path for path in session.drafts if path[: len(rows)] == rows]:
        del session.drafts[path]
    return f"{name}{_taken(len(kept), len(pairs), found)}{how}.{_unread(found)} Undo brings back what was there."


@record
class PastedText:
    """The text that holds pairs, and where it is from."""

    text: str
    source: str = ""
    """Name of the file; empty: it was pasted."""
    refused: str = ""
    """Why the file cannot be read."""


def lines_or_file(text: str, folder: File) -> PastedText:
    """What was pasted, or the text of the file that it names. Waits for the disk.

    Args:
        text: what was pasted.
        folder: where a path that is not whole begins.
    """
    file = named_file(text, folder)
    if file is None:
        return PastedText(text)
    try:
        return PastedText(text_of_file(file), file.name)
    except NotOpened as error:
        return PastedText("", refused=str(error))


def text_of_file(path: File) -> str:
    """The text of a file of pairs.

    Raises:
        NotOpened: it is not there, too large, or no text.
    """
    try:
        with path.open("rb") as opened:
            data = opened.read(LARGEST + 1)
    except (OSError, ValueError):
        raise NotOpened(f"{clean(path.name, 60)} cannot be read: check the path") from None
    if len(data) > LARGEST:
        raise NotOpened(f"{clean(path.name, 60)} is too large for bench readings: cut it down to the pairs.")
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return data.decode("utf-16", "replace")
    if b"\0" in data:
        raise NotOpened(f"{clean(path.name, 60)} is not a text file: export the readings as CSV.")
    with suppress(UnicodeDecodeError):
        return data.decode("utf-8-sig")
    return data.decode("latin-1")


def named_file(text: str, folder: File) -> File | None:
    """The file that a pasted line names, such as a terminal writes for one that is dropped on it; None: none does.

    Args:
        text: the line.
        folder: where a path that is not whole begins.
    """
    name = text.strip().strip("'\"").removeprefix("file://").replace("\\ ", " ")
    if "\n" in name or not name.lower().endswith(SUFFIXES):
        return None
    with suppress(OSError, ValueError, RuntimeError):
        path = folder / File(name).expanduser()
        return path if path.is_file() else None
    return None


# --- lines ----------------------------------------------------------------------------------------------------------


def _rows(path: Path) -> Rows:
    spec = spec_at(path)
    if not isinstance(spec, Rows):
        raise TypeError(f"{path} is no list of pairs")
    return spec


def _columns(rows: Rows) -> dict[str, Number]:
    return {name: spec for name, spec in specs_of(rows.type).items() if isinstance(spec, Number)}


def _cells(line: str) -> list[str]:
    """The cells of a line.

    >>> _cells("230,5\\t180"), _cells("230.5,180"), _cells('"230,5","180"')
    (['230,5', '180'], ['230.5', '180'], ['230,5', '180'])
    >>> _cells("230,5 180,2"), _cells("230 mm, 18 N"), _cells("230,5,180,2")
    (['230,5', '180,2'], ['230 mm', '18 N'], ['230,5', '180,2'])
    """
    line = line.strip()
    apart = next((sign for sign in ("\t", ";", '","') if sign in line), None)
    if apart is not None:
        cells = line.split(apart)
    elif not re.search(r"\s", line):
        cells = line.split(",")
        if len(cells) == 2 * len(("length", "force")):  # two decimals with commas, and a comma between
            cells = [",".join(cells[:2]), ",".join(cells[2:])]
    else:
        cells = []
        for word in line.split():
            if cells and not re.match(r"[-+.]?\d", word) and word.strip(","):
                cells[-1] += f" {word}"  # a unit
            else:
                cells.append(word)
        cells = [cell.rstrip(",") for cell in cells]
    return [bare for cell in cells if (bare := cell.strip().strip('"').strip())]


def _counted(lines: Sequence[Sequence[str]]) -> bool:
    """Whether each line has three cells, the first of which counts the lines."""
    firsts = [line[0].rstrip(".") for line in lines if len(line) == len(("no.", "length", "force"))]
    begins = firsts[0] if firsts else ""
    return (
        len(firsts) == len(lines) > 1
        and begins in ("0", "1")
        and firsts == [str(at) for at in range(int(begins), int(begins) + len(lines))]
    )


def _pair(cells: Sequence[str], specs: Sequence[Number], units: Units) -> tuple[float, float]:
    if len(cells) != len(specs):
        raise BadQuantity(f"two numbers are needed on a line, not {len(cells)}")
    one, other = (parse(cell, spec, units) for cell, spec in zip(cells, specs, strict=True))
    return one, other


def _within(value: float, column: Number) -> bool:
    return bool(column.low <= value <= column.high)


def _rises(pairs: Sequence[tuple[float, float]]) -> bool:
    """Whether the second number rises with the first, as a whole."""
    middle = sum(one for one, _ in pairs) / len(pairs)
    return sum((one - middle) * other for one, other in pairs) > 0.0


def _spread(pairs: list[tuple[float, float]], most: int) -> list[tuple[float, float]]:
    """As many of the pairs as a list holds, spread evenly, with the first and the last."""
    if len(pairs) <= most:
        return pairs
    return [pairs[round(at * (len(pairs) - 1) / (most - 1))] for at in range(most)]


def _taken(kept: int, read: int, found: ReadPairs) -> str:
    words = f"{kept} pairs taken" if kept == read else f"{kept} of {read} pairs taken, evenly spread"
    headings = f"{found.headings} heading{'s' * (found.headings > 1)} skipped" if found.headings else ""
    return f"{words}, {headings}" if headings else words


def _unread(found: ReadPairs) -> str:
    if not found.unread:
        return ""
    numbers = ", ".join(map(str, found.unread[:MOST_NAMED])) + (" and more" if len(found.unread) > MOST_NAMED else "")
    return f" Not read: line{'s' * (len(found.unread) > 1)} {numbers} ({found.why})."
