"""The calibration line against numpy on random points, and at its edges."""

from __future__ import annotations

import numpy as np
import pytest

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.calibration import calibration_line, line_uncertainty, reads_high


@pytest.mark.parametrize("seed", range(20))
def test_a_line_through_random_points_is_that_of_numpy(seed: int) -> None:
    random = np.random.default_rng(seed)
    n = int(random.integers(3, 12))
    x = random.uniform(0.0, 200.0, n)
    y = random.normal(0.5, 0.3, n) + random.normal(0.0, 0.01) * x
    about = float(random.uniform(-50.0, 250.0))
    line = calibration_line(x.tolist(), y.tolist(), about)
    design = np.column_stack([np.ones(n), x - about])
    found, *_ = np.linalg.lstsq(design, y, rcond=None)
    residuals = y - design @ found
    variance = float(residuals @ residuals) / (n - 2)
    covariance = variance * np.linalg.inv(design.T @ design)
    assert (line.offset, line.slope) == pytest.approx(tuple(found), rel=1e-7, abs=1e-9)
    assert line.offset_uncertainty == pytest.approx(covariance[0, 0] ** 0.5, rel=1e-6)
    assert line.slope_uncertainty == pytest.approx(covariance[1, 1] ** 0.5, rel=1e-6)
    expected = covariance[0, 1] / (covariance[0, 0] * covariance[1, 1]) ** 0.5
    assert line.correlation == pytest.approx(expected, abs=1e-6)
    for at in (0.0, 120.0, about):
        row = np.array([1.0, at - about])
        assert reads_high(at, about, line.offset, line.slope) == pytest.approx(float(row @ found), rel=1e-7, abs=1e-9)
        assert line_uncertainty(line, at).standard == pytest.approx(float(row @ covariance @ row) ** 0.5, rel=1e-6)


def test_what_is_said_of_a_reading_does_not_depend_on_the_reference_point() -> None:
    x, y = [10.0, 40.0, 80.0, 120.0], [0.2, 0.3, 0.9, 1.1]
    middle, zero = calibration_line(x, y, 62.5), calibration_line(x, y)
    assert middle.correlation == pytest.approx(0.0, abs=1e-12)
    assert line_uncertainty(middle, 100.0).standard == pytest.approx(line_uncertainty(zero, 100.0).standard)


@pytest.mark.parametrize("x", [[1.0, 2.0], [5.0, 5.0, 5.0], [1.0, 2.0, float("nan")]])
def test_too_few_points_all_in_one_place_or_no_number_are_refused(x: list[float]) -> None:
    with pytest.raises(OutOfRange):
        calibration_line(x, [0.1] * len(x))
