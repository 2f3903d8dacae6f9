"""One choice of springs: what it gives with the adjuster out, at mid and in, and how good it is."""

from __future__ import annotations

import math
from dataclasses import replace

from stanchion.base.record import record
from stanchion.job.model import State
from stanchion.judgement.criteria.profiles import PreloadBand
from stanchion.judgement.criteria.thresholds import (
    ADJUSTER_NEAR_END,
    ADJUSTER_OFF_CENTRE,
    CLOSE_TO_TARGET_MM,
    FEW_TURNS_LEFT,
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
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.sag.remedies import (
    Aims,
    after,
    both_within,
    nearest_to_middle,
    spaced_to_least,
    turned_to_least,
    turns_for,
    widened,
    worst_missed,
)
from stanchion.judgement.sag.response import FURTHEST_MM, ByModel
from stanchion.judgement.springs.candidates import Pair
from stanchion.judgement.springs.rate_window import Window
from stanchion.judgement.springs.rates import Asked, Rates, asked_of, missed_by, spacer_room, turned_room
from stanchion.judgement.springs.refit import Fitting, Installed, Refit, Span

_CLASSES = {
    "suits": 0,
    "suits_near_end": 1,
    "suits_bind_unknown": 1,
    "other_spacer": 2,
    "borderline": 2,
    "low": 2,
    "high": 2,
    "check_fit": 3,
    "too_soft": 4,
    "too_stiff": 4,
    "sags_stay_out": 4,
    "check_length": 4,
    "over_limit": 5,
    "loose": 5,
    "too_long": 5,
    "coil_bind": 5,
}
"""The steps; the last must not be fitted."""


@record(kw_only=True)
class Wanted:
    """What an end is to do."""

    static_target: Band | None
    """None: none is asked."""
    rider_target: Band
    static: Figure
    """Vertical load on its springs, machine alone."""
    rider: Figure
    """The same with the rider aboard."""
    static_at_most_n: float | None
    """The load at most, machine alone, where only that is known."""
    band: PreloadBand | None
    installed_mm: float
    """Installed preload wanted."""
    aims: Aims
    """The targets as an advice on these sags has them."""

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
    def asked(self) -> Asked:
        """What springs of any rate are held against."""
        return asked_of(self.loads, self.static_at_most_n, self.band, self.aims)


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
    """These are the springs that are fitted now."""
    used: tuple[int, ...]
    """The rows of the stock they are taken from, one for each spring."""
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
    """Turns from where the adjuster stands now; in is above 0, out below."""
    turns_from_out: Figure
    """The same target in turns from fully out."""
    mm_from_out: Figure
    """The same in mm at the spring."""
    position: float | None
    """Where the adjuster then stands, 0 fully out to 1 fully in; None: there is none, or its range is not known."""
    headroom_out_turns: Figure
    """What it then still has towards less preload."""
    headroom_in_turns: Figure
    headroom_out_mm: Figure
    headroom_in_mm: Figure
    coil_bind_clearance_mm: Figure
    """The least left at full travel, adjuster fully in, of these springs."""
    required_clearance_mm: Figure
    """The sum of minimum gaps for that spring."""
    other_length: bool
    """Of another free length than the springs they replace."""
    verdict: str
    """A code; wording/verdicts.py has its words."""
    score: float
    """The smaller, the better; only for putting rows in order."""


def rough_score(refit: Refit, springs: Pair, wanted: Wanted) -> float:
    """How near both sags come with the adjuster at mid: enough to leave out what is far off."""
    kept = refit.kept(springs)
    if kept is not None and refit.installed_stays_mm is None and not _in_band(kept, wanted):
        kept = None
    model = refit.model(springs, kept or (wanted.installed_mm,) * len(springs))
    sags = _sags(model, (refit.span.range_mm or 0.0) / 2.0, wanted)
    return _miss(sags.rider_mm, wanted.rider_target) + _miss(sags.static_mm, wanted.static_target)


@record(kw_only=True)
class _Way:
    """How springs are put in."""

    model: EndModel
    installed_mm: Installed
    turned_mm: float | None
    """What the adjusters add with both sags in target; None where they are not."""
    kept: bool
    """The spacers, or the collar, stay as they are."""


def options_of(refit: Refit, springs: Pair, wanted: Wanted, rates: Rates) -> list[Option]:
    """What these springs give: a second row where those fitted now need another spacer.

    Args:
        refit: the end they would go into.
        springs: one for each place.
        wanted: what the end is to do.
        rates: between which rates both sags come in.
    """
    kept = _kept(refit, springs, wanted, hopeless=_hopeless(refit, springs, rates))
    fitted = all(spring.fitted is not None for spring in springs)
    in_band = kept is not None and _in_band(kept.installed_mm, wanted)
    alike = len({spring.rate_n_per_mm for spring in springs}) == 1
    outside = alike and refit.installed_stays_mm is None and not _inside(rates.within, springs[0].rate_n_per_mm)
    cut = None
    if refit.installed_stays_mm is None and not (in_band and kept is not None and kept.turned_mm is not None):
        cut = None if outside else _with_spacers(refit, springs, wanted)
        if cut is None and rates.shut is not None:
            cut = _spaced_to_least(refit, springs, wanted, kept if in_band else None)
    if kept is not None and (fitted or (refit.installed_stays_mm is not None)):
        other_spacer = cut is not None and cut.turned_mm is not None
        found = [_option(refit, springs, wanted, rates, kept, other_spacer=other_spacer)]
        return [*found, _option(refit, springs, wanted, rates, cut)] if cut is not None else found
    if kept is not None and in_band and (kept.turned_mm is not None or cut is None):
        return [_option(refit, springs, wanted, rates, kept)]
    if cut is None:
        installed = (wanted.installed_mm,) * len(springs)
        cut = _Way(model=refit.model(springs, installed), installed_mm=installed, turned_mm=None, kept=False)
        if outside or refit.installed_stays_mm is not None:
            return [_option(refit, springs, wanted, rates, cut)]
        cut = _turned(refit, cut, wanted)
    return [_option(refit, springs, wanted, rates, cut)]


def _mean(springs: Pair) -> float:
    return sum(spring.rate_n_per_mm for spring in springs) / len(springs)


def _in_band(installed_mm: Installed, wanted: Wanted) -> bool:
    return all(verdict_on_preload(mm, wanted.band) in ("in", "near_limit", "") for mm in installed_mm)


def _inside(window: Window, rate: float) -> bool:
    return window.low - SLACK <= rate <= window.high + SLACK


def _hopeless(refit: Refit, springs: Pair, rates: Rates) -> bool:
    """Whether nothing need be tried to know that the sags stay out: springs alike and of the present length."""
    alike = len({spring.rate_n_per_mm for spring in springs}) == 1
    of_present = refit.installed_stays_mm is None or not _other_length(refit, springs)
    return rates.within.open and alike and of_present and not _inside(rates.within, springs[0].rate_n_per_mm)


def _kept(refit: Refit, springs: Pair, wanted: Wanted, *, hopeless: bool) -> _Way | None:
    """With the spacers or the collar as they are."""
    installed = refit.kept(springs)
    if installed is None:
        return None
    way = _Way(model=refit.model(springs, installed), installed_mm=installed, turned_mm=None, kept=True)
    return way if hopeless else _turned(refit, way, wanted)


def _turned(refit: Refit, way: _Way, wanted: Wanted) -> _Way:
    asked, room = wanted.asked, turned_room(refit.span, way.installed_mm, wanted.band)
    response = ByModel(way.model, asked.loads, predicted=True)
    return replace(way, turned_mm=turns_for(response, asked.aims, room, 0.0))


def _with_spacers(refit: Refit, springs: Pair, wanted: Wanted) -> _Way | None:
    """With spacers that bring both sags in, adjusters as near to mid as that allows; None where none does."""
    start, asked = (wanted.installed_mm,) * len(springs), wanted.asked
    response = ByModel(refit.model(springs, start), asked.loads, predicted=True)
    low, high = spacer_room(refit, springs, start, wanted.band)
    span, turned = refit.span, turned_room(refit.span, start, wanted.band)
    at_mm = (span.added_now_mm or 0.0) if span.range_mm is None else span.range_mm / 2.0

    def sag_after(state: State, spacer_mm: float) -> float | None:
        return response.sag(state, spacer_mm=spacer_mm, turned_mm=at_mm)

    limits = (max(low, -FURTHEST_MM), min(high, FURTHEST_MM))
    if limits[0] > limits[1]:
        return None
    choices = list(limits)
    if turns_for(response, asked.aims, turned, 0.0) is not None:
        choices = [0.0]
    else:
        suits = both_within(response, asked.aims, sag_after, limits)
        if suits is not None:
            choices = [nearest_to_middle(suits, asked.aims, sag_after)]
    for longer_mm in choices:
        turned_mm = turns_for(response, asked.aims, turned, longer_mm)
        if turned_mm is not None:
            installed = refit.respaced(springs, start, longer_mm)
            model = refit.model(springs, installed)
            return _Way(model=model, installed_mm=installed, turned_mm=turned_mm, kept=False)
    return None


def _spaced_to_least(refit: Refit, springs: Pair, wanted: Wanted, kept: _Way | None) -> _Way | None:
    """With spacers that bring the worse sag nearest, where none brings both in; None where those kept do as well."""
    start, asked, span = (wanted.installed_mm,) * len(springs), wanted.asked, refit.span
    response = ByModel(refit.model(springs, start), asked.loads, predicted=True)
    at_mm = (span.added_now_mm or 0.0) if span.range_mm is None else span.range_mm / 2.0
    longer_mm = spaced_to_least(response, asked.aims, spacer_room(refit, springs, start, wanted.band), at_mm)
    installed = refit.respaced(springs, start, longer_mm)
    cut = _Way(model=refit.model(springs, installed), installed_mm=installed, turned_mm=None, kept=False)
    left = [_least(refit, way, wanted)[1] for way in (cut, kept or cut)]
    return None if kept is not None and left[1] <= left[0] + CLOSE_TO_TARGET_MM else cut


def _least(refit: Refit, way: _Way, wanted: Wanted) -> tuple[float, float]:
    """What the adjusters add where the worse sag misses its target least, and by how much it then does."""
    asked, room = wanted.asked, turned_room(refit.span, way.installed_mm, wanted.band)
    response = ByModel(way.model, asked.loads, predicted=True)
    turned_mm = turned_to_least(response, asked.aims, room, 0.0)
    return turned_mm, worst_missed(after(response, turned_mm=turned_mm), asked.aims)


def _option(
    refit: Refit, springs: Pair, wanted: Wanted, rates: Rates, way: _Way, *, other_spacer: bool = False
) -> Option:
    span, model = refit.span, way.model
    whole = Figure(span.range_mm) if span.range_mm is not None else absent("adjuster_range_unknown")
    ends = turned_room(span, way.installed_mm, wanted.band)
    best_mm, mm = way.turned_mm, Figure(way.turned_mm, estimate=wanted.rider.estimate)
    if best_mm is None:
        mm = absent("no_adjuster" if span.range_mm == 0.0 else "target_out_of_reach")
        middle = sum(wanted.rider_target) / 2.0
        asked = model.preload_for(middle, wanted.rider.value or 0.0)
        shut = rates.shut is not None
        best_mm = _least(refit, way, wanted)[0] if shut else _nearest(model, asked, ends, wanted, middle)
    per_turn = Figure(span.per_turn_mm) if span.per_turn_mm is not None else absent("adjuster_turn_unknown")
    if span.range_mm == 0.0:
        per_turn = absent("no_adjuster")
    now = Figure(span.added_now_mm) if span.added_now_mm is not None else absent("adjuster_position_unknown")
    fittings = refit.fittings(springs, way.installed_mm)
    tightest = min(fittings, key=lambda fitting: _or_endless(fitting.coils.coil_bind_clearance_mm.value))
    here = Figure(best_mm - ends[0])
    left_mm = Figure(ends[1] - best_mm) if math.isfinite(ends[1]) else derive(lambda end: end - best_mm, whole)
    from_out = _NO_FULLY_OUT if span.no_fully_out and mm.known else mm
    made = _Draft(
        best=_sags(model, best_mm, wanted),
        position=best_mm / span.range_mm if span.range_mm else None,
        near_end=_near_end(best_mm, span),
        fittings=fittings,
        installed_mm=tuple(installed + best_mm for installed in way.installed_mm)
        if span.no_fully_out
        else way.installed_mm,
        clearances_mm=tuple(fitting.coils.coil_bind_clearance_mm.value for fitting in fittings),
        other_length=_other_length(refit, springs),
        fits=refit.fits(springs),
        reached=way.turned_mm is not None,
        other_spacer=other_spacer,
    )
    verdict = _verdict(made, wanted)
    if verdict == "":
        verdict = _out_of_reach(refit, springs, wanted, rates, way)
    return Option(
        fittings=fittings,
        fitted_now=way.kept and all(spring.fitted is not None for spring in springs),
        used=tuple(spring.row for spring in springs if spring.row is not None),
        mean_rate_n_per_mm=_mean(springs),
        installed_mm=way.installed_mm[0],
        out=_sags(model, 0.0, wanted),
        mid=_sags(model, span.range_mm / 2.0, wanted) if span.range_mm is not None else _UNKNOWN,
        fully_in=_sags(model, span.range_mm, wanted) if span.range_mm is not None else _UNKNOWN,
        best=made.best,
        turns_for_target=derive(lambda to, at, turn: (to - at) / turn, mm, now, per_turn),
        turns_from_out=derive(lambda to, turn: to / turn, from_out, per_turn),
        mm_from_out=from_out,
        position=made.position,
        headroom_out_turns=derive(lambda at, turn: at / turn, here, per_turn),
        headroom_in_turns=derive(lambda left, turn: left / turn, left_mm, per_turn),
        headroom_out_mm=here,
        headroom_in_mm=left_mm,
        coil_bind_clearance_mm=tightest.coils.coil_bind_clearance_mm,
        required_clearance_mm=tightest.coils.required_clearance_mm,
        other_length=made.other_length,
        verdict=verdict,
        score=_score(made, springs, wanted, rates, verdict),
    )


_NO_FULLY_OUT = absent("adjuster_range_unknown")
_UNKNOWN = SagAt(static_mm=absent("adjuster_range_unknown"), rider_mm=absent("adjuster_range_unknown"))


@record(kw_only=True)
class _Draft:
    """What verdict and score are made from."""

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


def _sags(model: EndModel, added_mm: float, wanted: Wanted) -> SagAt:
    """Both sags with that much added."""

    def sag(load: Figure) -> Figure:
        return derive(lambda n: model.sag_with(added_mm, n), load)

    return SagAt(static_mm=sag(wanted.static), rider_mm=sag(wanted.rider))


def _nearest(model: EndModel, asked: float | None, ends: Band, wanted: Wanted, middle: float) -> float:
    """Preload added at the adjuster that comes nearest to the target for rider sag, where not both sags come in."""
    least, end = ends
    if asked is not None:
        return min(max(asked, least), end)
    if math.isinf(end):
        return max(0.0, least)
    load = wanted.rider.value or 0.0
    return min(ends, key=lambda added: abs(model.sag_with(added, load) - middle))


def _near_end(added_mm: float, span: Span) -> bool:
    """Whether the adjuster has less than a turn left one way."""
    if not span.range_mm:
        return False
    few = ADJUSTER_NEAR_END * span.range_mm if span.per_turn_mm is None else FEW_TURNS_LEFT * span.per_turn_mm
    return min(added_mm, span.range_mm - added_mm) < few - SLACK


def _or_endless(value: float | None) -> float:
    return float("inf") if value is None else value


def _other_length(refit: Refit, springs: Pair) -> bool:
    for spring, now in zip(springs, refit.lengths_now, strict=True):
        new = spring.free_length_mm
        if new is not None and now is not None and abs(new - now) > FREE_LENGTHS_NOTE_MM + SLACK:
            return True
    return False


def _verdict(made: _Draft, wanted: Wanted) -> str:
    """The worst that is to be said of it; "" where the sags do not come in."""
    known = [mm for mm in made.clearances_mm if mm is not None]
    if known and min(known) < LEAST_COIL_CLEARANCE_MM - SLACK:
        return "coil_bind"
    if any(fitting.spacer_mm.problem == "no_spacer_short_enough" for fitting in made.fittings):
        return "too_long"
    preload = {verdict_on_preload(mm, wanted.band) for mm in made.installed_mm}
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


def _out_of_reach(refit: Refit, springs: Pair, wanted: Wanted, rates: Rates, way: _Way) -> str:
    """What keeps the sags out: too soft below the window, too stiff above it, and never the other way round; neither is
    called so where no rate that is sold brings both in."""
    sure, rate = rates.surely, _mean(springs)
    of_present = refit.installed_stays_mm is None or not _other_length(refit, springs)
    if rates.shut is not None and of_present:
        return "sags_stay_out"
    if _least(refit, way, wanted)[1] <= LEAST_FOR_A_SPRING_MM:
        return "borderline"
    if rates.surely.open and of_present:
        if rate < sure.low - SLACK:
            return "too_soft"
        return "too_stiff" if rate > sure.high + SLACK else "borderline"
    missed = missed_by(refit, springs, way.installed_mm, wanted.asked, widened(wanted.aims))
    if max(missed.stiffer_mm, missed.softer_mm) <= SLACK:
        return "borderline"
    soft = missed.way == "stiffer"
    if rates.within.open and (rate >= rates.within.low if soft else rate <= rates.within.high):
        return "check_length"
    return "too_soft" if soft else "too_stiff"


def _miss(sag: Figure, target: Band | None) -> float:
    """How far a sag is from the middle of its target, in halves of the target's width; 0 where it is not known."""
    if sag.value is None or target is None:
        return 0.0
    return abs(sag.value - (target[0] + target[1]) / 2.0) / max((target[1] - target[0]) / 2.0, 1.0)


def _score(made: _Draft, springs: Pair, wanted: Wanted, rates: Rates, verdict: str) -> float:
    """How near both sags come, how central the adjuster stays, and what speaks against it; where no rate that is sold
    brings both sags in, how near the rate lies to the one that comes nearest."""
    nearest = None if rates.shut is None else rates.shut.nearest_n_per_mm
    if nearest is not None:
        score = RATE_OFF * abs(_mean(springs) / nearest - 1.0)
    else:
        score = _miss(made.best.rider_mm, wanted.rider_target) + _miss(made.best.static_mm, wanted.static_target)
        if made.position is not None:
            score += ADJUSTER_OFF_CENTRE * abs(2.0 * made.position - 1.0)
    score += OTHER_FREE_LENGTH * made.other_length
    each = [spring.rate_n_per_mm for spring in springs]
    apart = (max(each) - min(each)) / max(each)
    if apart > 0.0:
        score += MIXED_PAIR * (1.0 + apart / PAIR_RATES_DIFFER)
    return score + WORSE_VERDICT * _CLASSES[verdict]
