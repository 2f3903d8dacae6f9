"""The sags that springs give in one end, with the adjuster out, at mid and in, and with new spacers where needed."""

from __future__ import annotations

import math

from stanchion.judgement.criteria.thresholds import (
    CLOSE_TO_TARGET_MM,
)
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.sag.targets import (
    all_in,
)
from stanchion.judgement.springs.candidates import Pair
from stanchion.judgement.springs.installing import (
    all_in_band,
    as_advised_in,
    as_set,
    inside,
    least_miss,
    may_stay,
    only_surely,
    rate_out_of_window,
    respaced_to_least,
    turned_in,
    unchanged_in,
    with_spacers,
)
from stanchion.judgement.springs.rate_window import Rates, turning_range
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
from stanchion.judgement.springs.spring_swap import Span, SpringSwap


def rough_score(swap: SpringSwap, springs: Pair, requirements: Requirements) -> float:
    """Rough distance of both sags from target with the adjuster at mid, to discard springs that are far off."""
    unchanged = swap.installed_unchanged(springs)
    if unchanged is not None and swap.installed_stays_mm is None and not all_in_band(unchanged, requirements):
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
    unchanged = unchanged_in(swap, springs, requirements, out_of_window=rate_out_of_window(swap, springs, rates))
    fitted = all(spring.fitted is not None for spring in springs)
    in_band = unchanged is not None and may_stay(springs, unchanged.installed_mm, requirements)
    rate = alike_rate(springs)
    outside = rate is not None and swap.installed_stays_mm is None and not inside(rates.within, rate)
    cut = None
    if swap.installed_stays_mm is None and not (in_band and unchanged is not None and unchanged.turned_mm is not None):
        cut = None if outside else with_spacers(swap, springs, requirements)
        if cut is None and (rates.no_suitable_rate is not None or only_surely(rates, rate)):
            cut = respaced_to_least(swap, springs, requirements, unchanged if in_band else None)
    if fitted and unchanged is not None and advised is not None:
        cut = as_advised_in(swap, springs, unchanged, advised) or cut
    if unchanged is not None and (fitted or (swap.installed_stays_mm is not None)):
        # As the advice has it, no spacer is cut where turning brings both sags as close as that.
        close = in_band and least_miss(swap, unchanged, requirements)[1] <= CLOSE_TO_TARGET_MM
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
        cut = turned_in(swap, cut, requirements)
    return [option_with(swap, springs, requirements, rates, cut)]


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
    nearest_mm = least_miss(swap, installation, requirements)[0]
    return as_set(swap.span, installation, requirements, nearest_mm, ends), none


def _as_it_stands(span: Span, model: EndModel, requirements: Requirements, ends: tuple[float, float]) -> AsItStands:
    """The springs fitted now, with the adjuster where it is."""
    whole = Figure(span.range_mm) if span.range_mm is not None else absent("adjuster_range_unknown")
    end = Figure(ends[1]) if math.isfinite(ends[1]) else whole
    now = Figure(span.added_now_mm) if span.added_now_mm is not None else absent("adjuster_position_unknown")
    per_turn = _per_turn(span)
    return AsItStands(
        sags=_UNKNOWN if span.added_now_mm is None else sags_at(model, span.added_now_mm, requirements),
        turns_from_out=derive(lambda at, turn: (at - _counted_from(span, ends)) / turn, now, per_turn),
        left_in_turns=derive(lambda at, end_mm, turn: (end_mm - at) / turn, now, end, per_turn),
    )


def _counted_from(span: Span, ends: tuple[float, float]) -> float:
    """What the adjusters add where their turns are counted from: fully out, or the end of the band without that."""
    return ends[0] if span.no_fully_out else 0.0


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
    here = Figure(best_mm - _counted_from(span, ends))
    left_mm = Figure(ends[1] - best_mm) if math.isfinite(ends[1]) else derive(lambda end: end - best_mm, whole)
    from_out = _NO_FULLY_OUT if span.no_fully_out and mm.known else mm
    best = sags_at(model, best_mm, requirements)
    made = Outcome(
        best=best,
        position=best_mm / span.range_mm if span.range_mm else None,
        near_end=span.near_end(best_mm),
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


_NO_FULLY_OUT = absent("adjuster_range_unknown")


_UNKNOWN = SagAt(static_mm=absent("adjuster_range_unknown"), rider_mm=absent("adjuster_range_unknown"))


def sags_at(model: EndModel, added_mm: float, requirements: Requirements) -> SagAt:
    """Both sags with that preload added at the adjusters."""

    def sag(load: Figure) -> Figure:
        return derive(lambda n: model.sag_with(added_mm, n), load)

    return SagAt(static_mm=sag(requirements.static), rider_mm=sag(requirements.rider))


def _or_infinite(value: float | None) -> float:
    return float("inf") if value is None else value
