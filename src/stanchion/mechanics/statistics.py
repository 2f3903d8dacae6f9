"""Statistics of repeated readings: mean, spread, uncertainty, and a straight line through pairs.

Names follow JCGM 100:2008, the guide to the expression of uncertainty in measurement.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.limits import finite, not_negative, positive

COVERED = 0.95
"""Share of what can be meant that an expanded uncertainty holds (JCGM 100:2008, 6.2.2)."""
MOST_FREEDOM = 100
"""Degrees of freedom above which Student's t is taken as the normal distribution: it differs by 1 % there."""
NORMAL = 1.959964
"""Half-width of the interval that holds 95 % of the normal distribution, in standard deviations."""

_ROUNDED = 1e-9
"""What arithmetic may take from a whole number of degrees of freedom."""


def mean(readings: Sequence[float]) -> float:
    """Arithmetic mean.

    .. math:: \\bar x = \\sum x_i / n

    Args:
        readings: at least one reading, in any unit.

    Returns:
        The mean, in the unit of the readings.

    Raises:
        OutOfRange: no reading, or one that is no ordinary number.

    Source:
        JCGM 100:2008, 4.2.1.

    >>> mean([103.0, 104.0, 105.0])
    104.0
    """
    _enough(readings, 1)
    return math.fsum(readings) / len(readings)


def standard_deviation(readings: Sequence[float]) -> float:
    """Experimental standard deviation of single readings (n - 1 in the denominator).

    .. math:: s = \\sqrt{\\sum (x_i - \\bar x)^2 / (n - 1)}

    Args:
        readings: at least two readings.

    Returns:
        s, in the unit of the readings.

    Raises:
        OutOfRange: fewer than two readings, or one that is no ordinary number.

    Source:
        JCGM 100:2008, 4.2.2.

    >>> standard_deviation([103.0, 104.0, 105.0])
    1.0
    """
    _enough(readings, 2)
    middle = mean(readings)
    return math.sqrt(math.fsum((reading - middle) ** 2 for reading in readings) / (len(readings) - 1))


def type_a_uncertainty(readings: Sequence[float]) -> float:
    """Standard uncertainty of the mean of repeats.

    .. math:: u = s / \\sqrt n

    Args:
        readings: at least two readings.

    Returns:
        u, in the unit of the readings.

    Raises:
        OutOfRange: fewer than two readings, or one that is no ordinary number.

    Source:
        JCGM 100:2008, 4.2.3.

    >>> type_a_uncertainty([103.0, 104.0, 105.0, 104.0]) == standard_deviation([103.0, 104.0, 105.0, 104.0]) / 2
    True
    """
    return standard_deviation(readings) / math.sqrt(len(readings))


def resolution_uncertainty(division: float) -> float:
    """Standard uncertainty from the division of the scale (rectangular distribution).

    .. math:: u = a / \\sqrt{12}

    Args:
        division: smallest division a, >= 0.

    Returns:
        u, in the unit of the division.

    Raises:
        OutOfRange: division negative.

    Source:
        JCGM 100:2008, 4.3.7 and F.2.2.1.

    >>> round(resolution_uncertainty(1.0), 4)
    0.2887
    """
    return not_negative("division of the scale", division) / math.sqrt(12.0)


def limits_uncertainty(most: float) -> float:
    """Standard uncertainty of a value of which only the limits are known (rectangular distribution).

    .. math:: u = a / \\sqrt 3

    Args:
        most: by how much it may be off either way a, >= 0.

    Returns:
        u, in the unit of the limits.

    Raises:
        OutOfRange: the limit is negative.

    Source:
        JCGM 100:2008, 4.3.7.

    >>> round(limits_uncertainty(0.5), 4)
    0.2887
    """
    return not_negative("limit", most) / math.sqrt(3.0)


