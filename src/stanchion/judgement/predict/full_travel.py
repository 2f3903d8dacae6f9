"""Force at full travel of each end, the part of it that is trapped air, and the effect of another air gap."""

from __future__ import annotations

from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.judgement.criteria.thresholds import AIR_GAP_STEP_MM, SLACK
from stanchion.judgement.ends.fork_model import ForkModel
from stanchion.judgement.ends.rear_model import RearModel
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.results.predicted import FullTravelFigures
from stanchion.mechanics.fork import air_force, full_travel
from stanchion.mechanics.gas import ADIABATIC, FAST, ISOTHERMAL
from stanchion.mechanics.rear import rear_wheel_force


def fork_full_travel(model: ForkModel, rider_n: Figure) -> FullTravelFigures:
    """Force along the fork at full travel, slow and fast, with the air gap as it is and 5 mm off."""
    fork = model.fork
    if fork is None or model.end_unknown is not None:
        return _none(model.end_unknown if fork is not None and model.end_unknown is not None else model.computable)
    if model.measured_to_mm < fork.travel_mm - SLACK:
        return _none(absent("beyond_tester"))
    slow = full_travel(fork)
    sprung_n = _air_springs(model)
    estimate = model.computable.estimate
    slow_n = Figure(slow.force_n, estimate=estimate)
    reserve_n = derive(lambda force, load: force - model.along(load), slow_n, rider_n)
    area_mm2 = model.tube_area_mm2
    airs = [leg.air for leg in fork.legs if leg.air is not None]
    if len(airs) < len(fork.legs) and not model.sprung_by_air:
        return replace(_none(absent("without_air")), slow_n=slow_n, reserve_n=reserve_n)
    springs_n = slow.force_n - slow.air_n - sprung_n
    sprung_fast_n = _air_springs(model.squeezed(FAST)) if model.sprung_by_air else 0.0

    def air_n(exponent: float, gap_change_mm: float = 0.0) -> float:
        more = gap_change_mm * (area_mm2 or 0.0)
        squeezed = (replace(air, exponent=exponent, least_volume_mm3=air.least_volume_mm3 + more) for air in airs)
        return sum(air_force(air, fork.travel_mm, fork.travel_mm) for air in squeezed)

    def with_gap(change_mm: float, exponent: float) -> Figure:
        try:
            by_air_n = air_n(exponent, change_mm) + (sprung_n if exponent == ISOTHERMAL else sprung_fast_n)
            return Figure(springs_n + by_air_n, estimate=estimate) if airs else absent("air_sprung")
        except OutOfRange:
            return absent("air_no_room")

    fast_air_n = air_n(ADIABATIC) + sprung_fast_n
    return FullTravelFigures(
        slow_n=slow_n,
        slow_air_n=Figure(slow.air_n + sprung_n),
        fast_n=Figure(springs_n + fast_air_n, estimate=estimate),
        fast_air_n=Figure(fast_air_n),
        reserve_n=reserve_n,
        smaller_gap_slow_n=with_gap(-AIR_GAP_STEP_MM, ISOTHERMAL),
        smaller_gap_fast_n=with_gap(-AIR_GAP_STEP_MM, ADIABATIC),
        larger_gap_slow_n=with_gap(AIR_GAP_STEP_MM, ISOTHERMAL),
        larger_gap_fast_n=with_gap(AIR_GAP_STEP_MM, ADIABATIC),
    )


def rear_full_travel(model: RearModel, rider_n: Figure) -> FullTravelFigures:
    """Force at the rear wheel at full travel; no trapped air adds to it."""
    rear = model.rear
    if rear is None or model.end_unknown is not None:
        return _none(model.end_unknown if rear is not None and model.end_unknown is not None else model.computable)
    if model.measured_to_mm < rear.travel_mm - SLACK:
        return _none(absent("beyond_tester"))
    force_n = Figure(rear_wheel_force(rear, rear.travel_mm), estimate=model.computable.estimate)
    fast_n = Figure(model.squeezed(FAST).force(rear.travel_mm), estimate=model.computable.estimate)
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
    )


def _air_springs(model: ForkModel) -> float:
    """Force at full travel of the legs sprung by air, together."""
    legs = model.fork.legs if model.fork is not None else ()
    return sum(leg.air_spring.state(model.full_travel_mm)[0] for leg in legs if leg.air_spring is not None)


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
