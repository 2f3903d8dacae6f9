"""The machine from the side in each of its states: alone, rider aboard, on the brakes, on the gas.

Worked out when it is asked for; the assessment of a job does not hold it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.job.model import ENDS, STATES, Job
from stanchion.judgement.predict.balance import wheel_weights
from stanchion.judgement.predict.brakes import brakes_figures
from stanchion.judgement.predict.gas import gas_figures
from stanchion.judgement.predict.geometry import (
    EXTENDED,
    GeometryState,
    geometry_figures,
    marked_by_doubt,
    state_with_sags,
)
from stanchion.judgement.predict.side_points import side_points
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.side import SidePart, SideState
from stanchion.mechanics.geometry import Baseline

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
    found = (state_with_sags(assessment.sag, assessment.predicted.sag, state) for state in STATES)
    at_rest = tuple(_drawable(job, (_at_rest(job, assessment, state) for state in found if state is not None)))
    return at_rest or tuple(_drawable(job, [_at_rest(job, assessment, EXTENDED)]))


def side_states(job: Job, assessment: Assessment, *, riding: bool = True) -> tuple[SideState, ...]:
    """Every state that can be drawn, at rest first.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        riding: whether with the states in which it brakes or drives.
    """
    standing = _standing(job, assessment)
    return (*standing, *_drawable(job, _riding(job, assessment))) if standing and riding else standing


def _drawable(job: Job, states: Iterable[SideState]) -> Iterator[SideState]:
    """The states with their points, without those of which too little is known."""
    for state in states:
        parts = _parts(job, state)
        if parts:
            yield replace(state, parts=parts)


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


def _riding(job: Job, assessment: Assessment) -> Iterator[SideState]:
    """On the brakes and on the gas, with the air of the fork squeezed slowly."""
    brakes = brakes_figures(job, assessment, with_ends=False)
    slow = brakes.slow
    yield SideState(
        state="brakes",
        at_g=brakes.braking_g,
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
    gas = gas_figures(job, assessment, whole=False)
    yield SideState(
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
