"""The shock and what joins it to the wheel."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.adjusters import Adjuster, Clicker
from stanchion.job.spec import Kind, number, part, rows
from stanchion.job.springs import Spring, TopOut


@record(kw_only=True)
class LinkagePair:
    """One measured point of the linkage, spring off."""

    wheel_mm: float | None = number(Kind.LENGTH, 0, 500, 10)
    """Vertical wheel travel from full extension [mm]."""
    shock_mm: float | None = number(Kind.LENGTH, 0, 300, 5)
    """Shock travel there [mm]."""


@record(kw_only=True)
class Rear:
    """The rear shock and what joins it to the wheel."""

    spring: Spring = part(Spring)
    """The shock spring."""
    collar: Adjuster = part(Adjuster)
    """The threaded ring (or other adjuster) that sets preload."""
    stroke_mm: float | None = number(Kind.LENGTH, 10, 300, 1)
    """Full stroke of the shock [mm]."""
    eye_to_eye_mm: float | None = number(Kind.LENGTH, 100, 700, 1)
    """Length between the mounting eyes, extended [mm]."""
    length_adjuster_mm: float | None = number(Kind.LENGTH, -20, 50, 0.5)
    """Shock length adjuster, mm added from its datum [mm]."""
    shaft_mm: float | None = number(Kind.LENGTH, 4, 40, 1)
    """Diameter of the shock shaft [mm]."""
    gas_pressure_bar: float | None = number(Kind.PRESSURE, 0, 40, 0.5)
    """Gas pressure above ambient [bar]."""
    packers_mm: float | None = number(Kind.LENGTH, 0, 60, 1)
    """Rigid packers on the shock shaft [mm]; None: none."""
    bump_rubber_mm: float | None = number(Kind.LENGTH, 0, 60, 1)
    """Free height of the bump rubber on the shaft [mm]."""
    top_out: TopOut = part(TopOut)
    """A top-out spring inside the shock, which few have."""
    wheel_travel_mm: float | None = number(Kind.LENGTH, 20, 500, 5)
    """Full vertical travel of the wheel [mm]."""
    motion_ratio: float | None = number(Kind.RATIO, 0.1, 2, 0.01)
    """Shock travel over wheel travel as one number, where pairs were not measured."""
    linkage: tuple[LinkagePair, ...] = rows(LinkagePair, 12)
    """Measured pairs; they win over the one number."""
    low_speed_compression: Clicker = part(Clicker)
    """Low-speed compression damping."""
    high_speed_compression: Clicker = part(Clicker)
    """High-speed compression damping."""
    rebound: Clicker = part(Clicker)
    """Rebound damping."""
