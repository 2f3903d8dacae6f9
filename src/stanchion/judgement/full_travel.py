"""What holds an end off its bottom: force at full travel, how much of it is air, what another air gap makes of it."""

from __future__ import annotations

from stanchion.judgement.figures import Figure, absent, derive
from stanchion.judgement.fork_model import ForkModel, with_air_gap
from stanchion.judgement.predicted import FullTravelFigures
from stanchion.judgement.rear_model import RearModel
from stanchion.mechanics.fork import Fork, full_travel, with_exponent
from stanchion.mechanics.rear import rear_wheel_force

AIR_GAP_STEP_MM = 5.0
"""In such steps an air gap is changed (common practice, no published source)."""
FAST = 1.4
"""Exponent of air squeezed so fast that it keeps its heat: the ratio of specific heats of air."""


def fork_full_travel(model: ForkModel, rider_n: Figure) -> FullTravelFigures:
    """Force along the fork at full travel, slowly and as fast as can be, with the air gap as it is and 5 mm off."""
    fork = model.fork
    if fork is None or model.end_unknown is not None:
        return _none(model.end_unknown if fork is not None and model.end_unknown is not None else model.why)
    has_air = all(leg.air is not None for leg in fork.legs)
    no_air = absent("without_air")
    slow = full_travel(fork)
    fast = full_travel(with_exponent(fork, FAST)) if has_air else None
    smaller = with_air_gap(model, -AIR_GAP_STEP_MM)
    larger = with_air_gap(model, AIR_GAP_STEP_MM)

    def at(other: Fork | None, exponent: float) -> Figure:
        if not has_air:
            return no_air
        if other is None:
            return absent("air_no_room")
        return Figure(full_travel(other if exponent == 1.0 else with_exponent(other, exponent)).force_n)

    slow_n = Figure(slow.force_n)
    return FullTravelFigures(
        slow_n=slow_n,
        slow_air_n=Figure(slow.air_n) if has_air else no_air,
        fast_n=Figure(fast.force_n) if fast else no_air,
        fast_air_n=Figure(fast.air_n) if fast else no_air,
        reserve_n=derive(lambda force, load: force - model.along(load), slow_n, rider_n),
        smaller_gap_slow_n=at(smaller, 1.0),
        smaller_gap_fast_n=at(smaller, FAST),
        larger_gap_slow_n=at(larger, 1.0),
        larger_gap_fast_n=at(larger, FAST),
    )


def rear_full_travel(model: RearModel, rider_n: Figure) -> FullTravelFigures:
    """Force at the rear wheel at full travel; a shock traps no air of its own that changes."""
    rear = model.rear
    if rear is None or model.end_unknown is not None:
        return _none(model.end_unknown if rear is not None and model.end_unknown is not None else model.why)
    force_n = Figure(rear_wheel_force(rear, rear.travel_mm))
    no_air = absent("no_air_in_shock")
    return FullTravelFigures(
        slow_n=force_n,
        slow_air_n=no_air,
        fast_n=force_n,
        fast_air_n=no_air,
        reserve_n=derive(lambda force, load: force - load, force_n, rider_n),
        smaller_gap_slow_n=no_air,
        smaller_gap_fast_n=no_air,
        larger_gap_slow_n=no_air,
        larger_gap_fast_n=no_air,
    )


def _none(why: Figure) -> FullTravelFigures:
    return FullTravelFigures(
        slow_n=why,
        slow_air_n=why,
        fast_n=why,
        fast_air_n=why,
        reserve_n=why,
        smaller_gap_slow_n=why,
        smaller_gap_fast_n=why,
        larger_gap_slow_n=why,
        larger_gap_fast_n=why,
    )
