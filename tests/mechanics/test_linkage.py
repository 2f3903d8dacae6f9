"""The curve through linkage pairs is the monotone cubic that scipy draws, and never goes beyond what was measured."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.linkage import Linkage, constant_ratio, through_pairs
from stanchion.mechanics.monotone import monotone_cubics

steps = st.lists(st.tuples(st.floats(5, 40), st.floats(0.2, 30)), min_size=3, max_size=12)


def pairs_from(rises: list[tuple[float, float]]) -> list[tuple[float, float]]:
    z = np.cumsum([0.0, *(rise[0] for rise in rises)])
    s = np.cumsum([0.0, *(rise[1] for rise in rises)])
    return [(float(a), float(b)) for a, b in zip(z, s, strict=True)]


@given(steps)
def test_curve_slope_and_bend_agree_with_scipy(rises: list[tuple[float, float]]) -> None:
    pairs = pairs_from(rises)
    link = through_pairs(pairs)
    reference = PchipInterpolator([p[0] for p in pairs], [p[1] for p in pairs])
    for z in np.linspace(0.0, pairs[-1][0], 41)[:-1]:
        assert link.shock_travel(z) == pytest.approx(float(reference(z)), rel=1e-12, abs=1e-12)
        assert link.motion_ratio(z) == pytest.approx(float(reference(z, 1)), rel=1e-11, abs=1e-12)
        assert link.state(z)[2] == pytest.approx(float(reference(z, 2)), rel=1e-9, abs=1e-11)
        assert link.state(z)[:2] == (link.shock_travel(z), link.motion_ratio(z))


@given(steps)
def test_more_wheel_travel_never_gives_less_shock_travel(rises: list[tuple[float, float]]) -> None:
    pairs = pairs_from(rises)
    link = through_pairs(pairs)
    travels = [link.shock_travel(min(z, pairs[-1][0])) for z in np.linspace(0.0, pairs[-1][0], 60)]
    assert all(b >= a - 1e-12 for a, b in pairwise(travels))


def test_measured_pairs_are_met_exactly_and_order_does_not_matter() -> None:
    pairs = [(90, 33.0), (30, 10.5), (120, 45.0), (60, 21.5)]
    link = through_pairs(pairs)
    for z, s in pairs:
        assert link.shock_travel(z) == pytest.approx(s, abs=1e-12)
    assert link == through_pairs([(0, 0), *sorted(pairs)])
    assert link.covered_mm == 120


def test_fewer_than_four_points_are_joined_by_straight_lines() -> None:
    link = through_pairs([(60, 21), (120, 45)])
    assert link.shock_travel(30) == pytest.approx(10.5)
    assert link.shock_travel(90) == pytest.approx(33)
    assert link.motion_ratio(20) == pytest.approx(0.35)
    assert link.motion_ratio(100) == pytest.approx(0.4)
    assert link.state(100)[2] == 0.0


def test_one_ratio_serves_all_through() -> None:
    link = constant_ratio(0.42)
    assert link.state(250.0) == pytest.approx((105.0, 0.42, 0.0))


@pytest.mark.parametrize("z", [-0.001, 120.001, float("nan"), float("inf")])
def test_beyond_the_pairs_is_said_to_be_beyond_what_was_measured(z: float) -> None:
    link = through_pairs([(30, 10.5), (60, 21.5), (90, 33.0), (120, 45.0)])
    for ask in (link.shock_travel, link.motion_ratio, link.state):
        with pytest.raises(OutOfRange, match="from 0 to 120: beyond what was measured"):
            ask(z)


@pytest.mark.parametrize(
    ("pairs", "said"),
    [
        ([], "number of linkage pairs = 0 is out of range: it must be at least one beyond full extension"),
        ([(0, 0)], "number of linkage pairs = 1 is out of range: it must be at least one beyond full extension"),
        (
            [(0, 2), (50, 20)],
            "shock travel at full extension = 2 .*: it must be 0: both travels are counted from there",
        ),
        ([(50, 20), (50, 21)], "wheel travel of a linkage pair = 50 .* must be another than that of the pair before"),
        ([(50, 20), (60, 20)], "shock travel of a linkage pair = 20 .* must be more than that of the pair before, 20"),
        ([(50, 20), (60, 19)], "shock travel of a linkage pair = 19 .* must be more than that of the pair before, 20"),
        ([(30, 0), (60, 10)], "shock travel of a linkage pair = 0 .* must be more than that of the pair before, 0"),
        ([(-10, -4), (50, 20)], "wheel travel of a linkage pair = -10 .* must be 0 or more, with its shock travel"),
        (
            [(50, 5e-324)],
            "shock travel of a linkage pair = 4.94066e-324 .* such that wheel travel 50 gives a motion ratio",
        ),
        ([(50, float("nan"))], "wheel travel of a linkage pair = 50 .* must be 0 or more, with its shock travel"),
        ([(float("inf"), 20)], "wheel travel of a linkage pair = inf .* must be 0 or more, with its shock travel"),
    ],
)
def test_pairs_that_no_linkage_can_give_are_refused_in_words(pairs: list[tuple[float, float]], said: str) -> None:
    with pytest.raises(OutOfRange, match=f"^{said}$"):
        through_pairs(pairs)


@pytest.mark.parametrize("smallest", [5e-324, 1e-300, 1e-12])
def test_points_that_no_gauge_tells_apart_make_no_curve(smallest: float) -> None:
    """Slopes between them overflow, and a figure would not be a number."""
    for points in (((0.0, smallest, 5.0, 90.0), (0.0, smallest, 3.0, 45.0)), ((0.0, 9.0, 90.0), (0.0, smallest, 45.0))):
        with pytest.raises(OutOfRange, match="rise between two points"):
            monotone_cubics(*points)


def test_the_first_pair_may_stand_within_a_millimetre_of_full_extension() -> None:
    link = through_pairs([(0.5, 0.2), (50, 20)])
    assert link.shock_travel(0.25) == pytest.approx(0.1)
    assert link.shock_travel(50) == pytest.approx(20)


def test_a_ratio_must_be_above_zero() -> None:
    with pytest.raises(OutOfRange):
        constant_ratio(0.0)


def test_a_linkage_is_a_value() -> None:
    assert isinstance(hash(constant_ratio(0.4)), int)
    assert constant_ratio(0.4) == Linkage((0.0, float("inf")), ((0.0, 0.4, 0.0, 0.0),))
