"""Between which rates both sags of an end come into their targets: for the advice on those sags, and for the list of
springs, which so cannot say otherwise."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

from stanchion.job.model import State
from stanchion.judgement.assessment import Band
from stanchion.judgement.candidates import InHand, Pair
from stanchion.judgement.preload import most_preload
from stanchion.judgement.profiles import PreloadBand
from stanchion.judgement.refit import PLACEHOLDER_MM, Installed, Refit, Span
from stanchion.judgement.remedies import Aims, NoRate, Shortfall, shortfall, widened
from stanchion.judgement.response import FURTHEST_MM, ByModel
from stanchion.judgement.window import Window, find_window, where_shut
from stanchion.record import record


@record(kw_only=True)
class Asked:
    """What springs of any rate are held against."""

    loads: Mapping[State, float]
    """The loads that are known [N]."""
    band: PreloadBand | None
    aims: Aims
    """The targets as an advice on these sags has them."""


def asked_of(
    loads: Mapping[State, float], static_at_most_n: float | None, band: PreloadBand | None, aims: Aims
) -> Asked:
    """What springs of any rate are held against.

    Args:
        loads: the loads that are known [N].
        static_at_most_n: the load at most, machine alone, where only that is known [N]: springs that leave too little
            static sag under it do so under any less.
        band: the band for installed preload.
        aims: the targets.
    """
    targets = dict(aims.targets)
    if "static" not in loads and static_at_most_n is not None and "static" in targets:
        loads = {**loads, "static": static_at_most_n}
        targets["static"] = (targets["static"][0], math.inf)
    # That static sag is topped out now says nothing more of other springs.
    return Asked(loads=loads, band=band, aims=Aims(targets=targets, slack_mm=aims.slack_mm))


@record(kw_only=True)
class Rates:
    """What is known of rates before any row is worked out."""

    within: Window
    """Both sags come into their targets."""
    surely: Window
    """Outside it they certainly do not, as the sags are known."""
    no_rate: NoRate
    """What is in the way where no rate at all brings both in, as the sags are known."""


def no_rate(refit: Refit, asked: Asked, guess: float, *, exactly: bool = False) -> NoRate:
    """What is in the way where springs of no rate bring both sags into their targets; "" where some do.

    Args:
        refit: the end they would go into.
        asked: what they are held against.
        guess: a rate to begin at: that of the springs fitted now [N/mm].
        exactly: whether the targets are taken as they stand, rather than widened by what the sags can be told.
    """
    aims = asked.aims if exactly else widened(asked.aims)
    shut = where_shut(_missed(refit, asked, aims), guess)
    if shut is None:
        return ""
    if max(shut.apart_mm, shut.near_mm) > 0.0:
        # Sags too far apart take a stiffer spring, and that one less preload; too near each other, the other way round.
        return "no_rate_needs_less" if shut.apart_mm > shut.near_mm else "no_rate_needs_more"
    return "no_rate_needs_more" if shut.more_mm >= shut.less_mm else "no_rate_needs_less"


def find_rates(refit: Refit, asked: Asked, guess: float, fitted: float | None) -> Rates:
    """Between which rates both sags come in, exactly and within what the sags can be told.

    Args:
        refit: the end they would go into.
        asked: what they are held against.
        guess: a rate to begin at.
        fitted: the rate of the springs fitted now [N/mm]; None: not known.
    """
    return Rates(
        within=find_window(_missed(refit, asked, asked.aims), guess),
        surely=find_window(_missed(refit, asked, widened(asked.aims)), guess),
        no_rate=no_rate(refit, asked, fitted or guess),
    )


def _missed(refit: Refit, asked: Asked, aims: Aims) -> Callable[[float], Shortfall]:
    """By how much springs of a rate miss, installed as they would be."""
    places, stays, band = len(refit.lengths_now), refit.installed_stays_mm, asked.band
    middle = PLACEHOLDER_MM if band is None else (band.low + band.high) / 2.0
    installed = (middle if stays is None else stays,) * places
    return lambda rate: missed_by(
        refit, (InHand(rate_n_per_mm=rate, free_length_mm=None),) * places, installed, asked, aims
    )


def missed_by(refit: Refit, springs: Pair, installed_mm: Installed, asked: Asked, aims: Aims) -> Shortfall:
    """By how much preload misses both targets with these springs."""
    response = ByModel(refit.model(springs, installed_mm), asked.loads, predicted=True)
    return shortfall(response, aims, whole_room(refit, springs, installed_mm, asked.band))


def turned_room(span: Span, installed_mm: Installed, band: PreloadBand | None) -> Band:
    """How far the adjusters go, from where the installed preload is counted; a collar that has no fully-out goes as
    far as its band."""
    if not span.no_fully_out:
        return 0.0, math.inf if span.range_mm is None else span.range_mm
    least, most = (0.0, math.inf) if band is None else (band.low, most_preload(band))
    return least - installed_mm[0], most - installed_mm[0]


def spacer_room(refit: Refit, springs: Pair, installed_mm: Installed, band: PreloadBand | None) -> Band:
    """How much longer the spacers may be cut with installed preload in its band."""
    ends = (-FURTHEST_MM, FURTHEST_MM) if band is None else (band.low, band.high)
    return refit.spacer_room(springs, installed_mm, ends)


def whole_room(refit: Refit, springs: Pair, installed_mm: Installed, band: PreloadBand | None) -> Band:
    """How far preload at the springs can be changed, adjusters and spacers together."""
    turned = turned_room(refit.span, installed_mm, band)
    low, high = spacer_room(refit, springs, installed_mm, band)
    share = refit.span.share
    return (low + turned[0] * share, high + turned[1] * share)
