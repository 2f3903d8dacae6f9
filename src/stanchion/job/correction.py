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
    said_by,
    set_length_with,
    sprung_by,
    stack_height,
    with_record,
    with_set_length_noted,
)
from stanchion.job.model import SIDES, STATES, End, Front, Job, Path, Readings, Rear, Run, SagEnd, Setup, Side

_SPRING = ("rate_n_per_mm", "free_length_mm", "set_length_mm", "set_length_in_mm")
_STACK = ("spacer_mm", "washers_mm", "seats_mm")


@record(kw_only=True)
class Reread:
    """A number of a spring or spacer stack that was entered in place of another."""

    path: Path
    old: float
    new: float
    before: Job
    """The job before it was entered."""

    @property
    def end(self) -> End:
        """The end of the machine it belongs to."""
        return "front" if self.path[0] == "front" else "rear"


def reread(before: Job, after: Job, path: Path) -> Reread | None:
    """The change of a number at a path, if sags, runs or a set length were recorded with it; else None.

    Args:
        before: the job before the visit to the field.
        after: the job after it.
        path: the field.
    """
    if not is_reading(path):
        return None
    old, new = value_at(before, path), value_at(after, path)
    if old is None or new is None or old == new:
        return None
    found = Reread(path=path, old=old, new=new, before=before)
    sag = after.sag.end(found.end)
    read = bool(taken_of(sag))
    ridden = any(value_at(_as_set(after, run), path) == old for run in after.runs if _holds(run, found.end))
    noted = path[2] == "stack" and set_length_with(after, _side(path)) is not None
    return found if read or ridden or noted else None


def taken_of(sag: SagEnd) -> tuple[Readings, ...]:
    """The states of an end in which sag was read."""
    return tuple(of for of in (sag.static, sag.rider) if of.down_mm or of.up_mm)


def is_reading(path: Path) -> bool:
    """Whether a field is a rate or a length of spring, spacer, washer or seat."""
    if path[:2] == ("rear", "spring"):
        return path[2:] in [(name,) for name in _SPRING]
    if path[0] != "front" or len(path) < 4 or path[1] not in SIDES:
        return False
    return (path[2] == "spring" and path[3:] in [(name,) for name in _SPRING]) or (
        path[2] == "stack" and path[3] in _STACK
    )


def corrected(job: Job, of: Reread) -> Job:
    """The job in which a number was the new one all along: in its runs, in what is noted beside its sags, and in the
    setups of a work list.

    A different number there is not changed: it was of another part.
    """
    sags = _set_length_corrected(_sags_corrected(job, of), of)
    runs = tuple(replace(run, **_parts_corrected(job, run, of)) for run in job.runs)
    back = job.returning
    if back is not None:
        back = replace(back, to=_setup_corrected(job, back.to, of), start=_setup_corrected(job, back.start, of))
    return replace(sags, runs=runs, returning=back)


def _sags_corrected(job: Job, of: Reread) -> Job:
    """The notes beside the sags of that end, with the wrong number replaced by the correct one."""
    was, now = sprung_by(of.before, of.end), sprung_by(apply(of.before, Edit(of.path, of.new)), of.end)
    for state in STATES:
        readings = job.sag.end(of.end).static if state == "static" else job.sag.end(of.end).rider
        renewed = tuple(_renewed(*three) for three in zip(said_by(readings), was, now, strict=True))
        job = with_record(job, of.end, state, renewed)
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


def _renewed(noted: Sequence[float], was: Sequence[float], now: Sequence[float]) -> tuple[float, ...]:
    if not len(noted) == len(was) == len(now):
        return tuple(noted)
    return tuple(new if one == old else one for one, old, new in zip(noted, was, now, strict=True))


def _holds(kept: Run | Setup, end: End) -> bool:
    return (kept.front if end == "front" else kept.rear) is not None


def _as_set(job: Job, kept: Run | Setup) -> Job:
    return replace(job, front=kept.front or job.front, rear=kept.rear or job.rear)


def _setup_corrected(job: Job, setup: Setup, of: Reread) -> Setup:
    return replace(setup, **_parts_corrected(job, setup, of))


def _parts_corrected(job: Job, kept: Run | Setup, of: Reread) -> dict[str, Any]:
    """The fork or shock recorded in a run or setup, corrected; None if it has none, or another number."""
    if not _holds(kept, of.end):
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
    part: Front | Rear = then.front if of.end == "front" else then.rear
    return {of.end: part}
