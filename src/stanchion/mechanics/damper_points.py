"""Readings of a dynamometer brought together to a few points of force against speed."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from stanchion.base.record import record
from stanchion.mechanics.damper import slope_through
from stanchion.mechanics.limits import finite, not_negative
from stanchion.mechanics.monotone import LEAST_RISE

STATED_MM_PER_S = (
    10.0, 25.0, 50.0, 75.0, 100.0, 150.0, 200.0, 250.0, 300.0, 400.0, 500.0, 750.0, 1000.0, 1500.0, 2500.0, 5000.0
)  # fmt: skip
"""Speeds at which the force is kept where more of them were read than a curve holds [mm/s]."""
SAME_SPEED = 0.01
"""Readings whose speeds are this close, as a share, are repeats of one."""
STANDSTILL_MM_PER_S = 0.5
"""Slower is standing still: friction and gas are read there, no damping [mm/s]."""


@record
class DamperPoint:
    """The force at one speed."""

    speed_mm_per_s: float
    force_n: float
    spread_n: float
    """Standard deviation of the readings it is the mean of; 0 of a single one."""
    readings: int


def damper_points(readings: Iterable[tuple[float, float]], most: int = len(STATED_MM_PER_S)) -> tuple[DamperPoint, ...]:
    """The readings of one stroke as at most so many points with rising speed.

    Readings at one speed are repeats, and their mean is taken. Where there are more speeds than points, as with a
    sampled cycle, the readings around each of the stated speeds are brought to it by a straight line through them; so
    the force before and after the peak of the speed counts alike.

    Args:
        readings: speed [mm/s], 0 or more, and force [N].
        most: points, at least as many as there are stated speeds.

    Returns:
        The points; none where all readings were taken at standstill.

    Raises:
        OutOfRange: a speed below 0, or a value that is no ordinary number.

    >>> [(p.speed_mm_per_s, p.force_n) for p in damper_points([(100.0, 210.0), (100.0, 190.0), (50.0, 90.0)])]
    [(50.0, 90.0), (100.0, 200.0)]
    """
    rising = sorted((not_negative("speed", v), finite("force", force)) for v, force in readings)
    rising = [one for one in rising if one[0] >= STANDSTILL_MM_PER_S]
    groups = list(_repeats(rising))
    if len(groups) > most:
        groups = list(_around(rising))
    points = (_point(group, stated) for group, stated in groups)
    return tuple(_apart(points))


Group = tuple[list[tuple[float, float]], float | None]


def _repeats(rising: Sequence[tuple[float, float]]) -> Iterator[Group]:
    group: list[tuple[float, float]] = []
    for one in rising:
        if group and one[0] > group[0][0] * (1.0 + SAME_SPEED):
            yield group, None
            group = []
        group.append(one)
    if group:
        yield group, None


def _around(rising: Sequence[tuple[float, float]]) -> Iterator[Group]:
    """The readings nearer to each stated speed than to the next, by the geometric mean of both."""
    edges = [math.sqrt(a * b) for a, b in pairwise(STATED_MM_PER_S)]
    cells: dict[int, list[tuple[float, float]]] = {}
    for one in rising:
        cells.setdefault(bisect_right(edges, one[0]), []).append(one)
    for at, cell in cells.items():
        yield cell, STATED_MM_PER_S[at]


LEAST_FOR_A_LINE = 4


def _point(group: Sequence[tuple[float, float]], stated: float | None) -> DamperPoint:
    speeds, forces = [v for v, _ in group], [force for _, force in group]
    count = len(group)
    middle, mean = math.fsum(speeds) / count, math.fsum(forces) / count
    across = math.fsum((v - middle) ** 2 for v in speeds)
    if stated is not None and count >= LEAST_FOR_A_LINE and across > (SAME_SPEED * middle) ** 2 * count:
        slope = slope_through(group)
        at = min(max(stated, speeds[0]), speeds[-1])
        off = math.fsum((force - mean - slope * (v - middle)) ** 2 for v, force in group)
        return DamperPoint(at, mean + slope * (at - middle), math.sqrt(off / (count - 2)), count)
    off = math.fsum((force - mean) ** 2 for force in forces)
    return DamperPoint(middle, mean, math.sqrt(off / (count - 1)) if count > 1 else 0.0, count)


def _apart(points: Iterable[DamperPoint]) -> Iterator[DamperPoint]:
    """Without points that no speed tells from the one before."""
    last = -1.0
    for point in points:
        if point.speed_mm_per_s > last + LEAST_RISE:
            yield point
            last = point.speed_mm_per_s
