"""Springs, gas and loads: what they refuse, and how they hang together."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.gas import (
    air_spring_force,
    air_spring_rate,
    circle_area,
    heated_pressure,
    least_air_volume,
    polytropic_pressure,
    temperature_ratio,
    tyre_pressure_at,
)
from stanchion.mechanics.load import (
    cosine_of_rake,
    share_on_wheel,
    sprung_load,
    vertical_rate,
    working_rate,
    working_rate_uncertainty,
)
from stanchion.mechanics.spring import (
    Ends,
    active_coils,
    in_parallel,
    in_series,
    left_at_full_travel,
    mean_coil_diameter,
    minimum_gaps,
    solid_length,
    spring_index,
    spring_rate,
)
from stanchion.mechanics.statistics import Uncertainty


@given(st.floats(1, 200), st.floats(1, 200))
def test_two_springs_are_stiffer_side_by_side_and_softer_end_on_end(first: float, second: float) -> None:
    assert in_series(first, second) < min(first, second) <= max(first, second) < in_parallel(first, second)


def test_full_travel_with_three_millimetres_left() -> None:
    assert left_at_full_travel(250.0, 107.0, 20.0, 120.0) == 3.0
    assert left_at_full_travel(250.0, 120.0, 20.0, 120.0) == -10.0


def test_a_hot_tyre_reads_higher_by_absolute_pressure_over_absolute_temperature() -> None:
    hot = tyre_pressure_at(1.70, 20.0, 75.0)
    assert (hot + 1.01325) / (1.70 + 1.01325) == pytest.approx(348.15 / 293.15)
    assert tyre_pressure_at(hot, 75.0, 20.0) == pytest.approx(1.70)


@given(st.floats(0.05, 3), st.floats(500, 2500), st.floats(5_000, 500_000), st.sampled_from([1.0, 1.2, 1.4]))
def test_rate_of_an_air_spring_is_the_slope_of_its_force(
    pressure: float, area: float, volume: float, exponent: float
) -> None:
    step = 1e-5 * volume / area

    def force(moved: float) -> float:
        ratio = volume / (volume - area * moved)
        return air_spring_force(polytropic_pressure(pressure, ratio, exponent), area)

    slope = (force(step) - force(-step)) / (2 * step)
    assert air_spring_rate(pressure, area, volume, exponent) == pytest.approx(slope, rel=1e-6)


def test_scales_and_shares_give_the_same_load() -> None:
    assert sprung_load(share_on_wheel(190.0, 0.5), 15.0) == sprung_load(95.0, 15.0) == pytest.approx(80 * 9.80665)


def test_an_upright_fork_is_as_stiff_vertically_as_along_the_leg() -> None:
    assert vertical_rate(18.0, 0.0) == 18.0


def test_working_rate_and_how_far_to_trust_it() -> None:
    assert working_rate(360.0, 20.0) == 18.0
    assert working_rate_uncertainty(360.0, 20.0, 36.0, Uncertainty(0.0)).standard == pytest.approx(1.8)
    both = working_rate_uncertainty(360.0, 20.0, 36.0, Uncertainty(2.0, 4.0))
    assert both.standard == pytest.approx(1.8 * 2**0.5)
    assert both.freedom == pytest.approx(4 * 4)  # half of the variance rests on 4 degrees: u^4 / ((u^2 / 2)^2 / 4)


@pytest.mark.parametrize(
    "call",
    [
        lambda: active_coils(2.0, Ends.CLOSED),
        lambda: mean_coil_diameter(9.0, 4.5),
        lambda: spring_index(4.5, 4.5),
        lambda: spring_rate(0.0, 4.5, 38.0, 20.0),
        lambda: spring_rate(80_000.0, 4.5, 38.0, 0.0),
        lambda: solid_length(0.0, 4.5, Ends.OPEN),
        lambda: minimum_gaps(0.0, 38.0, 20.0),
        in_series,
        lambda: in_series(9.0, 0.0),
        lambda: in_parallel(9.0, -1.0),
        lambda: left_at_full_travel(100.0, 100.0, 10.0, 20.0),
        lambda: circle_area(0.0),
        lambda: least_air_volume(39.0, 10.0, 20_000.0),
        lambda: polytropic_pressure(0.0, 2.0, 1.0),
        lambda: heated_pressure(1.0, -300.0, 20.0),
        lambda: temperature_ratio(20.0, -273.15),
        lambda: tyre_pressure_at(-0.1, 20.0, 70.0),
        lambda: sprung_load(10.0, 15.0),
        lambda: share_on_wheel(180.0, 1.1),
        lambda: cosine_of_rake(90.0),
        lambda: vertical_rate(18.0, -1.0),
        lambda: working_rate(360.0, 0.0),
    ],
)
def test_what_cannot_be_is_refused(call) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange):
        call()
