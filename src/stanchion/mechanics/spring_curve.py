"""The force of a spring whose rate is not one number, as a curve over its compression.

Compression is counted from the free length. The curve is made of pieces, each a polynomial of at most third degree, so
that force and rate are exact: the rate is the slope of the force everywhere.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from functools import lru_cache
from itertools import pairwise

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.air_spring import AirSpring
from stanchion.mechanics.limits import finite, not_negative, positive
from stanchion.mechanics.monotone import Cubic, monotone_cubics


@record
class SpringCurve:
    """Force over compression, in pieces; beyond the last knot the rate stays that of the last piece."""

    knots_mm: tuple[float, ...]
    """Compressions at which the pieces begin [mm], rising from 0."""
    pieces: tuple[Cubic, ...]
    """One for each knot: force [N], rate [N/mm], half the change of the rate [N/mm²], a sixth of the change of that."""
    known_to_mm: float = math.inf
    """Compression up to which the spring was measured [mm]: beyond it what it gives is not known."""

    def __post_init__(self) -> None:
        """Check that the pieces begin at 0, rise, and fit together."""
        if self.knots_mm[:1] != (0.0,) or len(self.knots_mm) != len(self.pieces):
            raise OutOfRange("first knot of a curve", self.knots_mm[0] if self.knots_mm else math.nan, "0")
        for start, end in zip(self.knots_mm, self.knots_mm[1:], strict=False):
            positive("length of a piece", end - start)
        for force, rate, bend, twist in self.pieces:
            finite("force of a piece", force)
            not_negative("rate of a piece", rate)
            finite("change of rate in a piece", bend)
            finite("change of the change of rate in a piece", twist)
        positive("least rate of a curve", self.least_rate_n_per_mm)

    @property
    def least_rate_n_per_mm(self) -> float:
        """The least rate at the beginning of any piece [N/mm]; where that is 0, a third of the mean over the piece."""
        least = self.pieces[-1][1]
        ends = zip(pairwise(self.knots_mm), pairwise(self.pieces), strict=True)
        for (start, end), (one, other) in ends:
            chord = (other[0] - one[0]) / (end - start)
            least = min(least, chord, one[1] or chord / 3.0)
        return least

    def state(self, squeezed_mm: float) -> tuple[float, float]:
        """Force [N] and rate [N/mm] at a compression [mm] of 0 or more; at a knot, the rate of the piece that begins
        there. For solvers: see force_at and rate_at.

        >>> rising_rate(6.5, 10.5, 120.0).state(60.0)
        (450.0, 8.5)
        """
        at = bisect_right(self.knots_mm, squeezed_mm) - 1
        force, rate, bend, twist = self.pieces[at]
        along = squeezed_mm - self.knots_mm[at]
        slope = rate + along * (2.0 * bend + 3.0 * along * twist)
        return force + along * (rate + along * (bend + along * twist)), slope


RateOrCurve = float | SpringCurve | AirSpring
"""How a spring answers to compression: by one rate [N/mm], or by a curve, or as air does."""


def force_at(spring: RateOrCurve, squeezed_mm: float) -> float:
    """Force of a spring.

    .. math:: F = k \\max(0, u) \\quad\\text{or}\\quad F = F(\\max(0, u))

    Args:
        spring: its rate [N/mm], > 0, or its curve.
        squeezed_mm: compression u from the free length [mm]; where it is not above 0 the spring is loose.

    Returns:
        Force [N].

    Raises:
        OutOfRange: rate not above 0, or compression infinite or not a number.

    Source:
        Hooke's law; a curve as it was recorded.

    >>> force_at(9.5, 20.0), force_at(9.5, -3.0)
    (190.0, 0.0)
    >>> round(force_at(rising_rate(6.5, 10.5, 120.0), 20.0), 6), force_at(rising_rate(6.5, 10.5, 120.0), 140.0)
    (136.666667, 1230.0)
    """
    squeezed = max(0.0, finite("compression of the spring", squeezed_mm))
    if isinstance(spring, SpringCurve | AirSpring):
        return spring.state(squeezed)[0]
    return positive("spring rate", spring) * squeezed


def rate_at(spring: RateOrCurve, squeezed_mm: float) -> float:
    """Rate of a spring: the slope of its force.

    Args:
        spring: its rate [N/mm], > 0, or its curve.
        squeezed_mm: compression from the free length [mm]; a curve is as stiff below 0 as it is at 0.

    Returns:
        Rate [N/mm].

    Raises:
        OutOfRange: rate not above 0, or compression infinite or not a number.

    Source:
        Derivative of force_at.

    >>> rate_at(9.5, 20.0), rate_at(rising_rate(6.5, 10.5, 120.0), 60.0), rate_at(rising_rate(6.5, 10.5, 120.0), 140.0)
    (9.5, 8.5, 10.5)
    """
    squeezed = max(0.0, finite("compression of the spring", squeezed_mm))
    return spring.state(squeezed)[1] if isinstance(spring, SpringCurve | AirSpring) else positive("spring rate", spring)


def least_rate(spring: RateOrCurve) -> float:
    """The rate from which solvers start: that of the spring, or the least of its curve.

    Args:
        spring: its rate [N/mm], > 0, or its curve.

    Returns:
        Rate [N/mm].

    Raises:
        OutOfRange: rate not above 0.

    Source:
        Definition.

    >>> least_rate(9.5), least_rate(rising_rate(6.5, 10.5, 120.0))
    (9.5, 6.5)
    """
    if isinstance(spring, SpringCurve | AirSpring):
        return spring.least_rate_n_per_mm
    return positive("spring rate", spring)


@lru_cache(maxsize=64)  # most keystrokes leave the springs unchanged
def rising_rate(start_n_per_mm: float, end_n_per_mm: float, over_mm: float) -> SpringCurve:
    """A progressive spring by its label: its rate rises evenly between two, and stays at the second.

    .. math:: F = k_1 u + \\frac{k_2 - k_1}{2 u_e} u^2 \\quad (u \\le u_e)

    Args:
        start_n_per_mm: rate at the free length k_1 [N/mm], > 0.
        end_n_per_mm: rate at the end k_2 [N/mm], > 0.
        over_mm: compression u_e over which it rises [mm], > 0.

    Returns:
        The curve.

    Raises:
        OutOfRange: an argument is not above 0.

    Source:
        Integral of a rate that changes evenly. That a label's two rates are those at both ends of the stroke is common
        practice, no published source.

    >>> rising_rate(6.5, 10.5, 120.0).knots_mm
    (0.0, 120.0)
    """
    start, end = positive("rate at the start", start_n_per_mm), positive("rate at the end", end_n_per_mm)
    over = positive("compression over which the rate rises", over_mm)
    bend = (end - start) / (2.0 * over)
    return SpringCurve((0.0, over), ((0.0, start, bend, 0.0), (over * (start + end) / 2.0, end, 0.0, 0.0)))


@lru_cache(maxsize=64)
def measured_curve(pairs: tuple[tuple[float, float], ...]) -> SpringCurve:
    """A spring by the readings of a tester: a curve through (0, 0) and all of them, known up to the last.

    Args:
        pairs: compression from the free length [mm] and force [N], in any order, at least one.

    Returns:
        The curve.

    Raises:
        OutOfRange: no pair, or forces that do not rise with the compression from (0, 0) on.

    Source:
        See monotone_cubics.

    >>> measured_curve(((20.0, 180.0), (40.0, 380.0))).state(50.0)
    (480.0, 10.0)
    """
    points = [(0.0, 0.0), *sorted(pairs)]
    x, y = [point[0] for point in points], [point[1] for point in points]
    pieces = monotone_cubics(x, y)
    inner = SpringCurve(tuple(x[:-1]), pieces)
    force, rate = inner.state(x[-1])
    beyond = (force, max(rate, inner.least_rate_n_per_mm), 0.0, 0.0)
    return SpringCurve(tuple(x), (*pieces, beyond), known_to_mm=x[-1])
