"""A machine from the side: its parts as points [mm], and how it stands in one state.

x runs forward from where the rear tyre meets the ground, z up from the ground.
"""

from __future__ import annotations

from typing import Literal

from stanchion.base.record import record
from stanchion.judgement.results.figures import Figure

Standing = Literal["extended", "static", "rider", "brakes", "gas"]
"""Wheels hanging, machine alone, rider aboard, on the brakes, on the gas."""
RIDING: tuple[Standing, ...] = ("brakes", "gas")
"""The states in which it is ridden."""


Point = tuple[float, float]
PartName = Literal[
    "ground", "rear_wheel", "front_wheel", "axis", "leg", "mass", "arm", "sprocket", "chain", "rocker", "link", "shock"
]


@record(kw_only=True)
class SidePart:
    """A part of the machine as a line through points, or as a circle about one."""

    name: PartName
    points: tuple[Point, ...]
    radius_mm: float = 0.0
    """Of a circle about the only point; 0: a line, or a point by itself."""


@record(kw_only=True)
class SideState:
    """How a machine stands in one state."""

    state: Standing
    at_g: Figure = Figure()
    """Braking, or driving, that it is given for."""
    as_ridden: bool = False
    """Whether that is what the fork markers of the runs stand for."""
    marks: tuple[str, ...] = ()
    """Where a sag is old or in doubt: the codes of GeometryState."""
    rake_deg: Figure
    trail_mm: Figure
    wheelbase_mm: Figure
    fork_used_mm: Figure
    """Fork travel from the hanging wheel."""
    rear_used_mm: Figure
    """Rear wheel travel from the hanging wheel."""
    front_kg: Figure
    """Load on the front wheel, as a scale would show it."""
    rear_kg: Figure
    ahead_mm: Figure
    """Centre of mass ahead of the rear contact."""
    height_mm: Figure

    parts: tuple[SidePart, ...] = ()
    """What is known of it as points; none where it cannot be drawn."""


def extent(parts: tuple[SidePart, ...]) -> tuple[float, float, float, float]:
    """The least and the largest x, then the least and the largest z, of all parts.

    Args:
        parts: one part at least.

    Returns:
        Left, right, bottom, top [mm].

    Raises:
        ValueError: no part.

    Source:
        Definition.

    >>> extent((SidePart(name="front_wheel", points=((100.0, 300.0),), radius_mm=300.0),))
    (-200.0, 400.0, 0.0, 600.0)
    """
    across = [x + by for part in parts for x, _ in part.points for by in (-part.radius_mm, part.radius_mm)]
    up = [z + by for part in parts for _, z in part.points for by in (-part.radius_mm, part.radius_mm)]
    return min(across), max(across), min(up), max(up)
