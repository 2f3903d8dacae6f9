"""One choice of springs: its targets, how the springs are fitted, the sags they give, its verdict and rank."""

from __future__ import annotations

from typing import Literal

from stanchion.base.record import record
from stanchion.job.model import State
from stanchion.judgement.criteria.profiles import PreloadBand
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
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.ends.preload import verdict as verdict_on_preload
from stanchion.judgement.results.assessment import Band
from stanchion.judgement.results.codes import OptionVerdict
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.sag.targets import Aims, widened
from stanchion.judgement.springs.candidates import Pair
from stanchion.judgement.springs.rate_window import RateRequirements, Rates, missed_by, rate_requirements
from stanchion.judgement.springs.spring_swap import Fitting, Installed, SpringSwap


@record(kw_only=True)
class Requirements:
    """Targets and loads that springs for an end must meet."""

    static_target: Band | None
    """None: there is no target."""
    rider_target: Band
    static: Figure
    """Vertical load on its springs, machine alone."""
    rider: Figure
    """Vertical load on its springs with the rider aboard."""
    static_at_most_n: float | None
    """Upper limit of the load, machine alone, where only that is known."""
    band: PreloadBand | None
    installed_mm: float
    """Installed preload wanted."""
    aims: Aims
    """The targets as the advice on these sags uses them."""

    @property
    def loads(self) -> dict[State, float]:
        """The loads that are known [N]."""
        known: dict[State, float] = {}
        if self.static.value is not None:
            known["static"] = self.static.value
        if self.rider.value is not None:
            known["rider"] = self.rider.value
        return known

    @property
    def for_rates(self) -> RateRequirements:
        """The requirements for springs of any rate."""
        return rate_requirements(self.loads, self.static_at_most_n, self.band, self.aims)


@record(kw_only=True)
class SagAt:
    """Both sags to expect at one adjuster position."""

    static_mm: Figure
    rider_mm: Figure


@record(kw_only=True)
class Option:
    """One choice of springs."""

    fittings: tuple[Fitting, ...]
    """Each spring in its place."""
    fitted_now: bool
    """Whether these springs are fitted now."""
    used: tuple[int, ...]
    """Rows of the stock that they come from, one for each spring."""
    mean_rate_n_per_mm: float
    installed_mm: float
    """Installed preload, read as the job reads it."""
    out: SagAt
    """Adjuster fully out."""
    mid: SagAt
    fully_in: SagAt
    best: SagAt
    """With the adjuster at the target for rider sag, or as near to it as it goes."""
    turns_for_target: Figure
    """Turns from the present position to the target; positive is in, negative is out."""
    turns_from_out: Figure
    """The target in turns from fully out."""
    mm_from_out: Figure
    """The target in mm at the spring from fully out."""
    position: float | None
    """Position of the adjuster at the target, 0 fully out to 1 fully in; None: no adjuster, or its range is not
    known."""
    headroom_out_turns: Figure
    """Headroom towards less preload at the target."""
    headroom_in_turns: Figure
    headroom_out_mm: Figure
    headroom_in_mm: Figure
    coil_bind_clearance_mm: Figure
    """Least clearance between the coils of these springs at full travel, adjuster fully in."""
    required_clearance_mm: Figure
    """The sum of minimum gaps for that spring."""
    other_length: bool
    """Whether the free length differs from that of the springs they replace."""
    verdict: OptionVerdict
    score: float
    """Smaller is better; only for sorting."""


@record(kw_only=True)
class Installation:
    """How springs are fitted."""

    model: EndModel
    installed_mm: Installed
    turned_mm: float | None
    """Preload added at the adjusters to bring both sags in; None where that is not possible."""
    unchanged: bool
    """Whether the spacers, or the collar, stay as they are."""


@record(kw_only=True)
class Outcome:
    """The data for verdict and score."""

    best: SagAt
    position: float | None
    near_end: bool
    fittings: tuple[Fitting, ...]
    installed_mm: Installed
    clearances_mm: tuple[float | None, ...]
    other_length: bool
    fits: bool
    reached: bool
    other_spacer: bool


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
