"""The one finder of remedies: what brings both sags of an end into their targets with the least work.

First what the adjusters can do, then a spacer that keeps installed preload in its band, then another spring. Each is
judged by whether both sags come into target. Where springs of no rate bring both in, it is the springs that come
nearest, or with those fitted the preload that does. Nothing here knows words; sag_advice.py turns a remedy into a
finding.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Literal, Protocol

from stanchion.base.record import record
from stanchion.job.model import State
from stanchion.judgement.criteria.thresholds import (
    CLOSE_TO_TARGET_MM,
    LEAST_SPACER_CHANGE_MM,
    LEAST_TURNED_MM,
    NOT_SHOWN_MM,
    PRELOAD_MARGIN_MM,
    SLACK,
)
from stanchion.judgement.results.assessment import Band
from stanchion.judgement.sag.response import FURTHEST_MM, Response, where_sag_is
from stanchion.judgement.sag.targets import (
    Aims,
    after,
    both_within,
    in_target,
    missing_least,
    nearest_to_middle,
    nearly,
    shortfall,
    spaced_to_least,
    turned_to_least,
    turns_for,
    widened,
    widened_by,
    worst_missed,
)

Work = Literal["none", "turns", "spacer", "spring"]
Way = Literal["", "more", "less", "stiffer", "softer"]
Reason = Literal["", "apart", "limit", "no_room"]
NoRate = Literal["no_rate_needs_more", "no_rate_needs_less", "no_rate_sold"]


@record(kw_only=True)
class AvailablePreload:
    """How far preload can be changed at one end, counted from how it stands now [mm]."""

    turned: Band
    """By the adjusters; an end that is not known is infinite."""
    spacer: Band
    """By a spacer, installed preload staying in its band; (0, 0) where there is none to change."""
    keeps_springs: bool = True
    """False where installed preload is over its limit, so that turning cures nothing."""
    no_more: bool = False
    """Installed preload is at its limit: more is never asked of this spring."""
    tenth_mm: float | None = None
    """Preload by a tenth of a turn, to which turns are shown and set; None where a turn is not known."""


@record(kw_only=True)
class NoSuitableRate:
    """No rate that is sold brings both sags in."""

    reason: NoRate
    """What is in the way."""
    nearest_n_per_mm: float | None
    """The rate sold with which the worse sag misses its target least; that of the springs fitted where no other comes
    nearer by enough to be worth fitting; None where it is not known."""
    way: Literal["", "stiffer", "softer"]
    """Which springs those are; "" for the ones fitted."""
    between_n_per_mm: Band | None = None
    """The rates that would, where it is only that none of them is sold."""


@record(kw_only=True)
class Remedy:
    """The least work that brings both sags into target."""

    work: Work
    way: Way = ""
    """For preload "more" or "less", for a spring "stiffer" or "softer"."""
    reason: Reason = ""
    """Why it takes another spring: the sags lie too far apart or too near each other, installed preload is at its
    limit, or neither adjusters nor spacer can go further."""
    turned_mm: float = 0.0
    """Preload to add by the adjusters."""
    spacer_mm: float = 0.0
    """By how much the spacer is to be longer."""
    after_mm: Mapping[State, float | None]
    """Sags to expect once it is done."""
    edge: bool = False
    """It brings a sag only to the edge of its target, or near it, or in within the uncertainty of its readings."""
    no_suitable_rate: NoSuitableRate | None = None
    """Springs of no rate that is sold bring both sags in; the work is then what brings the worse one nearest."""
    aim_mm: float | None = None
    """Preload at the adjusters, from now, that comes nearest to the middle of the target for rider sag with both sags
    in target; None where there is none."""


class Springs(Protocol):
    """Finds out about other springs before one is chosen; called only where nothing lighter than a spring does."""

    def __call__(self, aims: Aims, *, exactly: bool = False) -> NoSuitableRate | None:
        """What comes nearest where no rate that is sold brings both sags in; None where one does, or it is not known.

        Args:
            aims: the targets.
            exactly: whether the targets are taken as they are, rather than widened by the uncertainty of the sags.
        """


def _any_spring(aims: Aims, *, exactly: bool = False) -> NoSuitableRate | None:
    return None


def find_remedy(response: Response, aims: Aims, available: AvailablePreload, springs: Springs = _any_spring) -> Remedy:
    """The least work that brings both sags into target.

    Args:
        response: how the sags answer to preload.
        aims: the targets.
        available: how far preload can be changed.
        springs: finds out about other springs.

    >>> from stanchion.judgement.sag.response import ByRule
    >>> aims = Aims(targets={"static": (15, 25), "rider": (28, 38)}, slack_mm={})
    >>> available = AvailablePreload(turned=(-2.0, 6.0), spacer=(0.0, 3.0))
    >>> find_remedy(ByRule({"static": 24.0, "rider": 42.0}, 1.0, 1.0), aims, available).turned_mm
    5.0
    >>> found = find_remedy(ByRule({"static": 12.0, "rider": 42.0}, 1.0, 1.0), aims, available)
    >>> found.work, found.way, found.reason
    ('spring', 'stiffer', 'apart')
    """
    aim_mm = turns_for(response, aims, available.turned, 0.0)
    now = after(response)
    if in_target(now, aims) and (available.keeps_springs or not available.no_more):
        return Remedy(work="none", after_mm=now, aim_mm=aim_mm)
    if _static_unknown(response, aims):
        return _static_topped_out(response, aims, available, aim_mm) or _another_spring(
            response, aims, available, springs
        )
    if available.keeps_springs:
        found = _by_turning(response, aims, available, aim_mm)
        if found is not None:
            return found
    for wider in (False, True):
        found = _by_spacer(response, aims, available, wider=wider)
        # Within the uncertainty of the sags, but not further out than they are.
        if found is not None and not (wider and worst_missed(found.after_mm, aims) > worst_missed(now, aims) + SLACK):
            return found
        if wider and available.keeps_springs:
            found = _to_the_edge(response, aims, widened(aims), available, aim_mm)
            if found is not None:
                return found
    return _another_spring(response, aims, available, springs)


def _static_unknown(response: Response, aims: Aims) -> bool:
    """Whether static sag is wanted, but all that is known of it is that it stands topped out."""
    return aims.topped_out_mm is not None and "static" in aims.targets and response.sag("static") is None


def _static_topped_out(
    response: Response, aims: Aims, available: AvailablePreload, aim_mm: float | None
) -> Remedy | None:
    """Less preload shows more of static sag; None where rider sag leaves no room for what static sag needs."""
    turned, spacer = available.turned, available.spacer
    missed = shortfall(response, widened(aims), (turned[0] + spacer[0], turned[1] + spacer[1]))
    return _less_preload(response, aims, available, aim_mm) if missed.apart_mm <= SLACK else None


def _less_preload(response: Response, aims: Aims, available: AvailablePreload, aim_mm: float | None) -> Remedy | None:
    """Turned out, or else respaced, as far as rider sag stays in its target and static sag cannot pass its own.

    How far static sag falls short is not known, so that it is to be measured again: a small step might not show it.
    """
    target, rider_mm, at_most_mm = aims.targets.get("rider"), response.sag("rider"), aims.topped_out_mm
    if target is None or rider_mm is None or at_most_mm is None or rider_mm >= target[1]:
        return None
    most_mm = target[1] - min(PRELOAD_MARGIN_MM, (target[1] - rider_mm) / 2.0)
    room_mm = aims.targets["static"][1] - at_most_mm  # static sag grows by about as much as rider sag
    wanted_mm = min(max(sum(target) / 2.0, rider_mm + room_mm), most_mm)

    def change(sag_after: Callable[[float], float | None], least: float) -> float:
        found = where_sag_is(lambda mm: sag_after(mm) or 0.0, wanted_mm, -FURTHEST_MM, 0.0)
        return max(-FURTHEST_MM if found is None else found, least)

    turned_mm = change(lambda mm: response.sag("rider", turned_mm=mm), available.turned[0])
    if available.keeps_springs and turned_mm <= -LEAST_TURNED_MM:
        return _turned(response, turned_mm, aim_mm, edge=True)
    spacer_mm = change(lambda mm: response.sag("rider", spacer_mm=mm), available.spacer[0])
    if spacer_mm <= -LEAST_SPACER_CHANGE_MM:
        return _spaced(response, spacer_mm, 0.0, edge=False)
    return None


# --- by turning ---------------------------------------------------------------------------------------------------


def _by_turning(response: Response, aims: Aims, available: AvailablePreload, aim_mm: float | None) -> Remedy | None:
    close = Aims(
        targets={state: widened_by(target, CLOSE_TO_TARGET_MM) for state, target in aims.targets.items()},
        slack_mm={},
        topped_out_mm=aims.topped_out_mm,
    )
    if aim_mm is not None:
        if abs(aim_mm) < LEAST_TURNED_MM and in_target(after(response), close):
            return Remedy(work="none", after_mm=after(response), edge=True, aim_mm=aim_mm)
        return _turned(response, aim_mm, aim_mm) if _allowed(aim_mm, available) else None
    return _to_the_edge(response, aims, close, available, None)


def _to_the_edge(
    response: Response, aims: Aims, wider: Aims, available: AvailablePreload, aim_mm: float | None
) -> Remedy | None:
    """Turned to where the sags miss their targets least, where both come into wider ones; None where they do not.

    Nothing is turned that is as near already.
    """
    limits = (max(available.turned[0], -FURTHEST_MM), min(available.turned[1], FURTHEST_MM))

    def sag_after(state: State, turned_mm: float) -> float | None:
        return response.sag(state, turned_mm=turned_mm)

    suits = both_within(response, wider, sag_after, limits)
    if suits is None:
        return None
    turned_mm = missing_least(response, aims, sag_after, suits)
    if not _allowed(turned_mm, available):
        return None
    near = suits[0] - SLACK <= 0.0 <= suits[1] + SLACK
    if abs(turned_mm) < (LEAST_TURNED_MM if near else NOT_SHOWN_MM):
        return Remedy(work="none", after_mm=after(response), edge=True, aim_mm=aim_mm)
    settable = [
        mm
        for mm in _settable(turned_mm, available)
        if suits[0] - SLACK <= mm <= suits[1] + SLACK and _allowed(mm, available)
    ]
    if not settable:
        return None
    turned_mm = min(settable, key=lambda mm: worst_missed(after(response, turned_mm=mm), aims))
    return _turned(response, turned_mm, aim_mm, edge=True)


def _settable(turned_mm: float, available: AvailablePreload) -> list[float]:
    """That change itself where it turns the adjuster to its end, or a turn is not known; else the tenths of a turn next
    to it."""
    if not available.tenth_mm or min(abs(turned_mm - end_mm) for end_mm in available.turned) <= SLACK:
        return [turned_mm]
    below = math.floor(turned_mm / available.tenth_mm + SLACK)
    tenths = (number * available.tenth_mm for number in (below, below + 1))
    return [mm for mm in tenths if available.turned[0] <= mm <= available.turned[1] and mm != 0.0]


def _turned(response: Response, turned_mm: float, aim_mm: float | None, *, edge: bool = False) -> Remedy:
    return Remedy(
        work="turns",
        way="more" if turned_mm > 0.0 else "less",
        turned_mm=turned_mm,
        after_mm=after(response, turned_mm=turned_mm),
        edge=edge,
        aim_mm=aim_mm,
    )


def _allowed(change_mm: float, available: AvailablePreload) -> bool:
    return not (available.no_more and change_mm > SLACK)


# --- by a spacer --------------------------------------------------------------------------------------------------


def _by_spacer(response: Response, aims: Aims, available: AvailablePreload, *, wider: bool) -> Remedy | None:
    """Another spacer, the adjusters staying as they are; or as far as the band allows, and the rest at the
    adjusters."""
    low, high = available.spacer
    if available.no_more:
        high = min(high, 0.0)
    if high - low <= SLACK:
        return None
    wanted = widened(aims) if wider else aims

    def sag_after(state: State, spacer_mm: float) -> float | None:
        return response.sag(state, spacer_mm=spacer_mm)

    suits = both_within(response, wanted, sag_after, (max(low, -FURTHEST_MM), min(high, FURTHEST_MM)))
    if suits is not None:
        spacer_mm = nearest_to_middle(suits, wanted, sag_after)
        if abs(spacer_mm) >= LEAST_SPACER_CHANGE_MM - SLACK:
            return _spaced(response, spacer_mm, 0.0, edge=wider)
        if available.keeps_springs:
            return None
    if not available.keeps_springs:
        high = max(low, high - PRELOAD_MARGIN_MM)  # not back to the very limit
    for end_mm in (high, low):
        if not math.isfinite(end_mm) or abs(end_mm) < LEAST_SPACER_CHANGE_MM:
            continue
        turned_mm = turns_for(response, wanted, available.turned, end_mm)
        # Both the same way, or else the spacer undoes what the adjuster does; but installed preload that is over its
        # limit comes down so, while the sags stay.
        if turned_mm is not None and (turned_mm * end_mm >= -SLACK or not available.keeps_springs):
            return _spaced(response, end_mm, turned_mm, edge=wider)
    return None


def _spaced(response: Response, spacer_mm: float, turned_mm: float, *, edge: bool) -> Remedy:
    return Remedy(
        work="spacer",
        way="more" if spacer_mm > 0.0 else "less",
        spacer_mm=spacer_mm,
        turned_mm=turned_mm,
        after_mm=after(response, spacer_mm=spacer_mm, turned_mm=turned_mm),
        edge=edge,
    )


# --- by another spring --------------------------------------------------------------------------------------------


def _another_spring(response: Response, aims: Aims, available: AvailablePreload, springs: Springs) -> Remedy:
    no_suitable_rate = springs(aims)
    if no_suitable_rate is not None and no_suitable_rate.way:
        return Remedy(
            work="spring", way=no_suitable_rate.way, after_mm=after(response), no_suitable_rate=no_suitable_rate
        )
    if no_suitable_rate is not None:
        return replace(_as_near(response, aims, available), no_suitable_rate=no_suitable_rate)
    if available.keeps_springs and aims.topped_out_mm is None:
        found = _to_the_edge(response, aims, nearly(aims), available, None)
        if found is not None:
            return found
    edge = springs(aims, exactly=True) is not None
    turned = available.turned
    low = turned[0] + available.spacer[0]
    high = turned[1] + available.spacer[1]
    if available.no_more:
        high = min(high, 0.0)
    missed = shortfall(response, widened(aims), (low, high))
    if missed.stiffer_mm <= SLACK and missed.softer_mm <= SLACK:
        missed = shortfall(response, aims, (low, high))
    now = after(response)
    if not available.keeps_springs and in_target(now, aims):
        return Remedy(work="spring", way="stiffer", reason="limit", after_mm=now, edge=edge)
    way = missed.way
    if way == "stiffer":
        reason: Reason = "apart" if missed.apart_mm > SLACK else "limit" if available.no_more else "no_room"
    else:
        reason = "apart" if missed.near_mm > SLACK else "no_room"
    return Remedy(work="spring", way=way, reason=reason, after_mm=now, edge=edge)


def _as_near(response: Response, aims: Aims, available: AvailablePreload) -> Remedy:
    """As near as the springs fitted come: turned, or respaced where that is worth a spacer."""
    found = Remedy(work="none", after_mm=after(response))
    if _static_unknown(response, aims):
        return _less_preload(response, aims, available, None) or found
    most = 0.0 if available.no_more else math.inf  # no more of it where it is at its limit
    turned, spacer = ((low, min(high, most)) for low, high in (available.turned, available.spacer))
    turned_mm = turned_to_least(response, aims, turned, 0.0)
    if available.keeps_springs and abs(turned_mm) >= LEAST_TURNED_MM:
        found = _nearer(_turned(response, turned_mm, None, edge=True), found, aims, CLOSE_TO_TARGET_MM)
    spacer_mm = spaced_to_least(response, aims, spacer, 0.0)
    if abs(spacer_mm) >= LEAST_SPACER_CHANGE_MM - SLACK:
        turned_mm = turned_to_least(response, aims, turned, spacer_mm)
        spaced = _spaced(response, spacer_mm, turned_mm if turned_mm * spacer_mm > 0.0 else 0.0, edge=True)
        found = _nearer(spaced, found, aims, LEAST_SPACER_CHANGE_MM)
    return found


def _nearer(one: Remedy, other: Remedy, aims: Aims, by_mm: float) -> Remedy:
    """The one where the worse sag then misses its target by so much less."""
    return one if worst_missed(other.after_mm, aims) - worst_missed(one.after_mm, aims) >= by_mm else other
