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
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.sag.available_preload import AvailablePreload, setting_of
from stanchion.judgement.sag.response import EVERYWHERE, FURTHEST_MM, ByModel
from stanchion.judgement.sag.targets import (
    after,
    all_in,
    both_within,
    nearest_to_middle,
    spaced_to_least,
    turned_to_least,
    turns_for,
    worst_missed,
)
from stanchion.judgement.springs.candidates import Pair
from stanchion.judgement.springs.rate_window import Rates, Window, spacer_range, turning_range
from stanchion.judgement.springs.spring_option import (
    AdvisedSpacer,
    AsItStands,
    Installation,
    Option,
    Outcome,
    Requirements,
    SagAt,
    alike_rate,
    mean_rate,
    missed_target,
    other_length_of,
    out_of_reach,
    score_of,
    verdict_of,
    with_preload,
)
from stanchion.judgement.springs.spring_swap import Installed, Span, SpringSwap


def rough_score(swap: SpringSwap, springs: Pair, requirements: Requirements) -> float:
    """Rough distance of both sags from target with the adjuster at mid, to discard springs that are far off."""
    unchanged = swap.installed_unchanged(springs)
    if unchanged is not None and swap.installed_stays_mm is None and not _in_band(unchanged, requirements):
        unchanged = None
    model = swap.model(springs, unchanged or (requirements.installed_mm,) * len(springs))
    sags = sags_at(model, (swap.span.range_mm or 0.0) / 2.0, requirements)
    return missed_target(sags.rider_mm, requirements.rider_target) + missed_target(
        sags.static_mm, requirements.static_target
    )


def options_of(
    swap: SpringSwap, springs: Pair, requirements: Requirements, rates: Rates, advised: AdvisedSpacer | None = None
) -> list[Option]:
    """The options with these springs: a second one where those fitted now need another spacer.

    Args:
        swap: the end to fit them in.
        springs: one for each place.
        requirements: targets and loads of the end.
        rates: the rates that bring both sags into their targets.
        advised: the spacer that the advice on the sags asks for with the springs fitted now, if any.
    """
    unchanged = _unchanged(swap, springs, requirements, out_of_window=_rate_out_of_window(swap, springs, rates))
    fitted = all(spring.fitted is not None for spring in springs)
    in_band = unchanged is not None and _may_stay(springs, unchanged.installed_mm, requirements)
    rate = alike_rate(springs)
    outside = rate is not None and swap.installed_stays_mm is None and not _inside(rates.within, rate)
    cut = None
    if swap.installed_stays_mm is None and not (in_band and unchanged is not None and unchanged.turned_mm is not None):
        cut = None if outside else _with_spacers(swap, springs, requirements)
        if cut is None and (rates.no_suitable_rate is not None or _only_surely(rates, rate)):
            cut = _spaced_to_least(swap, springs, requirements, unchanged if in_band else None)
    if fitted and unchanged is not None and advised is not None:
        cut = _as_advised(swap, springs, unchanged, advised) or cut
    if unchanged is not None and (fitted or (swap.installed_stays_mm is not None)):
        # As the advice has it, no spacer is cut where turning brings both sags as close as that.
        close = in_band and _least_miss(swap, unchanged, requirements)[1] <= CLOSE_TO_TARGET_MM
        other_spacer = cut is not None and cut.turned_mm is not None and not close
        found = [option_with(swap, springs, requirements, rates, unchanged, other_spacer=other_spacer)]
        return [*found, option_with(swap, springs, requirements, rates, cut)] if cut is not None else found
    if unchanged is not None and in_band and (unchanged.turned_mm is not None or cut is None):
        return [option_with(swap, springs, requirements, rates, unchanged)]
    if cut is None:
        installed = (requirements.installed_mm,) * len(springs)
        cut = Installation(
            model=swap.model(springs, installed), installed_mm=installed, turned_mm=None, unchanged=False
        )
        if outside or swap.installed_stays_mm is not None:
            return [option_with(swap, springs, requirements, rates, cut)]
        cut = _turned(swap, cut, requirements)
    return [option_with(swap, springs, requirements, rates, cut)]


def bringing_in(swap: SpringSwap, springs: Pair, requirements: Requirements) -> Installation | None:
    """How springs that are not fitted now are installed to bring both sags in; None where nothing does.

    Spacers, or the collar, stay as they are where that does it.
    """
    installed, stays = swap.installed_unchanged(springs), swap.installed_stays_mm is not None
    if installed is not None and (stays or _may_stay(springs, installed, requirements)):
        model = swap.model(springs, installed)
        unchanged = Installation(model=model, installed_mm=installed, turned_mm=None, unchanged=True)
        turned = _turned(swap, unchanged, requirements)
        if turned.turned_mm is not None:
            return turned
    if stays:
        return None
    return _with_spacers(swap, springs, requirements)


