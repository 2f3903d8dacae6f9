"""What the calibration of a scale gives."""

from __future__ import annotations

from stanchion.base.record import record


@record(kw_only=True)
class CalibrationResult:
    """How far a scale reads off over its calibrated range."""

    at: tuple[tuple[float, float, float], ...]
    """A reading, by how much it is too high, and the half-width of the interval that holds about 95 % [kg]; at the
    lowest and the highest reading."""
    deviation_kg: float
    """Standard deviation of the readings about the line [kg]."""
