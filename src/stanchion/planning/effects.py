"""What one step of each adjustment does: sags, heights and geometry for a turn, a millimetre, an air gap."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from operator import attrgetter

from stanchion.base.record import record
from stanchion.job.model import ENDS, SIDES, STATES, End, Job, Path, State
from stanchion.job.spec import Kind
from stanchion.judgement.criteria.thresholds import AIR_GAP_STEP_MM
from stanchion.judgement.ends.fork_model import ForkModel, with_air_gap
from stanchion.judgement.ends.rear_model import RearModel
from stanchion.judgement.predict.geometry import geometry_figures, shifted, stand
from stanchion.judgement.predict.loaded_machine import Standing, standing
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.mechanics.fork import Fork, with_added_preload
from stanchion.mechanics.geometry import front_rise, rear_rise
from stanchion.mechanics.shock import length_adjuster_rise

_ZERO = Figure(0.0)


@record(kw_only=True)
class Step:
    """One step of an adjustment."""

    code: str
    """Which adjustment; whatif_sentences.py has its name."""
    where: Path
    """The part of the machine."""
    amount: float
    kind: Kind
    """Unit of the amount."""


@record(kw_only=True)
class Effect:
    """What a step changes. Every figure is a change; absent ones say what they wait for."""

    step: Step
    sag_mm: Mapping[tuple[End, State], Figure]
    front_rise_mm: Figure
    """Vertically, as are all heights."""
    rear_rise_mm: Figure
    rake_deg: Figure
    trail_mm: Figure
    wheelbase_mm: Figure
    state: str
    """For which heights and geometry are given: "rider", "static" or "extended"."""


FRONT_TURN = Step(code="front_turn", where=("front",), amount=1.0, kind=Kind.TURNS)
REAR_TURN = Step(code="rear_turn", where=("rear",), amount=1.0, kind=Kind.TURNS)
FORK_HEIGHT = Step(code="fork_height", where=("front",), amount=1.0, kind=Kind.LENGTH)
SHOCK_LENGTH = Step(code="shock_length", where=("rear",), amount=1.0, kind=Kind.LENGTH)
AIR_GAP = Step(code="air_gap", where=("front",), amount=AIR_GAP_STEP_MM, kind=Kind.LENGTH)
STEPS = (FRONT_TURN, REAR_TURN, FORK_HEIGHT, SHOCK_LENGTH, AIR_GAP)
"""Every step, each towards more: preload, tube above the yoke, shock length, air gap."""


@record
class _Change:
    """A machine after a step; or, in `why`, what that waits for."""

    after: Standing
    why: Figure = _ZERO
    height_mm: Figure = _ZERO
    """Of fork height."""
    by_length_mm: Figure = _ZERO
    """What a change of shock length gives at the wheel."""


def effects(job: Job, assessment: Assessment) -> tuple[Effect, ...]:
    """What each of the steps does, worked out in full from where the machine stands.

    Where an adjuster is at its end the effect of a turn is given all the same. This is not part of judging a job: ask
    for it where it is shown.

    Args:
        job: the job.
        assessment: what assess() gave for it.
    """
    machine = standing(job, assessment)
    by_length = derive(length_adjuster_rise, Figure(SHOCK_LENGTH.amount), assessment.rear.motion_ratio)
    changes = (
        _turned_fork(job, assessment, machine),
        _turned_shock(assessment, machine),
        _Change(machine, height_mm=Figure(FORK_HEIGHT.amount)),
        _Change(machine, by_length_mm=by_length),
        _other_gap(job, machine),
    )
    return tuple(_effect(job, assessment, machine, step, change) for step, change in zip(STEPS, changes, strict=True))


# --- the machine after a step -------------------------------------------------------------------------------------


def _turned_fork(job: Job, assessment: Assessment, machine: Standing) -> _Change:
    """One more turn in every adjuster of the fork."""
    model = machine.front
    legs = [(job.front.leg(side), assessment.front.leg(side).mm_per_turn) for side in SIDES]
    turned = [leg.spring_fitted and leg.adjuster.counting != "none" for leg, _ in legs]
    if not any(turned):
        return _Change(machine, absent("no_adjuster"))
    why = derive(_nothing, model.why, *(turn for (_, turn), moved in zip(legs, turned, strict=True) if moved))
    if model.fork is None or not why.known:
        return _Change(machine, why)
    added = [(turn.value or 0.0) if moved else 0.0 for (_, turn), moved in zip(legs, turned, strict=True)]
    return _Change(replace(machine, front=_with_fork(model, with_added_preload(model.fork, *added))))


def _turned_shock(assessment: Assessment, machine: Standing) -> _Change:
    """One more turn of the collar."""
    model, turn = machine.rear, assessment.rear.spring.mm_per_turn
    why = derive(_nothing, model.why, turn)
    if model.rear is None or turn.value is None or not why.known:
        return _Change(machine, why)
    made = replace(model, rear=replace(model.rear, preload_mm=model.rear.preload_mm + turn.value))
    return _Change(replace(machine, rear=_hanging(made)))


def _other_gap(job: Job, machine: Standing) -> _Change:
    """A larger air gap in every leg."""
    model = machine.front
    fork = with_air_gap(model, AIR_GAP_STEP_MM)
    if fork is None:
        sides = SIDES if job.front.split else SIDES[:1]
        gaps = [recorded(job.front.leg(side).air_gap_mm, ("front", side, "air_gap_mm")) for side in sides]
        sizes = [
            recorded(getattr(job.front, name), ("front", name))
            for name in ("stanchion_outer_mm", "stanchion_inner_mm", "travel_mm")
        ]
        waiting = derive(_nothing, model.why, *gaps, *sizes)
        return _Change(machine, absent("no_air") if waiting.known else waiting)
    return _Change(replace(machine, front=_with_fork(model, fork)))


def _with_fork(model: ForkModel, fork: Fork) -> ForkModel:
    made = replace(model, fork=fork)
    return replace(made, unloaded=made.rest(model.hanging_n / model.cosine))


def _hanging(model: RearModel) -> RearModel:
    return replace(model, unloaded=model.rest(model.hanging_n))


def _nothing(*_: float) -> float:
    return 0.0


# --- what has changed ---------------------------------------------------------------------------------------------


def _effect(job: Job, assessment: Assessment, machine: Standing, step: Step, change: _Change) -> Effect:
    after = change.after
    stands = stand(assessment.sag, assessment.predicted.sag)
    state: State = "static" if stands.state == "static" else "rider"

    def between(end: End, figure: Callable[[Standing, End, State], Figure], one: State) -> Figure:
        if not change.why.known and step.where == (end,):
            return change.why
        if after.end(end) is machine.end(end):
            return _ZERO
        return derive(_less, figure(after, end, one), figure(machine, end, one))

    front_mm = between("front", Standing.travel, state)
    rear_mm = between("rear", Standing.travel, state)
    further_in = derive(_plus, front_mm, change.height_mm)
    rise = derive(rear_rise, rear_mm, change.by_length_mm)
    moved = shifted(stands, further_in, derive(_minus, rise))
    now, then = (geometry_figures(job, each, assessment.rear.motion_ratio) for each in (stands, moved))
    rake, trail, wheelbase = (
        derive(_less, of(then), of(now)) for of in map(attrgetter, ("rake_deg", "trail_mm", "wheelbase_mm"))
    )
    return Effect(
        step=step,
        sag_mm={(end, one): between(end, Standing.sag, one) for end in ENDS for one in STATES},
        front_rise_mm=derive(
            front_rise, front_mm, change.height_mm, recorded(job.geometry.rake_deg, ("geometry", "rake_deg"))
        ),
        rear_rise_mm=rise,
        rake_deg=rake,
        trail_mm=trail,
        wheelbase_mm=wheelbase,
        state=stands.state,
    )


def _less(a: float, b: float) -> float:
    return a - b


def _plus(a: float, b: float) -> float:
    return a + b


def _minus(a: float) -> float:
    return -a
