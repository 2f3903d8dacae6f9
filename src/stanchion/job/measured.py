"""What was fitted when something was measured, noted so that a later change marks the measurement as stale.

Motion ratio, geometry and swingarm depend on chain and tyres, which carry over to the next occasion; sag depends on
springs, preload, air gap, linkage and rider; the set length of a fork spring depends on its spacer stack. Scales,
diameters, rake and the like are measurements of the same machine: entered again, they make no sag old.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, replace
from typing import Any

from stanchion.job.aboard import weighed_again, with_rider_noted
from stanchion.job.hanging import hanging_noted
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
    Rear,
    SecondSpring,
    Spring,
    State,
    Swingarm,
    Upkeep,
)
from stanchion.job.set_length_notes import set_length_with, set_lengths_noted, stack_height, with_set_length_noted
from stanchion.job.shut_in import outside_noted
from stanchion.job.spec import Rate

_NAMES = tuple(field.name for field in fields(ChainAndTyres))
SAG_NOTES = (
    *("preload_at", "rates_n_per_mm", "stacks_mm", "free_lengths_mm", "set_lengths_mm", "set_lengths_in_mm"),
    *("air_gaps_mm", "linkage_mm", "motion_ratios", "pressures_bar", "second_springs", "riders_kg"),
)
"""Fields beside the sag readings of a state that record what was fitted."""
_SECOND = SAG_NOTES.index("second_springs")
UPKEEP_NOTES: tuple[Path, ...] = (
    ("upkeep", "ratio_with"),
    ("upkeep", "geometry_with"),
    ("upkeep", "swingarm_with"),
    ("upkeep", "set_lengths_with"),
    ("weights", "aboard_rider_kg"),
    ("weights", "aboard_rider_at"),
)
"""Fields beside other measurements that record what was fitted."""
Sprung = tuple[tuple[Rate, ...], ...]
"""The values of SAG_NOTES for the present machine: one number a spring, adjuster or pressure; empty where one is not
known."""


RIDER: Path = ("job", "rider_mass_kg")
"""Where the rider's mass is entered."""


def is_note(path: Path) -> bool:
    """Whether a path is a note on what was fitted, which follows from other entries."""
    sag = path[:1] == ("sag",) and path[-1] in (*SAG_NOTES, "hanging_holds")
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
    job = outside_noted(hanging_noted(job, path, before), path, before)
    if path[:1] == ("sag",) and len(path) > 3 and path[3] in ("down_mm", "up_mm"):
        return _read_with(job, "front" if path[1] == "front" else "rear", str(path[2]))
    if before is not None and path[:1] == ("upkeep",) and path[1:] in [(name,) for name in _NAMES]:
        replaced = replace(ChainAndTyres(), **{str(path[1]): getattr(before.upkeep, str(path[1]))})
        return replace(job, upkeep=_with_known(job, replaced))
    job = set_lengths_noted(job, path, before, tried=tried)
    if path[:1] == ("weights",):
        scale: End | None = next((end for end in ENDS if path[-1] == f"{end}_aboard_kg"), None)
        return job if scale is None else weighed_again(job, scale)
    if path == RIDER and before is not None:
        for end in ENDS:
            job = _sags_with_known(job, before, end)
        return with_rider_noted(job, before) if tried else job
    ratio = path[:2] in (("rear", "motion_ratio"), ("rear", "linkage"), ("rear", "points"))
    if ratio and before is not None and not tried:
        job = _sags_with_ratio(job, before)
    elif before is not None and path[0] in ENDS:
        job = _sags_with_known(job, before, "front" if path[0] == "front" else "rear")
    if tried:
        return job
    if path[0] in ENDS and path[-2:] in (("spring", "set_length_mm"), ("spring", "set_length_in_mm")):
        job = _set_length_read_again(job, "front" if path[0] == "front" else "rear")
    return measured_again(job, ratio=ratio, geometry=path[:1] == ("geometry",), swingarm=path[:1] == ("swingarm",))


