"""Between which rates both sags of an end can be brought into their targets, for the advice and the list of springs.

A spring that is too soft misses the targets, and so does one that is too stiff; what they miss falls and rises with the
rate, so that the window lies between two roots. targets.shortfall says what is missed, as it does where an advice asks
for a stiffer or a softer spring.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from functools import cache
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
from stanchion.judgement.springs.spring_swap import PLACEHOLDER_MM, Installed, Span, SpringSwap
from stanchion.mechanics.solve import bracketed_root

_FURTHEST_MM = 1e4
_STEP = 1.25
_MOST_STEPS = 24
_CLOSE_MM = 1e-5
_NOTHING_MM = 1e-6
_LONGEST_STEP = 3.0
_INSET = 0.1
_SAME = 1e-9


@record(kw_only=True)
class Window:
    """Rates of each spring [N/mm]; with the lower end above the upper one there is none."""

    low: float
    """A softer spring is too soft."""
    high: float
    """A stiffer spring is too stiff."""

    @property
    def open(self) -> bool:
        """Whether any rate brings both sags in."""
        return self.low <= self.high and self.high > 0.0 and self.low < math.inf

    def nearest(self, rate: float) -> float:
        """The rate within it that is nearest to another."""
        return min(max(rate, self.low), self.high)


def find_window(missed: Callable[[float], Shortfall], guess: float) -> Window:
    """Between which rates nothing is missed.

    Args:
        missed: by how much preload misses both targets with springs of a rate; the rate may lie anywhere above 0.
        guess: a rate to begin at.

    >>> def missed(rate: float) -> Shortfall:
    ...     return Shortfall(apart_mm=90 / rate - 10, near_mm=8 - 96 / rate, more_mm=-1.0, less_mm=-1.0)
    >>> window = find_window(missed, 5.0)
    >>> round(window.low, 4), round(window.high, 4)
    (9.0, 12.0)
    """

    @cache
    def at(softness: float) -> Shortfall:
        return missed(1.0 / softness)

    # What is missed runs nearly straight over 1/rate: a sag is a force by a rate.
    softest = crossing(lambda softness: clipped(at(softness).stiffer_mm), 1.0 / guess)
    stiffest = crossing(lambda softness: -clipped(at(softness).softer_mm), 1.0 / guess)
    return Window(low=1.0 / softest if softest else math.inf, high=1.0 / stiffest if stiffest else math.inf)


def nearest_rate(missed: Callable[[float], Shortfall], guess: float) -> float | None:
    """Where no rate misses nothing, the one that misses least: as much for being too soft as for being too stiff.

    Args:
        missed: by how much preload misses both targets with springs of a rate; the rate may lie anywhere above 0.
        guess: a rate to begin at.

    Returns:
        The rate; None where every rate misses the same way.

    >>> def missed(rate: float) -> Shortfall:
    ...     return Shortfall(apart_mm=96 / rate - 8, near_mm=-1.0, more_mm=-1.0, less_mm=12 - 96 / rate)
    >>> round(nearest_rate(missed, 5.0), 4)
    9.0
    """

    def too_soft(softness: float) -> float:
        found = missed(1.0 / softness)
        return clipped(found.stiffer_mm) - clipped(found.softer_mm)

    softness = crossing(too_soft, 1.0 / guess)
    return 1.0 / softness if 0.0 < softness < math.inf else None


def crossing(rises: Callable[[float], float], guess: float) -> float:
    """Where a function that never falls crosses zero; 0 where it lies above everywhere, infinite where below."""
    here, value = guess, rises(guess)
    step = 1.0 / _STEP if value > 0.0 else _STEP
    for _ in range(_MOST_STEPS):
        further = here * step
        there = rises(further)
        if (there > 0.0) != (value > 0.0):
            return bracketed_root(rises, min(here, further), max(here, further), _CLOSE_MM)
        here, value = further, there
    return 0.0 if value > 0.0 else math.inf


def clipped(mm: float) -> float:
    """A length no further from zero than matters to a search."""
    return min(max(mm, -_FURTHEST_MM), _FURTHEST_MM)


@record(kw_only=True)
class RateTrial:
    """What trying one rate after another has found: a rate that suits, or that none does."""

    suits_n_per_mm: float | None = None
    """A rate that misses nothing, or by no more than a rounding."""
    missed: Shortfall | None = None
    """What is missed where no rate misses nothing: by one that is too soft and too stiff at once; where every rate
    misses the same way, by the last one tried."""


def try_rates(missed: Callable[[float], Shortfall], guess: float) -> RateTrial:
    """Look for a rate that misses nothing, or for one that shows that none does.

    What is too soft stays so with softer springs, and what is too stiff with stiffer ones, so that one rate that is
    both says that no rate does. It ends at the first rate that is both or neither, mostly after a few.

    Args:
        missed: by how much preload misses both targets with springs of a rate; the rate may lie anywhere above 0.
        guess: a rate to begin at.

    >>> def missed(rate: float) -> Shortfall:
    ...     return Shortfall(apart_mm=90 / rate - 10, near_mm=8 - 96 / rate, more_mm=-1.0, less_mm=rate - room)
    >>> room = 20.0
    >>> 9.0 <= try_rates(missed, 5.0).suits_n_per_mm <= 12.0
    True
    >>> room = 8.0
    >>> found = try_rates(missed, 5.0).missed
    >>> found.stiffer_mm > 0.0, found.softer_mm > 0.0
    (True, True)
    """
    step, here = _STEP, 1.0 / guess
    sides: dict[bool, tuple[float, Shortfall]] = {}  # by whether springs of that softness are too soft
    for _ in range(_MOST_STEPS):
        found = missed(1.0 / here)
        soft, stiff = found.stiffer_mm > _NOTHING_MM, found.softer_mm > _NOTHING_MM
        if soft and stiff:
            return RateTrial(missed=found)
        if not soft and not stiff:
            return RateTrial(suits_n_per_mm=1.0 / here)
        sides[soft] = (here, found)
        if len(sides) < len((True, False)):
            here *= 1.0 / step if soft else step
            step = min(step * _STEP, _LONGEST_STEP)
            continue
        here = _between(sides[False], sides[True])
        if abs(sides[True][0] - sides[False][0]) <= _SAME * here:
            return RateTrial(suits_n_per_mm=1.0 / here)
    return RateTrial(missed=found) if len(sides) == 1 else RateTrial()


def _between(stiff: tuple[float, Shortfall], soft: tuple[float, Shortfall]) -> float:
    """Where to look next between a softness that is too stiff and one that is too soft: midway between where each
    ceases, as the straight lines through both have it."""
    low, high = stiff[0], soft[0]
    ends = [
        _zero(low, clipped(stiff[1].softer_mm), high, clipped(soft[1].softer_mm)),
        _zero(low, clipped(stiff[1].stiffer_mm), high, clipped(soft[1].stiffer_mm)),
    ]
    inset = _INSET * (high - low)
    return min(max(sum(ends) / 2.0, low + inset), high - inset)


def _zero(low: float, at_low: float, high: float, at_high: float) -> float:
    return low + (high - low) * at_low / (at_low - at_high)


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
