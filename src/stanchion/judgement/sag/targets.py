"""How far both sags of an end lie from their targets, and which changes of preload bring them in."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import field, replace
from typing import Literal

from stanchion.base.record import record
from stanchion.job.model import State
from stanchion.judgement.criteria.thresholds import (
    CLOSE_TO_TARGET_MM,
    LEAST_FOR_A_SPRING_MM,
    NOT_SHOWN_MM,
    PRELOAD_MARGIN_MM,
    SLACK,
)
from stanchion.judgement.results.assessment import Band
from stanchion.judgement.sag.response import EVERYWHERE, FURTHEST_MM, Response, overlap, preloads_for, where_sag_is

_SagAfter = Callable[[State, float], float | None]


@record(kw_only=True)
class Aims:
    """What is wanted of the sags."""

    targets: Mapping[State, Band] = field(hash=False)
    """In each state that is judged."""
    slack_mm: Mapping[State, float] = field(hash=False)
    """By how much a sag may lie outside before it is certain that it does."""
    readings: Literal["", "open", "settled"] = ""
    """Whether reading the sags again could tell more of them; "" where they are not read but predicted."""
    topped_out_mm: float | None = None
    """The machine alone is topped out and its load is not known: static sag is at most this much."""


def after(response: Response, *, spacer_mm: float = 0.0, turned_mm: float = 0.0) -> dict[State, float | None]:
    """Both sags after a change."""
    states: tuple[State, State] = ("static", "rider")
    return {state: response.sag(state, spacer_mm=spacer_mm, turned_mm=turned_mm) for state in states}


def missing_least(response: Response, aims: Aims, sag_after: _SagAfter, limits: Band) -> float:
    """The change within limits after which the worse sag lies least outside its target, or the least that brings both
    in."""
    ranges = [_range(response, aims, state, sag_after, (-FURTHEST_MM, FURTHEST_MM)) for state in aims.targets]
    known = [one for one in ranges if one is not None]
    low = max((one[0] for one in known), default=-FURTHEST_MM)
    high = min((one[1] for one in known), default=FURTHEST_MM)
    low, high = max(low, -FURTHEST_MM), min(high, FURTHEST_MM)
    if low <= high:
        return min(max(min(max(0.0, low), high), limits[0]), limits[1])
    between = min(max((low + high) / 2.0, limits[0]), limits[1])
    # Halfway is right where both sags answer alike. One on its top-out spring does not answer: then the other comes in.
    middles = (min(max((one[0] + one[1]) / 2.0, limits[0]), limits[1]) for one in known)
    missed = {mm: _missed(sag_after, aims, mm) for mm in (between, *middles)}
    worst = missed[between][0] + NOT_SHOWN_MM
    found = min((mm for mm in missed if missed[mm][0] <= worst), key=lambda mm: missed[mm][1])
    return found if missed[found][1] < missed[between][1] - CLOSE_TO_TARGET_MM else between


def _missed(sag_after: _SagAfter, aims: Aims, added_mm: float) -> tuple[float, float]:
    """How far the worse sag, and both together, lie outside their targets after a change."""
    sags = ((sag_after(state, added_mm), target) for state, target in aims.targets.items())
    each = [max(low - mm, mm - high, 0.0) for mm, (low, high) in sags if mm is not None]
    return max(each, default=0.0), sum(each)


def turned_to_least(response: Response, aims: Aims, turned: Band, spacer_mm: float) -> float:
    """Preload at the adjusters with which the worse sag lies least outside its target."""

    def sag_after(state: State, turned_mm: float) -> float | None:
        return response.sag(state, spacer_mm=spacer_mm, turned_mm=turned_mm)

    return missing_least(response, aims, sag_after, turned)


def spaced_to_least(response: Response, aims: Aims, spacer: Band, turned_mm: float) -> float:
    """Preload at every spring with which the worse sag lies least outside its target."""

    def sag_after(state: State, spacer_mm: float) -> float | None:
        return response.sag(state, spacer_mm=spacer_mm, turned_mm=turned_mm)

    return missing_least(response, aims, sag_after, spacer)


def worst_missed(sags_mm: Mapping[State, float | None], aims: Aims) -> float:
    """How far the worse of the sags that are known lies outside its target; 0 where both are in."""
    known = [(sag_mm, aims.targets[state]) for state, sag_mm in sags_mm.items() if state in aims.targets]
    return max((max(low - mm, mm - high, 0.0) for mm, (low, high) in known if mm is not None), default=0.0)


def worth_a_spring(now_mm: Mapping[State, float | None], then_mm: Mapping[State, float | None], aims: Aims) -> bool:
    """Whether another spring takes the sags nearer to their targets in all, by enough to be worth fitting, and takes
    none certainly out that is in; true where a sag is not known.

    >>> aims = Aims(targets={"static": (5, 10), "rider": (25, 32)}, slack_mm={})
    >>> worth_a_spring({"static": 3.5, "rider": 30.9}, {"static": 4.1, "rider": 32.5}, aims)
    False
    >>> worth_a_spring({"static": 3.5, "rider": 33.5}, {"static": 4.1, "rider": 32.5}, aims)
    True
    """
    gained_mm = 0.0
    for state, (low, high) in aims.targets.items():
        now, then = now_mm.get(state), then_mm.get(state)
        if now is None or then is None:
            return True
        missed = [max(low - mm, mm - high, 0.0) for mm in (now, then)]
        if missed[0] < NOT_SHOWN_MM and missed[1] > aims.slack_mm.get(state, 0.0) + SLACK:
            return False
        gained_mm += missed[0] - missed[1]
    return gained_mm >= CLOSE_TO_TARGET_MM


def turns_for(response: Response, aims: Aims, turned: Band, spacer_mm: float) -> float | None:
    """Preload at the adjusters that brings both sags into target and rider sag nearest to its middle; None: none."""
    low, high = max(turned[0], -FURTHEST_MM), min(turned[1], FURTHEST_MM)

    def sag_after(state: State, turned_mm: float) -> float | None:
        return response.sag(state, spacer_mm=spacer_mm, turned_mm=turned_mm)

    centred_mm = _centred(aims, sag_after, (low, high))
    if centred_mm is not None:
        return centred_mm
    suits = both_within(response, aims, sag_after, (low, high))
    return None if suits is None else nearest_to_middle(suits, aims, sag_after)


def _centred(aims: Aims, sag_after: _SagAfter, limits: Band) -> float | None:
    """The change that brings rider sag to the very middle of its target, where that brings static sag clear of its own
    edges: what most often is asked for, and soonest found."""
    target, static = aims.targets.get("rider"), aims.targets.get("static")
    if target is None or aims.topped_out_mm is not None:
        return None
    added_mm = where_sag_is(lambda mm: sag_after("rider", mm) or 0.0, (target[0] + target[1]) / 2.0, *limits)
    if added_mm is None or static is None:
        return added_mm
    static_mm = sag_after("static", added_mm)
    margin = margin_mm(aims, "static")
    clear = static_mm is None or static[0] + margin * (static[0] > 0.0) <= static_mm <= static[1] - margin
    return added_mm if clear else None


@record(kw_only=True)
class Shortfall:
    """By how much preload misses, where no preload brings both sags into target [mm]; 0 or less: it does not."""

    apart_mm: float
    """The sags lie further apart than their targets allow: too soft."""
    near_mm: float
    """The sags lie nearer to each other than their targets allow: too stiff."""
    more_mm: float
    """More preload is needed than there is room for: too soft."""
    less_mm: float
    """Less preload is needed than there is room for: too stiff."""

    @property
    def stiffer_mm(self) -> float:
        """How far off a spring that is too soft is; sags that lie too far apart share what is missed."""
        return max(self.apart_mm / 2.0, self.more_mm)

    @property
    def softer_mm(self) -> float:
        """How far off a spring that is too stiff is."""
        return max(self.near_mm / 2.0, self.less_mm)

    @property
    def way(self) -> Literal["stiffer", "softer"]:
        """Which spring it takes. How far the sags lie apart says it first: no preload changes that."""
        if max(self.apart_mm, self.near_mm) > SLACK:
            return "stiffer" if self.apart_mm >= self.near_mm else "softer"
        return "stiffer" if self.more_mm >= self.less_mm else "softer"


def shortfall(response: Response, aims: Aims, available: Band) -> Shortfall:
    """By how much preload at every spring misses both targets.

    Args:
        response: how the sags answer to preload.
        aims: the targets.
        available: how far preload at the springs can be changed, adjusters and spacer together [mm].
    """

    rider, static = (_at_springs(response, aims, state) for state in _STATES)
    return Shortfall(
        apart_mm=rider[0] - static[1],
        near_mm=static[0] - rider[1],
        more_mm=max(rider[0], static[0]) - available[1],
        less_mm=available[0] - min(rider[1], static[1]),
    )


_STATES: tuple[State, State] = ("rider", "static")


def _at_springs(response: Response, aims: Aims, state: State) -> Band:
    """The changes of preload at every spring that bring one sag into its target."""
    target = aims.targets.get(state)
    if target is not None:
        first, last = (response.spacer_for(state, sag_mm) for sag_mm in (target[1], target[0]))
        if first is not None and last is not None:
            return (first, max(first, last))

    def sag_after(of: State, added_mm: float) -> float | None:
        return response.sag(of, spacer_mm=added_mm)

    found = _range(response, aims, state, sag_after, (-FURTHEST_MM, FURTHEST_MM))
    return EVERYWHERE if found is None else found


def both_within(response: Response, aims: Aims, sag_after: _SagAfter, limits: Band) -> Band | None:
    """The changes within limits that bring every sag into its target."""
    suits: Band | None = limits
    for state in aims.targets:
        suits = overlap(suits, _range(response, aims, state, sag_after, limits))
        if suits is None:
            return None
    return suits


def _range(response: Response, aims: Aims, state: State, sag_after: _SagAfter, limits: Band) -> Band | None:
    """The changes that bring one sag into its target; every one where nothing is wanted of it, or known."""
    target = aims.targets.get(state)
    if target is None:
        return EVERYWHERE
    if response.sag(state) is None:
        if state == "static" and aims.topped_out_mm is not None:
            return _showing(response, target[0] - aims.topped_out_mm, sag_after, limits)
        return EVERYWHERE
    return preloads_for(lambda added_mm: sag_after(state, added_mm) or 0.0, target, *limits)


def _showing(response: Response, short_mm: float, sag_after: _SagAfter, limits: Band) -> Band | None:
    """The changes after which static sag, now topped out, may no longer be too small.

    It grows by about as much as rider sag does.
    """
    rider_mm = response.sag("rider")
    if short_mm <= 0.0 or rider_mm is None:
        return EVERYWHERE
    most = where_sag_is(lambda added_mm: sag_after("rider", added_mm) or 0.0, rider_mm + short_mm, *limits)
    return None if most is None else (-math.inf, most)


def nearest_to_middle(suits: Band, aims: Aims, sag_after: _SagAfter) -> float:
    """The change that brings rider sag nearest to the middle of its target, a little inside what suits."""
    target = aims.targets.get("rider")
    inset = min(PRELOAD_MARGIN_MM, (suits[1] - suits[0]) / 2.0)
    low, high = suits[0] + inset, suits[1] - inset
    if target is None:
        return min(max(0.0, low), high)
    middle_mm = (target[0] + target[1]) / 2.0
    found = where_sag_is(lambda added_mm: sag_after("rider", added_mm) or 0.0, middle_mm, low, high)
    if found is not None:
        return found
    return low if (sag_after("rider", low) or 0.0) < middle_mm else high


def in_target(sags_mm: Mapping[State, float | None], aims: Aims) -> bool:
    """Whether no sag is certain to lie outside its target."""
    for state, target in aims.targets.items():
        sag_mm = sags_mm.get(state)
        if sag_mm is None:
            if state == "static" and aims.topped_out_mm is not None and target[0] > aims.topped_out_mm:
                return False
            continue
        slack = aims.slack_mm.get(state, 0.0) + SLACK
        if not target[0] - slack <= sag_mm <= target[1] + slack:
            return False
    return True


def widened(aims: Aims) -> Aims:
    """Targets beyond which a sag certainly lies outside."""
    return Aims(
        targets={state: widened_by(target, aims.slack_mm.get(state, 0.0)) for state, target in aims.targets.items()},
        slack_mm={},
        topped_out_mm=aims.topped_out_mm,
    )


def narrowed(aims: Aims) -> Aims:
    """Targets less the margin by which a sag can be told from outside; no sag is below 0."""
    targets: dict[State, Band] = {}
    for state, (low, high) in aims.targets.items():
        margin = margin_mm(aims, state)
        targets[state] = (low + margin * (low > 0.0), high - margin)
    return replace(aims, targets=targets, slack_mm={})


def nearly(aims: Aims) -> Aims:
    """Targets that a sag misses by less than another spring is worth, or certainly lies outside."""
    slack = {state: max(LEAST_FOR_A_SPRING_MM, aims.slack_mm.get(state, 0.0)) for state in aims.targets}
    return widened(replace(aims, slack_mm=slack))


def widened_by(target: Band, by_mm: float) -> Band:
    """A target that much wider at both ends; no sag is below 0."""
    return (max(0.0, target[0] - by_mm), target[1] + by_mm)


def all_in(sags_mm: Mapping[State, float | None], aims: Aims) -> bool:
    """Whether both sags come exactly into their targets, as far as they are known."""
    exactly = Aims(targets=aims.targets, slack_mm={})
    return all(within(sags_mm[state], exactly, state) for state in aims.targets)


def clear_of_edges(sags_mm: Mapping[State, float | None], aims: Aims) -> bool:
    """Whether both sags lie inside their targets for certain, as far as they are known; no sag is below 0."""
    for state, (low, high) in aims.targets.items():
        sag_mm, slack = sags_mm[state], aims.slack_mm.get(state, 0.0)
        if sag_mm is not None and not (low + slack * (low > 0.0) - SLACK <= sag_mm <= high - slack + SLACK):
            return False
    return True


def margin_mm(aims: Aims, state: State) -> float:
    """How far inside its target a sag is to come, so that it can be told from outside: by the uncertainty of its
    readings, as far as the target leaves room for that."""
    low, high = aims.targets[state]
    return min(aims.slack_mm.get(state, 0.0), (high - low) / 4.0)


def within(sag_mm: float | None, aims: Aims, state: State) -> bool:
    """Whether a sag comes into its target, as widely as the aims allow; true where either is not known."""
    target = aims.targets.get(state)
    if target is None or sag_mm is None:
        return True
    slack = aims.slack_mm.get(state, 0.0) + SLACK
    return target[0] - slack <= sag_mm <= target[1] + slack
