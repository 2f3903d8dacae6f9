"""The work list that returns a machine to an earlier setup, in the order of the work on the machine.

The job and the setup returned to decide which items are done: ticking an item gives the job the earlier values.
Settings that the earlier setup did not record give no work.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from stanchion.job.diff import SPLIT
from stanchion.job.edit import Edit, apply
from stanchion.job.measured import changed_since_read, noted
from stanchion.job.model import ENDS, SIDES, STATES, End, Front, Job, Readings, Setup, Side, State
from stanchion.job.returning import AT, setup_of
from stanchion.judgement.results.codes import WorkCode
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.work.work import KINDS, Item, WorkList
from stanchion.judgement.work.work_items import items_between, unrecorded

_ORDER = {kind: at for at, kind in enumerate(KINDS)}
_PLACES = ("front", "left", "right", "rear")


def work_list(job: Job) -> WorkList | None:
    """The work list of a job; None where the job is not being returned to an earlier setup."""
    if job.returning is None:
        return None
    return with_sag(job, work_between(setup_of(job), job.returning.to, job.returning.start))


def with_sag(job: Job, found: WorkList) -> WorkList:
    """The work list with the ends whose sags, as the job has them, count again once the work is done.

    Args:
        job: the job, with part of the work done or none.
        found: its work list.
    """
    then = job
    for edit in (edit for item in found.open_items for edit in ticked(then, item)):
        then = noted(apply(then, edit), edit.path, then, tried=True)
    counts = (end for end in ENDS if _counts(then, end))
    return replace(found, sag_counts=frozenset(counts))


def _counts(job: Job, end: End) -> bool:
    """Whether an end has sags, and all of them were read with what is fitted."""
    sag = job.sag.end(end)
    readings: dict[State, Readings] = {"static": sag.static, "rider": sag.rider}
    states = [state for state in STATES if readings[state].down_mm or readings[state].up_mm]
    return bool(states) and not any(changed_since_read(job, end, state) for state in states)


def work_between(now: Setup, then: Setup, start: Setup | None = None) -> WorkList:
    """The work list that brings a machine from one setup to another.

    Args:
        now: the present setup.
        then: the setup to reach.
        start: the setup when the work began; what was changed to `then` since is listed as done.
    """
    sides = SIDES if any(_split(of.front) for of in (now, then, start) if of is not None) else SIDES[:1]
    open_items = list(items_between(now, then, sides))
    open_at = {change.path for item in open_items for change in item.changes}
    stuck = {(item.kind, item.place) for item in open_items if not item.changes}
    done: list[Item] = []
    for item in items_between(start, then, sides) if start is not None else ():
        still_open = open_at.intersection(change.path for change in item.changes)
        if item.changes and not item.problem and not still_open and (item.kind, item.place) not in stuck:
            done.append(replace(item, done=True))
    found = sorted(_legs_together([*open_items, *done], sides), key=_order)
    return WorkList(
        items=tuple(found), unrecorded=tuple(unrecorded(now, then, sides)), legs_apart=len(sides) == len(SIDES)
    )


def work_findings(job: Job) -> Iterator[Finding]:
    """Note that a work list is open, and how many items are left."""
    found = work_list(job)
    if found is not None:
        code: WorkCode = "work_list_open" if found.open_items else "work_list_done"
        yield Finding(code, Severity.NOTE, AT, {"left": len(found.open_items)})


def ticked(job: Job, item: Item) -> tuple[Edit, ...]:
    """The edits to make in the job once an item is done on the machine."""
    return (*_split_legs(job, item), *(change.edit for change in (*item.changes, *item.along)))


def unticked(job: Job, item: Item) -> tuple[Edit, ...]:
    """The edits that restore the values a done item had when the work began."""
    back = (Edit(change.path, change.old) for change in (*item.changes, *item.along))
    return (*_split_legs(job, item), *back)


def _split_legs(job: Job, item: Item) -> Iterator[Edit]:
    """The edit that splits the legs, for work on one leg of a fork entered as two alike."""
    if item.place in SIDES and not job.front.split:
        yield Edit(SPLIT, job.front.left)


def _split(front: Front | None) -> bool:
    return front is not None and front.split


def _order(item: Item) -> tuple[int, int]:
    return _ORDER[item.kind], _PLACES.index(item.place)


# --- both legs --------------------------------------------------------------------------------------------------------


def _legs_together(items: Iterable[Item], sides: tuple[Side, ...]) -> Iterator[Item]:
    """The items, with the same work on both legs merged into one."""
    found = list(items)
    for item in found:
        if item.place not in SIDES:
            yield item
        elif len(sides) == 1:
            yield replace(item, place="front")
        else:
            twin = next((other for other in found if other.place != item.place and _alike(item, other)), None)
            if twin is None:
                yield item
            elif item.place == "left":
                changes, along = item.changes + twin.changes, item.along + twin.along
                yield replace(item, place="front", changes=changes, along=along)


def _alike(one: Item, other: Item) -> bool:
    def without_side(item: Item) -> object:
        changes = tuple((change.path[2:], change.old, change.new) for change in (*item.changes, *item.along))
        return item.kind, changes, item.problem, dict(item.values), item.done

    return other.place in SIDES and without_side(one) == without_side(other)