def sprung_by(job: Job, end: End) -> Sprung:
    """Where the preload adjusters of an end stand, its springs, the heights of a fork's spacer stacks and its air gaps,
    the linkage of the rear, the rider, and the pressures of a fork that is sprung by air."""
    legs = [leg for leg in (job.front.leg(side) for side in SIDES) if leg.coil_fitted]
    pairs = _coil_springs(job, end)
    springs = [spring for _, spring in pairs]
    turning = [(adjuster, spring) for adjuster, spring in pairs if adjuster.counting != "none"]
    return (
        _all_of([adjuster.now for adjuster, _ in turning]),
        _all_of([spring.rate_n_per_mm for spring in springs]),
        () if end == "rear" else _all_of([stack_height(leg.stack) for leg in legs]),
        _all_of([spring.free_length_mm for spring in springs]),
        _all_of([spring.set_length_mm for spring in springs]),
        _all_of([spring.set_length_in_mm for _, spring in turning]),
        () if end == "rear" else _all_of([job.front.leg(side).air_gap_mm for side in SIDES]),
        () if end == "front" else _linkage(job.rear),
        () if end == "front" or _linkage(job.rear) else _all_of([job.rear.motion_ratio]),
        _all_of(_pressures(job, end)),
        _seconds(springs),
        _all_of([job.job.rider_mass_kg]),
    )


def _linkage(rear: Rear) -> tuple[Rate, ...]:
    """The pairs of the linkage; where its points are used, the length of its link alone, 0 for as they have it."""
    if rear.by_points:
        return (rear.link_mm or 0.0,)
    return _all_of([mm for pair in rear.linkage for mm in (pair.wheel_mm, pair.shock_mm)])


def _coil_springs(job: Job, end: End) -> list[tuple[Adjuster, Spring]]:
    """The coil springs of an end, each with what sets its preload."""
    if end == "rear":
        return [] if job.rear.air.fitted else [(job.rear.collar, job.rear.spring)]
    legs = (job.front.leg(side) for side in SIDES)
    return [(leg.adjuster, leg.spring) for leg in legs if leg.coil_fitted]


def _seconds(springs: Sequence[Spring]) -> tuple[float, ...]:
    """What is recorded of the second springs."""
    if not any(spring.second.fitted for spring in springs):
        return ()
    return tuple(number for spring in springs for number in _second(spring.second))


def _second(second: SecondSpring) -> tuple[float, ...]:
    """What is recorded of a second spring, in numbers: how it is arranged, and what is known of it; nothing where there
    is none."""
    if not second.fitted:
        return ()
    names = ("rate_n_per_mm", "free_length_mm", "solid_length_mm", "divider_mm", "stop_mm", "gap_mm")
    known = (getattr(second, name) for name in names)
    return (1.0 if second.arranged == "end_to_end" else 2.0, *(number for number in known if number is not None))


def other_second(job: Job, end: End, readings: Readings) -> bool:
    """Whether a sag was read with another second spring than now, or with one more or less; as far as known."""
    now, noted_with = _seconds([spring for _, spring in _coil_springs(job, end)]), readings.second_springs
    return bool(readings.rates_n_per_mm or noted_with) and noted_with != now


def _pressures(job: Job, end: End) -> list[float | None]:
    """The pressures of the legs, or the shock, sprung by air."""
    airs = (job.rear.air,) if end == "rear" else (job.front.leg(side).air for side in SIDES)
    return [pressure for air in airs if air.fitted for pressure in air.pressures_bar]


def _all_of(values: Sequence[Rate | None]) -> tuple[Rate, ...]:
    known = tuple(value for value in values if value is not None)
    return known if len(known) == len(values) else ()


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
    """The job with notes beside a state of sag on what was fitted; the rider is noted only with the rider aboard."""
    if state == "static":
        sprung = (*sprung[:-1], ())
    of = job.sag.end(end)
    readings = of.static if state == "static" else of.rider
    if said_by(readings) == sprung:
        return job
    readings = replace(readings, **_by_name(sprung))
    of = replace(of, static=readings) if state == "static" else replace(of, rider=readings)
    return replace(job, sag=replace(job.sag, front=of) if end == "front" else replace(job.sag, rear=of))


