"""The differences of two setups as items of work, with one function for each part of the machine."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, replace
from typing import Any, Literal

from stanchion.job.diff import Difference
from stanchion.job.model import (
    SIDES,
    AirLeg,
    Bleed,
    Drive,
    End,
    Front,
    Leg,
    Outside,
    Path,
    Rear,
    SecondSpring,
    Setup,
    Side,
    Spring,
    Stack,
    Stops,
    TopOut,
    Upkeep,
)
from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.judgement.predict.chain import axle_back
from stanchion.judgement.work.drive_items import chain_items
from stanchion.judgement.work.work import Item, adjuster_item, clicker_item


def items_between(now: Setup, then: Setup, sides: tuple[Side, ...]) -> Iterator[Item]:
    """The work that brings one setup to another, separately for each leg and not in order.

    Args:
        now: the present setup; a part not recorded is taken as blank.
        then: the setup to reach; a part not recorded gives no work.
        sides: the legs to compare; only the left one where it is entered for both.
    """
    if then.front is not None:
        yield from _fork(now.front or Front(), then.front, sides)
    if then.rear is not None:
        yield from _shock(now.rear or Rear(), then.rear)
    if then.upkeep is not None:
        fitted, drive = now.upkeep or Upkeep(), now.drive or Drive()
        yield from _upkeep(fitted, then.upkeep, axle_back(fitted, drive, then.upkeep, then.drive or drive).value)
    if then.drive is not None:
        yield from chain_items(now.drive or Drive(), then.drive)


def unrecorded(now: Setup, then: Setup, sides: tuple[Side, ...]) -> Iterator[Path]:
    """Paths of settings that the present setup records and the other does not."""
    for item in items_between(then, now, sides):
        if item.changes[:1] and item.changes[0].path[-1] != "spring_fitted":
            yield from (change.path for change in item.changes if change.old is None and change.path[-1] in _SETTINGS)


_SETTINGS = (
    "now",
    "air_gap_mm",
    "oil_volume_ml",
    "fork_height_mm",
    "length_adjuster_mm",
    "link_mm",
    "rate_n_per_mm",
    "spacer_mm",
    "pressure_bar",
)


def differs(now: Any, then: Any) -> bool:
    """Whether the earlier value was recorded and is not the present one."""
    if then is None or then in ("", ()):
        return False
    if isinstance(then, float) and isinstance(now, float):
        return abs(now - then) > SLACK
    if isinstance(then, str) and isinstance(now, str):
        return " ".join(now.split()).casefold() != " ".join(then.split()).casefold()
    return bool(now != then)


_FLAG_BESIDE = {
    "preload": "preload_difference_meant",
    **dict.fromkeys(("compression", "high_speed_compression", "rebound"), "dampers_split"),
}
"""The field that records that legs differ on purpose, by the kind of work that makes them differ."""


# --- fork -----------------------------------------------------------------------------------------------------------


def _fork(now: Front, then: Front, sides: tuple[Side, ...]) -> Iterator[Item]:
    for side in sides:
        for item in _leg(("front", side), side, now.leg(side), then.leg(side)):
            flag_name = _FLAG_BESIDE.get(item.kind, "")
            if flag_name and getattr(now, flag_name) != getattr(then, flag_name):
                switch = Difference(("front", flag_name), getattr(now, flag_name), getattr(then, flag_name))
                yield replace(item, along=(*item.along, switch))
            else:
                yield item
    yield from _fork_top_out(now, then)
    yield from _packers("packers", "front", ("front", "packers_mm"), now.packers_mm, then.packers_mm)
    yield from _stops("stops", "front", now.stops, then.stops)
    if differs(now.oil, then.oil):
        yield Item(kind="oil", place="front", changes=(Difference(("front", "oil"), now.oil, then.oil),))
    yield from _length("fork_height", "front", ("front", "fork_height_mm"), now.fork_height_mm, then.fork_height_mm)


def _leg(at: Path, side: Side, now: Leg, then: Leg) -> Iterator[Item]:
    yield from _air(at, side, now, then)
    if not then.coil_fitted:
        if now.coil_fitted and not then.air.fitted:
            out = Difference((*at, "spring_fitted"), old=True, new=False)
            yield Item(kind="spring_out", place=side, changes=(out,))
    else:
        yield from _leg_spring(at, side, now, then)
        yield from adjuster_item("preload", side, (*at, "adjuster"), now.adjuster, then.adjuster)
    for name in ("compression", "high_speed_compression", "rebound"):
        yield from clicker_item(name, side, (*at, name), getattr(now, name), getattr(then, name))
    yield from _length("oil_volume", side, (*at, "oil_volume_ml"), now.oil_volume_ml, then.oil_volume_ml)
    yield from _length("air_gap", side, (*at, "air_gap_mm"), now.air_gap_mm, then.air_gap_mm)
    yield from _bleed(at, side, now.bleed, then.bleed)


_READ_WITH = ("set_at_c", "most_bar", "outer_most_bar", "in_use_c", "wanted_bar")
"""Fields of the air of a leg that are noted with its pressures, and are no work by themselves."""


def _air(at: Path, side: Side | Literal["rear"], now: Leg | Rear, then: Leg | Rear) -> Iterator[Item]:
    """Air in place of a coil spring or the other way round, or other pressures and chambers."""
    recorded = [
        Difference((*at, "air", field.name), getattr(now.air, field.name), getattr(then.air, field.name))
        for field in fields(AirLeg)
        if field.name not in ("fitted", "set_in") and then.air.fitted
    ]
    differing = [one for one in recorded if differs(one.old, one.new)]
    along = tuple(one for one in differing if one.path[-1] in _READ_WITH)
    along += _from_here((*at, "air", "set_in"), now.air.set_in)
    changes = tuple(one for one in differing if one.path[-1] not in _READ_WITH)
    if now.air.fitted != then.air.fitted:
        switched = Difference((*at, "air", "fitted"), now.air.fitted, then.air.fitted)
        if isinstance(now, Leg) and isinstance(then, Leg) and not (then.air.fitted or then.spring_fitted):
            along += _if_changed((*at, "spring_fitted"), now.spring_fitted, then.spring_fitted)  # air had its place
        yield Item(kind="air_leg", place=side, changes=(switched, *changes), along=along)
    elif changes:
        yield Item(kind="air_pressure", place=side, changes=changes, along=along)


def _from_here(at: Path, noted: Outside) -> tuple[Difference, ...]:
    """What clears a note on another venue, since what is done is done here."""
    return tuple(
        Difference((*at, field.name), getattr(noted, field.name), None)
        for field in fields(Outside)
        if getattr(noted, field.name) is not None
    )


def _leg_spring(at: Path, side: Side, now: Leg, then: Leg) -> Iterator[Item]:
    """Spring and spacer stack are one job at the bench; without another spring the stack is one by itself."""
    stack = tuple(_stack((*at, "stack"), now.stack, then.stack))
    other = _other_spring((*at, "spring"), now.spring, then.spring, fitted=now.spring_fitted)
    counted_alike = now.adjuster.counting == then.adjuster.counting
    again = _set_lengths((*at, "spring"), now.spring, then.spring, counted_alike=counted_alike)
    again += _if_changed((*at, "read_at"), now.read_at, then.read_at)
    if other or not now.spring_fitted:
        if not now.spring_fitted:
            other = (Difference((*at, "spring_fitted"), old=False, new=True), *other)
        again += _other_values((*at, "spring"), now.spring, then.spring, other)
        again += _if_changed((*at, "solids_ml"), now.solids_ml, then.solids_ml)
        yield Item(kind="spring", place=side, changes=(*other, *stack), along=again)
    elif stack:
        yield Item(kind="stack", place=side, changes=stack, along=again)
    else:
        yield from _reading_to_check("set_length", side, now.spring, then.spring)


def _stack(at: Path, now: Stack, then: Stack) -> Iterator[Difference]:
    """The pieces that differ. Where a spacer is recorded, washers not recorded mean that there are none."""
    if differs(now.spacer_mm, then.spacer_mm):
        yield Difference((*at, "spacer_mm"), now.spacer_mm, then.spacer_mm)
    none_then = then.spacer_mm is not None and not then.washers_mm and now.washers_mm
    if none_then or differs(now.washers_mm, then.washers_mm):
        yield Difference((*at, "washers_mm"), now.washers_mm, then.washers_mm)
    if differs(now.seats_mm, then.seats_mm):
        yield Difference((*at, "seats_mm"), now.seats_mm, then.seats_mm)


def _bleed(at: Path, side: Side, now: Bleed, then: Bleed) -> Iterator[Item]:
    names = ("at_mm", "pressure_bar")
    pairs = [((*at, "bleed", name), getattr(now, name), getattr(then, name)) for name in names]
    changes = tuple(Difference(*pair) for pair in pairs if differs(*pair[1:]))
    if changes:
        taken = {change.path for change in changes}
        pairs.append(((*at, "bleed", "temperature_c"), now.temperature_c, then.temperature_c))
        along = tuple(Difference(*pair) for pair in pairs if pair[0] not in taken and pair[1] != pair[2])
        along += _from_here((*at, "bleed", "closed_in"), now.closed_in)
        yield Item(kind="bleed", place=side, changes=changes, along=along)


# --- shock ----------------------------------------------------------------------------------------------------------


def _shock(now: Rear, then: Rear) -> Iterator[Item]:
    at: Path = ("rear", "spring")
    yield from _air(("rear",), "rear", now, then)
    coil = not then.air.fitted
    other = _other_spring(at, now.spring, then.spring, fitted=True) if coil else ()
    if other:
        counted_alike = now.collar.counting == then.collar.counting
        along = _set_lengths(at, now.spring, then.spring, counted_alike=counted_alike)
        along += _other_values(at, now.spring, then.spring, other)
        yield Item(kind="shock_spring", place="rear", changes=other, along=along)
    elif coil:
        yield from _reading_to_check("shock_set_length", "rear", now.spring, then.spring)
    yield from _top_out("shock_top_out", "rear", ("rear", "top_out"), now.top_out, then.top_out)
    yield from _packers("shock_packers", "rear", ("rear", "packers_mm"), now.packers_mm, then.packers_mm)
    for kind, name in (
        ("bump_rubber", "bump_rubber_mm"),
        ("length", "length_adjuster_mm"),
        ("link", "link_mm"),
    ):
        yield from _length(kind, "rear", ("rear", name), getattr(now, name), getattr(then, name))
    yield from _stops("shock_stops", "rear", now.stops, then.stops)
    set_at = _if_changed(("rear", "gas_set_at_c"), now.gas_set_at_c, then.gas_set_at_c)
    set_at += _from_here(("rear", "gas_set_in"), now.gas_set_in)
    gas = _length("gas", "rear", ("rear", "gas_pressure_bar"), now.gas_pressure_bar, then.gas_pressure_bar)
    yield from (replace(item, along=set_at) for item in gas)
    if coil:
        yield from adjuster_item("collar", "rear", ("rear", "collar"), now.collar, then.collar)
    for kind, name in (
        ("low_speed_compression", "low_speed_compression"),
        ("high_speed_compression", "high_speed_compression"),
        ("shock_rebound", "rebound"),
    ):
        yield from clicker_item(kind, "rear", ("rear", name), getattr(now, name), getattr(then, name))


# --- chain and tyres ------------------------------------------------------------------------------------------------


def _upkeep(now: Upkeep, then: Upkeep, axle_back_mm: float | None) -> Iterator[Item]:
    def change(name: str) -> tuple[Difference, ...]:
        old, new = getattr(now, name), getattr(then, name)
        return (Difference(("upkeep", name), old, new),) if differs(old, new) else ()

    teeth = (*change("front_teeth"), *change("rear_teeth"))
    if teeth:
        values = {} if axle_back_mm is None else {"axle_back_mm": axle_back_mm}
        yield Item(kind="sprockets", place="rear", changes=teeth, values=values)
    axle, wheelbase = change("axle_mark_mm"), change("wheelbase_mm")
    if axle:
        yield Item(kind="axle", place="rear", changes=axle, along=wheelbase)
    elif wheelbase:
        yield Item(kind="axle", place="rear", changes=wheelbase)
    for end in ("front", "rear"):
        if change(f"{end}_tyre"):
            yield Item(kind="tyre", place=end, changes=change(f"{end}_tyre"))
        if change(f"{end}_wanted_bar"):
            yield Item(kind="pressure", place=end, changes=change(f"{end}_wanted_bar"))


# --- what fork and shock have alike ---------------------------------------------------------------------------------


def _other_spring(at: Path, now: Spring, then: Spring, *, fitted: bool) -> tuple[Difference, ...]:
    """How the earlier spring differs from the one fitted; empty where it is the same spring."""
    pairs = [((*at, name), getattr(now, name), getattr(then, name)) for name in ("rate_n_per_mm", "free_length_mm")]
    if then.second.fitted or now.second.fitted:
        names = [one.name for one in fields(SecondSpring)]
        pairs += [((*at, "second", name), getattr(now.second, name), getattr(then.second, name)) for name in names]
    if not fitted:
        pairs = [(path, None, new) for path, _, new in pairs]
    return tuple(Difference(*pair) for pair in pairs if differs(*pair[1:]))


def _other_values(at: Path, now: Spring, then: Spring, recorded: tuple[Difference, ...]) -> tuple[Difference, ...]:
    """The other values of the earlier spring; those it did not record become blank."""
    names = [
        n for n in ("rate_n_per_mm", "free_length_mm", "coils") if (*at, n) not in {change.path for change in recorded}
    ]
    others = tuple(
        Difference((*at, n), getattr(now, n), getattr(then, n)) for n in names if getattr(now, n) != getattr(then, n)
    )
    taken = {change.path for change in recorded}
    of_second = [((*at, "second", one.name), one.name) for one in fields(SecondSpring)]
    seconds = [
        Difference(path, getattr(now.second, n), getattr(then.second, n)) for path, n in of_second if path not in taken
    ]
    return (*others, *(one for one in seconds if one.old != one.new))


def _set_lengths(at: Path, now: Spring, then: Spring, *, counted_alike: bool) -> tuple[Difference, ...]:
    """The set lengths of the earlier spring and spacers, without those read at a position counted in another way."""
    usable = counted_alike or then.set_length_at is None
    return (
        *_if_changed((*at, "set_length_mm"), now.set_length_mm, then.set_length_mm if usable else None),
        *_if_changed((*at, "set_length_at"), now.set_length_at, then.set_length_at if usable else None),
        *_if_changed((*at, "set_length_in_mm"), now.set_length_in_mm, then.set_length_in_mm),
    )


def _if_changed(path: Path, now: Any, then: Any) -> tuple[Difference, ...]:
    return (Difference(path, now, then),) if now != then else ()


def _reading_to_check(kind: str, place: str, now: Spring, then: Spring) -> Iterator[Item]:
    """The same spring and spacers with another set length at the same position: a reading to check, not work."""
    pair = (now.set_length_mm, then.set_length_mm)
    if None not in pair and now.set_length_at == then.set_length_at and differs(*pair):
        yield Item(
            kind=kind, place=place, changes=(), problem="read_otherwise", values={"now_mm": pair[0], "then_mm": pair[1]}
        )


def _top_out(kind: str, place: str, at: Path, now: TopOut, then: TopOut) -> Iterator[Item]:
    """Work on another top-out spring. Nothing where a value may only have been recorded later."""
    if "unknown" in (now.fitted, then.fitted):
        return
    fitted = _if_changed((*at, "fitted"), now.fitted, then.fitted)
    pairs = [((*at, name), getattr(now, name), getattr(then, name)) for name in ("rate_n_per_mm", "works_over_mm")]
    if fitted:
        along = tuple(Difference(*pair) for pair in pairs if pair[1] != pair[2])
        yield Item(kind=kind, place=place, changes=fitted, along=along)
        return
    changes = tuple(Difference(*pair) for pair in pairs if pair[1] is not None and differs(*pair[1:]))
    if changes:
        yield Item(kind=kind, place=place, changes=changes)


def _fork_top_out(now: Front, then: Front) -> Iterator[Item]:
    """Work on another top-out spring in the fork, or on the same one in other legs."""
    legs_known = then.top_out_legs != "unknown"
    legs = _if_changed(("front", "top_out_legs"), now.top_out_legs, then.top_out_legs) if legs_known else ()
    items = list(_top_out("top_out", "front", ("front", "top_out"), now.top_out, then.top_out))
    yield from (replace(item, along=(*item.along, *legs)) for item in items)
    fitted = now.top_out.fitted == then.top_out.fitted == "yes" and now.top_out_legs != "unknown"
    if not items and fitted and legs and _with_top_out(now) != _with_top_out(then):
        yield Item(kind="top_out", place="front", changes=legs)


def _with_top_out(front: Front) -> list[str]:
    return [front.top_out_of(side).fitted for side in SIDES]


def _packers(kind: str, place: str, path: Path, now: float | None, then: float | None) -> Iterator[Item]:
    """Work on packers. Packers not recorded mean that there are none."""
    one, other = now or 0.0, then or 0.0
    if abs(one - other) > SLACK:
        yield Item(
            kind=kind,
            place=place,
            changes=(Difference(path, now, then),),
            amount=abs(other - one),
            unit="mm",
            direction="more" if other > one else "less",
        )


_STOPS = ("touches_mm", "rate_n_per_mm", "pairs", "hydraulic_mm")


def _stops(kind: str, place: End, now: Stops, then: Stops) -> Iterator[Item]:
    """Work on another bump rubber or cone, or another hydraulic stop."""
    pairs = [((place, "stops", name), getattr(now, name), getattr(then, name)) for name in _STOPS]
    changes = tuple(Difference(*pair) for pair in pairs if differs(*pair[1:]))
    if changes:
        yield Item(kind=kind, place=place, changes=changes)


_WAYS = {"fork_height": ("higher", "lower"), "length": ("longer", "shorter"), "link": ("longer", "shorter")}


def _length(kind: str, place: str, path: Path, now: float | None, then: float | None) -> Iterator[Item]:
    """Work on a number: how much more or less of it."""
    if then is None or not differs(now, then):
        return
    more, less = _WAYS.get(kind, ("more", "less"))
    yield Item(
        kind=kind,
        place=place,
        changes=(Difference(path, now, then),),
        amount=None if now is None else abs(then - now),
        direction="" if now is None else more if then > now else less,
    )
