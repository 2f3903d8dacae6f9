"""Figures and findings on the preload of one spring, in a fork leg or on a shock."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from stanchion.base.record import record
from stanchion.job.model import Adjuster, Path, Spring
from stanchion.judgement.criteria.profiles import PreloadBand
from stanchion.judgement.criteria.thresholds import (
    FEW_TURNS_LEFT,
    NOT_SHOWN_MM,
    PRELOAD_NEAR_LIMIT_MM,
    RANGES_DISAGREE,
    SLACK,
)
from stanchion.judgement.ends.adjuster import AdjusterRange, reach
from stanchion.judgement.ends.spring_law import SpringLaw
from stanchion.judgement.results.assessment import Band, PreloadFigures
from stanchion.judgement.results.codes import FindingCode, PreloadVerdict
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.mechanics.preload import installed_preload, preload_force, preload_now, turns_for


@record
class SpringAt:
    """One spring with its adjuster, and their paths in the job."""

    spring: Spring
    adjuster: Adjuster
    where: Path
    """The leg, or the shock."""
    adjuster_name: str
    """Name of the adjuster's field in it."""
    both_legs: bool = False
    """Whether one leg is entered for both."""
    for_range: Spring | None = None
    """The spring with the set lengths to take the adjuster's range from; None: those that were read."""
    read_at_mm: float | None = 0.0
    """Compression at which the set length was read; None where it is not known."""

    @property
    def spring_at(self) -> Path:
        """Path of the spring."""
        return (*self.where, "spring")

    @property
    def adjuster_at(self) -> Path:
        """Path of the adjuster."""
        return (*self.where, self.adjuster_name)

    @property
    def is_shock(self) -> bool:
        """Whether this is the shock's spring."""
        return self.where == ("rear",)


def adjuster_range(at: SpringAt) -> AdjusterRange:
    """Range and headroom of the adjuster of that spring."""
    return reach(at.for_range or at.spring, at.adjuster, at.spring_at, at.adjuster_at, by_thread=at.is_shock)


def spring_figures(
    at: SpringAt,
    law: SpringLaw,
    limits: AdjusterRange,
    stack: Figure,
    band: PreloadBand | None,
    *,
    bind_mm: float | None = None,
) -> PreloadFigures:
    """The figures of one spring.

    Args:
        at: the spring.
        law: its force over its compression.
        limits: range and headroom of its adjuster.
        stack: spacer, washers and seats together.
        band: band for installed preload.
        bind_mm: preload at which the coils would touch at full travel; it limits a collar whose ends were not counted.
    """
    free = recorded(at.spring.free_length_mm, (*at.spring_at, "free_length_mm"))
    set_length = recorded(at.spring.set_length_mm, (*at.spring_at, "set_length_mm"))
    installed = derive(installed_preload, free, set_length, limits.added_where_read_mm)
    now = derive(preload_now, installed, limits.added_now_mm)
    if limits.stays and not now.known and not limits.added_now_mm.problem:
        now = derive(installed_preload, free, set_length)
    as_it_stands = limits.no_fully_out and now.known
    if as_it_stands:
        installed = now
        limits = _bounded(limits, now.value or 0.0, band, bind_mm)
    return PreloadFigures(
        installed_preload_mm=installed,
        adjuster_range_mm=limits.range_mm,
        mm_per_turn=limits.per_turn_mm,
        preload_now_mm=now,
        greatest_preload_mm=derive(preload_now, installed, limits.range_mm),
        preload_force_n=law.derive(preload_force, now),
        headroom_out_mm=limits.out_mm,
        headroom_in_mm=limits.in_mm,
        headroom_out_turns=limits.out_turns,
        headroom_in_turns=limits.in_turns,
        stack_mm=stack,
        band=(band.low, band.high) if band else None,
        band_source=band.source if band else None,
        verdict=verdict(installed.value, band, now.value),
        as_it_stands=as_it_stands,
        read_at_mm=at.read_at_mm,
        turned_in="clicks" if at.adjuster.counting == "clicks" else "turns",
        step_mm=limits.step_mm,
    )


