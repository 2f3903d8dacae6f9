"""Steering geometry of the machine now, from a baseline measured in a known state.

Between two states each end moves by its change of sag, of fork height and of shock length; the exact tilt of the frame
gives the other figures. The tyres are taken to be those of the baseline.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import End, Geometry, Job, Path, PointsRead, State
from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.judgement.predict.arm_line import line_at_geometry, measured_line
from stanchion.judgement.results.assessment import GeometryFigures, SagFigures, Steering
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.mechanics.geometry import (
    Attitude,
    Baseline,
    attitude,
    front_rise,
    ground_trail,
    normal_trail,
    rear_rise,
)
from stanchion.mechanics.shock import length_adjuster_rise
from stanchion.mechanics.swingarm import ArmLine, axle_back, lowered

PredictedSags = Callable[[End, State], Figure]
"""Sag that is predicted at an end in a state."""

_ZERO = Figure(0.0)
_BEYOND_RAKE = ("offset_mm", "wheelbase_mm", "front_radius_mm", "rear_radius_mm", "front_sag_mm", "rear_sag_mm")


@record(kw_only=True)
class GeometryState:
    """The state that geometry is given for: the sag of both ends, and where each is from."""

    state: str
    """"rider", "static" or "extended"."""
    front_sag_mm: Figure
    """Along the leg."""
    rear_sag_mm: Figure
    """At the wheel."""
    front_from: str
    """"captured", "captured_old" (read with other springs or preload), "predicted" or "extended"."""
    rear_from: str


EXTENDED = GeometryState(
    state="extended", front_sag_mm=_ZERO, rear_sag_mm=_ZERO, front_from="extended", rear_from="extended"
)
"""Both wheels hanging."""


def state_for_geometry(captured: SagFigures, predicted: PredictedSags) -> GeometryState:
    """The state closest to how the machine is ridden: rider aboard, else machine alone, else extended.

    A captured sag is taken before a predicted one, and an old one last. A state counts only where both its sags are
    known.
    """
    states: tuple[State, State] = ("rider", "static")
    found = (state_with_sags(captured, predicted, state) for state in states)
    return next((one for one in found if one is not None), EXTENDED)


def state_with_sags(captured: SagFigures, predicted: PredictedSags, state: State) -> GeometryState | None:
    """A state with the sags of both ends; None where one is not known."""
    front, front_from = _sag(captured, predicted, "front", state)
    rear, rear_from = _sag(captured, predicted, "rear", state)
    if not (front.known and rear.known):
        return None
    return GeometryState(state=state, front_sag_mm=front, rear_sag_mm=rear, front_from=front_from, rear_from=rear_from)


def marked_by_doubt(at_state: GeometryState, doubted: Collection[End]) -> GeometryState:
    """The state, marked where its sag is predicted from what contradicts.

    Args:
        at_state: the state.
        doubted: the ends whose prediction is in doubt.
    """
    front, rear = (
        "predicted_doubted" if of == "predicted" and end in doubted else of
        for end, of in (("front", at_state.front_from), ("rear", at_state.rear_from))
    )
    return replace(at_state, front_from=front, rear_from=rear)


def shifted(at_state: GeometryState, front_mm: Figure, rear_mm: Figure) -> GeometryState:
    """The state with each end moved further into its travel: along the leg, and at the rear wheel."""
    return replace(
        at_state,
        front_sag_mm=derive(_plus, at_state.front_sag_mm, front_mm),
        rear_sag_mm=derive(_plus, at_state.rear_sag_mm, rear_mm),
    )


def _sag(captured: SagFigures, predicted: PredictedSags, end: End, state: State) -> tuple[Figure, str]:
    figures = captured.end(end).state(state)
    if figures.sag_mm.known and not figures.changed:
        return figures.sag_mm, "captured"
    foreseen = predicted(end, state)
    return (figures.sag_mm, "captured_old") if figures.sag_mm.known and not foreseen.known else (foreseen, "predicted")


def geometry_figures(job: Job, at_state: GeometryState, motion_ratio: Figure) -> GeometryFigures:
    """Geometry at the baseline and in a state of the machine now.

    Args:
        job: the baseline, and fork height and shock length now.
        at_state: the state to give it for.
        motion_ratio: at about ride height; needed only where the shock length was changed.

    Returns:
        Figures; those that cannot be computed are absent with what is missing.
    """
    return _figures(job, at_state, motion_ratio, line_at_geometry_of(job, motion_ratio))


def line_in(job: Job, at_state: GeometryState, motion_ratio: Figure) -> ArmLine | None:
    """The line from swingarm pivot to rear axle in a state of the machine now, below level ground; None: not known.

    Args:
        job: the job.
        at_state: the state.
        motion_ratio: as for geometry_figures.
    """
    line = line_at_geometry_of(job, motion_ratio)
    now = _figures(job, at_state, motion_ratio, line)
    pitch_deg, rise_mm = now.pitch_deg.value, now.rear_rise_mm.value
    if line is None or pitch_deg is None or rise_mm is None:
        return None
    try:
        there = lowered(line, rise_mm)
        return replace(there, down_deg=there.down_deg - pitch_deg)
    except OutOfRange:
        return None


def swingarm_measured_in(job: Job) -> tuple[Job, GeometryState] | None:
    """The machine and its state when the swingarm was measured; None: as the geometry was."""
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
    return stood, state


def line_at_geometry_of(job: Job, motion_ratio: Figure) -> ArmLine | None:
    """The line from swingarm pivot to axle as the machine stood when its geometry was measured: as the swingarm was
    measured, else as the points of its linkage have it; None: not known."""
    stood = swingarm_measured_in(job)
    measured = line_at_geometry(job, None if stood is None else lambda line: _figures(*stood, motion_ratio, line))
    if measured is not None or job.rear.points == PointsRead() or isinstance(measured_line(job), ArmLine):
        return measured
    from stanchion.judgement.ends.points_law import extended_line  # noqa: PLC0415 - few linkages are known by them

    if job.rear.link_mm is not None and not job.rear.by_points:  # then the geometry knows nothing of that link
        return None
    hanging = extended_line(job.rear, job.swingarm.pivot_to_axle_mm)
    rise_mm = _figures(job, EXTENDED, motion_ratio, None).rear_rise_mm.value
    if hanging is None or rise_mm is None:
        return None
    try:
        return lowered(hanging, -rise_mm)
    except OutOfRange:
        return None


def _figures(job: Job, at_state: GeometryState, motion_ratio: Figure, line: ArmLine | None) -> GeometryFigures:
    """The figures, the rear axle on its arc from where the line had it; straight up and down where there is none."""
    base, at = job.geometry, _figure_of(job.geometry)
    front_then, rear_then = _sag_then(base, "front_sag_mm"), _sag_then(base, "rear_sag_mm")
    height = change_of(
        job.front.fork_height_mm, ("front", "fork_height_mm"), base.fork_height_mm, ("geometry", "fork_height_mm")
    )
    length = change_of(
        job.rear.length_adjuster_mm,
        ("rear", "length_adjuster_mm"),
        base.length_adjuster_mm,
        ("geometry", "length_adjuster_mm"),
    )
    by_length = _ZERO if length.value == 0.0 else derive(length_adjuster_rise, length, motion_ratio)
    by_link = _ZERO
    if job.rear.by_points:
        from stanchion.judgement.ends.points_law import link_rise  # noqa: PLC0415 - few linkages are known by them

        by_link = link_rise(job.rear, None, job.swingarm.pivot_to_axle_mm)
    sag_change = derive(_less, at_state.front_sag_mm, front_then)
    shorter = derive(_plus, sag_change, height)
    lifted = derive(_plus, by_length, by_link)
    rear_up = derive(rear_rise, derive(_less, at_state.rear_sag_mm, rear_then), lifted)

    rake, offset, radius = at("rake_deg"), at("offset_mm"), at("front_radius_mm")
    needed = (rake, offset, at("wheelbase_mm"), radius, at("rear_radius_mm"), shorter, rear_up)
    attitude_now = _attitude(needed, line)
    now = _read_off(attitude_now, needed)
    return GeometryFigures(
        rake_deg=now("rake_deg"),
        trail_mm=now("trail_mm"),
        normal_trail_mm=now("normal_trail_mm"),
        wheelbase_mm=now("wheelbase_mm"),
        pitch_deg=now("pitch_deg"),
        front_rise_mm=derive(front_rise, sag_change, height, rake),
        rear_rise_mm=rear_up,
        state=at_state.state,
        front_from=at_state.front_from,
        rear_from=at_state.rear_from,
        baseline=Steering(
            rake_deg=rake,
            trail_mm=derive(ground_trail, radius, rake, offset),
            normal_trail_mm=derive(normal_trail, radius, rake, offset),
            wheelbase_mm=at("wheelbase_mm"),
        ),
        baseline_state=base.measured,
        entered=any(getattr(base, name) is not None for name in _BEYOND_RAKE),
    )


def geometry_findings(job: Job, figures: GeometryFigures) -> Iterator[Finding]:
    """Findings on the baseline, once anything of it is entered."""
    if not figures.entered:
        return
    base = job.geometry
    for name in ("front_sag_mm", "rear_sag_mm"):
        then = getattr(base, name)
        if base.measured == "extended" and then is not None and then > SLACK:
            yield Finding("geometry_sag_when_extended", Severity.WARNING, ("geometry", name), {"sag_mm": then})
    trail = figures.baseline.trail_mm.value
    if trail is not None and trail <= 0.0:
        yield Finding("trail_not_positive", Severity.WARNING, ("geometry",), {"trail_mm": trail})
    needs = dict.fromkeys(
        path
        for figure in (figures.baseline.trail_mm, figures.wheelbase_mm, figures.front_rise_mm)
        for path in figure.needs
    )
    if needs:
        yield Finding("missing", Severity.NOTE, ("geometry",), {"needs": tuple(needs)})


def _figure_of(base: Geometry) -> Callable[[str], Figure]:
    return lambda name: recorded(getattr(base, name), ("geometry", name))


def _sag_then(base: Geometry, name: str) -> Figure:
    return _ZERO if base.measured == "extended" else recorded(getattr(base, name), ("geometry", name))


def change_of(now: float | None, now_at: Path, then: float | None, then_at: Path) -> Figure:
    """How much a length has changed; 0 where it was recorded neither then nor now."""
    if now is None and then is None:
        return _ZERO
    return derive(_less, recorded(now, now_at), recorded(then, then_at))


def _less(a: float, b: float) -> float:
    return a - b


def _plus(a: float, b: float) -> float:
    return a + b


def _attitude(needed: tuple[Figure, ...], line: ArmLine | None) -> Attitude | None:
    rake, offset, wheelbase, front_radius, rear_radius, shorter, higher = (figure.value for figure in needed)
    if (
        rake is None
        or offset is None
        or wheelbase is None
        or front_radius is None
        or rear_radius is None
        or shorter is None
        or higher is None
    ):
        return None
    try:
        return attitude(
            Baseline(
                rake_deg=rake,
                offset_mm=offset,
                wheelbase_mm=wheelbase,
                front_radius_mm=front_radius,
                rear_radius_mm=rear_radius,
            ),
            front_shorter_mm=shorter,
            rear_lower_axle_mm=higher,
            rear_axle_back_mm=_axle_back(line, higher),
        )
    except OutOfRange:
        return None


def _axle_back(line: ArmLine | None, lower_mm: float) -> float:
    """How far back the axle goes on its arc; straight down where there is no arc, or the swingarm does not reach."""
    try:
        return 0.0 if line is None else axle_back(line, lower_mm)
    except OutOfRange:
        return 0.0


def _read_off(attitude_now: Attitude | None, needed: tuple[Figure, ...]) -> Callable[[str], Figure]:
    """The figures of an attitude by name; where there is no attitude, absent with what is missing."""
    if attitude_now is None:
        waiting = derive(lambda *known: len(known), *needed)
        nothing = absent("out_of_range") if waiting.known else waiting
        return lambda name: nothing
    estimate = any(figure.estimate for figure in needed)
    return lambda name: Figure(getattr(attitude_now, name), estimate=estimate)