def _may_stay(springs: Pair, installed_mm: Installed, requirements: Requirements) -> bool:
    """Whether spacers may stay that leave so much installed: not with other springs where it is at its limit."""
    limit = requirements.band.limit if requirements.band else None
    at_limit = limit is not None and max(installed_mm) >= limit - SLACK
    fitted = all(spring.fitted is not None for spring in springs)
    return _in_band(installed_mm, requirements) and (fitted or not at_limit)


def _in_band(installed_mm: Installed, requirements: Requirements) -> bool:
    return all(verdict_on_preload(mm, requirements.band) in ("in", "near_limit", "") for mm in installed_mm)


def _inside(window: Window, rate: float) -> bool:
    return window.low - SLACK <= rate <= window.high + SLACK


def _only_surely(rates: Rates, rate: float | None) -> bool:
    """Whether a rate brings both sags in only within their uncertainty; of unlike springs, whether any does only so."""
    if rate is None:
        return rates.surely.open and not rates.within.open
    return rates.surely.open and _inside(rates.surely, rate) and not _inside(rates.within, rate)


def _rate_out_of_window(swap: SpringSwap, springs: Pair, rates: Rates) -> bool:
    """Whether the rate alone shows that the sags stay out of target: for equal springs of the present length."""
    rate = alike_rate(springs)
    of_present = swap.installed_stays_mm is None or not other_length_of(swap, springs)
    return rates.within.open and rate is not None and of_present and not _inside(rates.within, rate)


def _unchanged(
    swap: SpringSwap, springs: Pair, requirements: Requirements, *, out_of_window: bool
) -> Installation | None:
    """The springs with the spacers or the collar unchanged."""
    installed = swap.installed_unchanged(springs)
    if installed is None:
        return None
    fitted = all(spring.fitted is not None for spring in springs)
    installation = Installation(
        model=swap.model(springs, installed),
        installed_mm=installed,
        turned_mm=None,
        unchanged=True,
        stands_mm=(swap.span.added_now_mm or 0.0) if fitted else 0.0,
    )
    return installation if out_of_window else _turned(swap, installation, requirements)


def _turned(swap: SpringSwap, installation: Installation, requirements: Requirements) -> Installation:
    required, available = requirements.for_rates, turning_range(swap.span, installation.installed_mm, requirements.band)
    response = ByModel(installation.model, required.loads, predicted=True)
    return replace(installation, turned_mm=turns_for(response, required.aims, available, 0.0))


def _with_spacers(swap: SpringSwap, springs: Pair, requirements: Requirements) -> Installation | None:
    """The springs with spacers that bring both sags in and keep the adjusters near mid; None where none does."""
    start, required = (requirements.installed_mm,) * len(springs), requirements.for_rates
    response = ByModel(swap.model(springs, start), required.loads, predicted=True)
    low, high = spacer_range(swap, springs, start, requirements.band)
    span, turned = swap.span, turning_range(swap.span, start, requirements.band)
    at_mm = (span.added_now_mm or 0.0) if span.range_mm is None else span.range_mm / 2.0

    def sag_after(state: State, spacer_mm: float) -> float | None:
        return response.sag(state, spacer_mm=spacer_mm, turned_mm=at_mm)

    limits = (max(low, -FURTHEST_MM), min(high, FURTHEST_MM))
    if limits[0] > limits[1]:
        return None
    choices = list(limits)
    if turns_for(response, required.aims, turned, 0.0) is not None:
        choices = [0.0]
    else:
        suits = both_within(response, required.aims, sag_after, limits)
        if suits is not None:
            choices = [nearest_to_middle(suits, required.aims, sag_after)]
    for longer_mm in choices:
        turned_mm = turns_for(response, required.aims, turned, longer_mm)
        if turned_mm is not None:
            installed = swap.respaced(springs, start, longer_mm)
            model = swap.model(springs, installed)
            return Installation(model=model, installed_mm=installed, turned_mm=turned_mm, unchanged=False)
    return None


def _as_advised(
    swap: SpringSwap, springs: Pair, unchanged: Installation, advised: AdvisedSpacer
) -> Installation | None:
    """The springs fitted now with the spacer and the adjusters as the advice has them; None where it is not known where
    those stand."""
    stands_mm = swap.span.added_now_mm
    if stands_mm is None:
        return None
    installed = swap.respaced(springs, unchanged.installed_mm, advised.longer_mm)
    return Installation(
        model=swap.model(springs, installed),
        installed_mm=installed,
        turned_mm=stands_mm + advised.turned_mm,
        unchanged=False,
        stands_mm=stands_mm,
        as_advised=True,
    )


