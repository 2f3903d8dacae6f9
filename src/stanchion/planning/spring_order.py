"""Ranking one choice of springs: its verdict, and the score to sort by."""

from __future__ import annotations

from typing import Literal

from stanchion.judgement.criteria.thresholds import (
    ADJUSTER_OFF_CENTRE,
    FREE_LENGTHS_NOTE_MM,
    LEAST_COIL_CLEARANCE_MM,
    LEAST_FOR_A_SPRING_MM,
    MIXED_PAIR,
    OTHER_FREE_LENGTH,
    PAIR_RATES_DIFFER,
    RATE_OFF,
    SLACK,
    WORSE_VERDICT,
)
from stanchion.judgement.ends.preload import verdict as verdict_on_preload
from stanchion.judgement.results.assessment import Band
from stanchion.judgement.results.codes import OptionVerdict
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.sag.targets import widened
from stanchion.judgement.springs.candidates import Pair
from stanchion.judgement.springs.rates import Rates, missed_by
from stanchion.judgement.springs.spring_swap import SpringSwap
from stanchion.planning.spring_option import Installation, Outcome, Requirements

_STEPS: dict[OptionVerdict, int] = {
    "suits": 0,
    "suits_near_end": 1,
    "suits_bind_unknown": 1,
    "other_spacer": 2,
    "borderline": 3,
    "low": 4,
    "high": 4,
    "check_fit": 5,
    "too_soft": 6,
    "too_stiff": 6,
    "sags_stay_out": 6,
    "check_length": 6,
    "over_limit": 7,
    "loose": 7,
    "too_long": 7,
    "coil_bind": 7,
}
"""Rank of each verdict, so that no row stands above one with a better verdict; springs with the last rank must not be
fitted."""


def mean_rate(springs: Pair) -> float:
    """Mean rate of the springs [N/mm]."""
    return sum(spring.rate_n_per_mm for spring in springs) / len(springs)


def other_length_of(swap: SpringSwap, springs: Pair) -> bool:
    """Whether a spring is known to be of another free length than the one it replaces."""
    for spring, now in zip(springs, swap.lengths_now, strict=True):
        new = spring.free_length_mm
        if new is not None and now is not None and abs(new - now) > FREE_LENGTHS_NOTE_MM + SLACK:
            return True
    return False


def verdict_of(made: Outcome, requirements: Requirements) -> OptionVerdict | Literal[""]:
    """The worst verdict that applies; "" where the sags stay out of target (see out_of_reach)."""
    known = [mm for mm in made.clearances_mm if mm is not None]
    if known and min(known) < LEAST_COIL_CLEARANCE_MM - SLACK:
        return "coil_bind"
    if any(fitting.spacer_mm.problem == "no_spacer_short_enough" for fitting in made.fittings):
        return "too_long"
    preload = {verdict_on_preload(mm, requirements.band) for mm in made.installed_mm}
    for worst in ("loose", "over_limit"):
        if worst in preload:
            return worst
    if not made.reached:
        return "other_spacer" if made.other_spacer else ""
    if not made.fits:
        return "check_fit"
    for unfit in ("low", "high"):
        if unfit in preload:
            return "other_spacer" if made.other_spacer else unfit
    if len(known) < len(made.clearances_mm):
        return "suits_bind_unknown"
    return "suits_near_end" if made.near_end else "suits"


def out_of_reach(
    swap: SpringSwap,
    springs: Pair,
    requirements: Requirements,
    rates: Rates,
    installation: Installation,
    *,
    missed_mm: float,
) -> OptionVerdict:
    """Why the sags stay out of target: too soft below the window of rates, too stiff above it. Neither is said where no
    rate that is sold brings both in."""
    sure, rate = rates.surely, mean_rate(springs)
    of_present = swap.installed_stays_mm is None or not other_length_of(swap, springs)
    if rates.no_suitable_rate is not None and of_present:
        return "sags_stay_out"
    if missed_mm <= LEAST_FOR_A_SPRING_MM:
        return "borderline"
    if rates.surely.open and of_present:
        if rate < sure.low - SLACK:
            return "too_soft"
        return "too_stiff" if rate > sure.high + SLACK else "borderline"
    missed = missed_by(swap, springs, installation.installed_mm, requirements.for_rates, widened(requirements.aims))
    if max(missed.stiffer_mm, missed.softer_mm) <= SLACK:
        return "borderline"
    soft = missed.way == "stiffer"
    if rates.within.open and (rate >= rates.within.low if soft else rate <= rates.within.high):
        return "check_length"
    return "too_soft" if soft else "too_stiff"


def missed_target(sag: Figure, target: Band | None) -> float:
    """Distance of a sag from the middle of its target, in half-widths of the target; 0 where it is not known."""
    if sag.value is None or target is None:
        return 0.0
    return abs(sag.value - (target[0] + target[1]) / 2.0) / max((target[1] - target[0]) / 2.0, 1.0)


def with_preload(verdict: OptionVerdict, made: Outcome, requirements: Requirements) -> OptionVerdict:
    """The verdict of springs with which a sag is borderline: installed preload out of its band is worse than that."""
    preload = {verdict_on_preload(mm, requirements.band) for mm in made.installed_mm}
    if verdict == "borderline" and not made.other_spacer:
        return "low" if "low" in preload else "high" if "high" in preload else verdict
    return verdict


def score_of(made: Outcome, springs: Pair, requirements: Requirements, rates: Rates, verdict: OptionVerdict) -> float:
    """Score from the distance of both sags from target, the position of the adjuster, and penalties. Where no rate that
    is sold brings both sags in, the distance from the nearest rate replaces that of the sags and the adjuster."""
    nearest = None if rates.no_suitable_rate is None else rates.no_suitable_rate.nearest_n_per_mm
    if nearest is not None:
        score = RATE_OFF * abs(mean_rate(springs) / nearest - 1.0)
    else:
        score = missed_target(made.best.rider_mm, requirements.rider_target) + missed_target(
            made.best.static_mm, requirements.static_target
        )
        if made.position is not None:
            score += ADJUSTER_OFF_CENTRE * abs(2.0 * made.position - 1.0)
    score += OTHER_FREE_LENGTH * made.other_length
    each = [spring.rate_n_per_mm for spring in springs]
    apart = (max(each) - min(each)) / max(each)
    if apart > 0.0:
        score += MIXED_PAIR * (1.0 + apart / PAIR_RATES_DIFFER)
    return score + WORSE_VERDICT * _STEPS[verdict]
