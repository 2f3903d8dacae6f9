"""How far preload can be changed at one end, and a change of it in the steps in which it is shown and set."""

from __future__ import annotations

import math
from dataclasses import replace

from stanchion.judgement.criteria.thresholds import LEAST_TURNED_MM, SLACK
from stanchion.judgement.ends.preload import most_preload
from stanchion.judgement.ends.preload_adjustment import PreloadAdjustment
from stanchion.judgement.results.assessment import Band
from stanchion.judgement.sag.remedies import AvailablePreload, Remedy
from stanchion.judgement.sag.response import FURTHEST_MM, Response
from stanchion.judgement.sag.targets import Aims, after, all_in


def available_preload(adjustment: PreloadAdjustment) -> AvailablePreload:
    """How far adjusters and spacer can go."""
    out = math.inf if adjustment.left_out_mm is None else adjustment.left_out_mm
    into = math.inf if adjustment.left_in_mm is None else adjustment.left_in_mm
    band, now = adjustment.band, adjustment.least_preload_now_mm
    if adjustment.as_it_stands and band is not None and now is not None:
        # Such a collar is limited only by the band; out of it already, it is to be turned back in.
        return AvailablePreload(
            turned=(band.low - now, min(most_preload(band) - now, into)), spacer=(0.0, 0.0), tenth_mm=_tenth(adjustment)
        )
    if now is not None:
        loose = (band.loose_below if band else None) or 0.0
        out = min(out, max(0.0, now - loose))
    spacer: Band = (0.0, 0.0)
    if adjustment.has_spacer:
        spacer = (-FURTHEST_MM, FURTHEST_MM) if adjustment.spacer_range_mm is None else adjustment.spacer_range_mm
        if adjustment.shortest_spacer_mm is not None:
            spacer = (max(spacer[0], -adjustment.shortest_spacer_mm), spacer[1])
    return AvailablePreload(
        turned=(-out, into),
        spacer=spacer,
        keeps_springs=adjustment.verdict != "over_limit",
        no_more=adjustment.at_limit,
        tenth_mm=_tenth(adjustment),
    )


def _tenth(adjustment: PreloadAdjustment) -> float | None:
    return adjustment.per_turn_mm * _least_turned(adjustment) if adjustment.per_turn_mm else None


def _least_turned(adjustment: PreloadAdjustment) -> float:
    """The least that is turned: a tenth of a turn, or a click."""
    return 1.0 if adjustment.in_clicks else 0.1


def as_shown(
    remedy: Remedy, response: Response, aims: Aims, adjustment: PreloadAdjustment, available: AvailablePreload
) -> Remedy:
    """The remedy in turns as they are shown, to a tenth, or in whole clicks, so that the mm beside them agree.

    A turn that would be shown as none is not asked for.
    """
    per_turn = adjustment.per_turn_mm
    if not per_turn:
        return remedy

    digits, half = (0, 0.5) if adjustment.in_clicks else (1, 0.05)

    def in_tenths(preload_mm: float) -> float:
        shown = round(preload_mm / per_turn, digits) * per_turn
        return shown if available.turned[0] <= shown <= available.turned[1] else preload_mm

    aim_mm = None if remedy.aim_mm is None else in_tenths(remedy.aim_mm)
    turned_mm = in_tenths(remedy.turned_mm)
    if remedy.work == "turns" and not remedy.edge and not all_in(after(response, turned_mm=turned_mm), aims):
        # The next tenth, where the nearest takes a sag out of a target that the remedy brings it into.
        tenths = (round(remedy.turned_mm / per_turn + by, digits) * per_turn for by in (-half, half))
        others = (mm for mm in tenths if available.turned[0] <= mm <= available.turned[1])
        turned_mm = next((mm for mm in others if all_in(after(response, turned_mm=mm), aims)), turned_mm)
    if remedy.work == "turns" and abs(turned_mm) <= SLACK and abs(remedy.turned_mm) < LEAST_TURNED_MM:
        return Remedy(
            work="none", after_mm=after(response), edge=True, no_suitable_rate=remedy.no_suitable_rate, aim_mm=aim_mm
        )
    if turned_mm == remedy.turned_mm or (remedy.work == "turns" and abs(turned_mm) <= SLACK):
        return replace(remedy, aim_mm=aim_mm)
    sags_mm = after(response, spacer_mm=remedy.spacer_mm, turned_mm=turned_mm)
    return replace(remedy, turned_mm=turned_mm, after_mm=sags_mm, aim_mm=aim_mm)
