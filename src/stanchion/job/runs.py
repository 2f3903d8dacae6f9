"""Runs: the settings recorded with one when it is logged, the job as it was ridden, and changes in between."""

from __future__ import annotations

from dataclasses import replace

from stanchion.job.diff import Difference, differences
from stanchion.job.model import Job, Run

FACTS = frozenset(
    {
        "air_gap_least_mm",
        "click_mm",
        "eye_to_eye_mm",
        "linkage",
        "motion_ratio",
        "pitch_mm",
        "reading_in",
        "reading_out",
        "shaft_mm",
        "stanchion_inner_mm",
        "stanchion_outer_mm",
        "stroke_mm",
        "total",
        "total_clicks",
        "total_turns",
        "travel_mm",
        "wheel_travel_mm",
    }
)
"""Fields of fork and shock that are facts of the machine: one that is entered later was true before, too."""


def new_run(job: Job, time: str) -> Run:
    """A run to be filled in, with the present settings of the job.

    Args:
        job: the job as it is ridden.
        time: when the run begins, as it is shown.
    """
    last = job.runs[-1] if job.runs else Run()
    return Run(time=time, marker_from=last.marker_from, front=job.front, rear=job.rear)


def is_blank(run: Run) -> bool:
    """Whether a run holds nothing yet but what logging fills in."""
    return run == Run(time=run.time, marker_from=run.marker_from, front=run.front, rear=run.rear)


def as_ridden(job: Job, run: Run) -> Job:
    """The job with the settings recorded with a run; other fields are as in the job."""
    return replace(job, front=run.front or job.front, rear=run.rear or job.rear)


def changes_between(job: Job, earlier: Run, later: Run) -> tuple[Difference, ...]:
    """What was changed at fork and shock from one run to another; computed, never stored.

    A fact of the machine that was only recorded in between is omitted, and so is another base setting: nothing is
    turned for it.

    Args:
        job: the job the runs belong to.
        earlier: the first run.
        later: the second run.
    """
    return _changes(as_ridden(job, earlier), as_ridden(job, later))


def _changes(earlier: Job, later: Job) -> tuple[Difference, ...]:
    found = differences(earlier, later)
    return tuple(
        change
        for change in found
        if change.path[-1] != "base" and not (change.path[-1] in FACTS and change.old in (None, ()))
    )


def changes_before(job: Job, at: int) -> tuple[Difference, ...]:
    """What was changed at fork and shock between the run before and this one; nothing for the first."""
    if not 0 < at < len(job.runs):
        return ()
    return changes_between(job, job.runs[at - 1], job.runs[at])


def changes_since(job: Job, at: int) -> tuple[Difference, ...]:
    """What was changed at fork and shock since a run was ridden.

    A fact of the machine that was only recorded since is omitted.
    """
    return _changes(as_ridden(job, job.runs[at]), job)


def run_as_set(job: Job) -> int | None:
    """The latest run that was ridden with the settings the machine has now; None: no run was."""
    for at in range(len(job.runs) - 1, -1, -1):
        run = job.runs[at]
        if run.front is not None and run.rear is not None and not changes_since(job, at):
            return at
    return None
