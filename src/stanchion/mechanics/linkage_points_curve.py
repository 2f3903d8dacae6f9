"""A rear linkage by its points over the travel of the wheel: its curve, and how sure that is."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.limits import positive
from stanchion.mechanics.linkage import Linkage
from stanchion.mechanics.linkage_points import (
    Extended,
    LinkagePoints,
    LinkagePosition,
    Point,
    Stopped,
    extended_position,
    position_at,
    position_at_travel,
)

_KNOT_MM = 5.0
"""Wheel travel from one point of the curve to the next, at most."""


@record
class PointsCurve:
    """A linkage by its points over the travel of the wheel."""

    linkage: Linkage | None
    """Shock travel by wheel travel, up to where the linkage moves; None where it does not move at all."""
    extended: Extended
    stopped: Stopped = ""
    """What keeps it from the whole travel; empty: nothing."""
    stopped_at_mm: float | None = None
    """Wheel travel where that is [mm]."""


def points_curve(points: LinkagePoints, shock_mm: float | None, travel_mm: float) -> PointsCurve:
    """Shock travel as a function of wheel travel, from the points.

    Position and motion ratio are exact every few millimetres, with the cubic between them that has both.

    Args:
        points: the points as read.
        shock_mm: length of the shock between its eyes, extended [mm], > 0; None: the points were read so.
        travel_mm: wheel travel up to which it is wanted [mm], > 0.

    Returns:
        The curve, and what stops the linkage before the end of that travel.

    Raises:
        OutOfRange: a length or a travel not above 0.

    Source:
        Plane kinematics of rigid bodies; cubic Hermite interpolation.

    >>> straight = LinkagePoints(axle=(-550.0, 0.0), shock_moved=(-200.0, 0.0), shock_held=(-120.0, 330.0))
    >>> found = points_curve(straight, 379.200815, 130.0)
    >>> round(found.linkage.motion_ratio(56.860775), 6), found.stopped
    (0.346393, '')
    """
    extended = extended_position(points, shock_mm)
    if extended.stopped:
        return PointsCurve(None, extended, extended.stopped, 0.0)
    knots: list[tuple[float, float, float]] = []
    longest = 0.0
    for travel, found, why in _along(points, extended, positive("wheel travel", travel_mm)):
        if found is None:
            end_mm = _last_before(points, extended, knots[-1][0], travel) if knots else 0.0
            return PointsCurve(_through(knots), extended, why, end_mm)
        longest = longest or found.shock_mm
        knots.append((travel, longest - found.shock_mm, found.motion_ratio))
    return PointsCurve(_through(knots), extended)


def _along(
    points: LinkagePoints, extended: Extended, travel_mm: float
) -> Iterator[tuple[float, LinkagePosition | None, Stopped]]:
    """Positions over the travel; the first that cannot be is the last."""
    pieces = max(1, math.ceil(travel_mm / _KNOT_MM))
    for at in range(pieces + 1):
        travel = travel_mm * at / pieces
        found, stopped = position_at_travel(points, extended, travel)
        yield travel, found, stopped
        if found is None:
            return


def _last_before(points: LinkagePoints, extended: Extended, good_mm: float, bad_mm: float) -> float:
    """Wheel travel up to which the linkage moves, between one where it does and one where it does not [mm]."""
    while bad_mm - good_mm > 0.01:
        middle = 0.5 * (good_mm + bad_mm)
        good_mm, bad_mm = (
            (good_mm, middle) if position_at_travel(points, extended, middle)[0] is None else (middle, bad_mm)
        )
    return good_mm


def _through(knots: list[tuple[float, float, float]]) -> Linkage | None:
    """The cubics that have shock travel and motion ratio at each point."""
    if len(knots) < 2:
        return None
    cubics = []
    for (z0, s0, m0), (z1, s1, m1) in pairwise(knots):
        step = z1 - z0
        chord = (s1 - s0) / step
        cubics.append((s0, m0, (3.0 * chord - 2.0 * m0 - m1) / step, (m0 + m1 - 2.0 * chord) / step**2))
    return Linkage(tuple(z for z, _, _ in knots), tuple(cubics))


def moved_by_points(
    points: LinkagePoints,
    shock_mm: float | None,
    wheel_mm: float,
    standard_mm: float,
    read_otherwise: Iterable[LinkagePoints] | None = None,
) -> tuple[tuple[float, float, float], ...]:
    """Change of shock travel, motion ratio and its slope for one standard uncertainty of each reading.

    .. math:: u_i(y) = f(x_i + u_i) - f(x_i)

    The readings are independent, and so is the length of the shock.

    Args:
        points: the points as read.
        shock_mm: length of the shock between its eyes, extended [mm], > 0; None: the points were read so.
        wheel_mm: where on the travel [mm].
        standard_mm: standard uncertainty of one reading [mm], > 0.
        read_otherwise: the points with one reading after another moved by that; None: each point was read forward and
            up from the swingarm pivot.

    Returns:
        For each reading: change of s [mm], of m, and of dm/dz [1/mm].

    Raises:
        OutOfRange: no uncertainty, or a linkage that does not reach that travel, or would not with a reading moved.

    Source:
        JCGM 100:2008, 5.1.3 note 2 (sensitivities by numerical differentiation).

    >>> straight = LinkagePoints(axle=(-550.0, 0.0), shock_moved=(-200.0, 0.0), shock_held=(-120.0, 330.0))
    >>> moved = moved_by_points(straight, 379.200815, 60.0, 0.3)
    >>> len(moved), round(math.hypot(*(ratio for _, ratio, _ in moved)), 5)
    (7, 0.00054)
    """
    u = positive("uncertainty of a reading", standard_mm)
    extended = extended_position(points, shock_mm)
    if extended.stopped:
        raise OutOfRange("length of the shock", shock_mm or 0.0, "one that the linkage reaches")
    s, m, slope = _state(points, extended, wheel_mm)
    moved = [
        _state(other, extended if shock_mm is None else _extended_near(other, shock_mm, extended), wheel_mm)
        for other in (_nudged(points, u) if read_otherwise is None else read_otherwise)
    ]
    if shock_mm is not None:
        moved.append(_state(points, _extended_near(points, shock_mm + u, extended), wheel_mm))
    return tuple((s1 - s, m1 - m, slope1 - slope) for s1, m1, slope1 in moved)


def _extended_near(points: LinkagePoints, shock_mm: float, near: Extended) -> Extended:
    """Full extension of a linkage that differs by a reading from one of which it is known, by Newton's method."""
    turn = near.turn_rad
    for _ in range(2):
        found = position_at(points, turn)
        if found is None or found.motion_ratio <= 0.0:
            raise OutOfRange("length of the shock", shock_mm, "one that the linkage reaches")
        turn += (found.shock_mm - shock_mm) / (found.motion_ratio * -found.axle[0])
    return Extended(turn)


