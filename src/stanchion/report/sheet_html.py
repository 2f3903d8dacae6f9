"""The hand-over sheet as one self-contained HTML file: no network, no script, drawings inline."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape
from math import ceil

from stanchion.report.sheet import CLOSING
from stanchion.report.sheet_columns import bound, columns
from stanchion.report.sheet_fit import Shown, fitted
from stanchion.report.sheet_shape import Line, Section, Sheet, Table
from stanchion.report.sheet_style import PRINT_PT, ROOMY_PT, STYLE
from stanchion.report.sheet_svg import draw_gauges, draw_sags, draw_travels

POLICY = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"
"""What a browser may do with the page: apply its own style, and nothing else."""
PAPER_LINES, PAPER_COLUMNS = 76, 114
"""Lines of a printed page and columns of a line in the smaller print, on Letter, the shorter page, and A4, the
narrower. Measured with a wide face (DejaVu Sans); what fits on a page is tested in a browser with the fullest jobs."""
_TITLE, _ROW, _DRAWN = 1.85, 1.08, 0.062
"""Printed lines of a title and of a row of a table, and of one unit of a drawing's height."""
_LONGEST_WORD = 14
"""Characters of a word up to which a cell is not broken within words."""


def sheet_html(sheet: Sheet) -> str:
    """The sheet as one HTML document, whatever its texts hold.

    On a screen it is whole. On paper it is one page: settings, cautions and the closing words whole; of warnings,
    changes, run and notes what has no room is counted.
    """
    sections = (sheet.warnings, *sheet.sections)
    fit, roomy = _fitted(sheet, sections)
    shown = {one.title: one for one in fit}
    first, *others = (_section(section, shown[section.title]) for section in sections)
    body = [
        f"<header><h1><bdi>{escape(sheet.title)}</bdi></h1>",
        f"{_about(sheet.about)}",
        '<p class="sample">Invented sample: not a setting to copy</p>' if sheet.sample else "",
        "</header>",
        first,
        _parts(sheet),
        *others,
        f"<section><h2>Cautions</h2><p>{escape(' '.join(sheet.cautions))}</p>",
        f'<p class="closing">{escape(CLOSING)}</p></section>',
    ]
    look = ' class="roomy"' if roomy else ""
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta name="referrer" content="no-referrer">\n'
        f"<title>{escape(sheet.title)}: suspension hand-over sheet</title>\n"
        f"<style>{STYLE}</style>\n</head>\n<body{look}>\n<main>\n"
        + "\n".join(part for part in body if part)
        + "\n</main>\n</body>\n</html>\n"
    )


def _about(about: Iterable[tuple[str, str]]) -> str:
    items = "".join(
        f"<div><dt>{escape(name)}</dt><dd><bdi>{escape(bound(value))}</bdi></dd></div>" for name, value in about
    )
    return f"<dl>{items}</dl>"


def _parts(sheet: Sheet) -> str:
    drawings = [
        ("Travel and sag", draw_travels(sheet.travels)),
        ("Sag against target", draw_sags(sheet.bars)),
        ("Preload adjusters", draw_gauges(sheet.gauges)),
    ]
    drawn = "".join(f"<section><h2>{title}</h2>{drawing}</section>" for title, drawing in drawings if drawing)
    facts = "".join(map(_table, sheet.facts))
    sag = (
        f'<div class="parts">{_table(sheet.sag)}{_table(sheet.geometry)}</div>' if sheet.geometry else _table(sheet.sag)
    )
    return f'<div class="parts">{_table(sheet.setup)}<div>{drawn}</div></div>\n<div class="parts">{facts}</div>\n{sag}'


def _table(table: Table) -> str:
    heads = "".join(f'<th scope="col">{escape(head)}</th>' for head in table.heads)
    head = f"<thead><tr><td></td>{heads}</tr></thead>" if heads else ""
    rows = "".join(
        f'<tr><th scope="row">{escape(name)}</th>{"".join(map(_cell, cells))}</tr>' for name, cells in table.rows
    )
    return f"<section><h2>{escape(table.title)}</h2><table>{head}<tbody>{rows}</tbody></table></section>"


