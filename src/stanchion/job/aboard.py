"""Who was aboard when the scales were read: the rider entered, or another one, once a rider was tried on the job."""

from __future__ import annotations

from dataclasses import replace

from stanchion.job.edit import Edit
from stanchion.job.model import ENDS, Balance, End, Job, Path, Readings
from stanchion.job.name_match import match_key

RIDERS_NAME: Path = ("job", "rider")
"""Where the rider's name is entered."""


def same_rider(one: str, other: str) -> bool:
    """Whether two names are those of one rider, however they are spelt; no name and a name are not.

    >>> same_rider("Grey  Rider ", "grey rider"), same_rider("", "grey rider")
    (True, False)
    """
    return match_key(one) == match_key(other)


def renamed_rider(before: Job, after: Job) -> str:
    """The rider's name before, where another one was entered although scales or sags were read with a rider aboard;
    otherwise empty."""
    old, new = before.job.rider, after.job.rider
    other = bool(match_key(old)) and bool(match_key(new)) and not same_rider(old, new)
    return old if other and without_rider_aboard(after) else ""


def weight_of_the_last(job: Job, earlier: Job) -> float | None:
    """The rider's weight where it still is that of another rider, the one of an earlier job; otherwise None."""
    old, new, kg = earlier.job.rider, job.job.rider, job.job.rider_mass_kg
    other = bool(match_key(old)) and not same_rider(old, new)
    return kg if other and kg == earlier.job.rider_mass_kg else None


def without_rider_aboard(job: Job) -> list[Edit]:
    """The edits that take away what was read with the rider aboard, because another one rides now."""
    scales = ("front_aboard_kg", "rear_aboard_kg", "aboard_rider_kg")
    edits = [Edit(("weights", name), None) for name in scales if getattr(job.weights, name) is not None]
    if job.weights.aboard_rider_at != "both":
        edits.append(Edit(("weights", "aboard_rider_at"), "both"))
    alone = balance_alone(job)
    if alone != job.balance:
        edits.append(Edit(("balance",), alone))
    sags = [end for end in ENDS if job.sag.end(end).rider.down_mm or job.sag.end(end).rider.up_mm]
    return [*edits, *(Edit(("sag", end, "rider"), Readings()) for end in sags)]


def balance_alone(job: Job) -> Balance:
    """What is recorded of the centre of mass, without what holds with that rider aboard only."""
    lifts = tuple(replace(lift, aboard_kg=None) for lift in job.balance.lifts)
    return replace(job.balance, lifts=lifts, height_aboard_mm=None)


def with_rider_noted(job: Job, before: Job) -> Job:
    """The job with a note of the rider who was on the scales, once another one is tried on it."""
    weights, then = job.weights, before.weights
    aboard = (weights.front_aboard_kg, weights.rear_aboard_kg)
    old_kg = before.job.rider_mass_kg or rider_on_scales(before)
    same = aboard == (then.front_aboard_kg, then.rear_aboard_kg)
    if weights.aboard_rider_kg is not None or aboard == (None, None) or not same or not old_kg or old_kg < 0.0:
        return job
    return replace(job, weights=replace(weights, aboard_rider_kg=old_kg))


def weighed_again(job: Job, end: End) -> Job:
    """The job after a scale was read with the rider aboard: it is the one entered now. The other scale stays that of
    the rider before until it is read again too.

    Args:
        job: the job.
        end: whose scale was read.
    """
    weights = job.weights
    other: End = "rear" if end == "front" else "front"
    if not weights.aboard_rider_kg or weights.aboard_rider_at == other:
        return job
    reading = weights.rear_aboard_kg if other == "rear" else weights.front_aboard_kg
    if weights.aboard_rider_at == "both" and reading is not None:
        return replace(job, weights=replace(weights, aboard_rider_at=other))
    return replace(job, weights=replace(weights, aboard_rider_kg=None, aboard_rider_at="both"))


def one_scale_before(job: Job) -> bool:
    """Whether one scale was read with the rider before, and the other with the one entered now."""
    return job.weights.aboard_rider_kg is not None and job.weights.aboard_rider_at != "both"


def read_with_another(job: Job, end: End) -> bool:
    """Whether the scale of an end was read with another rider than the one entered."""
    return job.weights.aboard_rider_kg is not None and job.weights.aboard_rider_at in ("both", end)


def share_on_front(job: Job) -> float | None:
    """Share of the rider that the front wheel carries [%], by the scales of one end or of both; None: not known."""
    weights = job.weights
    front = (weights.front_aboard_kg, weights.front_alone_kg)
    rear = (weights.rear_aboard_kg, weights.rear_alone_kg)
    for (aboard_kg, alone_kg), at_front in ((front, True), (rear, False)):
        before = not one_scale_before(job) or read_with_another(job, "front" if at_front else "rear")
        whole_kg = rider_on_scales(job) if before else job.job.rider_mass_kg
        if aboard_kg is not None and alone_kg is not None and whole_kg is not None and whole_kg > 0.0:
            share = (aboard_kg - alone_kg) / whole_kg
            return 100.0 * (share if at_front else 1.0 - share)
    return None


def rider_on_scales(job: Job) -> float | None:
    """Mass of the rider who was on the scales: by all four of them, otherwise as entered. Where one was read again with
    another rider, of the rider before."""
    weights = job.weights
    entered_kg = job.job.rider_mass_kg if weights.aboard_rider_kg is None else weights.aboard_rider_kg
    four = (weights.front_aboard_kg, weights.rear_aboard_kg, weights.front_alone_kg, weights.rear_alone_kg)
    known = [kg for kg in four if kg is not None]
    by_scales = len(known) == len(four) and not one_scale_before(job)
    return known[0] + known[1] - known[2] - known[3] if by_scales else entered_kg
