"""Springs as curves: the rate is the slope of the force, the energy is closed, and a straight curve is one rate."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.equilibrium import Limit, fork_position, fork_sag
from stanchion.mechanics.fork import Fork, ForkLeg, fork_force, fork_rate, spring_forces, with_rate, with_spring
from stanchion.mechanics.fork_change import preload_for_sag, rate_for_sag
from stanchion.mechanics.linkage import constant_ratio, through_pairs
from stanchion.mechanics.rear import (
    RearEnd,
    rear_position,
    rear_travel,
    rear_wheel_force,
    rear_wheel_rate,
    with_preload,
    with_shock_spring,
)
from stanchion.mechanics.rear_change import rear_preload_for_sag, rear_rate_for_sag
from stanchion.mechanics.spring_curve import SpringCurve, force_at, rate_at, rising_rate

rates = st.floats(1.0, 150.0)
rising = st.builds(lambda low, more, over: rising_rate(low, low * more, over), rates, st.floats(1.01, 3.0), rates)
squeezed = st.floats(0.0, 300.0)


def leg(curve: SpringCurve, preload_mm: float = 12.0, **others: float) -> ForkLeg:
    """A leg with that spring."""
    return with_spring(ForkLeg(**others), curve, preload_mm)  # type: ignore[arg-type]


class TestTheCurve:
    """Force and rate of a spring by its label."""

    def test_gives_the_exact_forces_of_a_rate_that_rises_evenly(self) -> None:
        """6.5 to 10.5 N/mm over 120 mm: integrals worked by hand (exact)."""
        curve = rising_rate(6.5, 10.5, 120.0)
        for at_mm, force_n in ((20.0, 136.666667), (60.0, 450.0), (120.0, 1020.0), (140.0, 1230.0)):
            assert force_at(curve, at_mm) == pytest.approx(force_n, abs=1e-6)

    @given(rising, st.floats(0.01, 300.0))
    def test_rate_is_the_slope_of_the_force(self, curve: SpringCurve, at_mm: float) -> None:
        """By a central difference, away from the knot."""
        h = 1e-4
        if abs(at_mm - curve.knots_mm[1]) > 2 * h:
            slope = (force_at(curve, at_mm + h) - force_at(curve, at_mm - h)) / (2 * h)
            assert rate_at(curve, at_mm) == pytest.approx(slope, rel=1e-5)

    @given(rising, squeezed, squeezed)
    def test_energy_is_closed(self, curve: SpringCurve, one_mm: float, other_mm: float) -> None:
        """What a stroke stores is given back, and the force rises by the integral of the rate."""
        there = quad(lambda u: force_at(curve, u), one_mm, other_mm, points=[curve.knots_mm[1]])[0]
        back = quad(lambda u: force_at(curve, u), other_mm, one_mm, points=[curve.knots_mm[1]])[0]
        assert there == pytest.approx(-back, rel=1e-9, abs=1e-9)
        rise = quad(lambda u: rate_at(curve, u), one_mm, other_mm, points=[curve.knots_mm[1]])[0]
        assert force_at(curve, other_mm) - force_at(curve, one_mm) == pytest.approx(rise, rel=1e-6, abs=1e-6)

    @given(rates, squeezed)
    def test_a_straight_curve_is_one_rate(self, rate: float, at_mm: float) -> None:
        """Force and rate alike."""
        straight = rising_rate(rate, rate, 100.0)
        assert force_at(straight, at_mm) == pytest.approx(force_at(rate, at_mm), rel=1e-12)
        assert rate_at(straight, at_mm) == rate

    @pytest.mark.parametrize(
        "made",
        [
            lambda: rising_rate(0.0, 10.5, 120.0),
            lambda: rising_rate(8.5, 10.5, 0.0),
            lambda: SpringCurve((), ()),
            lambda: SpringCurve((5.0,), ((0.0, 9.0, 0.0, 0.0),)),
            lambda: SpringCurve((0.0, 0.0), ((0.0, 9.0, 0.0, 0.0), (0.0, 9.0, 0.0, 0.0))),
            lambda: SpringCurve((0.0,), ((0.0, -9.0, 0.0, 0.0),)),
            lambda: force_at(0.0, 10.0),
            lambda: rate_at(9.0, float("nan")),
        ],
    )
    def test_refuses_what_is_no_spring(self, made: object) -> None:
        """No rate, no length, no first knot at 0."""
        with pytest.raises(OutOfRange):
            made()  # type: ignore[operator]


class TestAForkWithIt:
    """The solver of forces takes a curve as it takes one rate."""

    @given(rising, st.floats(-20.0, 40.0), st.floats(10.0, 3000.0))
    def test_rests_where_the_forces_balance(self, curve: SpringCurve, preload_mm: float, load_n: float) -> None:
        """Against Brent's method of scipy."""
        fork = Fork((leg(curve, preload_mm),) * 2, 130.0)
        position = fork_position(fork, load_n)
        if position.limit is Limit.NONE:
            by_scipy = brentq(lambda x: fork_force(fork, x) - load_n, 0.0, 130.0, xtol=1e-12)
            assert position.travel_mm == pytest.approx(by_scipy, abs=1e-6)
        else:
            end_n = fork_force(fork, position.travel_mm)
            assert end_n >= load_n if position.limit is Limit.TOPPED_OUT else end_n <= load_n

    @given(rates, st.floats(-20.0, 40.0), st.floats(0.0, 130.0))
    def test_with_a_straight_curve_is_the_fork_with_one_rate(self, rate: float, preload_mm: float, x: float) -> None:
        """Force, rate and the force of the springs alone."""
        plain = ForkLeg(rate_n_per_mm=rate, preload_mm=preload_mm, top_out_rate_n_per_mm=30.0, top_out_mm=15.0)
        curved = with_spring(plain, rising_rate(rate, rate, 90.0), preload_mm)
        one, other = Fork((plain,), 130.0), Fork((curved,), 130.0)
        assert fork_force(other, x) == pytest.approx(fork_force(one, x), rel=1e-9, abs=1e-9)
        assert fork_rate(other, x) == pytest.approx(fork_rate(one, x))
        assert spring_forces(curved, x) == pytest.approx(spring_forces(plain, x), rel=1e-9, abs=1e-9)

    @given(
        rising,
        st.floats(0.0, 30.0),
        st.floats(15.0, 60.0),
        st.floats(200.0, 2000.0),
        st.sampled_from([0.0, 40.0]),
        st.floats(-200.0, 0.0),
    )
    def test_preload_for_a_sag_gives_that_sag(
        self, curve: SpringCurve, preload_mm: float, wanted_mm: float, load_n: float, stiff: float, hanging_n: float
    ) -> None:
        """Also against a top-out spring."""
        made = leg(curve, preload_mm, top_out_rate_n_per_mm=stiff, top_out_mm=20.0)
        fork = Fork((made,) * 2, 130.0)
        added = preload_for_sag(fork, wanted_mm, load_n, hanging_n)
        if added is not None:
            after = Fork((replace(made, preload_mm=preload_mm + added),) * 2, 130.0)
            assert fork_sag(after, load_n, hanging_n).sag_mm == pytest.approx(wanted_mm, abs=1e-5)

    def test_one_rate_for_the_same_sag_lies_between_the_two_of_the_label(self) -> None:
        """And the fork with it has no curve any more."""
        fork = Fork((leg(rising_rate(8.5, 10.5, 120.0)),) * 2, 130.0)
        load_n = 900.0
        sag_mm = fork_sag(fork, load_n).sag_mm
        rate = rate_for_sag(fork, sag_mm, load_n)
        assert rate is not None
        assert 8.5 < rate < 10.5
        single = with_rate(fork, rate)
        assert single.legs[0].curve is None
        assert fork_sag(single, load_n).sag_mm == pytest.approx(sag_mm, abs=1e-6)


