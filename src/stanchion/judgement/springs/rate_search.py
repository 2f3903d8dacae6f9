"""Searching for the rates of spring that miss no target, where all that is known is by how much each rate misses.

A spring that is too soft misses the targets, and so does one that is too stiff; what they miss falls and rises with the
rate, so that the window lies between two roots. targets.shortfall says what is missed, as it does where an advice asks
for a stiffer or a softer spring.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache

from stanchion.base.record import record
from stanchion.judgement.sag.targets import Shortfall
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
