"""What was fitted when something was measured, noted so that a later change marks the measurement as stale.

Motion ratio and geometry depend on chain and tyres, which carry over to the next occasion; sag depends on springs and
preload; the set length of a fork spring depends on its spacer stack.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import fields, replace

from stanchion.job.model import (
    ENDS,
    SIDES,
    STATES,
    Adjuster,
    ChainAndTyres,
    End,
    Geometry,
    Job,
    Path,
    Readings,
    Side,
    Spring,
    Stack,
    State,
    Upkeep,
)

_NAMES = tuple(field.name for field in fields(ChainAndTyres))
SAG_NOTES = ("preload_at", "rates_n_per_mm", "stacks_mm", "free_lengths_mm", "set_lengths_mm", "set_lengths_in_mm")
"""Fields beside the sag readings of a state that record what was fitted."""
UPKEEP_NOTES: tuple[Path, ...] = (
    ("upkeep", "ratio_with"),
    ("upkeep", "geometry_with"),
    ("upkeep", "set_lengths_with"),
)
"""Fields beside other measurements that record what was fitted."""
Sprung = tuple[tuple[float, ...], ...]
"""The values of SAG_NOTES for the present machine: one number a spring or adjuster; empty where one is not
known."""


def is_note(path: Path) -> bool:
    """Whether a path is a note on what was fitted, which follows from other entries."""
    sag = path[:1] == ("sag",) and path[-1] in SAG_NOTES
    return sag or path[:2] in UPKEEP_NOTES


def on_now(upkeep: Upkeep) -> ChainAndTyres:
    """The chain and tyres that are fitted now."""
    return ChainAndTyres(**{name: getattr(upkeep, name) for name in _NAMES})


def noted(job: Job, path: Path, before: Job | None = None, *, tried: bool = False) -> Job:
    """The job with notes on what was fitted, after an entry at a path.

    Entering the same value again counts as another measurement with the same result. Where other chain, tyres, springs
    or preload are entered, and a measurement has no note on what was fitted, it was made with the earlier ones.

    Args:
        job: the job after the entry.
        path: where something was entered.
        before: the job before the visit to the field.
        tried: whether the entry was a trial: then it marks earlier readings as old, and nothing as
            measured now.
    """
    if path[:1] == ("sag",) and len(path) > 3 and path[3] in ("down_mm", "up_mm"):
        return _read_with(job, "front" if path[1] == "front" else "rear", str(path[2]))
    if before is not None and path[:1] == ("upkeep",) and path[1:] in [(name,) for name in _NAMES]:
        replaced = replace(ChainAndTyres(), **{str(path[1]): getattr(before.upkeep, str(path[1]))})
        return replace(job, upkeep=_with_known(job, replaced))
    job = _set_lengths_noted(job, path, before, tried=tried)
    if before is not None and path[0] in ENDS:
        job = _sags_with_known(job, before, "front" if path[0] == "front" else "rear")
    if tried:
        return job
    if path[0] in ENDS and path[-2:] in (("spring", "set_length_mm"), ("spring", "set_length_in_mm")):
        job = _set_length_read_again(job, "front" if path[0] == "front" else "rear")
    if path[:2] in (("rear", "motion_ratio"), ("rear", "linkage")):
        return measured_again(job, ratio=True)
    if path[:1] == ("geometry",):
        return measured_again(job, geometry=True)
    return job


def sprung_by(job: Job, end: End) -> Sprung:
    """Where the preload adjusters of an end stand, its springs, the heights of a fork's spacer stacks."""
    legs = [leg for leg in (job.front.leg(side) for side in SIDES) if leg.spring_fitted]
    pairs = [(job.rear.collar, job.rear.spring)] if end == "rear" else [(leg.adjuster, leg.spring) for leg in legs]
    springs = [spring for _, spring in pairs]
    turning = [(adjuster, spring) for adjuster, spring in pairs if adjuster.counting != "none"]
    return (
        _all_of([adjuster.now for adjuster, _ in turning]),
        _all_of([spring.rate_n_per_mm for spring in springs]),
        () if end == "rear" else _all_of([stack_height(leg.stack) for leg in legs]),
        _all_of([spring.free_length_mm for spring in springs]),
        _all_of([spring.set_length_mm for spring in springs]),
        _all_of([spring.set_length_in_mm for _, spring in turning]),
    )


