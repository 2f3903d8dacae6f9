"""Where points of the machine lie as seen from the side, from how they were read: by two lengths, or in a photograph.

x forward and z up, from the swingarm pivot [mm]; the rear axle lies behind the pivot.
"""

from __future__ import annotations

import math

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.limits import finite, not_negative, positive

Point = tuple[float, float]
"""Forward and up from the swingarm pivot [mm]; in a photograph, right and down from its corner [pixels]."""


def axle_place(arm_mm: float, below_mm: float) -> Point:
    """Where the axle is.

    Args:
        arm_mm: from the pivot to the axle [mm], > 0.
        below_mm: axle below the pivot, level [mm]; negative: above.

    Returns:
        The axle.

    Raises:
        OutOfRange: no length, or an axle further below the pivot than the swingarm is long.

    Source:
        Geometry.

    >>> axle_place(500.0, 300.0)
    (-400.0, -300.0)
    """
    arm, below = positive("length of the swingarm", arm_mm), finite("height of the axle", below_mm)
    if not abs(below) < arm:
        raise OutOfRange("height of the axle", below, f"less than the length of the swingarm, {arm:g}")
    return -math.sqrt(arm * arm - below * below), -below


def by_two_lengths(axle: Point, from_pivot_mm: float, from_axle_mm: float, *, below: bool) -> Point:
    """A point from its distances to the swingarm pivot and to the axle.

    Args:
        axle: the axle, behind the pivot.
        from_pivot_mm: distance to the pivot [mm], >= 0.
        from_axle_mm: distance to the axle [mm], >= 0.
        below: whether it lies below the line from pivot to axle; else above.

    Returns:
        The point.

    Raises:
        OutOfRange: a negative length, or two that do not meet: together shorter than the swingarm, or one longer than
            the other and the swingarm together.

    Source:
        Two circles.

    >>> by_two_lengths((-500.0, 0.0), 300.0, 400.0, below=True)
    (-180.0, -240.0)
    """
    arm, near = math.hypot(*axle), not_negative("distance from the pivot", from_pivot_mm)
    far = not_negative("distance from the axle", from_axle_mm)
    along = (near * near - far * far + arm * arm) / (2.0 * positive("length of the swingarm", arm))
    across = near * near - along * along
    if across < 0.0:
        raise OutOfRange("distance from the axle", far, f"from {abs(arm - near):g} to {arm + near:g}")
    # The axle lies behind, so that a turn to the left from it leads downwards.
    turned = complex(along, math.sqrt(across) * (1.0 if below else -1.0)) * complex(*axle) / arm
    return turned.real, turned.imag


def in_photograph(at: Point, pivot: Point, axle: Point, arm_mm: float, below_mm: float | None = None) -> Point:
    """A point from a photograph taken square to the machine.

    The length of the swingarm gives the scale. The machine may look either way.

    Args:
        at: the point in the picture [pixels].
        pivot: the swingarm pivot in the picture [pixels].
        axle: the rear axle in the picture [pixels].
        arm_mm: from the pivot to the axle [mm], > 0.
        below_mm: axle below the pivot, level [mm]: the picture is turned so that it is; None: it was held level.

    Returns:
        The point [mm].

    Raises:
        OutOfRange: pivot and axle at one place or one above the other, or no length.

    Source:
        Similar figures.

    >>> in_photograph((700.0, 500.0), pivot=(600.0, 400.0), axle=(1100.0, 400.0), arm_mm=600.0)
    (-120.0, -120.0)
    """
    arm = _seen(axle, pivot)
    if arm.real == 0.0:
        raise OutOfRange("axle in the picture", axle[0], "to one side of the pivot")
    seen = _seen(at, pivot)
    if arm.real > 0.0:
        arm, seen = -arm.conjugate(), -seen.conjugate()
    stands = arm * positive("length of the swingarm", arm_mm) / abs(arm)
    if below_mm is not None:
        stands = complex(*axle_place(arm_mm, below_mm))
    place = seen * stands / arm
    return place.real, place.imag


def _seen(at: Point, pivot: Point) -> complex:
    return complex(finite("right in the picture", at[0] - pivot[0]), finite("down in the picture", pivot[1] - at[1]))
