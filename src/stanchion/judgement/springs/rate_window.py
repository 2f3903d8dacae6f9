"""Between which rates both sags of an end can be brought into their targets, for the advice and the list of springs.

rate_search finds them; what each rate misses is worked out here, with the preload that an end has for it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Literal

from stanchion.base.record import record
from stanchion.job.model import State
from stanchion.judgement.criteria.profiles import PreloadBand
from stanchion.judgement.criteria.thresholds import CLOSE_TO_TARGET_MM, NOTHING_MISSED_MM, RATE_STEPS_N_PER_MM, SLACK
from stanchion.judgement.ends.preload import most_preload
from stanchion.judgement.results.assessment import Band
from stanchion.judgement.sag.remedy import NoRate, NoSuitableRate
from stanchion.judgement.sag.response import FURTHEST_MM, ByModel
from stanchion.judgement.sag.targets import Aims, Shortfall, after, shortfall, spaced_to_least, widened, worst_missed
from stanchion.judgement.springs.candidates import InHand, Pair
from stanchion.judgement.springs.rate_search import Window, find_window, nearest_rate, try_rates
from stanchion.judgement.springs.spring_swap import PLACEHOLDER_MM, Installed, Span, SpringSwap


@record(kw_only=True)
class RateRequirements:
    """What springs of any rate are to achieve."""

    loads: Mapping[State, float]
    """The loads that are known [N]."""
    band: PreloadBand | None
    aims: Aims
    """The targets, as the advice on these sags has them."""
    static_at_most: bool = False
    """The static load is not known; the one given is the most that it can be."""


def rate_requirements(
    loads: Mapping[State, float], static_at_most_n: float | None, band: PreloadBand | None, aims: Aims
) -> RateRequirements:
    """What springs of any rate are to achieve.

    Args:
        loads: the loads that are known [N].
        static_at_most_n: the load at most, machine alone, where only that is known [N]: springs that leave too little
            static sag under it do so under any less.
        band: the band for installed preload.
        aims: the targets.
    """
    targets = dict(aims.targets)
    at_most = "static" not in loads and static_at_most_n is not None and "static" in targets
    if at_most and static_at_most_n is not None:
        loads = {**loads, "static": static_at_most_n}
        targets["static"] = (targets["static"][0], math.inf)
    # That static sag is topped out now says nothing more of other springs.
    aims = Aims(targets=targets, slack_mm=aims.slack_mm)
    return RateRequirements(loads=loads, band=band, aims=aims, static_at_most=at_most)


@record(kw_only=True)
class Rates:
    """The windows of rates for one end."""

    within: Window
    """With these rates both sags come into their targets."""
    surely: Window
    """With rates outside it they do not, whatever the sags are within their uncertainty."""
    no_suitable_rate: NoSuitableRate | None
    """What comes nearest where no rate that is sold brings both in, within the uncertainty of the sags."""


def find_no_suitable_rate(
    swap: SpringSwap, required: RateRequirements, guess: float, *, exactly: bool = False
) -> NoSuitableRate | None:
    """What comes nearest where springs of no rate that is sold bring both sags into their targets; None where some do.

    Args:
        swap: the end they would go into.
        required: what they are to achieve.
        guess: a rate to begin at: that of the springs fitted now [N/mm].
        exactly: whether the targets are taken as they are, rather than widened by the uncertainty of the sags.
    """
    missed = _missed(swap, required, required.aims if exactly else widened(required.aims))
    tried = try_rates(missed, guess)
    between: Band | None = None
    if tried.missed is not None:
        reason = _in_the_way(tried.missed)
    elif tried.suits_n_per_mm is not None and not _sold_beside(swap, missed, tried.suits_n_per_mm):
        guess = tried.suits_n_per_mm
        if required.static_at_most:  # any smaller load needs still less preload
            reason = "no_rate_needs_less"
        else:
            reason, between = "no_rate_sold", _window_shown(swap, required, guess)
    else:
        return None
    nearest, now = _worth_fitting(swap, required, guess), swap.rate_now
    way: Literal["", "stiffer", "softer"] = ""
    if nearest is not None and now is not None and nearest != now:
        way = "stiffer" if nearest > now else "softer"
    return NoSuitableRate(reason=reason, nearest_n_per_mm=nearest, way=way, between_n_per_mm=between)


def _in_the_way(missed: Shortfall) -> NoRate:
    """Why no rate does: sags too far apart take a stiffer spring, and that one less preload; sags too near each other
    the opposite."""
    by_sags = max(missed.apart_mm, missed.near_mm) > 0.0
    less = missed.apart_mm > missed.near_mm if by_sags else missed.less_mm > missed.more_mm
    return "no_rate_needs_less" if less else "no_rate_needs_more"


def _sold_beside(swap: SpringSwap, missed: Callable[[float], Shortfall], suits: float) -> bool:
    """Whether a rate that is sold misses nothing.

    The rates that miss nothing are one range, so that only the steps next to one of them need be tried.
    """
    for rate in _steps_beside(swap, suits):
        found = missed(rate)
        if max(found.stiffer_mm, found.softer_mm) <= NOTHING_MISSED_MM:
            return True
    return False


def _steps_beside(swap: SpringSwap, rate: float) -> tuple[float, float]:
    """The rates sold next below and above."""
    step = RATE_STEPS_N_PER_MM[swap.end][0]
    below = math.floor(rate / step)
    return max(below, 1) * step, (below + 1) * step


def _window_shown(swap: SpringSwap, required: RateRequirements, guess: float) -> Band:
    """The window as the list of springs shows it."""
    exact = find_window(_missed(swap, required, required.aims), guess)
    shown = exact if exact.open else find_window(_missed(swap, required, widened(required.aims)), guess)
    return shown.low, shown.high


def _worth_fitting(swap: SpringSwap, required: RateRequirements, guess: float) -> float | None:
    """The rate sold that comes nearest, or that of the springs fitted where it is no better."""
    missed, now, step = _missed(swap, required, required.aims), swap.rate_now, RATE_STEPS_N_PER_MM[swap.end][0]
    nearest = nearest_rate(missed, guess)
    if nearest is None:
        return None
    nearest = min(_steps_beside(swap, nearest), key=lambda rate: _worst_missed(swap, required, rate))
    if now is None:
        return nearest
    # Preload changes little of how far the sags lie apart; and a load that is known only at most may be too little.
    softer = nearest < now
    against = missed(now).apart_mm if softer else missed(now).near_mm
    # A spring of the next step differs by hardly more than springs do from their labels.
    near = (
        abs(nearest - now) <= step + SLACK
        or _worst_missed(swap, required, now) - _worst_missed(swap, required, nearest) < CLOSE_TO_TARGET_MM
    )
    return now if near or against > 0.0 or (softer and required.static_at_most) else nearest


def find_rates(swap: SpringSwap, required: RateRequirements, guess: float, fitted: float | None) -> Rates:
    """Between which rates both sags come in, exactly and within the uncertainty of the sags.

    Args:
        swap: the end they would go into.
        required: what they are to achieve.
        guess: a rate to begin at.
        fitted: the rate of the springs fitted now [N/mm]; None: not known.
    """
    return Rates(
        within=find_window(_missed(swap, required, required.aims), guess),
        surely=find_window(_missed(swap, required, widened(required.aims)), guess),
        no_suitable_rate=find_no_suitable_rate(swap, required, fitted or guess),
    )


def _missed(swap: SpringSwap, required: RateRequirements, aims: Aims) -> Callable[[float], Shortfall]:
    """A function that gives by how much springs of a rate miss, installed as they would be."""
    return lambda rate: missed_by_rate(swap, required, aims, rate)


def missed_by_rate(swap: SpringSwap, required: RateRequirements, aims: Aims, rate: float) -> Shortfall:
    """By how much preload misses both targets with springs of a rate, installed as they would be."""
    return missed_by(swap, *_springs_of(swap, required, rate), required, aims)


def _springs_of(swap: SpringSwap, required: RateRequirements, rate: float) -> tuple[Pair, Installed]:
    """Springs of a rate, and the preload they are installed with before it is changed."""
    places, stays, band = len(swap.lengths_now), swap.installed_stays_mm, required.band
    middle = PLACEHOLDER_MM if band is None else (band.low + band.high) / 2.0
    return (InHand(rate_n_per_mm=rate, free_length_mm=None),) * places, (middle if stays is None else stays,) * places


def _worst_missed(swap: SpringSwap, required: RateRequirements, rate: float) -> float:
    """By how much the worse sag misses its target with springs of a rate, preload at its best."""
    springs, installed_mm = _springs_of(swap, required, rate)
    response = ByModel(swap.model(springs, installed_mm), required.loads, predicted=True)
    available = whole_range(swap, springs, installed_mm, required.band)
    return worst_missed(
        after(response, spacer_mm=spaced_to_least(response, required.aims, available, 0.0)), required.aims
    )


def missed_by(
    swap: SpringSwap, springs: Pair, installed_mm: Installed, required: RateRequirements, aims: Aims
) -> Shortfall:
    """By how much preload misses both targets with these springs."""
    response = ByModel(swap.model(springs, installed_mm), required.loads, predicted=True)
    return shortfall(response, aims, whole_range(swap, springs, installed_mm, required.band))


def turning_range(span: Span, installed_mm: Installed, band: PreloadBand | None) -> Band:
    """How far the adjusters go, from where the installed preload is counted, but not so far out that a spring is loose;
    a collar that has no fully-out goes as far as its band."""
    if not span.no_fully_out:
        end_mm = math.inf if span.range_mm is None else span.range_mm
        loose_mm = (band.loose_below if band else None) or 0.0
        return min(end_mm, max(0.0, loose_mm - min(installed_mm))), end_mm
    least, most = (0.0, math.inf) if band is None else (band.low, most_preload(band))
    return least - installed_mm[0], most - installed_mm[0]


def spacer_range(swap: SpringSwap, springs: Pair, installed_mm: Installed, band: PreloadBand | None) -> Band:
    """How much longer the spacers may be cut with installed preload in its band; without a band, with no spring
    loose."""
    ends = (0.0, FURTHEST_MM) if band is None else (band.low, band.high)
    return swap.spacer_range(springs, installed_mm, ends)


def whole_range(swap: SpringSwap, springs: Pair, installed_mm: Installed, band: PreloadBand | None) -> Band:
    """How far preload at the springs can be changed, adjusters and spacers together."""
    turned = turning_range(swap.span, installed_mm, band)
    low, high = spacer_range(swap, springs, installed_mm, band)
    share = swap.span.share
    return (low + turned[0] * share, high + turned[1] * share)
