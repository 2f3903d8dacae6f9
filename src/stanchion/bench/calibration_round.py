"""A calibration of a scale as it is made: known masses one after the other, and what the scale reads under each."""

from __future__ import annotations

import datetime as dt

from stanchion.bench.entry_round import Asked, Doubt, EntryRound
from stanchion.job.calibration import LEAST_MASSES, MOST_MASSES, KnownMass, Scale, ScaleCalibration
from stanchion.job.spec import Kind, Number, Text
from stanchion.judgement.criteria.thresholds import CALIBRATION_DOUBTED, SCALE_OFF_KG
from stanchion.units.known_units import METRIC, Units

NAME = Text(60)
MASS = Number(Kind.MASS, 0.0, 500.0, 1.0, optional=False)


class CalibrationRound(EntryRound):
    """A calibration while it is made. After the least number of masses, Enter alone ends it.

    Args:
        scale: which scale.
        today: its date.
        units: display units.
    """

    def __init__(self, scale: Scale, today: dt.date, units: Units = METRIC) -> None:
        super().__init__(units)
        self.scale: Scale = scale
        self._today = today
        self._ended = False

    @property
    def asked(self) -> tuple[Asked, ...]:
        """The name of the scale; then mass and reading, as many as were given, and one more mass."""
        given = next((n for n in range(MOST_MASSES) if ("true", n) not in self.values), MOST_MASSES)
        pairs = [
            Asked((name, n), MASS, optional=name == "true" and n >= LEAST_MASSES)
            for n in range(given)
            for name in ("true", "read")
        ]
        further = [Asked(("true", given), MASS, optional=given >= LEAST_MASSES)]
        return (Asked(("called",), NAME), *pairs, *(() if self._ended or given == MOST_MASSES else further))

    def take(self) -> None:
        """Take what is typed; nothing typed where a further mass is asked ends it."""
        one = self.one
        if one is not None and one.optional and not self.typed.strip():
            for key in [key for key in self.values if key[-1] not in range(int(one.key[1])) and key != ("called",)]:
                del self.values[key]
            self._ended = True
            self._go(len(self.asked))
            return
        super().take()

    def back(self) -> None:
        """Go back to what was asked before."""
        if self.done and self._ended:
            self._ended = False
            self._go(self.at)
            return
        super().back()

    def doubt_of(self, one: Asked, value: float) -> Doubt:
        """A reading far from its known mass."""
        true_kg = self.values.get(("true", *one.key[1:]))
        if one.key[0] != "read" or not isinstance(true_kg, float):
            return ""
        return "far_off" if abs(value - true_kg) > max(SCALE_OFF_KG, CALIBRATION_DOUBTED * true_kg) else ""

    def calibration(self) -> ScaleCalibration:
        """The calibration as far as it was made."""

        def kg(name: str, n: int) -> float | None:
            value = self.values.get((name, n))
            return value if isinstance(value, float) else None

        masses = [KnownMass(true_kg=kg("true", n), read_kg=kg("read", n)) for n in range(MOST_MASSES)]
        return ScaleCalibration(
            called=str(self.values.get(("called",), "")),
            calibrated_on=self._today,
            masses=tuple(one for one in masses if one.true_kg is not None and one.read_kg is not None),
        )
