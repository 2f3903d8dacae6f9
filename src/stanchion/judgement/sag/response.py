"""How the sags of one end answer to preload: by the springs and what they carry, or by the rule of thumb.

Every change is counted from how the end stands now. More preload is above 0.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Protocol

from stanchion.job.model import State
from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.results.assessment import Band
from stanchion.mechanics.solve import falling_root

FURTHEST_MM = 400.0
"""So far from the present preload an answer is looked for [mm]: more than any fork or shock has."""
_SLOPE = -1.0
_STEPS = 5
_NEAR_MM = 1e-7


class Response(Protocol):
    """What the sags of one end become when preload is changed."""

    predicted: bool
    """Whether the sags start from loads and springs instead of readings."""

    def sag(self, state: State, *, spacer_mm: float = 0.0, turned_mm: float = 0.0) -> float | None:
        """Sag in a state after a change; None where the load of that state is not known.

        Args:
            state: which state.
            spacer_mm: preload added at every spring of the end, as a longer spacer does.
            turned_mm: preload added by the adjusters.
        """

    def spacer_for(self, state: State, sag_mm: float) -> float | None:
        """Preload to add at every spring for a sag; None where none gives it, or the load of the state is not known.

        Args:
            state: which state.
            sag_mm: the sag wanted.
        """


class ByModel:
    """By the springs, and what each state carries."""

    def __init__(
        self,
        model: EndModel,
        loads_n: Mapping[State, float],
        *,
        predicted: bool,
        measured_mm: Mapping[State, float] | None = None,
    ) -> None:
        """Keep what the sags follow from.

        Args:
            model: the springs.
            loads_n: what each state carries [N].
            predicted: whether the sags start from loads and springs instead of readings.
            measured_mm: the sags that the loads were worked out from [mm]; without a change they are given as read.
        """
        self.predicted = predicted
        self._loads_n = loads_n
        self._spaced = {0.0: model}
        self._found: dict[tuple[State, float, float], float] = {
            (state, 0.0, 0.0): sag_mm for state, sag_mm in (measured_mm or {}).items()
        }

    def sag(self, state: State, *, spacer_mm: float = 0.0, turned_mm: float = 0.0) -> float | None:
        """Sag after a change of preload."""
        load_n = self._loads_n.get(state)
        if load_n is None:
            return None
        at = (state, spacer_mm, turned_mm)
        found_mm = self._found.get(at)
        if found_mm is None:
            model = self._spaced.get(spacer_mm)
            if model is None:
                model = self._spaced[spacer_mm] = self._spaced[0.0].with_preload(spacer_mm)
            found_mm = self._found[at] = model.sag_with(turned_mm, load_n)
        return found_mm

    def spacer_for(self, state: State, sag_mm: float) -> float | None:
        """Preload to add at every spring for a sag."""
        load_n = self._loads_n.get(state)
        return None if load_n is None else self._spaced[0.0].preload_at_springs(sag_mm, load_n)


class ByRule:
    """By the rule that both sags fall by what preload is added, where the springs' rates are not known.

    Common practice, no published source.
    """

    predicted = False

    def __init__(self, sags_mm: Mapping[State, float], per_sag: float, share: float) -> None:
        """Keep what the rule needs.

        Args:
            sags_mm: the measured sags; a topped-out state has none.
            per_sag: preload at every spring for 1 mm of sag.
            share: how much of what the adjusters add the end feels.
        """
        self._sags_mm = sags_mm
        self._per_sag = per_sag
        self._share = share

    def sag(self, state: State, *, spacer_mm: float = 0.0, turned_mm: float = 0.0) -> float | None:
        """Sag after a change of preload."""
        now_mm = self._sags_mm.get(state)
        if now_mm is None:
            return None
        return max(0.0, now_mm - (spacer_mm + turned_mm * self._share) / self._per_sag)

    def spacer_for(self, state: State, sag_mm: float) -> float | None:
        """Preload to add at every spring for a sag."""
        now_mm = self._sags_mm.get(state)
        return None if now_mm is None or sag_mm <= 0.0 else (now_mm - sag_mm) * self._per_sag


def preloads_for(
    sag_after: Callable[[float], float], target: Band, low_mm: float = -FURTHEST_MM, high_mm: float = FURTHEST_MM
) -> Band | None:
    """The changes of preload that bring a sag into its target; None where none within the limits does.

    Args:
        sag_after: sag after a change of preload; it never rises with it.
        target: lowest and highest sag wanted [mm].
        low_mm: least change looked at [mm].
        high_mm: greatest change looked at [mm].

    >>> preloads_for(lambda added: 40.0 - added, (28.0, 38.0), 0.0, 5.0)
    (2.0, 5.0)
    >>> preloads_for(lambda added: 40.0 - added, (28.0, 38.0), 0.0, 1.0) is None
    True
    """
    least, most = sag_after(high_mm), sag_after(low_mm)
    if least > target[1] + SLACK or most < target[0] - SLACK:
        return None
    first = low_mm if most <= target[1] else where_sag_is(sag_after, target[1], low_mm, high_mm)
    last = high_mm if least >= target[0] else where_sag_is(sag_after, target[0], low_mm, high_mm)
    first, last = low_mm if first is None else first, high_mm if last is None else last
    return (first, max(first, last))


def where_sag_is(
    sag_after: Callable[[float], float], sag_mm: float, low_mm: float = -FURTHEST_MM, high_mm: float = FURTHEST_MM
) -> float | None:
    """The change of preload that gives a sag; None where none within the limits does.

    Args:
        sag_after: sag after a change of preload; it never rises with it.
        sag_mm: the sag wanted [mm].
        low_mm: least change looked at [mm].
        high_mm: greatest change looked at [mm].

    >>> where_sag_is(lambda added: 40.0 - added, 33.0)
    7.0
    """

    def excess_mm(added_mm: float) -> float:
        return sag_after(added_mm) - sag_mm

    # Sag answers to preload along a line that is nearly straight, so a few steps along it come there soonest.
    x = min(max(0.0, low_mm), high_mm)
    f_x, slope = excess_mm(x), _SLOPE
    for _ in range(_STEPS):
        if abs(f_x) <= _NEAR_MM:
            return x
        there = x - f_x / slope
        if not low_mm <= there <= high_mm or there == x:
            break
        f_there = excess_mm(there)
        slope = (f_there - f_x) / (there - x)
        x, f_x = there, f_there
        if not slope < 0.0:
            break
    else:
        if abs(f_x) <= _NEAR_MM:
            return x
    return falling_root(excess_mm, x, _SLOPE, low_mm, high_mm)


def overlap(one: Band | None, other: Band | None) -> Band | None:
    """What two ranges share.

    >>> overlap((0.0, 3.0), (2.0, 5.0)), overlap((0.0, 1.0), (2.0, 3.0))
    ((2.0, 3.0), None)
    """
    if one is None or other is None:
        return None
    low, high = max(one[0], other[0]), min(one[1], other[1])
    return (low, max(low, high)) if low <= high + SLACK else None


EVERYWHERE: Band = (-math.inf, math.inf)
