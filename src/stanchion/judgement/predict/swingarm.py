"""The swingarm as measured, and turned to another state of the machine."""

from __future__ import annotations

from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import Job, Path
from stanchion.judgement.predict.arm_line import measured_line
from stanchion.judgement.predict.geometry import GeometryState, geometry_figures, swingarm_measured_in
from stanchion.judgement.results.assessment import GeometryFigures
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.mechanics.swingarm import Arm, moved

_THEN: dict[Path, Path] = {
    ("front", "fork_height_mm"): ("swingarm", "fork_height_mm"),
    ("rear", "length_adjuster_mm"): ("swingarm", "length_adjuster_mm"),
}
_SPROCKET = ("sprocket_up_mm", "sprocket_ahead_mm")


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
    line = measured_line(job)
    if isinstance(line, Figure) and line.problem:
        return line
    needed = [recorded(getattr(job.swingarm, name), ("swingarm", name)) for name in _SPROCKET]
    needed.append(recorded(job.geometry.rear_radius_mm, ("geometry", "rear_radius_mm")))
    known = derive(lambda *_: 0.0, *((line,) if isinstance(line, Figure) else ()), *needed)
    if isinstance(line, Figure) or not known.known:
        return known
    up_mm, ahead_mm, radius_mm = (one.value or 0.0 for one in needed)
    arm = Arm(length_mm=line.length_mm, down_deg=line.down_deg, sprocket_ahead_mm=0.0, sprocket_above_mm=0.0)
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
    stood = swingarm_measured_in(job)
    return None if stood is None else geometry_figures(*stood, motion_ratio)
