"""A damper sheet as pages of styled text: a table for each stroke, force over speed, and the sheet before. Pure."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from textual.content import Content

from stanchion.base.text import clean
from stanchion.bench.table_file import TableFile
from stanchion.job.model import Job
from stanchion.job.spec import Kind
from stanchion.judgement.predict.damper_sheets import position_now, sheet_figures, sheets_compared
from stanchion.judgement.results.dampers import STROKES, CurveFigures, SheetFigures, Stroke
from stanchion.ui.paging import packed
from stanchion.ui.plot import curve, over
from stanchion.ui.space import cut
from stanchion.units.known_units import Units
from stanchion.units.quantity import show, unit_name
from stanchion.wording.damper_sentences import NOTE, forces_words, gas_words, read_words, speed_words, unit_turned
from stanchion.wording.damper_tables import (
    DamperTable,
    click_table,
    difference_table,
    force_table,
    slope_table,
    stroke_words,
)

MUTED, HEAD, FIGURE = "$text-muted", "$primary bold", "$figure bold"
SPEED, CELL, LAST = 9, 6, 7
"""Columns of a speed, of a force, and of what a click does."""
LEAST_PLOT, MOST_PLOT = 5, 14
"""Lines of a drawn curve."""
NAMES: dict[Stroke, str] = {"compression": "COMPRESSION", "rebound": "REBOUND"}
NO_SHEET = (
    "No damper sheet yet. F7 reads a file of a dynamometer: CSV with the speed of the shaft and the force, one row a "
    "reading. The job keeps the forces, the file's name and its SHA-256."
)


def damper_pages(job: Job, at: int, units: Units, width: int, height: int, *, plain: bool) -> list[list[Content]]:
    """The pages of one sheet.

    Args:
        job: the job.
        at: which sheet, counted from 0.
        units: display units.
        width: columns there are.
        height: lines there are.
        plain: in ASCII, for a terminal that has no braille.
    """
    if not job.damper_sheets:
        return [list(_wrapped(NO_SHEET, width))]
    of = sheet_figures(job, at)
    now = position_now(job, of.sheet).value
    strokes = sorted(filter(of.of, STROKES), key=lambda stroke: stroke != of.turned)  # the one that is turned first
    blocks = [list(_stroke(job, of, stroke, units, width)) for stroke in strokes]
    if blocks:
        blocks[0][1:1] = _wrapped(forces_words(of.gas_n, units), width)
    blocks.append(list(_facts(job, of, units, width)))
    compared = sheets_compared(job, at)
    if compared is not None:
        blocks.append(list(_compared(difference_table(job, of, *compared, units), width)))
    rows = min(height - 3, MOST_PLOT)
    if rows >= LEAST_PLOT:
        before = None if compared is None else sheet_figures(job, compared[0])
        pairs = (_pair(of.of(stroke), before, now) for stroke in strokes)
        blocks += [list(_plot(pair, units, width, rows, plain=plain)) for pair in pairs]
    return packed(blocks, height)


def _stroke(job: Job, of: SheetFigures, stroke: Stroke, units: Units, width: int) -> Iterator[Content]:
    """A line for each speed, a column for each position: all of them where there is room, else those nearest to now."""
    now = position_now(job, of.sheet).value
    curves, left = _nearest(of.of(stroke), now, max(1, (width - SPEED - LAST + 1) // CELL))
    heads = ["" if one.position is None else show(one.position, Kind.COUNT) for one in curves]
    name = f"{NAMES[stroke]}, {unit_name(Kind.FORCE, units)}"
    yield Content.styled(name, HEAD) + Content.styled(
        f"  ({len(curves)} of {left + len(curves)} shown)" if left else "", MUTED
    )
    table = force_table(job, of, curves, units)
    clicks = click_table(job, of, units)
    steps = dict(zip(clicks.heads, _row_of(clicks, stroke_words(stroke, None, "")), strict=False))
    if any(heads):
        unit = unit_turned(job, of.sheet)
        last = unit.removesuffix("s").rjust(LAST) if steps else ""
        yield Content.styled(f"at {unit}".ljust(SPEED) + "".join(head.rjust(CELL) for head in heads) + last, MUTED)
    for part in (table, slope_table(job, of, curves)):
        if part is not table:
            yield Content.styled("slope, N·s/m", MUTED)
        for at, head in enumerate(part.heads):
            line = Content.styled((f"{head} mm/s" if part is table else head).ljust(SPEED), MUTED)
            for one, (_, cells) in zip(curves, part.rows, strict=True):
                style = FIGURE if one.position == now or len(curves) == 1 else "$figure"
                line += Content.styled(cells[at].rjust(CELL), style)
            yield line + Content.styled(steps.get(head, "").rjust(LAST), "$figure")


def _nearest(curves: Sequence[CurveFigures], now: float | None, most: int) -> tuple[Sequence[CurveFigures], int]:
    """At most so many curves, those nearest to the position now, and how many are left out."""
    if len(curves) <= most:
        return curves, 0
    at = 0.0 if now is None else now
    near = sorted(curves, key=lambda one: abs((one.position or 0.0) - at))[:most]
    return [one for one in curves if one in near], len(curves) - most


def _row_of(table: DamperTable, name: str) -> tuple[str, ...]:
    return next((cells for found, cells in table.rows if found == name), ())


def _facts(job: Job, of: SheetFigures, units: Units, width: int) -> Iterator[Content]:
    one = unit_turned(job, of.sheet).removesuffix("s").capitalize()
    yield from _wrapped(f"Slope: below and above that speed. {one}: what one out changes.", width)
    yield from _wrapped(f"Gas taken out: {gas_words(of, units)}", width)
    yield from _wrapped(f"{read_words(job, of)}.", width)
    yield from _wrapped(NOTE, width)


def _compared(table: DamperTable, width: int) -> Iterator[Content]:
    """A block of lines for each curve: too many columns for one line where there is little room."""
    yield Content.styled(cut(table.title.upper().replace("AT MM/S", "at mm/s"), width), HEAD)
    for name, cells in table.rows:
        pairs = [f"{head}: {cell}" for head, cell in zip(table.heads, cells, strict=True)]
        yield Content.styled(name, MUTED)
        for line in textwrap.wrap("  ".join(pairs), max(20, width - 2), break_on_hyphens=False):
            yield Content.styled(f"  {line}", "$figure")
    for note in table.notes:
        yield from _wrapped(note, width)


def _pair(
    curves: Sequence[CurveFigures], before: SheetFigures | None, now: float | None
) -> tuple[CurveFigures, CurveFigures, str]:
    """The curve nearest to the position now; that of the sheet before at the same position, or else the one furthest
    from it; and what the latter is."""
    near, _ = _nearest(curves, now, 1)
    chosen = near[0]
    earlier = () if before is None else before.of(chosen.stroke)
    for one in earlier:
        if one.position == chosen.position:
            return chosen, one, "dim: sheet before"
    other = max(curves, key=lambda one: abs((one.position or 0.0) - (chosen.position or 0.0)))
    return chosen, other, "" if other is chosen else f"dim: at {show(other.position or 0.0, Kind.COUNT)}"


def _plot(
    pair: tuple[CurveFigures, CurveFigures, str], units: Units, width: int, rows: int, *, plain: bool
) -> Iterator[Content]:
    """Force over speed, with another curve dim behind it."""
    chosen, other, dimmed = pair
    points, beside = (
        [(0.0, 0.0), *((v, max(0.0, f)) for v, f in zip(one.speeds_mm_per_s, one.forces_n, strict=True))]
        for one in (chosen, other)
    )
    at = "" if chosen.position is None else f", at {show(chosen.position, Kind.COUNT)}"
    grey = f", {dimmed}" if dimmed else ""
    yield Content.styled(cut(f"{NAMES[chosen.stroke]}{at}{grey}", width), HEAD)
    drawn = curve(points, width, rows, plain=plain, beside=beside)
    dim = curve(beside, width, rows, plain=plain, beside=points) if other is not chosen else [" " * width] * rows
    yield from (over(one, under) for one, under in zip(drawn, dim, strict=True))
    most = show(max(force for _, force in (*points, *beside)), Kind.FORCE, units)
    end = f"{most} at most, {speed_words(max(v for v, _ in (*points, *beside)))}"
    yield Content.styled(end.rjust(width), MUTED)


def preview_lines(file: TableFile, width: int, height: int) -> Iterator[Content]:
    """The first lines of a file in columns, below the numbers and headings of these."""
    rows = [row.cells for row in file.rows[: max(0, height - 1)]]
    names = file.columns
    wide = max(6, min(18, width // max(1, len(names)) - 1))
    fits = max(1, width // (wide + 1))
    more = f" +{len(names) - fits}" if len(names) > fits else ""
    heads = " ".join(cut(name, wide).ljust(wide) for name in names[:fits])
    yield Content.styled(cut(heads, width - len(more)) + more, HEAD)
    for cells in rows:
        line = " ".join(cut(clean(cell, 40), wide).ljust(wide) for cell in cells[:fits])
        yield Content.styled(cut(line, width), MUTED)


def _wrapped(text: str, width: int) -> Iterator[Content]:
    yield from (Content.styled(line, MUTED) for line in textwrap.wrap(text, max(20, width), break_on_hyphens=False))
