"""What preload can do for both sags of an end: turned at the adjusters, or by another spacer, or as near as it comes.

Each finds one remedy, or None where it does not do; remedies.py says which is tried first.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from stanchion.job.model import State
from stanchion.judgement.criteria.thresholds import (
    CLOSE_TO_TARGET_MM,
    LEAST_FOR_A_SPRING_MM,
    LEAST_SPACER_CHANGE_MM,
    LEAST_TURNED_MM,
    NOT_SHOWN_MM,
    PRELOAD_MARGIN_MM,
    SLACK,
)
from stanchion.judgement.results.assessment import Band
from stanchion.judgement.sag.available_preload import AvailablePreload, as_set, setting_of
from stanchion.judgement.sag.remedy import Remedy
from stanchion.judgement.sag.response import FURTHEST_MM, Response, where_sag_is
from stanchion.judgement.sag.targets import (
    Aims,
    after,
    both_within,
    missing_least,
    nearest_to_middle,
    shortfall,
    spaced_to_least,
    turned_to_least,
    turns_for,
    widened,
    worst_missed,
)


def close_to(aims: Aims) -> Aims:
    """Targets that a sag misses by no more than is worth other work."""
    return widened(replace(aims, slack_mm=dict.fromkeys(aims.targets, CLOSE_TO_TARGET_MM)))


def within_uncertainty(
    response: Response, aims: Aims, available: AvailablePreload, aim_mm: float | None
) -> Remedy | None:
    """What brings neither sag certainly out of its target, where nothing brings both in; None where that takes other
    springs.

    The adjuster is turned, unless a spacer comes nearer by enough to be worth the work. Neither takes the worse sag
    further out than it is.
    """
    turned = None
    if available.keeps_springs:
        turned = to_the_edge(response, aims, widened(aims), available, aim_mm)
    spaced = by_spacer(response, aims, available, wider=True)
    if spaced is None or worst_missed(spaced.after_mm, aims) > worst_missed(after(response), aims) + SLACK:
        return turned
    return spaced if turned is None else _nearer(spaced, turned, aims, LEAST_SPACER_CHANGE_MM)


def static_unknown(response: Response, aims: Aims) -> bool:
    """Whether static sag is wanted, but all that is known of it is that it stands topped out."""
    return aims.topped_out_mm is not None and "static" in aims.targets and response.sag("static") is None


def static_topped_out(
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
        return _turned(response, as_set(response, aims, available, turned_mm), aim_mm, edge=True)
    spacer_mm = change(lambda mm: response.sag("rider", spacer_mm=mm), available.spacer[0])
    if spacer_mm < 0.0 and _worth_cutting(spacer_mm):
        return _spaced(response, spacer_mm, 0.0, edge=False)
    return None


# --- by turning ---------------------------------------------------------------------------------------------------


def by_turning(response: Response, aims: Aims, available: AvailablePreload, aim_mm: float | None) -> Remedy | None:
    """Turned to the setting that is aimed at; None where there is none, or the springs are to come out."""
    if aim_mm is None or not available.keeps_springs or not _allowed(aim_mm, available):
        return None
    missed = worst_missed(after(response, turned_mm=aim_mm), aims)
    # Steps may be coarser than the targets are wide.
    return _turned(response, aim_mm, aim_mm, edge=missed > SLACK) if missed <= LEAST_FOR_A_SPRING_MM else None


def close_by_turning(response: Response, aims: Aims, available: AvailablePreload) -> Remedy | None:
    """Turned to where both sags are as close to target as matters; None where they do not come so close."""
    if not available.keeps_springs:
        return None
    return to_the_edge(response, aims, close_to(aims), available, None)


def to_the_edge(
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
    settings = available.settings(turned_mm)
    within = [mm for mm in settings if suits[0] - SLACK <= mm <= suits[1] + SLACK and _allowed(mm, available)]
    turned_mm = setting_of(response, aims, within or settings)
    if not within and worst_missed(after(response, turned_mm=turned_mm), aims) > LEAST_FOR_A_SPRING_MM:
        return None
    return _turned(response, turned_mm, aim_mm, edge=True)


def _turned(response: Response, turned_mm: float, aim_mm: float | None, *, edge: bool = False) -> Remedy:
    """Turned so far, as the adjuster can be set; no work where that is as it stands."""
    if abs(turned_mm) <= SLACK:
        return Remedy(work="none", after_mm=after(response), edge=True, aim_mm=aim_mm)
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


def by_spacer(response: Response, aims: Aims, available: AvailablePreload, *, wider: bool) -> Remedy | None:
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
        if wider:
            spacer_mm = missing_least(response, aims, sag_after, suits)
        else:
            spacer_mm = nearest_to_middle(suits, wanted, sag_after)
        if _worth_cutting(spacer_mm):
            return _spaced(response, spacer_mm, 0.0, edge=wider)
        if available.keeps_springs:
            return None
    return _spaced_and_turned(response, aims, available, (low, high), wider=wider)


def _spaced_and_turned(
    response: Response, aims: Aims, available: AvailablePreload, spacer: Band, *, wider: bool
) -> Remedy | None:
    """The spacer as far as the band allows, and the rest at the adjusters."""
    low, high = spacer
    wanted = widened(aims) if wider else aims
    # Not back to the very limit, and as far from it as the sags allow.
    shares = (0.0,) if available.keeps_springs else (1.0, 0.5, 0.25)
    for end_mm in (*(max(low, high - share * PRELOAD_MARGIN_MM) for share in shares), low):
        if not (math.isfinite(end_mm) and _worth_cutting(end_mm)):
            continue
        turned_mm = turns_for(response, wanted, available.turned, end_mm)
        if wider and turned_mm is not None:
            turned_mm = turned_to_least(response, aims, available.turned, end_mm)
        if turned_mm is not None:
            turned_mm = as_set(response, aims, available, turned_mm, spacer_mm=end_mm)
        # Both the same way, or else the spacer undoes what the adjuster does; but installed preload that is over its
        # limit comes down so, while the sags stay.
        if turned_mm is not None and (turned_mm * end_mm >= -SLACK or not available.keeps_springs):
            return _spaced(response, end_mm, turned_mm, edge=wider)
    return None


def _worth_cutting(spacer_mm: float) -> bool:
    """Whether a spacer is changed by that, as its length is shown."""
    return abs(spacer_mm) >= LEAST_SPACER_CHANGE_MM - NOT_SHOWN_MM


def _spaced(response: Response, spacer_mm: float, turned_mm: float, *, edge: bool) -> Remedy:
    return Remedy(
        work="spacer",
        way="more" if spacer_mm > 0.0 else "less",
        spacer_mm=spacer_mm,
        turned_mm=turned_mm,
        after_mm=after(response, spacer_mm=spacer_mm, turned_mm=turned_mm),
        edge=edge,
    )


def as_near(response: Response, aims: Aims, available: AvailablePreload) -> Remedy:
    """As near as the springs fitted come: turned, or respaced where that is worth a spacer."""
    found = Remedy(work="none", after_mm=after(response))
    if static_unknown(response, aims):
        return _less_preload(response, aims, available, None) or found
    most = 0.0 if available.no_more else math.inf  # no more of it where it is at its limit
    turned, spacer = ((low, min(high, most)) for low, high in (available.turned, available.spacer))
    turned_mm = turned_to_least(response, aims, turned, 0.0)
    if available.keeps_springs and abs(turned_mm) >= LEAST_TURNED_MM:
        turned_mm = as_set(response, aims, available, turned_mm)
        found = _nearer(_turned(response, turned_mm, None, edge=True), found, aims, CLOSE_TO_TARGET_MM)
    spacer_mm = spaced_to_least(response, aims, spacer, 0.0)
    if _worth_cutting(spacer_mm):
        turned_mm = turned_to_least(response, aims, turned, spacer_mm)
        turned_mm = as_set(response, aims, available, turned_mm, spacer_mm=spacer_mm)
        spaced = _spaced(response, spacer_mm, turned_mm if turned_mm * spacer_mm > 0.0 else 0.0, edge=True)
        found = _nearer(spaced, found, aims, LEAST_SPACER_CHANGE_MM)
    return found


def _nearer(one: Remedy, other: Remedy, aims: Aims, by_mm: float) -> Remedy:
    """The one where the worse sag then misses its target by so much less."""
    return one if worst_missed(other.after_mm, aims) - worst_missed(one.after_mm, aims) >= by_mm else other
