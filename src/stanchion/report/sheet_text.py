"""The hand-over sheet as text, for a printer or a message. Nothing is cut: what takes more than one page does."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby, zip_longest

from stanchion.report.sheet import CLOSING
from stanchion.report.sheet_columns import columns, padded, wrapped
from stanchion.report.sheet_shape import Drawings, Line, Section, Sheet, SheetPart, Table
from stanchion.wording.american import worded

WIDTH = 80
"""Columns of a printed page at ten characters to the inch."""
_NAME_OF_FACT = 18
"""Columns of the name of a fact."""
SIGNATURE = "Checked by ______________________________   Date, time ______________________"


def sheet_text(sheet: Sheet) -> str:
    """The sheet in lines of at most 80 columns."""
    head = [*wrapped(sheet.title, WIDTH), *wrapped(_about(sheet), WIDTH)]
    if sheet.sample:
        head.append("INVENTED SAMPLE: not a setting to copy.")
    foot = ["", *wrapped(" ".join(sheet.cautions), WIDTH), *wrapped(worded(CLOSING), WIDTH)]
    foot += ["", SIGNATURE, "", *wrapped(f"Written {sheet.written}", WIDTH)]
    lines = [*head, *_section(sheet.ready), *_parts(sheet.parts), *foot]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _about(sheet: Sheet) -> str:
    return "; ".join(f"{name}: {value}" for name, value in sheet.about)


def _parts(parts: Sequence[SheetPart]) -> Iterator[str]:
    """The sections and tables below one another; small tables of facts beside each other."""
    for facts, run in groupby(parts, key=lambda part: isinstance(part, Table) and not part.heads):
        if facts:
            yield ""
            yield from _side_by_side([part for part in run if isinstance(part, Table)])
            continue
        for part in run:
            match part:
                case Section():
                    yield from _section(part)
                case Table():
                    yield ""
                    yield from _table(part)
                case Drawings():
                    pass


def _section(section: Section) -> Iterator[str]:
    yield ""
    yield section.title.upper()
    for line in section.lines:
        yield from _set(line)


def _set(line: Line) -> list[str]:
    """One line as it is printed, over as many lines as it takes."""
    return wrapped(f"{line.word} {line.text}".strip(), WIDTH, "  ", "    ")


def _table(table: Table) -> list[str]:
    """The rows with their cells in columns; a cell that is longer goes on below itself."""
    name_width = 3 + max(len(table.title) - 2, *(columns(name) for name, _ in table.rows))
    widths = [name_width, *_cell_widths([table.heads, *(cells for _, cells in table.rows)], WIDTH - name_width)]
    titles = [
        [table.title.upper()],
        *(wrapped(head, wide - 1) for head, wide in zip(table.heads, widths[1:], strict=True)),
    ]
    lines = ["".join(map(padded, parts, widths)) for parts in zip_longest(*titles, fillvalue="")]
    for name, cells in table.rows:
        parted = [
            [f"  {name}"],
            *(wrapped(cell, wide - 1) for cell, wide in zip(cells, widths[1:], strict=True)),
        ]
        lines += ["".join(map(padded, parts, widths)) for parts in zip_longest(*parted, fillvalue="")]
    return lines


def _cell_widths(rows: Sequence[Sequence[str]], room: int) -> list[int]:
    """Columns for the cells, a blank after each included: what they hold, where there is room for that; otherwise those
    that hold most share what the others leave."""
    wanted = [1 + max(map(columns, column)) for column in zip(*rows, strict=True)]
    spare = room + 1 - sum(wanted)
    if spare >= 0:
        share = spare // len(wanted)
        return [width + share for width in wanted]
    widths: list[int] = [0] * len(wanted)
    unset, unshared = len(wanted), room + 1
    for at in sorted(range(len(wanted)), key=lambda at: wanted[at]):
        widths[at] = min(wanted[at], unshared // unset)
        unset, unshared = unset - 1, unshared - widths[at]
    return widths


def _side_by_side(tables: Sequence[Table]) -> list[str]:
    """Small tables of facts beside one another."""
    width = WIDTH // 2
    return ["".join(padded(part, width) for part in parts) for parts in zip_longest(*map(_facts, tables), fillvalue="")]


def _facts(table: Table) -> Iterator[str]:
    yield table.title.upper()
    for name, (value,) in table.rows:
        for at, line in enumerate(wrapped(value, WIDTH // 2 - _NAME_OF_FACT - 1)):
            yield padded("" if at else f"  {name}", _NAME_OF_FACT) + line
