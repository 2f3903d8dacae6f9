"""A swingarm from the side: where axle and front sprocket lie from its pivot, and how it turns.

x forward, z up, the pivot at the origin. The axle lies behind the pivot.
"""

from __future__ import annotations

import math

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.limits import finite, positive


@record(kw_only=True)
class Arm:
    """A swingarm in one position, with the front sprocket, which does not move with it."""

    length_mm: float
    """From pivot to axle [mm], > 0."""
    down_deg: float
    """The line from pivot to axle, below horizontal [degrees], -90 to 90."""
    sprocket_ahead_mm: float
    """Centre of the front sprocket ahead of the pivot [mm]."""
    sprocket_above_mm: float
    """The same, above the pivot [mm]."""

    def __post_init__(self) -> None:
        """Check the ranges of the fields."""
        positive("length of the swingarm", self.length_mm)
        _upright("angle of the swingarm", self.down_deg)
        finite("front sprocket ahead of the pivot", self.sprocket_ahead_mm)
        finite("front sprocket above the pivot", self.sprocket_above_mm)

    @property
    def axle(self) -> tuple[float, float]:
        """Where the axle lies from the pivot [mm]."""
        down = math.radians(self.down_deg)
        return -self.length_mm * math.cos(down), -self.length_mm * math.sin(down)


def arm_down(length_mm: float, lower_mm: float) -> float:
    """Angle of a swingarm whose axle lies so far below its pivot.

    .. math:: \\sin\\theta = h / L

    Args:
        length_mm: from pivot to axle L [mm], > 0.
        lower_mm: the axle below the pivot h [mm], between -L and L.

    Returns:
        Below horizontal [degrees].

    Raises:
        OutOfRange: no swingarm of that length reaches so far down or up.

    Source:
        Geometry.

    >>> round(arm_down(600.0, 300.0), 6)
    30.0
    """
    share = finite("height of the pivot above the axle", lower_mm) / positive("length of the swingarm", length_mm)
    if not -1.0 < share < 1.0:
        raise OutOfRange("height of the pivot above the axle", lower_mm, f"less than the swingarm's {length_mm:g}")
    return math.degrees(math.asin(share))


def moved(arm: Arm, *, axle_lower_mm: float = 0.0, pitch_deg: float = 0.0) -> Arm:
    """The swingarm after the axle has moved in the frame and the frame has tilted.

    Args:
        arm: the swingarm before.
        axle_lower_mm: the axle lower in the frame, square to the ground before [mm].
        pitch_deg: tilt of the frame since [degrees]; positive is nose down.

    Returns:
        The swingarm, its axes level again.

    Raises:
        OutOfRange: the swingarm does not reach there.

    Source:
        Geometry.

    >>> arm = Arm(length_mm=560.0, down_deg=12.0, sprocket_ahead_mm=55.0, sprocket_above_mm=12.0)
    >>> round(moved(arm, axle_lower_mm=10.0).down_deg, 3), round(moved(arm, pitch_deg=1.0).down_deg, 3)
    (13.048, 11.0)
    """
    lower = arm.length_mm * math.sin(math.radians(arm.down_deg)) + finite("change at the axle", axle_lower_mm)
    turn = math.radians(finite("tilt", pitch_deg))
    ahead, above = arm.sprocket_ahead_mm, arm.sprocket_above_mm
    return Arm(
        length_mm=arm.length_mm,
        down_deg=arm_down(arm.length_mm, lower) - pitch_deg,
        sprocket_ahead_mm=ahead * math.cos(turn) + above * math.sin(turn),
        sprocket_above_mm=above * math.cos(turn) - ahead * math.sin(turn),
    )


def _upright(name: str, angle_deg: float) -> None:
    if not -90.0 < angle_deg < 90.0:
        raise OutOfRange(name, angle_deg, "between -90 and 90")
