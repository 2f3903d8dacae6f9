"""Runs: what is stamped on one when it is logged, and the job as it was ridden."""

from __future__ import annotations

from dataclasses import replace

from stanchion.job.diff import Difference, differences
from stanchion.job.model import Job, Run


def new_run(job: Job, time: str) -> Run:
    """A run to be filled in, with the settings of the job stamped on it.

    Args:
        job: the job as it is ridden.
        time: when the run begins, as it is shown.
    """
    last = job.runs[-1] if job.runs else Run()
    return Run(time=time, marker_from=last.marker_from, front=job.front, rear=job.rear)


def as_ridden(job: Job, run: Run) -> Job:
    """The job with the settings that were stamped on a run."""
    return replace(job, front=run.front or job.front, rear=run.rear or job.rear)


def changes_before(job: Job, at: int) -> tuple[Difference, ...]:
    """What was changed at fork and shock between the run before and this one; nothing for the first."""
    if not 0 < at < len(job.runs):
        return ()
    before, now = as_ridden(job, job.runs[at - 1]), as_ridden(job, job.runs[at])
    return differences(before, now)