def _cell(cell: str) -> str:
    look = "" if len(max(bound(cell).split(" "), key=len)) <= _LONGEST_WORD else ' class="free"'
    return f"<td{look}>{escape(bound(cell))}</td>"


# --- what may be too long for paper -------------------------------------------------------------------------------


def _section(section: Section, shown: Shown) -> str:
    """A section, whole on a screen and on paper as far as there is room."""
    if shown.whole:
        return f"<section><h2>{escape(section.title)}</h2>{_list(section.lines, shown.room)}</section>"
    count = f'<span class="paper"> ({len(shown.lines)} of {shown.of} here; the job has them whole)</span>'
    on_screen = f'<div class="screen">{_list(section.lines, shown.room)}</div>'
    on_paper = f'<div class="paper">{_list(shown.lines, shown.room)}</div>'
    return f"<section><h2>{escape(section.title)}{count}</h2>{on_screen}{on_paper}</section>"


def _list(lines: Sequence[Line], room: int) -> str:
    """The lines; the room is kept to on paper even where letters are wider than was reckoned with."""
    return f'<ul style="--room: {room}">{"".join(map(_item, lines))}</ul>' if lines else ""


def _item(line: Line) -> str:
    word = f'<span class="word {line.word.lower()}">{escape(line.word)}</span> ' if line.word else ""
    return f"<li>{word}<bdi>{escape(bound(line.text))}</bdi></li>"


def _fitted(sheet: Sheet, sections: Sequence[Section]) -> tuple[tuple[Shown, ...], bool]:
    """The sections as they go on paper, and whether the larger letters do."""
    for size in (ROOMY_PT, PRINT_PT):
        width = int(PAPER_COLUMNS * PRINT_PT / size)
        shown = fitted(sections, _paper_room(sheet, PRINT_PT / size), width)
        if all(one.whole for one in shown):
            return shown, size == ROOMY_PT
    return shown, False


def _paper_room(sheet: Sheet, scale: float) -> int:
    """Printed lines left for what may be shortened; reckoned from the print sizes of the stylesheet.

    Args:
        sheet: what else is on the page.
        scale: how much fewer letters there are than in the smallest print, in a line and of lines; at most 1.
    """
    line = PAPER_COLUMNS * scale
    about = sum(columns(name) + columns(value) + 6 for name, value in sheet.about)
    head = _TITLE * ceil(columns(sheet.title) / (line / 2)) + ceil(about / line) + (2 if sheet.sample else 0)
    drawings = [62 * len(sheet.travels), 22 * (len(sheet.bars) + 1) * bool(sheet.bars), 46 * len(sheet.gauges)]
    drawn = sum(_TITLE + height * _DRAWN * scale for height in drawings if height)
    left, right = 0.57 * line, 0.38 * line
    facts = [_lines(table, left if at == 0 else right) for at, table in enumerate(sheet.facts)]
    beside = (
        max(_lines(sheet.setup, left), drawn),
        max([0, *facts]),
        max(_lines(sheet.sag, left), _lines(sheet.geometry, right)) if sheet.geometry else _lines(sheet.sag, line),
    )
    foot = _TITLE + ceil(columns(" ".join(sheet.cautions)) / line) + ceil(columns(CLOSING) / (0.9 * line))
    return max(0, int(PAPER_LINES * scale - head - sum(beside) - foot))


def _lines(table: Table, room: float) -> float:
    """Printed lines of a table so many columns wide, whose columns share the width by what they hold."""
    rows = [(name, *cells) for name, cells in table.rows]
    rows += [("", *table.heads)] if table.heads else []
    widest = [max(map(columns, column)) + 1.2 for column in zip(*rows, strict=True)]
    squeezed = max(1.0, sum(widest) / room)
    lines = sum(
        max(ceil((columns(text) + 1) * squeezed / width) for text, width in zip(row, widest, strict=True))
        for row in rows
    )
    return _TITLE + lines * _ROW
