"""What the readings of a job say already on a complaint of the rider."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import cast, get_args

from stanchion.base.record import record
from stanchion.job.model import ENDS, STATES, End, Job, Path
from stanchion.judgement.criteria.riders_words import ComplaintRow, ReadingKind
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.codes import (
    AdjusterCode,
    Advice,
    DampingCode,
    FindingCode,
    GeometryCode,
    PredictionCode,
    PreloadCode,
    RunCode,
    SagCode,
)
from stanchion.judgement.results.findings import DOUBTS, Finding, Severity


@record(kw_only=True)
class ReadingState:
    """What a reading of the job says on a complaint."""

    kind: ReadingKind
    read: bool
    """Whether it was taken."""
    findings: tuple[Finding, ...]
    """What is found in it, worst first; none: nothing against it."""
    to_read: Path
    """The field to go to."""


_STICTION: frozenset[FindingCode] = frozenset({"stiction_note", "stiction_fault", "readings_swapped", "find_friction"})
_LEGS: frozenset[FindingCode] = frozenset(
    {
        "compression_differs",
        "high_speed_compression_differs",
        "rebound_differs",
        "preload_now_differs",
        "installed_preload_differs",
        "rates_differ",
    }
)
_TYRES: frozenset[FindingCode] = frozenset({"tyre_hot_below_cold", "tyre_hot_off"})
_SUITS: frozenset[FindingCode] = frozenset(
    {
        "pair_suits",
        "pair_close",
        "pair_nearest",
        "pair_borderline",
        "pair_down_only",
        "air_suits",
        "top_out_reads_lower",
    }
)
"""What is said where nothing is to be done."""
_CODES: dict[str, frozenset[FindingCode]] = {
    "sag": frozenset((*get_args(SagCode), *get_args(Advice), *DOUBTS, *get_args(PredictionCode))) - _STICTION - _SUITS,
    "stiction": _STICTION,
    "travel": frozenset(get_args(RunCode)) - _TYRES,
    "preload": frozenset((*get_args(PreloadCode), *get_args(AdjusterCode))),
    "legs": _LEGS,
    "rebound": frozenset(get_args(DampingCode)),
    "tyres": _TYRES,
    "geometry": frozenset((*get_args(GeometryCode), "geometry_stale")),
    "torques": frozenset({"torques_open"}),
}


_BY_CODE = ("legs", *(about for about in _CODES if about != "legs"))


def reading_states(job: Job, at: int, assessment: Assessment, rows: Iterable[ComplaintRow]) -> Iterator[ReadingState]:
    """Each reading once: those in which something is found first, then what is not read.

    Args:
        job: the job.
        at: which run, from 0.
        assessment: what assess() gave for the job.
        rows: the rows that answer the complaints about it.
    """
    rows = tuple(rows)
    kinds = dict.fromkeys(kind for row in rows for kind in row.readings)
    ends = {end for row in rows for end in (*(one.end for one in row.changes), *(_about(kind)[0] for kind in kinds))}
    bearing = [one for one in assessment.findings if one.severity > Severity.NOTE and set(_named(one)) & ends]
    kinds |= dict.fromkeys(_kind_of(one) for one in bearing)
    states = [_state(job, at, assessment, kind) for kind in kinds]
    yield from sorted(states, key=lambda one: (not one.findings, bool(one.findings) or one.read))


def _state(job: Job, at: int, assessment: Assessment, kind: ReadingKind) -> ReadingState:
    end, about = _about(kind)
    read, to_read = _taken(job, at, assessment, about, end)
    findings = tuple(
        finding
        for finding in assessment.findings
        if _about_what(finding) == about and (not end or about == "legs" or end in _ends_of(finding))
    )
    return ReadingState(kind=kind, read=read, findings=findings, to_read=findings[0].where if findings else to_read)


def _about_what(finding: Finding) -> str:
    """What a finding is about: of a warning that only names an end its preload, with springs and lengths."""
    other = "preload" if finding.severity > Severity.NOTE and _named(finding) else ""
    found = next((about for about in _BY_CODE if finding.code in _CODES[about]), other)
    return other if finding.code in _SUITS or (found == "rebound" and "front" in _named(finding)) else found


def _kind_of(finding: Finding) -> ReadingKind:
    about = _about_what(finding)
    name = about if about in get_args(ReadingKind) else f"{_named(finding)[0]}_{about}"
    return cast(ReadingKind, name)


def _about(kind: ReadingKind) -> tuple[End | None, str]:
    """The end, and what is read there."""
    for end in ENDS:
        if kind.startswith(f"{end}_"):
            return end, kind.removeprefix(f"{end}_")
    return None, kind


def _ends_of(finding: Finding) -> tuple[End, ...]:
    """The ends that a finding is about; both where it names none."""
    return _named(finding) or ENDS


def _named(finding: Finding) -> tuple[End, ...]:
    return tuple(end for end in ENDS if any(step == end or str(step).startswith(f"{end}_") for step in finding.where))


def _taken(job: Job, at: int, a: Assessment, about: str, end: End | None) -> tuple[bool, Path]:
    """Whether a reading was taken, and its field."""
    run: Path = ("runs", at)
    if about in ("sag", "stiction") and end is not None:
        of = a.sag.end(end)
        figures = [of.state(state).sag_mm if about == "sag" else of.state(state).stiction_mm for state in STATES]
        known = [figure.known for figure in figures]
        return all(known) if about == "sag" else any(known), ("sag", end, "rider", "down_mm", 0)
    if about == "travel":
        name = f"{end}_marker_mm"
        return getattr(job.runs[at], name) is not None, (*run, name)
    if about == "preload":
        now, path = (
            (a.rear.spring.preload_now_mm, ("rear", "collar", "now"))
            if end == "rear"
            else (a.front.left.preload_now_mm, ("front", "left", "adjuster", "now"))
        )
        return now.known, cast(Path, path)
    if about == "rebound":
        return job.rear.rebound.now is not None, ("rear", "rebound", "now")
    if about == "tyres":
        names = [f"{one}_{when}_bar" for one in ENDS for when in ("hot", "cold")]
        return any(getattr(job.runs[at], name) is not None for name in names), (*run, "front_hot_bar")
    if about == "geometry":
        return a.geometry.trail_mm.known, ("geometry", "rake_deg")
    if about == "torques":
        return bool(job.upkeep.torques), ("upkeep", "torques", 0, "what")
    return True, ("front", "left", "compression", "now")
