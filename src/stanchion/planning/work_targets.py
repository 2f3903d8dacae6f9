"""Setups that a machine can be returned to: those of a job and of each of its runs."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from stanchion.base.record import record
from stanchion.job.model import Job, Occasion, Returning, Run, Setup
from stanchion.job.name_match import match_key
from stanchion.job.returning import returning, setup_of, setup_ridden
from stanchion.judgement.work.work import WorkList
from stanchion.judgement.work.work_list import work_between


@record(kw_only=True)
class WorkTarget:
    """One setup to return to. wording/work_sentences.py names it."""

    name: str
    """File name of the job; empty: the one in hand."""
    run: int | None
    """Index of the run; None: the present setup of the job."""
    ridden: Run | None = None
    """That run."""
    occasion: Occasion | None = None
    """Occasion of that job; None: the job in hand."""
    setup: Setup
    found_on: dt.date | None = None
    """When the machine was found with that setup; None: it is the setup of a run or job."""
    tyres_bar: tuple[float | None, float | None] = (None, None)
    """Cold pressures that were found with it, front and rear [bar]."""
    order: Literal["", "latest", "previous"] = ""
    """Whether it is the latest run of its job, or the one before that."""
    best_lap: bool = False
    """Whether it is the run with the best of several laps."""
    machine: str = ""
    """Name of the machine where it is not the one in hand, to ask before using it; otherwise empty."""


def runs_of(job: Job, name: str = "", occasion: Occasion | None = None) -> Iterator[WorkTarget]:
    """The runs of a job with the settings that were ridden, the latest first.

    Args:
        job: the job.
        name: its file name; empty: the one in hand.
        occasion: occasion of that job; None: the job in hand.
    """
    laps = [run.best_lap_s for run in job.runs if run.best_lap_s is not None]
    last = len(job.runs) - 1
    for at in range(last, -1, -1):
        run = job.runs[at]
        if run.front is None and run.rear is None:
            continue
        yield WorkTarget(
            name=name,
            run=at,
            ridden=run,
            occasion=occasion,
            setup=setup_ridden(run),
            order="latest" if at == last else "previous" if at == last - 1 else "",
            best_lap=len(laps) > 1 and run.best_lap_s == min(laps),
        )


def as_found(job: Job, name: str = "", occasion: Occasion | None = None) -> Iterator[WorkTarget]:
    """The machine as it was found, where that is recorded."""
    found = job.found
    if found is not None and found.on is not None and (found.front is not None or found.rear is not None):
        yield WorkTarget(
            name=name,
            run=None,
            occasion=occasion,
            setup=Setup(front=found.front, rear=found.rear),
            found_on=found.on,
            tyres_bar=(found.front_cold_bar, found.rear_cold_bar),
        )


def targets_of(job: Job, name: str, machine: str = "") -> Iterator[WorkTarget]:
    """The present setup of another job, then its runs, and the machine as it was found.

    Args:
        job: the other job.
        name: its file name.
        machine: the machine in hand; where the job is for another one, the targets name it.
    """
    of = job.job
    other = of.machine if match_key(machine) != match_key(of.machine) else ""
    yield WorkTarget(name=name, run=None, occasion=of, setup=setup_of(job), machine=other)
    for target in (*runs_of(job, name, of), *as_found(job, name, of)):
        yield replace(target, machine=other)


def begin(job: Job, target: WorkTarget, title: str) -> Returning:
    """A new work list that returns a job to a target, with that title."""
    return returning(job, target.setup, job=target.name, run=target.run, title=title)


def work_to(job: Job, target: WorkTarget) -> WorkList:
    """The work that brings a job to a target; what the target did not record is named in it."""
    return work_between(setup_of(job), target.setup)