def stack_height(stack: Stack) -> float | None:
    """Height of all pieces together; None if no spacer is recorded, since washers alone say nothing."""
    return None if stack.spacer_mm is None else stack.spacer_mm + sum(stack.washers_mm) + sum(stack.seats_mm)


def _all_of(values: Sequence[float | None]) -> tuple[float, ...]:
    known = tuple(value for value in values if value is not None)
    return known if len(known) == len(values) else ()


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


def _set_lengths_noted(job: Job, path: Path, before: Job | None, *, tried: bool) -> Job:
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


def _read_with(job: Job, end: End, state: str) -> Job:
    """The job with a note that a state of sag was read with the present springs and preload."""
    of = job.sag.end(end)
    readings = of.static if state == "static" else of.rider
    nothing: Sprung = ((),) * len(SAG_NOTES)
    return with_record(job, end, state, sprung_by(job, end) if readings.down_mm or readings.up_mm else nothing)


def said_by(readings: Readings) -> Sprung:
    """The notes beside readings on what was fitted."""
    return tuple(getattr(readings, name) for name in SAG_NOTES)


def with_record(job: Job, end: End, state: str, sprung: Sprung) -> Job:
    """The job with notes beside a state of sag on what was fitted."""
    of = job.sag.end(end)
    readings = of.static if state == "static" else of.rider
    if said_by(readings) == sprung:
        return job
    readings = replace(readings, **dict(zip(SAG_NOTES, sprung, strict=True)))
    of = replace(of, static=readings) if state == "static" else replace(of, rider=readings)
    return replace(job, sag=replace(job.sag, front=of) if end == "front" else replace(job.sag, rear=of))


def _sags_with_known(job: Job, before: Job, end: End) -> Job:
    """The job in which sags without a note get one on what was fitted before the first change.

    Where an adjuster is now counted in another way, its positions cannot be compared, and the notes on them are
    cleared.
    """
    was, now = sprung_by(before, end), sprung_by(job, end)
    recounted = _counted(before, end) != _counted(job, end)
    if was == now and not recounted:
        return job
    replaced = any(then and new and then != new for then, new in zip(was, now, strict=True))
    for state in STATES:
        readings = job.sag.end(end).static if state == "static" else job.sag.end(end).rider
        if not readings.down_mm and not readings.up_mm:
            continue
        # Once it is old, what has just been replaced may itself have come after it.
        all_of_it = replaced and not changed_since_read(before, end, state)
        positions, *others = (
            noted_with or (then if all_of_it or then != new else ())
            for noted_with, then, new in zip(said_by(readings), was, now, strict=True)
        )
        job = with_record(job, end, state, (() if recounted else positions, *others))
    return job


def _set_length_read_again(job: Job, end: End) -> Job:
    """The job after a set length was entered: with the same springs and stacks, it was only measured again, and the
    sags count as read with it, too."""
    now = sprung_by(job, end)
    for state in STATES:
        noted_with = said_by(job.sag.end(end).static if state == "static" else job.sag.end(end).rider)
        if all(not old or not new or old == new for old, new in zip(noted_with[1:4], now[1:4], strict=True)):
            again = tuple(new if old else () for old, new in zip(noted_with[4:], now[4:], strict=True))
            job = with_record(job, end, state, (*noted_with[:4], *again))
    return job


def _counted(job: Job, end: End) -> tuple[str, ...]:
    """How the preload adjusters of an end are counted."""
    return (job.rear.collar.counting,) if end == "rear" else tuple(job.front.leg(s).adjuster.counting for s in SIDES)


def changed_since_read(job: Job, end: End, state: State) -> bool:
    """Whether preload or springs have changed since a state of sag was read, as far as that is known."""
    readings = job.sag.end(end).static if state == "static" else job.sag.end(end).rider
    return any(old and new and old != new for old, new in zip(said_by(readings), sprung_by(job, end), strict=True))


