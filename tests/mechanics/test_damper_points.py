"""Readings of a dynamometer brought together to a few points of force against speed."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.damper_points import STATED_MM_PER_S, damper_points


def test_repeats_of_one_speed_are_one_point_with_their_mean_and_spread() -> None:
    points = damper_points([(100.0, 200.0), (100.4, 210.0), (99.8, 205.0), (50.0, 120.0)])
    assert [(p.readings, round(p.speed_mm_per_s, 2)) for p in points] == [(1, 50.0), (3, 100.07)]
    assert points[1].force_n == pytest.approx(205.0)
    assert points[1].spread_n == pytest.approx(5.0)  # of 200, 205, 210
    assert points[0].spread_n == 0.0


def test_a_sampled_cycle_gives_the_force_at_stated_speeds() -> None:
    """A linear damper of 2000 N·s/m with 8 N of hysteresis on either side, sampled over a sine of 25 mm at 3 Hz."""
    times = [i / 3000.0 for i in range(1000)]
    speeds = [12.5 * 2.0 * math.pi * 3.0 * math.cos(2.0 * math.pi * 3.0 * t) for t in times]
    lag = [8.0 * math.copysign(1.0, -math.sin(2.0 * math.pi * 3.0 * t)) for t in times]
    readings = [(v, 2.0 * v + h) for v, h in zip(speeds, lag, strict=True) if v > 0.0]
    points = damper_points(readings)
    assert len(points) <= len(STATED_MM_PER_S)
    assert points[-1].speed_mm_per_s <= max(speeds)
    for point in points:
        assert point.speed_mm_per_s == pytest.approx(
            min(STATED_MM_PER_S, key=lambda v: abs(v - point.speed_mm_per_s)), rel=0.2
        )
        if 20.0 < point.speed_mm_per_s < 200.0:
            assert point.force_n == pytest.approx(2.0 * point.speed_mm_per_s, abs=4.0)
            assert point.spread_n == pytest.approx(8.0, rel=0.3)


@given(st.lists(st.tuples(st.floats(0.0, 10_000.0), st.floats(-5e4, 5e4)), max_size=200))
def test_points_rise_in_speed_and_stay_within_the_speeds_read(readings: list[tuple[float, float]]) -> None:
    points = damper_points(readings)
    assert len(points) <= len(STATED_MM_PER_S)
    assert all(a.speed_mm_per_s < b.speed_mm_per_s for a, b in pairwise(points))
    for point in points:
        assert min(v for v, _ in readings) - 1e-6 <= point.speed_mm_per_s <= max(v for v, _ in readings) + 1e-6
        assert math.isfinite(point.force_n)
        assert point.spread_n >= 0.0


@given(st.floats(0.1, 20.0), st.lists(st.floats(1.0, 3000.0), min_size=1, max_size=400))
def test_a_linear_damper_comes_back_whatever_speeds_were_read(n_per_mm_s: float, speeds: list[float]) -> None:
    for point in damper_points([(v, n_per_mm_s * v) for v in speeds]):
        assert point.force_n == pytest.approx(n_per_mm_s * point.speed_mm_per_s, rel=1e-6)


def test_standing_still_gives_no_point() -> None:
    assert damper_points([(0.0, 180.0), (0.2, 190.0)]) == ()
    with pytest.raises(OutOfRange, match="speed"):
        damper_points([(-1.0, 5.0)])
