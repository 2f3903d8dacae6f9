"""For drawings of the travel of one end: positions along the leg or the shock's shaft, and force against travel."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from stanchion.base.record import record
from stanchion.job.measured import changed_since_read
from stanchion.job.model import STATES, End, Job, State
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.ends.fork_model import fork_model
from stanchion.judgement.ends.rear import linkage_of
from stanchion.judgement.ends.rear_model import rear_model
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.judgement.results.ridden import MarkerReference
from stanchion.judgement.track.marker_reference import along_the_shaft, with_hanging_as_ridden
from stanchion.judgement.track.run_figures import available_travel, run_figures
from stanchion.mechanics.solve import bracketed_root


@record(kw_only=True)
class OnTravel:
    """Positions within the travel, all counted from the hanging wheel [mm]."""

    full_mm: Figure
    """End of the travel, less rigid packers."""
    static_mm: Figure
    """Sag as captured; at the rear the travel of the shaft for it."""
    rider_mm: Figure
    deepest_mm: Figure
    """Position of the marker of the run."""
    run: int | None
    """Index of that run; None: there is none."""
    old: frozenset[State] = frozenset()
    """States whose sag was read with other springs or preload than those drawn."""
    rubber_from_mm: Figure
    """Where the bump rubber begins; absent where none is recorded, and at the front."""

    def sag(self, state: State) -> Figure:
        """Position in a state."""
        return self.static_mm if state == "static" else self.rider_mm

    @property
    def left_mm(self) -> Figure:
        """Travel left at the deepest point; negative where the marker lies beyond the end."""
        return derive(lambda full, deepest: full - deepest, self.full_mm, self.deepest_mm)


def on_travel(job: Job, assessment: Assessment, end: End, run: int | None = None) -> OnTravel:
    """The positions of one end within its travel.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        end: which end.
        run: a run, whose packers and rubber are used; None: the job as it is set, with the marker of the latest run.
    """
    front, rear, at = job.front, job.rear, len(job.runs) - 1
    if run is not None:
        front, rear, at = job.runs[run].front or front, job.runs[run].rear or rear, run
    if end == "front":
        full, packers = recorded(job.front.travel_mm, ("front", "travel_mm")), front.packers_mm
    else:
        full, packers = recorded(job.rear.stroke_mm, ("rear", "stroke_mm")), rear.packers_mm
    references: Mapping[End, MarkerReference] = assessment.marker_references
    if run is not None:
        references = with_hanging_as_ridden(job, job.runs[run], references)
    available = available_travel(full, packers, references[end].hanging_mm)
    rubber = absent("no_bump_rubber")
    if end == "rear" and rear.bump_rubber_mm is not None:
        rubber = derive(lambda travel, high: max(0.0, travel - high), available, Figure(rear.bump_rubber_mm))
    sags = (assessment.sag.end(end).state(state).sag_mm for state in STATES)
    static, rider = (
        sag if end == "front" else along_the_shaft(job.rear, sag, references["rear"].unloaded_mm) for sag in sags
    )
    set_up = replace(job, front=front, rear=rear)
    old = [state for state in STATES if changed_since_read(set_up, end, state)]
    ridden = assessment.run if at == len(job.runs) - 1 else run_figures(job, at, assessment.marker_references)
    deepest = ridden.end(end).used_mm if ridden is not None else absent("no_run")
    return OnTravel(
        full_mm=available,
        static_mm=static,
        rider_mm=rider,
        deepest_mm=deepest,
        run=at,
        old=frozenset(old),
        rubber_from_mm=rubber,
    )


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
