"""What was changed from one run to the next, as far as a verdict on it can be believed: one change, or several."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from stanchion.job.change import ChangeToRide
from stanchion.job.model import Job, Path, Run
from stanchion.job.proof import differences_of, made
from stanchion.job.returning import setup_ridden
from stanchion.job.runs import as_set, run_as_left
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.work.work import Item
from stanchion.judgement.work.work_list import work_between

_MEASURED = ("set_length", "shock_set_length")
"""Kinds of work that are a reading, not a change by themselves."""


def changed_items(before: Run, after: Run) -> tuple[Item, ...]:
    """What was done at fork and shock between the settings of two runs; a position that was only recorded since is no
    change."""
    found = work_between(setup_ridden(before), setup_ridden(after)).items
    return tuple(
        item
        for item in found
        if item.kind not in _MEASURED and any(change.old not in (None, "", ()) for change in item.changes)
    )


def separate_changes(items: Iterable[Item], recorded: Iterable[ChangeToRide]) -> tuple[tuple[Item, ...], ...]:
    """The items as the changes they belong to: those of one recorded change together, every other one by itself.

    Args:
        items: what was done.
        recorded: the changes that were recorded for it.
    """
    paths = [{one.path for one in differences_of(change)} for change in recorded]
    groups: dict[object, list[Item]] = {}
    for item in items:
        own = {change.path for change in item.changes}
        key: object = next((at for at, of in enumerate(paths) if own & of), item.name)
        groups.setdefault(key, []).append(item)
    return tuple(tuple(group) for group in groups.values())


def changes_at_once(job: Job, at: int) -> int:
    """How many changes a run was ridden with for the first time: by what was recorded when it was logged, else every
    item of work by itself."""
    if not 0 <= at < len(job.runs):
        return 0
    change = job.runs[at].change
    if change is not None:
        return int(change.at_once or 1)
    return len(changed_items(job.runs[at - 1], job.runs[at])) if at > 0 else 0


def verdict_wanted(job: Job, at: int) -> bool:
    """Whether a run has no verdict yet, and something was changed for it: the latest run, or one with a change that was
    recorded to be judged."""
    if not 0 <= at < len(job.runs) or job.runs[at].verdict != "not_said":
        return False
    return job.runs[at].change is not None or (at == len(job.runs) - 1 and changes_at_once(job, at) > 0)


def proof_findings(job: Job) -> Iterator[Finding]:
    """Warnings where a verdict will not tell, or did not tell, which of several changes helped, and where the next
    change was made before the last had its verdict.

    Only where a change is to be judged: one was recorded as such, or the rider complained of something on the last run.
    """
    if not job.runs:
        return
    last = len(job.runs) - 1
    run = job.runs[last]
    where: Path = ("runs", last, "verdict")
    waiting = made(job)
    since = separate_changes(changed_items(run_as_left(job, last), as_set(job)), waiting)
    if len(since) > 1 and (waiting or run.complaints):
        yield Finding("changed_together", Severity.WARNING, where, {"count": len(since), "run": last + 1})
    if run.verdict != "not_said" or run.change is None:
        return
    ridden = changes_at_once(job, last)
    if ridden > 1:
        yield Finding("ridden_together", Severity.WARNING, where, {"count": ridden, "run": last + 1})
    if since:
        yield Finding("changed_before_verdict", Severity.WARNING, where, {"run": last + 1})
