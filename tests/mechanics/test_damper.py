"""Force of a damper against its speed: readings brought together, forces between them, and what a click does."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.damper import (
    equivalent_damping,
    force_at,
    force_at_position,
    gas_by_mean,
    per_click,
    position_of_force,
    repeatability_band,
    slope_between,
)

SPEEDS = [10.0, 25.0, 50.0, 100.0, 200.0, 400.0]
FORCES = [60.0, 120.0, 190.0, 290.0, 410.0, 560.0]
rising = st.lists(st.floats(1.0, 3000.0), min_size=2, max_size=24, unique_by=lambda v: round(v, 1)).map(sorted)


def test_force_between_two_speeds_is_that_of_the_monotone_cubic() -> None:
    """Against scipy's own monotone cubic of Fritsch and Carlson (another method of our own numbers)."""
    judge = PchipInterpolator(SPEEDS, FORCES)
    for at in np.linspace(10.0, 400.0, 57):
        assert force_at(SPEEDS, FORCES, float(at)) == pytest.approx(float(judge(at)), rel=1e-12)


def test_no_force_is_given_outside_the_speeds_measured() -> None:
    for at in (9.9, 400.1, -1.0, math.nan):
        with pytest.raises(OutOfRange):
            force_at(SPEEDS, FORCES, at)


@given(rising, st.data())
def test_a_force_lies_between_those_of_the_speeds_beside_it(speeds: list[float], data: st.DataObject) -> None:
    forces = data.draw(st.lists(st.floats(-5e4, 5e4), min_size=len(speeds), max_size=len(speeds)))
    at = data.draw(st.floats(speeds[0], speeds[-1]))
    (_, f0), (_, f1) = next(
        both for both in pairwise(zip(speeds, forces, strict=True)) if both[0][0] <= at <= both[1][0]
    )
    slack = 1e-9 * max(1.0, *map(abs, forces))
    assert min(f0, f1) - slack <= force_at(speeds, forces, at) <= max(f0, f1) + slack


def test_equivalent_damping_is_force_over_speed() -> None:
    """c = F / v: 300 N at 0.2 m/s is 1500 N·s/m."""
    assert equivalent_damping(300.0, 200.0) == pytest.approx(1500.0)
    with pytest.raises(OutOfRange):
        equivalent_damping(300.0, 0.0)


def test_slope_at_low_and_high_speed() -> None:
    speeds, forces = [50.0, 100.0, 150.0, 300.0, 600.0], [100.0, 200.0, 300.0, 360.0, 480.0]
    assert slope_between(speeds, forces, 0.0, 150.0) == pytest.approx(2000.0)
    assert slope_between(speeds, forces, 150.0, 600.0) == pytest.approx(400.0)
    with pytest.raises(OutOfRange, match="2 or more"):
        slope_between(speeds, forces, 0.0, 60.0)


def test_a_click_is_the_slope_over_all_positions() -> None:
    assert per_click([2.0, 6.0, 10.0], [320.0, 300.0, 240.0]) == pytest.approx(10.0)
    for positions in ([4.0], [4.0, 4.0]):
        with pytest.raises(OutOfRange):
            per_click(positions, [1.0] * len(positions))


@given(st.lists(st.integers(0, 40), min_size=2, max_size=8, unique=True), st.data())
def test_the_position_of_a_force_has_that_force(clicks: list[int], data: st.DataObject) -> None:
    positions = [float(at) for at in sorted(clicks)]
    drops = data.draw(st.lists(st.floats(1.0, 50.0), min_size=len(positions), max_size=len(positions)))
    forces = [900.0 - sum(drops[: i + 1]) for i in range(len(positions))]
    wanted = data.draw(st.floats(forces[-1], forces[0]))
    for one in (forces, [-force for force in forces]):  # falling and rising with the clicks
        way = 1.0 if one is forces else -1.0
        at = position_of_force(positions, one, way * wanted)
        assert force_at_position(positions, one, at) == pytest.approx(way * wanted, abs=1e-6)


def test_no_position_is_given_for_a_force_that_was_not_measured() -> None:
    for forces, wanted in (([300.0, 260.0], 310.0), ([300.0, 260.0], 250.0), ([300.0, 260.0, 280.0], 270.0)):
        with pytest.raises(OutOfRange):
            position_of_force([4.0, 8.0, 12.0][: len(forces)], forces, wanted)
    with pytest.raises(OutOfRange):
        force_at_position([4.0, 8.0], [300.0, 260.0], 9.0)


@given(st.floats(-2000.0, 2000.0), st.floats(0.0, 3000.0))
def test_gas_is_the_mean_where_both_strokes_resist_alike(gas: float, force: float) -> None:
    assert gas_by_mean(gas + force, gas - force) == pytest.approx(gas, abs=1e-9)


def test_band_of_two_single_measurements() -> None:
    """ISO 5725-6:1994, 4.1.2: the repeatability limit of two results with the same deviation is 2.8 times it (value from
    memory, to be confirmed)."""
    assert repeatability_band(10.0, 10.0) == pytest.approx(28.0, rel=0.011)
    assert repeatability_band(0.0, 0.0) == 0.0
