"""Shock travel as a function of wheel travel, from measured pairs or one motion ratio.

Vertical wheel travel z and shock travel s are both counted from full extension, so z = 0 is s = 0 by definition.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable
from itertools import pairwise

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.limits import positive
from stanchion.mechanics.monotone import Cubic, monotone_cubics


@record
class Linkage:
    """Shock travel as a function of wheel travel, as a piecewise cubic.

    Make one with `constant_ratio` or `through_pairs`.

    >>> link = through_pairs([(0, 0), (30, 10.5), (60, 21.5), (90, 33.0), (120, 45.0)])
    >>> link.shock_travel(60.0), round(link.motion_ratio(60.0), 4)
    (21.5, 0.3748)
    >>> link.shock_travel(130.0)
    Traceback (most recent call last):
    stanchion.base.errors.OutOfRange: wheel travel = 130 is out of range: it must be from 0 to 120: beyond what was
    measured
    """

    knots_mm: tuple[float, ...]
    """Wheel travel at the points [mm], rising from 0."""
    cubics: tuple[Cubic, ...]
    """For each piece, from its left end h: s = c0 + h (c1 + h (c2 + h c3))."""

    @property
    def covered_mm(self) -> float:
        """Wheel travel up to which the linkage is known [mm]; infinite for one constant ratio."""
        return self.knots_mm[-1]

    def shock_travel(self, wheel_mm: float) -> float:
        """Shock travel s(z).

        Args:
            wheel_mm: vertical wheel travel from full extension [mm], 0 to covered_mm.

        Returns:
            Shock travel [mm].

        Raises:
            OutOfRange: beyond what was measured.
        """
        h, (c0, c1, c2, c3) = self._piece(wheel_mm)
        return c0 + h * (c1 + h * (c2 + h * c3))

    def motion_ratio(self, wheel_mm: float) -> float:
        """Motion ratio m(z) = ds/dz, dimensionless. At a kink it is the ratio just beyond it.

        Args:
            wheel_mm: vertical wheel travel from full extension [mm], 0 to covered_mm.

        Returns:
            Motion ratio.

        Raises:
            OutOfRange: beyond what was measured.
        """
        h, (_, c1, c2, c3) = self._piece(wheel_mm)
        return c1 + h * (2.0 * c2 + h * 3.0 * c3)

    def state(self, wheel_mm: float) -> tuple[float, float, float]:
        """Shock travel, motion ratio and dm/dz at once, for solvers.

        Args:
            wheel_mm: vertical wheel travel from full extension [mm], 0 to covered_mm.

        Returns:
            s [mm], m, dm/dz [1/mm].

        Raises:
            OutOfRange: beyond what was measured.
        """
        h, (c0, c1, c2, c3) = self._piece(wheel_mm)
        return (
            c0 + h * (c1 + h * (c2 + h * c3)),
            c1 + h * (2.0 * c2 + h * 3.0 * c3),
            2.0 * c2 + h * 6.0 * c3,
        )

    def reaching(self, wheel_mm: float) -> Linkage:
        """The linkage extended to a wheel travel: beyond the measured pairs it continues with the last ratio.

        Args:
            wheel_mm: vertical wheel travel from full extension [mm].

        Returns:
            The extended linkage; the same one where it reaches that far, or where its last ratio is 0.

        >>> round(through_pairs([(60, 21), (120, 45)]).reaching(125.0).shock_travel(125.0), 9)
        47.0
        """
        last = self.covered_mm
        if wheel_mm <= last:
            return self
        shock_mm, ratio, _ = self.state(last)
        if ratio <= 0.0:
            return self
        if self.cubics[-1][2:] == (0.0, 0.0):
            return Linkage((*self.knots_mm[:-1], wheel_mm), self.cubics)
        return Linkage((*self.knots_mm, wheel_mm), (*self.cubics, (shock_mm, ratio, 0.0, 0.0)))

    def _piece(self, wheel_mm: float) -> tuple[float, Cubic]:
        knots = self.knots_mm
        if not 0.0 <= wheel_mm <= knots[-1] or wheel_mm == math.inf:
            raise OutOfRange("wheel travel", wheel_mm, f"from 0 to {knots[-1]:g}: beyond what was measured")
        i = min(bisect_right(knots, wheel_mm), len(self.cubics)) - 1
        return wheel_mm - knots[i], self.cubics[i]


def constant_ratio(ratio: float) -> Linkage:
    """A linkage with one motion ratio over all of its travel.

    .. math:: s = m z

    Args:
        ratio: shock travel over wheel travel, > 0.

    Returns:
        The linkage; it covers any travel.

    Raises:
        OutOfRange: ratio not above 0.

    Source:
        Definition.

    >>> constant_ratio(0.4).shock_travel(50.0)
    20.0
    """
    return Linkage((0.0, math.inf), ((0.0, positive("motion ratio", ratio), 0.0, 0.0),))


def through_pairs(pairs: Iterable[tuple[float, float]]) -> Linkage:
    """A linkage through measured pairs; full extension (0, 0) is added where it is missing.

    Four points or more are joined by a curve, fewer by straight lines: see monotone_cubics.

    Args:
        pairs: (vertical wheel travel, shock travel) [mm], in any order.

    Returns:
        The linkage, known from full extension to the last pair.

    Raises:
        OutOfRange: no pair beyond full extension, a negative or repeated wheel travel, shock travel that does not
            rise with wheel travel, or shock travel at zero wheel travel.

    Source:
        F. N. Fritsch & R. E. Carlson, "Monotone piecewise cubic interpolation", SIAM J. Numer. Anal. 17 (1980).

    >>> through_pairs([(50, 20)]).motion_ratio(10.0)
    0.4
    """
    points = sorted(pairs)
    if points and points[0][0] > 0.0:
        points.insert(0, (0.0, 0.0))
    if len(points) < 2:
        raise OutOfRange("number of linkage pairs", len(points), "at least one beyond full extension")
    for z, s in points:
        if not (0.0 <= z < math.inf and math.isfinite(s)):
            raise OutOfRange("wheel travel of a linkage pair", z, "0 or more, with its shock travel")
    if points[0][1] != 0.0:
        raise OutOfRange("shock travel at full extension", points[0][1], "0: both travels are counted from there")
    for (z0, s0), (z1, s1) in pairwise(points):
        if not z1 > z0:
            raise OutOfRange("wheel travel of a linkage pair", z1, "another than that of the pair before")
        if not s1 > s0:
            raise OutOfRange("shock travel of a linkage pair", s1, f"more than that of the pair before, {s0:g}")
        if not 0.0 < (s1 - s0) / (z1 - z0) < math.inf:
            raise OutOfRange(
                "shock travel of a linkage pair", s1, f"such that wheel travel {z1:g} gives a motion ratio"
            )
    wheel, shock = [point[0] for point in points], [point[1] for point in points]
    return Linkage(tuple(wheel), monotone_cubics(wheel, shock))
