"""The line from swingarm pivot to rear axle: as measured, and turned to how the machine stood when the geometry was.

On its arc about the pivot the axle goes back or forward while it goes up or down, which the wheelbase follows.
"""

from __future__ import annotations

from collections.abc import Callable

from stanchion.base.errors import OutOfRange
from stanchion.job.model import Job
from stanchion.judgement.results.assessment import GeometryFigures
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.mechanics.swingarm import ArmLine, arm_down, line_before


def measured_line(job: Job) -> ArmLine | Figure:
    """The line as it was measured, below level ground; where something is missing, an absent figure that says what.

    Args:
        job: the job.
    """
    length, pivot, by_gauge = (
        recorded(getattr(job.swingarm, name), ("swingarm", name))
        for name in ("pivot_to_axle_mm", "pivot_up_mm", "arm_down_deg")
    )
    radius = recorded(job.geometry.rear_radius_mm, ("geometry", "rear_radius_mm"))
    if pivot.known or not by_gauge.known:
        down = derive(lambda of, up_mm, axle_mm: arm_down(of, up_mm - axle_mm), length, pivot, radius)
    else:
        down = by_gauge
    known = derive(lambda *_: 0.0, length, down)
    if not known.known:
        return absent("arm_reaches_not") if known.problem == "out_of_range" else known
    return ArmLine(length_mm=length.value or 0.0, down_deg=down.value or 0.0)


def line_at_geometry(job: Job, stood: Callable[[ArmLine], GeometryFigures] | None) -> ArmLine | None:
    """The line as the machine stood when its geometry was measured; None where it is not known.

    Args:
        job: the job.
        stood: how the machine stood, against the geometry, when the swingarm was measured, by the line then sought;
            None: as the geometry was.
    """
    measured = measured_line(job)
    if isinstance(measured, Figure):
        return None
    if stood is None:
        return measured

    def since(line: ArmLine) -> tuple[float, float] | None:
        then = stood(line)
        pitch_deg, rise_mm = then.pitch_deg.value, then.rear_rise_mm.value
        return None if pitch_deg is None or rise_mm is None else (pitch_deg, rise_mm)

    try:
        return line_before(measured, since)
    except OutOfRange:
        return None
