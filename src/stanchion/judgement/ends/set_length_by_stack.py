"""Set lengths of a fork whose spacer stack was changed since they were read, computed from the two stacks.

A longer stack compresses the spring further at the stop by what it is longer. Preload, and all that follows from it, is
then that of the stack which is fitted; the finding `set_length_stale` asks to measure the lengths again.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.job.model import SIDES, Front, Job, Side
from stanchion.job.set_length_notes import set_length_with, stack_height, with_set_length_noted
from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.judgement.ends.set_length_reading import read_point, read_squeezed
from stanchion.judgement.ends.spring_law import law_of_leg
from stanchion.judgement.results.findings import Finding, Severity


def stack_when_read(job: Job, side: Side, previous: Job | None = None) -> float | None:
    """Height of the spacer stack with which the set length of a leg was read [mm]; None: not known.

    Where it is not noted, and the set length is the previous job's, the stack of the previous job is taken.
    """
    then_mm = set_length_with(job, side)
    if then_mm is None and previous is not None:
        before = previous.front.leg(side)
        if before.spring.set_length_mm == job.front.leg(side).spring.set_length_mm:
            then_mm = stack_height(before.stack)
    return then_mm


def by_stack(job: Job, previous: Job | None = None, stacks_mm: Mapping[Side, float] | None = None) -> Job:
    """The job with the set lengths that go with the spacer stacks fitted, for those that were read with others.

    Args:
        job: the job.
        previous: the job this one was carried from, if available.
        stacks_mm: stacks to take in place of those fitted.
    """
    for side in SIDES if job.front.split else SIDES[:1]:
        then_mm, now_mm = stack_when_read(job, side, previous), stack_height(job.front.leg(side).stack)
        if stacks_mm is not None:
            now_mm = stacks_mm.get(side)
        if then_mm is None or now_mm is None or abs(now_mm - then_mm) <= SLACK:
            continue
        job = replace(job, front=_with_longer_stack(job.front, side, now_mm - then_mm))
        job = with_set_length_noted(job, side, now_mm)
    return job


def stale_set_lengths(job: Job, previous: Job | None) -> Iterator[Finding]:
    """Findings on set lengths that were read with another spacer stack than the one fitted.

    Args:
        job: the job.
        previous: the job this one was carried from, if available.
    """
    for side in SIDES if job.front.split else SIDES[:1]:
        leg = job.front.leg(side)
        then_mm, now_mm = stack_when_read(job, side, previous), stack_height(leg.stack)
        if leg.spring.set_length_mm is None or then_mm is None or now_mm is None or abs(now_mm - then_mm) <= SLACK:
            continue
        values: dict[str, object] = {"then_mm": then_mm, "now_mm": now_mm}
        if not job.front.split:
            values["both_legs"] = True
        yield Finding("set_length_stale", Severity.WARNING, ("front", side, "spring", "set_length_mm"), values)


def _with_longer_stack(front: Front, side: Side, longer_mm: float) -> Front:
    leg = front.leg(side)
    spring = replace(
        leg.spring,
        set_length_mm=_length_now(front, side, leg.spring.set_length_mm, longer_mm),
        set_length_in_mm=_length_now(front, side, leg.spring.set_length_in_mm, longer_mm),
    )
    leg = replace(leg, spring=spring)
    return replace(front, right=leg) if side == "right" else replace(front, left=leg)


def _length_now(front: Front, side: Side, read_mm: float | None, longer_mm: float) -> float | None:
    """A set length with a stack that is longer by so much; an assembled top-out spring gives way to a part of it."""
    if read_mm is None:
        return None
    free_mm, law = front.leg(side).spring.free_length_mm, law_of_leg(front, side).spring
    if free_mm is None or law is None:
        return read_mm - longer_mm
    squeezed_mm = free_mm - read_mm
    try:
        at_stop_mm = squeezed_mm - read_point(front, side, law, squeezed_mm)
        return free_mm - read_squeezed(front, side, law, at_stop_mm + longer_mm)
    except OutOfRange:
        return read_mm - longer_mm
