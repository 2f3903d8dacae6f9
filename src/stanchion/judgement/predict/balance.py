"""Weights on both wheels, and where the centre of mass lies: along by scales, up by lifting the front or judged.

Worked out when it is asked for; the assessment of a job does not hold it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from stanchion.base.record import record
from stanchion.job.model import STATES, Job, State
from stanchion.judgement.criteria.thresholds import (
    HEIGHT_TO_EXPECT_MM,
    TAPE_DIVISION_MM,
    USUAL_HEIGHT_MM,
)
from stanchion.judgement.ends.calibrated import corrected, scale_uncertainty_kg
from stanchion.judgement.ends.loads import loads_at
from stanchion.judgement.ends.other_rider import converted_from, weights_with_rider
from stanchion.judgement.predict.geometry import PredictedSags, geometry_figures, state_with_sags
from stanchion.judgement.predict.lift_readings import SCALE_NAMES, LiftReading, by_line, doubt_of
from stanchion.judgement.results.assessment import Assessment, SagFigures
from stanchion.judgement.results.balance import BalanceFigures, HeightFrom, WheelWeights
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.judgement.results.findings import Finding
from stanchion.mechanics.limits import G_N
from stanchion.mechanics.mass_centre import (
    Weighed,
    ahead_of_rear,
    ahead_uncertainty,
)
from stanchion.mechanics.statistics import resolution_uncertainty


def balance_figures(job: Job, assessment: Assessment) -> BalanceFigures:
    """Weights and centre of mass, machine alone and rider aboard.

    Args:
        job: the job.
        assessment: what assess() gave for it.
    """
    return BalanceFigures(states={state: wheel_weights(job, assessment, state) for state in STATES})


def wheel_weights(job: Job, assessment: Assessment, state: State) -> WheelWeights:
    """Weights and centre of mass in one state.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        state: which state.
    """
    of_scale_kg, job = scale_uncertainty_kg(job, state), corrected(job)
    front, rear, wheelbase = _level(job, assessment, state)
    tape_mm = resolution_uncertainty(TAPE_DIVISION_MM)
    scale_kg = Figure(of_scale_kg) if not (front.estimate or rear.estimate) else absent("loads_by_share")
    height = _height(job, state, front, rear, wheelbase)
    return WheelWeights(
        front_kg=front,
        rear_kg=rear,
        total_kg=derive(lambda f, r: f + r, front, rear),
        front_share_pct=derive(lambda f, r: 100.0 * f / (f + r) if f + r > 0.0 else math.nan, front, rear),
        ahead_mm=derive(ahead_of_rear, front, rear, wheelbase),
        ahead_expanded_mm=derive(
            lambda f, r, p, u: ahead_uncertainty(f, r, p, u, tape_mm).expanded, front, rear, wheelbase, scale_kg
        ),
        height_mm=height.mm,
        height_expanded_mm=height.expanded_mm,
        height_from=height.source,
        lifted_deg=height.lifted_deg,
    )


def lifted_readings(job: Job, assessment: Assessment, state: State) -> tuple[Weighed, tuple[LiftReading, ...]] | None:
    """The machine level and its readings with the front lifted; None where the height is not from them.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        state: which state.
    """
    job = corrected(job)
    return _height(job, state, *_level(job, assessment, state)).rests_on


def _level(job: Job, assessment: Assessment, state: State) -> tuple[Figure, Figure, Figure]:
    """Weights on both wheels, and the wheelbase."""
    front, rear = (_on_wheel(job, end, state) for end in ("front", "rear"))
    wheelbase = _wheelbase(job, assessment.sag, assessment.predicted.sag, assessment.rear.motion_ratio, state)
    return front, rear, wheelbase


def lift_findings(job: Job, captured: SagFigures, predicted: PredictedSags, motion_ratio: Figure) -> Iterator[Finding]:
    """The findings that question readings with the front lifted, one a state at most.

    Args:
        job: the job.
        captured: sags as measured.
        predicted: sags as predicted.
        motion_ratio: that of the rear.
    """
    for state in STATES:
        front, rear = (_on_wheel(job, end, state) for end in ("front", "rear"))
        wheelbase = _wheelbase(job, captured, predicted, motion_ratio, state)
        doubt = _height(job, state, front, rear, wheelbase).doubt
        if doubt is not None:
            yield doubt


def _on_wheel(job: Job, end: str, state: State) -> Figure:
    """What a scale under that wheel shows, or would show by masses and shares. A reading stands even where it
    contradicts a mass entered; nothing else is then given."""
    loads = loads_at(job, "front" if end == "front" else "rear")
    name = f"{end}_alone_kg" if state == "static" else f"{end}_aboard_kg"
    read_kg = getattr(job.weights, name)
    if loads.doubted and read_kg is not None and getattr(weights_with_rider(job), name) == read_kg:
        return Figure(read_kg)
    below_kg = loads.unsprung_kg or 0.0
    return derive(lambda load_n: load_n / G_N + below_kg, loads.believed.load(state))


def _wheelbase(job: Job, captured: SagFigures, predicted: PredictedSags, motion_ratio: Figure, state: State) -> Figure:
    """Wheelbase as the machine stands in that state; where that is not known, as measured."""
    measured = recorded(job.geometry.wheelbase_mm, ("geometry", "wheelbase_mm"))
    stands = state_with_sags(captured, predicted, state)
    if stands is None:
        return measured
    now = geometry_figures(job, stands, motion_ratio).wheelbase_mm
    return now if now.known else measured


@record(kw_only=True)
class _Height:
    """A height of the centre of mass."""

    mm: Figure
    expanded_mm: Figure
    source: HeightFrom
    lifted_deg: Figure
    doubt: Finding | None = None
    """What questions the readings it would rest on; it is absent then."""
    rests_on: tuple[Weighed, tuple[LiftReading, ...]] | None = None
    """The machine level, and the readings with the front lifted, where it is from them."""


def _height(job: Job, state: State, front: Figure, rear: Figure, wheelbase: Figure) -> _Height:
    """By lifting where that was done with the suspension blocked; else as entered; else, with the rider, as usual."""
    not_lifted = absent("not_lifted")
    balance = job.balance
    alone = state == "static"
    lifted = [
        LiftReading(at, lift.raised_mm, kg)
        for at, lift in enumerate(balance.lifts)
        if lift.raised_mm is not None and (kg := getattr(lift, SCALE_NAMES[state])) is not None
    ]
    if not alone and converted_from(job) is not None:  # it was the earlier rider who was aboard, level and lifted
        front, rear = (
            Figure(kg, estimate=True) if kg is not None else absent("not_lifted")
            for kg in (job.weights.front_aboard_kg, job.weights.rear_aboard_kg)
        )
    if lifted and balance.blocked == "yes":
        return _by_lifting(job, state, lifted, (front, rear, wheelbase))
    name = "height_alone_mm" if alone else "height_aboard_mm"
    entered = recorded(getattr(balance, name), ("balance", name))
    if entered.value is not None:
        low, high = HEIGHT_TO_EXPECT_MM[state]
        if not low <= entered.value <= high:
            why = absent("height_doubted")
            return _Height(mm=why, expanded_mm=why, source="", lifted_deg=not_lifted)
        mm = Figure(entered.value, estimate=True)
        return _Height(mm=mm, expanded_mm=absent("not_lifted"), source="entered", lifted_deg=not_lifted)
    if lifted:
        why = absent("lift_not_blocked")
        return _Height(mm=why, expanded_mm=why, source="", lifted_deg=why)
    if alone:
        return _Height(mm=not_lifted, expanded_mm=not_lifted, source="", lifted_deg=not_lifted)
    low, high = USUAL_HEIGHT_MM
    return _Height(
        mm=Figure((low + high) / 2.0, estimate=True),
        expanded_mm=Figure((high - low) / 2.0, estimate=True),
        source="usual",
        lifted_deg=not_lifted,
    )


def _by_lifting(job: Job, state: State, lifted: list[LiftReading], level: tuple[Figure, Figure, Figure]) -> _Height:
    """By the readings with the front lifted; absent where they are in doubt. `level` are both weights and the
    wheelbase."""
    front_radius, rear_radius = (
        recorded(mm, ("geometry", name))
        for mm, name in (
            (job.geometry.front_radius_mm, "front_radius_mm"),
            (job.geometry.rear_radius_mm, "rear_radius_mm"),
        )
    )
    inputs = (*level, front_radius, rear_radius)
    levels: list[Weighed] = []

    def height(front_kg: float, rear_kg: float, wheelbase_mm: float, front_mm: float, rear_mm: float) -> float:
        standing = Weighed(
            front_kg=front_kg,
            rear_kg=rear_kg,
            wheelbase_mm=wheelbase_mm,
            front_radius_mm=front_mm,
            rear_radius_mm=rear_mm,
        )
        levels.append(standing)
        return by_line(standing, lifted).height_mm

    mm = derive(height, *inputs)
    if mm.value is None:
        return _Height(mm=mm, expanded_mm=mm, source="", lifted_deg=mm)
    doubt = doubt_of(levels[0], lifted, state, weighed=not mm.estimate)
    if doubt is not None:
        why = absent("height_doubted")
        return _Height(mm=why, expanded_mm=why, source="", lifted_deg=why, doubt=doubt)
    height_found = by_line(levels[0], lifted)
    return _Height(
        mm=mm,
        expanded_mm=Figure(height_found.uncertainty.expanded),
        source="lifted",
        lifted_deg=Figure(height_found.steepest_deg),
        rests_on=(levels[0], tuple(lifted)),
    )
