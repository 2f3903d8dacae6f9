"""Roots are found inside their bracket, or it is said that there is none."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from stanchion.errors import OutOfRange
from stanchion.mechanics.solve import bracketed_root, falling_root


@given(st.floats(-3, 3), st.floats(0.1, 5))
def test_root_agrees_with_scipy(offset: float, steepness: float) -> None:
    def function(x: float) -> float:
        return math.tanh(steepness * (x - offset)) + 0.1 * (x - offset) ** 3

    assert bracketed_root(function, -4.0, 5.0, 1e-13) == pytest.approx(brentq(function, -4.0, 5.0), abs=1e-9)


def test_a_jump_is_closed_in_on_and_not_looped_over() -> None:
    assert bracketed_root(lambda x: -1.0 if x < 2.5 else 1.0, 0.0, 10.0) == pytest.approx(2.5)


def test_no_change_of_sign_is_refused() -> None:
    with pytest.raises(OutOfRange, match="other sign"):
        bracketed_root(lambda x: x * x + 1.0, -1.0, 1.0)


@given(st.floats(-100, 100), st.floats(-100, 100), st.floats(0.01, 50), st.floats(0.01, 50))
def test_a_falling_line_is_crossed_from_any_guess(root: float, guess: float, slope: float, true_slope: float) -> None:
    found = falling_root(lambda x: true_slope * (root - x), guess, -slope, -100.0, 100.0)
    assert found == pytest.approx(root, abs=1e-6)


def test_beyond_the_limits_there_is_no_answer() -> None:
    assert falling_root(lambda x: 200.0 - x, 0.0, -1.0, -100.0, 100.0) is None
    assert falling_root(lambda x: -200.0 - x, 0.0, -1.0, -100.0, 100.0) is None


def test_a_slope_that_does_not_fall_is_refused() -> None:
    with pytest.raises(OutOfRange):
        falling_root(lambda x: -x, 1.0, 0.0, -1.0, 1.0)


@pytest.mark.parametrize(
    ("function", "low", "high", "root"),
    [
        (lambda x: x * x - 2.0, 0.0, 2.0, math.sqrt(2.0)),
        (lambda x: math.exp(x) - 10.0, 0.0, 5.0, math.log(10.0)),
        (lambda x: math.cos(x) - x, 0.0, 1.5, 0.7390851332151607),
        (lambda x: 1.0 / x - 0.3, 0.5, 9.0, 1.0 / 0.3),
    ],
)
def test_a_smooth_crossing_is_found_far_sooner_than_by_halving(
    function: Callable[[float], float], low: float, high: float, root: float
) -> None:
    asked: list[float] = []

    def counted(x: float) -> float:
        asked.append(x)
        return function(x)

    assert bracketed_root(counted, low, high) == pytest.approx(root, abs=1e-8)
    assert len(asked) <= 12  # halving asks over 30 times for as much
    assert all(low <= x <= high for x in asked)


def test_where_a_function_jumps_over_zero_the_nearer_side_is_given() -> None:
    near = bracketed_root(lambda x: -1.0 if x < 2.0 else 0.5, 0.0, 5.0)
    assert near == 2.0
    assert bracketed_root(lambda x: -0.5 if x < 2.0 else 1.0, 0.0, 5.0) == pytest.approx(2.0, abs=1e-12)
    assert bracketed_root(lambda x: -0.5 if x < 2.0 else 1.0, 0.0, 5.0) < 2.0
