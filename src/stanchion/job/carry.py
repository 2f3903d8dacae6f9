"""The next occasion: last time's setup, without what was measured and noted then."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from stanchion.job.edit import spec_at
from stanchion.job.measured import carried_along
from stanchion.job.model import Job, Readings, SagEnd
from stanchion.job.spec import Text

_NAME = spec_at(("job", "carried_from"))
_LONGEST_NAME = _NAME.longest if isinstance(_NAME, Text) else None


def carried(job: Job, file_name: str, today: dt.date) -> Job:
    """A new job that starts from an earlier one.

    Machine, rider, venue, use, the whole setup and upkeep are kept; so is how sag is read (gauge, tape). Sag
    readings, the fuel they were taken with, runs, notes, and which torques were done are cleared, for they belong to
    the day; so do keys under [sag] and [[runs]] that this version does not know. The new job is no sample.

    Args:
        job: the job to start from.
        file_name: the name of its file, kept as where the new job comes from.
        today: the date of the new job.
    """
    return replace(
        job,
        job=replace(job.job, date=today, carried_from=file_name[:_LONGEST_NAME], sample=False, notes=""),
        upkeep=replace(
            carried_along(job), torques=tuple(replace(t, done=False, initials="") for t in job.upkeep.torques)
        ),
        runs=(),
        sag=replace(job.sag, front=_unread(job.sag.front), rear=_unread(job.sag.rear), fuel=""),
        unknown=tuple((path, value) for path, value in job.unknown if path[0] not in ("sag", "runs")),
    )


def _unread(end: SagEnd) -> SagEnd:
    return replace(end, hanging_mm=(), static=Readings(), rider=Readings())
