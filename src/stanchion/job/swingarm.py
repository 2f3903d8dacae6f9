"""Where swingarm and front sprocket lie in the machine, as tape, plumb line or angle gauge give it; and its chain.

Seen from the side, in millimetres: x forward, z up, the swingarm pivot at the origin. Teeth and the mark of the axle
are in upkeep.py, for they change with the gearing; the tyre's radius is in the geometry.
"""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.spec import Kind, choice, number


@record(kw_only=True)
class Swingarm:
    """The swingarm and the front sprocket as measured, the machine upright on both wheels on level ground."""

    pivot_to_axle_mm: float | None = number(Kind.LENGTH, 200, 1000, 1)
    """From the centre of the pivot to the centre of the rear axle [mm]."""
    pivot_up_mm: float | None = number(Kind.LENGTH, 100, 900, 1)
    """Centre of the pivot above the ground [mm]."""
    arm_down_deg: float | None = number(Kind.ANGLE, -30, 45, 0.1)
    """Angle of the line from pivot to axle below horizontal [degrees]; not used where the pivot's height is known."""
    sprocket_up_mm: float | None = number(Kind.LENGTH, 100, 900, 1)
    """Centre of the front sprocket above the ground [mm]."""
    sprocket_ahead_mm: float | None = number(Kind.LENGTH, -100, 400, 1)
    """Centre of the front sprocket ahead of the pivot, level [mm]; below 0: behind it."""
    measured: str = choice("geometry", "static", "rider")
    """State in which it was measured: as the machine stood when the geometry was, machine alone, rider aboard."""
    front_sag_mm: float | None = number(Kind.LENGTH, 0, 400, 1)
    """Front sag then, along the leg [mm]; not used where it was measured with the geometry, nor are the next ones."""
    rear_sag_mm: float | None = number(Kind.LENGTH, 0, 400, 1)
    """Rear sag then, at the wheel [mm]."""
    fork_height_mm: float | None = number(Kind.LENGTH, -100, 200, 1)
    """Fork height then [mm]."""
    length_adjuster_mm: float | None = number(Kind.LENGTH, -20, 50, 0.5)
    """Shock length adjuster then [mm]."""


@record(kw_only=True)
class Drive:
    """The chain, how far the axle can be moved for it, and the acceleration to look at."""

    chain: str = choice("unknown", "415", "420", "428", "520", "525", "530", "630")
    """Size of the chain as it is stamped; the first figure is its pitch in eighths of an inch."""
    links: float | None = number(Kind.COUNT, 40, 250, 2)
    """Links of the chain, inner and outer ones counted together."""
    axle_forward_mm: float | None = number(Kind.LENGTH, 0, 200, 1)
    """How far the axle could be moved forward in its slots from where it stands [mm]."""
    axle_back_mm: float | None = number(Kind.LENGTH, 0, 200, 1)
    """How far it could be moved back [mm]."""
    acceleration_g: float | None = number(Kind.RATIO, 0.1, 1.5, 0.05)
    """Steady acceleration to look at [g]; None: the usual one of the use."""
