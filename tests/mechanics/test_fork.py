"""A fork at rest: balance of forces over the whole range of springs, air and top-out springs."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from stanchion.base.errors import OutOfRange
from stanchion.mechanics import equilibrium
from stanchion.mechanics.equilibrium import Limit, fork_position, fork_sag
from stanchion.mechanics.force_parts import fork_parts
from stanchion.mechanics.fork import (
    Fork,
    ForkLeg,
    TrappedAir,
    air_force,
    fork_force,
    fork_of,
    fork_rate,
    spring_forces,
    with_added_preload,
    with_rate,
)
from stanchion.mechanics.gas import circle_area, least_air_volume
from stanchion.mechanics.reading_point import reading_point_assembled, reading_point_touching

airs = st.none() | st.builds(
    TrappedAir,
    area_mm2=st.floats(700, 2500),
    least_volume_mm3=st.floats(3_000, 400_000),
    exponent=st.sampled_from([1.0, 1.2, 1.4]),
    closed_at_mm=st.just(0.0),
    temperature_ratio=st.floats(0.9, 1.2),
)
legs = st.builds(
    ForkLeg,
    rate_n_per_mm=st.floats(0.5, 30),
    preload_mm=st.floats(-30, 40),
    top_out_rate_n_per_mm=st.just(0.0) | st.floats(0.5, 120),
    top_out_mm=st.floats(0, 60),
    air=airs,
)
forks = st.builds(Fork, st.lists(legs, min_size=1, max_size=2).map(tuple), st.floats(60, 330))
loads = st.floats(10, 6000)
hanging = st.floats(-400, 0)


class TestTheSearch:
    """Where Newton's step would leave what is known to hold the answer, the middle of that is looked at next."""

    def asked(self, monkeypatch: pytest.MonkeyPatch, fork: Fork, load_n: float) -> tuple[float, list[float]]:
        """Where the fork rests, and at which compressions the force was asked for on the way."""
        seen: list[float] = []

        def force_and_rate(of: Fork, x_mm: float) -> tuple[float, float]:
            seen.append(x_mm)
            return fork_force(of, x_mm), fork_rate(of, x_mm)

        monkeypatch.setattr(equilibrium, "force_and_rate", force_and_rate)
        return fork_position(fork, load_n).travel_mm, seen

    def test_a_loose_spring_gives_no_slope_to_begin_with(self, monkeypatch: pytest.MonkeyPatch) -> None:
        """12 mm loose, 9 N/mm in each leg: 324 N rest at 12 + 324 / 18 = 30 mm (by hand)."""
        fork = Fork((ForkLeg(rate_n_per_mm=9.0, preload_mm=-12.0),) * 2, 120.0)
        at, seen = self.asked(monkeypatch, fork, 324.0)
        assert at == pytest.approx(30.0, abs=1e-9)
        assert seen[:3] == [0.0, 120.0, 60.0]

    def test_air_that_stiffens_makes_the_first_step_far_too_long(self, monkeypatch: pytest.MonkeyPatch) -> None:
        """Boyle's law, atmosphere 0.101325 MPa: 1000 mm² over 5,000 mm³ at 100 mm of travel hold
        101.325 · (105 / (105 - x) - 1) N, so that 911.925 N rest at x = 94.5 mm (by hand)."""
        fork = Fork((ForkLeg(air=TrappedAir(area_mm2=1000.0, least_volume_mm3=5000.0)),), 100.0)
        at, seen = self.asked(monkeypatch, fork, 911.925)
        assert at == pytest.approx(94.5, abs=1e-9)
        assert seen[:3] == [0.0, 100.0, 50.0]


@settings(max_examples=400)
@given(forks, st.floats(-2000, 20_000))
def test_forces_balance_to_a_millionth_of_a_newton(fork: Fork, load: float) -> None:
    at = fork_position(fork, load)
    assert 0.0 <= at.travel_mm <= fork.travel_mm
    if at.limit is Limit.TOPPED_OUT:
        assert at.travel_mm == 0.0
        assert fork_force(fork, 0.0) >= load
    elif at.limit is Limit.BOTTOMED:
        assert at.travel_mm == fork.travel_mm
        assert fork_force(fork, fork.travel_mm) <= load
    else:
        assert abs(fork_force(fork, at.travel_mm) - load) < 1e-6
        assert abs(at.residual_n) < 1e-6


@settings(max_examples=200)
@given(forks, loads)
def test_position_agrees_with_scipy(fork: Fork, load: float) -> None:
    assume(fork_force(fork, 0.0) < load - 1e-3 < load + 1e-3 < fork_force(fork, fork.travel_mm))
    x = fork_position(fork, load).travel_mm
    reference = brentq(lambda x: fork_force(fork, x) - load, 0.0, fork.travel_mm, xtol=1e-12, rtol=1e-14)
    rate = max(fork_rate(fork, x), 1e-9)
    assert x == pytest.approx(reference, abs=1e-9 + 1e-7 / rate)


