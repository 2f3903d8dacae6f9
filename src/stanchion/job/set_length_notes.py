"""Which spacer stack was in a leg when its set length was read, noted so that another stack makes the length stale."""

from __future__ import annotations

from dataclasses import replace

from stanchion.job.model import SIDES, Job, Path, Side, Stack


def stack_height(stack: Stack) -> float | None:
    """Height of all pieces together; None if no spacer is recorded, since washers alone say nothing."""
    return None if stack.spacer_mm is None else stack.spacer_mm + sum(stack.washers_mm) + sum(stack.seats_mm)


def set_length_with(job: Job, side: Side) -> float | None:
    """Height of the spacer stack that was in when the set length of a leg was read [mm]; None: not known."""
    noted = job.upkeep.set_lengths_with
    return noted.right_mm if side == "right" and job.front.split else noted.left_mm


def with_set_length_noted(job: Job, side: Side, stack_mm: float | None) -> Job:
    """The job with a note that the set length of a leg was read with a spacer stack of that height."""
    stacks = job.upkeep.set_lengths_with
    stacks = replace(stacks, left_mm=stack_mm) if side == "left" else replace(stacks, right_mm=stack_mm)
    if stacks == job.upkeep.set_lengths_with:
        return job
    return replace(job, upkeep=replace(job.upkeep, set_lengths_with=stacks))


def set_lengths_noted(job: Job, path: Path, before: Job | None, *, tried: bool) -> Job:
    """The job with notes of the spacer stacks with which set lengths were read, after an entry at a path.

    A set length that is entered was read with the present stack, also where both were changed in one step. One that
    has no note was read with the stack that this entry replaces. While a new machine is being entered, a piece that
    had no value before was in the fork already: the set length was read with it, too.
    """
    if path == ("front", "right"):
        return with_set_length_noted(job, "right", set_length_with(job, "left") if job.front.split else None)
    if path[:1] != ("front",) or len(path) < 4 or path[1] not in SIDES:
        return job
    side: Side = "left" if path[1] == "left" else "right"
    leg = job.front.leg(side)
    now_mm = stack_height(leg.stack)
    if path[2:] == ("spring", "set_length_mm"):
        return with_set_length_noted(job, side, None if leg.spring.set_length_mm is None else now_mm)
    if path[2] != "stack" or before is None or leg.spring.set_length_mm is None:
        return job
    then = before.front.leg(side)
    if then.spring.set_length_mm != leg.spring.set_length_mm:
        return with_set_length_noted(job, side, now_mm)
    known_mm = set_length_with(before, side)
    first_entered = not tried and _being_entered(before) and _only_added(then.stack, leg.stack)
    if first_entered and known_mm in (None, stack_height(then.stack)):
        return with_set_length_noted(job, side, now_mm)
    if known_mm is None and stack_height(then.stack) != now_mm:
        known_mm = stack_height(then.stack)
    return with_set_length_noted(job, side, known_mm)


def _being_entered(job: Job) -> bool:
    """Whether the fork may still be as it was when it was first written down: the job was not carried forward, no run
    was recorded, and no sag of the fork was read."""
    front = job.sag.front
    readings = (*front.static.down_mm, *front.static.up_mm, *front.rider.down_mm, *front.rider.up_mm)
    return not (job.job.carried_from or job.runs or readings)


def _only_added(then: Stack, now: Stack) -> bool:
    """Whether a stack has pieces that had no value before, and all that had one are unchanged."""
    return (
        now != then
        and then.spacer_mm in (None, now.spacer_mm)
        and now.washers_mm[: len(then.washers_mm)] == then.washers_mm
        and now.seats_mm[: len(then.seats_mm)] == then.seats_mm
    )