def _spaced_to_least(
    swap: SpringSwap, springs: Pair, requirements: Requirements, unchanged: Installation | None
) -> Installation | None:
    """The springs with spacers that bring the worse sag nearest to target; None where the present ones do as well."""
    start, required, span = (requirements.installed_mm,) * len(springs), requirements.for_rates, swap.span
    response = ByModel(swap.model(springs, start), required.loads, predicted=True)
    at_mm = (span.added_now_mm or 0.0) if span.range_mm is None else span.range_mm / 2.0
    longer_mm = spaced_to_least(response, required.aims, spacer_range(swap, springs, start, requirements.band), at_mm)
    installed = swap.respaced(springs, start, longer_mm)
    cut = Installation(model=swap.model(springs, installed), installed_mm=installed, turned_mm=None, unchanged=False)
    missed = [_least_miss(swap, one, requirements)[1] for one in (cut, unchanged or cut)]
    return None if unchanged is not None and missed[1] <= missed[0] + CLOSE_TO_TARGET_MM else cut


def _least_miss(swap: SpringSwap, installation: Installation, requirements: Requirements) -> tuple[float, float]:
    """Preload added at the adjusters where the worse sag misses its target least, and by how much it misses."""
    required, available = requirements.for_rates, turning_range(swap.span, installation.installed_mm, requirements.band)
    response = ByModel(installation.model, required.loads, predicted=True)
    turned_mm = turned_to_least(response, required.aims, available, 0.0)
    return turned_mm, worst_missed(after(response, turned_mm=turned_mm), required.aims)


def _per_turn(span: Span) -> Figure:
    """Preload that a turn of the adjuster adds."""
    if span.range_mm == 0.0:
        return absent("no_adjuster")
    return Figure(span.per_turn_mm) if span.per_turn_mm is not None else absent("adjuster_turn_unknown")


def _added_for_target(
    swap: SpringSwap, requirements: Requirements, installation: Installation, ends: tuple[float, float]
) -> tuple[float, Figure]:
    """Preload to add at the adjusters: what comes nearest to the targets, and what reaches them, if any does.

    Args:
        swap: the end.
        requirements: targets and loads of the end.
        installation: the springs as installed.
        ends: the least and the most that the adjusters add.
    """
    if installation.turned_mm is not None:
        set_mm = installation.turned_mm
        if not installation.as_advised:
            set_mm = as_set(swap.span, installation, requirements, set_mm, ends)
        return set_mm, Figure(set_mm, estimate=requirements.rider.estimate)
    none = absent("no_adjuster" if swap.span.range_mm == 0.0 else "target_out_of_reach")
    nearest_mm = _least_miss(swap, installation, requirements)[0]
    return as_set(swap.span, installation, requirements, nearest_mm, ends), none


def _as_it_stands(span: Span, model: EndModel, requirements: Requirements, ends: tuple[float, float]) -> AsItStands:
    """The springs fitted now, with the adjuster where it is."""
    whole = Figure(span.range_mm) if span.range_mm is not None else absent("adjuster_range_unknown")
    end = Figure(ends[1]) if math.isfinite(ends[1]) else whole
    now = Figure(span.added_now_mm) if span.added_now_mm is not None else absent("adjuster_position_unknown")
    per_turn = _per_turn(span)
    return AsItStands(
        sags=_UNKNOWN if span.added_now_mm is None else sags_at(model, span.added_now_mm, requirements),
        turns_from_out=derive(lambda at, turn: (at - ends[0]) / turn, now, per_turn),
        left_in_turns=derive(lambda at, end_mm, turn: (end_mm - at) / turn, now, end, per_turn),
    )


