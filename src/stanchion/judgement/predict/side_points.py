"""The machine from the side as points [mm], worked out from the figures of a state.

One set of points for every drawing: ui/side_drawing.py and report/side_svg.py only put it to their scale.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from stanchion.judgement.results.side import Point, SidePart
from stanchion.mechanics.geometry import Baseline, ground_trail
from stanchion.mechanics.limits import finite, positive
from stanchion.mechanics.linkage_points import LinkagePosition
from stanchion.mechanics.swingarm import Arm


def side_points(stands: Baseline, leg_mm: float, centre: Point | None = None) -> tuple[SidePart, ...]:
    """The parts of a machine that its steering geometry gives, both tyres on the ground.

    Args:
        stands: its geometry as it stands.
        leg_mm: length of the leg that is drawn, up from the axle [mm], > 0.
        centre: centre of mass, ahead of the rear contact and up [mm]; None: not known.

    Returns:
        Ground, wheels, steering axis from the ground to level with the top of the leg, leg, centre of mass.

    Raises:
        OutOfRange: a length that is not above 0, or not a number.

    Source:
        Geometry: the leg is parallel to the steering axis, the fork offset behind which lies the axis.

    >>> machine = Baseline(rake_deg=24.0, offset_mm=30.0, wheelbase_mm=1400.0, front_radius_mm=298.5,
    ...                    rear_radius_mm=315.0)
    >>> [(part.name, [round(x) for x, _ in part.points]) for part in side_points(machine, 500.0)][3:]
    [('axis', [1500, 1169]), ('leg', [1400, 1197])]
    """
    rake = math.radians(stands.rake_deg)
    sine, cosine = math.sin(rake), math.cos(rake)
    long = positive("length of the leg", leg_mm)
    front: Point = (stands.wheelbase_mm, stands.front_radius_mm)
    top: Point = (front[0] - long * sine, front[1] + long * cosine)
    foot = front[0] + ground_trail(stands.front_radius_mm, stands.rake_deg, stands.offset_mm)
    axis_top: Point = (top[0] - stands.offset_mm * cosine, top[1] - stands.offset_mm * sine)
    parts = [
        SidePart(
            name="ground", points=((-stands.rear_radius_mm, 0.0), (max(foot, front[0] + stands.front_radius_mm), 0.0))
        ),
        SidePart(name="rear_wheel", points=((0.0, stands.rear_radius_mm),), radius_mm=stands.rear_radius_mm),
        SidePart(name="front_wheel", points=(front,), radius_mm=stands.front_radius_mm),
        SidePart(name="axis", points=((foot, 0.0), axis_top)),
        SidePart(name="leg", points=(front, top)),
    ]
    if centre is not None:
        ahead, up = centre
        parts.append(SidePart(name="mass", points=((finite("mass ahead", ahead), finite("mass up", up)),)))
    return tuple(parts)


def arm_points(arm: Arm, axle_up_mm: float, pitch_radii_mm: tuple[float, float] | None) -> Iterator[SidePart]:
    """Swingarm and chain, the rear axle above where the rear tyre meets the ground.

    Args:
        arm: the swingarm as it stands.
        axle_up_mm: height of the rear axle [mm].
        pitch_radii_mm: radii of the pitch circles, front and rear [mm]; None: not known, so the chain is left out.

    Returns:
        Swingarm, both sprockets, upper and lower run of the chain.

    Raises:
        OutOfRange: never for a swingarm that could be made.

    Source:
        Geometry: a run is a common tangent of the pitch circles.

    >>> arm = Arm(length_mm=500.0, down_deg=0.0, sprocket_ahead_mm=100.0, sprocket_above_mm=0.0)
    >>> [part.points for part in arm_points(arm, 300.0, (40.0, 40.0))][0::3]
    [((0.0, 300.0), (500.0, 300.0)), ((0.0, 340.0), (600.0, 340.0))]
    """
    back, low = arm.axle
    pivot: Point = (-back, axle_up_mm - low)
    axle: Point = (0.0, axle_up_mm)
    yield SidePart(name="arm", points=(axle, pivot))
    if pitch_radii_mm is None:
        return
    front_mm, rear_mm = pitch_radii_mm
    sprocket: Point = (pivot[0] + arm.sprocket_ahead_mm, pivot[1] + arm.sprocket_above_mm)
    yield SidePart(name="sprocket", points=(axle,), radius_mm=rear_mm)
    yield SidePart(name="sprocket", points=(sprocket,), radius_mm=front_mm)
    apart = math.dist(axle, sprocket)
    if abs(rear_mm - front_mm) >= apart:
        return
    level, spread = math.atan2(sprocket[1] - axle[1], sprocket[0] - axle[0]), math.asin((rear_mm - front_mm) / apart)
    for side in (1.0, -1.0):
        up = level - side * spread
        across, above = -side * math.sin(up), side * math.cos(up)
        ends = ((axle, rear_mm), (sprocket, front_mm))
        yield SidePart(name="chain", points=tuple((x + of * across, z + of * above) for (x, z), of in ends))


def linkage_parts(at: LinkagePosition, pivot: Point, pitch_deg: float) -> Iterator[SidePart]:
    """Shock, rocker and link, where the linkage is in the frame that has pitched.

    Args:
        at: where the parts are, from the pivot, the frame as it stood when they were read [mm].
        pivot: the swingarm pivot in the drawing [mm].
        pitch_deg: tilt of the frame since [degrees]; positive is nose down.

    Returns:
        The shock between its eyes; rocker and link where there are any.

    Raises:
        OutOfRange: never.

    Source:
        Geometry: the frame turns about the pivot.

    >>> from stanchion.mechanics.linkage_points import LinkagePoints, position_at
    >>> straight = LinkagePoints(axle=(-550.0, 0.0), shock_moved=(-200.0, 0.0), shock_held=(-120.0, 330.0))
    >>> found = position_at(straight, 0.0)
    >>> [part.points for part in linkage_parts(found, (600.0, 400.0), 0.0)]
    [((400.0, 400.0), (480.0, 730.0))]
    """
    turn = math.radians(pitch_deg)

    def place(point: Point) -> Point:
        x, z = point
        return pivot[0] + x * math.cos(turn) + z * math.sin(turn), pivot[1] + z * math.cos(turn) - x * math.sin(turn)

    moved = place(at.shock_moved)
    yield SidePart(name="shock", points=(moved, place(at.shock_held)))
    if at.rocker_centre is not None and at.link_end is not None and at.link_far is not None:
        centre, end = place(at.rocker_centre), place(at.link_end)
        yield SidePart(name="rocker", points=(centre, end, moved, centre))
        yield SidePart(name="link", points=(end, place(at.link_far)))
