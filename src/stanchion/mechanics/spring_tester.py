"""Whether the readings of a spring tester lie on a line, or show a rate that changes."""

from __future__ import annotations

import math
from collections.abc import Sequence

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.statistics import fit_line, mean

LEAST_TO_TELL = 4
"""Readings from which a bend can be told from scatter."""
LEAST_TO_QUESTION = 6
"""Readings from which one can be questioned by the others."""


@record
class Bend:
    """The slopes of a parabola through the readings in the middle of their first and of their last third."""

    first_n_per_mm: float
    last_n_per_mm: float
    uncertainty_n_per_mm: float
    """Standard uncertainty of the difference of the two."""


def bend_of(squeezed_mm: Sequence[float], forces_n: Sequence[float]) -> Bend:
    """How the slope of the readings changes from their first third to their last.

    The part of the force that is quadratic is fitted by least squares beside the line:

    .. math:: c = \\sum q_i F_i / \\sum q_i^2, \\quad \\Delta k = \\tfrac{4}{3} R c

    with q the square of the compression less its own best line, and R the range of the compressions.

    Args:
        squeezed_mm: compressions, from any length [mm]; at least four, not all the same.
        forces_n: the force at each [N].

    Returns:
        Both slopes, and the uncertainty of their difference.

    Raises:
        OutOfRange: too few readings, unequal counts, fewer than three compressions, or no ordinary number.

    Source:
        Least squares (JCGM 100:2008, H.3, with a quadratic term).

    >>> bend = bend_of([0, 20, 40, 60], [0, 180, 380, 600])
    >>> round(bend.first_n_per_mm, 6), round(bend.last_n_per_mm, 6)
    (9.0, 11.0)
    """
    middle = mean(squeezed_mm)
    x = [mm - middle for mm in squeezed_mm]
    fit = _parabola(x, forces_n)
    low, high = min(x), max(x)
    reach = high - low
    first, last = (fit.slope + 2.0 * fit.quadratic * at for at in (low + reach / 6.0, high - reach / 6.0))
    return Bend(first, last, fit.quadratic_uncertainty * 4.0 / 3.0 * reach)


@record
class OffReading:
    """The reading without which the others lie nearest to a parabola."""

    at: int
    """Its place among the readings, from 0."""
    off_n: float
    """Its force less that of the parabola there [N]."""
    scatter_n: float
    """Residual standard deviation of the others [N]."""


def off_the_others(squeezed_mm: Sequence[float], forces_n: Sequence[float]) -> OffReading:
    """The reading that the others speak against most.

    Args:
        squeezed_mm: compressions, from any length [mm]; at least six.
        forces_n: the force at each [N].

    Returns:
        The reading without which the others lie nearest to a parabola, and how far it lies off that.

    Raises:
        OutOfRange: too few readings, unequal counts, all compressions the same, or no ordinary number.

    Source:
        Least squares, each reading left out in turn.

    >>> off_the_others([0, 20, 40, 60, 80, 100], [0, 180, 360, 640, 720, 900]).at
    3
    """
    if len(squeezed_mm) < LEAST_TO_QUESTION:
        raise OutOfRange("number of readings", len(squeezed_mm), f"{LEAST_TO_QUESTION} or more")
    middle = mean(squeezed_mm)
    x = [mm - middle for mm in squeezed_mm]
    found: list[OffReading] = []
    for at, force in enumerate(forces_n):
        fit = _parabola([*x[:at], *x[at + 1 :]], [*forces_n[:at], *forces_n[at + 1 :]])
        by_others = fit.intercept + x[at] * (fit.slope + x[at] * fit.quadratic)
        found.append(OffReading(at, force - by_others, fit.deviation))
    return min(found, key=lambda one: one.scatter_n)


@record
class _Parabola:
    intercept: float
    slope: float
    quadratic: float
    quadratic_uncertainty: float
    deviation: float
    """Residual standard deviation, n - 3 in the denominator."""


def _parabola(x: Sequence[float], y: Sequence[float]) -> _Parabola:
    """The parabola by least squares; a line where two values of x, or too few readings, tell of no more."""
    line = fit_line(x, y)
    squares = [one * one for one in x]
    own = fit_line(x, squares)
    q = [square - own.intercept - own.slope * one for square, one in zip(squares, x, strict=True)]
    total = math.fsum(one * one for one in q)
    if total <= 1e-12 * max(squares) ** 2 or len(x) < LEAST_TO_TELL:
        return _Parabola(line.intercept, line.slope, 0.0, math.inf, line.residual_deviation)
    c = math.fsum(one * value for one, value in zip(q, y, strict=True)) / total
    off = [value - line.intercept - line.slope * one - c * bent for value, one, bent in zip(y, x, q, strict=True)]
    deviation = math.sqrt(math.fsum(one * one for one in off) / (len(x) - 3))
    return _Parabola(
        intercept=line.intercept - c * own.intercept,
        slope=line.slope - c * own.slope,
        quadratic=c,
        quadratic_uncertainty=deviation / math.sqrt(total),
        deviation=deviation,
    )
