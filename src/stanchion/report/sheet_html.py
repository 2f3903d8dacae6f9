"""The hand-over sheet as one self-contained HTML file: no network, no script, stylesheet and drawings inline."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from html import escape
from itertools import groupby

from stanchion.report.sheet import CLOSING
from stanchion.report.sheet_columns import bound
from stanchion.report.sheet_shape import Drawings, Line, Section, Sheet, SheetPart, Table
from stanchion.report.sheet_svg import draw_curve, draw_gauges, draw_ratio, draw_sags, draw_travels
from stanchion.report.side_svg import draw_machine
from stanchion.wording.american import worded

PAPER = "#ffffff"
INK = "#15191d"
QUIET = "#4a5258"
RULE = "#0b5a5e"
HAIRLINE = "#c3cacd"
FAULT = "#9a0010"
WARNING = "#7a3d00"
TARGET = "#a9d3c4"
MARK = "#12347e"
BEFORE = "#767676"
PRINT_PT = 8.3
"""Size of letters on paper."""

POLICY = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"
"""What a browser may do with the page: apply its own style, and nothing else."""
_MANY_FIGURES = 6
"""Named figures of a section from which they stand in two columns."""
_THREE = 3
"""Small tables which stand beside each other on paper, where a pair and one below would take another row."""
_LONGEST_WORD = 14
"""Characters of a word up to which a cell is not broken within words."""


def sheet_html(sheet: Sheet) -> str:
    """The sheet as one HTML document, whatever its texts hold; the same on a screen and on paper, with nothing cut."""
    body = [
        f"<header><h1><bdi>{escape(sheet.title)}</bdi></h1>",
        f"{_about(sheet.about)}",
        '<p class="sample">Invented sample: not a setting to copy</p>' if sheet.sample else "",
        "</header>",
        f'<div class="ready">{_section(sheet.ready)}</div>',
        *_parts(sheet.parts),
        f"<section><h2>Cautions</h2><p>{escape(' '.join(sheet.cautions))}</p>",
        f'<p class="closing">{escape(worded(CLOSING))}</p></section>',
        '<p class="signature"><span>Checked by</span><span>Date, time</span></p>',
        f"<footer>Written {escape(sheet.written)}</footer>",
    ]
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta name="referrer" content="no-referrer">\n'
        f"<title>{escape(sheet.title)}: suspension hand-over sheet</title>\n"
        f"<style>{STYLE}</style>\n</head>\n<body>\n<main>\n"
        + "\n".join(part for part in body if part)
        + "\n</main>\n</body>\n</html>\n"
    )


def _about(about: Iterable[tuple[str, str]]) -> str:
    items = "".join(
        f"<div><dt>{escape(name)}</dt><dd><bdi>{escape(bound(value))}</bdi></dd></div>" for name, value in about
    )
    return f"<dl>{items}</dl>"


def _parts(parts: Iterable[SheetPart]) -> Iterator[str]:
    """The parts below one another; tables of facts, narrow ones, and drawings beside each other."""
    for small, run in groupby(parts, key=lambda part: isinstance(part, Table) and (part.narrow or not part.heads)):
        made = list(map(_part, run))
        below = "\n".join(made)
        look = "beside three" if len(made) == _THREE else "beside"
        yield f'<div class="{look}">{below}</div>' if small else below


def _part(part: SheetPart) -> str:
    match part:
        case Section():
            return _section(part)
        case Table():
            return _table(part)
        case Drawings():
            drawings = [
                ("Travel and sag", draw_travels(part.travels)),
                ("Sag against target", draw_sags(part.bars)),
                ("Preload adjusters", draw_gauges(part.gauges)),
                *((curve.name, draw_curve(curve)) for curve in part.curves),
                *([(part.ratio.name, draw_ratio(part.ratio))] if part.ratio is not None else []),
            ]
            drawn = "".join(f"<section><h2>{title}</h2>{drawing}</section>" for title, drawing in drawings if drawing)
            return _side_view(part) + f'<div class="beside">{drawn}</div>'


def _side_view(drawings: Drawings) -> str:
    if drawings.machine is None:
        return ""
    title = f"From the side, {drawings.machine.standing.name}, to scale"
    return f"<section><h2>{title}</h2>{draw_machine(drawings.machine)}</section>"


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


def _section(section: Section) -> str:
    figures = sum(bool(line.word) and not line.word.isupper() for line in section.lines)
    look = ' class="figures"' if figures >= _MANY_FIGURES else ""
    return f"<section{look}><h2>{escape(section.title)}</h2><ul>{''.join(map(_item, section.lines))}</ul></section>"


def _item(line: Line) -> str:
    kind = line.word.lower() if line.word.isalpha() else "said"
    word = f'<span class="word {kind}">{escape(line.word)}</span> ' if line.word else ""
    return f"<li>{word}<bdi>{escape(bound(line.text))}</bdi></li>"


# --- how it looks -----------------------------------------------------------------------------------------------------

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
.beside {{ display: grid; grid-template-columns: 1fr 1fr; gap: 0 24px; }}
.beside > * {{ min-width: 0; }}
.ready {{ border: 2px solid {INK}; padding: 0 10px 4px; margin-top: 0.6em; }}
.ready h2 {{ margin-top: 0.4em; }}
.signature {{ display: flex; gap: 24px; margin: 2.2em 0 0.6em; }}
.signature span {{ flex: 1; border-top: 1px solid {INK}; }}
footer {{ color: {QUIET}; }}
table {{ width: 100%; border-collapse: collapse; }}
th, td {{ text-align: left; vertical-align: top; padding: 1px 6px 1px 0; border-bottom: 1px solid {HAIRLINE};
  font-variant-numeric: tabular-nums; }}
th {{ font-weight: 600; color: {QUIET}; }}
.free {{ overflow-wrap: anywhere; }}
ul {{ margin: 0.2em 0; padding-left: 1.1em; }}
li {{ overflow-wrap: anywhere; }}
.figures ul {{ columns: 2; column-gap: 24px; }}
.figures li {{ break-inside: avoid; }}
.word {{ font-weight: 700; }}
.fault, .torque {{ color: {FAULT}; }}
.warning {{ color: {WARNING}; }}
.sample {{ display: inline-block; font-weight: 700; border: 2px solid {INK}; padding: 1px 8px; margin: 0.3em 0; }}
.closing {{ font-weight: 700; }}
svg {{ display: block; width: 100%; max-width: 460px; height: auto; }}
svg.wide {{ max-width: none; }}
svg text {{ font-size: 12px; fill: {INK}; }}
svg .quiet {{ fill: {QUIET}; }}
svg .axis {{ stroke: {INK}; stroke-width: 1; stroke-dasharray: 6 2 1 2; }}
svg .hair {{ stroke: {QUIET}; stroke-width: 0.6; }}
svg .line {{ stroke: {INK}; stroke-width: 1.5; }}
svg .curve {{ fill: none; stroke: {MARK}; stroke-width: 2.2; }}
svg .before {{ fill: none; stroke: {BEFORE}; stroke-width: 2.2; stroke-dasharray: 5 3; }}
svg .braking, svg .driving {{ fill: none; stroke: {BEFORE}; stroke-width: 1.5; stroke-dasharray: 5 3; }}
svg .driving {{ stroke-dasharray: 1.5 3; }}
svg .ring {{ fill: none; stroke: {INK}; stroke-width: 1.5; }}
svg .room {{ fill: {PAPER}; stroke: {INK}; }}
svg .target {{ fill: {TARGET}; stroke: {INK}; stroke-width: 0.75; }}
svg .mark {{ fill: {MARK}; stroke: {MARK}; stroke-width: 2.5; }}
@page {{ size: auto; margin: 8mm; }}
@media print {{
  body {{ padding: 0; max-width: none; font-size: {PRINT_PT}pt; line-height: 1.14; }}
  h1 {{ font-size: 1.35em; }}
  h2 {{ margin-top: 0.3em; break-after: avoid; }}
  th, td {{ padding-top: 0; padding-bottom: 0; }}
  p, ul, dl {{ margin-top: 0.1em; margin-bottom: 0.1em; }}
  section, tr, .ready {{ break-inside: avoid; }}
  .three {{ grid-template-columns: 6fr 5fr 5fr; gap: 0 16px; }}
  .signature {{ margin: 1.6em 0 0.1em; }}
  svg {{ max-width: 76mm; }}
  svg.wide {{ max-width: 130mm; }}
}}
@media (max-width: 640px) {{ .beside {{ grid-template-columns: 1fr; }} .figures ul {{ columns: 1; }} }}
@media (max-width: 480px) {{ body {{ padding: 10px; font-size: 14px; }} th, td {{ padding-right: 4px; }} }}
"""
