"""Figures and findings on the preload of one spring, in a fork leg or on a shock."""

from __future__ import annotations

import math
from dataclasses import replace

from stanchion.base.record import record
from stanchion.job.model import Adjuster, Path, Spring
from stanchion.judgement.criteria.profiles import PreloadBand
from stanchion.judgement.criteria.thresholds import NOT_SHOWN_MM, PRELOAD_NEAR_LIMIT_MM, SLACK
from stanchion.judgement.ends.adjuster import AdjusterRange, reach
from stanchion.judgement.ends.spring_law import SpringLaw
from stanchion.judgement.results.assessment import Band, PreloadFigures
from stanchion.judgement.results.codes import PreloadVerdict
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
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
    installed, now = installed_and_now(at, limits)
    as_it_stands, near_in = limits.no_fully_out and now.known, limits.near == "in"
    if as_it_stands:
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
        near_in=near_in,
    )


def installed_and_now(at: SpringAt, limits: AdjusterRange) -> tuple[Figure, Figure]:
    """Installed preload and preload at the present position of the adjuster. Of a collar that has no fully-out the
    first is the second.

    Args:
        at: the spring.
        limits: range and headroom of its adjuster.
    """
    free = recorded(at.spring.free_length_mm, (*at.spring_at, "free_length_mm"))
    set_length = recorded(at.spring.set_length_mm, (*at.spring_at, "set_length_mm"))
    installed = derive(installed_preload, free, set_length, limits.added_where_read_mm)
    now = derive(preload_now, installed, limits.added_now_mm)
    if limits.stays and not now.known and not limits.added_now_mm.problem:
        now = derive(installed_preload, free, set_length)
    return (now if limits.no_fully_out and now.known else installed), now


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


OUT_OF_BAND: frozenset[PreloadVerdict] = frozenset({"loose", "low", "borderline", "high", "over_limit"})
"""Verdicts on installed preload out of its band, by however little."""


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
