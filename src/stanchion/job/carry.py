"""Carrying a job forward to the next occasion: its setup, without what was measured and noted."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from stanchion.base.text import clean
from stanchion.job.edit import Edit, apply, spec_at
from stanchion.job.measured import carried_along
from stanchion.job.model import Job, Occasion, Readings, SagEnd
from stanchion.job.runs import base_positions
from stanchion.job.spec import Text

_NAME = spec_at(("job", "carried_from"))
_LONGEST_NAME = _NAME.longest if isinstance(_NAME, Text) else None


def carried(job: Job, file_name: str, today: dt.date) -> Job:
    """A new job that starts from an earlier one.

    Machine, rider, venue, use, the whole setup and upkeep are kept, and where no base was set, the positions of the
    first run become it; so is how sag is read (gauge, tape). Sag
    readings, the fuel they were taken with, runs, notes, and which torques were done are cleared, for they belong to
    the day; so do comments and keys that this version does not know under [sag] and [[runs]]. The new job is no
    sample, and has no id until its file is made: it is another job.

    Args:
        job: the job to start from.
        file_name: the name of its file, recorded as the origin of the new job.
        today: the date of the new job.
    """
    based = job
    for path, base in base_positions(job).items():
        based = apply(based, Edit(path, base))
    return replace(
        based,
        job=replace(
            job.job,
            date=today,
            carried_from=file_name[:_LONGEST_NAME],
            carried_id=job.job.id,
            id="",
            sample=False,
            notes="",
        ),
        upkeep=replace(
            carried_along(job), torques=tuple(replace(t, done=False, initials="") for t in job.upkeep.torques)
        ),
        runs=(),
        sag=replace(job.sag, front=_unread(job.sag.front), rear=_unread(job.sag.rear), fuel=""),
        unknown=tuple((path, value) for path, value in job.unknown if path[0] not in ("sag", "runs")),
        comments=tuple(one for one in job.comments if one.path[:1] not in (("sag",), ("runs",))),
    )


def another_rider(job: Job, earlier: Job) -> bool:
    """Whether a job names another rider than an earlier one, or gives another mass for the rider."""
    now, then = job.job, earlier.job
    if clean(now.rider).strip().casefold() != clean(then.rider).strip().casefold():
        return True
    return now.rider_mass_kg != then.rider_mass_kg and None not in (now.rider_mass_kg, then.rider_mass_kg)


def without_aboard(job: Job) -> Job:
    """The job without what the scales read with the rider aboard: it is true of the earlier rider only."""
    return replace(job, weights=replace(job.weights, front_aboard_kg=None, rear_aboard_kg=None))


def identified(job: Job, identity: str) -> Job:
    """The job with another id."""
    return job if job.job.id == identity else replace(job, job=replace(job.job, id=identity))


def may_be_source(job: Occasion, other: Occasion) -> bool:
    """Whether a job found under the name in `carried_from` can be the one this was carried forward from.

    Two ids decide it. Files from before ids were written are distinguished as far as possible: by the machine.

    >>> may_be_source(Occasion(carried_id="a1"), Occasion(id="b2"))
    False
    """
    if job.carried_id and other.id:
        return job.carried_id == other.id
    named = job.machine.casefold(), other.machine.casefold()
    return not all(named) or named[0] == named[1]


def _unread(end: SagEnd) -> SagEnd:
    return replace(end, hanging_mm=(), static=Readings(), rider=Readings())
