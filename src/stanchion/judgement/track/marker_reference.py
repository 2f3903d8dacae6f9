"""What travel markers are compared with: sag, the hanging wheel, and headroom of the preload adjusters."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import TypeVar

from stanchion.job.measured import changed_since_read
from stanchion.job.model import ENDS, SIDES, End, Front, Job, Rear, Run
from stanchion.judgement.ends.adjuster import near_end
from stanchion.judgement.ends.end_model import hangs_at
from stanchion.judgement.ends.fork_model import fork_model
from stanchion.judgement.ends.front import front_figures
from stanchion.judgement.ends.linkage import linkage_needs, linkage_of
from stanchion.judgement.ends.rear import rear_figures, shock_figures
from stanchion.judgement.ends.rear_model import rear_model
from stanchion.judgement.predict.prediction import EndModels
from stanchion.judgement.results.assessment import FrontFigures, PreloadFigures, RearFigures, SagFigures
from stanchion.judgement.results.codes import NoMorePreload
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.results.ridden import MarkerReference

_NO_SPRING = absent("no_spring")
_STOP = Figure(0.0)
_NOT_AS_RIDDEN = absent("sag_changed")


def marker_references(
    job: Job, front: FrontFigures, rear: RearFigures, sag: SagFigures, models: EndModels
) -> dict[End, MarkerReference]:
    """What the markers of any run are compared with, with the adjusters at their present positions in the job."""
    adjusters = {"front": _fork_adjuster(job.front, front), "rear": _shock_adjuster(job.rear, rear)}
    unloaded = {end: hangs_at(models.end(end)) for end in ENDS}
    hanging = {
        "front": unloaded["front"],
        "rear": along_the_shaft(job.rear, job.swingarm.pivot_to_axle_mm, unloaded["rear"]),
    }
    return {
        end: MarkerReference(
            static_mm=sag.end(end).static.sag_mm,
            rider_mm=sag.end(end).rider.sag_mm,
            rider_verdict=sag.end(end).rider.verdict,
            headroom_in_mm=adjusters[end][0],
            no_more=adjusters[end][1],
            has_adjuster=adjusters[end][2],
            unloaded_mm=unloaded[end],
            hanging_mm=hanging[end],
        )
        for end in ENDS
    }


def with_adjusters_as_ridden(
    job: Job, run: Run, references: Mapping[End, MarkerReference]
) -> Mapping[End, MarkerReference]:
    """The references with the adjusters as they were on a run.

    Only an end whose preload was changed since the run is computed again; anything measured later counts for the run.
    Rider sag is left out where it was read with other springs or preload than on the run.
    """
    ridden = dict(references)
    set_up = replace(job, front=run.front or job.front, rear=run.rear or job.rear)
    for end in ENDS:
        if changed_since_read(set_up, end, "rider"):
            ridden[end] = replace(ridden[end], rider_mm=_NOT_AS_RIDDEN, rider_verdict="", rider_changed=True)
    if run.front is not None and _adjusters_moved(run.front, job.front):
        adjuster = _fork_adjuster(run.front, front_figures(run.front, None)[0])
        ridden["front"] = _with_adjuster(ridden["front"], adjuster)
    if run.rear is not None and run.rear.collar.now != job.rear.collar.now:
        adjuster = _shock_adjuster(run.rear, rear_figures(run.rear, None, (None, None), with_uncertainty=False).figures)
        ridden["rear"] = _with_adjuster(ridden["rear"], adjuster)
    return ridden


def _adjusters_moved(ridden: Front, now: Front) -> bool:
    return any(ridden.leg(side).adjuster.now != now.leg(side).adjuster.now for side in SIDES)


_Headroom = tuple[Figure, NoMorePreload, bool]
"""Headroom towards more preload, what leaves little or none, and whether there is an adjuster."""


def _with_adjuster(reference: MarkerReference, headroom: _Headroom) -> MarkerReference:
    return replace(reference, headroom_in_mm=headroom[0], no_more=headroom[1], has_adjuster=headroom[2])


def _fork_adjuster(fork: Front, figures: FrontFigures) -> _Headroom:
    """Headroom of the fork: that of the leg with the least."""
    legs = [
        figures.leg(side)
        for side in (SIDES if fork.split else SIDES[:1])
        if figures.leg(side).has_spring and fork.leg(side).adjuster.counting != "none"
    ]
    if not legs:
        return _NO_SPRING, "", False
    least = min(legs, key=lambda leg: _or_inf(leg.headroom_in_mm))
    return least.headroom_in_mm, "adjuster" if any(leg.near_in for leg in legs) else "", True


def _shock_adjuster(shock: Rear, figures: RearFigures) -> _Headroom:
    spring, has = figures.spring, shock.collar.counting != "none"
    no_more: NoMorePreload = "adjuster" if spring.near_in else ""
    if spring.as_it_stands and _little_left(spring):
        no_more = "band"
    return spring.headroom_in_mm, no_more, has


def _little_left(spring: PreloadFigures) -> bool:
    """Whether the band or coil bind leaves a collar whose ends were not counted as little as an end of it would."""
    turns, per_turn_mm = spring.headroom_in_turns.value, spring.mm_per_turn.value
    return near_end(spring.headroom_in_mm.value, turns, per_turn_mm, in_clicks=spring.turned_in == "clicks")


def _or_inf(figure: Figure) -> float:
    return math.inf if figure.value is None else figure.value


# --- the hanging wheel --------------------------------------------------------------------------------------------


def with_hanging_as_ridden(
    job: Job, run: Run, references: Mapping[End, MarkerReference]
) -> Mapping[End, MarkerReference]:
    """The references with the hanging wheel where it was on a run: on a top-out spring that depends on the preload.

    Facts of the machine, such as its travel, its linkage and the top-out spring itself, are those of the job now. Where
    too little of the setup ridden is recorded, the wheel is taken to hang where it does now.

    Args:
        job: the job.
        run: the run.
        references: as marker_references gives them, for the job as it is set now.
    """
    ridden = dict(references)
    if run.front is not None and run.front != job.front and job.front.top_out.fitted == "yes":
        front = _with_facts(run.front, job.front, _FORK_FACTS)
        model = fork_model(replace(job, front=front), front_figures(front, None)[0])
        ridden["front"] = _with_hanging(ridden["front"], hangs_at(model), hangs_at(model))
    if run.rear is not None and run.rear != job.rear and job.rear.top_out.fitted == "yes":
        rear = _with_facts(run.rear, job.rear, _SHOCK_FACTS)
        arm_mm = job.swingarm.pivot_to_axle_mm
        of_rear = shock_figures(replace(job, rear=rear), with_uncertainty=False)
        unloaded = hangs_at(rear_model(replace(job, rear=rear), of_rear.figures, of_rear.linkage))
        ridden["rear"] = _with_hanging(ridden["rear"], unloaded, along_the_shaft(rear, arm_mm, unloaded))
    return ridden


_FORK_FACTS = ("travel_mm", "stanchion_outer_mm", "stanchion_inner_mm", "top_out")
_SHOCK_FACTS = ("stroke_mm", "shaft_mm", "wheel_travel_mm", "motion_ratio", "linkage", "points", "top_out")
_Ridden = TypeVar("_Ridden", Front, Rear)


def _with_facts(ridden: _Ridden, now: _Ridden, facts: tuple[str, ...]) -> _Ridden:
    """The setup that was ridden, with the facts of the machine as the job has them now."""
    known = {name: value for name in facts if (value := getattr(now, name)) not in (None, ())}
    return replace(ridden, **known)


def _with_hanging(reference: MarkerReference, unloaded: Figure, along: Figure) -> MarkerReference:
    return replace(reference, unloaded_mm=unloaded, hanging_mm=along) if along.known else reference


def along_the_shaft(rear: Rear, arm_mm: float | None, at_wheel: Figure, from_mm: Figure = _STOP) -> Figure:
    """How far the shock's shaft goes in for a vertical travel of the wheel.

    Args:
        rear: the shock and its linkage.
        arm_mm: length of the swingarm from pivot to axle [mm], which a linkage by its points needs.
        at_wheel: travel of the wheel [mm].
        from_mm: where that travel begins, from full extension [mm].
    """
    linkage, problem = linkage_of(rear, arm_mm)
    if linkage is None:
        if at_wheel.value == 0.0:
            return at_wheel
        return absent(problem) if problem else Figure(needs=linkage_needs(rear, arm_mm))
    return derive(
        lambda travel, start: linkage.shock_travel(start + travel) - linkage.shock_travel(start), at_wheel, from_mm
    )
