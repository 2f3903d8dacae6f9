"""The machine from the side in each of its states: alone, rider aboard, on the brakes, on the gas.

Worked out when it is asked for; the assessment of a job does not hold it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.job.model import ENDS, STATES, Job
from stanchion.judgement.ends.linkage_places import linkage_places
from stanchion.judgement.predict.balance import wheel_weights
from stanchion.judgement.predict.brakes import brakes_figures
from stanchion.judgement.predict.chain import chain_pitch
from stanchion.judgement.predict.gas import gas_figures
from stanchion.judgement.predict.geometry import (
    EXTENDED,
    GeometryState,
    geometry_figures,
    marked_by_doubt,
    state_with_sags,
)
from stanchion.judgement.predict.side_points import arm_points, linkage_parts, side_points
from stanchion.judgement.predict.swingarm import arm_in
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.balance import Braking
from stanchion.judgement.results.figures import Figure, derive, recorded
from stanchion.judgement.results.side import RIDING, SidePart, SideState, Standing
from stanchion.mechanics.chain import pitch_radius
from stanchion.mechanics.geometry import Baseline
from stanchion.mechanics.linkage_points import position_at
from stanchion.mechanics.swingarm import Arm

_LEG = 1.75
"""Length of the leg that is drawn with the wheel hanging, in radii of the front tyre: where the yokes are is not
recorded."""
_NOTHING = Figure()
_DOUBTS = ("captured_old", "predicted_doubted")


def _standing(job: Job, assessment: Assessment) -> tuple[SideState, ...]:
    """The states at rest that can be drawn: alone and with the rider; with both wheels hanging where no sag is known.

    Args:
        job: the job.
        assessment: what assess() gave for it.
    """
    ratio = assessment.rear.motion_ratio
    found = (state_with_sags(assessment.sag, assessment.predicted.sag, state) for state in STATES)
    at_rest = tuple(_drawable(job, ratio, (_at_rest(job, assessment, state) for state in found if state is not None)))
    return at_rest or tuple(_drawable(job, ratio, [_at_rest(job, assessment, EXTENDED)]))


def side_states(
    job: Job, assessment: Assessment, *, riding: Sequence[Standing] = RIDING, braking: Braking | None = None
) -> tuple[SideState, ...]:
    """Every state that can be drawn, at rest first.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        riding: which of the states in which it brakes or drives.
        braking: the deceleration to look at; None: as entered, else the usual one.
    """
    standing = _standing(job, assessment)
    if not standing:
        return standing
    ridden = (
        _braking(job, assessment, braking) if state == "brakes" else _driving(job, assessment) for state in riding
    )
    return (*standing, *_drawable(job, assessment.rear.motion_ratio, ridden))


def _drawable(job: Job, motion_ratio: Figure, states: Iterable[SideState]) -> Iterator[SideState]:
    """The states with their points, without those of which too little is known."""
    for state in states:
        parts = _parts(job, state)
        if parts:
            yield replace(state, parts=(*parts, *_arm(job, motion_ratio, state)))


def _at_rest(job: Job, assessment: Assessment, state: GeometryState) -> SideState:
    geometry = geometry_figures(job, state, assessment.rear.motion_ratio)
    doubted = [end for end in ENDS if assessment.predicted.end(end).doubted]
    marked = marked_by_doubt(state, doubted)
    codes = (marked.front_from, marked.rear_from)
    weights = None
    if state.state != "extended":
        weights = wheel_weights(job, assessment, "rider" if state.state == "rider" else "static")
    return SideState(
        state="extended" if weights is None else "rider" if state.state == "rider" else "static",
        marks=tuple(code for code in _DOUBTS if code in codes),
        rake_deg=geometry.rake_deg,
        trail_mm=geometry.trail_mm,
        wheelbase_mm=geometry.wheelbase_mm,
        fork_used_mm=state.front_sag_mm,
        rear_used_mm=state.rear_sag_mm,
        front_kg=_NOTHING if weights is None else weights.front_kg,
        rear_kg=_NOTHING if weights is None else weights.rear_kg,
        ahead_mm=_NOTHING if weights is None else weights.ahead_mm,
        height_mm=_NOTHING if weights is None else weights.height_mm,
    )


def _braking(job: Job, assessment: Assessment, braking: Braking | None) -> SideState:
    """On the brakes, with the air of the fork squeezed slowly."""
    brakes = brakes_figures(job, assessment, with_ends=False, braking=braking)
    slow = brakes.slow
    return SideState(
        state="brakes",
        at_g=brakes.braking.slow_g,
        as_ridden=brakes.braking.source == "ridden",
        rake_deg=slow.rake_deg,
        trail_mm=slow.trail_mm,
        wheelbase_mm=slow.wheelbase_mm,
        fork_used_mm=slow.fork_used_mm,
        rear_used_mm=slow.rear_used_mm,
        front_kg=slow.front_kg,
        rear_kg=slow.rear_kg,
        ahead_mm=slow.ahead_mm,
        height_mm=slow.height_mm,
    )


def _driving(job: Job, assessment: Assessment) -> SideState:
    """On the gas."""
    gas = gas_figures(job, assessment, whole=False)
    return SideState(
        state="gas",
        at_g=gas.acceleration_g,
        rake_deg=gas.rake_deg,
        trail_mm=gas.trail_mm,
        wheelbase_mm=gas.wheelbase_mm,
        fork_used_mm=gas.fork_used_mm,
        rear_used_mm=gas.rear_used_mm,
        front_kg=gas.front_kg,
        rear_kg=gas.rear_kg,
        ahead_mm=gas.ahead_mm,
        height_mm=gas.height_mm,
    )


def _arm(job: Job, motion_ratio: Figure, state: SideState) -> tuple[SidePart, ...]:
    """Swingarm and chain in a state; none where they are not known."""
    radius_mm = job.geometry.rear_radius_mm
    ends = GeometryState(
        state=state.state,
        front_sag_mm=state.fork_used_mm,
        rear_sag_mm=state.rear_used_mm,
        front_from="captured",
        rear_from="captured",
    )
    turned = arm_in(job, ends, motion_ratio)
    if isinstance(turned, Figure) or radius_mm is None:
        return ()
    pitch = chain_pitch(job)
    front, rear = (
        derive(pitch_radius, pitch, recorded(getattr(job.upkeep, name), ("upkeep", name)))
        for name in ("front_teeth", "rear_teeth")
    )
    both = None if front.value is None or rear.value is None else (front.value, rear.value)
    return (*arm_points(turned.arm, radius_mm, both), *_linkage(job, turned.arm, radius_mm, state))


def _linkage(job: Job, arm: Arm, radius_mm: float, state: SideState) -> Iterator[SidePart]:
    """Shock, rocker and link in a state; none where their points are not read, or the linkage does not reach there.

    The points count from the frame as it stood when the geometry was measured.
    """
    points = linkage_places(job.rear, arm.length_mm).points
    rake, measured = state.rake_deg.value, job.geometry.rake_deg
    if points is None or rake is None or measured is None:
        return
    pitch_deg = measured - rake
    read_down = math.degrees(math.atan2(-points.axle[1], -points.axle[0]))
    found = position_at(points, math.radians(read_down - arm.down_deg - pitch_deg))
    if found is not None:
        back, low = arm.axle
        yield from linkage_parts(found, (-back, radius_mm - low), pitch_deg)


def _parts(job: Job, state: SideState) -> tuple[SidePart, ...]:
    """The points of a state; none where something is missing, or it cannot be drawn."""
    measured = job.geometry
    offset, front_radius, rear_radius = measured.offset_mm, measured.front_radius_mm, measured.rear_radius_mm
    rake, wheelbase, used = state.rake_deg.value, state.wheelbase_mm.value, state.fork_used_mm.value
    if (
        offset is None
        or front_radius is None
        or rear_radius is None
        or rake is None
        or wheelbase is None
        or used is None
    ):
        return ()
    ahead, up = state.ahead_mm.value, state.height_mm.value
    try:
        stands = Baseline(
            rake_deg=rake,
            offset_mm=offset,
            wheelbase_mm=wheelbase,
            front_radius_mm=front_radius,
            rear_radius_mm=rear_radius,
        )
        return side_points(stands, _LEG * front_radius - used, None if ahead is None or up is None else (ahead, up))
    except OutOfRange:
        return ()
