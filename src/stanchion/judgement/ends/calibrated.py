"""Readings of calibrated scales: corrected here and nowhere else, with what is said of that.

The job keeps every reading as it was read. Whatever is worked out from scales takes the job as `corrected` gives it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from stanchion.base.record import record
from stanchion.job.calibration import LEAST_MASSES, NOT_CALIBRATED, SCALES, Scale, ScaleCalibration
from stanchion.job.edit import value_at
from stanchion.job.model import ENDS, STATES, End, Job, Path, State
from stanchion.judgement.criteria.thresholds import (
    CALIBRATION_DOUBTED,
    CALIBRATION_OLD_DAYS,
    SCALE_OFF,
    SCALE_OFF_KG,
    SCALE_UNCERTAINTY_KG,
)
from stanchion.judgement.results.calibrated import CalibrationResult
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.mechanics.calibration import (
    CalibrationLine,
    calibration_line,
    corrected_reading,
    line_uncertainty,
    reads_high,
)

_NAMES = {"static": "alone_kg", "rider": "aboard_kg"}


@record(kw_only=True)
class CalibratedScale:
    """One calibrated scale, and what was read on it."""

    scale: Scale
    calibration: ScaleCalibration
    line: CalibrationLine | None
    """About the mean of its points; None where they are too few, or nearer together than a reading is sure."""
    readings: tuple[tuple[Path, float], ...]
    """Paths of the readings in the job, and the readings [kg]; at least one."""
    believed: bool
    """Whether the readings are corrected: the line is there, and none of them would be by more than a scale is off."""

    @property
    def at(self) -> Path:
        """Where its calibration stands in the job."""
        return ("calibration", self.scale)


def line_of(calibration: ScaleCalibration) -> CalibrationLine | None:
    """What a scale reads too high, as a line about the mean of its points, where the errors of both are independent.

    Args:
        calibration: what it read under known masses.
    """
    read = [read_kg for _, read_kg in calibration.pairs]
    if len(read) < LEAST_MASSES or max(read) - min(read) < SCALE_UNCERTAINTY_KG:
        return None
    off = [read_kg - true_kg for true_kg, read_kg in calibration.pairs]
    return calibration_line(read, off, about=sum(read) / len(read))


def calibration_result(calibration: ScaleCalibration) -> CalibrationResult | None:
    """What a calibration gives; None where no line can be laid through it.

    Args:
        calibration: what the scale read under known masses.
    """
    line = line_of(calibration)
    if line is None:
        return None
    read = [read_kg for _, read_kg in calibration.pairs]
    ends = ((kg, high_kg(line, kg), line_uncertainty(line, kg).expanded) for kg in (min(read), max(read)))
    return CalibrationResult(at=tuple(ends), deviation_kg=line.deviation)


def calibrated_scales(job: Job) -> tuple[CalibratedScale, ...]:
    """The calibrated scales that something was read on.

    Args:
        job: the job as it was recorded.
    """
    found: dict[Scale, list[tuple[Path, float]]] = {}
    for end in ENDS:
        scale = job.calibration.scale_at(end)
        if scale is not None:
            found.setdefault(scale, []).extend((path, value_at(job, path)) for path in _read_at(job, end))
    return tuple(_scale(job, scale, found[scale]) for scale in SCALES if found.get(scale))


def _scale(job: Job, scale: Scale, readings: list[tuple[Path, float]]) -> CalibratedScale:
    calibration = job.calibration.of(scale)
    line = line_of(calibration)
    believed = line is not None and all(abs(high_kg(line, kg)) <= CALIBRATION_DOUBTED * kg for _, kg in readings)
    return CalibratedScale(scale=scale, calibration=calibration, line=line, readings=tuple(readings), believed=believed)


def high_kg(line: CalibrationLine, reading_kg: float) -> float:
    """By how much a reading is too high [kg]."""
    return reads_high(reading_kg, line.about, line.offset, line.slope)


def _read_at(job: Job, end: End) -> Iterator[Path]:
    """The readings on the scale of an end; those with the front lifted are on the front one."""
    for state in STATES:
        if getattr(job.weights, f"{end}_{_NAMES[state]}") is not None:
            yield ("weights", f"{end}_{_NAMES[state]}")
    if end == "front":
        for at, lift in enumerate(job.balance.lifts):
            for state in STATES:
                if getattr(lift, _NAMES[state]) is not None:
                    yield ("balance", "lifts", at, _NAMES[state])


def corrected(job: Job) -> Job:
    """The job as its scales would have read without what they read too high. It has no calibration any more, so that
    it is never corrected twice.

    Args:
        job: the job as it was recorded, or as it was corrected before.
    """
    if job.calibration == NOT_CALIBRATED:
        return job
    weights: dict[str, Any] = {}
    lifts = [dict[str, Any]() for _ in job.balance.lifts]
    for one in calibrated_scales(job):
        if one.line is None or not one.believed:
            continue
        for path, kg in one.readings:
            into = weights if path[0] == "weights" else lifts[int(path[2])]
            into[str(path[-1])] = corrected_reading(kg, one.line.about, one.line.offset, one.line.slope)
    lifted = tuple(replace(lift, **read) for lift, read in zip(job.balance.lifts, lifts, strict=True))
    return replace(
        job,
        weights=replace(job.weights, **weights),
        balance=replace(job.balance, lifts=lifted),
        calibration=NOT_CALIBRATED,
    )


def scale_uncertainty_kg(job: Job, state: State) -> float:
    """Standard uncertainty of one scale reading of a state [kg]; that of the lines is the mean square of both wheels.

    Args:
        job: the job as it was recorded.
        state: machine alone or rider aboard.
    """
    shared = 0.0
    for one in calibrated_scales(job) if job.calibration != NOT_CALIBRATED else ():
        for path, kg in one.readings:
            if one.line is not None and one.believed and path[0] == "weights" and str(path[-1]).endswith(_NAMES[state]):
                shared += line_uncertainty(one.line, kg).standard ** 2 / len(ENDS)
    return math.hypot(SCALE_UNCERTAINTY_KG, math.sqrt(shared))


def calibration_findings(job: Job) -> Iterator[Finding]:
    """What is said of calibrated scales that something was read on, each at its largest reading.

    Args:
        job: the job as it was recorded.
    """
    if job.calibration == NOT_CALIBRATED:
        return
    for one in calibrated_scales(job):
        where, kg = max(one.readings, key=lambda reading: reading[1])
        on = one.calibration.calibrated_on
        values: dict[str, object] = {
            "scale": one.at,
            "called": one.calibration.called or None,
            "on": None if on is None else on.isoformat(),
            "read_kg": kg,
        }
        if one.line is None:
            yield Finding("scale_calibration_short", Severity.NOTE, where, values | {"count": LEAST_MASSES})
            continue
        high = high_kg(one.line, kg)
        values |= {"high_kg": high if high >= 0.0 else None, "low_kg": -high if high < 0.0 else None}
        values |= {"from_kg": min(one.calibration.pairs)[0], "to_kg": max(one.calibration.pairs)[0]}
        if not one.believed:
            yield Finding("scale_calibration_doubted", Severity.WARNING, where, values)
            continue
        values["corrected_kg"] = kg - high
        if abs(high) > min(SCALE_OFF * kg, SCALE_OFF_KG):
            yield Finding("scale_off", Severity.WARNING, where, values)
        else:
            yield Finding("scale_corrected", Severity.NOTE, where, values)
        if on is not None and (job.job.date - on).days > CALIBRATION_OLD_DAYS:
            yield Finding("scale_calibration_old", Severity.NOTE, where, values)
