"""How well readings repeat: the shapes of what a study gives."""

from __future__ import annotations

from stanchion.base.record import record


@record(kw_only=True)
class OwnReading:
    """How sure one reading of the technician is."""

    standard_mm: float
    """Standard uncertainty [mm]."""
    freedom: float
    """Degrees of freedom."""
    expanded_mm: float
    """Half-width of the interval that holds about 95 % [mm]."""


@record(kw_only=True)
class StudyResult:
    """What one study gives."""

    one: OwnReading
    repeats_mm: float
    """Standard deviation of one person's repeats [mm]."""
    repeats_freedom: float
    """Its degrees of freedom."""
    between_people_mm: float
    """Standard deviation between the people, everywhere alike [mm]."""
    by_place_mm: float | None
    """Standard deviation of what they differ by at one place only [mm]; None where chance explains it."""
    anybody_mm: float
    """Standard deviation of a reading of either [mm]."""
