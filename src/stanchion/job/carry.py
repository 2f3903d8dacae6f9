"""The next occasion: last time's setup, without what was measured and noted then."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from stanchion.job.model import Job, Readings, SagEnd
from stanchion.job.spec import Text, specs_of


def carried(job: Job, file_name: str, today: dt.date) -> Job:
    """A new job that starts from an earlier one.

    Machine, rider, venue, use and the whole setup are kept; so is how sag is read (gauge, tape). Sag readings, the
    fuel they were taken with, and notes are cleared, for they belong to the day. The new job is no sample.

    Args:
        job: the job to start from.
        file_name: the name of its file, kept as where the new job comes from.
        today: the date of the new job.
    """
    spec = specs_of(type(job.job))["carried_from"]
    longest = spec.longest if isinstance(spec, Text) else len(file_name)
    return replace(
        job,
        job=replace(job.job, date=today, carried_from=file_name[:longest], sample=False, notes=""),
        sag=replace(job.sag, front=_unread(job.sag.front), rear=_unread(job.sag.rear), fuel=""),
    )


def _unread(end: SagEnd) -> SagEnd:
    return replace(end, hanging_mm=(), static=Readings(), rider=Readings())
