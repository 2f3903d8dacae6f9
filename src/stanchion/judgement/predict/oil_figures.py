"""What the oil level of the fork does: oil for a length of air gap, another gap, and the gap for a wanted reserve."""

from __future__ import annotations

from stanchion.base.errors import OutOfRange
from stanchion.job.model import Front, Job
from stanchion.judgement.ends.fork_model import ForkModel
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.judgement.results.predicted import GapFigures, OilFigures
from stanchion.mechanics.fork import Fork, force_and_rate, spring_forces
from stanchion.mechanics.gas import ADIABATIC, FAST, ISOTHERMAL, ML_MM3
from stanchion.mechanics.oil_level import gap_change_for, oil_area, oil_for_gap, with_gap_change

_OUT_OF_REACH = absent("no_gap_gives_it")


def oil_figures(job: Job, model: ForkModel, rider_n: Figure, deepest_mm: Figure) -> OilFigures | None:
    """The figures of the oil level; None where the tube is not measured.

    Args:
        job: the job.
        model: its fork.
        rider_n: vertical load on its springs with the rider.
        deepest_mm: how far the marker of the latest run shows the fork to have gone, from the hanging wheel.
    """
    front = job.front
    if front.stanchion_inner_mm is None:
        return None
    inner = Figure(front.stanchion_inner_mm)
    open_mm2 = derive(oil_area, inner)
    by_rod = absent("no_rod")
    if front.damper_rod_mm:
        by_rod = derive(oil_area, inner, Figure(front.damper_rod_mm))
    area = by_rod if by_rod.known else open_mm2
    gap = recorded(front.left.air_gap_mm, ("front", "left", "air_gap_mm"))
    compared = reserve = left = left_slow = None
    if front.gap_compared_mm is not None:
        change = derive(lambda other, now: other - now, Figure(front.gap_compared_mm), gap)
        compared = _with(model, change, gap, area)
    if front.reserve_wanted_n is not None:
        wanted = derive(lambda n, load: n + model.along(load), Figure(front.reserve_wanted_n), rider_n)
        reserve = _with(model, _change(model, _full(model), wanted, area, ISOTHERMAL), gap, area)
    if front.left_wanted_mm is not None:
        left, left_slow = (
            _with(model, _for_left(front, model, deepest_mm, area, exponent), gap, area)
            for exponent in (FAST, ISOTHERMAL)
        )
    return OilFigures(
        ml_per_mm=derive(lambda mm2: mm2 / ML_MM3, open_mm2),
        ml_per_mm_by_rod=derive(lambda mm2: mm2 / ML_MM3, by_rod),
        compared=compared,
        for_reserve=reserve,
        for_left=left,
        for_left_slow=left_slow,
    )


def _full(model: ForkModel) -> Figure:
    """Full travel, where the fork can be computed with its air."""
    fork = model.fork
    if fork is None or model.end_unknown is not None:
        return model.end_unknown if fork is not None and model.end_unknown is not None else model.computable
    return Figure(fork.travel_mm) if all(leg.air is not None for leg in fork.legs) else absent("without_air")


def _change(model: ForkModel, at: Figure, wanted: Figure, area: Figure, exponent: float) -> Figure:
    """Change of the air gap for a force at a travel."""
    fork = model.fork
    if fork is None:
        return at

    def change(x_mm: float, force_n: float, mm2: float) -> float | None:
        return gap_change_for(fork, x_mm, force_n, mm2, exponent)

    if at.value is None or wanted.value is None or area.value is None:
        return derive(lambda *_: 0.0, at, wanted, area)
    found = change(at.value, wanted.value, area.value)
    if found is None:
        return absent("springs_give_more") if _without_air(fork, at.value) >= wanted.value else _OUT_OF_REACH
    return Figure(found, estimate=wanted.estimate or model.computable.estimate)


def _without_air(fork: Fork, at_mm: float) -> float:
    """Force at a travel with no trapped air at all."""
    return sum(spring_forces(leg, at_mm) for leg in fork.legs)


def _for_left(front: Front, model: ForkModel, deepest_mm: Figure, area: Figure, exponent: float) -> Figure:
    """Change for the wanted travel left: the force that drove the fork so far in is reached so much before its end."""
    fork, full = model.fork, _full(model)
    hanging = model.unloaded.travel_mm
    if fork is None or full.value is None or deepest_mm.value is None:
        return derive(lambda *_: 0.0, full, deepest_mm)
    deepest = min(fork.travel_mm, hanging + deepest_mm.value)
    at_mm = fork.travel_mm - (front.left_wanted_mm or 0.0)
    if at_mm < 0.0 or area.value is None:
        return _OUT_OF_REACH
    force_n = force_and_rate(with_gap_change(fork, 0.0, area.value, exponent), deepest)[0]
    return _change(model, Figure(at_mm), Figure(force_n), area, exponent)


def _with(model: ForkModel, change: Figure, gap: Figure, area: Figure) -> GapFigures:
    """The figures with an air gap that is changed by so much."""
    fork, full = model.fork, _full(model)

    def force(exponent: float) -> Figure:
        if fork is None or not full.known or change.value is None or area.value is None:
            return derive(lambda *_: 0.0, full, change, area)
        return _force(fork, change.value, area.value, exponent, estimate=model.computable.estimate)

    return GapFigures(
        change_mm=change,
        gap_mm=derive(lambda now, more: now + more, gap, change),
        oil_ml=derive(oil_for_gap, change, area),
        slow_n=force(ISOTHERMAL),
        fast_n=force(ADIABATIC),
    )


def _force(fork: Fork, change_mm: float, area_mm2: float, exponent: float, *, estimate: bool) -> Figure:
    try:
        changed = with_gap_change(fork, change_mm, area_mm2, exponent)
        return Figure(force_and_rate(changed, fork.travel_mm)[0], estimate=estimate)
    except OutOfRange:
        return absent("air_no_room")
