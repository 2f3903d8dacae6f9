"""The hand-over sheet as one HTML file that stands alone: no network, no script, drawings inline."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from stanchion.report.sheet import CLOSING, SagBar, Sheet, Table

STYLE = """
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 12px; max-width: 800px; color: #000; background: #fff;
  font: 14px/1.35 system-ui, "Liberation Sans", Arial, sans-serif; }
h1 { font-size: 1.5em; margin: 0; overflow-wrap: anywhere; }
h2 { font-size: 1em; margin: 0.9em 0 0.2em; border-bottom: 2px solid #000; }
p { margin: 0.2em 0; overflow-wrap: anywhere; }
.about { color: #333; }
.parts { display: grid; grid-template-columns: repeat(auto-fit, minmax(310px, 1fr)); gap: 0 20px; }
table { width: 100%; border-collapse: collapse; }
th, td { text-align: left; vertical-align: top; padding: 1px 4px 1px 0; border-bottom: 1px solid #bbb;
  overflow-wrap: anywhere; font-variant-numeric: tabular-nums; }
th { font-weight: 600; color: #333; }
th[scope=col] { overflow-wrap: normal; }
th[scope=row] { overflow-wrap: break-word; }
ul { margin: 0.2em 0; padding-left: 1.2em; }
li { overflow-wrap: anywhere; }
.word { font-weight: 700; }
.fault { color: #9a0010; }
.warning { color: #6e3700; }
.sample { font-weight: 700; border: 2px solid #000; padding: 2px 6px; display: inline-block; }
.closing { margin-top: 0.8em; font-weight: 600; }
svg { width: 100%; height: auto; max-width: 380px; display: block; }
@page { size: auto; margin: 9mm; }
@media print {
  body { padding: 0; max-width: none; font-size: 8.4pt; line-height: 1.2; }
  .parts { grid-template-columns: 1fr 1fr; }
  h2 { margin-top: 0.5em; break-after: avoid; }
  .long li:nth-child(n+9), .notes p:nth-of-type(n+7) { display: none; }
}
@media (max-width: 480px) { body { padding: 8px; } .parts { grid-template-columns: 1fr; } }
"""
POLICY = "default-src 'none'; style-src 'unsafe-inline'"
INK, BAND, MUTED = "#000000", "#9cc3a5", "#444444"
SAG_COLOUR = "#0b3d91"


def sheet_html(sheet: Sheet) -> str:
    """The sheet as one HTML document, whatever its texts hold."""
    parts = [_table(table) for table in sheet.tables]
    drawings = _drawings(sheet)
    if drawings:
        parts.append(f"<section><h2>Drawings</h2>{drawings}</section>")
    body = [
        f"<h1>{escape(sheet.title)}</h1>",
        f'<p class="about">{escape(sheet.about)}</p>',
        '<p class="sample">Invented sample: not a setting to copy</p>' if sheet.sample else "",
        _warnings(sheet.warnings),
        _list("Changed since the job before", sheet.changes, "long"),
        f'<div class="parts">{"".join(parts)}</div>',
        _paragraphs("Notes", sheet.notes),
        f"<section><h2>Cautions</h2><p>{escape(' '.join(sheet.cautions))}</p>",
        f'<p class="closing">{escape(CLOSING)}</p></section>',
    ]
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta name="referrer" content="no-referrer">\n'
        f"<title>{escape(sheet.title)}: setup</title>\n<style>{STYLE}</style>\n</head>\n<body>\n<main>\n"
        + "\n".join(part for part in body if part)
        + "\n</main>\n</body>\n</html>\n"
    )


def _table(table: Table) -> str:
    heads = "".join(f'<th scope="col">{escape(head)}</th>' for head in table.heads)
    rows = "".join(
        f'<tr><th scope="row">{escape(name)}</th>{"".join(f"<td>{escape(cell)}</td>" for cell in cells)}</tr>'
        for name, cells in table.rows
    )
    head = f"<thead><tr><td></td>{heads}</tr></thead>"
    return f"<section><h2>{escape(table.title)}</h2><table>{head}<tbody>{rows}</tbody></table></section>"


def _warnings(warnings: Iterable[tuple[str, str]]) -> str:
    items = "".join(
        f'<li><span class="word {escape(word.lower())}">{escape(word)}</span> {escape(text)}</li>'
        for word, text in warnings
    )
    inside = f'<ul class="long">{items}</ul>' if items else "<p>None in what is entered.</p>"
    return f"<section><h2>Warnings still open</h2>{inside}</section>"


def _list(title: str, lines: tuple[str, ...], kind: str) -> str:
    if not lines:
        return ""
    items = "".join(f"<li>{escape(line)}</li>" for line in lines)
    return f'<section><h2>{escape(title)}</h2><ul class="{kind}">{items}</ul></section>'


def _paragraphs(title: str, lines: tuple[str, ...]) -> str:
    if not lines:
        return ""
    told = "".join(f"<p>{escape(line)}</p>" for line in lines)
    return f'<section class="notes"><h2>{escape(title)}</h2>{told}</section>'


# --- drawings -----------------------------------------------------------------------------------------------------


def _drawings(sheet: Sheet) -> str:
    return "".join([*map(_travel, sheet.travels), _bars(sheet.bars)])


def _travel(travel: tuple[str, float, tuple[tuple[str, float], ...]]) -> str:
    """The whole travel to scale, with where the machine stands alone and with its rider."""
    name, full, marks = travel
    left, width = 8.0, 344.0
    parts = [
        f'<line x1="{left}" y1="24" x2="{left + width}" y2="24" stroke="{INK}" stroke-width="2"/>',
        f'<line x1="{left}" y1="18" x2="{left}" y2="30" stroke="{INK}" stroke-width="2"/>',
        f'<line x1="{left + width}" y1="18" x2="{left + width}" y2="30" stroke="{INK}" stroke-width="2"/>',
        f'<text x="{left}" y="12" font-size="11">{escape(name)} travel {full:g} mm, to scale</text>',
    ]
    for at, (word, sag) in enumerate(marks):
        x = left + width * min(1.0, max(0.0, sag / full))
        parts.append(f'<circle cx="{x:.1f}" cy="24" r="4" fill="{SAG_COLOUR}"/>')
        parts.append(
            f'<text x="{x:.1f}" y="{42 if at % 2 == 0 else 54}" font-size="11">{escape(word)} {sag:.1f}</text>'
        )
    said = ", ".join(f"{word} sag {sag:.1f} mm" for word, sag in marks)
    return _svg(360, 58, f"{name} travel {full:g} mm with {said}", parts)


def _bars(bars: tuple[SagBar, ...]) -> str:
    """Each sag against its target band, all to one scale."""
    if not bars:
        return ""
    most = max(max(bar.sag_mm, bar.target[1]) for bar in bars) * 1.1 or 1.0
    left, width, step = 140.0, 212.0, 20
    parts = []
    for at, bar in enumerate(bars):
        y = 6 + at * step
        low, high = (left + width * limit / most for limit in bar.target)
        x = left + width * min(1.0, max(0.0, bar.sag_mm / most))
        parts += [
            f'<text x="0" y="{y + 10}" font-size="11">{escape(bar.name)}</text>',
            f'<line x1="{left}" y1="{y + 6}" x2="{left + width}" y2="{y + 6}" stroke="{MUTED}" stroke-width="1"/>',
            f'<rect x="{low:.1f}" y="{y}" width="{high - low:.1f}" height="12" fill="{BAND}" stroke="{INK}"/>',
            f'<line x1="{x:.1f}" y1="{y - 3}" x2="{x:.1f}" y2="{y + 15}" stroke="{SAG_COLOUR}" stroke-width="3"/>',
        ]
    said = "; ".join(f"{bar.name} {bar.sag_mm:.1f} mm, target {bar.target[0]:g} to {bar.target[1]:g}" for bar in bars)
    return _svg(360, 6 + len(bars) * step, f"Sag against target: {said}", parts)


def _svg(width: int, height: int, said: str, parts: list[str]) -> str:
    return f'<svg viewBox="0 0 {width} {height}" role="img" aria-label="{escape(said)}">{"".join(parts)}</svg>'
