"""A leg sprung by air with an outer chamber, against first principles, limiting cases and an energy balance.

First principles: p V^n = const in each chamber, and a floating piston that is pushed by both pressures.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.air_spring import AirSpring, Chamber, with_more_pressure, with_port
from stanchion.mechanics.gas import ATMOSPHERE_MPA, circle_area

AREA = circle_area(34.0)
RING = circle_area(34.0) - circle_area(12.0)


def chamber(area_mm2: float, ml: float, bar: float) -> Chamber:
    return Chamber(area_mm2=area_mm2, volume_mm3=ml * 1000.0, pressure_mpa=bar / 10.0 + ATMOSPHERE_MPA)


def own_area(n: float = 1.0) -> AirSpring:
    """Main, balance and outer chamber, each with a pressure of its own."""
    return AirSpring(
        main=chamber(AREA, 380.0, 8.0),
        balance=chamber(RING, 45.0, 7.0),
        outer=chamber(900.0, 420.0, 1.5),
        exponent=n,
    )


def floating(n: float = 1.0, main_bar: float = 8.0, outer_bar: float = 16.0) -> AirSpring:
    return AirSpring(
        main=chamber(AREA, 380.0, main_bar), outer=chamber(1.0, 90.0, outer_bar), floating=True, exponent=n
    )


@pytest.mark.parametrize("n", [1.0, 1.3])
@pytest.mark.parametrize("x_mm", [0.0, 60.0, 150.0, 280.0])
def test_three_chambers_push_and_pull_each_by_its_pressure_above_ambient(n: float, x_mm: float) -> None:
    by_hand = (
        AREA * ((0.8 + ATMOSPHERE_MPA) * (380e3 / (380e3 - AREA * x_mm)) ** n - ATMOSPHERE_MPA)
        + 900.0 * ((0.15 + ATMOSPHERE_MPA) * (420e3 / (420e3 - 900.0 * x_mm)) ** n - ATMOSPHERE_MPA)
        - RING * ((0.7 + ATMOSPHERE_MPA) * (45e3 / (45e3 + RING * x_mm)) ** n - ATMOSPHERE_MPA)
    )
    assert own_area(n).state(x_mm)[0] == pytest.approx(by_hand, abs=1e-9)


@pytest.mark.parametrize("n", [1.0, 1.2, 1.4])
@pytest.mark.parametrize("x_mm", [0.0, 150.0, 250.0, 300.0, 320.0])
def test_a_floating_piston_is_where_both_pressures_are_equal_or_on_its_stop(n: float, x_mm: float) -> None:
    """The place of the piston by root finding, with no use of the closed form."""
    spring = floating(n)

    def pressures(given_way_mm3: float) -> tuple[float, float]:
        main = (0.8 + ATMOSPHERE_MPA) * (380e3 / (380e3 - AREA * x_mm + given_way_mm3)) ** n
        return main, (1.6 + ATMOSPHERE_MPA) * (90e3 / (90e3 - given_way_mm3)) ** n

    def more(given_way_mm3: float) -> float:
        main, outer = pressures(given_way_mm3)
        return main - outer

    way = 0.0 if more(0.0) <= 0.0 else float(brentq(more, 0.0, 90e3 - 1.0, xtol=1e-9))
    assert spring.state(x_mm)[0] == pytest.approx(AREA * (pressures(way)[0] - ATMOSPHERE_MPA), rel=1e-9)
    moves_at = spring.piston_moves_at(n)
    assert moves_at is not None
    assert (way > 0.0) == (x_mm > moves_at)


def test_the_stiffness_falls_where_the_floating_piston_leaves_its_stop_and_the_force_does_not_jump() -> None:
    spring = floating()
    at = spring.piston_moves_at(1.0)
    assert at is not None
    assert at == pytest.approx(380e3 * (1.0 - (0.8 + ATMOSPHERE_MPA) / (1.6 + ATMOSPHERE_MPA)) / AREA)
    before, after = spring.state(at - 1e-9), spring.state(at + 1e-9)
    assert before[0] == pytest.approx(after[0], rel=1e-9)
    assert after[1] < 0.7 * before[1]


@given(x=st.floats(1.0, 300.0), n=st.floats(1.0, 1.4), bar=st.floats(2.0, 16.0), piston=st.booleans())
@settings(max_examples=80, deadline=None)
def test_the_rate_is_the_slope_of_the_force(x: float, n: float, bar: float, piston: bool) -> None:
    spring = floating(n, main_bar=bar) if piston else replace(own_area(n), main=chamber(AREA, 380.0, bar))
    h = 1e-3
    moves_at = spring.piston_moves_at(n)
    if moves_at is None or abs(x - moves_at) > 2.0 * h:
        slope = (spring.state(x + h)[0] - spring.state(x - h)[0]) / (2.0 * h)
        assert spring.state(x)[1] == pytest.approx(slope, rel=1e-5)
    assert spring.state(x)[1] > 0.0


@pytest.mark.parametrize("n", [1.0, 1.3])
def test_the_work_done_on_the_leg_is_the_work_done_on_the_air_of_both_chambers(n: float) -> None:
    def on_gas(p: float, before: float, after: float) -> float:
        if n == 1.0:
            return p * before * math.log(before / after)
        return (p * math.pow(before / after, n) * after - p * before) / (n - 1.0)

    spring, x = floating(n), 310.0
    pressure = spring.state(x)[0] / AREA + ATMOSPHERE_MPA  # both chambers have it, for the piston has left its stop
    left = [
        volume * (p / pressure) ** (1.0 / n)
        for p, volume in ((0.8 + ATMOSPHERE_MPA, 380e3), (1.6 + ATMOSPHERE_MPA, 90e3))
    ]
    assert sum(left) == pytest.approx(470e3 - AREA * x, rel=1e-12)
    by_gas = on_gas(0.8 + ATMOSPHERE_MPA, 380e3, left[0]) + on_gas(1.6 + ATMOSPHERE_MPA, 90e3, left[1])
    at = spring.piston_moves_at(n)
    assert at is not None
    by_force = sum(quad(lambda s: spring.state(s)[0], a, b, epsabs=1e-9)[0] for a, b in ((0.0, at), (at, x)))
    assert by_force == pytest.approx(by_gas - ATMOSPHERE_MPA * AREA * x, rel=1e-9)


def test_limits_of_the_outer_chamber() -> None:
    main = AirSpring(main=chamber(AREA, 380.0, 8.0))
    endless = replace(main, outer=Chamber(area_mm2=900.0, volume_mm3=1e18, pressure_mpa=0.15 + ATMOSPHERE_MPA))
    without_pressure = replace(endless, outer=Chamber(area_mm2=900.0, volume_mm3=1e18, pressure_mpa=ATMOSPHERE_MPA))
    unmoved = replace(floating(), outer=chamber(1.0, 90.0, 5000.0))
    without_room = replace(floating(), outer=chamber(1.0, 1e-9, 8.5))
    for x in (0.0, 100.0, 300.0):
        alone = main.state(x)[0]
        assert endless.state(x)[0] == pytest.approx(alone + 135.0, rel=1e-9)  # 900 mm² at 1.5 bar
        assert without_pressure.state(x)[0] == pytest.approx(alone, rel=1e-9)
        assert unmoved.state(x)[0] == pytest.approx(alone, rel=1e-12)
        assert without_room.state(x)[0] == pytest.approx(alone, rel=1e-6)
    # Set to the same pressure, or the main one to more, both are one chamber.
    for main_bar in (8.0, 9.0):
        one = AirSpring(main=chamber(AREA, 470.0, main_bar), exponent=1.3)
        for x in (0.0, 100.0, 300.0):
            assert floating(1.3, main_bar, 8.0).state(x)[0] == pytest.approx(one.state(x)[0], rel=1e-12)


@given(main_bar=st.floats(2.0, 16.0), outer_bar=st.floats(2.0, 16.0), x=st.floats(0.0, 300.0))
@settings(max_examples=60, deadline=None)
def test_more_pressure_in_either_chamber_never_makes_the_leg_softer(
    main_bar: float, outer_bar: float, x: float
) -> None:
    force = floating(1.0, main_bar, outer_bar).state(x)[0]
    assert floating(1.0, main_bar + 0.1, outer_bar).state(x)[0] > force
    assert floating(1.0, main_bar, outer_bar + 0.1).state(x)[0] >= force


def test_warmth_and_a_pump_change_what_they_reach() -> None:
    warm = replace(floating(), temperature_ratio=1.1)
    assert warm.piston_moves_at(1.0) == floating().piston_moves_at(1.0)  # both pressures rise alike
    cold = AREA * (floating().state(310.0)[0] / AREA + ATMOSPHERE_MPA)
    assert warm.state(310.0)[0] == pytest.approx(1.1 * cold - AREA * ATMOSPHERE_MPA, rel=1e-12)
    pumped = with_more_pressure(own_area(), 0.05)
    assert pumped.main.pressure_mpa == pytest.approx(own_area().main.pressure_mpa + 0.05)
    assert (pumped.outer, pumped.balance) == (own_area().outer, own_area().balance)


def test_a_port_that_lies_beyond_the_place_where_the_piston_moves_has_the_pressure_of_both() -> None:
    spring = floating(1.0, 8.0, 8.2)
    moves_at = spring.piston_moves_at(1.0)
    assert moves_at is not None
    assert moves_at < 15.0
    filled = with_port(spring, RING, 45_000.0, 15.0)
    assert filled.balance is not None
    at_port = filled.balance.pressure_mpa * 45e3 / (45e3 + RING * 15.0)
    assert at_port == pytest.approx(spring.state(15.0)[0] / AREA + ATMOSPHERE_MPA, rel=1e-12)
    again = with_more_pressure(filled, 0.1)
    assert again == with_port(floating(1.0, 9.0, 8.2), RING, 45_000.0, 15.0)


def test_a_leg_cannot_be_pushed_beyond_the_end_of_its_outer_chamber() -> None:
    with pytest.raises(OutOfRange, match="no volume left"):
        replace(own_area(), outer=chamber(2000.0, 400.0, 1.0)).state(200.0)
