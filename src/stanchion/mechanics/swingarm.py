"""A swingarm from the side: where axle and front sprocket lie from its pivot, and how it turns.

x forward, z up, the pivot at the origin. The axle lies behind the pivot.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.limits import finite, positive

_ROUNDS = 50
_SETTLED_DEG = 1e-10
"""Change of the angle in one round below which a line is found."""


@record(kw_only=True)
class ArmLine:
    """The line from pivot to axle in one position."""

    length_mm: float
    """From pivot to axle [mm], > 0."""
    down_deg: float
    """Below horizontal [degrees], -90 to 90."""

    def __post_init__(self) -> None:
        """Check the ranges of the fields."""
        positive("length of the swingarm", self.length_mm)
        _upright("angle of the swingarm", self.down_deg)


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
    def line(self) -> ArmLine:
        """The line from pivot to axle."""
        return ArmLine(length_mm=self.length_mm, down_deg=self.down_deg)

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


def lowered(line: ArmLine, lower_mm: float) -> ArmLine:
    """The line from pivot to axle once the axle lies lower in the frame, or the pivot higher.

    Args:
        line: the line before.
        lower_mm: how far [mm].

    Returns:
        The line, as long as before.

    Raises:
        OutOfRange: the swingarm does not reach there.

    Source:
        Geometry.

    >>> round(lowered(ArmLine(length_mm=560.0, down_deg=12.0), 10.0).down_deg, 3)
    13.048
    """
    lower = line.length_mm * math.sin(math.radians(line.down_deg)) + finite("change at the axle", lower_mm)
    return ArmLine(length_mm=line.length_mm, down_deg=arm_down(line.length_mm, lower))


def axle_back(line: ArmLine, lower_mm: float) -> float:
    """How far back the axle goes on its arc about the pivot while it goes lower in the frame.

    .. math:: b = L (\\cos\\theta' - \\cos\\theta), \\quad L \\sin\\theta' = L \\sin\\theta + \\delta

    Args:
        line: from pivot to axle before.
        lower_mm: how much lower the axle goes delta [mm].

    Returns:
        Back [mm]; below 0: forward.

    Raises:
        OutOfRange: the swingarm does not reach there.

    Source:
        Geometry.

    >>> round(axle_back(ArmLine(length_mm=560.0, down_deg=12.0), 20.0), 3)
    -4.636
    """
    before, then = (math.cos(math.radians(one.down_deg)) for one in (line, lowered(line, lower_mm)))
    return line.length_mm * (then - before)


def line_before(line: ArmLine, since: Callable[[ArmLine], tuple[float, float] | None]) -> ArmLine | None:
    """The line from pivot to axle before the frame tilted and the axle moved, both of which follow from that line.

    Args:
        line: the line now, below level ground.
        since: tilt of the frame [degrees], nose down, and how much lower the axle went [mm], by the line before; None
            where they are not known.

    Returns:
        The line before; None where it is not known, or where it does not settle.

    Raises:
        OutOfRange: the swingarm does not reach there.

    Source:
        Geometry, repeated until the line changes no more.

    >>> round(line_before(ArmLine(length_mm=560.0, down_deg=12.0), lambda before: (1.0, 10.0)).down_deg, 3)
    11.952
    """
    before = line
    for _ in range(_ROUNDS):
        moves = since(before)
        if moves is None:
            return None
        pitch_deg, lower_mm = moves
        found = lowered(replace(line, down_deg=line.down_deg + finite("tilt", pitch_deg)), -lower_mm)
        if math.isclose(found.down_deg, before.down_deg, abs_tol=_SETTLED_DEG):
            return found
        before = found
    return None


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
    line = lowered(arm.line, axle_lower_mm)
    turn = math.radians(finite("tilt", pitch_deg))
    ahead, above = arm.sprocket_ahead_mm, arm.sprocket_above_mm
    return Arm(
        length_mm=arm.length_mm,
        down_deg=line.down_deg - pitch_deg,
        sprocket_ahead_mm=ahead * math.cos(turn) + above * math.sin(turn),
        sprocket_above_mm=above * math.cos(turn) - ahead * math.sin(turn),
    )


def _upright(name: str, angle_deg: float) -> None:
    if not -90.0 < angle_deg < 90.0:
        raise OutOfRange(name, angle_deg, "between -90 and 90")
