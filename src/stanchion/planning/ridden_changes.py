"""Logging a run with the changes it is ridden with, and taking a change back that the rider found worse."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import replace

from stanchion.base.errors import BadEdit
from stanchion.job.change import MOST_CHANGES, ChangeToRide, RiddenChange
from stanchion.job.complaint import MOST_COMPLAINTS
from stanchion.job.diff import Difference
from stanchion.job.edit import Edit, apply
from stanchion.job.model import Job, Run
from stanchion.job.proof import AT, differences_of, holds, made_at, moves_of
from stanchion.job.returning import AT as LIST_AT
from stanchion.job.returning import returning, setup_of
from stanchion.job.runs import as_ridden, as_set, run_as_left, with_moves
from stanchion.judgement.work.proof import changed_items, separate_changes
from stanchion.judgement.work.work_list import work_between


def logged(job: Job, run: Run, now: dt.datetime) -> tuple[Edit, ...]:
    """The edits that add a new run, with the changes that the machine has and no run was ridden with yet.

    A position that was read only after the run before, and from which a change began, goes to that run: it was ridden
    with it.

    Args:
        job: the job.
        run: the run, with the settings of the job.
        now: the time for changes that were made without a tick.
    """
    ridden = [one if one.made_on is not None else made_at(one, now) for one in job.changes if holds(job, one)]
    left = tuple(one for one in job.changes if one.made_on is None and not holds(job, one))
    if job.runs:
        known = with_moves(job.runs[-1], ridden)
        job = replace(job, runs=(*job.runs[:-1], known))
    run = replace(run, change=_as_ridden(job, run, ridden, len(job.runs)))
    return Edit(("runs",), (*job.runs, run)), Edit(AT, left)


def _as_ridden(job: Job, run: Run, changes: list[ChangeToRide], at: int) -> RiddenChange | None:
    """What is recorded with a run of the changes it is ridden with; None where there is none.

    Args:
        job: the job.
        run: the run.
        changes: the changes.
        at: where the run is, or will be, among the runs.
    """
    if not changes:
        return None
    latest = changes[-1]
    told = tuple(dict.fromkeys(one for change in changes for one in change.complaints))[:MOST_COMPLAINTS]
    apart = len(changes)
    if at > 0:
        apart = max(1, len(separate_changes(changed_items(job.runs[at - 1], run), changes)))
    return RiddenChange(
        made_on=latest.made_on,
        made_at=latest.made_at,
        complaints=told,
        at_once=float(apart) if apart > 1 else None,
        expected=latest.expected,
    )


def restamped(job: Job, at: int, edits: Iterable[Edit]) -> tuple[Edit, ...]:
    """The edits to make once it is known that the latest run was ridden before a change, or with it after all.

    A change that was not ridden with it waits for the next run; one that waits, and was ridden with it, goes to it.

    Args:
        job: the job.
        at: the run; nothing is to be done for another than the latest.
        edits: those that record the settings it was ridden with.
    """
    if at != len(job.runs) - 1:
        return ()
    after = job
    for edit in edits:
        after = apply(after, edit)
    run = after.runs[at]
    differ = [change for item in changed_items(with_moves(run, after.changes), as_set(job)) for change in item.changes]
    if run.change is not None and differ:
        waiting = _waiting(run.change, differ)
        return Edit(("runs", at, "change"), None), Edit(AT, (*job.changes, waiting)[-MOST_CHANGES:])
    ridden = as_ridden(after, run)
    with_it = [one for one in job.changes if one.made_on is not None and holds(ridden, one)]
    if run.change is not None or not with_it:
        return ()
    left = tuple(one for one in job.changes if one not in with_it)
    return Edit(("runs", at, "change"), _as_ridden(job, run, with_it, at)), Edit(AT, left)


def waiting_again(job: Job, at: int) -> tuple[Edit, ...]:
    """The edit after which the change of the latest run waits for its run again, as that one is to be deleted; none for
    an earlier run, and for the first, whose change cannot be told from its settings."""
    change = job.runs[at].change
    if at != len(job.runs) - 1 or at == 0 or change is None:
        return ()
    differ = [one for item in changed_items(job.runs[at - 1], job.runs[at]) for one in item.changes]
    return (Edit(AT, (_waiting(change, differ), *job.changes)[-MOST_CHANGES:]),) if differ else ()


def _waiting(change: RiddenChange, differ: Iterable[Difference]) -> ChangeToRide:
    return ChangeToRide(
        made_on=change.made_on,
        made_at=change.made_at,
        complaints=change.complaints,
        moves=moves_of(differ),
        expected=change.expected,
    )


def taken_back(job: Job, at: int, title: str) -> Edit | None:
    """The edit that puts on the work list what takes back what was changed for a run; what was changed since stays.

    Args:
        job: the job.
        at: the run.
        title: what it is, in words.

    Returns:
        The edit; None for the first run, and where nothing of it is left.
    """
    if at == 0:
        return None
    before = job
    for item in changed_items(job.runs[at - 1], job.runs[at]):
        for change in (*item.changes, *item.along):
            try:
                before = apply(before, Edit(change.path, change.old))
            except BadEdit:  # the machine has no such part now
                continue
    to = setup_of(before)
    if not work_between(setup_of(job), to).items:
        return None
    return Edit(LIST_AT, returning(job, to, job="", run=None, title=title))


def back_at_once(job: Job, change: ChangeToRide) -> bool:
    """Whether a change only brings fork and shock back to what the last run had, so that nothing is to be judged."""
    paths = {one.path[0] for one in differences_of(change)}
    return (
        paths <= {"front", "rear"}
        and bool(job.runs)
        and not changed_items(run_as_left(job, len(job.runs) - 1), as_set(job))
    )
