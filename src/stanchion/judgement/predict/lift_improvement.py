"""What would make a height found by lifting better known: a higher block, or each reading taken again.

Worked out when it is asked for.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import Job, State
from stanchion.judgement.criteria.thresholds import BLOCK_STEP_MM, MOST_LIFT_DEG
from stanchion.judgement.predict.balance import lifted_readings
from stanchion.judgement.predict.lift_readings import LiftReading, by_line
from stanchion.judgement.results.assessment import Assessment
from stanchion.mechanics.mass_centre import Weighed, lift_angle, lifted_front_kg


@record(kw_only=True)
class LiftImprovement:
    """How well the height is known now, and how well it would be."""

    scatters: bool
    """Whether the readings scatter more than scales and tape explain."""
    again_mm: float
    """Expanded uncertainty with each block read once more."""
    raised_mm: float | None
    """A higher block; None where the front is as high as it should go."""
    higher_mm: float | None
    """Expanded uncertainty with it too."""


def lift_improvement(job: Job, assessment: Assessment, state: State) -> LiftImprovement | None:
    """What would make the height in one state better known; None where it was not found by lifting.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        state: which state.
    """
    found = lifted_readings(job, assessment, state)
    if found is None:
        return None
    level, readings = found
    height = by_line(level, readings)
    raised_mm = max(one.raised_mm for one in readings) + BLOCK_STEP_MM
    try:
        safe = lift_angle(raised_mm, level.wheelbase_mm, level.front_radius_mm, level.rear_radius_mm) <= MOST_LIFT_DEG
    except OutOfRange:
        safe = False
    return LiftImprovement(
        scatters=math.isfinite(height.uncertainty.freedom),
        again_mm=_expanded(level, [*readings, *readings]),
        raised_mm=raised_mm if safe else None,
        higher_mm=_expanded(level, [*readings, _on_the_line(level, height.height_mm, raised_mm)]) if safe else None,
    )


def _expanded(level: Weighed, readings: Sequence[LiftReading]) -> float:
    return by_line(level, readings).uncertainty.expanded


def _on_the_line(level: Weighed, height_mm: float, raised_mm: float) -> LiftReading:
    return LiftReading(-1, raised_mm, lifted_front_kg(level, height_mm, raised_mm))
