"""The rate to fit where the advice asks for another spring: the standard step that the list of springs puts first.

Rates are tried beginning with the one needed, each installed as the list would, and in the direction that the advice
asks for, as far as the sags come in: spacers that are cut may suit a rate better that lies far from the one needed.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache
from typing import Literal

from stanchion.judgement.criteria.profiles import PreloadBand
from stanchion.judgement.criteria.thresholds import NOTHING_MISSED_MM, RATE_STEPS_N_PER_MM, SLACK
from stanchion.judgement.results.codes import OptionVerdict
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.sag.remedy import NoSuitableRate
from stanchion.judgement.sag.targets import Aims, Shortfall, narrowed, widened
from stanchion.judgement.springs.candidates import InHand, Pair, main_alone, standard_steps
from stanchion.judgement.springs.installing import as_set, bringing_in
from stanchion.judgement.springs.rate_search import Window, clipped, crossing
from stanchion.judgement.springs.rate_window import Rates, missed_by_rate, turning_range
from stanchion.judgement.springs.spring_fitting import option_with, options_of, sags_at
from stanchion.judgement.springs.spring_option import Installation, Option, Requirements, score_of_sags
from stanchion.judgement.springs.spring_swap import SpringSwap

UNFIT: frozenset[OptionVerdict] = frozenset(
    {"over_limit", "loose", "too_long", "coil_bind", "check_fit", "check_length", "too_soft", "too_stiff"}
)
"""Verdicts with which no rate is suggested."""
MOST_STEPS_AWAY = 24
"""So many steps each way from the rate needed are tried."""
_CLOSED, _ANY = Window(low=math.inf, high=0.0), Window(low=0.0, high=math.inf)


def usual_installed(swap: SpringSwap, band: PreloadBand | None, wanted_mm: float | None = None) -> Figure:
    """Installed preload that springs are chosen for: what the collar fixes, else what is wanted, else the middle of the
    band, else the present one.

    Args:
        swap: the end they would go into.
        band: the band for installed preload.
        wanted_mm: what is wanted; None: the usual one.
    """
    fixed = wanted_mm if swap.installed_stays_mm is None else swap.installed_stays_mm
    if fixed is not None:
        return Figure(fixed)
    return swap.installed_now if band is None else Figure((band.low + band.high) / 2.0)


def needed_rate(swap: SpringSwap, requirements: Requirements) -> float | None:
    """Rate of each spring for the middle of the rider sag's target with the adjuster at mid, or as it is where its
    range is not known; None where none gives it."""
    span = swap.span
    added_mm = (span.added_now_mm or 0.0) if span.range_mm is None else span.range_mm / 2.0
    middle_mm = sum(requirements.rider_target) / 2.0
    return swap.needed(requirements.installed_mm, added_mm, middle_mm, requirements.rider.value or 0.0)


def suggest(
    swap: SpringSwap,
    requirements: Requirements,
    way: Literal["stiffer", "softer"],
    no_suitable_rate: NoSuitableRate | None = None,
    *,
    edge: bool = False,
) -> Option | None:
    """The standard step to fit, with what it then gives; None where no step of that direction suits.

    Args:
        swap: the end it would go into.
        requirements: targets and loads of the end.
        way: which springs the advice asks for.
        no_suitable_rate: what comes nearest where no rate brings both sags in; that one is then suggested.
        edge: whether a rate brings both sags in only within their uncertainty.
    """
    if no_suitable_rate is not None:
        nearest = no_suitable_rate.nearest_n_per_mm
        if nearest is None:
            return None
        rates = Rates(within=_CLOSED, surely=_CLOSED, no_suitable_rate=no_suitable_rate)
        return _fit(options_of(swap, _springs(swap, nearest), requirements, rates))
    aims = widened(requirements.aims) if edge else requirements.aims
    around, now = _within_reach(swap, requirements, aims), swap.rate_now
    if around is None:
        return None

    def asked_for(rate: float) -> bool:
        return now is None or (rate > now + SLACK if way == "stiffer" else rate < now - SLACK)

    by_trial = Rates(within=_CLOSED, surely=_ANY, no_suitable_rate=None)
    if edge:
        steps = filter(asked_for, standard_steps(around, RATE_STEPS_N_PER_MM[swap.end][0]))
        suiting = [rate for rate in steps if _misses_nothing(swap, requirements, aims, rate)]
        return _fit([one for rate in suiting for one in options_of(swap, _springs(swap, rate), requirements, by_trial)])
    best = best_step(swap, requirements, around, asked_for)
    if best is None:
        return None
    return _fit([option_with(swap, _springs(swap, best[0]), requirements, by_trial, best[1])])


def without_second(swap: SpringSwap, requirements: Requirements, now: Pair) -> Option | None:
    """The main springs fitted now without the second ones beside them, where that alone brings both sags in; else None.

    Args:
        swap: the end.
        requirements: targets and loads of the end.
        now: the springs fitted now.
    """
    alone = main_alone(now)
    installation = None if alone is None else bringing_in(swap, alone, requirements)
    if alone is None or installation is None:
        return None
    by_trial = Rates(within=_CLOSED, surely=_ANY, no_suitable_rate=None)
    return _fit([option_with(swap, alone, requirements, by_trial, installation)])


def _fit(options: list[Option]) -> Option | None:
    suits = [option for option in options if option.verdict not in UNFIT]
    return min(suits, key=lambda option: option.score, default=None)


def _springs(swap: SpringSwap, rate: float) -> Pair:
    """Springs of that rate, as long as the present ones."""
    return tuple(InHand(rate_n_per_mm=rate, free_length_mm=mm) for mm in swap.lengths_now)


def _misses_nothing(swap: SpringSwap, requirements: Requirements, aims: Aims, rate: float) -> bool:
    missed = missed_by_rate(swap, requirements.for_rates, aims, rate)
    return max(missed.stiffer_mm, missed.softer_mm) <= NOTHING_MISSED_MM


def _within_reach(swap: SpringSwap, requirements: Requirements, aims: Aims) -> float | None:
    """The rate needed, or the nearest to it that brings both sags in."""
    needed = needed_rate(swap, requirements)
    if needed is None:
        needed = swap.rate_now
    return None if needed is None else clear_rate(swap, requirements, aims, needed)


def clear_rate(swap: SpringSwap, requirements: Requirements, aims: Aims, rate: float) -> float:
    """The rate nearest to another that brings both sags in clear of the edges of their targets; where none does, that
    brings them in at all."""
    found = rate
    for wanted in (narrowed(aims), aims):

        def missed(of: float, wanted: Aims = wanted) -> Shortfall:
            return missed_by_rate(swap, requirements.for_rates, wanted, of)

        found = nearest_suiting(missed, rate)
        left = missed(found)
        if max(left.stiffer_mm, left.softer_mm) <= NOTHING_MISSED_MM:
            return found
    return found


def nearest_suiting(missed: Callable[[float], Shortfall], rate: float) -> float:
    """The rate nearest to another that misses nothing; that one where none does.

    Args:
        missed: by how much preload misses both targets with springs of a rate; the rate may lie anywhere above 0.
        rate: the other.

    >>> def missed(rate: float) -> Shortfall:
    ...     return Shortfall(apart_mm=90 / rate - 10, near_mm=8 - 96 / rate, more_mm=-1.0, less_mm=-1.0)
    >>> [round(nearest_suiting(missed, rate), 3) for rate in (5.0, 10.0, 14.0)]
    [9.0, 10.0, 12.0]
    """
    there = missed(rate)
    if max(there.stiffer_mm, there.softer_mm) <= NOTHING_MISSED_MM:
        return rate
    if there.stiffer_mm > NOTHING_MISSED_MM:
        softness = crossing(lambda softness: clipped(missed(1.0 / softness).stiffer_mm), 1.0 / rate)
    else:
        softness = crossing(lambda softness: -clipped(missed(1.0 / softness).softer_mm), 1.0 / rate)
    return 1.0 / softness if 0.0 < softness < math.inf else rate


def best_step(
    swap: SpringSwap, requirements: Requirements, around: float, asked_for: Callable[[float], bool] = lambda _: True
) -> tuple[float, Installation] | None:
    """The step with the best score of those that bring both sags in, and how its springs are installed; None where none
    of the steps next to the rate needed does.

    Args:
        swap: the end it would go into.
        requirements: targets and loads of the end.
        around: the rate needed.
        asked_for: whether a rate may be chosen.
    """
    step = RATE_STEPS_N_PER_MM[swap.end][0]

    @cache  # the step to start from is met three times
    def tried(number: int) -> tuple[float, float, Installation] | None:
        rate = number * step
        if number <= 0 or not asked_for(rate):
            return None
        installation = bringing_in(swap, _springs(swap, rate), requirements)
        return None if installation is None else (_score(swap, installation, requirements), rate, installation)

    listed = [round(rate / step) for rate in standard_steps(around, step)]
    nearest_first = sorted(listed, key=lambda number: abs(number * step - around))
    start = next((number for number in nearest_first if tried(number) is not None), None)
    if start is None:
        return None
    found = []
    for way in (1, -1):
        for number in range(start, start + way * MOST_STEPS_AWAY, way):
            one = tried(number)
            if one is None:
                break
            found.append(one)
    _, rate, installation = min(found, key=lambda one: one[0])
    return rate, installation


def _score(swap: SpringSwap, installation: Installation, requirements: Requirements) -> float:
    ends = turning_range(swap.span, installation.installed_mm, requirements.band)
    added_mm = as_set(swap.span, installation, requirements, installation.turned_mm or 0.0, ends)
    position = added_mm / swap.span.range_mm if swap.span.range_mm else None
    return score_of_sags(sags_at(installation.model, added_mm, requirements), position, requirements)
