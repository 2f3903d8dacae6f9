"""Frequency and damping now, beside those of the job before and of the run with the best lap."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace
from typing import Literal

from stanchion.base.record import record
from stanchion.job.model import ENDS, End, Job
from stanchion.job.runs import as_ridden, changes_since
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import Profiles
from stanchion.judgement.predict.damping import damping_figures
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.damping import DampingFigures, EndDamping
from stanchion.judgement.results.figures import Figure, derive
from stanchion.mechanics.vibration import damping_change


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


def since_job(now: DampingFigures, previous: Job | None, before: Assessment | None) -> tuple[EarlierDamping, ...]:
    """The job before to compare with; nothing where it is not known.

    Args:
        now: the figures of the job.
        previous: the job it was carried from; None: not known.
        before: what assess() gave for that.
    """
    if previous is None or before is None:
        return ()
    then = damping_figures(previous, before)
    return (EarlierDamping(what="job", on=previous.job.date, run=0, figures=then, damping=_wanted(now, then)),)


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
    return (EarlierDamping(what="run", on=job.job.date, run=best, figures=then, damping=_wanted(now, then)),)


def _best_run(job: Job) -> int | None:
    """The run with the best lap of those that hold the settings ridden; None where no lap is recorded."""
    timed = [
        (run.best_lap_s, at)
        for at, run in enumerate(job.runs)
        if run.best_lap_s is not None and run.front is not None and run.rear is not None
    ]
    return min(timed)[1] if timed else None


def _wanted(now: DampingFigures, then: DampingFigures) -> dict[End, Figure]:
    return {end: _wanted_at(now.end(end), then.end(end)) for end in ENDS}


def _wanted_at(now: EndDamping, then: EndDamping) -> Figure:
    return derive(damping_change, then.wheel_rate_n_per_mm, then.sprung_kg, now.wheel_rate_n_per_mm, now.sprung_kg)