def _nudged(points: LinkagePoints, by_mm: float) -> Iterator[LinkagePoints]:
    yield from (replace(points, axle=at) for at in _both_ways(points.axle, by_mm))
    yield from (replace(points, shock_moved=at) for at in _both_ways(points.shock_moved, by_mm))
    yield from (replace(points, shock_held=at) for at in _both_ways(points.shock_held, by_mm))
    rocker = points.rocker
    if rocker is not None:
        rockers = [replace(rocker, centre=at) for at in _both_ways(rocker.centre, by_mm)]
        rockers += [replace(rocker, link_end=at) for at in _both_ways(rocker.link_end, by_mm)]
        rockers += [replace(rocker, link_far=at) for at in _both_ways(rocker.link_far, by_mm)]
        yield from (replace(points, rocker=one) for one in rockers)


def _both_ways(at: Point, by_mm: float) -> tuple[Point, Point]:
    return (at[0] + by_mm, at[1]), (at[0], at[1] + by_mm)


def _state(points: LinkagePoints, extended: Extended, wheel_mm: float) -> tuple[float, float, float]:
    """Shock travel, motion ratio and its slope at one wheel travel."""
    start, here, below, above = (
        position_at_travel(points, extended, mm)[0] for mm in (0.0, wheel_mm, wheel_mm - 1.0, wheel_mm + 1.0)
    )
    if start is None or here is None or below is None or above is None:
        raise OutOfRange("wheel travel", wheel_mm, "within what the linkage reaches")
    slope = (above.motion_ratio - below.motion_ratio) / 2.0
    return start.shock_mm - here.shock_mm, here.motion_ratio, slope
