"""Oil in a fork leg: how much of it a length of air gap holds, and the air gap that gives a wanted force."""

from __future__ import annotations

from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.fork import Fork, TrappedAir, air_force, force_and_rate
from stanchion.mechanics.gas import ML_MM3, circle_area
from stanchion.mechanics.limits import finite, not_negative, positive
from stanchion.mechanics.solve import falling_root

LARGEST_CHANGE_MM = 500.0
"""Change of the air gap up to which one is looked for [mm]."""
_ROOM = 1e-6
"""Share of the least air that is left at least."""


def oil_area(inner_mm: float, rod_mm: float = 0.0) -> float:
    """Area of the oil's surface in a leg.

    .. math:: A = \\pi/4 (ID^2 - d^2)

    Args:
        inner_mm: inner diameter of the tube [mm], > 0.
        rod_mm: diameter of damper rod or cartridge that stands in the surface [mm], >= 0 and less than that.

    Returns:
        Area [mm²].

    Raises:
        OutOfRange: a diameter out of range.

    Source:
        Geometry.

    >>> round(oil_area(39.0), 1), round(oil_area(39.0, 12.0), 1)
    (1194.6, 1081.5)
    """
    rod = circle_area(rod_mm) if not_negative("diameter of the damper rod", rod_mm) else 0.0
    return positive("area around the damper rod", circle_area(inner_mm) - rod)


def oil_for_gap(change_mm: float, area_mm2: float) -> float:
    """Oil that a change of the air gap takes.

    .. math:: \\Delta V = -A \\Delta h

    Args:
        change_mm: change of the air gap [mm]; below 0 for a smaller one.
        area_mm2: area of the oil's surface [mm²], > 0.

    Returns:
        Oil to add [ml]; below 0 to take out.

    Raises:
        OutOfRange: an argument out of range.

    Source:
        Geometry.

    >>> oil_for_gap(-5.0, 1200.0)
    6.0
    """
    return -finite("change of the air gap", change_mm) * positive("area of the oil", area_mm2) / ML_MM3


def with_gap_change(fork: Fork, change_mm: float, area_mm2: float, exponent: float | None = None) -> Fork:
    """The fork with another air gap in every leg that holds trapped air.

    Args:
        fork: the fork.
        change_mm: change of the air gap [mm].
        area_mm2: area of the oil's surface [mm²], > 0.
        exponent: of the trapped air; None: as it is.

    Returns:
        The fork after.

    Raises:
        OutOfRange: no air would be left.

    Source:
        Definition.
    """
    more = finite("change of the air gap", change_mm) * positive("area of the oil", area_mm2)
    legs = (leg if leg.air is None else replace(leg, air=_with_more(leg.air, more, exponent)) for leg in fork.legs)
    return Fork(tuple(legs), fork.travel_mm)


def _with_more(air: TrappedAir, more_mm3: float, exponent: float | None) -> TrappedAir:
    n = air.exponent if exponent is None else exponent
    return replace(air, least_volume_mm3=air.least_volume_mm3 + more_mm3, exponent=n)


def gap_change_for(fork: Fork, x_mm: float, wanted_n: float, area_mm2: float, exponent: float) -> float | None:
    """Change of the air gap, alike in all legs with trapped air, for a wanted force at a travel.

    Args:
        fork: the fork.
        x_mm: the travel [mm], up to full travel.
        wanted_n: force along the fork wanted there [N].
        area_mm2: area of the oil's surface [mm²], > 0.
        exponent: of the trapped air, 1 (slow) to 1.4 (fast).

    Returns:
        Change [mm], below 0 for a smaller gap; None where none gives that force, or no leg holds air.

    Raises:
        OutOfRange: travel or area out of range.

    Source:
        fork_force solved for the least volume of the air.
    """
    airs = [leg.air for leg in fork.legs if leg.air is not None]
    if not 0.0 <= x_mm <= fork.travel_mm:
        raise OutOfRange("compression", x_mm, f"from 0 to full travel, {fork.travel_mm:g}")
    if not airs:
        return None
    least = min(air.least_volume_mm3 for air in airs)
    smallest = -least * (1.0 - _ROOM) / positive("area of the oil", area_mm2)

    without_air = Fork(tuple(replace(leg, air=None) for leg in fork.legs), fork.travel_mm)
    by_air_n = wanted_n - force_and_rate(without_air, x_mm)[0]

    def excess_n(change_mm: float) -> float:
        changed = (_with_more(air, change_mm * area_mm2, exponent) for air in airs)
        return sum(air_force(air, fork.travel_mm, x_mm) for air in changed) - by_air_n

    step = 1.0
    slope = min((excess_n(step) - excess_n(0.0)) / step, -1e-6)
    found = falling_root(excess_n, -excess_n(0.0) / slope, slope, low=smallest, high=LARGEST_CHANGE_MM)
    return found if found is not None and abs(excess_n(found)) <= 1e-6 * max(1.0, abs(wanted_n)) else None