def combine(*uncertainties: float) -> float:
    """Combined standard uncertainty of a sum of independent parts.

    .. math:: u_c = \\sqrt{\\sum u_i^2}

    Args:
        uncertainties: standard uncertainties, all in one unit.

    Returns:
        The combined standard uncertainty.

    Raises:
        OutOfRange: an uncertainty is negative.

    Source:
        JCGM 100:2008, 5.1.2.

    >>> combine(0.3, 0.4)
    0.5
    """
    return math.hypot(*(not_negative("standard uncertainty", u) for u in uncertainties))


def student_t(confidence: float, degrees_of_freedom: int) -> float:
    """Half-width, in standard deviations, of the two-sided interval that holds `confidence` of Student's t.

    The probability inside is a finite sum for a whole number of degrees of freedom; it is inverted by bisection.

    Args:
        confidence: probability inside, above 0 and below 1, such as 0.95.
        degrees_of_freedom: >= 1.

    Returns:
        t, dimensionless.

    Raises:
        OutOfRange: confidence not between 0 and 1, or no degree of freedom.

    Source:
        M. Abramowitz & I. A. Stegun, Handbook of Mathematical Functions, 26.7.3 and 26.7.4 (from memory; the values
        are checked against the NIST/SEMATECH table in tests/reference/).

    >>> round(student_t(0.95, 10), 3)
    2.228
    """
    if not 0.0 < confidence < 1.0:
        raise OutOfRange("confidence", confidence, "between 0 and 1")
    if degrees_of_freedom < 1:
        raise OutOfRange("degrees of freedom", degrees_of_freedom, "1 or more")
    low, high = 0.0, math.pi / 2  # t = tan(angle) * sqrt(degrees of freedom)
    while (middle := (low + high) / 2) not in (low, high):
        if _inside_t(middle, degrees_of_freedom) < confidence:
            low = middle
        else:
            high = middle
    return math.tan(low) * math.sqrt(degrees_of_freedom)


def _inside_t(angle: float, degrees_of_freedom: int) -> float:
    sine, cosine = math.sin(angle), math.cos(angle)
    odd = degrees_of_freedom % 2 == 1
    term = cosine if odd else 1.0
    total = term if degrees_of_freedom > 1 else 0.0
    first = 2 if odd else 1
    for k in range(first, degrees_of_freedom - 2, 2):
        term *= k / (k + 1) * cosine * cosine
        total += term
    return 2 / math.pi * (angle + sine * total) if odd else sine * total


@cache
def _t95(degrees_of_freedom: int) -> float:
    return student_t(COVERED, degrees_of_freedom)


def coverage_factor(degrees_of_freedom: float) -> float:
    """Factor to multiply a standard uncertainty by for an interval that holds about 95 %.

    .. math:: k = t_{95}(\\lfloor\\nu\\rfloor)

    Args:
        degrees_of_freedom: effective degrees of freedom, >= 1; math.inf where nothing rests on repeats.

    Returns:
        k, dimensionless.

    Raises:
        OutOfRange: fewer than 1 degree of freedom.

    Source:
        JCGM 100:2008, G.3 and G.4.1 (a broken number of degrees of freedom is rounded down).

    >>> round(coverage_factor(2.9), 3), round(coverage_factor(math.inf), 3)
    (4.303, 1.96)
    """
    if not degrees_of_freedom >= 1.0:
        raise OutOfRange("degrees of freedom", degrees_of_freedom, "1 or more")
    return NORMAL if degrees_of_freedom > MOST_FREEDOM else _t95(int(degrees_of_freedom + _ROUNDED))


@record
class Uncertainty:
    """A standard uncertainty with its degrees of freedom.

    >>> repeated = Uncertainty(0.5, 2.0)
    >>> round(repeated.expanded, 2), round(Uncertainty(0.5).expanded, 2)
    (2.15, 0.98)
    """

    standard: float
    freedom: float = math.inf
    """Degrees of freedom; infinite where it rests on no repeats, as with the division of a tape."""

    @property
    def coverage(self) -> float:
        """The coverage factor for about 95 %."""
        return coverage_factor(self.freedom)

    @property
    def expanded(self) -> float:
        """Half-width of the interval that holds about 95 %."""
        return self.coverage * self.standard

    def times(self, factor: float) -> Uncertainty:
        """The uncertainty of a multiple of the quantity."""
        return Uncertainty(self.standard * abs(factor), self.freedom)


