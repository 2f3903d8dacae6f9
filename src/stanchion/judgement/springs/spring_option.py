"""One choice of springs: its targets, how the springs are fitted, the sags they give, its verdict and rank."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Literal

from stanchion.base.record import record
from stanchion.job.model import State
from stanchion.job.spec import Progressive
from stanchion.judgement.criteria.profiles import PreloadBand
from stanchion.judgement.criteria.thresholds import (
    ADJUSTER_OFF_CENTRE,
    FREE_LENGTHS_NOTE_MM,
    LEAST_COIL_CLEARANCE_MM,
    MIXED_PAIR,
    NEAR_EDGE,
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
from stanchion.judgement.sag.targets import Aims, in_target, margin_mm, widened
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

    @property
    def known(self) -> dict[State, float | None]:
        """Both in mm; None where one is not known."""
        return {"static": self.static_mm.value, "rider": self.rider_mm.value}


@record(kw_only=True)
class AsItStands:
    """The springs fitted now, with the adjuster where it is."""

    sags: SagAt
    """As measured with them, else as predicted."""
    turns_from_out: Figure
    left_in_turns: Figure


@record(kw_only=True)
class Option:
    """One choice of springs."""

    fittings: tuple[Fitting, ...]
    """Each spring in its place."""
    fitted_now: bool
    """Whether these springs are fitted now."""
    stands: AsItStands | None
    """What they give as they stand; None for springs that are not fitted."""
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
    added_mm: float
    """What the adjuster adds there."""
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

    @property
    def preload_mm(self) -> float:
        """Preload with the adjuster at the target."""
        return self.installed_mm + self.added_mm


@record(kw_only=True)
class Installation:
    """How springs are fitted."""

    model: EndModel
    installed_mm: Installed
    turned_mm: float | None
    """Preload added at the adjusters to bring both sags in; None where that is not possible."""
    unchanged: bool
    """Whether the spacers, or the collar, stay as they are."""
    stands_mm: float = 0.0
    """What the adjusters add where they are turned from: fully out, or with the springs fitted now where they stand."""
    as_advised: bool = False
    """Whether the adjusters are set as the advice on the sags says."""


@record(kw_only=True)
class AdvisedSpacer:
    """What the advice on the sags has done to the spacer and the adjusters of the springs fitted now [mm]."""

    longer_mm: float
    turned_mm: float
    """Preload that turning them adds."""


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


SUITING: frozenset[OptionVerdict] = frozenset(
    {"suits", "suits_near_end", "suits_bind_unknown", "suits_near_end_bind_unknown"}
)
"""Verdicts on springs that bring both sags in with the adjuster at its target."""

_STEPS: dict[OptionVerdict, int] = {
    "suits": 0,
    "suits_near_end": 1,
    "suits_bind_unknown": 1,
    "suits_near_end_bind_unknown": 1,
    "sags_in": 1,
    "turn_in": 1,
    "turn_out": 1,
    "sags_in_turned_in": 1,
    "sags_in_turned_out": 1,
    "close": 1,
    "at_edge": 1,
    "in_doubt": 1,
    "recheck": 2,
    "nearer_in": 2,
    "nearer_out": 2,
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
    """Mean rate of the springs [N/mm], of progressive ones by the middle of their labels."""
    return sum(spring.middle_n_per_mm for spring in springs) / len(springs)


def alike_rate(springs: Pair) -> float | None:
    """The one rate that every spring has; None where they differ, or the rate of one changes."""
    rates = {spring.rate_n_per_mm for spring in springs}
    only = next(iter(rates))
    alike = len(rates) == 1 and not any(spring.second.fitted for spring in springs)
    return only if alike and not isinstance(only, Progressive) else None


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
        return "suits_near_end_bind_unknown" if made.near_end else "suits_bind_unknown"
    return "suits_near_end" if made.near_end else "suits"


def out_of_reach(
    swap: SpringSwap,
    springs: Pair,
    requirements: Requirements,
    rates: Rates,
    installation: Installation,
    *,
    best: SagAt,
) -> OptionVerdict:
    """Why the sags stay out of target: too soft below the window of rates, too stiff above it. Neither is said where no
    rate that is sold brings both in.

    A sag as it is shown is borderline only where it would be with a reading: out by no more than its uncertainty.
    """
    sure, rate = rates.surely, mean_rate(springs)
    of_present = swap.installed_stays_mm is None or not other_length_of(swap, springs)
    if rates.no_suitable_rate is not None and of_present:
        return "sags_stay_out"
    if in_target(best.known, requirements.aims):
        return "borderline"
    by_rate = all(spring.one_rate for spring in springs)
    if rates.surely.open and of_present and by_rate:
        if rate < sure.low - SLACK:
            return "too_soft"
        return "too_stiff" if rate > sure.high + SLACK else "sags_stay_out"
    missed = missed_by(swap, springs, installation.installed_mm, requirements.for_rates, widened(requirements.aims))
    if max(missed.stiffer_mm, missed.softer_mm) <= SLACK:
        return "sags_stay_out"
    soft = missed.way == "stiffer"
    if rates.within.open and by_rate and (rate >= rates.within.low if soft else rate <= rates.within.high):
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


def _near_edge(sag: Figure, requirements: Requirements, state: State) -> float:
    """How far a sag lies within the margin at an edge of its target: 0 clear of it, 1 at the edge or outside."""
    if sag.value is None or state not in requirements.aims.targets:
        return 0.0
    (low, high), margin = requirements.aims.targets[state], margin_mm(requirements.aims, state)
    inside_mm = min(sag.value - low if low > 0.0 else math.inf, high - sag.value)
    return min(1.0, max(0.0, 1.0 - inside_mm / margin)) if margin else 0.0


def score_of_sags(sags: SagAt, position: float | None, requirements: Requirements) -> float:
    """Score from the distance of both sags from target, and of the adjuster from its middle."""
    score = missed_target(sags.rider_mm, requirements.rider_target)
    score += missed_target(sags.static_mm, requirements.static_target)
    near = _near_edge(sags.rider_mm, requirements, "rider") + _near_edge(sags.static_mm, requirements, "static")
    score += NEAR_EDGE * near
    return score if position is None else score + ADJUSTER_OFF_CENTRE * abs(2.0 * position - 1.0)


def score_of(made: Outcome, springs: Pair, requirements: Requirements, rates: Rates, verdict: OptionVerdict) -> float:
    """Score from the distance of both sags from target, the position of the adjuster, and penalties. Where no rate that
    is sold brings both sags in, the distance from the nearest rate replaces that of the sags and the adjuster."""
    nearest = None if rates.no_suitable_rate is None else rates.no_suitable_rate.nearest_n_per_mm
    if nearest is not None:
        score = RATE_OFF * abs(mean_rate(springs) / nearest - 1.0)
    else:
        score = score_of_sags(made.best, made.position, requirements)
    score += OTHER_FREE_LENGTH * made.other_length
    each = [spring.middle_n_per_mm for spring in springs]
    apart = (max(each) - min(each)) / max(each)
    if apart > 0.0:
        score += MIXED_PAIR * (1.0 + apart / PAIR_RATES_DIFFER)
    return score + WORSE_VERDICT * _STEPS[verdict]


def suits_as_well(one: Option, other: Option) -> bool:
    """Whether the verdict on one is no worse than on the other; how near its end an adjuster is, and bind that is not
    checked, count as nothing."""
    return _STEPS[one.verdict] <= max(_STEPS[other.verdict], 1)


def judged_alike(one: Option, other: Option) -> bool:
    """Whether two have the same verdict, that of coils not checked wherever the adjuster is."""
    return one.verdict == other.verdict or {one.verdict, other.verdict} <= _BIND_UNKNOWN


_BIND_UNKNOWN: frozenset[OptionVerdict] = frozenset({"suits_bind_unknown", "suits_near_end_bind_unknown"})


def judged_as_it_stands(option: Option, verdict: OptionVerdict) -> Option:
    """The springs fitted now with the verdict on the sags as they are, ranked by it."""
    worse = WORSE_VERDICT * (_STEPS[verdict] - _STEPS[option.verdict])
    return replace(option, verdict=verdict, score=option.score + worse)
