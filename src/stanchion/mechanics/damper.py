"""Force of a damper against its speed: readings brought together, forces between them, and what a click does.

Terms as J. C. Dixon uses them in The Shock Absorber Handbook, 2nd ed. 2007 (from memory, to be confirmed). Forces here
resist the motion, unless "outwards" is said.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.limits import all_finite, finite, not_negative, positive, within
from stanchion.mechanics.monotone import LEAST_RISE, monotone_cubics

PER_M = 1000.0


def force_at(speeds_mm_per_s: Sequence[float], forces_n: Sequence[float], at_mm_per_s: float) -> float:
    """Force at a speed within those measured.

    By the monotone cubic where the force rises from each speed to the next; otherwise by straight lines, which no more
    than it go beyond the two readings beside them.

    Args:
        speeds_mm_per_s: at least one, rising.
        forces_n: as many.
        at_mm_per_s: the speed.

    Raises:
        OutOfRange: outside the speeds measured, which are not extended.

    >>> force_at([50.0, 100.0], [200.0, 300.0], 75.0)
    250.0
    >>> force_at([50.0, 100.0], [200.0, 300.0], 40.0)
    Traceback (most recent call last):
    stanchion.base.errors.OutOfRange: speed = 40 is out of range: it must be from 50 to 100
    """
    all_finite("speed", speeds_mm_per_s)
    all_finite("force", forces_n)
    within("speed", at_mm_per_s, speeds_mm_per_s[0], speeds_mm_per_s[-1])
    piece = min(bisect_right(speeds_mm_per_s, at_mm_per_s), len(speeds_mm_per_s) - 1) - 1
    if piece < 0:
        return forces_n[0]
    along = at_mm_per_s - speeds_mm_per_s[piece]
    if all(b - a > LEAST_RISE for a, b in pairwise(forces_n)):
        value, slope, bend, twist = monotone_cubics(speeds_mm_per_s, forces_n)[piece]
        return value + along * (slope + along * (bend + along * twist))
    step = speeds_mm_per_s[piece + 1] - speeds_mm_per_s[piece]
    return forces_n[piece] + (forces_n[piece + 1] - forces_n[piece]) * along / step


def equivalent_damping(force_n: float, speed_mm_per_s: float) -> float:
    """Damping coefficient of a linear damper with the same force at that speed, c = F / v [N·s/m].

    Args:
        force_n: force [N].
        speed_mm_per_s: speed [mm/s], > 0.

    >>> equivalent_damping(150.0, 100.0)
    1500.0
    """
    return finite("force", force_n) / positive("speed", speed_mm_per_s) * PER_M


def slope_between(
    speeds_mm_per_s: Sequence[float], forces_n: Sequence[float], from_mm_per_s: float, to_mm_per_s: float
) -> float:
    """Slope of the straight line through what was measured between two speeds [N·s/m].

    Raises:
        OutOfRange: fewer than two points lie there.

    >>> slope_between([20.0, 50.0, 100.0, 300.0], [30.0, 60.0, 110.0, 210.0], 0.0, 150.0)
    1000.0
    """
    all_finite("speed", (*speeds_mm_per_s, from_mm_per_s, to_mm_per_s))
    all_finite("force", forces_n)
    inside = [
        (v, force) for v, force in zip(speeds_mm_per_s, forces_n, strict=True) if from_mm_per_s <= v <= to_mm_per_s
    ]
    if len(inside) < len(("first", "last")):
        raise OutOfRange("number of speeds there", len(inside), "2 or more")
    return slope_through(inside) * PER_M


def slope_through(pairs: Sequence[tuple[float, float]]) -> float:
    """Slope of the straight line by least squares through pairs that are not all at one place."""
    middle = math.fsum(x for x, _ in pairs) / len(pairs)
    across = positive("spread", math.fsum((x - middle) ** 2 for x, _ in pairs))
    return math.fsum((x - middle) * y for x, y in pairs) / across


def per_click(positions: Sequence[float], forces_n: Sequence[float]) -> float:
    """What one click out takes off the force, as the slope of the straight line through the positions measured [N].

    Args:
        positions: at least two, clicks or turns out from fully in.
        forces_n: the force at each.

    Raises:
        OutOfRange: fewer than two different positions.

    >>> per_click([4.0, 8.0, 12.0], [300.0, 260.0, 220.0])
    10.0
    """
    all_finite("position", positions)
    all_finite("force", forces_n)
    if len(set(positions)) < len(("first", "last")):
        raise OutOfRange("number of positions", len(set(positions)), "2 or more")
    return -slope_through(tuple(zip(positions, forces_n, strict=True)))


def force_at_position(positions: Sequence[float], forces_n: Sequence[float], position: float) -> float:
    """Force at a position of the adjuster between those measured, by a straight line between its neighbours [N].

    Args:
        positions: at least one, rising.
        forces_n: the force at each.
        position: the position.

    Raises:
        OutOfRange: outside the positions measured.

    >>> force_at_position([4.0, 8.0], [300.0, 260.0], 5.0)
    290.0
    """
    all_finite("position", positions)
    all_finite("force", forces_n)
    within("position", position, positions[0], positions[-1])
    for (p0, f0), (p1, f1) in pairwise(zip(positions, forces_n, strict=True)):
        if position <= p1:
            return f0 + (f1 - f0) * (position - p0) / (p1 - p0)
    return forces_n[-1]


def position_of_force(positions: Sequence[float], forces_n: Sequence[float], wanted_n: float) -> float:
    """Position of the adjuster that gives a force, between those measured.

    Args:
        positions: at least one, rising.
        forces_n: the force at each; it falls from each to the next, or rises from each to the next.
        wanted_n: the force.

    Raises:
        OutOfRange: the force is not within those measured, or goes up and down with the position.

    >>> position_of_force([4.0, 8.0], [300.0, 260.0], 270.0)
    7.0
    """
    all_finite("position", positions)
    all_finite("force", forces_n)
    falls = len(forces_n) > 1 and forces_n[-1] < forces_n[0]
    rising = list(zip(positions, forces_n, strict=True))[:: -1 if falls else 1]
    for (_, f0), (_, f1) in pairwise(rising):
        positive("change of force from one position to the next", f1 - f0)
    within("force", wanted_n, rising[0][1], rising[-1][1])
    for (p0, f0), (p1, f1) in pairwise(rising):
        if wanted_n <= f1:
            return p0 + (p1 - p0) * (wanted_n - f0) / (f1 - f0)
    return rising[-1][0]


def gas_by_mean(compression_n: float, rebound_n: float) -> float:
    """Force of the gas as the mean of the forces outwards in both strokes at one low speed [N].

    It is exact where the damper resists both strokes alike there; the slower, the less it is off otherwise.

    Args:
        compression_n: force outwards while the shaft goes in.
        rebound_n: the same while it comes out; usually below 0.

    >>> gas_by_mean(260.0, -100.0)
    80.0
    """
    return (finite("force in compression", compression_n) + finite("force in rebound", rebound_n)) / 2.0


def repeatability_band(one_n: float, other_n: float) -> float:
    """Two forces of which each scatters so much by itself differ by less than this in 95 of 100 cases [N].

    .. math:: 1.96 \\sqrt{s_1^2 + s_2^2}

    Args:
        one_n: standard deviation of the one's readings.
        other_n: that of the other's.

    Source:
        ISO 5725-6:1994, 4.1.2: two results differ critically by 1.96 √2 s, rounded to 2.8 s (from memory, to be
        confirmed).

    >>> round(repeatability_band(10.0, 10.0), 1)
    27.7
    """
    return 1.959964 * math.hypot(not_negative("spread", one_n), not_negative("spread", other_n))
