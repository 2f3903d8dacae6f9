"""Findings on values that are plausible alone but not together: a question before a check relies on them."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.job.model import SIDES, Coils, Job, Path
from stanchion.job.spec import Kind
from stanchion.judgement.criteria.thresholds import (
    HOT_TYRE_BAR,
    HOT_TYRE_C,
    LONGEST_THREAD_MM,
    MOST_SOLIDS_IN_AIR,
    SOLID_LENGTH_DIFFERS,
    STEEPEST_COIL_PITCH,
)
from stanchion.judgement.ends.coils import springs_at
from stanchion.judgement.ends.preload import SpringAt
from stanchion.judgement.results.codes import FindingCode
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.mechanics.gas import ML_MM3, circle_area
from stanchion.mechanics.spring import Ends, longest_solid_length, solid_length


def at_odds(job: Job) -> Iterator[Finding]:
    """Findings on entries that do not agree with each other, and on hot tyres of the latest run."""
    for at in springs_at(job.front, job.rear):
        yield from _coils(at)
        yield from _thread(at)
    yield from _solids(job)
    yield from _hot(job)


def _finding(at: SpringAt, code: FindingCode, *leaf: str, **values: object) -> Finding:
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
        yield _finding(at, "solid_length_unlikely", "spring", "coils", measured_mm=measured, coils_mm=least)
    mean = None if coils.outer_mm is None else coils.outer_mm - wire
    if free is not None and mean is not None and mean > 0.0 and free / total > STEEPEST_COIL_PITCH * mean:
        yield _finding(
            at, "too_few_coils", "spring", "coils", count=total, free_mm=free, coil_mm=free / total, mean_mm=mean
        )


def _solid_by_coils(coils: Coils, total: float, wire: float) -> tuple[float, float]:
    ends = Ends(coils.ends)
    return solid_length(total, wire, ends), longest_solid_length(total, wire, ends)


def _thread(at: SpringAt) -> Iterator[Finding]:
    """Finding on pitch and turns that give more range than any adjuster has."""
    turns, pitch = at.adjuster.total_turns, at.adjuster.pitch_mm
    if turns is not None and pitch is not None and turns * pitch > LONGEST_THREAD_MM:
        yield _finding(
            at,
            "adjuster_range_unlikely",
            at.adjuster_name,
            "pitch_mm",
            range_mm=turns * pitch,
            most_mm=LONGEST_THREAD_MM,
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
