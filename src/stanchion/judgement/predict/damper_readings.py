"""Readings of a dynamometer as the curves that a job keeps."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from stanchion.base.record import record
from stanchion.job.damper_sheet import MOST_POINTS
from stanchion.job.model import DamperCurve
from stanchion.judgement.results.dampers import Stroke
from stanchion.mechanics.damper_points import STANDSTILL_MM_PER_S, damper_points


@record
class DamperReading:
    """One reading."""

    stroke: Stroke
    position: float | None
    """Of the adjuster; None: not stated."""
    speed_mm_per_s: float
    """Of the shaft, whichever way."""
    outwards_n: float
    """Force with which the damper pushed outwards."""


def damper_curves(readings: Iterable[DamperReading]) -> Iterator[DamperCurve]:
    """A curve for each stroke at each position, in the order of these; none where the shaft only stood still."""
    groups: dict[tuple[float | None, Stroke], list[tuple[float, float]]] = {}
    for one in readings:
        groups.setdefault((one.position, one.stroke), []).append((one.speed_mm_per_s, one.outwards_n))
    for (position, stroke), pairs in sorted(groups.items(), key=lambda item: (item[0][0] or 0.0, item[0][1])):
        points = {round(point.speed_mm_per_s, 3): point for point in damper_points(pairs, MOST_POINTS)}
        if points:
            repeated = any(point.spread_n for point in points.values())
            yield DamperCurve(
                stroke=stroke,
                position=position,
                speeds_mm_per_s=tuple(points),
                forces_n=tuple(round(point.force_n, 2) for point in points.values()),
                spreads_n=tuple(round(point.spread_n, 2) for point in points.values()) if repeated else (),
            )


def gas_at_standstill(readings: Iterable[DamperReading]) -> float | None:
    """Force of the gas as the mean of the readings at standstill [N]; None where there are none, or where they pull:
    gas pushes outwards."""
    still = [one.outwards_n for one in readings if one.speed_mm_per_s < STANDSTILL_MM_PER_S]
    mean = math.fsum(still) / len(still) if still else -1.0
    return round(mean, 2) if mean >= 0.0 else None