@given(forks, loads)
def test_the_legs_may_stand_in_either_order_to_the_last_digit(fork: Fork, load: float) -> None:
    """Two numbers have one sum in either order, and so what is shown never turns on which leg comes first."""
    assert fork_position(Fork(fork.legs[::-1], fork.travel_mm), load) == fork_position(fork, load)


@given(legs, loads, st.floats(0.0, 1.0), st.floats(-20, 20))
def test_legs_worked_out_once_give_the_same_as_each_by_itself(
    leg: ForkLeg, load: float, share: float, mm: float
) -> None:
    once, twice = fork_of([leg, replace(leg)], 120.0), Fork((leg, replace(leg)), 120.0)
    assert once.legs[0] is once.legs[1]
    assert twice.legs[0] is not twice.legs[1]
    assert fork_force(once, 120.0 * share) == fork_force(twice, 120.0 * share)
    assert fork_position(once, load) == fork_position(twice, load)
    for added_mm in ((mm,), (0.0, 0.0), (mm, 0.0), (mm, mm)):
        assert with_added_preload(once, *added_mm) == with_added_preload(twice, *added_mm)


@given(forks, st.floats(0, 1))
def test_rate_is_the_slope_of_the_force(fork: Fork, share: float) -> None:
    x, step = share * (fork.travel_mm - 2e-3) + 1e-3, 1e-5
    kinks = [leg.top_out_mm for leg in fork.legs] + [-leg.preload_mm for leg in fork.legs]
    assume(all(abs(x - kink) > 1e-3 for kink in kinks))
    slope = (fork_force(fork, x + step) - fork_force(fork, x - step)) / (2 * step)
    assert fork_rate(fork, x) == pytest.approx(slope, rel=1e-4, abs=1e-3)


@given(forks, loads, st.floats(0, 30))
def test_the_machine_never_sits_lower_as_preload_is_added(fork: Fork, load: float, more: float) -> None:
    assert fork_position(with_added_preload(fork, more), load).travel_mm <= fork_position(fork, load).travel_mm + 1e-7


@given(forks, loads, hanging, st.floats(0, 30))
def test_sag_never_rises_as_preload_is_added(fork: Fork, load: float, hang: float, more: float) -> None:
    """Without a top-out spring. With one, both positions rise and the difference may go either way where air helps."""
    plain = Fork(tuple(replace(leg, top_out_rate_n_per_mm=0.0) for leg in fork.legs), fork.travel_mm)
    # Cold air may hold the hanging wheel off the stop, which is the same effect.
    assume(fork_position(plain, hang).travel_mm == 0.0)
    assert fork_sag(with_added_preload(plain, more), load, hang).sag_mm <= fork_sag(plain, load, hang).sag_mm + 1e-7


@given(forks, loads, st.floats(1, 2))
def test_the_machine_never_sits_lower_on_a_stiffer_spring(fork: Fork, load: float, times: float) -> None:
    legs = tuple(replace(leg, rate_n_per_mm=leg.rate_n_per_mm * times) for leg in fork.legs)
    assert fork_position(Fork(legs, fork.travel_mm), load).travel_mm <= fork_position(fork, load).travel_mm + 1e-7


@given(forks, loads, hanging, st.floats(0, 2000))
def test_sag_never_falls_as_load_is_added(fork: Fork, load: float, hang: float, more: float) -> None:
    assert fork_sag(fork, load + more, hang).sag_mm >= fork_sag(fork, load, hang).sag_mm - 1e-7


@given(st.floats(5, 15), st.floats(0, 20), st.floats(60, 200), st.floats(5, 60), loads)
def test_sag_never_rises_as_the_air_gap_gets_smaller(
    rate: float, preload: float, gap: float, less: float, load: float
) -> None:
    def fork(air_gap: float) -> Fork:
        air = TrappedAir(area_mm2=circle_area(43.0), least_volume_mm3=least_air_volume(39.0, air_gap))
        return Fork((ForkLeg(rate_n_per_mm=rate, preload_mm=preload, air=air),) * 2, 120.0)

    assume(gap - less > 1.0)
    assert fork_sag(fork(gap - less), load).sag_mm <= fork_sag(fork(gap), load).sag_mm + 1e-9
    assert fork_parts(fork(gap - less)).air_n > fork_parts(fork(gap)).air_n


def test_the_ends_are_said_and_not_passed() -> None:
    fork = Fork((ForkLeg(rate_n_per_mm=9.0, preload_mm=12.0),) * 2, 120.0)
    top, bottom = fork_position(fork, 100.0), fork_position(fork, 5000.0)
    assert (top.travel_mm, top.limit, top.residual_n) == (0.0, Limit.TOPPED_OUT, 100.0 - 216.0)
    assert (bottom.travel_mm, bottom.limit, bottom.residual_n) == (120.0, Limit.BOTTOMED, 5000.0 - 2376.0)


def test_one_leg_may_go_without_a_spring() -> None:
    one = Fork((ForkLeg(rate_n_per_mm=18.0, preload_mm=12.0), ForkLeg()), 120.0)
    pair = Fork((ForkLeg(rate_n_per_mm=9.0, preload_mm=12.0),) * 2, 120.0)
    assert fork_position(one, 756.0).travel_mm == fork_position(pair, 756.0).travel_mm


