"""The rear wheel at rest: linkage, kinks, falling ratios, and the collar that brings a wanted sag."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.air_spring import AirSpring, Chamber
from stanchion.mechanics.bump_stop import BumpStop
from stanchion.mechanics.equilibrium import Limit
from stanchion.mechanics.linkage import Linkage, constant_ratio, through_pairs
from stanchion.mechanics.rear import (
    RearEnd,
    full_wheel_travel,
    rear_position,
    rear_shock_force,
    rear_travel,
    rear_wheel_force,
    rear_wheel_rate,
)
from stanchion.mechanics.rear_change import rear_preload_for_sag, rear_rate_for_sag
from stanchion.mechanics.shock import (
    collar_effect,
    length_adjuster_rise,
    shock_force,
    wheel_rate,
)

RISING = through_pairs([(20, 7.0), (40, 14.4), (60, 22.3), (80, 30.9), (100, 40.2), (120, 50.4)])
PLAIN = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=120.0)


def sag_of(rear: RearEnd, load: float, hanging: float = 0.0) -> float:
    return rear_position(rear, load).travel_mm - rear_position(rear, hanging).travel_mm


def has_kinks(link: Linkage) -> bool:
    """Whether the motion ratio jumps between straight pieces."""
    return len(link.cubics) > 1 and all(c2 == 0.0 and c3 == 0.0 for _, _, c2, c3 in link.cubics)


@st.composite
def linkages(draw: st.DrawFn) -> Linkage:
    count = draw(st.integers(1, 10))
    ratio, z, s, pairs = draw(st.floats(0.25, 0.8)), 0.0, 0.0, []
    for _ in range(count):
        gap = draw(st.floats(8, 30))
        ratio *= draw(st.floats(0.9, 1.2))
        z, s = z + gap, s + gap * ratio
        pairs.append((z, s))
    return through_pairs(pairs)


@st.composite
def rear_ends(draw: st.DrawFn) -> RearEnd:
    link = draw(linkages() | st.floats(0.25, 0.9).map(constant_ratio))
    travel = min(link.covered_mm, 300.0) * draw(st.floats(0.5, 1.0))
    return RearEnd(
        rate_n_per_mm=draw(st.floats(20, 250)),
        preload_mm=draw(st.floats(-10, 30)),
        linkage=link,
        travel_mm=travel,
        gas_force_n=draw(st.floats(0, 500)),
        top_out_rate_n_per_mm=draw(st.just(0.0) | st.floats(10, 200)),
        top_out_mm=draw(st.floats(0, 10)),
    )


@settings(max_examples=400)
@given(rear_ends(), st.floats(-300, 8000))
def test_forces_balance_to_a_millionth_of_a_newton(rear: RearEnd, load: float) -> None:
    at = rear_position(rear, load)
    force = rear_wheel_force(rear, at.travel_mm)
    if at.limit is Limit.TOPPED_OUT:
        assert at.travel_mm == 0.0
        assert force >= load
    elif at.limit is Limit.BOTTOMED:
        assert at.travel_mm == rear.travel_mm
        assert force <= load + 1e-6
    elif has_kinks(rear.linkage) and at.travel_mm in rear.linkage.knots_mm[1:]:  # the first is no kink
        before = rear_wheel_force(rear, at.travel_mm - 1e-9)
        assert before - 1e-4 <= load <= force + 1e-4
    else:
        assert abs(force - load) < 1e-6
        assert abs(at.residual_n) < 1e-6


@settings(max_examples=200)
@given(rear_ends(), st.floats(50, 6000))
def test_position_agrees_with_scipy_where_there_is_only_one(rear: RearEnd, load: float) -> None:
    at = rear_position(rear, load)
    assume(at.limit is Limit.NONE and at.only_one and not has_kinks(rear.linkage))
    reference = brentq(lambda z: rear_wheel_force(rear, z) - load, 0.0, rear.travel_mm, xtol=1e-12)
    rate = max(abs(rear_wheel_rate(rear, at.travel_mm)), 1e-3)
    assert at.travel_mm == pytest.approx(reference, abs=1e-8 + 1e-6 / rate)


@settings(max_examples=300)
@given(rear_ends(), st.floats(-300, 8000))
def test_the_first_place_of_rest_is_the_same_without_looking_for_others(rear: RearEnd, load: float) -> None:
    at = rear_position(rear, load)
    assert rear_travel(rear, load) == (at.travel_mm, at.limit)


@given(rear_ends(), st.floats(50, 8000))
def test_no_place_of_rest_lies_before_the_first(rear: RearEnd, load: float) -> None:
    """Where the force rises and falls again, its peak is not stepped over unless it is narrower than a slice."""
    travel, _ = rear_travel(rear, load)
    ends = [*(knot for knot in rear.linkage.knots_mm if knot < rear.travel_mm), rear.travel_mm]
    slices = [start + (end - start) * i / 8 for start, end in pairwise(ends) for i in range(9)]
    assert all(rear_wheel_force(rear, z) <= load + 1e-6 for z in slices if z < travel)


@given(rear_ends(), st.floats(0.01, 0.99))
def test_rate_at_the_wheel_is_the_slope_of_the_force(rear: RearEnd, share: float) -> None:
    z, step = rear.travel_mm * share, 1e-5
    assume(all(abs(z - knot) > 1e-2 for knot in rear.linkage.knots_mm))
    shock = rear.linkage.shock_travel(z)
    assume(abs(shock + rear.preload_mm) > 1e-2 and abs(shock - rear.top_out_mm) > 1e-2)
    slope = (rear_wheel_force(rear, z + step) - rear_wheel_force(rear, z - step)) / (2 * step)
    assert rear_wheel_rate(rear, z) == pytest.approx(slope, rel=1e-4, abs=1e-3)


@given(st.floats(40, 150), st.floats(0, 20), st.floats(0, 10), st.floats(200, 3000), st.floats(0, 500))
def test_more_preload_or_rate_sits_higher_and_more_load_lower(
    rate: float, preload: float, more: float, load: float, extra: float
) -> None:
    rear = RearEnd(rate_n_per_mm=rate, preload_mm=preload, linkage=RISING, travel_mm=120.0)
    sag = sag_of(rear, load)
    assert sag_of(replace(rear, preload_mm=preload + more), load) <= sag + 1e-9
    assert sag_of(replace(rear, rate_n_per_mm=rate + more), load) <= sag + 1e-9
    assert sag_of(replace(rear, gas_force_n=10 * more), load) <= sag + 1e-9
    assert sag_of(rear, load + extra) >= sag - 1e-9


def test_a_load_inside_the_jump_of_a_kink_rests_on_it() -> None:
    link = through_pairs([(60, 21), (120, 48)])
    rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=link, travel_mm=120.0)
    below, above = 90.0 * 31 * 0.35, 90.0 * 31 * 0.45
    at = rear_position(rear, (below + above) / 2)
    assert (at.travel_mm, at.limit, at.only_one) == (60.0, Limit.NONE, True)


def test_a_ratio_that_falls_too_fast_is_said_to_have_more_than_one_place() -> None:
    link = through_pairs([(20, 12), (40, 23), (60, 30), (80, 33), (100, 34.5), (120, 35.5)])
    rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=link, travel_mm=120.0)
    forces = [rear_wheel_force(rear, z) for z in np.linspace(0, 120, 500)]
    load = forces[0] + 0.5 * (max(forces) - forces[0])
    at = rear_position(rear, load)
    assert not at.only_one
    assert abs(rear_wheel_force(rear, at.travel_mm) - load) < 1e-6
    assert rear_wheel_rate(rear, at.travel_mm) > 0.0


@settings(max_examples=200)
@given(rear_ends(), st.floats(0.05, 0.95), st.floats(300, 5000))
def test_the_preload_and_rate_found_bring_the_wanted_sag(rear: RearEnd, share: float, load: float) -> None:
    wanted = share * rear.travel_mm
    preload = rear_preload_for_sag(rear, wanted, load, -150.0)
    if preload is not None:
        assert sag_of(replace(rear, preload_mm=preload), load, -150.0) == pytest.approx(wanted, abs=2e-6)
    rate = rear_rate_for_sag(rear, wanted, load, -150.0)
    if rate is not None:
        assert sag_of(replace(rear, rate_n_per_mm=rate), load, -150.0) == pytest.approx(wanted, abs=2e-6)


@given(st.floats(5, 110), st.floats(300, 4000))
def test_with_a_rising_ratio_there_is_always_a_preload_and_it_is_the_one_by_hand(wanted: float, load: float) -> None:
    """W = k (P + s) m, so P = W / (k m) - s; a spring that would have to be loose at full extension counts too."""
    rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=RISING, travel_mm=120.0)
    shock, ratio, _ = RISING.state(wanted)
    assert rear_preload_for_sag(rear, wanted, load) == pytest.approx(load / (90.0 * ratio) - shock, abs=1e-6)


@given(st.floats(5, 110), st.floats(300, 4000), st.floats(0, 400))
def test_with_a_rising_ratio_there_is_always_a_rate_and_it_is_the_one_by_hand(
    wanted: float, load: float, gas: float
) -> None:
    """W = (k (P + s) + G) m, so k = (W / m - G) / (P + s), where that is a spring at all."""
    rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=RISING, travel_mm=120.0, gas_force_n=gas)
    shock, ratio, _ = RISING.state(wanted)
    by_hand = (load / ratio - gas) / (10.0 + shock)
    if by_hand > 1.0:
        assert rear_rate_for_sag(rear, wanted, load) == pytest.approx(by_hand, rel=1e-6)


def test_with_a_top_out_spring_the_hanging_wheel_is_in_already_and_sag_counts_from_there() -> None:
    """By hand: hanging, k (P + s) - kt (l - s) = -U / m, so s = (kt l - U / m - k P) / (k + kt); loaded it is beyond l."""
    rear = RearEnd(
        rate_n_per_mm=90.0,
        preload_mm=1.0,
        linkage=constant_ratio(0.5),
        travel_mm=120.0,
        top_out_rate_n_per_mm=200.0,
        top_out_mm=5.0,
    )
    hanging = (200.0 * 5.0 - 150.0 / 0.5 - 90.0 * 1.0) / (90.0 + 200.0) / 0.5
    loaded = (900.0 / 0.5 / 90.0 - 1.0) / 0.5
    assert rear_position(rear, -150.0).travel_mm == pytest.approx(hanging, abs=1e-6)
    assert rear_position(rear, 900.0).travel_mm == pytest.approx(loaded, abs=1e-6)


def test_one_millimetre_of_collar_lifts_the_wheel_end_by_what_the_formula_says() -> None:
    rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=RISING, travel_mm=120.0, gas_force_n=200.0)
    load, step = 1200.0, 1e-4
    z = rear_position(rear, load).travel_mm
    lifted = z - rear_position(replace(rear, preload_mm=10.0 + step), load).travel_mm
    shock, ratio, slope = RISING.state(z)
    by_formula = collar_effect(90.0, ratio, rear_shock_force(rear, shock), slope)
    assert lifted / step == pytest.approx(by_formula, rel=1e-4)
    assert by_formula < 1 / ratio  # a rising ratio takes some of it
    assert collar_effect(90.0, 0.5) == pytest.approx(1 / 0.5)


@pytest.mark.parametrize("load", [-150.0, 400.0, 1200.0, 2600.0])
def test_what_the_collar_does_not_press_takes_part_of_its_effect(load: float) -> None:
    """Hanging on the top-out spring, just on it, free, and on the rubber; gas in 60 ml throughout."""
    gas = AirSpring(main=Chamber(area_mm2=154.0, volume_mm3=60e3, pressure_mpa=1.1))
    rear = RearEnd(
        rate_n_per_mm=90.0,
        preload_mm=10.0,
        linkage=RISING,
        travel_mm=120.0,
        gas=gas,
        stop=BumpStop(30.0, 80.0),
        top_out_rate_n_per_mm=250.0,
        top_out_mm=8.0,
    )
    z, step = rear_position(rear, load).travel_mm, 1e-4
    lifted = z - rear_position(replace(rear, preload_mm=10.0 + step), load).travel_mm
    shock, ratio, slope = RISING.state(z)
    others = gas.state(shock)[1] + (80.0 if shock > 30.0 else 0.0) + (250.0 if shock < 8.0 else 0.0)
    assert z > 0.0
    assert lifted / step == pytest.approx(
        collar_effect(90.0, ratio, rear_shock_force(rear, shock), slope, others), rel=1e-4
    )


def test_travel_ends_where_the_first_of_stroke_travel_and_measurement_ends() -> None:
    assert full_wheel_travel(RISING) == 120.0
    assert full_wheel_travel(RISING, 110.0, 60.0) == 110.0
    assert RISING.shock_travel(full_wheel_travel(RISING, 130.0, 45.0)) == pytest.approx(45.0)
    assert full_wheel_travel(constant_ratio(0.5), stroke_mm=60.0) == 120.0
    with pytest.raises(OutOfRange, match="give the stroke"):
        full_wheel_travel(constant_ratio(0.5))


def test_shock_and_wheel_agree_with_the_plain_equations() -> None:
    force = shock_force(90.0, 10.0, 20.0, 201.06193)
    rear = replace(PLAIN, gas_force_n=201.06193)
    assert rear_shock_force(rear, 20.0) == pytest.approx(force)
    assert rear_wheel_force(rear, 40.0) == pytest.approx(force * 0.5)
    assert rear_wheel_rate(rear, 40.0) == pytest.approx(wheel_rate(90.0, 0.5, force, 0.0))


def test_a_longer_shock_lifts_by_its_length_over_the_ratio() -> None:
    assert length_adjuster_rise(2.0, 0.4) == 5.0


@pytest.mark.parametrize(
    "call",
    [
        lambda: replace(PLAIN, rate_n_per_mm=0.0),
        lambda: replace(PLAIN, linkage=RISING, travel_mm=121.0),
        lambda: replace(PLAIN, gas_force_n=-1.0),
        lambda: rear_position(PLAIN, float("inf")),
        lambda: rear_shock_force(PLAIN, -1.0),
        lambda: rear_preload_for_sag(PLAIN, 0.0, 900.0),
        lambda: rear_rate_for_sag(PLAIN, 120.0, 900.0),
        lambda: full_wheel_travel(RISING, 0.0),
        lambda: shock_force(90.0, 10.0, -1.0),
        lambda: collar_effect(10.0, 0.3, 3000.0, -0.01),
    ],
)
def test_rear_ends_that_cannot_be_are_refused(call) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange):
        call()
