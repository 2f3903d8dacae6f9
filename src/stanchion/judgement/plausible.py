"""Findings that ask about a value: unlikely in its unit, at odds with another, or other than in the job before.

Each is a question, not an error. The ranges are in data/plausible.toml with their scopes and sources.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache
from operator import attrgetter
from typing import Any

from stanchion.base.bundled import shipped_data
from stanchion.base.record import record
from stanchion.base.toml import trusted_tables
from stanchion.job.edit import spec_at
from stanchion.job.model import SIDES, Coils, Job, Path, Side
from stanchion.job.spec import Kind, Many, Number, Progressive
from stanchion.judgement.criteria.profiles import PreloadBand
from stanchion.judgement.criteria.thresholds import (
    HOT_TYRE_BAR,
    HOT_TYRE_C,
    LONGEST_THREAD_MM,
    MOST_COUNTED,
    MOST_SOLIDS_IN_AIR,
    SLACK,
    SOLID_LENGTH_DIFFERS,
    STEEPEST_COIL_PITCH,
)
from stanchion.judgement.ends.adjuster import counts_more_than_any
from stanchion.judgement.ends.coils import springs_at
from stanchion.judgement.ends.front import length_severity, made_up, spacer_for
from stanchion.judgement.ends.preload import SpringAt, spacer_room
from stanchion.judgement.results.assessment import Band, FrontFigures
from stanchion.judgement.results.codes import FindingCode
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.mechanics.gas import ML_MM3, circle_area
from stanchion.mechanics.spring import Ends, longest_solid_length, solid_length
from stanchion.units.known_units import exact_factors

_RATE = ("spring", "rate_n_per_mm")


@record
class Expected:
    """The usual range of a field."""

    path: Path
    kind: Kind
    low: float
    high: float
    get: Callable[[Any], Any]


def implausible(job: Job) -> Iterator[Finding]:
    """One finding for each recorded value outside its usual range, with the unit it may have been meant in."""
    alone = _only_spring(job)
    for expected in _expected(split=job.front.split):
        value = expected.get(job)
        if value is None:
            continue
        if alone is not None and expected.path[0] == "front" and expected.path[2:] == _RATE:
            if expected.path[:2] != alone:
                continue
            expected = replace(expected, low=2.0 * expected.low, high=2.0 * expected.high)  # noqa: PLW2901
        if isinstance(value, Progressive):
            for rate in (value.start, value.end):
                if not expected.low <= rate <= expected.high:
                    yield _finding(job, expected, expected.path, rate)
                    break
        elif isinstance(value, tuple):
            for position, item in enumerate(value):
                if not expected.low <= item <= expected.high:
                    yield _finding(job, expected, (*expected.path, position), item)
        elif not expected.low <= value <= expected.high:
            yield _finding(job, expected, expected.path, value)


def _only_spring(job: Job) -> Path | None:
    """Path of the leg with the only spring of the fork. That spring replaces two, so its usual rate is doubled."""
    if not job.front.split:
        return None
    sprung = [side for side in SIDES if job.front.leg(side).coil_fitted]
    return ("front", sprung[0]) if len(sprung) == 1 else None


def _finding(job: Job, expected: Expected, path: Path, value: float) -> Finding:
    values: dict[str, object] = {
        "path": path,
        "kind": expected.kind,
        "value": value,
        "low": expected.low,
        "high": expected.high,
    }
    meant = [(unit, value * factor) for unit, factor in exact_factors(expected.kind)]
    usual = [one for one in meant if expected.low <= one[1] <= expected.high]
    if usual:
        middle = math.sqrt(expected.low * expected.high)
        unit, likely = min(usual, key=lambda one: abs(math.log(one[1] / middle)))
        values |= {"typed": value, "unit": unit, "meant": likely}
    if path[0] == "front" and path[1] == "left" and not job.front.split:
        values["both_legs"] = True
    return Finding("implausible", Severity.WARNING, path, values)


@cache
def _expected(*, split: bool) -> tuple[Expected, ...]:
    """The usual range of every field, with the patterns of plausible.toml expanded."""
    rows = trusted_tables(shipped_data("plausible.toml").decode("utf-8"))["range"]
    found = []
    for row in rows:
        for pattern in row["at"]:
            for name in _expanded(pattern, split=split):
                path: Path = tuple(name.split("."))
                spec = spec_at(path)
                number = spec.item if isinstance(spec, Many) else spec
                if not isinstance(number, Number):
                    raise TypeError(f"plausible.toml: {name} is not a number")
                found.append(Expected(path, number.kind, row["low"], row["high"], attrgetter(name)))
    return tuple(found)


def _expanded(pattern: str, *, split: bool) -> tuple[str, ...]:
    if "*" not in pattern:
        return (pattern,)
    legs = ("left", "right") if split else ("left",)
    names = legs if pattern.startswith("front.") else ("front", "rear")
    return tuple(pattern.replace("*", name) for name in names)


def at_odds(job: Job) -> Iterator[Finding]:
    """Findings on entries that do not agree with each other, and on hot tyres of the latest run."""
    for at in springs_at(job.front, job.rear):
        yield from _coils(at)
        yield from [*_thread(at)] or _position(at)
    yield from _solids(job)
    yield from _hot(job)


def _contradiction(at: SpringAt, code: FindingCode, *leaf: str, **values: object) -> Finding:
    if at.both_legs:
        values["both_legs"] = True
    return Finding(code, Severity.WARNING, (*at.where, *leaf), values)


def _coils(at: SpringAt) -> Iterator[Finding]:
    """Findings on solid length and number of coils, compared with wire and free length."""
    coils, free = at.spring.coils, at.spring.free_length_mm
    total, wire = coils.total_coils, coils.wire_mm
    if total is None or wire is None:
        return
    measured = coils.solid_length_mm
    least, most = _solid_by_coils(coils, total, wire)
    if measured is not None and not least * (1.0 - SOLID_LENGTH_DIFFERS) <= measured <= most * (
        1.0 + SOLID_LENGTH_DIFFERS
    ):
        yield _contradiction(at, "solid_length_unlikely", "spring", "coils", measured_mm=measured, coils_mm=least)
    mean = None if coils.outer_mm is None else coils.outer_mm - wire
    if free is not None and mean is not None and mean > 0.0 and free / total > STEEPEST_COIL_PITCH * mean:
        yield _contradiction(
            at, "too_few_coils", "spring", "coils", count=total, free_mm=free, coil_mm=free / total, mean_mm=mean
        )


def _solid_by_coils(coils: Coils, total: float, wire: float) -> tuple[float, float]:
    ends = Ends(coils.ends)
    return solid_length(total, wire, ends), longest_solid_length(total, wire, ends)


def _thread(at: SpringAt) -> Iterator[Finding]:
    """Finding on pitch and turns, or on clicks, that give more range than any adjuster has: those in all, or those that
    it is in where they were not counted."""
    pitch = at.adjuster.step_mm
    turns = at.adjuster.now if at.adjuster.total is None and at.adjuster.from_out else at.adjuster.total
    if turns is not None and pitch is not None and turns * pitch > LONGEST_THREAD_MM:
        yield _contradiction(
            at,
            "adjuster_range_unlikely",
            at.adjuster_name,
            at.adjuster.step_name,
            range_mm=turns * pitch,
            most_mm=LONGEST_THREAD_MM,
            **({"turned_in": "clicks"} if at.adjuster.counting == "clicks" else {}),
        )


def _position(at: SpringAt) -> Iterator[Finding]:
    """Finding on a position that no adjuster reaches, where the ends of this one are not recorded."""
    adjuster = at.adjuster
    if not counts_more_than_any(adjuster):
        return
    path: Path = (*at.where, at.adjuster_name, "now")
    yield _contradiction(
        at,
        "implausible",
        at.adjuster_name,
        "now",
        path=path,
        kind=Kind.COUNT,
        value=adjuster.now,
        low=0.0,
        high=MOST_COUNTED[adjuster.counting],
    )


def _solids(job: Job) -> Iterator[Finding]:
    """Findings on solids that fill most of their air space."""
    inner = job.front.stanchion_inner_mm
    for side in SIDES if job.front.split else SIDES[:1]:
        leg = job.front.leg(side)
        if inner is None or leg.air_gap_mm is None or leg.solids_ml is None:
            continue
        space = circle_area(inner) * leg.air_gap_mm / ML_MM3
        if leg.solids_ml > MOST_SOLIDS_IN_AIR * space:
            values: dict[str, object] = {"solids_ml": round(leg.solids_ml), "space_ml": round(space)}
            if not job.front.split:
                values["both_legs"] = True
            yield Finding("solids_fill_air", Severity.WARNING, ("front", side, "solids_ml"), values)


def _hot(job: Job) -> Iterator[Finding]:
    """Findings on unlikely temperatures and pressures of hot tyres in the latest run."""
    if not job.runs:
        return
    at, run = len(job.runs) - 1, job.runs[-1]
    for end in ("front", "rear"):
        for name, kind, (low, high) in (
            (f"{end}_hot_c", Kind.TEMPERATURE, HOT_TYRE_C),
            (f"{end}_hot_bar", Kind.PRESSURE, HOT_TYRE_BAR),
        ):
            value = getattr(run, name)
            if value is not None and not low <= value <= high:
                path: Path = ("runs", at, name)
                values: dict[str, object] = {"path": path, "kind": kind, "value": value, "low": low, "high": high}
                yield Finding("implausible", Severity.WARNING, path, values)


def previous_findings(
    job: Job, previous: Job | None, front: FrontFigures, band: PreloadBand | None
) -> Iterator[Finding]:
    """Findings on springs of another free length than before, with the spacer that keeps installed preload.

    Args:
        job: the job.
        previous: the job it was carried from.
        front: figures of the fork.
        band: the band for installed preload of the fork.
    """
    if previous is None:
        if job.job.carried_from:
            yield Finding("previous_absent", Severity.NOTE, ("job", "carried_from"), {"name": job.job.carried_from})
        return
    for side in SIDES if job.front.split or previous.front.split else SIDES[:1]:
        yield from _leg_findings(job, previous, side, spacer_room(front.leg(side).installed_preload_mm.value, band))
    yield from _longer_or_shorter(job.rear.spring.free_length_mm, previous.rear.spring.free_length_mm, ("rear",), {})


def _leg_findings(job: Job, previous: Job, side: Side, room: Band) -> Iterator[Finding]:
    new, old = job.front.leg(side), previous.front.leg(side)
    if not (new.coil_fitted and old.coil_fitted):
        return
    new_free, old_free = new.spring.free_length_mm, old.spring.free_length_mm
    values: dict[str, object] = {}
    if not job.front.split and not previous.front.split:
        values["both_legs"] = True
    if new_free is not None and old_free is not None:
        values["spacer_mm"] = spacer_for(old.stack.spacer_mm, old_free, new_free, None)
        if not room[0] - SLACK <= old_free - new_free <= room[1] + SLACK:
            values["band_full"] = True
    where_side: Side = side if job.front.split else "left"
    spacer = values.get("spacer_mm")
    for finding in _longer_or_shorter(new_free, old_free, ("front", where_side), values):
        if isinstance(spacer, float) and made_up(new, spacer):
            yield Finding("length_made_up", Severity.NOTE, finding.where, finding.values)
        else:
            yield finding


def _longer_or_shorter(
    new_free: float | None, old_free: float | None, where: Path, values: dict[str, object]
) -> Iterator[Finding]:
    if new_free is None or old_free is None:
        return
    difference = abs(new_free - old_free)
    severity = length_severity(difference)
    if severity is None or difference <= SLACK:
        return
    yield Finding(
        "shorter_than_before" if new_free < old_free else "longer_than_before",
        severity,
        (*where, "spring", "free_length_mm"),
        {"old_mm": old_free, "new_mm": new_free, "difference_mm": difference, **values},
    )
