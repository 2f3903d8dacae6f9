"""The curve of force against travel of one end for a plot, with the positions of the machine marked on it."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.model import STATES, End, Job
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.ends.fork_model import fork_model
from stanchion.judgement.ends.rear import linkage_of
from stanchion.judgement.ends.rear_model import rear_model
from stanchion.judgement.results.assessment import Assessment
from stanchion.mechanics.solve import bracketed_root


@record
class Curve:
    """The curve and its marks. Travel counts from the mechanical stop: along the leg, or at the rear wheel."""

    points: tuple[tuple[float, float], ...]
    """Travel [mm] and force along it [N], from the stop to full travel."""
    marks: tuple[tuple[str, float], ...]
    """Name ("static_captured", "rider_predicted", ...) and travel [mm] of each mark, in rising order of travel."""


def _deepest(job: Job, assessment: Assessment, end: End, model: EndModel) -> float | None:
    """Deepest travel by the marker of the latest run: along the leg, or at the rear wheel."""
    used = assessment.run.end(end).used_mm.value if assessment.run is not None else None
    if used is None:
        return None
    if end == "front":
        return min(model.unloaded.travel_mm + used, model.full_travel_mm)
    linkage = linkage_of(job.rear)[0]
    if linkage is None or not 0.0 <= used <= linkage.shock_travel(model.full_travel_mm):
        return None
    return bracketed_root(lambda wheel: linkage.shock_travel(wheel) - used, 0.0, model.full_travel_mm)


def predicted_curve(job: Job, assessment: Assessment, end: End, count: int) -> Curve | None:
    """The curve of one end; None where springs or full travel are not known.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        end: which end.
        count: number of points, 2 or more.
    """
    model: EndModel
    if end == "front":
        model = fork_model(job, assessment.front)
    else:
        model = rear_model(job, assessment.rear, linkage_of(job.rear)[0])
    if not model.computable.known or model.end_unknown is not None:
        return None
    full = model.full_travel_mm
    travels = [full * step / (count - 1) for step in range(count)]
    marks: list[tuple[str, float]] = []
    for state in STATES:
        captured = assessment.sag.end(end).state(state).sag_mm.value
        predicted = assessment.predicted.end(end).state(state).travel_mm.value
        if captured is not None:
            marks.append((f"{state}_captured", model.unloaded.travel_mm + captured))
        if predicted is not None:
            marks.append((f"{state}_predicted", predicted))
    deepest = _deepest(job, assessment, end, model)
    if deepest is not None:
        marks.append(("marker", deepest))
    return Curve(
        points=tuple((travel, model.force(min(travel, full))) for travel in travels),
        marks=tuple(sorted(marks, key=lambda mark: mark[1])),
    )
