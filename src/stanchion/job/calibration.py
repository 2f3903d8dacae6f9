"""How scales were calibrated: what they read under known masses. Their readings stay as they were read."""

from __future__ import annotations

import datetime as dt
from typing import Literal, get_args

from stanchion.base.record import record
from stanchion.job.places import End
from stanchion.job.spec import Kind, day, number, part, rows, text

Scale = Literal["front", "rear", "both"]
"""The scale under the front wheel, that under the rear one, or one scale used for both."""
SCALES: tuple[Scale, ...] = get_args(Scale)
LEAST_MASSES, MOST_MASSES = 3, 12
"""How many known masses a calibration needs, and may have."""


@record(kw_only=True)
class KnownMass:
    """What a scale reads under one known mass."""

    true_kg: float | None = number(Kind.MASS, 0, 500, 1)
    """The known mass [kg]."""
    read_kg: float | None = number(Kind.MASS, 0, 500, 0.5)
    """What the scale reads [kg]."""


@record(kw_only=True)
class ScaleCalibration:
    """One calibration of one scale."""

    called: str = text(60)
    """Which scale it is, as the workshop calls it."""
    calibrated_on: dt.date | None = day()
    """The day."""
    masses: tuple[KnownMass, ...] = rows(KnownMass, MOST_MASSES)
    """What it read under known masses; none: it is not calibrated."""

    @property
    def pairs(self) -> tuple[tuple[float, float], ...]:
        """Known mass and reading [kg], where both are recorded."""
        return tuple((m.true_kg, m.read_kg) for m in self.masses if m.true_kg is not None and m.read_kg is not None)


@record(kw_only=True)
class Calibration:
    """The calibrations that readings are corrected by."""

    front: ScaleCalibration = part(ScaleCalibration)
    """Of the scale under the front wheel."""
    rear: ScaleCalibration = part(ScaleCalibration)
    """Of the scale under the rear wheel."""
    both: ScaleCalibration = part(ScaleCalibration)
    """Of one scale that is used for both wheels, where that of a wheel has none of its own."""

    def of(self, scale: Scale) -> ScaleCalibration:
        """The calibration of a scale."""
        found: ScaleCalibration = getattr(self, scale)
        return found

    def scale_at(self, end: End) -> Scale | None:
        """The calibrated scale that a wheel stood on; None where it is not calibrated."""
        calibrated: tuple[Scale, ...] = tuple(scale for scale in (end, "both") if self.of(scale).masses)
        return calibrated[0] if calibrated else None


NOT_CALIBRATED = Calibration()
"""What most jobs have."""
