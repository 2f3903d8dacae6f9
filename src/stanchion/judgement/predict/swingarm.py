"""The swingarm as measured, and turned to another state of the machine."""

from __future__ import annotations

from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import Job, Path
from stanchion.judgement.predict.geometry import GeometryState, geometry_figures
from stanchion.judgement.results.assessment import GeometryFigures
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.mechanics.swingarm import Arm, arm_down, moved

_THEN: dict[Path, Path] = {
    ("front", "fork_height_mm"): ("swingarm", "fork_height_mm"),
    ("rear", "length_adjuster_mm"): ("swingarm", "length_adjuster_mm"),
}
_FIELDS = ("pivot_to_axle_mm", "pivot_up_mm", "arm_down_deg", "sprocket_up_mm", "sprocket_ahead_mm")


@record
class TurnedArm:
    """A swingarm in one state of the machine."""

    arm: Arm
    estimate: bool
    """Whether where it stands rests on an estimate."""


def measured_arm(job: Job) -> Arm | Figure:
    """The swingarm as it was measured; where something is missing, an absent figure that says what.

    Args:
        job: the job.
    """
    length, pivot, by_gauge, up, ahead = (recorded(getattr(job.swingarm, name), ("swingarm", name)) for name in _FIELDS)
    radius = recorded(job.geometry.rear_radius_mm, ("geometry", "rear_radius_mm"))
    if pivot.known or not by_gauge.known:
        down = derive(lambda of, up_mm, axle_mm: arm_down(of, up_mm - axle_mm), length, pivot, radius)
    else:
        down = by_gauge
    needed = (length, down, up, ahead, radius)
    known = derive(lambda *_: 0.0, *needed)
    if not known.known:
        return absent("arm_reaches_not") if known.problem == "out_of_range" else known
    length_mm, down_deg, up_mm, ahead_mm, radius_mm = (one.value or 0.0 for one in needed)
    arm = Arm(length_mm=length_mm, down_deg=down_deg, sprocket_ahead_mm=0.0, sprocket_above_mm=0.0)
    pivot_mm = radius_mm - arm.axle[1]
    return replace(arm, sprocket_ahead_mm=ahead_mm, sprocket_above_mm=up_mm - pivot_mm)


def arm_in(job: Job, at_state: GeometryState, motion_ratio: Figure) -> TurnedArm | Figure:
    """The swingarm in a state of the machine now, its axes level then; or an absent figure that says what is missing.

    It is turned back from the state it was measured in to that of the geometry, and from there to the state asked for.

    Args:
        job: the job.
        at_state: the state.
        motion_ratio: of the rear, needed only where the shock length was changed.
    """
    arm = measured_arm(job)
    if isinstance(arm, Figure):
        return arm
    then = _when_measured(job, motion_ratio)
    now = geometry_figures(job, at_state, motion_ratio)
    turns = [*(() if then is None else _turn(then)), *_turn(now)]
    known = derive(lambda *_: 0.0, *turns)
    if not known.known:
        return replace(known, needs=tuple(_THEN.get(path, path) if then is not None else path for path in known.needs))
    try:
        if then is not None:
            arm = moved(arm, pitch_deg=-(then.pitch_deg.value or 0.0))
            arm = moved(arm, axle_lower_mm=-(then.rear_rise_mm.value or 0.0))
        arm = moved(arm, axle_lower_mm=now.rear_rise_mm.value or 0.0, pitch_deg=now.pitch_deg.value or 0.0)
    except OutOfRange:
        return absent("arm_reaches_not")
    return TurnedArm(arm, known.estimate)


def _turn(of: GeometryFigures) -> tuple[Figure, Figure]:
    return of.pitch_deg, of.rear_rise_mm


def _when_measured(job: Job, motion_ratio: Figure) -> GeometryFigures | None:
    """How the machine stood, against the geometry, when the swingarm was measured; None: as the geometry was."""
    arm = job.swingarm
    if arm.measured == "geometry":
        return None
    stood = replace(
        job,
        front=replace(job.front, fork_height_mm=arm.fork_height_mm),
        rear=replace(job.rear, length_adjuster_mm=arm.length_adjuster_mm),
    )
    state = GeometryState(
        state=arm.measured,
        front_sag_mm=recorded(arm.front_sag_mm, ("swingarm", "front_sag_mm")),
        rear_sag_mm=recorded(arm.rear_sag_mm, ("swingarm", "rear_sag_mm")),
        front_from="captured",
        rear_from="captured",
    )
    return geometry_figures(stood, state, motion_ratio)
