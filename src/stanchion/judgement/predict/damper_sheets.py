"""What the damper sheets of a job say: force, damping, what a click does, and one sheet beside another.

Worked out when it is asked for; the assessment of a job does not hold it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stanchion.job.edit import value_at
from stanchion.job.model import Clicker, DamperCurve, DamperSheet, Job, Path
from stanchion.judgement.criteria.thresholds import LOW_SPEED_MM_PER_S, STATED_SPEEDS_MM_PER_S
from stanchion.judgement.ends.outside import outside_mpa
from stanchion.judgement.ends.shock_gas import gas_of
from stanchion.judgement.predict.damper_gas import gas_beside, gas_by_strokes, usable
from stanchion.judgement.results.dampers import (
    STROKES,
    ClickFigures,
    CurveFigures,
    Damper,
    ForceDifference,
    ForceFigures,
    SheetFigures,
    Stroke,
)
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.mechanics.damper import (
    equivalent_damping,
    force_at,
    force_at_position,
    per_click,
    position_of_force,
    repeatability_band,
    slope_between,
)


def sheet_figures(job: Job, at: int) -> SheetFigures:
    """What one damper sheet says.

    Args:
        job: the job.
        at: which of its sheets, counted from 0.
    """
    sheet = job.damper_sheets[at]
    gas = _gas(job, at)
    ordered = sorted(filter(usable, sheet.curves), key=lambda one: (STROKES.index(_stroke(one)), one.position or 0.0))
    curves = tuple(_curve(one, gas.value or 0.0) for one in ordered)
    return SheetFigures(
        sheet=sheet, gas_n=gas, gas_beside=gas_beside(job, sheet, gas), curves=curves, clicks=tuple(_clicks(curves))
    )


def latest_sheet(job: Job, damper: Damper) -> SheetFigures | None:
    """What the latest sheet of a damper says; None where it has none. One of both legs stands for each of them."""
    wanted = (damper, "front") if damper in ("left", "right") else (damper,)
    for name in wanted:
        for at in reversed(range(len(job.damper_sheets))):
            if job.damper_sheets[at].damper == name:
                return sheet_figures(job, at)
    return None


def adjuster_path(sheet: DamperSheet) -> Path:
    """The adjuster whose positions the curves of a sheet have.

    >>> adjuster_path(DamperSheet(damper="rear", turned="compression"))
    ('rear', 'low_speed_compression')
    """
    if sheet.damper == "rear":
        return ("rear", "low_speed_compression" if sheet.turned == "compression" else sheet.turned)
    return ("front", "right" if sheet.damper == "right" else "left", sheet.turned)


def force_as_set(job: Job, of: SheetFigures | None, stroke: Stroke, speed_mm_per_s: float) -> Figure:
    """Force against the motion at a speed by a sheet, with the adjuster where it stands now [N]."""
    if of is None:
        return absent("no_damper_sheet")
    by_estimate = of.gas_n.estimate or not of.gas_n.known
    known = _over_positions(of.of(stroke), speed_mm_per_s)
    if not known:
        return absent("speed_not_measured" if of.of(stroke) else "stroke_not_measured")
    positions, forces = [at for at, _ in known], [force for _, force in known]
    if len(known) == 1 and of.of(stroke)[0].position is None:
        return Figure(forces[0], estimate=by_estimate)
    now = position_now(job, of.sheet)
    if now.value is None:
        return now
    force = derive(lambda at: force_at_position(positions, forces, at), now)
    return Figure(force.value, estimate=by_estimate) if force.known else absent("position_not_measured")


def damping_as_set(job: Job, of: SheetFigures | None, stroke: Stroke, speed_mm_per_s: float) -> Figure:
    """Damping coefficient at a speed by a sheet, with the adjuster where it stands now [N·s/m]."""
    force = force_as_set(job, of, stroke, speed_mm_per_s)
    return derive(lambda newtons: equivalent_damping(newtons, speed_mm_per_s), force)


def position_now(job: Job, sheet: DamperSheet) -> Figure:
    """Where the adjuster that a sheet was taken of stands now."""
    path = adjuster_path(sheet)
    adjuster = value_at(job, path)
    return recorded(adjuster.now if isinstance(adjuster, Clicker) else None, (*path, "now"))


def position_for(job: Job, of: SheetFigures | None, factor: float, speed_mm_per_s: float) -> Figure:
    """Position of the adjuster that was turned at which its stroke's force is so many times what it is now, within the
    positions measured.

    Args:
        job: the job.
        of: what the sheet says; None: there is none.
        factor: force wanted over the force now, > 0.
        speed_mm_per_s: the speed at which both are compared.
    """
    if of is None:
        return absent("no_damper_sheet")
    now = force_as_set(job, of, of.turned, speed_mm_per_s)
    if not now.known:
        return now
    known = _over_positions(of.of(of.turned), speed_mm_per_s)
    if len(known) < len(("one", "other")):
        return absent("one_position")
    positions, forces = [at for at, _ in known], [force for _, force in known]
    found = derive(lambda force: position_of_force(positions, forces, force * factor), now)
    return found if found.known else absent("not_in_click_map")


def sheets_compared(job: Job, at: int) -> tuple[int, tuple[ForceDifference, ...]] | None:
    """A sheet over the one before it of the same damper: which that is, and where both were measured by how much they
    differ; None where it is the first of its damper.

    Args:
        job: the job.
        at: which sheet, counted from 0.
    """
    damper = job.damper_sheets[at].damper
    before = next((i for i in reversed(range(at)) if job.damper_sheets[i].damper == damper), None)
    if before is None:
        return None
    return before, tuple(_differences(sheet_figures(job, before), sheet_figures(job, at)))


def _differences(one: SheetFigures, other: SheetFigures) -> Iterator[ForceDifference]:
    same_adjuster = one.sheet.turned == other.sheet.turned
    for curve in other.curves:
        for earlier in one.of(curve.stroke):
            if earlier.position != curve.position or not (same_adjuster or curve.position is None):
                continue
            for force in curve.at:
                then = _force(earlier, force.speed_mm_per_s)
                if then.value is None or force.force_n.value is None:
                    continue
                yield ForceDifference(
                    stroke=curve.stroke,
                    position=curve.position,
                    speed_mm_per_s=force.speed_mm_per_s,
                    force_n=force.force_n.value,
                    difference_n=force.force_n.value - then.value,
                    band_n=_band(earlier, curve, force.speed_mm_per_s),
                )


def _band(one: CurveFigures, other: CurveFigures, speed: float) -> Figure:
    if not one.spreads_n or not other.spreads_n:
        return absent("single_force_readings")
    spreads = (Figure(force_at(of.speeds_mm_per_s, of.spreads_n, speed)) for of in (one, other))
    return derive(repeatability_band, *spreads)


def _stroke(curve: DamperCurve) -> Stroke:
    return "rebound" if curve.stroke == "rebound" else "compression"


def _gas(job: Job, at: int) -> Figure:
    sheet = job.damper_sheets[at]
    if sheet.gas == "removed":
        return Figure(0.0)
    if sheet.gas == "entered":
        return recorded(sheet.gas_n, ("damper_sheets", at, "gas_n"))
    if sheet.gas == "shock":
        return gas_of(job.rear, outside_mpa(job)).extended_n if sheet.damper == "rear" else absent("fork_has_no_gas")
    return gas_by_strokes(sheet).force_n


def _curve(of: DamperCurve, gas_n: float) -> CurveFigures:
    stroke = _stroke(of)
    way = 1.0 if stroke == "compression" else -1.0
    forces = tuple(way * (force - gas_n) for force in of.forces_n)
    speeds = of.speeds_mm_per_s
    spreads = of.spreads_n if len(of.spreads_n) == len(speeds) else ()

    def slope(low: float, high: float) -> Figure:
        found = derive(lambda: slope_between(speeds, forces, low, high))
        return found if found.known else absent("few_speeds")

    inside = [v for v in STATED_SPEEDS_MM_PER_S if speeds[0] <= v <= speeds[-1]]
    return CurveFigures(
        stroke=stroke,
        position=of.position,
        speeds_mm_per_s=speeds,
        forces_n=forces,
        spreads_n=spreads,
        at=tuple(_at(speeds, forces, v) for v in inside),
        low_n_s_per_m=slope(0.0, LOW_SPEED_MM_PER_S),
        high_n_s_per_m=slope(LOW_SPEED_MM_PER_S, speeds[-1]),
    )


def _at(speeds: Sequence[float], forces: Sequence[float], speed: float) -> ForceFigures:
    force = derive(lambda: force_at(speeds, forces, speed))
    damping = derive(lambda newtons: equivalent_damping(newtons, speed), force)
    return ForceFigures(speed_mm_per_s=speed, force_n=force, damping_n_s_per_m=damping)


def _force(curve: CurveFigures, speed: float) -> Figure:
    found = derive(lambda v: force_at(curve.speeds_mm_per_s, curve.forces_n, v), Figure(speed))
    return found if found.known else absent("speed_not_measured")


def _over_positions(curves: Sequence[CurveFigures], speed: float) -> list[tuple[float, float]]:
    """Position and force of each curve that was measured at that speed, in rising order of position."""
    found = {curve.position or 0.0: _force(curve, speed).value for curve in curves}
    return sorted((at, force) for at, force in found.items() if force is not None)


def _clicks(curves: Sequence[CurveFigures]) -> Iterator[ClickFigures]:
    for stroke in STROKES:
        of_stroke = [curve for curve in curves if curve.stroke == stroke and curve.position is not None]
        for speed in STATED_SPEEDS_MM_PER_S:
            known = _over_positions(of_stroke, speed)
            if len(known) > 1:
                positions, forces = tuple(at for at, _ in known), tuple(force for _, force in known)
                yield ClickFigures(
                    stroke=stroke,
                    speed_mm_per_s=speed,
                    positions=positions,
                    forces_n=forces,
                    per_click_n=derive(lambda p=positions, f=forces: per_click(p, f)),
                )
