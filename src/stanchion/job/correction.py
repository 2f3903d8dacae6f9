"""Corrections: a number that was misread, as opposed to a part that was changed.

The correct number applied before, too: it is also put into the runs and the notes beside the sags, and no
measurement becomes stale. Changed parts are the subject of job/measured.py.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from stanchion.base.record import record
from stanchion.job.edit import Edit, apply, value_at
from stanchion.job.measured import (
    RIDER,
    said_by,
    sprung_by,
    with_record,
)
from stanchion.job.model import (
    ENDS,
    SIDES,
    STATES,
    AsFound,
    End,
    Front,
    Job,
    Path,
    Readings,
    Rear,
    Run,
    SagEnd,
    Setup,
    Side,
)
from stanchion.job.set_length_notes import set_length_with, stack_height, with_set_length_noted
from stanchion.job.spec import Rate

_SPRING = ("rate_n_per_mm", "free_length_mm", "set_length_mm", "set_length_in_mm")
_SECOND = ("rate_n_per_mm", "free_length_mm", "solid_length_mm", "divider_mm", "stop_mm", "gap_mm")
_STACK = ("spacer_mm", "washers_mm", "seats_mm")


@record(kw_only=True)
class Reread:
    """A number of a spring, spacer stack or air gap, or the rider's mass, that was entered in place of another."""

    path: Path
    old: float
    new: float
    before: Job
    """The job before it was entered."""

    @property
    def ends(self) -> tuple[End, ...]:
        """The ends of the machine it belongs to."""
        if self.path == RIDER:
            return ENDS
        return ("front",) if self.path[0] == "front" else ("rear",)


def reread(before: Job, after: Job, path: Path) -> Reread | None:
    """The change of a number at a path, if sags, runs or a set length were recorded with it; else None.

    Args:
        before: the job before the visit to the field.
        after: the job after it.
        path: the field.
    """
    if path != RIDER and not is_reading(path):
        return None
    old, new = value_at(before, path), value_at(after, path)
    if old is None or new is None or old == new:
        return None
    found = Reread(path=path, old=old, new=new, before=before)
    if path == RIDER:
        aboard = (after.sag.end(end).rider for end in ENDS)
        return found if any(of.down_mm or of.up_mm for of in aboard) else None
    [end] = found.ends
    read = bool(taken_of(after.sag.end(end)))
    ridden = any(value_at(_as_set(after, run), path) == old for run in after.runs if _holds(run, end))
    noted = path[2] == "stack" and set_length_with(after, _side(path)) is not None
    return found if read or ridden or noted else None


def taken_of(sag: SagEnd) -> tuple[Readings, ...]:
    """The states of an end in which sag was read."""
    return tuple(of for of in (sag.static, sag.rider) if of.down_mm or of.up_mm)


def is_reading(path: Path) -> bool:
    """Whether a field is a rate, a length of spring, spacer, washer or seat, or an air gap."""
    if path[:2] == ("rear", "spring"):
        return _is_of_spring(path[2:])
    if path[0] != "front" or len(path) < 3 or path[1] not in SIDES:
        return False
    if path[2:] == ("air_gap_mm",):
        return True
    return (path[2] == "spring" and _is_of_spring(path[3:])) or (path[2] == "stack" and path[3] in _STACK)


def _is_of_spring(tail: Path) -> bool:
    """Whether the steps below a main spring lead to a rate or length of it or of its second spring."""
    return tail in [(name,) for name in _SPRING] or tail in [("second", name) for name in _SECOND]


def corrected(job: Job, of: Reread) -> Job:
    """The job in which a number was the new one all along: in its runs, in what is noted beside its sags, and in the
    machine as found and the setups of a work list.

    A different number there is not changed: it was of another part.
    """
    sags = _set_length_corrected(_sags_corrected(job, of), of)
    runs = tuple(replace(run, **_parts_corrected(job, run, of)) for run in job.runs)
    back = job.returning
    if back is not None:
        back = replace(back, to=_setup_corrected(job, back.to, of), start=_setup_corrected(job, back.start, of))
    found = job.found
    if found is not None:
        found = replace(found, **_parts_corrected(job, found, of))
    return replace(sags, runs=runs, returning=back, found=found)


def _sags_corrected(job: Job, of: Reread) -> Job:
    """The notes beside the sags it belongs to, and the scales, with the wrong number replaced by the correct one."""
    rightly = apply(of.before, Edit(of.path, of.new))
    for end in of.ends:
        was, now = sprung_by(of.before, end), sprung_by(rightly, end)
        for state in STATES:
            readings = job.sag.end(end).static if state == "static" else job.sag.end(end).rider
            renewed = tuple(_renewed(*three) for three in zip(said_by(readings), was, now, strict=True))
            job = with_record(job, end, state, renewed)
    if of.path == RIDER and job.weights.aboard_rider_kg == of.old:
        job = replace(job, weights=replace(job.weights, aboard_rider_kg=of.new))
    return job


def _set_length_corrected(job: Job, of: Reread) -> Job:
    """The notes beside the set length of that leg, with the wrong height replaced by the correct one."""
    if of.path[0] != "front" or of.path[2] != "stack":
        return job
    side = _side(of.path)
    heights = [stack_height(one.front.leg(side).stack) for one in (of.before, apply(of.before, Edit(of.path, of.new)))]
    if heights[0] is None or set_length_with(job, side) != heights[0]:
        return job
    return with_set_length_noted(job, side, heights[1])


def _side(path: Path) -> Side:
    return "left" if path[1] == "left" else "right"


def _renewed(noted: Sequence[Rate], was: Sequence[Rate], now: Sequence[Rate]) -> tuple[Rate, ...]:
    if not len(noted) == len(was) == len(now):
        return tuple(noted)
    return tuple(new if one == old else one for one, old, new in zip(noted, was, now, strict=True))


def _holds(kept: Run | Setup | AsFound, end: End) -> bool:
    return (kept.front if end == "front" else kept.rear) is not None


def _as_set(job: Job, kept: Run | Setup | AsFound) -> Job:
    return replace(job, front=kept.front or job.front, rear=kept.rear or job.rear)


def _setup_corrected(job: Job, setup: Setup, of: Reread) -> Setup:
    return replace(setup, **_parts_corrected(job, setup, of))


def _parts_corrected(job: Job, kept: Run | Setup | AsFound, of: Reread) -> dict[str, Any]:
    """The fork or shock recorded in a run or setup, corrected; None if it has none, or another number."""
    end = of.ends[0]
    if of.path == RIDER or not _holds(kept, end):
        return {}
    then = _as_set(job, kept)
    paths = [of.path]
    if of.path[0] == "front" and not job.front.split and then.front.split:  # one leg stood for both since
        paths = [("front", side, *of.path[2:]) for side in SIDES]
    for path in paths:
        if value_at(then, path) == of.old:
            if path[:2] == ("front", "right") and not then.front.split:
                then = replace(then, front=replace(then.front, right=then.front.left))
            then = apply(then, Edit(path, of.new))
    part: Front | Rear = then.front if end == "front" else then.rear
    return {end: part}
