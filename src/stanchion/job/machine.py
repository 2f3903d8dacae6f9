"""The whole machine as measured: what the springs carry, and the steering geometry."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.spec import Kind, choice, number


@record(kw_only=True)
class Weights:
    """What the springs carry. Scale readings under each wheel win over masses and shares."""

    machine_kg: float | None = number(Kind.MASS, 30, 600, 1)
    """The machine, fuel as noted [kg]."""
    front_share_pct: float | None = number(Kind.SHARE, 20, 80, 0.5)
    """Share of the machine on the front wheel [%]."""
    rider_front_share_pct: float | None = number(Kind.SHARE, 5, 80, 1)
    """Share of the rider on the front wheel [%]."""
    front_unsprung_kg: float | None = number(Kind.MASS, 2, 60, 0.5)
    """Wheel, brakes and fork lowers [kg]."""
    rear_unsprung_kg: float | None = number(Kind.MASS, 2, 80, 0.5)
    """Wheel, brake, chain and what of the swingarm moves with it [kg]."""
    front_alone_kg: float | None = number(Kind.MASS, 10, 400, 0.5)
    """Scale under the front wheel, machine alone [kg]."""
    rear_alone_kg: float | None = number(Kind.MASS, 10, 400, 0.5)
    """Scale under the rear wheel, machine alone [kg]."""
    front_aboard_kg: float | None = number(Kind.MASS, 10, 500, 0.5)
    """Scale under the front wheel, rider aboard [kg]."""
    rear_aboard_kg: float | None = number(Kind.MASS, 10, 500, 0.5)
    """Scale under the rear wheel, rider aboard [kg]."""


@record(kw_only=True)
class Geometry:
    """Steering geometry as measured, and the state the machine was in then."""

    rake_deg: float | None = number(Kind.ANGLE, 5, 50, 0.1)
    """Rake, from vertical [degrees]."""
    offset_mm: float | None = number(Kind.LENGTH, -20, 150, 0.5)
    """Fork offset, square to the steering axis [mm]."""
    wheelbase_mm: float | None = number(Kind.LENGTH, 700, 2500, 1)
    """Between the axles [mm]."""
    front_radius_mm: float | None = number(Kind.LENGTH, 100, 500, 0.5)
    """Radius of the front tyre, loaded [mm]."""
    rear_radius_mm: float | None = number(Kind.LENGTH, 100, 500, 0.5)
    """Radius of the rear tyre, loaded [mm]."""
    measured: str = choice("extended", "static", "rider")
    """State in which it was measured: suspension extended, machine alone, rider aboard."""
    front_sag_mm: float | None = number(Kind.LENGTH, 0, 400, 1)
    """Front sag then, along the leg [mm]; 0 if extended."""
    rear_sag_mm: float | None = number(Kind.LENGTH, 0, 400, 1)
    """Rear sag then, at the wheel [mm]; 0 if extended."""
    fork_height_mm: float | None = number(Kind.LENGTH, -100, 200, 1)
    """Fork height then [mm]."""
    length_adjuster_mm: float | None = number(Kind.LENGTH, -20, 50, 0.5)
    """Shock length adjuster then [mm]."""
