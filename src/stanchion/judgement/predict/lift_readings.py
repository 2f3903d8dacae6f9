"""Which reading with the front lifted is in doubt: it goes the wrong way, fits no machine, or is off the line.

A height that rests on such readings is not given, and nothing on the brakes is computed from it.
"""

from __future__ import annotations

from collections.abc import Sequence

from stanchion.base.record import record
from stanchion.job.model import Path, State
from stanchion.judgement.criteria.thresholds import (
    HEIGHT_TO_EXPECT_MM,
    LEAST_LIFT_DEG,
    MOST_HEIGHT_UNCERTAINTY_MM,
    SCALE_UNCERTAINTY_KG,
    TAPE_DIVISION_MM,
)
from stanchion.judgement.results.codes import BalanceCode
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.mechanics.mass_centre import MassHeight, Weighed, height_by_lifting, off_the_line
from stanchion.mechanics.statistics import resolution_uncertainty

SCALE_NAMES: dict[State, str] = {"static": "alone_kg", "rider": "aboard_kg"}
"""The field of the front scale with the front lifted, by state."""
_LEVEL_NAMES: dict[State, str] = {"static": "front_alone_kg", "rider": "front_aboard_kg"}


@record
class LiftReading:
    """A reading of the front scale with the front lifted."""

    at: int
    """Which row of the job it is in."""
    raised_mm: float
    front_kg: float


def by_line(level: Weighed, readings: Sequence[LiftReading]) -> MassHeight:
    """Height of the centre of mass by these readings.

    Args:
        level: the machine level.
        readings: the readings, one at least.

    Raises:
        OutOfRange: a block or a reading outside its range.
    """
    return height_by_lifting(
        level,
        [(one.raised_mm, one.front_kg) for one in readings],
        SCALE_UNCERTAINTY_KG,
        resolution_uncertainty(TAPE_DIVISION_MM),
    )


def doubt_of(level: Weighed, readings: Sequence[LiftReading], state: State, *, weighed: bool) -> Finding | None:
    """The finding that questions a height by lifting; None where there is nothing to question.

    Args:
        level: the machine level.
        readings: the readings of that state, one at least.
        state: which state.
        weighed: whether the level weights were weighed, and not estimated.

    Raises:
        OutOfRange: a block or a reading outside its range.
    """
    by_itself = [by_line(level, [one]) for one in readings]
    low, high = HEIGHT_TO_EXPECT_MM[state]
    together = by_line(level, readings)
    out = [max(low - _most(one), _least(one) - high) for one in by_itself]
    worst = max(range(len(readings)), key=lambda at: out[at])
    if out[worst] > 0.0:
        wrong_way = weighed and readings[worst].front_kg > level.front_kg and _most(by_itself[worst]) < low
        return _finding(
            "lift_reads_more" if wrong_way else "lift_height_unlikely",
            state,
            readings[worst],
            level_kg=level.front_kg,
            height_mm=max(0.0, by_itself[worst].height_mm),
        )
    expanded_mm = together.uncertainty.expanded
    if expanded_mm > MOST_HEIGHT_UNCERTAINTY_MM:
        return _too_uncertain(level, readings, state, together)
    if not low <= together.height_mm <= high:
        return _finding(
            "lift_height_unlikely", state, readings[worst], level_kg=level.front_kg, height_mm=together.height_mm
        )
    return None


def _least(height: MassHeight) -> float:
    return height.height_mm - height.uncertainty.expanded


def _most(height: MassHeight) -> float:
    return height.height_mm + height.uncertainty.expanded


def _too_uncertain(
    level: Weighed, readings: Sequence[LiftReading], state: State, together: MassHeight
) -> Finding | None:
    """The finding on a height that is not known well enough: by one reading, by all, or by too low a block."""
    expanded_mm = together.uncertainty.expanded
    steepest = max(readings, key=lambda one: one.raised_mm)
    if together.steepest_deg < LEAST_LIFT_DEG:
        return _finding("lift_too_low", state, steepest, doubt_mm=expanded_mm, lifted_deg=together.steepest_deg)
    off = off_the_line(level, [(one.raised_mm, one.front_kg) for one in readings])
    if off is None:
        return _finding("lifts_scatter", state, steepest, doubt_mm=expanded_mm)
    if off.at < 0:
        values: dict[str, object] = {"weighed_in": state, "front_kg": level.front_kg, "expected_kg": off.expected_kg}
        return Finding("level_off_line", Severity.WARNING, ("weights", _LEVEL_NAMES[state]), values)
    return _finding("lift_off_line", state, readings[off.at], expected_kg=off.expected_kg)


def _finding(code: BalanceCode, state: State, reading: LiftReading, **values: object) -> Finding:
    low, high = HEIGHT_TO_EXPECT_MM[state]
    where: Path = ("balance", "lifts", reading.at, SCALE_NAMES[state])
    known = {
        "weighed_in": state,
        "raised_mm": reading.raised_mm,
        "front_kg": reading.front_kg,
        "low_mm": low,
        "high_mm": high,
    }
    return Finding(code, Severity.WARNING, where, {**known, **values})
