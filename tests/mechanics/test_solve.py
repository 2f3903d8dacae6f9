"""Roots are found inside their bracket, or it is said that there is none."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.solve import bracketed_root, falling_root


@given(st.floats(-3, 3), st.floats(0.1, 5))
def test_root_agrees_with_scipy(offset: float, steepness: float) -> None:
    def function(x: float) -> float:
        return math.tanh(steepness * (x - offset)) + 0.1 * (x - offset) ** 3

    assert bracketed_root(function, -4.0, 5.0, 1e-13) == pytest.approx(brentq(function, -4.0, 5.0), abs=1e-9)


def test_a_jump_is_closed_in_on_and_not_looped_over() -> None:
    assert bracketed_root(lambda x: -1.0 if x < 2.5 else 1.0, 0.0, 10.0) == pytest.approx(2.5)


def test_no_change_of_sign_is_refused() -> None:
    said = "value at one end of the bracket = 2 is out of range: it must be of the other sign than at the other end"
    with pytest.raises(OutOfRange, match=f"^{said}$"):
        bracketed_root(lambda x: x * x + 1.0, -1.0, 1.0)


def test_a_function_that_gives_no_number_is_refused_with_where_it_does_so() -> None:
    with pytest.raises(OutOfRange, match=r"^value at one end of the bracket = nan"):
        bracketed_root(lambda x: math.nan if x == 1.0 else -1.0, -1.0, 1.0)
    with pytest.raises(OutOfRange, match=r"^value at the guess = nan"):
        falling_root(lambda x: math.nan if x == 2.0 else 3.0 - x, 2.0, -1.0, 0.0, 10.0)
    with pytest.raises(OutOfRange, match=r"^value of the function = nan"):
        falling_root(lambda x: math.nan if x > 2.0 else 3.0 - x, 2.0, -1.0, 0.0, 10.0)


@given(st.floats(-100, 100), st.floats(-100, 100), st.floats(0.01, 50), st.floats(0.01, 50))
def test_a_falling_line_is_crossed_from_any_guess(root: float, guess: float, slope: float, true_slope: float) -> None:
    found = falling_root(lambda x: true_slope * (root - x), guess, -slope, -100.0, 100.0)
    assert found == pytest.approx(root, abs=1e-6)


def test_beyond_the_limits_there_is_no_answer() -> None:
    assert falling_root(lambda x: 200.0 - x, 0.0, -1.0, -100.0, 100.0) is None
    assert falling_root(lambda x: -200.0 - x, 0.0, -1.0, -100.0, 100.0) is None


def test_a_value_just_above_zero_at_the_upper_limit_is_no_crossing() -> None:
    assert falling_root(lambda x: 0.5 - 0.01 * x, 0.0, -0.01, -10.0, 10.0) is None
    assert falling_root(lambda x: -0.5 - 0.01 * x, 0.0, -0.01, -10.0, 10.0) is None


def test_a_crossing_close_to_a_guess_on_the_limit_is_found() -> None:
    assert falling_root(lambda x: 0.5 - x, 0.0, -1.0, 0.0, 10.0) == pytest.approx(0.5)
    assert falling_root(lambda x: 9.5 - x, 10.0, -1.0, 0.0, 10.0) == pytest.approx(9.5)


def test_a_slope_that_does_not_fall_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"^slope = 0 is out of range: it must be below 0$"):
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


def test_a_jump_that_falls_gives_the_nearer_side_too() -> None:
    assert bracketed_root(lambda x: 1.0 if x < 2.0 else -0.5, 0.0, 5.0) == 2.0
    assert bracketed_root(lambda x: 0.5 if x < 2.0 else -1.0, 0.0, 5.0) < 2.0
    assert bracketed_root(lambda x: 0.5 if x <= 3.0 else -1.0, 0.0, 5.0) == 3.0
    assert bracketed_root(lambda x: 1.0 if x <= 3.0 else -0.5, 0.0, 5.0) > 3.0


def test_an_end_that_is_very_steep_does_not_end_the_search_at_the_other_end() -> None:
    assert bracketed_root(lambda x: math.exp(x) - 10.0, 0.0, 100.0) == pytest.approx(math.log(10.0), abs=1e-8)
    assert bracketed_root(lambda x: 10.0 - math.exp(-x), -100.0, 0.0) == pytest.approx(-math.log(10.0), abs=1e-8)


def test_a_straight_line_is_met_at_the_first_step_between_its_ends() -> None:
    asked: list[float] = []

    def line(x: float) -> float:
        asked.append(x)
        return 3.0 - 2.0 * x

    assert bracketed_root(line, 0.0, 8.0) == pytest.approx(1.5)
    assert len(asked) == 3
