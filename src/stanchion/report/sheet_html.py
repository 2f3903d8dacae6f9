"""The hand-over sheet as one self-contained HTML file: no network, no script, stylesheet and drawings inline."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape
from math import ceil

from stanchion.report.sheet import CLOSING
from stanchion.report.sheet_fit import Shown, bound, columns, fitted
from stanchion.report.sheet_shape import Gauge, Line, SagBar, Section, Sheet, Table, Travel

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


_WIDTH, _LEFT, _RIGHT = 380.0, 8.0, 372.0
_LETTER = 6.4
"""About the width of a letter at the size the stylesheet sets."""


def draw_travels(travels: tuple[Travel, ...]) -> str:
    """Both travels to one scale, each with static and rider sag."""
    if not travels:
        return ""
    longest = max(max(travel.full.mm, *(mark.mm for mark in travel.marks)) for travel in travels)
    scale, step = (_RIGHT - _LEFT) / longest, 62
    parts, description = [], []
    for at, travel in enumerate(travels):
        y = 30 + at * step
        end = _LEFT + travel.full.mm * scale
        parts.append(_text(_LEFT, y - 18, f"{travel.name}: full travel {travel.full.text}"))
        parts.append(f'<rect class="room" x="{_LEFT:.1f}" y="{y - 5}" width="{end - _LEFT:.1f}" height="10"/>')
        taken = _LEFT
        for mark in sorted(travel.marks, key=lambda mark: mark.mm):
            x = _LEFT + mark.mm * scale
            parts.append(f'<line class="mark" x1="{x:.1f}" y1="{y - 9}" x2="{x:.1f}" y2="{y + 9}"/>')
            words = f"{mark.name} {mark.text}"
            start = min(max(x - len(words) * _LETTER / 2, taken), _RIGHT - len(words) * _LETTER)
            parts.append(_text(start, y + 22, words))
            taken = start + (len(words) + 2) * _LETTER
        description.append(
            f"{travel.name} travel {travel.full.text}: " + ", ".join(f"{m.name} {m.text}" for m in travel.marks)
        )
    return _svg(len(travels) * step, f"Travel used by sag, to scale. {'; '.join(description)}", parts)


def draw_sags(bars: tuple[SagBar, ...]) -> str:
    """Each sag against its target band, all to one scale."""
    if not bars:
        return ""
    most = max(max(bar.sag.mm, bar.high_mm) for bar in bars) * 1.08 or 1.0
    left, step = 132.0, 22
    scale = (_RIGHT - left) / most
    parts = []
    for at, bar in enumerate(bars):
        y = 14 + at * step
        low, wide = left + bar.low_mm * scale, (bar.high_mm - bar.low_mm) * scale
        x = left + max(0.0, bar.sag.mm) * scale
        parts += [
            _text(0.0, y + 4, bar.name),
            f'<line class="line" x1="{left}" y1="{y}" x2="{_RIGHT}" y2="{y}"/>',
            f'<rect class="target" x="{low:.1f}" y="{y - 6}" width="{wide:.1f}" height="12"/>',
            f'<line class="mark" x1="{x:.1f}" y1="{y - 9}" x2="{x:.1f}" y2="{y + 9}"/>',
        ]
    parts.append(_text(left, 14 + len(bars) * step, "bar: measured; band: target", quiet=True))
    description = "; ".join(f"{bar.name} {bar.sag.text}, target {bar.target}" for bar in bars)
    return _svg(22 + len(bars) * step, f"Sag against target. {description}", parts)


def draw_gauges(gauges: tuple[Gauge, ...]) -> str:
    """Each preload adjuster between fully out and fully in, with what is left both ways."""
    if not gauges:
        return ""
    step = 46
    parts, description = [], []
    for at, gauge in enumerate(gauges):
        y = 24 + at * step
        whole = gauge.out.mm + gauge.to_in.mm
        x = _LEFT + (_RIGHT - _LEFT) * (min(1.0, max(0.0, gauge.out.mm / whole)) if whole > 0 else 0.0)
        parts += [
            _text(_LEFT, y - 11, f"{gauge.name} preload adjuster"),
            f'<rect class="room" x="{_LEFT}" y="{y - 5}" width="{_RIGHT - _LEFT}" height="10"/>',
            f'<line class="mark" x1="{x:.1f}" y1="{y - 8}" x2="{x:.1f}" y2="{y + 8}"/>',
            _text(_LEFT, y + 18, f"out: {gauge.out.text}"),
            _text(_RIGHT, y + 18, f"in: {gauge.to_in.text}", anchor="end"),
        ]
        description.append(f"{gauge.name}: {gauge.out.text} left to out, {gauge.to_in.text} left to in")
    return _svg(len(gauges) * step, f"Preload adjusters between their ends. {'; '.join(description)}", parts)


def _text(x: float, y: float, words: str, *, anchor: str = "start", quiet: bool = False) -> str:
    look = ' class="quiet"' if quiet else ""
    return f'<text{look} x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{escape(words)}</text>'


def _svg(height: float, description: str, parts: Iterable[str]) -> str:
    box = f"0 0 {_WIDTH:g} {height:g}"
    return f'<svg viewBox="{box}" role="img" aria-label="{escape(description)}">{"".join(parts)}</svg>'


PAPER = "#ffffff"
INK = "#15191d"
QUIET = "#4a5258"
RULE = "#0b5a5e"
HAIRLINE = "#c3cacd"
FAULT = "#9a0010"
WARNING = "#7a3d00"
TARGET = "#a9d3c4"
MARK = "#12347e"
PRINT_PT, ROOMY_PT = 8.2, 9.0
"""Size of letters on paper: where there is much to say, and where there is less."""

STYLE = f"""
:root {{ color-scheme: light; }}
* {{ box-sizing: border-box; }}
body {{ margin: 0 auto; padding: 16px; max-width: 860px; color: {INK}; background: {PAPER};
  font: 15px/1.4 system-ui, "Liberation Sans", Arial, sans-serif; }}
