"""A rear linkage by its points: how swingarm, rocker and link move, and what the shock does.

Side view, x forward and z up, from the swingarm pivot [mm]. The points are read in one position of the swingarm; from
there it is turned about its pivot, and rocker and link follow on the side of each other on which they were read.
"""

from __future__ import annotations

import cmath
import math
from typing import Literal

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.limits import finite, positive
from stanchion.mechanics.solve import bracketed_root

Point = tuple[float, float]
"""Forward and up from the swingarm pivot [mm]."""
Stopped = Literal["", "link", "shock", "arm"]
"""What keeps the linkage from moving on: link and rocker lie in one line, so that the link reaches no further; the
shock no longer gets shorter; the swingarm would stand upright. Empty: nothing."""

_STEP_RAD = math.radians(0.5)
"""How far the swingarm is turned at a time when a position is looked for."""
_MOST_RAD = math.radians(75.0)
_IN_LINE = 1e-12
"""Square of the sine between rocker and link's far end from which they count as in one line."""
_UPRIGHT = 0.999
"""Sine of the swingarm's angle from which it counts as upright."""


@record(kw_only=True)
class Rocker:
    """A rocker, and the link that turns it, in the position read."""

    centre: Point
    """What it turns about."""
    link_end: Point
    """Where the link joins it."""
    link_far: Point
    """The link's other end: on the swingarm, or on the frame where the rocker sits on the swingarm."""
    on_arm: bool = False
    """Whether it turns about a point of the swingarm; else about one of the frame."""
    link_mm: float | None = None
    """Length of the link as fitted, between centres; None: as the points have it."""


@record(kw_only=True)
class LinkagePoints:
    """The points of a linkage in the position in which they were read."""

    axle: Point
    shock_moved: Point
    """The end of the shock that rocker or swingarm moves."""
    shock_held: Point
    """Its other end."""
    held_on_arm: bool = False
    """Whether that other end is on the swingarm; else on the frame."""
    rocker: Rocker | None = None
    """None: the shock stands straight between swingarm and frame."""

    def __post_init__(self) -> None:
        """Check that the points can be those of a linkage."""
        for name in ("axle", "shock_moved", "shock_held"):
            for value in getattr(self, name):
                finite(f"position of {name}", value)
        if not self.axle[0] < 0.0:
            raise OutOfRange("axle, forward of the swingarm pivot", self.axle[0], "below 0: the axle is behind it")
        if self.rocker is None:
            return
        centre, end, far = (complex(*p) for p in (self.rocker.centre, self.rocker.link_end, self.rocker.link_far))
        positive("length of the rocker", abs(end - centre))
        positive("length of the link", abs(end - far) if self.rocker.link_mm is None else self.rocker.link_mm)

    @property
    def link_mm(self) -> float | None:
        """Length of the link between its centres as the points have it [mm]; None where there is no link."""
        return None if self.rocker is None else math.dist(self.rocker.link_end, self.rocker.link_far)


@record(kw_only=True)
class LinkagePosition:
    """Where the parts of a linkage are with the swingarm turned."""

    axle: Point
    shock_moved: Point
    shock_held: Point
    link_end: Point | None
    link_far: Point | None
    rocker_centre: Point | None
    shock_mm: float
    """Length of the shock between its eyes [mm]."""
    motion_ratio: float
    """By how much the shock gets shorter for 1 mm of wheel travel."""
    arm_deg: float
    """Angle of the swingarm, from the pivot to the axle, below horizontal [degrees]."""


