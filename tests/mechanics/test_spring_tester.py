"""Readings of a spring tester: a straight line stays one rate, and a bend beyond the scatter becomes a curve."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.spring_curve import force_at, measured_curve, rate_at, rising_rate
from stanchion.mechanics.spring_tester import bend_of, off_the_others

PRESSED = (10.0, 25.0, 40.0, 60.0, 80.0, 100.0, 120.0)


@given(st.floats(1.0, 150.0), st.floats(-100.0, 100.0))
def test_readings_on_a_line_do_not_bend(rate: float, off_n: float) -> None:
    bend = bend_of(PRESSED, [rate * mm + off_n for mm in PRESSED])
    assert bend.last_n_per_mm - bend.first_n_per_mm == pytest.approx(0.0, abs=1e-6 * rate)


@given(st.floats(5.0, 15.0), st.floats(1.05, 2.0))
def test_a_rate_that_rises_evenly_is_found_exactly(start: float, more: float) -> None:
    """The slopes in the middle of the first and of the last third: a parabola has them there."""
    curve = rising_rate(start, start * more, 120.0)
    bend = bend_of(PRESSED, [force_at(curve, mm) for mm in PRESSED])
    low, reach = PRESSED[0], PRESSED[-1] - PRESSED[0]
    assert bend.first_n_per_mm == pytest.approx(rate_at(curve, low + reach / 6))
    assert bend.last_n_per_mm == pytest.approx(rate_at(curve, low + 5 * reach / 6))
    assert bend.uncertainty_n_per_mm == pytest.approx(0.0, abs=1e-6)


def test_its_uncertainty_is_that_of_a_parabola_by_least_squares() -> None:
    """Against the covariance that numpy gives for the quadratic term."""
    random = Random(1)
    forces = [9.5 * mm + random.gauss(0.0, 4.0) for mm in PRESSED]
    bend = bend_of(PRESSED, forces)
    (quadratic, *_), covariance = np.polyfit(PRESSED, forces, 2, cov="unscaled")
    residuals = np.array(forces) - np.polyval(np.polyfit(PRESSED, forces, 2), PRESSED)
    scatter = np.sqrt((residuals**2).sum() / (len(PRESSED) - 3))
    reach = PRESSED[-1] - PRESSED[0]
    assert bend.last_n_per_mm - bend.first_n_per_mm == pytest.approx(float(quadratic) * 4 / 3 * reach)
    assert bend.uncertainty_n_per_mm == pytest.approx(float(np.sqrt(covariance[0, 0]) * scatter) * 4 / 3 * reach)


@pytest.mark.parametrize("changes_at", [30.0, 60.0, 90.0])
def test_two_rates_with_a_change_between_them_bend_beyond_twice_the_uncertainty(changes_at: float) -> None:
    """Two springs in one, 6.5 and 9.75 N/mm, pressed in ten steps: no parabola, and yet told from a line."""
    pressed = [12.0 * n for n in range(1, 11)]
    bend = bend_of(pressed, [6.5 * mm + 3.25 * max(0.0, mm - changes_at) for mm in pressed])
    change = bend.last_n_per_mm - bend.first_n_per_mm
    assert change > 0.05 * bend.first_n_per_mm
    assert change > 2.0 * bend.uncertainty_n_per_mm


def test_two_lengths_pressed_again_and_again_tell_of_no_bend() -> None:
    bend = bend_of([10.0, 10.0, 50.0, 50.0], [95.0, 97.0, 470.0, 480.0])
    assert bend.uncertainty_n_per_mm == float("inf")


@given(st.floats(1.0, 150.0), st.floats(0.0, 200.0))
def test_a_table_of_a_straight_line_is_one_rate(rate: float, at_mm: float) -> None:
    """Also beyond its last pair."""
    curve = measured_curve(tuple((mm, rate * mm) for mm in PRESSED))
    assert force_at(curve, at_mm) == pytest.approx(force_at(rate, at_mm), rel=1e-9, abs=1e-9)
    assert rate_at(curve, at_mm) == pytest.approx(rate, rel=1e-9)


@given(st.lists(st.tuples(st.floats(1.0, 40.0), st.floats(1.0, 400.0)), min_size=4, max_size=12))
def test_the_curve_is_that_of_scipy(steps: list[tuple[float, float]]) -> None:
    """PchipInterpolator; between the pairs, and its slope as the rate."""
    pressed = np.cumsum([mm for mm, _ in steps])
    forces = np.cumsum([n for _, n in steps])
    curve = measured_curve(tuple(zip(pressed.tolist(), forces.tolist(), strict=True)))
    by_scipy = PchipInterpolator([0.0, *pressed], [0.0, *forces])
    for at_mm in np.linspace(0.0, pressed[-1] * 0.999, 15):
        assert force_at(curve, float(at_mm)) == pytest.approx(float(by_scipy(at_mm)), rel=1e-9, abs=1e-9)
        assert rate_at(curve, float(at_mm)) == pytest.approx(float(by_scipy(at_mm, 1)), rel=1e-7, abs=1e-7)


@pytest.mark.parametrize(
    "pairs", [(), ((10.0, 100.0), (20.0, 90.0)), ((-5.0, 10.0),), ((10.0, 0.0),), ((10.0, 90.0), (10.0, 95.0))]
)
def test_what_does_not_rise_from_the_free_length_is_no_curve(pairs: tuple[tuple[float, float], ...]) -> None:
    with pytest.raises(OutOfRange):
        measured_curve(pairs)


@given(st.integers(0, 6), st.floats(5.0, 50.0), st.booleans())
def test_a_reading_off_a_parabola_is_found(at: int, off_n: float, lower: bool) -> None:
    """And by how much, as the others lie on it exactly."""
    curve = rising_rate(8.5, 10.5, 120.0)
    forces = [force_at(curve, mm) for mm in PRESSED]
    forces[at] += -off_n if lower else off_n
    found = off_the_others(PRESSED, forces)
    assert found.at == at
    assert abs(found.off_n) == pytest.approx(off_n, rel=1e-6)
    assert found.scatter_n == pytest.approx(0.0, abs=1e-6)