def _bounded(limits: AdjusterRange, now_mm: float, band: PreloadBand | None, bind_mm: float | None) -> AdjusterRange:
    """Headroom of a collar whose ends were not counted: outwards to the lower end of the band for preload, inwards to
    its upper end or to coil bind, whichever comes first."""
    least = 0.0 if band is None else band.low
    ends = [mm for mm in (most_preload(band) if band else None, bind_mm) if mm is not None]
    out_mm = Figure(max(0.0, now_mm - least))
    in_mm = Figure(max(0.0, min(ends) - now_mm)) if ends else limits.in_mm
    return replace(
        limits,
        out_mm=out_mm,
        in_mm=in_mm,
        out_turns=derive(turns_for, out_mm, limits.per_turn_mm),
        in_turns=derive(turns_for, in_mm, limits.per_turn_mm),
    )


def most_preload(band: PreloadBand) -> float:
    """The greatest preload that the band allows [mm]."""
    return band.high if band.limit is None else min(band.high, band.limit)


def spacer_room(installed_mm: float | None, band: PreloadBand | None) -> Band:
    """By how much the spacer may be shorter, below 0, and longer with installed preload in its band; out of it, only
    towards it. Unlimited where that is not known; without a band, no shorter than leaves the spring some preload.

    >>> sport = PreloadBand(low=8, high=15, limit=15)
    >>> spacer_room(12.0, sport), spacer_room(7.0, sport), spacer_room(20.0, sport)
    ((-4.0, 3.0), (0.0, 8.0), (-12.0, 0.0))
    """
    if installed_mm is None or band is None:
        return (-math.inf if installed_mm is None else min(0.0, -installed_mm), math.inf)
    return (min(0.0, band.low - installed_mm), max(0.0, most_preload(band) - installed_mm))


def no_spring(band: PreloadBand | None, stack: Figure) -> PreloadFigures:
    """The figures of a leg that has no spring."""
    none = absent("no_spring")
    return PreloadFigures(
        installed_preload_mm=none,
        adjuster_range_mm=none,
        mm_per_turn=none,
        preload_now_mm=none,
        greatest_preload_mm=none,
        preload_force_n=none,
        headroom_out_mm=none,
        headroom_in_mm=none,
        headroom_out_turns=none,
        headroom_in_turns=none,
        stack_mm=stack,
        band=(band.low, band.high) if band else None,
        band_source=band.source if band else None,
        verdict="",
        has_spring=False,
    )


OUT_OF_BAND: frozenset[PreloadVerdict] = frozenset({"loose", "low", "high", "over_limit"})
"""Verdicts on installed preload out of its band."""


def verdict(installed_mm: float | None, band: PreloadBand | None, now_mm: float | None = None) -> PreloadVerdict:
    """Where installed preload lies; a band includes both its ends, and what does not show beyond them.

    A spring is "loose" where it has no preload at the present position of the adjuster. If it would lose preload only
    with the adjuster fully out, its installed preload is "low".

    Args:
        installed_mm: installed preload.
        band: band for it.
        now_mm: preload at the present position of the adjuster; None: not known, and installed preload is judged.

    >>> sport = PreloadBand(low=8, high=15, limit=15)
    >>> [verdict(mm, sport) for mm in (-1, 7.9, 8, 14, 15, 15.1)]
    ['loose', 'low', 'in', 'near_limit', 'near_limit', 'over_limit']
    >>> verdict(-1, sport, now_mm=6)
    'low'
    >>> verdict(7.96, sport), verdict(15.04, sport)  # shown as 8.0 and 15.0 mm
    ('in', 'near_limit')
    """
    if installed_mm is None:
        return ""
    if (installed_mm if now_mm is None else now_mm) <= SLACK:
        return "loose"
    if band is None:
        return "low" if installed_mm <= SLACK else ""
    if installed_mm < band.low - NOT_SHOWN_MM:
        return "low"
    if band.limit is not None and installed_mm > band.limit + NOT_SHOWN_MM:
        return "over_limit"
    if installed_mm > band.high + NOT_SHOWN_MM:
        return "high"
    if band.limit is not None and installed_mm >= band.limit - PRELOAD_NEAR_LIMIT_MM - SLACK:
        return "near_limit"
    return "in"


def spring_findings(
    at: SpringAt, limits: AdjusterRange, figures: PreloadFigures, band: PreloadBand | None
) -> Iterator[Finding]:
    """Findings on one spring, its lengths and its adjuster."""
    yield from _length_findings(at, limits)
    yield from _band_findings(at, figures, band)
    if at.adjuster.counting != "none":
        yield from _position_findings(at, limits, figures, band)
        yield from _reading_findings(at, limits)


