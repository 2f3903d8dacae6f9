"""How the columns of a dynamometer's file are to be read: which is which, in what unit, with what sign."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.spec import Kind, choice, number, text

SPEED_UNITS = ("mm/s", "m/s", "in/s")
FORCE_UNITS = ("N", "kgf", "lbf")
TEMPERATURE_UNITS = ("°C", "°F")
COLUMN_NAMES = ("speed", "force", "rebound_force", "position", "stroke", "temperature")
"""The fields that name a column: by its heading, or by its number from 1; empty: there is none."""


@record(kw_only=True)
class DamperColumns:
    """How a file is read, as it is kept for the other files of its folder."""

    damper: str = choice("rear", "front", "left", "right")
    """Which damper was measured."""
    turned: str = choice("rebound", "compression", "high_speed_compression")
    """The adjuster whose positions the file gives."""
    speed: str = text(60)
    """Column of the shaft's speed."""
    speed_unit: str = choice(*SPEED_UNITS)
    """Unit of it."""
    force: str = text(60)
    """Column of the force; of compression alone where rebound has a column of its own."""
    force_unit: str = choice(*FORCE_UNITS)
    """Unit of it."""
    stroke_by: str = choice("speed_below", "speed_above", "force_sign", "two_columns")
    """What tells rebound: speed below 0, speed above 0, the sign of the force, or a column of its own."""
    signs: str = choice("plus_minus", "minus_plus", "both_plus")
    """Signs of the force in compression and in rebound."""
    rebound_force: str = text(60)
    """Column of the force in rebound, where it has its own."""
    position: str = text(60)
    """Column of the adjuster's position."""
    stroke: str = text(60)
    """Column of the stroke driven, in mm."""
    temperature: str = text(60)
    """Column of the damper's temperature."""
    temperature_unit: str = choice(*TEMPERATURE_UNITS)
    """Unit of it."""
    position_all: float | None = number(Kind.COUNT, 0, 200, 1)
    """Position of the adjuster in the whole file, where it has no column for it."""
