"""What the travel markers are read against: sag, and what the preload adjusters have left."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from stanchion.job.measured import changed_since_read
from stanchion.job.model import ENDS, SIDES, End, Front, Job, Rear, Run
from stanchion.judgement.assessment import FrontFigures, PreloadFigures, RearFigures, SagFigures
from stanchion.judgement.figures import Figure, absent
from stanchion.judgement.front import front_figures
from stanchion.judgement.rear import rear_figures
from stanchion.judgement.ridden import SagBehind
from stanchion.judgement.top_out import TopOutState

_NO_SPRING = absent("no_spring")
_NOT_AS_RIDDEN = absent("sag_changed")


def behind_ends(
    job: Job, front: FrontFigures, rear: RearFigures, sag: SagFigures, top_out: TopOutState
) -> dict[End, SagBehind]:
    """What the markers of any run are read against, with the adjusters as they stand in the job."""
    adjusters = {"front": _fork_adjuster(job.front, front), "rear": _shock_adjuster(job.rear, rear)}
    hanging: dict[End, Figure] = {"front": _hanging(job.front, top_out), "rear": Figure(0.0)}
    return {
        end: SagBehind(
            static_mm=sag.end(end).static.sag_mm,
            rider_mm=sag.end(end).rider.sag_mm,
            rider_verdict=sag.end(end).rider.verdict,
            headroom_in_mm=adjusters[end][0],
            headroom_in_turns=adjusters[end][1],
            has_adjuster=adjusters[end][2],
            hanging_mm=hanging[end],
        )
        for end in ENDS
    }


def behind_as_ridden(job: Job, run: Run, behind: Mapping[End, SagBehind]) -> Mapping[End, SagBehind]:
    """The same with the adjusters as they stood on a run, and without rider sag that was read with others.

    Only an end whose preload was changed since is worked out anew; what was only measured later counts for the run.
    """
    ridden = dict(behind)
    set_up = replace(job, front=run.front or job.front, rear=run.rear or job.rear)
    for end in ENDS:
        if changed_since_read(set_up, end, "rider"):
            ridden[end] = replace(ridden[end], rider_mm=_NOT_AS_RIDDEN, rider_verdict="", rider_changed=True)
    if run.front is not None and _turned(run.front, job.front):
        adjuster = _fork_adjuster(run.front, front_figures(run.front, None)[0])
        ridden["front"] = _with(ridden["front"], adjuster)
    if run.rear is not None and run.rear.collar.now != job.rear.collar.now:
        adjuster = _shock_adjuster(run.rear, rear_figures(run.rear, None, (None, None)).figures)
        ridden["rear"] = _with(ridden["rear"], adjuster)
    return ridden


def _turned(ridden: Front, now: Front) -> bool:
    return any(ridden.leg(side).adjuster.now != now.leg(side).adjuster.now for side in SIDES)


_Left = tuple[Figure, Figure, bool]
"""What an adjuster has left towards more preload, in mm and in turns, and whether there is one."""


def _with(behind: SagBehind, left: _Left) -> SagBehind:
    return replace(behind, headroom_in_mm=left[0], headroom_in_turns=left[1], has_adjuster=left[2])


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


def _hanging(fork: Front, top_out: TopOutState) -> Figure:
    if top_out.unloaded_mm is not None:
        return Figure(top_out.unloaded_mm)
    return Figure(0.0, estimate=fork.top_out.fitted == "yes")
