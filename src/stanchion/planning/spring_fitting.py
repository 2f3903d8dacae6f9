"""The sags that springs give in one end, with the adjuster out, at mid and in, and with new spacers where needed."""

from __future__ import annotations

import math
from dataclasses import replace

from stanchion.job.model import State
from stanchion.judgement.criteria.thresholds import (
    ADJUSTER_NEAR_END,
    CLOSE_TO_TARGET_MM,
    FEW_TURNS_LEFT,
    SLACK,
)
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.ends.preload import verdict as verdict_on_preload
from stanchion.judgement.results.assessment import Band
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.sag.response import FURTHEST_MM, ByModel
from stanchion.judgement.sag.targets import (
    after,
    both_within,
    nearest_to_middle,
    spaced_to_least,
    turned_to_least,
    turns_for,
    worst_missed,
)
from stanchion.judgement.springs.candidates import Pair
from stanchion.judgement.springs.rate_window import Window
from stanchion.judgement.springs.rates import Rates, spacer_room, turned_room
from stanchion.judgement.springs.refit import Installed, Refit, Span
from stanchion.planning.spring_option import Option, Outcome, SagAt, Wanted, Way
from stanchion.planning.spring_order import (
    mean_rate,
    missed_target,
    other_length_of,
    out_of_reach,
    score_of,
    verdict_of,
    with_preload,
)


def rough_score(refit: Refit, springs: Pair, wanted: Wanted) -> float:
    """Rough distance of both sags from target with the adjuster at mid, to discard springs that are far off."""
    kept = refit.kept(springs)
    if kept is not None and refit.installed_stays_mm is None and not _in_band(kept, wanted):
        kept = None
    model = refit.model(springs, kept or (wanted.installed_mm,) * len(springs))
    sags = _sags(model, (refit.span.range_mm or 0.0) / 2.0, wanted)
    return missed_target(sags.rider_mm, wanted.rider_target) + missed_target(sags.static_mm, wanted.static_target)


def options_of(refit: Refit, springs: Pair, wanted: Wanted, rates: Rates) -> list[Option]:
    """The options with these springs: a second one where those fitted now need another spacer.

    Args:
        refit: the end to fit them in.
        springs: one for each place.
        wanted: targets and loads of the end.
        rates: the rates that bring both sags into their targets.
    """
    kept = _kept(refit, springs, wanted, out_of_window=_rate_out_of_window(refit, springs, rates))
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
        cut = Way(model=refit.model(springs, installed), installed_mm=installed, turned_mm=None, kept=False)
        if outside or refit.installed_stays_mm is not None:
            return [_option(refit, springs, wanted, rates, cut)]
        cut = _turned(refit, cut, wanted)
    return [_option(refit, springs, wanted, rates, cut)]


def _in_band(installed_mm: Installed, wanted: Wanted) -> bool:
    return all(verdict_on_preload(mm, wanted.band) in ("in", "near_limit", "") for mm in installed_mm)


def _inside(window: Window, rate: float) -> bool:
    return window.low - SLACK <= rate <= window.high + SLACK


def _rate_out_of_window(refit: Refit, springs: Pair, rates: Rates) -> bool:
    """Whether the rate alone shows that the sags stay out of target: for equal springs of the present length."""
    alike = len({spring.rate_n_per_mm for spring in springs}) == 1
    of_present = refit.installed_stays_mm is None or not other_length_of(refit, springs)
    return rates.within.open and alike and of_present and not _inside(rates.within, springs[0].rate_n_per_mm)


def _kept(refit: Refit, springs: Pair, wanted: Wanted, *, out_of_window: bool) -> Way | None:
    """The springs with the spacers or the collar unchanged."""
    installed = refit.kept(springs)
    if installed is None:
        return None
    way = Way(model=refit.model(springs, installed), installed_mm=installed, turned_mm=None, kept=True)
    return way if out_of_window else _turned(refit, way, wanted)


def _turned(refit: Refit, way: Way, wanted: Wanted) -> Way:
    asked, room = wanted.asked, turned_room(refit.span, way.installed_mm, wanted.band)
    response = ByModel(way.model, asked.loads, predicted=True)
    return replace(way, turned_mm=turns_for(response, asked.aims, room, 0.0))


def _with_spacers(refit: Refit, springs: Pair, wanted: Wanted) -> Way | None:
    """The springs with spacers that bring both sags in and keep the adjusters near mid; None where none does."""
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
            return Way(model=model, installed_mm=installed, turned_mm=turned_mm, kept=False)
    return None