class TestAShockWithIt:
    """The rear end likewise, through its linkage."""

    LINKAGE = through_pairs(((0.0, 0.0), (40.0, 18.0), (80.0, 38.0), (120.0, 60.0)))

    def rear(self, curve: SpringCurve, preload_mm: float = 10.0) -> RearEnd:
        """A rear end with that spring."""
        bare = RearEnd(rate_n_per_mm=1.0, preload_mm=0.0, linkage=self.LINKAGE, travel_mm=120.0, gas_force_n=200.0)
        return with_shock_spring(bare, curve, preload_mm)

    @given(st.floats(1.0, 118.0))
    @example(40.0)
    def test_wheel_rate_is_the_slope_of_the_wheel_force(self, wheel_mm: float) -> None:
        """Curve of the spring and of the linkage together; at a measured pair the slope of either side."""
        rear, h = self.rear(rising_rate(70.0, 110.0, 60.0)), 1e-4
        below, here, above = (rear_wheel_force(rear, wheel_mm + by) for by in (-h, 0.0, h))
        least, most = sorted(((here - below) / h, (above - here) / h))
        assert least * (1 - 1e-3) <= rear_wheel_rate(rear, wheel_mm) <= most * (1 + 1e-3)

    @given(rising, st.floats(0.0, 20.0), st.floats(200.0, 4000.0))
    def test_rests_where_the_forces_balance(self, curve: SpringCurve, preload_mm: float, load_n: float) -> None:
        """The place that is found carries the load."""
        rear = self.rear(curve, preload_mm)
        position = rear_position(rear, load_n)
        if position.limit is Limit.NONE:
            assert rear_wheel_force(rear, position.travel_mm) == pytest.approx(load_n, rel=1e-6, abs=1e-6)

    @given(st.floats(20.0, 60.0), st.floats(700.0, 2000.0))
    def test_preload_and_rate_for_a_sag_give_that_sag(self, wanted_mm: float, load_n: float) -> None:
        """With a curve for preload, and with one rate in its place."""
        rear = self.rear(rising_rate(70.0, 110.0, 60.0))
        preload = rear_preload_for_sag(rear, wanted_mm, load_n)
        if preload is not None:
            assert rear_travel(with_preload(rear, preload), load_n)[0] == pytest.approx(wanted_mm, abs=1e-5)
        rate = rear_rate_for_sag(rear, wanted_mm, load_n)
        if rate is not None:
            single = with_shock_spring(rear, rate, rear.preload_mm)
            assert single.curve is None
            assert rear_travel(single, load_n)[0] == pytest.approx(wanted_mm, abs=1e-5)

    def test_with_a_straight_curve_is_the_shock_with_one_rate(self) -> None:
        """To the last digit that matters."""
        plain = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=120.0)
        curved = with_shock_spring(plain, rising_rate(90.0, 90.0, 50.0), 10.0)
        assert rear_position(curved, 900.0).travel_mm == pytest.approx(rear_position(plain, 900.0).travel_mm, abs=1e-9)
