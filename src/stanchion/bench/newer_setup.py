"""Whether the machine of a job has been set up differently in a newer job, by another rider on the same day for one."""

from __future__ import annotations

from collections.abc import Callable

from stanchion.base.errors import BadFile
from stanchion.base.progress import NEVER
from stanchion.base.record import record
from stanchion.job.model import Job, Occasion
from stanchion.job.name_match import match_key
from stanchion.job.returning import setup_of
from stanchion.judgement.work.work_list import work_between
from stanchion.store.library import Library


@record
class NewerSetup:
    """What the machine was set to after a job."""

    name: str
    """File name of the newest job of the machine."""
    occasion: Occasion
    differences: int
    """How many things to turn or change lie between the two setups; at least 1."""


def newer_setup(library: Library, name: str, job: Job, cancelled: Callable[[], bool] = NEVER) -> NewerSetup | None:
    """The newest job of a machine, where it is newer than this one and sets the machine otherwise; else None.

    Only the heads of the files and that one job are read.

    Args:
        library: the jobs.
        name: file name of the job.
        job: the job.
        cancelled: asked between files; once it is true, the answer is None.

    Raises:
        OSError: the folder cannot be listed.
    """
    machine = match_key(job.job.machine)
    rows = library.listing.apart().rows(judged=False, cancelled=cancelled)
    own = next((row for row in rows if row.name == name), None)
    alike = [row for row in rows if not row.problem and not row.copy_of and match_key(row.machine) == machine]
    if cancelled() or not machine or own is None or not alike:
        return None
    newest = max(alike, key=lambda row: (row.date, row.mtime_ns))
    if newest.name == name or (newest.date, newest.mtime_ns) <= (own.date, own.mtime_ns):
        return None
    try:
        other = library.open(newest.path).job
    except BadFile:
        return None  # the list of jobs says what is wrong with it
    differences = len(work_between(setup_of(other), setup_of(job)).items)
    return NewerSetup(newest.name, other.job, differences) if differences else None
