"""For drawings of the travel of one end: positions along the leg or the shock's shaft, and force against travel."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace

from stanchion.base.record import record
from stanchion.job.measured import changed_since_read
from stanchion.job.model import SIDES, STATES, End, Front, Job, State
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.ends.fork_model import fork_model
from stanchion.judgement.ends.linkage import linkage_of_job
from stanchion.judgement.ends.rear_model import rear_model
from stanchion.judgement.ends.stops import stop_places
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
    """Sag as captured, or as predicted where that is old; at the rear the travel of the shaft for it."""
    rider_mm: Figure
    deepest_mm: Figure
    """Position of the marker of the run."""
    run: int | None
    """Index of that run; None: there is none."""
    old: frozenset[State] = frozenset()
    """States whose sag was read with other springs or preload than those drawn, and is drawn all the same."""
    predicted: frozenset[State] = frozenset()
    """States of which the predicted sag is drawn, since the one read is no longer the machine's position."""
    rubber_from_mm: Figure
    """Where the bump rubber or cone begins; absent where none is recorded."""
    hydraulic_from_mm: Figure
    """Where the hydraulic stop begins; absent where none is recorded."""
    changes_mm: tuple[float, ...] = ()
    """Where the rate of two springs changes as the job is set, within the travel."""

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
    stops, height_mm = (front.stops, None) if end == "front" else (rear.stops, rear.bump_rubber_mm)
    places = stop_places(stops, height_mm, available, references[end].hanging_mm)
    set_up = replace(job, front=front, rear=rear)
    old = [state for state in STATES if changed_since_read(set_up, end, state)]
    foreseen = {state: sag for state in old if run is None and (sag := assessment.predicted.sag(end, state)).known}
    sags = (foreseen.get(state, assessment.sag.end(end).state(state).sag_mm) for state in STATES)
    static, rider = (
        sag
        if end == "front"
        else along_the_shaft(job.rear, job.swingarm.pivot_to_axle_mm, sag, references["rear"].unloaded_mm)
        for sag in sags
    )
    ridden = assessment.run if at == len(job.runs) - 1 else run_figures(job, at, assessment.marker_references)
    deepest = ridden.end(end).used_mm if ridden is not None else absent("no_run")
    return OnTravel(
        full_mm=available,
        static_mm=static,
        rider_mm=rider,
        deepest_mm=deepest,
        run=at,
        old=frozenset(state for state in old if state not in foreseen),
        predicted=frozenset(foreseen),
        rubber_from_mm=places.rubber_mm,
        hydraulic_from_mm=places.hydraulic_mm,
        changes_mm=() if run is not None else _changes(assessment, end, available),
    )


def _changes(assessment: Assessment, end: End, full: Figure) -> tuple[float, ...]:
    """Where two springs of an end change over, along the leg or the shaft; once where both legs do alike."""
    places = ("rear",) if end == "rear" else SIDES
    found = [one.along_mm.value for one in assessment.change_overs if one.place in places]
    most = math.inf if full.value is None else full.value
    return tuple(dict.fromkeys(mm for mm in found if mm is not None and 0.0 < mm < most))


@record
class Curve:
    """The curve and its marks. Travel counts from the mechanical stop: along the leg, or at the rear wheel."""

    points: tuple[tuple[float, float], ...]
    """Travel [mm] and force along it [N], from the stop to full travel."""
    marks: tuple[tuple[str, float], ...]
    """Name ("static_captured", "rider_predicted", ...) and travel [mm] of each mark, in rising order of travel."""
    whole: bool = True
    """False where it ends before full travel, because a spring was not measured further."""


def _deepest(job: Job, assessment: Assessment, end: End, model: EndModel) -> float | None:
    """Deepest travel by the marker of the latest run: along the leg, or at the rear wheel."""
    used = assessment.run.end(end).used_mm.value if assessment.run is not None else None
    if used is None:
        return None
    if end == "front":
        return min(model.unloaded.travel_mm + used, model.full_travel_mm)
    linkage = linkage_of_job(job)
    if linkage is None or not 0.0 <= used <= linkage.shock_travel(model.full_travel_mm):
        return None
    return bracketed_root(lambda wheel: linkage.shock_travel(wheel) - used, 0.0, model.full_travel_mm)


def _stops_at(job: Job, end: End, model: EndModel) -> Iterator[tuple[str, float]]:
    """Travel at which bump rubber and hydraulic stop begin: along the leg, or at the rear wheel."""
    full = model.full_travel_mm
    stops, height_mm = (job.front.stops, None) if end == "front" else (job.rear.stops, job.rear.bump_rubber_mm)
    linkage = None if end == "front" else linkage_of_job(job)
    end_mm = full if linkage is None else linkage.shock_travel(full)
    places = stop_places(stops, height_mm, Figure(end_mm), Figure(0.0))
    for name, place in (("rubber", places.rubber_mm.value), ("hydraulic", places.hydraulic_mm.value)):
        if place is not None and place < end_mm:
            along = place
            if linkage is not None:
                along = bracketed_root(lambda wheel, at=place: linkage.shock_travel(wheel) - at, 0.0, full)  # type: ignore[misc]
            yield name, along


LEAST_CHANGE = 0.005
"""Share of the greatest force by which two curves differ at least, for one to be called changed."""


def force_changed(now: Curve, then: Curve) -> bool:
    """Whether two curves of as many points differ by more than can be seen."""
    most = max(force for _, force in (*now.points, *then.points))
    pairs = zip(now.points, then.points, strict=True)
    return any(abs(x - old_x) > 1e-9 or abs(y - old_y) > LEAST_CHANGE * most for (x, y), (old_x, old_y) in pairs)


def with_gap(front: Front, gap_mm: float) -> Front:
    """The fork with an air gap in both legs."""
    right = None if front.right is None else replace(front.right, air_gap_mm=gap_mm)
    return replace(front, left=replace(front.left, air_gap_mm=gap_mm), right=right)


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
        model = rear_model(job, assessment.rear, linkage_of_job(job))
    if not model.computable.known or model.end_unknown is not None:
        return None
    full = min(model.full_travel_mm, model.measured_to_mm)
    if full <= 0.0:
        return None
    travels = [full * step / (count - 1) for step in range(count)]
    marks: list[tuple[str, float]] = []
    for state in STATES:
        captured = assessment.sag.end(end).state(state).sag_mm.value
        predicted = assessment.predicted.end(end).state(state).travel_mm.value
        if captured is not None:
            marks.append((f"{state}_captured", model.unloaded.travel_mm + captured))
        if predicted is not None:
            marks.append((f"{state}_predicted", predicted))
    places = ("rear",) if end == "rear" else SIDES
    for one in assessment.change_overs:
        at_mm = one.at_mm.value
        if one.place in places and at_mm is not None and 0.0 < model.unloaded.travel_mm + at_mm < full:
            marks.append(("change_over", model.unloaded.travel_mm + at_mm))
    for name, at_mm in _stops_at(job, end, model):
        if at_mm < full:
            marks.append((name, at_mm))
    deepest = _deepest(job, assessment, end, model)
    if deepest is not None:
        marks.append(("marker", deepest))
    return Curve(
        points=tuple((travel, model.force(min(travel, full))) for travel in travels),
        marks=tuple(sorted((mark for mark in marks if mark[1] <= full), key=lambda mark: mark[1])),
        whole=full >= model.full_travel_mm,
    )