def position_at(points: LinkagePoints, turn_rad: float) -> LinkagePosition | None:
    """Where the linkage is with the swingarm turned from where it was read.

    The link's end on the rocker lies where two circles meet: that of the rocker about its centre, and that of the link
    about its far end. Of the two places the one on the side read is taken. The motion ratio follows from velocities.

    .. math:: m = -\\frac{dL / d\\varphi}{dz / d\\varphi}

    Args:
        points: the points as read.
        turn_rad: by how much, positive where the axle rises [rad].

    Returns:
        The position; None where the link does not reach, or lies in one line with the rocker.

    Raises:
        OutOfRange: an angle that is no ordinary number.

    Source:
        Plane kinematics of rigid bodies.

    >>> straight = LinkagePoints(axle=(-550.0, 0.0), shock_moved=(-200.0, 0.0), shock_held=(-120.0, 330.0))
    >>> found = position_at(straight, 0.0)  # exact check by another method, see tests/mechanics
    >>> round(found.shock_mm, 6), round(found.motion_ratio, 8)
    (339.558537, 0.35340004)
    """
    turn = cmath.exp(complex(0.0, -finite("angle of the swingarm", turn_rad)))
    axle = complex(*points.axle) * turn
    moved, moved_speed = complex(*points.shock_moved), 0j
    link_end = link_far = centre = None
    if points.rocker is None:
        moved *= turn
        moved_speed = _with_arm(moved)
    else:
        rocker = points.rocker
        read_centre, read_end, read_far = (complex(*p) for p in (rocker.centre, rocker.link_end, rocker.link_far))
        centre, far = (read_centre * turn, read_far) if rocker.on_arm else (read_centre, read_far * turn)
        found = _link_end(rocker, centre, far)
        if found is None:
            return None
        end = found
        centre_speed, far_speed = (_with_arm(centre), 0j) if rocker.on_arm else (0j, _with_arm(far))
        spin = _dot(end - far, far_speed - centre_speed) / _dot(end - far, 1j * (end - centre))
        moved = centre + (moved - read_centre) * (end - centre) / (read_end - read_centre)
        moved_speed = centre_speed + 1j * spin * (moved - centre)
        link_end, link_far = end, far
    held, held_speed = complex(*points.shock_held), 0j
    if points.held_on_arm:
        held *= turn
        held_speed = _with_arm(held)
    length = abs(moved - held)
    if length == 0.0 or not axle.real < 0.0:
        return None
    return LinkagePosition(
        axle=_point(axle),
        shock_moved=_point(moved),
        shock_held=_point(held),
        link_end=None if link_end is None else _point(link_end),
        link_far=None if link_far is None else _point(link_far),
        rocker_centre=None if centre is None else _point(centre),
        shock_mm=length,
        motion_ratio=-_dot(moved - held, moved_speed - held_speed) / length / _with_arm(axle).imag,
        arm_deg=math.degrees(math.atan2(-axle.imag, -axle.real)),
    )


def _with_arm(at: complex) -> complex:
    """Velocity of a point of the swingarm that turns at 1 rad/s, axle upwards."""
    return -1j * at


def _dot(a: complex, b: complex) -> float:
    return a.real * b.real + a.imag * b.imag


def _point(at: complex) -> Point:
    return at.real, at.imag


def _link_end(rocker: Rocker, centre: complex, far: complex) -> complex | None:
    """The link's end on the rocker with these places of the rocker's centre and the link's far end: on the side of the
    line between them on which it was read. None where the two circles do not meet."""
    read_centre, read_end, read_far = (complex(*p) for p in (rocker.centre, rocker.link_end, rocker.link_far))
    radius, apart = abs(read_end - read_centre), abs(far - centre)
    link = abs(read_end - read_far) if rocker.link_mm is None else rocker.link_mm
    if apart == 0.0:
        return None
    along = (radius * radius - link * link + apart * apart) / (2.0 * apart)
    across = radius * radius - along * along
    if across <= _IN_LINE * radius * radius:
        return None
    side = ((read_end - read_centre) * (read_far - read_centre).conjugate()).imag
    return centre + (far - centre) / apart * complex(along, math.copysign(math.sqrt(across), side))


@record
class Extended:
    """Where the swingarm stands with the shock at its full length."""

    turn_rad: float
    """From the position read, positive upwards."""
    stopped: Stopped = ""
    """What is in the way of that position; empty: it is reached."""
    arm_deg: float | None = None
    """Angle of the swingarm below horizontal there, or where it is stopped [degrees]."""


