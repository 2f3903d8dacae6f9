"""Scale readings that were taken with another rider aboard, as they would be with the rider entered."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from stanchion.job.aboard import read_with_another, rider_on_scales
from stanchion.job.model import ENDS, End, Job, Weights
from stanchion.mechanics.load import share_on_wheel


def converted_from(job: Job) -> float | None:
    """Mass of the rider who was on the scales [kg], where the readings are converted to another; else None."""
    noted_kg, new_kg, old_kg = job.weights.aboard_rider_kg, job.job.rider_mass_kg, rider_on_scales(job)
    if noted_kg is None or new_kg in (None, noted_kg) or old_kg is None or old_kg <= 0.0:
        return None
    return old_kg


def weights_with_rider(job: Job) -> Weights:
    """The weights with both scales as they would read with the rider entered.

    The part of each reading that the rider on the scales added is scaled by the riders' masses. Where that part is not
    known, there is no reading.
    """
    old_kg, weights = converted_from(job), job.weights
    if old_kg is None:
        return weights
    factor = (job.job.rider_mass_kg or 0.0) / old_kg
    read: dict[str, Any] = {}
    for end, aboard_kg in zip(ENDS, (weights.front_aboard_kg, weights.rear_aboard_kg), strict=True):
        rider_kg = _rider_at(weights, end, old_kg)
        known = aboard_kg is not None and rider_kg is not None
        if not read_with_another(job, end):
            continue
        read[f"{end}_aboard_kg"] = (aboard_kg or 0.0) + (rider_kg or 0.0) * (factor - 1.0) if known else None
    return replace(weights, **read)


def _rider_at(weights: Weights, end: End, rider_kg: float) -> float | None:
    """Part of the rider's mass on one wheel: by its scale, or by the rider's share."""
    aboard_kg = weights.front_aboard_kg if end == "front" else weights.rear_aboard_kg
    alone_kg = weights.front_alone_kg if end == "front" else weights.rear_alone_kg
    if alone_kg is None:
        alone_kg = _part_kg(weights.machine_kg, weights.front_share_pct, end)
    if aboard_kg is None or alone_kg is None:
        return _part_kg(rider_kg, weights.rider_front_share_pct, end)
    return aboard_kg - alone_kg


def _part_kg(mass_kg: float | None, front_pct: float | None, end: End) -> float | None:
    if mass_kg is None or front_pct is None:
        return None
    return share_on_wheel(mass_kg, front_pct / 100.0 if end == "front" else 1.0 - front_pct / 100.0)
