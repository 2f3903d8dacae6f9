"""The hand-over sheet as text that prints on one page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import zip_longest

from stanchion.report.sheet import CLOSING
from stanchion.report.sheet_fit import Shown, columns, fitted, padded, set_line, wrapped
from stanchion.report.sheet_shape import Section, Sheet, Table

WIDTH, LINES = 80, 66
"""One printed page at ten characters to the inch and six lines."""
_NAME_OF_FACT = 18
"""Columns of the name of a fact."""
_LONGEST_FACT = 4
"""Lines a fact takes at most."""


def sheet_text(sheet: Sheet) -> str:
    """The sheet, at most 66 lines of 80 columns.

    Settings, cautions and the closing words are always whole; of warnings, changes, run and notes what has no room is
    counted.
    """
    head = [*wrapped(sheet.title, WIDTH), *wrapped(_about(sheet), WIDTH)]
    if sheet.sample:
        head.append("INVENTED SAMPLE: not a setting to copy.")
    tables = [_table(sheet.setup), _side_by_side(sheet.facts), _table(sheet.sag)]
    tables += [_table(sheet.geometry)] if sheet.geometry else []
    settings = [line for table in tables if table for line in ("", *table)]
    foot = ["", *wrapped(" ".join(sheet.cautions), WIDTH), *wrapped(CLOSING, WIDTH)]
    room = LINES - len(head) - len(settings) - len(foot)
    first, *others = _sections((sheet.warnings, *sheet.sections), room)
    body = [*head, *first, *settings, *(line for lines in others for line in lines), *foot]
    return "\n".join(line.rstrip() for line in body) + "\n"


def _about(sheet: Sheet) -> str:
    return "; ".join(f"{name}: {value}" for name, value in sheet.about)


def _sections(sections: Sequence[Section], room: int) -> list[list[str]]:
    """Each section in its lines; those for which there is no room are named in one line, below the first."""
    shown = fitted(sections, room, WIDTH)
    if all(one.lines for one in shown):
        return [list(_section(one)) for one in shown]
    shown = fitted(sections, room - 2, WIDTH)
    left_out = ", ".join(f"{one.title} ({one.of})" for one in shown if not one.lines)
    note = wrapped(f"No room on this page for: {left_out}.", WIDTH)[:2]
    texts = [list(_section(one)) for one in shown if one.lines] or [[]]
    return [[*texts[0], *note], *texts[1:]]


def _section(shown: Shown) -> Iterator[str]:
    yield ""
    some = "" if shown.whole else f" ({len(shown.lines)} of {shown.of} here; the job has them whole)"
    yield f"{shown.title.upper()}{some}"
    for line in shown.lines:
        yield from set_line(line, WIDTH)


def _table(table: Table) -> list[str]:
    """The rows with their cells in columns; a cell that is longer goes on below itself."""
    name_width = 3 + max([17, *(len(name) for name, _ in table.rows)])
    rows = [(name, [cell.replace(" + ", "+") for cell in cells]) for name, cells in table.rows]
    widths = [name_width, *_cell_widths([table.heads, *(cells for _, cells in rows)], WIDTH - name_width)]
    lines = ["".join(map(padded, (table.title.upper(), *table.heads), widths))]
    for name, cells in rows:
        parted = [
            [f"  {name}"],
            *(wrapped(cell, wide - 1) for cell, wide in zip(cells, widths[1:], strict=True)),
        ]
        lines += ["".join(map(padded, parts, widths)) for parts in zip_longest(*parted, fillvalue="")]
    return lines


def _cell_widths(rows: Sequence[Sequence[str]], room: int) -> list[int]:
    """Columns for the cells: all alike, or as wide as what they hold where that alone keeps each on one line."""
    count = len(rows[0])
    alike = [*([room // count] * (count - 1)), room + 1 - room // count * (count - 1)]
    held = [1 + max(map(columns, column)) for column in zip(*rows, strict=True)]
    spare = room + 1 - sum(held)
    if spare < 0 or all(width <= most for width, most in zip(held, alike, strict=True)):
        return alike
    return [*(width + spare // count for width in held[:-1]), held[-1] + spare - spare // count * (count - 1)]


def _side_by_side(tables: Sequence[Table]) -> list[str]:
    """Small tables of facts beside one another."""
    width = WIDTH // 2
    return ["".join(padded(part, width) for part in parts) for parts in zip_longest(*map(_facts, tables), fillvalue="")]


def _facts(table: Table) -> Iterator[str]:
    yield table.title.upper()
    for name, (value,) in table.rows:
        lines = wrapped(value, WIDTH // 2 - _NAME_OF_FACT - 1)
        if len(lines) > _LONGEST_FACT:
            lines = [*lines[: _LONGEST_FACT - 1], "…"]
        for at, line in enumerate(lines):
            yield padded("" if at else f"  {name}", _NAME_OF_FACT) + line