def as_read(job: Job, end: End, state: State) -> Job | None:
    """The job with the springs and preload that a state of sag was read with; None where too little of them is known.

    What is not noted is assumed to be as now, except for lengths if another spring or stack is fitted.
    """
    readings = job.sag.end(end).static if state == "static" else job.sag.end(end).rider
    noted_with, now = said_by(readings), sprung_by(job, end)
    replaced = any(old and new and old != new for old, new in zip(noted_with[1:3], now[1:3], strict=True))
    if replaced and not (noted_with[3] and noted_with[4]):
        return None
    if any(old and new and len(old) != len(new) for old, new in zip(noted_with, now, strict=True)):
        return None
    then = [iter(values) for values in noted_with]
    if end == "rear":
        rear = job.rear
        collar, spring = _set_as_read(rear.collar, rear.spring, then)
        return replace(job, rear=replace(rear, collar=collar, spring=spring))
    front = job.front
    if not front.split and any(len(set(values)) > 1 for values in noted_with):
        front = replace(front, right=front.left)
    for side in SIDES if front.split else SIDES[:1]:
        leg = front.leg(side)
        if leg.spring_fitted:
            adjuster, spring = _set_as_read(leg.adjuster, leg.spring, then)
            leg = replace(leg, adjuster=adjuster, spring=spring)
            front = replace(front, right=leg) if side == "right" else replace(front, left=leg)
    return replace(job, front=front)


def _set_as_read(adjuster: Adjuster, spring: Spring, then: Sequence[Iterator[float]]) -> tuple[Adjuster, Spring]:
    """An adjuster and its spring as they were when a sag was read, from the next number of each note.

    What is not noted stays as it is.
    """
    positions, rates, _, free_lengths, set_lengths, set_lengths_in = then
    fully_in_mm = spring.set_length_in_mm
    if adjuster.counting != "none":
        adjuster = replace(adjuster, now=next(positions, adjuster.now))
        fully_in_mm = next(set_lengths_in, fully_in_mm)
    spring = replace(
        spring,
        rate_n_per_mm=next(rates, spring.rate_n_per_mm),
        free_length_mm=next(free_lengths, spring.free_length_mm),
        set_length_mm=next(set_lengths, spring.set_length_mm),
        set_length_in_mm=fully_in_mm,
    )
    return adjuster, spring


def measured_again(job: Job, *, ratio: bool = False, geometry: bool = False) -> Job:
    """The job with a note that motion ratio or geometry was measured with the present chain and tyres."""
    upkeep, now = job.upkeep, on_now(job.upkeep)
    ratio_with = now if ratio else upkeep.ratio_with
    geometry_with = now if geometry else upkeep.geometry_with
    if (ratio_with, geometry_with) == (upkeep.ratio_with, upkeep.geometry_with):
        return job
    return replace(job, upkeep=replace(upkeep, ratio_with=ratio_with, geometry_with=geometry_with))


def carried_along(job: Job) -> Upkeep:
    """Upkeep for the next occasion: measurements without a note get one on the present chain and tyres."""
    for side in SIDES if job.front.split else SIDES[:1]:
        leg = job.front.leg(side)
        if set_length_with(job, side) is None and leg.spring.set_length_mm is not None:
            job = with_set_length_noted(job, side, stack_height(leg.stack))
    return _with_known(job, on_now(job.upkeep))


def _with_known(job: Job, on: ChainAndTyres) -> Upkeep:
    """Upkeep in which notes on chain and tyres that lack a value get it from those that were fitted."""
    upkeep = job.upkeep
    measured = bool(job.rear.linkage) or job.rear.motion_ratio is not None
    return replace(
        upkeep,
        ratio_with=filled_in(upkeep.ratio_with, on) if measured else ChainAndTyres(),
        geometry_with=filled_in(upkeep.geometry_with, on) if job.geometry != Geometry() else ChainAndTyres(),
    )


def filled_in(known: ChainAndTyres, other: ChainAndTyres) -> ChainAndTyres:
    """The first record, with its empty fields filled from the second.

    >>> filled_in(ChainAndTyres(front_teeth=15.0), ChainAndTyres(front_teeth=16.0, rear_teeth=44.0)).rear_teeth
    44.0
    """
    taken = {}
    for name in _NAMES:
        own = getattr(known, name)
        taken[name] = getattr(other, name) if own in (None, "") else own
    return ChainAndTyres(**taken)