def together(*parts: Uncertainty) -> Uncertainty:
    """Combined uncertainty of a sum of independent parts, with its effective degrees of freedom.

    .. math:: u_c = \\sqrt{\\sum u_i^2}, \\quad \\nu_{eff} = u_c^4 / \\sum (u_i^4 / \\nu_i)

    Args:
        parts: the uncertainties, all in one unit.

    Returns:
        The combined uncertainty.

    Raises:
        OutOfRange: an uncertainty is negative.

    Source:
        JCGM 100:2008, 5.1.2 and G.4.1, equation G.2b (Welch-Satterthwaite).

    >>> both = together(Uncertainty(3.0, 4.0), Uncertainty(4.0))
    >>> both.standard, round(both.freedom, 2)
    (5.0, 30.86)
    """
    total = combine(*(part.standard for part in parts))
    if total == 0.0:
        return Uncertainty(0.0)
    # Shares, since fourth powers of very small numbers would be lost.
    by_repeats = math.fsum((part.standard / total) ** 4 / part.freedom for part in parts)
    return Uncertainty(total, max(1.0, 1.0 / by_repeats) if by_repeats > 0.0 else math.inf)


@record
class StraightLine:
    """A straight line y = intercept + slope·x fitted by least squares, with standard uncertainties."""

    slope: float
    intercept: float
    slope_uncertainty: float
    """Standard uncertainty of the slope."""
    intercept_uncertainty: float
    """Standard uncertainty of the intercept."""
    residual_deviation: float
    """Residual standard deviation, n - 2 in the denominator."""
    points: int


def fit_line(x: Sequence[float], y: Sequence[float]) -> StraightLine:
    """Straight line by unweighted least squares of y on x.

    .. math:: b = S_{xy} / S_{xx}, \\quad a = \\bar y - b \\bar x, \\quad s^2 = \\sum r_i^2 / (n - 2),
              \\quad u(b) = s / \\sqrt{S_{xx}}, \\quad u(a) = s \\sqrt{1/n + \\bar x^2 / S_{xx}}

    Args:
        x: at least three values, not all the same, such as lengths a spring is pressed to.
        y: as many values, such as the forces read.

    Returns:
        The line.

    Raises:
        OutOfRange: fewer than three pairs, unequal counts, all x the same, or a value that is no ordinary number.

    Source:
        JCGM 100:2008, H.3 (method); NIST StRD "Norris" in tests/reference/ (certified values).

    >>> line = fit_line([0, 10, 20, 30, 40], [0.2, 95.1, 189.7, 285.4, 380.0])
    >>> round(line.slope, 3), round(line.slope_uncertainty, 6)
    (9.499, 0.009434)
    """
    _enough(x, 3)
    _enough(y, 0)
    if len(x) != len(y):
        raise OutOfRange("number of y values", len(y), f"the number of x values, {len(x)}")
    n = len(x)
    x_mean, y_mean = mean(x), mean(y)
    s_xx = math.fsum((xi - x_mean) ** 2 for xi in x)
    positive("spread of x", s_xx)
    slope = math.fsum((xi - x_mean) * (yi - y_mean) for xi, yi in zip(x, y, strict=True)) / s_xx
    residuals = (yi - y_mean - slope * (xi - x_mean) for xi, yi in zip(x, y, strict=True))
    deviation = math.sqrt(math.fsum(r * r for r in residuals) / (n - 2))
    return StraightLine(
        slope=slope,
        intercept=y_mean - slope * x_mean,
        slope_uncertainty=deviation / math.sqrt(s_xx),
        intercept_uncertainty=deviation * math.sqrt(1 / n + x_mean**2 / s_xx),
        residual_deviation=deviation,
        points=n,
    )


def _enough(readings: Sequence[float], least: int) -> None:
    if len(readings) < least:
        raise OutOfRange("number of readings", len(readings), f"{least} or more")
    for reading in readings:
        finite("reading", reading)
