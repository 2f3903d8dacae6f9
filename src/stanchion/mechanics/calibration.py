"""A straight line through what an instrument reads wrong, and readings corrected by it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from stanchion.base.record import record
from stanchion.mechanics.limits import finite
from stanchion.mechanics.statistics import Uncertainty, fit_line


@record(kw_only=True)
class CalibrationLine:
    """How far an instrument reads off, as a straight line over what it reads, in the unit of its readings."""

    about: float
    """The reading that `offset` is given at."""
    offset: float
    """By how much it reads too high there; below 0: too low."""
    offset_uncertainty: float
    """Standard uncertainty of that."""
    slope: float
    """By how much more it reads too high for each unit that it reads more."""
    slope_uncertainty: float
    """Standard uncertainty of that."""
    correlation: float
    """Correlation of the errors of both, -1 to 1; 0 about the mean of the readings."""
    deviation: float
    """Standard deviation of the points about the line."""
    freedom: float
    """Degrees of freedom of all these uncertainties."""


def calibration_line(readings: Sequence[float], off: Sequence[float], about: float = 0.0) -> CalibrationLine:
    """Line through what an instrument read too high, by least squares.

    .. math:: d(x) = y_1 + y_2 (x - x_0), \\quad r(y_1, y_2) = -\\sum (x_i - x_0) / \\sqrt{n \\sum (x_i - x_0)^2}

    Args:
        readings: what it read, at least three, not all the same.
        off: by how much each is too high: the reading less the true value.
        about: the reading that the offset is given at.

    Returns:
        The line.

    Raises:
        OutOfRange: fewer than three readings, unequal counts, all readings the same, or no ordinary number.

    Source:
        JCGM 100:2008, H.3.

    >>> line = calibration_line([0.0, 50.0, 100.0], [0.0, 0.4, 1.1])
    >>> round(line.offset, 3), round(line.slope, 4), round(line.correlation, 3)
    (-0.05, 0.011, -0.775)
    """
    finite("reference point", about)
    steps = [finite("reading", one) - about for one in readings]
    line = fit_line(steps, off)
    squares = math.fsum(one**2 for one in steps)
    return CalibrationLine(
        about=about,
        offset=line.intercept,
        offset_uncertainty=line.intercept_uncertainty,
        slope=line.slope,
        slope_uncertainty=line.slope_uncertainty,
        correlation=-math.fsum(steps) / math.sqrt(len(steps) * squares),
        deviation=line.residual_deviation,
        freedom=float(len(steps) - 2),
    )


def reads_high(reading: float, about: float, offset: float, slope: float) -> float:
    """By how much an instrument reads too high, by its calibration line.

    .. math:: d(x) = y_1 + y_2 (x - x_0)

    Args:
        reading: what it reads.
        about: the reading that the offset is given at.
        offset: by how much it reads too high there.
        slope: by how much more for each unit that it reads more.

    Returns:
        By how much it is too high; below 0: too low.

    Raises:
        OutOfRange: an argument is no ordinary number.

    Source:
        JCGM 100:2008, H.3.

    >>> round(reads_high(30.0, 20.0, -0.1712, 0.00218), 4)
    -0.1494
    """
    return finite("offset", offset) + finite("slope", slope) * (finite("reading", reading) - finite("about", about))


def corrected_reading(reading: float, about: float, offset: float, slope: float) -> float:
    """A reading without what the instrument reads too high.

    .. math:: x_c = x - d(x)

    Args:
        reading: what it reads.
        about: the reading that the offset is given at.
        offset: by how much it reads too high there.
        slope: by how much more for each unit that it reads more.

    Returns:
        The corrected reading.

    Raises:
        OutOfRange: an argument is no ordinary number.

    Source:
        JCGM 100:2008, 3.2.4 (a reading is corrected for what is known to be systematic).

    >>> round(corrected_reading(120.0, 100.0, 1.0, 0.01), 3)
    118.8
    """
    return reading - reads_high(reading, about, offset, slope)


def line_uncertainty(line: CalibrationLine, reading: float) -> Uncertainty:
    """How sure the line is at one reading.

    .. math:: u^2(d) = u^2(y_1) + (x - x_0)^2 u^2(y_2) + 2 (x - x_0) u(y_1) u(y_2) r(y_1, y_2)

    Args:
        line: the line.
        reading: what the instrument reads.

    Returns:
        Standard uncertainty of what it is said to read too high, with its degrees of freedom.

    Raises:
        OutOfRange: the reading is no ordinary number.

    Source:
        JCGM 100:2008, H.3.5.

    >>> line = calibration_line([0.0, 50.0, 100.0], [0.0, 0.4, 1.1])
    >>> round(line_uncertainty(line, 50.0).standard, 4), line_uncertainty(line, 50.0).freedom
    (0.0707, 1.0)
    """
    step = finite("reading", reading) - line.about
    first, second = line.offset_uncertainty, step * line.slope_uncertainty
    return Uncertainty(
        math.sqrt(max(0.0, first**2 + second**2 + 2.0 * first * second * line.correlation)), line.freedom
    )
