"""The machine from the side as points [mm], worked out from the figures of a state.

One set of points for every drawing: ui/side_drawing.py and report/side_svg.py only put it to their scale.
"""

from __future__ import annotations

import math

from stanchion.judgement.results.side import Point, SidePart
from stanchion.mechanics.geometry import Baseline, ground_trail
from stanchion.mechanics.limits import finite, positive


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
