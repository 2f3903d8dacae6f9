"""The gas in the forces of a damper sheet: by the mean of both strokes, and by the shock's pressure beside it."""

from __future__ import annotations

import math

from stanchion.base.record import record
from stanchion.job.model import DamperCurve, DamperSheet, Job, Rear
from stanchion.judgement.criteria.thresholds import (
    CALIPER_OFF_MM,
    GAS_BY_MEAN_MM_PER_S,
    PRESSURE_OFF,
    PRESSURE_READING_BAR,
)
from stanchion.judgement.ends.outside import outside_mpa
from stanchion.judgement.ends.shock_gas import gas_of
from stanchion.judgement.results.dampers import STROKES, GasBeside
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.mechanics.damper import force_at, gas_by_mean
from stanchion.mechanics.statistics import NORMAL, combine, limits_uncertainty


@record
class GasByStrokes:
    """The gas force as the mean of both strokes at one low speed."""

    force_n: Figure
    standard_n: float = 0.0
    """Standard uncertainty by the scatter of the readings [N]; 0 where these are single ones."""


def usable(curve: DamperCurve) -> bool:
    """Whether its speeds rise and each has a force; a file edited by hand may hold others."""
    speeds = curve.speeds_mm_per_s
    return bool(speeds) and len(speeds) == len(curve.forces_n) and list(speeds) == sorted(set(speeds))


def gas_by_strokes(sheet: DamperSheet) -> GasByStrokes:
    """By the curves that were measured slowest in both strokes at one position."""
    curves = [one for one in sheet.curves if usable(one)]
    both = [
        (max(one.speeds_mm_per_s[0], other.speeds_mm_per_s[0]), one, other)
        for one in curves
        for other in curves
        if (one.stroke, other.stroke) == STROKES and one.position == other.position
    ]
    if not both:
        return GasByStrokes(absent("one_stroke"))
    slowest = min(speed for speed, _, _ in both)
    if slowest > GAS_BY_MEAN_MM_PER_S:
        return GasByStrokes(absent("not_slow_enough"))
    pairs = [(one, other) for speed, one, other in both if speed == slowest]
    means = [derive(gas_by_mean, *(_raw(of, slowest) for of in pair)) for pair in pairs]
    known = [mean.value for mean in means if mean.value is not None]
    if known and min(known) < 0.0:
        return GasByStrokes(absent("mean_below_zero"))
    if not known:
        return GasByStrokes(means[0])
    spread = combine(*(_spread(of, slowest) for pair in pairs for of in pair))
    return GasByStrokes(Figure(sum(known) / len(known), estimate=True), spread / (2.0 * len(pairs)))


def gas_beside(job: Job, sheet: DamperSheet, taken_out: Figure) -> GasBeside | None:
    """The gas force of a shock by the other way: by its pressure, and where that is taken out by the mean of both
    strokes; None where not both are known, or where the file had no gas in it.

    Args:
        job: the job.
        sheet: one of its sheets.
        taken_out: the gas force taken out.
    """
    if sheet.damper != "rear" or sheet.gas == "removed" or taken_out.value is None:
        return None
    by_pressure, by_strokes = gas_of(job.rear, outside_mpa(job)).extended_n, gas_by_strokes(sheet)
    other = by_strokes.force_n if sheet.gas == "shock" else by_pressure
    if other.value is None or by_pressure.value is None:
        return None
    scatter_n = 0.0 if sheet.gas == "entered" else by_strokes.standard_n
    standard_n = combine(by_pressure.value * _share_off(job.rear), scatter_n)
    return GasBeside(
        force_n=other,
        by_pressure=sheet.gas != "shock",
        expanded_n=NORMAL * standard_n,
        apart_n=other.value - taken_out.value,
    )


def _share_off(rear: Rear) -> float:
    """Standard uncertainty of pressure times area of the shaft, as a share of it: by the gauge and the caliper."""
    bar, shaft_mm = rear.gas_pressure_bar or 0.0, rear.shaft_mm or 0.0
    if bar == 0.0 or shaft_mm == 0.0:
        return 0.0
    gauge_bar = limits_uncertainty(max(PRESSURE_READING_BAR, PRESSURE_OFF * bar))
    return math.hypot(gauge_bar / bar, 2.0 * limits_uncertainty(CALIPER_OFF_MM) / shaft_mm)


def _raw(curve: DamperCurve, speed: float) -> Figure:
    return derive(lambda v: force_at(curve.speeds_mm_per_s, curve.forces_n, v), Figure(speed))


def _spread(curve: DamperCurve, speed: float) -> float:
    """Standard deviation of its readings at a speed [N]; 0 where they are single ones."""
    if len(curve.spreads_n) != len(curve.speeds_mm_per_s):
        return 0.0
    return derive(lambda v: force_at(curve.speeds_mm_per_s, curve.spreads_n, v), Figure(speed)).value or 0.0
