"""What the travel markers are read against: sag, and what the preload adjusters have left."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import TypeVar

from stanchion.job.measured import changed_since_read
from stanchion.job.model import ENDS, SIDES, End, Front, Job, Rear, Run
from stanchion.judgement.ends.end_model import hangs_at
from stanchion.judgement.ends.fork_model import fork_model
from stanchion.judgement.ends.front import front_figures
from stanchion.judgement.ends.rear import linkage_of, rear_figures
from stanchion.judgement.ends.rear_model import rear_model
from stanchion.judgement.predict.prediction import EndModels
from stanchion.judgement.results.assessment import FrontFigures, PreloadFigures, RearFigures, SagFigures
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.results.ridden import MarkerReference

_NO_SPRING = absent("no_spring")
_STOP = Figure(0.0)
_NOT_AS_RIDDEN = absent("sag_changed")


def marker_references(
    job: Job, front: FrontFigures, rear: RearFigures, sag: SagFigures, models: EndModels
) -> dict[End, MarkerReference]:
    """What the markers of any run are read against, with the adjusters as they stand in the job."""
    adjusters = {"front": _fork_adjuster(job.front, front), "rear": _shock_adjuster(job.rear, rear)}
    unloaded = {end: hangs_at(models.end(end)) for end in ENDS}
    hanging = {"front": unloaded["front"], "rear": along_the_shaft(job.rear, unloaded["rear"])}
    return {
        end: MarkerReference(
            static_mm=sag.end(end).static.sag_mm,
            rider_mm=sag.end(end).rider.sag_mm,
            rider_verdict=sag.end(end).rider.verdict,
            headroom_in_mm=adjusters[end][0],
            headroom_in_turns=adjusters[end][1],
            has_adjuster=adjusters[end][2],
            unloaded_mm=unloaded[end],
            hanging_mm=hanging[end],
        )
        for end in ENDS
    }


def references_as_ridden(
    job: Job, run: Run, references: Mapping[End, MarkerReference]
) -> Mapping[End, MarkerReference]:
    """The same with the adjusters as they stood on a run, and without rider sag that was read with others.

    Only an end whose preload was changed since is worked out anew; what was only measured later counts for the run.
    """
    ridden = dict(references)
    set_up = replace(job, front=run.front or job.front, rear=run.rear or job.rear)
    for end in ENDS:
        if changed_since_read(set_up, end, "rider"):
            ridden[end] = replace(ridden[end], rider_mm=_NOT_AS_RIDDEN, rider_verdict="", rider_changed=True)
    if run.front is not None and _turned(run.front, job.front):
        adjuster = _fork_adjuster(run.front, front_figures(run.front, None)[0])
        ridden["front"] = _with(ridden["front"], adjuster)
    if run.rear is not None and run.rear.collar.now != job.rear.collar.now:
        adjuster = _shock_adjuster(run.rear, rear_figures(run.rear, None, (None, None), with_uncertainty=False).figures)
        ridden["rear"] = _with(ridden["rear"], adjuster)
    return ridden


def _turned(ridden: Front, now: Front) -> bool:
    return any(ridden.leg(side).adjuster.now != now.leg(side).adjuster.now for side in SIDES)


_Left = tuple[Figure, Figure, bool]
"""What an adjuster has left towards more preload, in mm and in turns, and whether there is one."""


def _with(reference: MarkerReference, left: _Left) -> MarkerReference:
    return replace(reference, headroom_in_mm=left[0], headroom_in_turns=left[1], has_adjuster=left[2])


def _fork_adjuster(fork: Front, figures: FrontFigures) -> _Left:
    """The leg that has least left speaks for both."""
    legs: list[PreloadFigures] = []
    for side in SIDES if fork.split else SIDES[:1]:
        if figures.leg(side).has_spring and fork.leg(side).adjuster.counting != "none":
            legs.append(figures.leg(side))
    if not legs:
        return _NO_SPRING, _NO_SPRING, False
    least = min(legs, key=lambda leg: _or_inf(leg.headroom_in_mm))
    return least.headroom_in_mm, least.headroom_in_turns, True


def _shock_adjuster(shock: Rear, figures: RearFigures) -> _Left:
    has = shock.collar.counting != "none"
    return figures.spring.headroom_in_mm, figures.spring.headroom_in_turns, has


def _or_inf(figure: Figure) -> float:
    return math.inf if figure.value is None else figure.value


# --- the hanging wheel --------------------------------------------------------------------------------------------


def hung_as_ridden(job: Job, run: Run, references: Mapping[End, MarkerReference]) -> Mapping[End, MarkerReference]:
    """The same with the hanging wheel where it stood on a run: on a top-out spring that depends on spring and preload.

    What is a fact of the machine, such as its travel, its linkage and the top-out spring itself, is as the job has it
    now. Where the setup ridden tells too little, the wheel is taken to hang as it does now.

    Args:
        job: the job.
        run: the run.
        references: what markers are read against, with the job as it is set now.
    """
    hung = dict(references)
    if run.front is not None and run.front != job.front and job.front.top_out.fitted == "yes":
        front = _with_facts(run.front, job.front, _FORK_FACTS)
        model = fork_model(replace(job, front=front), front_figures(front, None)[0])
        hung["front"] = _hung(hung["front"], hangs_at(model), hangs_at(model))
    if run.rear is not None and run.rear != job.rear and job.rear.top_out.fitted == "yes":
        rear = _with_facts(run.rear, job.rear, _SHOCK_FACTS)
        of_rear = rear_figures(rear, None, (None, None), with_uncertainty=False)
        unloaded = hangs_at(rear_model(replace(job, rear=rear), of_rear.figures, of_rear.linkage))
        hung["rear"] = _hung(hung["rear"], unloaded, along_the_shaft(rear, unloaded))
    return hung


_FORK_FACTS = ("travel_mm", "stanchion_outer_mm", "stanchion_inner_mm", "top_out")
_SHOCK_FACTS = ("stroke_mm", "shaft_mm", "wheel_travel_mm", "motion_ratio", "linkage", "top_out")
_Ridden = TypeVar("_Ridden", Front, Rear)


def _with_facts(ridden: _Ridden, now: _Ridden, facts: tuple[str, ...]) -> _Ridden:
    """The setup that was ridden, with what is said of the machine itself now."""
    known = {name: value for name in facts if (value := getattr(now, name)) not in (None, ())}
    return replace(ridden, **known)


def _hung(reference: MarkerReference, unloaded: Figure, along: Figure) -> MarkerReference:
    return replace(reference, unloaded_mm=unloaded, hanging_mm=along) if along.known else reference


def along_the_shaft(rear: Rear, at_wheel: Figure, from_mm: Figure = _STOP) -> Figure:
    """What the shock's shaft goes in for a vertical travel of the wheel.

    Args:
        rear: the shock and its linkage.
        at_wheel: travel of the wheel [mm].
        from_mm: where that travel begins, from full extension [mm].
    """
    linkage, problem = linkage_of(rear)
    if linkage is None:
        if at_wheel.value == 0.0:
            return at_wheel
        return absent(problem) if problem else Figure(needs=(("rear", "motion_ratio"),))
    return derive(
        lambda travel, start: linkage.shock_travel(start + travel) - linkage.shock_travel(start), at_wheel, from_mm
    )