def _finding(at: SpringAt, code: FindingCode, severity: Severity, *leaf: str, **values: object) -> Finding:
    if at.both_legs:
        values["both_legs"] = True
    return Finding(code, severity, (*at.where, *leaf), values)


def _length_findings(at: SpringAt, limits: AdjusterRange) -> Iterator[Finding]:
    spring = at.spring
    free, fitted = spring.free_length_mm, spring.set_length_mm
    if limits.range_from_lengths_mm.problem == "set_lengths_order":
        yield _finding(
            at,
            "set_lengths_order",
            Severity.FAULT,
            "spring",
            "set_length_in_mm",
            set_mm=fitted,
            set_in_mm=spring.set_length_in_mm,
        )
    if limits.range_from_lengths_mm.problem == "set_length_read_fully_in" and not limits.range_from_thread_mm.known:
        yield _finding(at, "set_length_read_fully_in", Severity.NOTE, "spring", "set_length_at")
    if free is not None and fitted is not None and fitted > free + SLACK and not limits.added_where_read_mm.known:
        yield _finding(
            at, "set_longer_than_free", Severity.FAULT, "spring", "set_length_mm", set_mm=fitted, free_mm=free
        )


def _band_findings(at: SpringAt, figures: PreloadFigures, band: PreloadBand | None) -> Iterator[Finding]:
    installed, now = figures.installed_preload_mm.value, figures.preload_now_mm.value
    if installed is None:
        return
    values: dict[str, object] = {"preload_mm": installed}
    if figures.as_it_stands:
        values["as_it_stands"] = True
    if figures.verdict == "loose":
        apart = now is not None and abs(now - installed) > SLACK
        yield _finding(at, "spring_loose", Severity.FAULT, **values, now_mm=now if apart else None)
        return
    if band is not None:
        values |= {"low_mm": band.low, "high_mm": band.high}
    loose_below = (band.loose_below if band else None) or 0.0
    if installed <= SLACK or installed < loose_below - SLACK:
        values |= {"loose_below_mm": loose_below, "keep_in_mm": _keep_in(at, figures, loose_below - installed)}
        if now is not None and now > installed + SLACK and now >= loose_below - SLACK:
            yield _finding(at, "loose_fully_out", Severity.WARNING, **values, now_mm=now)
        else:
            yield _finding(at, "spring_may_come_loose", Severity.WARNING, **values)
    elif band is None:
        yield _finding(at, "preload_by_manual", Severity.NOTE, **values)
    elif figures.verdict == "low":
        short_mm = band.low - installed
        values |= {"change_mm": short_mm, "keep_in_mm": _keep_in(at, figures, short_mm)}
        yield _finding(at, "preload_low", Severity.WARNING, **values)
    elif figures.verdict == "high":
        yield _finding(at, "preload_high", Severity.WARNING, **values, change_mm=installed - band.high)
    elif figures.verdict == "over_limit":
        yield _finding(at, "preload_over_limit", Severity.FAULT, **values, limit_mm=band.limit)
    elif figures.verdict == "near_limit":
        there = band.limit is not None and abs(installed - band.limit) <= NOT_SHOWN_MM
        values["nearness"] = "at" if there else "close"
        yield _finding(at, "preload_near_limit", Severity.NOTE, **values, limit_mm=band.limit)


def _keep_in(at: SpringAt, figures: PreloadFigures, short_mm: float) -> float | None:
    """How far to keep the adjuster in from fully out to make up for too little installed preload; None where it
    cannot."""
    range_mm = figures.adjuster_range_mm.value
    beyond = range_mm is not None and short_mm > range_mm + SLACK
    return None if at.adjuster.counting == "none" or beyond else short_mm


