"""Between which rates both sags of an end can be brought into their targets.

A spring that is too soft misses by so much, one that is too stiff by so much; what they miss falls and rises with the
rate, so that the window lies between two roots. remedies.shortfall says what is missed, and so decides here as it does
where an advice asks for a stiffer or a softer spring.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache

from stanchion.judgement.remedies import Shortfall
from stanchion.mechanics.solve import bracketed_root
from stanchion.record import record

_FURTHEST_MM = 1e4
_STEP = 1.25
_MOST_STEPS = 24
_CLOSE_MM = 1e-5


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
    softest = _crossing(lambda softness: _clipped(at(softness).stiffer_mm), 1.0 / guess)
    stiffest = _crossing(lambda softness: -_clipped(at(softness).softer_mm), 1.0 / guess)
    return Window(low=1.0 / softest if softest else math.inf, high=1.0 / stiffest if stiffest else math.inf)


def _crossing(rises: Callable[[float], float], guess: float) -> float:
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


def _clipped(mm: float) -> float:
    return min(max(mm, -_FURTHEST_MM), _FURTHEST_MM)
