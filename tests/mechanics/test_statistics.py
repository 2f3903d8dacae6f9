"""Statistics against scipy, and what they ask of their readings."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.statistics import (
    combine,
    fit_line,
    mean,
    resolution_uncertainty,
    standard_deviation,
    student_t,
    type_a_uncertainty,
)

readings = st.lists(st.floats(100, 900), min_size=2, max_size=12)


@given(readings)
def test_mean_and_spread_agree_with_numpy(values: list[float]) -> None:
    assert mean(values) == pytest.approx(float(np.mean(values)))
    assert standard_deviation(values) == pytest.approx(float(np.std(values, ddof=1)), abs=1e-9)
    assert type_a_uncertainty(values) == pytest.approx(float(stats.sem(values)), abs=1e-9)


@given(st.integers(1, 60), st.floats(0.05, 0.999))
def test_student_t_agrees_with_scipy(freedom: int, confidence: float) -> None:
    assert student_t(confidence, freedom) == pytest.approx(float(stats.t.ppf((1 + confidence) / 2, freedom)), rel=1e-8)


@given(st.lists(st.tuples(st.integers(0, 200), st.floats(-500, 2000)), min_size=3, max_size=20))
def test_line_agrees_with_scipy(points: list[tuple[int, float]]) -> None:
    x, y = [float(p[0]) for p in points], [p[1] for p in points]
    if len(set(x)) < 2:
        with pytest.raises(OutOfRange, match="spread of x"):
            fit_line(x, y)
        return
    line, reference = fit_line(x, y), stats.linregress(x, y)
    assert line.slope == pytest.approx(reference.slope, rel=1e-6, abs=1e-9)
    assert line.intercept == pytest.approx(reference.intercept, rel=1e-6, abs=1e-6)
    if np.isfinite(reference.stderr):  # scipy gives none where y does not change
        assert line.slope_uncertainty == pytest.approx(reference.stderr, rel=1e-4, abs=1e-4)


def test_a_rectangle_one_wide_has_the_deviation_of_its_simulation() -> None:
    drawn = np.random.default_rng(1).uniform(-0.5, 0.5, 200_000)
    assert resolution_uncertainty(1.0) == pytest.approx(float(np.std(drawn)), rel=5e-3)


def test_independent_parts_add_in_quadrature() -> None:
    assert combine(3.0, 4.0, 12.0) == 13.0
    assert combine() == 0.0


@pytest.mark.parametrize(
    "call",
    [
        lambda: mean([]),
        lambda: standard_deviation([1.0]),
        lambda: fit_line([1.0, 2.0], [1.0, 2.0]),
        lambda: fit_line([1.0, 2.0, 3.0], [1.0, 2.0]),
        lambda: student_t(1.0, 5),
        lambda: student_t(0.95, 0),
        lambda: combine(0.1, -0.1),
    ],
)
def test_too_little_is_refused(call) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange):
        call()
