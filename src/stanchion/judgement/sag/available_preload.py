"""How far preload can be changed at one end, and what the adjuster can be set to."""

from __future__ import annotations

import math
from collections.abc import Sequence

from stanchion.base.record import record
from stanchion.judgement.criteria.thresholds import NOT_SHOWN_MM, SLACK
from stanchion.judgement.ends.preload import most_preload
from stanchion.judgement.ends.preload_adjustment import PreloadAdjustment
from stanchion.judgement.results.assessment import Band
from stanchion.judgement.sag.response import EVERYWHERE, FURTHEST_MM, Response
from stanchion.judgement.sag.targets import Aims, after, all_in, narrowed, worst_missed
from stanchion.mechanics.preload import settings_beside


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
    out_of_band: bool = False
    """Installed preload is out of its band."""
    step_mm: float | None = None
    """Preload of the least that the adjusters are turned; None where that is not known."""
    ends_mm: Band = EVERYWHERE
    """What takes the adjusters to their own ends, which can be set whatever the step."""

    @property
    def out_as_it_stands(self) -> bool:
        """Whether it is a collar that is to be turned back into its band."""
        return self.out_of_band and not self.turned[0] - SLACK <= 0.0 <= self.turned[1] + SLACK

    def settings(self, turned_mm: float) -> tuple[float, ...]:
        """What the adjusters can be set to next to a change, the nearest first: the change itself where a step of
        theirs is not known."""
        if not self.step_mm:
            return (turned_mm,)
        most = min(self.turned[1], 0.0) if self.no_more and turned_mm <= SLACK else self.turned[1]
        found = settings_beside(turned_mm, self.step_mm, self.ends_mm)
        # A collar without ends may pass the edge of its band by what does not show.
        slack = NOT_SHOWN_MM if self.ends_mm == EVERYWHERE else SLACK
        return tuple(mm for mm in found if self.turned[0] - slack <= mm <= most + slack) or (turned_mm,)


def as_set(
    response: Response, aims: Aims, available: AvailablePreload, turned_mm: float, *, spacer_mm: float = 0.0
) -> float:
    """A change at the adjusters as they can be set: the nearest setting with both sags in target, or where there is
    none, the one with which the worse sag misses its target least.

    Args:
        response: how the sags answer to preload.
        aims: the targets.
        available: how far preload can be changed.
        turned_mm: the change wanted.
        spacer_mm: by how much the spacer is longer then.
    """
    return setting_of(response, aims, available.settings(turned_mm), spacer_mm=spacer_mm)


def setting_of(response: Response, aims: Aims, settings: Sequence[float], *, spacer_mm: float = 0.0) -> float:
    """The first setting with both sags in target, clear of the edges where one is; without one, that with which the
    worse sag misses its target least.

    Args:
        response: how the sags answer to preload.
        aims: the targets.
        settings: what the adjusters can be set to.
        spacer_mm: by how much the spacer is longer then.
    """
    if len(settings) == 1:
        return settings[0]
    then = {mm: after(response, spacer_mm=spacer_mm, turned_mm=mm) for mm in settings}
    for wanted in (narrowed(aims), aims):
        for mm, sags_mm in then.items():
            if all_in(sags_mm, wanted):
                return mm
    return min(then, key=lambda mm: worst_missed(then[mm], aims))


def available_preload(adjustment: PreloadAdjustment) -> AvailablePreload:
    """How far adjusters and spacer can go."""
    out = math.inf if adjustment.left_out_mm is None else adjustment.left_out_mm
    into = math.inf if adjustment.left_in_mm is None else adjustment.left_in_mm
    ends, band, now = (-out, into), adjustment.band, adjustment.least_preload_now_mm
    if adjustment.as_it_stands and band is not None and now is not None:
        # Such a collar is limited only by the band; out of it already, it is to be turned back in.
        low, high = band.low - now, most_preload(band) - now
        if not adjustment.out_of_band:
            low, high = min(low, 0.0), max(high, 0.0)
        return AvailablePreload(
            turned=(low, min(high, into)),
            spacer=(0.0, 0.0),
            out_of_band=adjustment.out_of_band,
            step_mm=adjustment.step_mm,
        )
    if now is not None:
        loose = (band.loose_below if band else None) or 0.0
        out = min(out, max(0.0, now - loose))
    spacer: Band = (0.0, 0.0)
    if adjustment.has_spacer:
        spacer = (-FURTHEST_MM, FURTHEST_MM) if adjustment.spacer_range_mm is None else adjustment.spacer_range_mm
        if adjustment.shortest_spacer_mm is not None:
            spacer = (max(spacer[0], -adjustment.shortest_spacer_mm), spacer[1])
        if band is None and adjustment.least_installed_mm is not None:
            spacer = (max(spacer[0], -adjustment.least_installed_mm), spacer[1])  # no spring comes loose
    return AvailablePreload(
        turned=(-out, into),
        spacer=spacer,
        keeps_springs=adjustment.verdict != "over_limit",
        no_more=adjustment.at_limit,
        out_of_band=adjustment.out_of_band,
        step_mm=adjustment.step_mm,
        ends_mm=ends,
    )