def _spaced_to_least(refit: Refit, springs: Pair, wanted: Wanted, kept: Way | None) -> Way | None:
    """The springs with spacers that bring the worse sag nearest to target; None where the present ones do as well."""
    start, asked, span = (wanted.installed_mm,) * len(springs), wanted.asked, refit.span
    response = ByModel(refit.model(springs, start), asked.loads, predicted=True)
    at_mm = (span.added_now_mm or 0.0) if span.range_mm is None else span.range_mm / 2.0
    longer_mm = spaced_to_least(response, asked.aims, spacer_room(refit, springs, start, wanted.band), at_mm)
    installed = refit.respaced(springs, start, longer_mm)
    cut = Way(model=refit.model(springs, installed), installed_mm=installed, turned_mm=None, kept=False)
    left = [_least_miss(refit, way, wanted)[1] for way in (cut, kept or cut)]
    return None if kept is not None and left[1] <= left[0] + CLOSE_TO_TARGET_MM else cut


def _least_miss(refit: Refit, way: Way, wanted: Wanted) -> tuple[float, float]:
    """Preload added at the adjusters where the worse sag misses its target least, and by how much it misses."""
    asked, room = wanted.asked, turned_room(refit.span, way.installed_mm, wanted.band)
    response = ByModel(way.model, asked.loads, predicted=True)
    turned_mm = turned_to_least(response, asked.aims, room, 0.0)
    return turned_mm, worst_missed(after(response, turned_mm=turned_mm), asked.aims)


def _option(
    refit: Refit, springs: Pair, wanted: Wanted, rates: Rates, way: Way, *, other_spacer: bool = False
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
        best_mm = _least_miss(refit, way, wanted)[0] if shut else _nearest(model, asked, ends, wanted, middle)
    per_turn = Figure(span.per_turn_mm) if span.per_turn_mm is not None else absent("adjuster_turn_unknown")
    if span.range_mm == 0.0:
        per_turn = absent("no_adjuster")
    now = Figure(span.added_now_mm) if span.added_now_mm is not None else absent("adjuster_position_unknown")
    fittings = refit.fittings(springs, way.installed_mm)
    tightest = min(fittings, key=lambda fitting: _or_infinite(fitting.coils.coil_bind_clearance_mm.value))
    here = Figure(best_mm - ends[0])
    left_mm = Figure(ends[1] - best_mm) if math.isfinite(ends[1]) else derive(lambda end: end - best_mm, whole)
    from_out = _NO_FULLY_OUT if span.no_fully_out and mm.known else mm
    made = Outcome(
        best=_sags(model, best_mm, wanted),
        position=best_mm / span.range_mm if span.range_mm else None,
        near_end=_near_end(best_mm, span),
        fittings=fittings,
        installed_mm=tuple(installed + best_mm for installed in way.installed_mm)
        if span.no_fully_out
        else way.installed_mm,
        clearances_mm=tuple(fitting.coils.coil_bind_clearance_mm.value for fitting in fittings),
        other_length=other_length_of(refit, springs),
        fits=refit.fits(springs),
        reached=way.turned_mm is not None,
        other_spacer=other_spacer,
    )
    verdict = verdict_of(made, wanted)
    if verdict == "":
        verdict = out_of_reach(refit, springs, wanted, rates, way, missed_mm=_least_miss(refit, way, wanted)[1])
        verdict = with_preload(verdict, made, wanted)
    return Option(
        fittings=fittings,
        fitted_now=way.kept and all(spring.fitted is not None for spring in springs),
        used=tuple(spring.row for spring in springs if spring.row is not None),
        mean_rate_n_per_mm=mean_rate(springs),
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
        score=score_of(made, springs, wanted, rates, verdict),
    )


_NO_FULLY_OUT = absent("adjuster_range_unknown")


_UNKNOWN = SagAt(static_mm=absent("adjuster_range_unknown"), rider_mm=absent("adjuster_range_unknown"))


def _sags(model: EndModel, added_mm: float, wanted: Wanted) -> SagAt:
    """Both sags with that preload added at the adjusters."""

    def sag(load: Figure) -> Figure:
        return derive(lambda n: model.sag_with(added_mm, n), load)

    return SagAt(static_mm=sag(wanted.static), rider_mm=sag(wanted.rider))


def _nearest(model: EndModel, asked: float | None, ends: Band, wanted: Wanted, middle: float) -> float:
    """Preload added at the adjuster that brings rider sag nearest to its target, where not both sags come in."""
    least, end = ends
    if asked is not None:
        return min(max(asked, least), end)
    if math.isinf(end):
        return max(0.0, least)
    load = wanted.rider.value or 0.0
    return min(ends, key=lambda added: abs(model.sag_with(added, load) - middle))


def _near_end(added_mm: float, span: Span) -> bool:
    """Whether the adjuster is within a turn of either end."""
    if not span.range_mm:
        return False
    few = ADJUSTER_NEAR_END * span.range_mm if span.per_turn_mm is None else FEW_TURNS_LEFT * span.per_turn_mm
    return min(added_mm, span.range_mm - added_mm) < few - SLACK


def _or_infinite(value: float | None) -> float:
    return float("inf") if value is None else value
