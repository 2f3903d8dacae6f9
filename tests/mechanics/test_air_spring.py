"""A leg sprung by air against exact values, an energy balance and limiting cases."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.air_spring import AirSpring, Chamber, with_port
from stanchion.mechanics.equilibrium import fork_position
from stanchion.mechanics.fork import Fork, ForkLeg, force_and_rate
from stanchion.mechanics.gas import ATMOSPHERE_MPA, circle_area

AREA = circle_area(25.0)
SET = 1.05 + ATMOSPHERE_MPA


def leg(exponent: float = 1.0) -> AirSpring:
    return AirSpring(
        main=Chamber(area_mm2=AREA, volume_mm3=160_000.0, pressure_mpa=SET),
        balance=Chamber(area_mm2=AREA, volume_mm3=24_000.0, pressure_mpa=SET),
        exponent=exponent,
    )


@pytest.mark.parametrize(
    ("exponent", "x_mm", "force_n"),
    [
        (1.0, 0.0, 0.0),
        (1.0, 60.0, 438.905027),
        (1.0, 150.0, 908.032161),
        (1.0, 280.0, 3925.010583),
        (1.3, 60.0, 536.683267),
        (1.3, 150.0, 1168.480147),
        (1.3, 280.0, 7168.633698),
    ],
)
def test_two_chambers(exponent: float, x_mm: float, force_n: float) -> None:
    # Computed by hand from p V^n = const and F = A (p - p_a): 25 mm bore, 160 and 24 ml, 10.5 bar in both.
    assert leg(exponent).state(x_mm)[0] == pytest.approx(force_n, abs=1e-6)


def test_slow_air_keeps_pressure_times_volume_and_fast_air_its_power_of_volume() -> None:
    main = Chamber(area_mm2=500.0, volume_mm3=100_000.0, pressure_mpa=0.9)
    for n in (1.0, 1.2, 1.4):
        spring = AirSpring(main=main, exponent=n)
        for x in (0.0, 40.0, 190.0):
            pressure = spring.state(x)[0] / 500.0 + ATMOSPHERE_MPA
            assert pressure * (100_000.0 - 500.0 * x) ** n == pytest.approx(0.9 * 100_000.0**n, rel=1e-12)


@given(
    x=st.floats(1.0, 270.0),
    n=st.floats(1.0, 1.4),
    bar=st.floats(0.5, 16.0),
    balance_bar=st.floats(0.0, 16.0),
)
@settings(max_examples=60, deadline=None)
def test_the_rate_is_the_slope_of_the_force_and_never_below_zero(
    x: float, n: float, bar: float, balance_bar: float
) -> None:
    spring = AirSpring(
        main=Chamber(area_mm2=AREA, volume_mm3=160_000.0, pressure_mpa=bar / 10.0 + ATMOSPHERE_MPA),
        balance=Chamber(area_mm2=AREA, volume_mm3=24_000.0, pressure_mpa=balance_bar / 10.0 + ATMOSPHERE_MPA),
        exponent=n,
    )
    h = 1e-3
    slope = (spring.state(x + h)[0] - spring.state(x - h)[0]) / (2.0 * h)
    assert spring.state(x)[1] == pytest.approx(slope, rel=1e-5)
    assert spring.state(x)[1] > 0.0


@pytest.mark.parametrize("n", [1.0, 1.3])
def test_the_work_done_on_the_leg_is_the_work_done_on_its_air(n: float) -> None:
    """The integral of the force over travel against the closed form of the work of a polytropic change."""

    def on_gas(chamber: Chamber, after: float) -> float:
        p, v = chamber.pressure_mpa, chamber.volume_mm3
        if n == 1.0:
            return p * v * math.log(v / after)
        return (p * math.pow(v / after, n) * after - p * v) / (n - 1.0)

    spring, x = leg(n), 220.0
    assert spring.balance is not None
    main_after, balance_after = 160_000.0 - AREA * x, 24_000.0 + AREA * x
    by_gas = on_gas(spring.main, main_after) + on_gas(spring.balance, balance_after)  # ambient work cancels: same areas
    by_force = quad(lambda s: spring.state(s)[0], 0.0, x, epsabs=1e-9)[0]
    assert by_force == pytest.approx(by_gas, rel=1e-9)


def test_a_chamber_without_end_is_a_constant_force() -> None:
    spring = AirSpring(main=Chamber(area_mm2=500.0, volume_mm3=1e15, pressure_mpa=1.0 + ATMOSPHERE_MPA), exponent=1.4)
    assert [spring.state(x)[0] for x in (0.0, 150.0, 300.0)] == pytest.approx([500.0] * 3, rel=1e-9)
    assert spring.state(300.0)[1] == pytest.approx(0.0, abs=1e-6)


def test_a_port_makes_both_pressures_equal_where_the_piston_passes_it() -> None:
    main = Chamber(area_mm2=AREA, volume_mm3=160_000.0, pressure_mpa=SET)
    spring = with_port(AirSpring(main=main), AREA, 24_000.0, 8.0)
    assert spring.state(8.0)[0] == pytest.approx(0.0, abs=1e-9)
    assert spring.state(4.0)[0] < 0.0 < spring.state(12.0)[0]
    # The fork stands where the port is, with nothing on it.
    assert fork_position(Fork((ForkLeg(air_spring=spring),), 300.0), 0.0).travel_mm == pytest.approx(8.0, abs=1e-6)


def test_warmer_air_pushes_by_the_ratio_of_absolute_temperatures() -> None:
    warm = AirSpring(main=leg().main, temperature_ratio=303.15 / 293.15)
    assert warm.state(0.0)[0] == pytest.approx(AREA * (SET * 303.15 / 293.15 - ATMOSPHERE_MPA), rel=1e-12)


def test_one_leg_of_air_and_one_with_a_coil_add_up() -> None:
    fork = Fork((ForkLeg(air_spring=leg()), ForkLeg(rate_n_per_mm=5.0, preload_mm=10.0)), 300.0)
    air_n, air_rate = leg().state(100.0)
    assert force_and_rate(fork, 100.0) == pytest.approx((air_n + 550.0, air_rate + 5.0), rel=1e-12)


def test_a_leg_cannot_be_pushed_beyond_the_end_of_its_chamber() -> None:
    with pytest.raises(OutOfRange, match="no volume left"):
        leg().state(160_000.0 / AREA)
