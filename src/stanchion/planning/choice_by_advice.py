"""What the advice on the sags makes of the list of springs: the verdict on those fitted now, and which come first."""

from __future__ import annotations

from dataclasses import replace

from stanchion.job.model import STATES
from stanchion.judgement.criteria.thresholds import LEAST_FOR_A_SPRING_MM
from stanchion.judgement.results.assessment import EndSagFigures
from stanchion.judgement.results.codes import OptionVerdict
from stanchion.judgement.results.findings import Finding
from stanchion.judgement.sag.sag_advice import NO_ADVICE, NO_SPRING, aims_of
from stanchion.judgement.sag.targets import Aims, worst_missed
from stanchion.judgement.springs.spring_option import (
    SUITING,
    AdvisedSpacer,
    Option,
    SagAt,
    judged_alike,
    judged_as_it_stands,
    suits_as_well,
)


def as_it_stands(option: Option, sag: EndSagFigures, advice: Finding | None) -> Option:
    """The option; of the springs fitted now, with the sags that were measured with them, and judged by those."""
    if option.stands is None:
        return option
    predicted = option.stands.sags
    static_mm, rider_mm = (
        of.shown_mm if of.sag_mm.known and not of.is_old else figure
        for of, figure in ((sag.static, predicted.static_mm), (sag.rider, predicted.rider_mm))
    )
    now = replace(option, stands=replace(option.stands, sags=SagAt(static_mm=static_mm, rider_mm=rider_mm)))
    if advice is None:
        return now
    by_lengths = advice.code == "pair_suits_recheck" and option.verdict in ("low", "high", "other_spacer")
    if by_lengths or advice.code == "lengths_first":
        return judged_as_it_stands(now, "recheck")
    if advice.code in NO_SPRING or option.verdict not in _BY_ADVICE:
        return now
    return judged_as_it_stands(now, _verdict_now(advice, option, aims_by_advice(sag)))


_BY_ADVICE: frozenset[OptionVerdict] = SUITING | {"borderline", "sags_stay_out", "too_soft", "too_stiff"}
"""Verdicts on springs that are to be told as in the advice on their sags, where these springs are fitted."""


def _verdict_now(advice: Finding, option: Option, aims: Aims) -> OptionVerdict:
    """The verdict on springs that are fitted now, by the advice on their sags."""
    otherwise = option.verdict
    if advice.code == "pair_borderline" and advice.values.get("repeated") is True:
        return "at_edge"  # these readings cannot tell more, and the advice leaves the springs as they are
    if advice.code in ("pair_borderline", "pair_down_only"):
        return "borderline"
    if advice.code in ("pair_close", "pair_nearest"):
        return "close"
    work, way = advice.values.get("work"), advice.values.get("way")
    if work == "turns":
        turned_in = advice.values.get("turned_way") == "in"
        if any(advice.values.get(name) is not None for name in ("stays_out", "to_tell")):
            if aims.readings == "settled" and worst_missed(option.best.known, aims) <= LEAST_FOR_A_SPRING_MM:
                return "close"  # as near as the adjuster's steps allow: no other spring is asked for
            return "nearer_in" if turned_in else "nearer_out"
        return "turn_in" if turned_in else "turn_out"
    if work == "spacer":
        return "other_spacer"
    if work == "spring" and otherwise not in SUITING:
        return "too_soft" if way == "stiffer" else "too_stiff"
    return otherwise


def aims_by_advice(sag: EndSagFigures) -> Aims:
    """The targets as the advice on these sags uses them."""
    old = sag.advice is not None and sag.advice.code == "measure_again_changed"
    measured = sag.rider.sag_mm.known and not old
    return aims_of(
        {state: sag.state(state) for state in STATES},
        measured=measured,
        static_hidden=sag.static_hidden,
        behind=sag.behind,
    )


def told(option: Option, *, doubted: bool, by_sags: bool) -> Option:
    """The option with a verdict that says no more than was judged.

    Args:
        option: the option.
        doubted: whether the loads are in doubt, or what springs and loads give.
        by_sags: whether the use has no band for installed preload, so that only its sags were judged.
    """
    verdict: OptionVerdict = "sags_in" if option.verdict in SUITING else option.verdict
    if doubted and verdict in ("sags_in", "turn_in", "turn_out"):
        return replace(option, verdict="in_doubt")
    if not by_sags or verdict not in ("sags_in", "turn_in", "turn_out"):
        return option
    turned: dict[OptionVerdict, OptionVerdict] = {"turn_in": "sags_in_turned_in", "turn_out": "sags_in_turned_out"}
    return replace(option, verdict=turned.get(verdict, verdict))


def advised_spacer(advice: Finding | None) -> AdvisedSpacer | None:
    """What the advice on the sags has done to the spacer; None where it asks for no other one."""
    if advice is None or advice.values.get("work") != "spacer":
        return None
    longer, turned = advice.values.get("spacer_change_mm"), advice.values.get("preload_mm")
    if not isinstance(longer, float):
        return None
    turned_mm = turned if isinstance(turned, float) else 0.0
    return AdvisedSpacer(
        longer_mm=longer if advice.values.get("spacer_way") == "longer" else -longer,
        turned_mm=turned_mm if advice.values.get("turned_way") == "in" else -turned_mm,
    )


def ranked_by_advice(found: list[Option], advice: Finding | None, *, listed: bool) -> list[Option]:
    """The options, best first: among those that suit as well the ones that the advice is for, the springs fitted now
    where it asks for no others, or else the rate that it names."""
    ranked = sorted(found, key=lambda one: one.score)
    if advice is None or not ranked:
        return ranked
    if advice.code == "lengths_first":
        kept = _of_rates_fitted(ranked)
        return [*kept, *(one for one in ranked if one not in kept)]
    if advice.values.get("work") in ("none", "turns", "spacer") and advice.code not in NO_ADVICE:
        wanted = [one for one in ranked if all(f.spring.fitted is not None for f in one.fittings)]
    else:
        rate = None if listed else advice.values.get("new_rate_n_per_mm")
        if advice.values.get("second_out") is True:
            alone = [one for one in ranked if one.fittings[0].spring.alone]
            return [*alone, *(one for one in ranked if one not in alone)]
        wanted = [one for one in ranked if one.mean_rate_n_per_mm == rate and judged_alike(one, ranked[0])]
    first = next((one for one in wanted if suits_as_well(one, ranked[0])), None)
    return ranked if first is None else [first, *(one for one in ranked if one is not first)]


def _of_rates_fitted(ranked: list[Option]) -> list[Option]:
    """The first option that suits with the rates fitted now: where a length is to be put right, no spring is bought."""
    now = next((one for one in ranked if one.fitted_now), None)
    if now is None:
        return []
    rates = [fitting.spring.rate_n_per_mm for fitting in now.fittings]
    alike = (one for one in ranked if [fitting.spring.rate_n_per_mm for fitting in one.fittings] == rates)
    return [one for one in alike if suits_as_well(one, ranked[0])][:1]