def test_a_hanging_wheel_stretches_the_top_out_spring() -> None:
    """k (P + x) - kt (xt - x) = -U by hand: x = (kt xt - U - k P) / (k + kt)."""
    leg = ForkLeg(rate_n_per_mm=9.0, preload_mm=10.0, top_out_rate_n_per_mm=30.0, top_out_mm=20.0)
    fork = Fork((leg, leg), 120.0)
    sag = fork_sag(fork, 900.0, -140.0)
    assert sag.unloaded.travel_mm == pytest.approx((600.0 - 70.0 - 90.0) / 39.0)
    assert sag.sag_mm == pytest.approx(900.0 / 18.0 - 10.0 - sag.unloaded.travel_mm)


def test_a_set_length_read_assembled_leaves_the_two_springs_in_balance() -> None:
    rate, top_rate, reach, free, length = 9.5, 30.0, 20.0, 250.0, 238.0
    at = reading_point_assembled(rate, free - length, top_rate, reach)
    leg = ForkLeg(
        rate_n_per_mm=rate,
        preload_mm=free - length - at,
        top_out_rate_n_per_mm=top_rate,
        top_out_mm=reach,
    )
    assert spring_forces(leg, at) == pytest.approx(0.0, abs=1e-9)
    assert fork_position(Fork((leg,), 120.0), 0.0).travel_mm == pytest.approx(at)


def test_read_assembled_the_true_range_is_a_little_more_than_the_lengths_say() -> None:
    rate, top_rate, reach, free = 9.5, 30.0, 20.0, 250.0
    out, fully_in = (
        free - length - reading_point_assembled(rate, free - length, top_rate, reach) for length in (238.0, 230.0)
    )
    assert fully_in - out == pytest.approx(8.0 * (1 + rate / top_rate))


def test_reading_points_from_stop_to_touching() -> None:
    assert reading_point_touching(20.0) == 20.0
    assert reading_point_assembled(9.5, -3.0, 30.0, 20.0) == 20.0
    assert reading_point_assembled(9.5, 100.0, 30.0, 20.0) == 0.0


def test_air_is_slack_where_it_was_closed_and_pulls_when_cold() -> None:
    air = TrappedAir(area_mm2=1452.0, least_volume_mm3=150_000.0)
    assert air_force(air, 120.0, 0.0) == pytest.approx(0.0, abs=1e-9)
    assert air_force(replace(air, temperature_ratio=0.95), 120.0, 0.0) < 0.0
    assert air_force(replace(air, closed_at_mm=60.0), 120.0, 60.0) == pytest.approx(0.0, abs=1e-9)


def test_fast_air_is_harder_than_slow_air_at_full_travel() -> None:
    air = TrappedAir(area_mm2=circle_area(43.0), least_volume_mm3=least_air_volume(39.0, 110.0))
    fork = Fork((ForkLeg(rate_n_per_mm=9.0, preload_mm=12.0, air=air),) * 2, 120.0)
    hard = replace(fork, legs=tuple(replace(leg, air=replace(air, exponent=1.4)) for leg in fork.legs))
    slow, fast = fork_parts(fork), fork_parts(hard)
    assert 0.0 < slow.air_n < fast.air_n < fast.sum_n
    assert slow.sum_n - slow.air_n == pytest.approx(2 * 9.0 * 132.0)
    assert fast.sum_n == pytest.approx(fork_force(hard, 120.0), rel=1e-12)


def test_one_rate_is_put_in_each_leg_that_has_a_spring() -> None:
    fork = with_rate(Fork((ForkLeg(rate_n_per_mm=9.0), ForkLeg()), 120.0), 10.5)
    assert [leg.rate_n_per_mm for leg in fork.legs] == [10.5, 0.0]


@pytest.mark.parametrize(
    "call",
    [
        lambda: ForkLeg(rate_n_per_mm=-1.0),
        lambda: ForkLeg(preload_mm=float("nan")),
        lambda: ForkLeg(top_out_mm=-1.0),
        lambda: Fork((), 120.0),
        lambda: Fork((ForkLeg(),), 0.0),
        lambda: TrappedAir(area_mm2=1452.0, least_volume_mm3=0.0),
        lambda: TrappedAir(area_mm2=0.0, least_volume_mm3=1.0),
        lambda: fork_force(Fork((ForkLeg(),), 120.0), 121.0),
        lambda: fork_rate(Fork((ForkLeg(),), 120.0), -1.0),
        lambda: fork_position(Fork((ForkLeg(),), 120.0), float("nan")),
        lambda: fork_sag(Fork((ForkLeg(),), 120.0), 100.0, 5.0),
        lambda: with_added_preload(Fork((ForkLeg(),), 120.0), 1.0, 2.0),
        lambda: with_rate(Fork((ForkLeg(),), 120.0), 0.0),
        lambda: air_force(TrappedAir(area_mm2=1000.0, least_volume_mm3=1000.0), 120.0, 122.0),
        lambda: reading_point_assembled(9.0, 12.0, 0.0, 20.0),
    ],
)
def test_forks_that_cannot_be_are_refused(call) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange):
        call()
