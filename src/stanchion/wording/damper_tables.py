"""Tables of a damper sheet: force at stated speeds, what a click does, and one sheet beside another."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.job.model import Job
from stanchion.job.spec import Kind
from stanchion.judgement.criteria.thresholds import LOW_SPEED_MM_PER_S
from stanchion.judgement.results.dampers import STROKES, CurveFigures, ForceDifference, SheetFigures, Stroke
from stanchion.judgement.results.figures import Figure
from stanchion.units.known_units import Units
from stanchion.units.quantity import MINUS, show, unit_name
from stanchion.wording.damper_sentences import unit_turned
from stanchion.wording.finding_words import reason
from stanchion.wording.positions import counted

NONE = "–"
BEYOND = "*"
_SHORT: Mapping[Stroke, str] = {"compression": "Comp.", "rebound": "Rebound"}


@record
class DamperTable:
    """Values at some speeds, below a title and the speeds."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, tuple[str, ...]], ...]
    notes: tuple[str, ...] = ()


def force_table(job: Job, of: SheetFigures, curves: Sequence[CurveFigures], units: Units) -> DamperTable:
    """The force against the motion at stated speeds.

    Args:
        job: the job.
        of: what the sheet says.
        curves: which of its curves.
        units: units to show.
    """
    speeds = sorted({one.speed_mm_per_s for curve in curves for one in curve.at})
    unit = unit_turned(job, of.sheet)
    rows = []
    for curve in curves:
        forces = {one.speed_mm_per_s: one.force_n for one in curve.at}
        cells = tuple(_cell(forces.get(speed), units) for speed in speeds)
        rows.append((stroke_words(curve.stroke, curve.position, unit), cells))
    return DamperTable(f"Force, {unit_name(Kind.FORCE, units)}, at mm/s", _speeds(speeds), tuple(rows))


def slope_table(job: Job, of: SheetFigures, curves: Sequence[CurveFigures]) -> DamperTable:
    """The slope of the force at low and at high speed, always in N·s/m.

    Args:
        job: the job.
        of: what the sheet says.
        curves: which of its curves.
    """
    unit, split = unit_turned(job, of.sheet), show(LOW_SPEED_MM_PER_S, Kind.COUNT)
    rows = []
    for curve in curves:
        slopes = (curve.low_n_s_per_m.value, curve.high_n_s_per_m.value)
        cells = tuple(NONE if one is None else _number(one) for one in slopes)
        rows.append((stroke_words(curve.stroke, curve.position, unit), cells))
    return DamperTable("Slope, N·s/m, at mm/s", (f"<{split}", f">{split}"), tuple(rows))


def click_table(job: Job, of: SheetFigures, units: Units) -> DamperTable:
    """What a click or turn out changes of each stroke at every stated speed that was measured at two positions."""
    speeds = sorted({click.speed_mm_per_s for click in of.clicks})
    one = unit_turned(job, of.sheet).removesuffix("s")
    rows = []
    for stroke in STROKES:
        steps = {click.speed_mm_per_s: click.per_click_n for click in of.clicks if click.stroke == stroke}
        if steps:
            rows.append(
                (_SHORT[stroke], tuple(_cell(_minus(steps.get(speed)), units, signed=True) for speed in speeds))
            )
    return DamperTable(f"A {one} out, {unit_name(Kind.FORCE, units)}, at mm/s", _speeds(speeds), tuple(rows))


def _minus(figure: Figure | None) -> Figure | None:
    return figure if figure is None or figure.value is None else Figure(-figure.value)


def difference_table(
    job: Job, of: SheetFigures, before: int, differences: Sequence[ForceDifference], units: Units
) -> DamperTable:
    """One sheet beside an earlier one of the same damper: the change of force, for each curve that both have.

    Args:
        job: the job.
        of: what the later sheet says.
        before: which the earlier one is, counted from 0.
        differences: by how much they differ.
        units: units to show.
    """
    speeds = sorted({one.speed_mm_per_s for one in differences})
    unit = unit_turned(job, of.sheet)
    curves: dict[tuple[Stroke, float | None], dict[float, ForceDifference]] = {}
    for one in differences:
        curves.setdefault((one.stroke, one.position), {})[one.speed_mm_per_s] = one
    rows = tuple(
        (stroke_words(stroke, position, unit), tuple(_difference(found.get(speed), units) for speed in speeds))
        for (stroke, position), found in curves.items()
    )
    title = f"Change from sheet {before + 1}, {unit_name(Kind.FORCE, units)}, at mm/s"
    return DamperTable(title, _speeds(speeds), rows, tuple(_notes(differences)))


def _notes(differences: Sequence[ForceDifference]) -> Iterator[str]:
    if not differences:
        yield "No stroke and position was measured on both sheets."
    if any(one.beyond for one in differences):
        yield f"{BEYOND} more than the readings of both sheets scatter (95 %)."
    without = next((one.band_n for one in differences if not one.band_n.known), None)
    if without is not None:
        yield f"How far the readings scatter is not known. {clean(reason(without)).capitalize()}."


def stroke_words(stroke: Stroke, position: float | None, unit: str) -> str:
    """One stroke at one position.

    >>> stroke_words("rebound", 8.0, "clicks"), stroke_words("compression", None, "clicks")
    ('Rebound, 8 clicks', 'Comp.')
    """
    return _SHORT[stroke] + ("" if position is None else f", {counted(position, unit)}")


def _speeds(speeds: Sequence[float]) -> tuple[str, ...]:
    return tuple(show(speed, Kind.COUNT) for speed in speeds)


def _difference(one: ForceDifference | None, units: Units) -> str:
    if one is None:
        return NONE
    return _cell(Figure(one.difference_n), units, signed=True) + BEYOND * one.beyond


def _cell(figure: Figure | None, units: Units, *, signed: bool = False) -> str:
    if figure is None or figure.value is None:
        return NONE
    size = show(abs(figure.value), Kind.FORCE, units).split(" ")[0]
    if not size.strip("0."):
        return size
    return f"{MINUS if figure.value < 0 else '+' if signed else ''}{size}"


def _number(value: float) -> str:
    return f"{value:.0f}".replace("-", MINUS)
