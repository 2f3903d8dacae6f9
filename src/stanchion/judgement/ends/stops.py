"""What meets the suspension near the end of its travel: where bump rubber and hydraulic stop begin, and their force."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import Front, Path, Rear, Stops
from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.judgement.ends.top_out_bench import bench_findings
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.mechanics.bump_stop import BumpStop
from stanchion.mechanics.spring_curve import RateOrCurve, measured_curve

NO_RUBBER = absent("no_bump_rubber")
_NO_HYDRAULIC = absent("no_hydraulic_stop")


@record
class StopPlaces:
    """Where the stops begin, counted as the end of the travel is [mm]."""

    rubber_mm: Figure
    hydraulic_mm: Figure


def stop_places(stops: Stops, height_mm: float | None, end_mm: Figure, hanging_mm: Figure) -> StopPlaces:
    """Where the stops begin, from the hanging wheel.

    Args:
        stops: as recorded.
        height_mm: free height of a bump rubber that ends with the travel [mm]; None: not recorded.
        end_mm: end of the travel, from the hanging wheel [mm].
        hanging_mm: travel of the hanging wheel from full extension [mm].
    """
    rubber = NO_RUBBER
    if stops.touches_mm is not None:
        rubber = derive(lambda at, hangs: max(0.0, at - hangs), Figure(stops.touches_mm), hanging_mm)
    elif height_mm is not None:
        rubber = derive(lambda end, high: max(0.0, end - high), end_mm, Figure(height_mm))
    hydraulic = _NO_HYDRAULIC
    if stops.hydraulic_mm:
        hydraulic = derive(lambda end, long: max(0.0, end - long), end_mm, Figure(stops.hydraulic_mm))
    return StopPlaces(rubber, hydraulic)


def rubber_spring(stops: Stops) -> RateOrCurve | None:
    """How the rubber answers to being pressed: by its pairs, else by its rate; None where neither is known."""
    pairs = [(p.squeezed_mm, p.force_n) for p in stops.pairs if p.squeezed_mm is not None and p.force_n is not None]
    under_force = tuple((mm, force) for mm, force in pairs if mm > 0.0)
    if under_force:
        try:
            return measured_curve(under_force)
        except OutOfRange:
            return None
    return stops.rate_n_per_mm


def fork_stop(front: Front) -> BumpStop | None:
    """The rubber or cone in each leg; None where its place or its force is not known."""
    spring = rubber_spring(front.stops)
    return None if spring is None or front.stops.touches_mm is None else BumpStop(front.stops.touches_mm, spring)


def shock_stop(rear: Rear, stroke_mm: float | None) -> BumpStop | None:
    """The bump rubber on the shaft; None where its place or its force is not known.

    Args:
        rear: the shock as recorded.
        stroke_mm: stroke less packers [mm]; None: not known.
    """
    spring, at = rubber_spring(rear.stops), rear.stops.touches_mm
    if at is None and rear.bump_rubber_mm is not None and stroke_mm is not None:
        at = stroke_mm - rear.bump_rubber_mm
    return None if spring is None or at is None else BumpStop(at, spring)


def without_force(stops: Stops) -> bool:
    """Whether a rubber is recorded by its touch point, and its force is not known."""
    return stops.touches_mm is not None and rubber_spring(stops) is None


def stop_findings(front: Front, rear: Rear) -> Iterator[Finding]:
    """Findings on top-out springs and rubbers: readings that cannot be right, and a place beyond the travel."""
    yield from bench_findings(front, rear)
    ends = ((("front", "stops"), front.stops, front.travel_mm), (("rear", "stops"), rear.stops, rear.stroke_mm))
    for at, stops, travel_mm in ends:
        yield from _findings(at, stops, travel_mm)


def _findings(at: Path, stops: Stops, travel_mm: float | None) -> Iterator[Finding]:
    complete = [pair for pair in stops.pairs if pair.squeezed_mm and pair.force_n is not None]
    if complete and rubber_spring(stops) is None:
        yield Finding("stop_disordered", Severity.WARNING, (*at, "pairs"), {})
    if stops.touches_mm is not None and travel_mm is not None and stops.touches_mm > travel_mm + SLACK:
        values: dict[str, object] = {"touches_mm": stops.touches_mm, "travel_mm": travel_mm}
        yield Finding("stop_beyond_travel", Severity.WARNING, (*at, "touches_mm"), values)