def _position_findings(
    at: SpringAt, limits: AdjusterRange, figures: PreloadFigures, band: PreloadBand | None
) -> Iterator[Finding]:
    """Findings on an adjuster at, near or beyond an end."""
    leaf = (at.adjuster_name, "now")
    fraction = limits.fraction_now.value
    left_in, left_out = limits.in_turns.value, limits.out_turns.value
    # Turns of a collar whose range nobody counted start anywhere, so their zero says nothing.
    uncounted_zero = fraction is None and left_out is not None and left_out <= SLACK and not at.is_shock
    # No spacer is named that would take installed preload out of its band, or further out of it.
    room = spacer_room(figures.installed_preload_mm.value, band)
    if limits.fraction_now.problem == "adjuster_beyond_range":
        yield _finding(at, "adjuster_beyond_range", Severity.FAULT, *leaf, **_ends(at.adjuster, at.adjuster.now))
    elif (fraction is not None and fraction >= 1 - SLACK) or (left_in is not None and left_in <= SLACK):
        full = room[1] <= SLACK or figures.verdict == "near_limit"
        yield _finding(at, "adjuster_fully_in", Severity.WARNING, *leaf, **({"band_full": True} if full else {}))
    elif uncounted_zero or (fraction is not None and fraction <= SLACK):
        full = room[0] >= -SLACK
        yield _finding(at, "adjuster_fully_out", Severity.WARNING, *leaf, **({"band_full": True} if full else {}))
    elif left_in is not None and left_in < FEW_TURNS_LEFT - SLACK:
        yield _finding(at, "adjuster_nearly_in", Severity.NOTE, *leaf, turns=left_in, **_in_clicks(at))
    elif fraction is not None and left_out is not None and left_out < FEW_TURNS_LEFT - SLACK:
        yield _finding(at, "adjuster_nearly_out", Severity.NOTE, *leaf, turns=left_out, **_in_clicks(at))


def _reading_findings(at: SpringAt, limits: AdjusterRange) -> Iterator[Finding]:
    """Findings on adjuster readings that contradict each other."""
    adjuster = at.adjuster
    if limits.fraction_now.problem == "adjuster_ends_equal":
        yield _finding(
            at,
            "adjuster_ends_equal",
            Severity.WARNING,
            at.adjuster_name,
            "reading_in",
            reading=adjuster.reading_in,
        )
    elif (
        not adjuster.from_out
        and not at.is_shock  # a collar's exposed thread may be read from either side
        and adjuster.reading_out is not None
        and adjuster.reading_in is not None
        and adjuster.reading_in > adjuster.reading_out
    ):
        yield _finding(
            at,
            "adjuster_readings_order",
            Severity.WARNING,
            at.adjuster_name,
            "reading_in",
            out=adjuster.reading_out,
            fully_in=adjuster.reading_in,
        )
    if limits.added_where_read_mm.problem == "adjuster_beyond_range":
        yield _finding(
            at,
            "set_length_at_beyond_range",
            Severity.FAULT,
            "spring",
            "set_length_at",
            **_ends(adjuster, at.spring.set_length_at),
        )
    by_pitch, in_use = limits.range_from_pitch_mm.value, limits.range_mm.value
    if adjuster.counting == "mm" and by_pitch is not None and in_use is not None and _differ(in_use, by_pitch):
        yield _finding(
            at,
            "pitch_and_range_disagree",
            Severity.WARNING,
            at.adjuster_name,
            "pitch_mm",
            range_mm=in_use,
            thread_mm=by_pitch,
        )
    from_lengths, from_thread = limits.range_from_lengths_mm.value, limits.range_from_thread_mm.value
    if from_lengths is not None and from_thread is not None and _differ(from_lengths, from_thread):
        yield _finding(
            at,
            "range_disagrees" if adjuster.counting == "mm" else "pitch_disagrees",
            Severity.WARNING,
            at.adjuster_name,
            "reading_out" if adjuster.counting == "mm" else adjuster.step_name,
            lengths_mm=from_lengths,
            thread_mm=from_thread,
            **_in_clicks(at),
        )


def _in_clicks(at: SpringAt) -> dict[str, object]:
    """Of an adjuster that is counted in clicks that it is; of others nothing."""
    return {"turned_in": "clicks"} if at.adjuster.counting == "clicks" else {}


def _ends(adjuster: Adjuster, reading: float | None) -> dict[str, object]:
    if adjuster.from_out:
        return {"reading": reading, "least": 0.0, "most": adjuster.total}
    ends = [end for end in (adjuster.reading_out, adjuster.reading_in) if end is not None]
    return {"reading": reading, "least": min(ends, default=0.0), "most": max(ends, default=0.0)}


def _differ(first: float, second: float) -> bool:
    return abs(first - second) > RANGES_DISAGREE * max(abs(first), abs(second)) + SLACK
