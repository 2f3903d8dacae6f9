"""A curve through points that rise, which rises everywhere: for linkages and for springs on a tester."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.limits import finite, positive

LEAST_FOR_A_CURVE = 4
"""Points from which a curve is drawn; fewer are joined by straight lines."""

LEAST_RISE = 1e-9
"""Two values that are no further apart count as one: no gauge tells them apart, and slopes between them overflow."""

Cubic = tuple[float, float, float, float]
"""Value, slope, half the second and a sixth of the third derivative where a piece begins."""


def monotone_cubics(x: Sequence[float], y: Sequence[float]) -> tuple[Cubic, ...]:
    """The pieces of a curve through points that rise.

    Four points or more are joined by the monotone cubic of Fritsch and Carlson in the form that scipy and others call
    PCHIP: slopes at the points by the weighted harmonic mean of their neighbours, one-sided three-point slopes at the
    ends. Fewer points are joined by straight lines.

    Args:
        x: at least two values, each above the one before by more than LEAST_RISE.
        y: as many values, the same.

    Returns:
        One piece between each two points.

    Raises:
        OutOfRange: fewer than two points, unequal counts, or values that do not rise.

    Source:
        F. N. Fritsch & R. E. Carlson, "Monotone piecewise cubic interpolation", SIAM J. Numer. Anal. 17 (1980).

    >>> monotone_cubics([0.0, 50.0], [0.0, 20.0])
    ((0.0, 0.4, 0.0, 0.0),)
    """
    if len(x) < len(("first", "last")) or len(x) != len(y):
        raise OutOfRange("number of points", len(x), "2 or more, each with its value")
    for values in (x, y):
        finite("first value", values[0])
        for before, value in pairwise(values):
            positive("rise between two points", value - before - LEAST_RISE)
    steps = [b - a for a, b in pairwise(x)]
    chords = [(b - a) / step for (a, b), step in zip(pairwise(y), steps, strict=True)]
    if len(x) < LEAST_FOR_A_CURVE:
        return tuple((y[i], chord, 0.0, 0.0) for i, chord in enumerate(chords))
    slopes = _slopes(steps, chords)
    cubics = []
    for i, (step, chord) in enumerate(zip(steps, chords, strict=True)):
        left, right = slopes[i], slopes[i + 1]
        bend = (left + right - 2.0 * chord) / step
        cubics.append((y[i], left, (chord - left) / step - bend, bend / step))
    return tuple(cubics)


def _slopes(steps: Sequence[float], chords: Sequence[float]) -> list[float]:
    """Slope at each point; all chords rise, so all slopes have the same sign."""
    inner = []
    for (h0, h1), (d0, d1) in zip(pairwise(steps), pairwise(chords), strict=True):
        w0, w1 = 2.0 * h1 + h0, h1 + 2.0 * h0
        inner.append((w0 + w1) / (w0 / d0 + w1 / d1))
    first = _end_slope(steps[0], steps[1], chords[0], chords[1])
    last = _end_slope(steps[-1], steps[-2], chords[-1], chords[-2])
    return [first, *inner, last]


def _end_slope(h0: float, h1: float, d0: float, d1: float) -> float:
    """Three-point slope at an end, limited so that the curve does not turn back."""
    slope = ((2.0 * h0 + h1) * d0 - h0 * d1) / (h0 + h1)
    return max(slope, 0.0)
