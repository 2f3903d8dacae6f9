"""Repeated readings and straight lines against the published examples of measurement practice."""

from __future__ import annotations

import math

import pytest

from stanchion.mechanics.statistics import (
    Uncertainty,
    coverage_factor,
    fit_line,
    mean,
    standard_deviation,
    student_t,
    together,
    type_a_uncertainty,
)

GUM_TEMPERATURES = [
    96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07,
    100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72,
]  # fmt: skip

NORRIS_Y = [
    0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8,
    557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2,
]  # fmt: skip
NORRIS_X = [
    0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5, 11.6,
    556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5,
]  # fmt: skip


class TestGuideToUncertainty:
    """JCGM 100:2008, 4.4.3 and Table 1: twenty temperatures (data and two-decimal results from a transcription; the
    three-decimal results are from memory)."""

    def test_mean(self) -> None:
        assert mean(GUM_TEMPERATURES) == pytest.approx(100.145, abs=5e-10)
        assert mean(GUM_TEMPERATURES) == pytest.approx(100.14, abs=0.0051)  # printed so, rounded down

    def test_standard_deviation(self) -> None:
        assert round(standard_deviation(GUM_TEMPERATURES), 2) == 1.49
        assert round(standard_deviation(GUM_TEMPERATURES), 3) == 1.489

    def test_uncertainty_of_the_mean(self) -> None:
        assert round(type_a_uncertainty(GUM_TEMPERATURES), 2) == 0.33
        assert round(type_a_uncertainty(GUM_TEMPERATURES), 3) == 0.333

    def test_half_width_that_holds_95_percent(self) -> None:
        """Own computation from the published data."""
        assert student_t(0.95, 19) * type_a_uncertainty(GUM_TEMPERATURES) == pytest.approx(0.6968006670, rel=1e-9)


@pytest.mark.parametrize(
    ("freedom", "one_sided_95", "one_sided_975", "one_sided_995"),
    [
        (1, 6.314, 12.706, 63.657),
        (2, 2.920, 4.303, 9.925),
        (3, 2.353, 3.182, 5.841),
        (4, 2.132, 2.776, 4.604),
        (5, 2.015, 2.571, 4.032),
        (6, 1.943, 2.447, 3.707),
        (7, 1.895, 2.365, 3.499),
        (8, 1.860, 2.306, 3.355),
        (9, 1.833, 2.262, 3.250),
        (10, 1.812, 2.228, 3.169),
        (15, 1.753, 2.131, 2.947),
        (19, 1.729, 2.093, 2.861),
        (20, 1.725, 2.086, 2.845),
        (30, 1.697, 2.042, 2.750),
    ],
)
def test_student_t(freedom: int, one_sided_95: float, one_sided_975: float, one_sided_995: float) -> None:
    """NIST/SEMATECH e-Handbook of Statistical Methods, upper critical values of Student's t (a reprint was read); the
    same columns stand in T. T. Soong, Fundamentals of Probability and Statistics for Engineers, Table A.4, p. 370."""
    assert round(student_t(0.90, freedom), 3) == one_sided_95
    assert round(student_t(0.95, freedom), 3) == one_sided_975
    assert round(student_t(0.99, freedom), 3) == one_sided_995


class TestNorris:
    """NIST/ITL StRD, Norris.dat (J. Norris, calibration of ozone monitors), certified values (data and values from
    several public copies that agree)."""

    line = fit_line(NORRIS_X, NORRIS_Y)

    def test_slope(self) -> None:
        assert self.line.slope == pytest.approx(1.00211681802045, rel=1e-10)
        assert self.line.slope_uncertainty == pytest.approx(0.429796848199937e-03, rel=1e-9)

    def test_intercept(self) -> None:
        assert self.line.intercept == pytest.approx(-0.262323073774029, rel=1e-9)
        assert self.line.intercept_uncertainty == pytest.approx(0.232818234301152, rel=1e-9)

    def test_residual_deviation(self) -> None:
        assert self.line.residual_deviation == pytest.approx(0.884796396144373, rel=1e-9)
        assert 34 * self.line.residual_deviation**2 == pytest.approx(26.6173985294224, rel=1e-9)

    def test_f_statistic(self) -> None:
        assert (self.line.slope / self.line.slope_uncertainty) ** 2 == pytest.approx(5436385.54079785, rel=2e-9)
        assert math.isclose(self.line.points, 36)


def test_five_loads_on_a_spring_tester() -> None:
    """Own hand check: forces read at 0 to 40 mm."""
    line = fit_line([0, 10, 20, 30, 40], [0.2, 95.1, 189.7, 285.4, 380.0])
    assert line.slope == pytest.approx(9.499, abs=1e-9)
    assert line.slope_uncertainty == pytest.approx(0.009433981, abs=5e-10)
    assert line.intercept == pytest.approx(0.100, abs=1e-9)
    assert line.intercept_uncertainty == pytest.approx(0.231084400, abs=5e-10)


def test_effective_degrees_of_freedom_of_a_product() -> None:
    """JCGM 100:2008, G.4.1, example (printed figures from memory): relative uncertainties 0.25 % from 10 repeats, 0.57 %
    from 5, 0.82 % from 15 give 1.03 % with 19.0 effective degrees of freedom, and 2.2 % expanded."""
    whole = together(Uncertainty(0.25, 9.0), Uncertainty(0.57, 4.0), Uncertainty(0.82, 14.0))
    assert round(whole.standard, 2) == 1.03
    assert round(whole.freedom, 1) == 19.0
    assert round(whole.expanded, 1) == 2.2


def test_effective_degrees_of_freedom_of_an_end_gauge() -> None:
    """JCGM 100:2008, H.1.6 (printed figures from memory): 25 nm with 18 degrees of freedom, 9.7 with 25.6, 2.9 with 50
    and 16.6 with 2 give 32 nm with 16.7, which is rounded down to 16."""
    whole = together(Uncertainty(25.0, 18.0), Uncertainty(9.7, 25.6), Uncertainty(2.9, 50.0), Uncertainty(16.6, 2.0))
    assert round(whole.standard) == 32
    assert int(whole.freedom) == 16


@pytest.mark.parametrize(
    ("freedom", "factor"),
    [(1.0, 12.706), (1.999, 12.706), (2.0, 4.303), (4.0, 2.776), (19.9, 2.093), (30.0, 2.042), (math.inf, 1.960)],
)
def test_coverage_factor(freedom: float, factor: float) -> None:
    """NIST/SEMATECH e-Handbook, upper critical values at 0.975 (read in a reprint); the last is the normal one, 1.960.
    A broken number of degrees of freedom is rounded down (JCGM 100:2008, G.4.1)."""
    assert round(coverage_factor(freedom), 3) == factor