h1 {{ font-size: 1.6em; line-height: 1.2; margin: 0; overflow-wrap: anywhere; }}
h2 {{ font-size: 1em; margin: 1em 0 0.2em; color: {RULE}; border-bottom: 2px solid {RULE}; }}
p {{ margin: 0.2em 0; overflow-wrap: anywhere; }}
dl {{ display: flex; flex-wrap: wrap; gap: 0 1.2em; margin: 0.2em 0; }}
dl div {{ min-width: 0; }}
dt {{ display: inline; color: {QUIET}; }}
dt::after {{ content: ": "; }}
dd {{ display: inline; margin: 0; overflow-wrap: anywhere; }}
.parts {{ display: grid; grid-template-columns: 1.4fr 1fr; gap: 0 24px; }}
.parts > * {{ min-width: 0; }}
table {{ width: 100%; border-collapse: collapse; }}
th, td {{ text-align: left; vertical-align: top; padding: 1px 6px 1px 0; border-bottom: 1px solid {HAIRLINE};
  font-variant-numeric: tabular-nums; }}
th {{ font-weight: 600; color: {QUIET}; }}
.free {{ overflow-wrap: anywhere; }}
ul {{ margin: 0.2em 0; padding-left: 1.1em; }}
li {{ overflow-wrap: anywhere; }}
.word {{ font-weight: 700; }}
.fault {{ color: {FAULT}; }}
.warning {{ color: {WARNING}; }}
.sample {{ display: inline-block; font-weight: 700; border: 2px solid {INK}; padding: 1px 8px; margin: 0.3em 0; }}
.closing {{ font-weight: 700; }}
.paper {{ display: none; }}
svg {{ display: block; width: 100%; max-width: 460px; height: auto; }}
svg text {{ font-size: 12px; fill: {INK}; }}
svg .quiet {{ fill: {QUIET}; }}
svg .line {{ stroke: {INK}; stroke-width: 1.5; }}
svg .room {{ fill: {PAPER}; stroke: {INK}; }}
svg .target {{ fill: {TARGET}; stroke: {INK}; stroke-width: 0.75; }}
svg .mark {{ fill: {MARK}; stroke: {MARK}; stroke-width: 2.5; }}
@page {{ size: auto; margin: 9mm; }}
@media print {{
  body {{ padding: 0; max-width: none; font-size: {PRINT_PT}pt; line-height: 1.18; }}
  body.roomy {{ font-size: {ROOMY_PT}pt; }}
  h1 {{ font-size: 1.35em; }}
  h2 {{ margin-top: 0.55em; break-after: avoid; }}
  th, td {{ padding-top: 0; padding-bottom: 0; }}
  p, ul, dl {{ margin-top: 0.1em; margin-bottom: 0.1em; }}
  ul {{ max-height: calc(var(--room) * 1.18em); overflow: hidden; }}
  .screen {{ display: none; }}
  .paper {{ display: block; }}
  span.paper {{ display: inline; }}
}}
@media (max-width: 640px) {{ .parts {{ grid-template-columns: 1fr; }} }}
@media (max-width: 480px) {{ body {{ padding: 10px; font-size: 14px; }} th, td {{ padding-right: 4px; }} }}
"""