def _by_name(sprung: Sprung) -> dict[str, Any]:
    return dict(zip(SAG_NOTES, sprung, strict=True))


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
    replaced = replaced or was[_SECOND] != now[_SECOND]
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
            again = tuple(new if old else () for old, new in zip(noted_with[4:6], now[4:6], strict=True))
            job = with_record(job, end, state, (*noted_with[:4], *again, *noted_with[6:]))
    return job


def _sags_with_ratio(job: Job, before: Job) -> Job:
    """The job after pairs or a motion ratio were entered: the same linkage was measured again, and the sags that were
    read with it count as read with what it truly is."""
    was, now = sprung_by(before, "rear")[7:9], sprung_by(job, "rear")[7:9]
    for state in STATES:
        read_with, noted_with = (
            said_by(one.sag.rear.static if state == "static" else one.sag.rear.rider) for one in (before, job)
        )
        if read_with[7:9] == was:
            job = with_record(job, "rear", state, (*noted_with[:7], *now, *noted_with[9:]))
    return job


def _counted(job: Job, end: End) -> tuple[str, ...]:
    """How the preload adjusters of an end are counted."""
    return (job.rear.collar.counting,) if end == "rear" else tuple(job.front.leg(s).adjuster.counting for s in SIDES)


def changed_since_read(job: Job, end: End, state: State) -> bool:
    """Whether springs, preload, air gap, linkage or rider changed since a state of sag was read, as far as known."""
    readings = job.sag.end(end).static if state == "static" else job.sag.end(end).rider
    changed = any(old and new and old != new for old, new in zip(said_by(readings), sprung_by(job, end), strict=True))
    return changed or other_second(job, end, readings) or sprung_otherwise(job, end, readings)


def sprung_otherwise(job: Job, end: End, readings: Readings) -> bool:
    """Whether a sag was read with coil springs at an end that now has none, or with air at one that has only coils."""
    legs = [job.front.leg(side) for side in SIDES]
    coil, air = any(leg.coil_fitted for leg in legs), any(leg.air.fitted for leg in legs)
    if end == "rear":
        coil, air = not job.rear.air.fitted, job.rear.air.fitted
    return bool((readings.rates_n_per_mm and air and not coil) or (readings.pressures_bar and coil and not air))


def changes_since_read(job: Job, end: End) -> tuple[str, ...]:
    """Which of springs, spacer, preload, oil, linkage, pressure and rider changed since a sag of an end was read."""
    found = []
    for state in STATES:
        readings = job.sag.end(end).static if state == "static" else job.sag.end(end).rider
        pairs = zip(_CHANGES, said_by(readings), sprung_by(job, end), strict=True)
        found += [change for change, old, new in pairs if old and new and old != new]
        if other_second(job, end, readings) or sprung_otherwise(job, end, readings):
            found.append("springs")
    if "springs" in found or "spacer" in found:  # set lengths follow from them
        found = [change for change in found if change != "set_length"]
    return tuple(change for change in dict.fromkeys(_CHANGES) if change in found)


_CHANGES = (
    *("preload", "springs", "spacer", "springs", "set_length", "set_length"),
    *("oil", "linkage", "linkage", "pressure", "springs", "rider"),
)
"""What a difference in each of SAG_NOTES means."""


def measured_again(job: Job, *, ratio: bool = False, geometry: bool = False, swingarm: bool = False) -> Job:
    """The job with a note that motion ratio, geometry or swingarm was measured with the present chain and tyres."""
    upkeep, now = job.upkeep, on_now(job.upkeep)
    if not (ratio or geometry or swingarm):
        return job
    after = replace(
        upkeep,
        ratio_with=now if ratio else upkeep.ratio_with,
        geometry_with=now if geometry else upkeep.geometry_with,
        swingarm_with=now if swingarm else upkeep.swingarm_with,
    )
    return job if after == upkeep else replace(job, upkeep=after)


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
    rear = job.rear
    measured = bool(rear.linkage) or rear.motion_ratio is not None or rear.by_points
    return replace(
        upkeep,
        ratio_with=filled_in(upkeep.ratio_with, on) if measured else ChainAndTyres(),
        geometry_with=filled_in(upkeep.geometry_with, on) if job.geometry != Geometry() else ChainAndTyres(),
        swingarm_with=filled_in(upkeep.swingarm_with, on) if job.swingarm != Swingarm() else ChainAndTyres(),
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