def extended_position(points: LinkagePoints, shock_mm: float | None) -> Extended:
    """Where the swingarm stands once the shock has a given length.

    Args:
        points: the points as read.
        shock_mm: length of the shock between its eyes, extended [mm], > 0; None: the points were read so.

    Returns:
        The position nearest to the one read, or what is in the way of it.

    Raises:
        OutOfRange: a length that is not above 0.

    Source:
        Geometry.

    >>> straight = LinkagePoints(axle=(-550.0, 0.0), shock_moved=(-200.0, 0.0), shock_held=(-120.0, 330.0))
    >>> round(extended_position(straight, 379.200815).arm_deg, 6)
    12.0
    """
    read = position_at(points, 0.0)
    if read is None:
        return Extended(0.0, "link")
    if shock_mm is None:
        return Extended(0.0, "", read.arm_deg)
    wanted = positive("length of the shock", shock_mm)
    way = 1.0 if read.shock_mm > wanted else -1.0
    turn, last = 0.0, read
    while (last.shock_mm - wanted) * way > 0.0:
        further = turn + way * _STEP_RAD
        found = position_at(points, further)
        stopped: Stopped = ""
        if found is None:
            stopped = "link" if points.rocker is not None else "arm"
        elif found.motion_ratio <= 0.0:
            stopped = "shock"
        elif abs(further) > _MOST_RAD or abs(math.sin(math.radians(found.arm_deg))) > _UPRIGHT:
            stopped = "arm"
        if found is None or stopped:
            return Extended(turn, stopped, last.arm_deg)
        turn, last = further, found
    if last.shock_mm == wanted:
        return Extended(turn, "", last.arm_deg)
    turn = bracketed_root(lambda t: _shock_at(points, t) - wanted, turn - way * _STEP_RAD, turn)
    return Extended(turn, "", read.arm_deg - math.degrees(turn))


def _shock_at(points: LinkagePoints, turn_rad: float) -> float:
    found = position_at(points, turn_rad)
    if found is None:
        raise OutOfRange("angle of the swingarm", math.degrees(turn_rad), "such that the link reaches")
    return found.shock_mm


def turn_for_travel(points: LinkagePoints, extended: Extended, wheel_mm: float) -> float | None:
    """Angle by which the swingarm is turned from where it was read, at one wheel travel.

    .. math:: a \\sin\\beta = a \\sin\\beta_0 - z

    Args:
        points: the points as read.
        extended: where the swingarm stands at full extension.
        wheel_mm: vertical wheel travel z from there [mm].

    Returns:
        The angle [rad], positive where the axle rises; None where the swingarm would be upright.

    Raises:
        OutOfRange: a travel that is no ordinary number.

    Source:
        Geometry.

    >>> straight = LinkagePoints(axle=(-550.0, 0.0), shock_moved=(-200.0, 0.0), shock_held=(-120.0, 330.0))
    >>> round(math.degrees(turn_for_travel(straight, extended_position(straight, 379.200815), 114.351430)), 6)
    0.0
    """
    arm_mm = math.hypot(*points.axle)
    below = math.atan2(-points.axle[1], -points.axle[0])
    sine = math.sin(below - extended.turn_rad) - finite("wheel travel", wheel_mm) / arm_mm
    return None if abs(sine) > _UPRIGHT else below - math.asin(sine)


def position_at_travel(
    points: LinkagePoints, extended: Extended, wheel_mm: float
) -> tuple[LinkagePosition | None, Stopped]:
    """Where the linkage is at one wheel travel, or what keeps it from there.

    Args:
        points: the points as read.
        extended: where the swingarm stands at full extension.
        wheel_mm: vertical wheel travel from there [mm].

    Returns:
        The position, or None with what is in the way.

    Raises:
        OutOfRange: a travel that is no ordinary number.

    Source:
        Geometry.

    >>> straight = LinkagePoints(axle=(-550.0, 0.0), shock_moved=(-200.0, 0.0), shock_held=(-120.0, 330.0))
    >>> position_at_travel(straight, extended_position(straight, 379.200815), 700.0)
    (None, 'arm')
    """
    turn = turn_for_travel(points, extended, wheel_mm)
    if turn is None:
        return None, "arm"
    found = position_at(points, turn)
    if found is None:
        return None, "link" if points.rocker is not None else "arm"
    return (None, "shock") if found.motion_ratio <= 0.0 else (found, "")
