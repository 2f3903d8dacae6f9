"""Force at full travel of each end, what it consists of, and the effect of another air gap."""

from __future__ import annotations

from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.judgement.criteria.thresholds import AIR_GAP_STEP_MM, SLACK
from stanchion.judgement.ends.fork_model import ForkModel
from stanchion.judgement.ends.rear_model import RearModel
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.results.predicted import FullTravelFigures
from stanchion.mechanics.force_parts import ForceParts, fork_parts, rear_parts
from stanchion.mechanics.fork import air_force
from stanchion.mechanics.gas import ADIABATIC, FAST, ISOTHERMAL


def fork_full_travel(model: ForkModel, rider_n: Figure) -> FullTravelFigures:
    """Force along the fork at full travel, slow and fast, with the air gap as it is and 5 mm off."""
    fork = model.fork
    if fork is None or model.end_unknown is not None:
        return _none(model.end_unknown if fork is not None and model.end_unknown is not None else model.computable)
    if model.measured_to_mm < fork.travel_mm - SLACK:
        return _none(absent("beyond_tester"))
    slow = fork_parts(fork)
    estimate = model.computable.estimate
    slow_n = Figure(slow.sum_n, estimate=estimate)
    reserve_n = derive(lambda force, load: force - model.along(load), slow_n, rider_n)
    area_mm2 = model.tube_area_mm2
    airs = [leg.air for leg in fork.legs if leg.air is not None]
    if len(airs) < len(fork.legs) and not model.sprung_by_air:
        return replace(_none(absent("without_air")), slow_n=slow_n, reserve_n=reserve_n, slow_parts=slow)
    squeezed = model.squeezed(FAST).fork
    fast = slow if squeezed is None else fork_parts(squeezed)

    def with_gap(change_mm: float, parts: ForceParts, n: float) -> Figure:
        more = change_mm * (area_mm2 or 0.0)
        others = (replace(air, exponent=n, least_volume_mm3=air.least_volume_mm3 + more) for air in airs)
        try:
            trapped_n = sum(air_force(air, fork.travel_mm, fork.travel_mm) for air in others)
        except OutOfRange:
            return absent("air_no_room")
        if not airs:
            return absent("air_sprung")
        return Figure(parts.sum_n - (parts.trapped_n or 0.0) + trapped_n, estimate=estimate)

    return FullTravelFigures(
        slow_n=slow_n,
        slow_air_n=Figure(slow.air_n),
        fast_n=Figure(fast.sum_n, estimate=estimate),
        fast_air_n=Figure(fast.air_n),
        reserve_n=reserve_n,
        smaller_gap_slow_n=with_gap(-AIR_GAP_STEP_MM, slow, ISOTHERMAL),
        smaller_gap_fast_n=with_gap(-AIR_GAP_STEP_MM, fast, ADIABATIC),
        larger_gap_slow_n=with_gap(AIR_GAP_STEP_MM, slow, ISOTHERMAL),
        larger_gap_fast_n=with_gap(AIR_GAP_STEP_MM, fast, ADIABATIC),
        slow_parts=slow,
        fast_parts=fast,
    )


def rear_full_travel(model: RearModel, rider_n: Figure) -> FullTravelFigures:
    """Force at the rear wheel at full travel; no trapped air adds to it."""
    rear = model.rear
    if rear is None or model.end_unknown is not None:
        return _none(model.end_unknown if rear is not None and model.end_unknown is not None else model.computable)
    if model.measured_to_mm < rear.travel_mm - SLACK:
        return _none(absent("beyond_tester"))
    fast_model = model.squeezed(FAST)
    slow, fast = rear_parts(rear), rear_parts(fast_model.rear or rear)
    force_n, fast_n = (
        Figure(of.force(rear.travel_mm), estimate=model.computable.estimate) for of in (model, fast_model)
    )
    no_air = absent("no_air_in_shock")
    return FullTravelFigures(
        slow_n=force_n,
        slow_air_n=no_air,
        fast_n=fast_n,
        fast_air_n=no_air,
        reserve_n=derive(lambda force, load: force - load, force_n, rider_n),
        smaller_gap_slow_n=no_air,
        smaller_gap_fast_n=no_air,
        larger_gap_slow_n=no_air,
        larger_gap_fast_n=no_air,
        slow_parts=slow,
        fast_parts=fast,
    )


def _none(missing: Figure) -> FullTravelFigures:
    return FullTravelFigures(
        slow_n=missing,
        slow_air_n=missing,
        fast_n=missing,
        fast_air_n=missing,
        reserve_n=missing,
        smaller_gap_slow_n=missing,
        smaller_gap_fast_n=missing,
        larger_gap_slow_n=missing,
        larger_gap_fast_n=missing,
    )
