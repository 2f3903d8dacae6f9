"""The effect of a change of preload at one end: which case it falls under, and how far the machine rises."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stanchion.base.record import record
from stanchion.job.model import STATES, End, State
from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.judgement.ends.end_model import EndModel, Equilibrium, preload_case
from stanchion.judgement.predict.loaded_machine import LoadedMachine
from stanchion.judgement.results.figures import Figure, derive
from stanchion.mechanics.rear import RearEnd, rear_wheel_rate
from stanchion.mechanics.spring_curve import rate_at


@record(kw_only=True)
class PreloadEffect:
    """The effect of a change of preload in one state."""

    end: End
    state: State
    added_mm: float
    """Mean preload added: an adjuster in one leg counts by that leg's share of the rate."""
    case: str
    """PreloadCase before the change; "" where it is not known."""
    case_after: str
    """PreloadCase after the change; where the two differ, part of the change falls under each."""
    rise_along_mm: Figure
    """How far the machine rises along the leg, or at the wheel."""
    rise_mm: Figure
    """How far the machine rises vertically."""
    sag_change_mm: Figure
    per_mm: Figure
    """Rear only: rise at the wheel for one millimetre of collar, before the change."""


def preload_effects(end: End, before: LoadedMachine, after: LoadedMachine) -> Iterator[PreloadEffect]:
    """The effect in both states of an end, where only its preload was changed and nothing else of springs and loads.

    Args:
        end: which end.
        before: the machine before the change.
        after: the machine after it.
    """
    added = _front_added(before, after) if end == "front" else _rear_added(before, after)
    if added is None or abs(added) <= SLACK:
        return
    cosine = before.front.cosine if end == "front" else 1.0
    for state in STATES:
        load = before.load(end, state)
        if load != after.load(end, state):
            continue
        one, other = _equilibrium(before.end(end), load), _equilibrium(after.end(end), load)
        along = Figure(estimate=load.estimate, needs=load.needs, problem=load.problem)
        sag = along
        if one is not None and other is not None:
            hangs = before.end(end).unloaded.travel_mm - after.end(end).unloaded.travel_mm
            along = Figure(one.travel_mm - other.travel_mm, estimate=load.estimate)
            sag = Figure(hangs - (one.travel_mm - other.travel_mm), estimate=load.estimate)
        yield PreloadEffect(
            end=end,
            state=state,
            added_mm=added,
            case=_case(before.end(end), one),
            case_after=_case(after.end(end), other),
            rise_along_mm=along,
            rise_mm=derive(lambda rise: rise * cosine, along),
            sag_change_mm=sag,
            per_mm=_per_mm(before.rear.rear, one, load) if end == "rear" else Figure(),
        )


def _equilibrium(model: EndModel, load: Figure) -> Equilibrium | None:
    return model.equilibrium(load.value) if load.value is not None and model.computable.known else None


def _case(model: EndModel, equilibrium: Equilibrium | None) -> str:
    return "" if equilibrium is None else preload_case(model, equilibrium.travel_mm, equilibrium.limit).value


def _front_added(before: LoadedMachine, after: LoadedMachine) -> float | None:
    """Mean preload added, each leg by its share of the rate; None where more than preload was changed."""
    one, other = before.front.fork, after.front.fork
    if one is None or other is None or before.front.cosine != after.front.cosine:
        return None
    bare = [[replace(leg, preload_mm=0.0) for leg in fork.legs] for fork in (one, other)]
    rate = sum(leg.rate_n_per_mm for leg in one.legs)
    if bare[0] != bare[1] or one.travel_mm != other.travel_mm or rate <= 0.0:
        return None
    pairs = zip(one.legs, other.legs, strict=True)
    return sum(leg.rate_n_per_mm * (then.preload_mm - leg.preload_mm) for leg, then in pairs) / rate


def _rear_added(before: LoadedMachine, after: LoadedMachine) -> float | None:
    one, other = before.rear.rear, after.rear.rear
    if one is None or other is None or replace(one, preload_mm=0.0) != replace(other, preload_mm=0.0):
        return None
    return other.preload_mm - one.preload_mm


def _per_mm(rear: RearEnd | None, equilibrium: Equilibrium | None, load: Figure) -> Figure:
    if rear is None or equilibrium is None or equilibrium.limit:
        return Figure()
    shock_mm, ratio, _ = rear.linkage.state(equilibrium.travel_mm)
    rate, at_wheel = rate_at(rear.spring, rear.preload_mm + shock_mm), rear_wheel_rate(rear, equilibrium.travel_mm)
    if at_wheel <= 0.0:
        return Figure(problem="out_of_range")
    return Figure(rate * ratio / at_wheel, estimate=load.estimate)
