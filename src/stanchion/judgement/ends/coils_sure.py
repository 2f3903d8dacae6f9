"""Room left between the coils at full travel that is no more than its readings can be wrong by: the coils may touch.

It is worked out at every key, so only where little room is left, and from one spring and its adjuster alone; by the
same readings and errors as judgement/reading_errors.py, to which a test holds it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import lru_cache

from stanchion.base.record import record
from stanchion.job.model import Coils, Path
from stanchion.judgement.criteria.thresholds import CALIPER_OFF_MM, COILS_COUNTED, PRELOAD_UNSURE
from stanchion.judgement.ends.coil_data import coil_data
from stanchion.judgement.ends.preload import SpringAt, adjuster_range, installed_and_now
from stanchion.judgement.ends.preload_sure import spring_errors, with_readings_moved
from stanchion.judgement.results.figures import Figure, derive
from stanchion.mechanics.preload import preload_now
from stanchion.mechanics.propagation import ErrorSource, propagated
from stanchion.mechanics.spring import left_at_full_travel
from stanchion.mechanics.statistics import Uncertainty, limits_uncertainty, resolution_uncertainty

_ROOM = "room"
_COUNTED = ("wire_mm", "total_coils")
"""What solid length is computed from where it was not measured."""


@record
class Stroke:
    """Full travel of a spring, as read."""

    travel_mm: float
    packers_mm: float | None
    field: Path


@record
class RoomSure:
    """How sure the room between the coils at full travel is."""

    expanded_mm: float
    """Half-width of the interval that holds it with about 95 %."""
    reading: Path
    """The reading that makes most of it: that of solid length where it is computed from coils that were counted."""


def may_touch(
    room_mm: float, at: SpringAt, stroke: Stroke, tape_mm: float, own: Uncertainty | None, *, now: bool
) -> RoomSure | None:
    """How sure the room is where it is so little that the coils may touch; None where they do not.

    Args:
        room_mm: room left between the coils at full travel.
        at: the spring.
        stroke: its full travel.
        tape_mm: smallest division of the tape [mm].
        own: how sure one length is by the technician's own study [mm]; None: there is none.
        now: whether it is the room with the adjuster where it is now; else with it fully in.
    """
    coils = at.spring.coils
    most_mm = PRELOAD_UNSURE * max(tape_mm, 0.0 if own is None else own.expanded)
    if coils.solid_length_mm is None:
        most_mm += CALIPER_OFF_MM * 2.0 * (coils.total_coils or 0.0) + COILS_COUNTED * (coils.wire_mm or 0.0)
    if room_mm > most_mm or at.spring.second.fitted:
        return None
    sure = room_sure(at, stroke, tape_mm, own, now=now)
    return None if sure is None or room_mm > sure.expanded_mm else sure


@lru_cache(maxsize=64)
def room_sure(at: SpringAt, stroke: Stroke, tape_mm: float, own: Uncertainty | None, *, now: bool) -> RoomSure | None:
    """How sure the room between the coils of one spring is; None where there is none.

    Args:
        at: the spring.
        stroke: its full travel.
        tape_mm: smallest division of the tape [mm].
        own: how sure one length is by the technician's own study [mm]; None: there is none.
        now: whether it is the room with the adjuster where it is now; else with it fully in.
    """

    def worked_out(moved: Mapping[str, float]) -> Mapping[str, float]:
        room_mm = _room(with_readings_moved(at, moved), stroke, moved, now=now).value
        return {} if room_mm is None else {_ROOM: room_mm}

    known = propagated(worked_out, _errors(at, stroke, tape_mm, own)).get(_ROOM)
    if known is None:
        return None
    name = next((part.name for part in known.parts if part.name != "tape_scale"), "solid_length_mm")
    if name in (*_COUNTED, "solid_length_mm"):
        return RoomSure(known.uncertainty.expanded, (*at.spring_at, "coils", "solid_length_mm"))
    if name in ("travel_mm", "packers_mm"):
        return RoomSure(known.uncertainty.expanded, stroke.field)
    where = at.spring_at if hasattr(at.spring, name) else at.adjuster_at
    return RoomSure(known.uncertainty.expanded, (*where, name))


def _errors(at: SpringAt, stroke: Stroke, tape_mm: float, own: Uncertainty | None) -> Iterator[ErrorSource[str, str]]:
    coils, by_tape = at.spring.coils, {"travel_mm": stroke.travel_mm}
    yield ErrorSource("travel_mm", (("travel_mm", resolution_uncertainty(tape_mm)),))
    if stroke.packers_mm is not None:
        yield ErrorSource("packers_mm", (("packers_mm", limits_uncertainty(CALIPER_OFF_MM)),))
    if coils.solid_length_mm is not None:
        by_tape["solid_length_mm"] = coils.solid_length_mm
        yield ErrorSource("solid_length_mm", (("solid_length_mm", resolution_uncertainty(tape_mm)),))
    else:
        yield ErrorSource("wire_mm", (("wire_mm", limits_uncertainty(CALIPER_OFF_MM)),))
        yield ErrorSource("total_coils", (("total_coils", resolution_uncertainty(COILS_COUNTED)),))
    yield from spring_errors(at, tape_mm, own, by_tape)


def _room(at: SpringAt, stroke: Stroke, moved: Mapping[str, float], *, now: bool) -> Figure:
    """Room left at full travel, from the damper's stop."""
    limits = adjuster_range(at)
    installed, present = installed_and_now(at, limits)
    preload = present if now else derive(preload_now, installed, limits.range_mm)
    coils = _moved(at.spring.coils, moved)
    solid = coil_data(coils, (*at.spring_at, "coils")).solid_length_mm
    travel = stroke.travel_mm + moved.get("travel_mm", 0.0)
    if stroke.packers_mm:
        travel = max(0.0, travel - stroke.packers_mm - moved.get("packers_mm", 0.0))
    stop_mm = at.read_at_mm or 0.0
    free = Figure(at.spring.free_length_mm) if at.spring.free_length_mm is not None else installed
    return derive(
        lambda length, block, mm: left_at_full_travel(length, block, mm - stop_mm, travel), free, solid, preload
    )


def _moved(coils: Coils, moved: Mapping[str, float]) -> Coils:
    changes = {name: moved[name] for name in (*_COUNTED, "solid_length_mm") if name in moved}
    return replace(coils, **{name: getattr(coils, name) + by for name, by in changes.items()}) if changes else coils