def option_with(
    swap: SpringSwap,
    springs: Pair,
    requirements: Requirements,
    rates: Rates,
    installation: Installation,
    *,
    other_spacer: bool = False,
) -> Option:
    """The option with springs that are installed in one way."""
    span, model = swap.span, installation.model
    whole = Figure(span.range_mm) if span.range_mm is not None else absent("adjuster_range_unknown")
    ends = turning_range(span, installation.installed_mm, requirements.band)
    best_mm, mm = _added_for_target(swap, requirements, installation, ends)
    per_turn = _per_turn(span)
    now = Figure(span.added_now_mm) if span.added_now_mm is not None else absent("adjuster_position_unknown")
    fittings = swap.fittings(springs, installation.installed_mm)
    tightest = min(fittings, key=lambda fitting: _or_infinite(fitting.coils.coil_bind_clearance_mm.value))
    here = Figure(best_mm - ends[0])
    left_mm = Figure(ends[1] - best_mm) if math.isfinite(ends[1]) else derive(lambda end: end - best_mm, whole)
    from_out = _NO_FULLY_OUT if span.no_fully_out and mm.known else mm
    best = sags_at(model, best_mm, requirements)
    made = Outcome(
        best=best,
        position=best_mm / span.range_mm if span.range_mm else None,
        near_end=_near_end(best_mm, span),
        fittings=fittings,
        installed_mm=tuple(installed + best_mm for installed in installation.installed_mm)
        if span.no_fully_out
        else installation.installed_mm,
        clearances_mm=tuple(fitting.coils.coil_bind_clearance_mm.value for fitting in fittings),
        other_length=other_length_of(swap, springs),
        fits=swap.fits(springs),
        reached=installation.turned_mm is not None and all_in(best.known, requirements.aims),
        other_spacer=other_spacer,
    )
    verdict = verdict_of(made, requirements)
    if verdict == "":
        verdict = out_of_reach(swap, springs, requirements, rates, installation, best=best)
        verdict = with_preload(verdict, made, requirements)
    fitted_now = installation.unchanged and all(spring.fitted is not None for spring in springs)
    return Option(
        fittings=fittings,
        fitted_now=fitted_now,
        stands=_as_it_stands(span, model, requirements, ends) if fitted_now else None,
        used=tuple(spring.row for spring in springs if spring.row is not None),
        mean_rate_n_per_mm=mean_rate(springs),
        installed_mm=installation.installed_mm[0],
        out=sags_at(model, 0.0, requirements),
        mid=sags_at(model, span.range_mm / 2.0, requirements) if span.range_mm is not None else _UNKNOWN,
        fully_in=sags_at(model, span.range_mm, requirements) if span.range_mm is not None else _UNKNOWN,
        best=best,
        added_mm=best_mm,
        turns_for_target=derive(lambda to, at, turn: (to - at) / turn, mm, now, per_turn),
        turns_from_out=derive(lambda to, turn: to / turn, from_out, per_turn),
        mm_from_out=from_out,
        position=made.position,
        headroom_out_turns=derive(lambda at, turn: at / turn, here, per_turn),
        headroom_in_turns=derive(lambda mm, turn: mm / turn, left_mm, per_turn),
        headroom_out_mm=here,
        headroom_in_mm=left_mm,
        coil_bind_clearance_mm=tightest.coils.coil_bind_clearance_mm,
        required_clearance_mm=tightest.coils.required_clearance_mm,
        other_length=made.other_length,
        verdict=verdict,
        score=score_of(made, springs, requirements, rates, verdict),
    )


def as_set(
    span: Span, installation: Installation, requirements: Requirements, best_mm: float, ends: tuple[float, float]
) -> float:
    """Preload added at the adjusters as they can be set next to that, as the advice on the sags has it."""
    if not span.step_mm:
        return best_mm
    stands_mm = installation.stands_mm
    left = (ends[0] - stands_mm, ends[1] - stands_mm)
    available = AvailablePreload(
        turned=left, spacer=(0.0, 0.0), step_mm=span.step_mm, ends_mm=EVERYWHERE if span.no_fully_out else left
    )
    response = ByModel(installation.model, requirements.for_rates.loads, predicted=True)
    settings = [stands_mm + mm for mm in available.settings(best_mm - stands_mm)]
    return setting_of(response, requirements.for_rates.aims, settings)


_NO_FULLY_OUT = absent("adjuster_range_unknown")


_UNKNOWN = SagAt(static_mm=absent("adjuster_range_unknown"), rider_mm=absent("adjuster_range_unknown"))


def sags_at(model: EndModel, added_mm: float, requirements: Requirements) -> SagAt:
    """Both sags with that preload added at the adjusters."""

    def sag(load: Figure) -> Figure:
        return derive(lambda n: model.sag_with(added_mm, n), load)

    return SagAt(static_mm=sag(requirements.static), rider_mm=sag(requirements.rider))


def _near_end(added_mm: float, span: Span) -> bool:
    """Whether the adjuster is within a turn of either end."""
    if not span.range_mm:
        return False
    few = ADJUSTER_NEAR_END * span.range_mm if span.per_turn_mm is None else FEW_TURNS_LEFT * span.per_turn_mm
    return min(added_mm, span.range_mm - added_mm) < few - SLACK


def _or_infinite(value: float | None) -> float:
    return float("inf") if value is None else value
