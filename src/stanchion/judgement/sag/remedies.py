"""The one finder of remedies: what brings both sags of an end into their targets with the least work.

First what the adjusters can do, then a spacer that keeps installed preload in its band, then another spring. Each is
judged by whether both sags come into target. Where none of them brings both in, or reading the sags again could tell
more of them, it is enough that no sag is certain to stay out. Where springs of no rate bring both in, it is the springs
that come nearest, or with those fitted the preload that does. Nothing here knows words; advice_finding.py turns a
remedy into a finding.
"""

from __future__ import annotations

from dataclasses import replace

from stanchion.judgement.criteria.thresholds import (
    LEAST_FOR_A_SPRING_MM,
    LEAST_TURNED_MM,
    SLACK,
)
from stanchion.judgement.sag.available_preload import AvailablePreload, as_set
from stanchion.judgement.sag.preload_remedies import (
    as_near,
    by_spacer,
    by_turning,
    close_by_turning,
    close_to,
    static_topped_out,
    static_unknown,
    to_the_edge,
    within_uncertainty,
)
from stanchion.judgement.sag.remedy import NoSprings, Reason, Remedy, Springs
from stanchion.judgement.sag.response import Response
from stanchion.judgement.sag.targets import (
    Aims,
    after,
    all_in,
    clear_of_edges,
    in_target,
    nearly,
    shortfall,
    turns_for,
    widened,
    worst_missed,
)

_NO_SPRINGS = NoSprings()


def find_remedy(response: Response, aims: Aims, available: AvailablePreload, springs: Springs = _NO_SPRINGS) -> Remedy:
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
    aim_mm = _aim(response, aims, available)
    now = after(response)
    if in_target(now, aims) and (available.keeps_springs or not available.no_more):
        return _none_certainly_out(response, aims, available, aim_mm, springs)
    if static_unknown(response, aims):
        return static_topped_out(response, aims, available, aim_mm) or _another_spring(
            response, aims, available, springs
        )
    found = by_turning(response, aims, available, aim_mm)
    if found is not None and available.out_of_band and not available.out_as_it_stands:
        found = _in_band(response, aims, available, springs) or found
    if found is None and aims.readings != "open":
        found = by_spacer(response, aims, available, wider=False) or _by_spring(response, aims, available, springs)
    if found is not None:
        return found
    found = (
        close_by_turning(response, aims, available)
        or by_spacer(response, aims, available, wider=False)
        or within_uncertainty(response, aims, available, aim_mm)
    )
    if found is None:
        return _another_spring(response, aims, available, springs)
    to_tell = found.edge and aims.readings == "open"
    return replace(found, spring_suits=to_tell and _by_spring(response, aims, available, springs) is not None)


def _none_certainly_out(
    response: Response, aims: Aims, available: AvailablePreload, aim_mm: float | None, springs: Springs
) -> Remedy:
    """What is left to do where no sag is certain to lie outside: nothing, unless installed preload is out of its band.
    Work on a sag that its readings cannot tell from one in target could as well take it out."""
    now = after(response)
    stays = Remedy(work="none", after_mm=now, aim_mm=aim_mm)
    if available.out_as_it_stands:
        found = by_turning(response, aims, available, aim_mm)
        sure = all_in if aims.readings != "open" else clear_of_edges
        if found is not None and sure(found.after_mm, aims):
            return found
        if all_in(now, aims):
            return stays  # no sag is spoilt, and no spring changed, for a band alone
    if not available.out_of_band or aims.readings == "open" or clear_of_edges(now, aims):
        return stays
    found = by_turning(response, aims, available, aim_mm)
    if found is not None:
        return found
    return by_spacer(response, aims, available, wider=False) or _by_spring(response, aims, available, springs) or stays


def _aim(response: Response, aims: Aims, available: AvailablePreload) -> float | None:
    """The setting that brings rider sag nearest to the middle of its target with both sags in; None where none does."""
    aim_mm = turns_for(response, aims, available.turned, 0.0)
    if aim_mm is None:
        return None
    stays = abs(aim_mm) < LEAST_TURNED_MM and not available.out_as_it_stands
    if stays and in_target(after(response), close_to(aims)):
        return 0.0
    return as_set(response, aims, available, aim_mm)


# --- by another spring --------------------------------------------------------------------------------------------


def _another_spring(response: Response, aims: Aims, available: AvailablePreload, springs: Springs) -> Remedy:
    no_suitable_rate = springs(aims)
    if no_suitable_rate is not None and no_suitable_rate.way:
        return Remedy(
            work="spring", way=no_suitable_rate.way, after_mm=after(response), no_suitable_rate=no_suitable_rate
        )
    if no_suitable_rate is not None:
        return replace(as_near(response, aims, available), no_suitable_rate=no_suitable_rate)
    if available.keeps_springs and aims.topped_out_mm is None:
        found = to_the_edge(response, aims, nearly(aims), available, None)
        if found is not None:
            return found
    edge = springs(aims, exactly=True) is not None
    asked_for = _spring_asked_for(response, aims, available, edge=edge)
    if not edge or not available.keeps_springs or static_unknown(response, aims):
        return asked_for
    kept = as_near(response, aims, available)
    if springs.comes_nearer(aims, asked_for.way, kept.after_mm):
        return asked_for
    return replace(kept, edge=True, no_spring_nearer=True)


def _by_spring(response: Response, aims: Aims, available: AvailablePreload, springs: Springs) -> Remedy | None:
    """Another spring that brings both sags in; None where none is known to, or they lie out by less than shows."""
    if worst_missed(after(response), aims) <= LEAST_FOR_A_SPRING_MM and not available.out_of_band:
        return None
    found = _spring_asked_for(response, aims, available, edge=False)
    return found if springs.brings_in(aims, found.way) else None


def _in_band(response: Response, aims: Aims, available: AvailablePreload, springs: Springs) -> Remedy | None:
    """Another spring, where turning leaves installed preload out of its band and no spacer brings both sags in.
    None where none is known to, where readings are to be repeated, and where sags are predicted: by those very lengths.
    """
    turned, spacer = available.turned, available.spacer
    missed = shortfall(response, aims, (turned[0] + spacer[0], turned[1] + spacer[1]))
    if aims.readings != "settled" or max(missed.stiffer_mm, missed.softer_mm) <= SLACK:
        return None
    found = _spring_asked_for(response, aims, available, edge=False)
    return found if springs.brings_in(aims, found.way, in_band=True) else None


def _spring_asked_for(response: Response, aims: Aims, available: AvailablePreload, *, edge: bool) -> Remedy:
    """Stiffer or softer springs, and why."""
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
