"""Whether the length with the wheel hanging, L1, still holds: while it does, it is carried to the next job."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from stanchion.job.model import ENDS, SIDES, End, Job, Path, SagEnd


def hanging_noted(job: Job, path: Path, before: Job | None) -> Job:
    """The job after an entry at a path, with L1 as it then is.

    L1 that is entered holds. Once something changes that it depends on, it holds no longer; and where no sag was read
    from it yet, it is emptied, so that it is measured again. Bringing back what was changed brings back L1.

    Args:
        job: the job after the entry.
        path: where something was entered.
        before: the job before the visit to the field.
    """
    if path[:1] == ("sag",) and path[2:3] == ("hanging_mm",):
        end: End = "front" if path[1] == "front" else "rear"
        of = job.sag.end(end)
        return _with(job, end, replace(of, hanging_holds=bool(of.hanging_mm)))
    if before is None or path[:1] not in (("front",), ("rear",), ("upkeep",)):
        return job
    for end in ENDS:
        was, now = before.sag.end(end), job.sag.end(end)
        if _changed(_depends_on(before, end), _depends_on(job, end)):
            read = now.static.down_mm or now.static.up_mm or now.rider.down_mm or now.rider.up_mm
            job = _with(job, end, replace(now, hanging_holds=False, hanging_mm=now.hanging_mm if read else ()))
        elif was.hanging_holds and not now.hanging_holds:
            job = _with(job, end, replace(now, hanging_holds=True, hanging_mm=was.hanging_mm))
    return job


def _with(job: Job, end: End, of: SagEnd) -> Job:
    if of == job.sag.end(end):
        return job
    return replace(job, sag=replace(job.sag, front=of) if end == "front" else replace(job.sag, rear=of))


def _depends_on(job: Job, end: End) -> tuple[Any, ...]:
    """What L1 of an end depends on; springs and preload only where they press on a top-out spring."""
    front, rear = job.front, job.rear
    if end == "rear":
        on_stop: tuple[Any, ...] = (rear.spring, rear.collar.now) if rear.top_out.fitted == "yes" else ()
        return (rear.length_adjuster_mm, rear.eye_to_eye_mm, job.upkeep.axle_mark_mm, rear.top_out, *on_stop)
    on_stop = ()
    if front.top_out.fitted == "yes":
        on_stop = tuple((leg.spring, leg.adjuster.now, leg.stack) for leg in map(front.leg, SIDES))
    return (front.fork_height_mm, front.top_out, *on_stop)


def _changed(was: tuple[Any, ...], now: tuple[Any, ...]) -> bool:
    """Whether one of them is another than before; a number that is entered for the first time is no change."""
    return any(None not in (old, new) and old != new for old, new in zip(was, now, strict=False))
