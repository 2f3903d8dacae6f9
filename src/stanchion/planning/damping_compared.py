"""Frequency and damping now, beside those of the job before and of the run with the best lap."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace
from typing import Literal

from stanchion.base.record import record
from stanchion.job.model import ENDS, End, Front, Job, Rear
from stanchion.job.runs import as_ridden, changes_since
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import Profiles
from stanchion.judgement.predict.damping import damping_figures, damping_wanted
from stanchion.judgement.predict.damping_ratios import rebound_for
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.damping import DampingFigures
from stanchion.judgement.results.figures import Figure


@record(kw_only=True)
class EarlierDamping:
    """Both ends as they were, and what is wanted now for the same damping ratio."""

    what: Literal["job", "run"]
    """The job this one was carried from, or the run with the best lap."""
    on: dt.date
    """The day of that job."""
    run: int
    """Which run, from 0."""
    figures: DampingFigures
    damping: Mapping[End, Figure]
    """Damping wanted now over damping then, by end."""
    rebound: Mapping[End, Figure]
    """Where rebound should stand now by the sheet of its damper; absent without one."""
    settings: Mapping[End, Front | Rear]
    """Both ends as they were set then."""


def since_job(
    job: Job, now: DampingFigures, previous: Job | None, before: Assessment | None
) -> tuple[EarlierDamping, ...]:
    """The job before to compare with; nothing where it is not known.

    Args:
        job: the job.
        now: its figures.
        previous: the job it was carried from; None: not known.
        before: what assess() gave for that.
    """
    if previous is None or before is None:
        return ()
    then = damping_figures(previous, before)
    return (_compared(job, now, previous, then, run=None),)


def since_best_lap(job: Job, now: DampingFigures, profiles: Profiles) -> tuple[EarlierDamping, ...]:
    """The run with the best lap to compare with, if it was set otherwise.

    Args:
        job: the job.
        now: its figures.
        profiles: bands and targets.
    """
    best = _best_run(job)
    if best is None or not changes_since(job, best):
        return ()
    ridden = replace(as_ridden(job, job.runs[best]), runs=())
    then = damping_figures(ridden, assess(ridden, profiles))
    return (_compared(job, now, ridden, then, run=best),)


def _compared(job: Job, now: DampingFigures, before: Job, then: DampingFigures, *, run: int | None) -> EarlierDamping:
    damping = damping_wanted(now, then)
    settings: dict[End, Front | Rear] = {"front": before.front, "rear": before.rear}
    return EarlierDamping(
        what="job" if run is None else "run",
        on=before.job.date,
        run=run or 0,
        figures=then,
        damping=damping,
        rebound={end: rebound_for(job, end, settings[end], damping[end]) for end in ENDS},
        settings=settings,
    )


def _best_run(job: Job) -> int | None:
    """The run with the best lap of those that hold the settings ridden; None where no lap is recorded."""
    timed = [
        (run.best_lap_s, at)
        for at, run in enumerate(job.runs)
        if run.best_lap_s is not None and run.front is not None and run.rear is not None
    ]
    return min(timed)[1] if timed else None
