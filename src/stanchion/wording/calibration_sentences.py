"""What is said while a scale is calibrated; the words for findings on it: lift_sentences.py."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from stanchion.job.calibration import LEAST_MASSES, SCALES, Scale
from stanchion.job.spec import Kind
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import show
from stanchion.wording.labels import label

if TYPE_CHECKING:
    from stanchion.judgement.results.calibrated import CalibrationResult

SCALE_NAMES: dict[Scale, str] = {scale: label(("calibration", scale)) for scale in SCALES}
TITLE = "Calibration of scales"
CHOOSE = "Calibrate a scale with known masses"
WHAT_IT_IS = (
    "Put known masses on the level scale, from none to about what a wheel weighs. What it reads too high or too low is "
    "taken from every reading of it, readings with the front lifted too; the fields keep what was read. Five masses or "
    "more make it surer. This job notes the calibration, and the next one (F8) has it too."
)
KEPT = "The calibration is kept in this job: readings of this scale are corrected by it."
NO_LONGER = "Use no calibration in this job"
ASKED: dict[str, tuple[str, str]] = {
    "called": ("Name", "Type the name of the scale, as the workshop calls it."),
    "true": ("Known mass", "Put a known mass on the scale and type how much it is. 0 is the empty scale."),
    "read": ("Scale reads", "Type what the scale reads under it."),
}
FURTHER = "Enter alone: there are no more."
FAR_OFF = "far from the known mass: read again, or Enter keeps it"
NO_LINE = f"No line can be laid through these: it takes {LEAST_MASSES} masses that read differently."


def result_lines(result: CalibrationResult | None, units: Units = METRIC) -> Iterator[str]:
    """What a calibration gives, in sentences.

    >>> from stanchion.judgement.results.calibrated import CalibrationResult
    >>> list(result_lines(CalibrationResult(at=((0.0, 0.1, 0.3), (100.0, -0.5, 0.4)), deviation_kg=0.1)))[1]
    'At 100.0 kg it reads 0.5 kg low (± 0.4 kg, 95 %).'
    """
    if result is None:
        yield NO_LINE
        return
    for read_kg, high_kg, expanded_kg in result.at:
        read, off, sure = (show(kg, Kind.MASS, units) for kg in (read_kg, abs(high_kg), expanded_kg))
        yield f"At {read} it reads {off} {'high' if high_kg >= 0.0 else 'low'} (± {sure}, 95 %)."
    yield f"Readings scatter about the line by {show(result.deviation_kg, Kind.MASS, units)} (standard deviation)."
