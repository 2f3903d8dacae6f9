"""Which advice a remedy comes to, as a code, and which of these ask for no work."""

from __future__ import annotations

from stanchion.judgement.criteria.thresholds import CLOSE_TO_TARGET_MM, SLACK
from stanchion.judgement.ends.preload_adjustment import PreloadAdjustment
from stanchion.judgement.results.codes import Advice
from stanchion.judgement.sag.behind_top_out import takes_from_sag, without_it
from stanchion.judgement.sag.edge_sags import at_edge, outside
from stanchion.judgement.sag.end_to_advise import EndToAdvise
from stanchion.judgement.sag.remedy import NoRate, Remedy
from stanchion.judgement.sag.response import Response
from stanchion.judgement.sag.targets import Aims, after, in_target, shortfall, widened, within

NOTES: frozenset[Advice] = frozenset(
    {
        "pair_suits",
        "pair_borderline",
        "pair_down_only",
        "pair_close",
        "pair_nearest",
        "top_out_hides_static",
        "top_out_hides_sags",
        "top_out_brings_in",
        "lengths_first",
    }
)
"""Advice that asks for no work of its own; the rest are warnings."""
_NO_RATE: dict[NoRate, Advice] = {
    "no_rate_needs_more": "no_spring_needs_more",
    "no_rate_needs_less": "no_spring_needs_less",
    "no_rate_sold": "no_spring_sold",
}


def advice_code(of: EndToAdvise, response: Response, aims: Aims, remedy: Remedy) -> Advice:  # noqa: C901 - a code a line
    """The code of the advice.

    Args:
        of: the end.
        response: how its sags answer to preload.
        aims: what is wanted of them.
        remedy: the least work that does it.
    """
    if _is_by_length(of.adjustment, remedy) or _is_by_spacers(of.adjustment, response, aims, remedy):
        return "lengths_first"
    if remedy.no_suitable_rate is not None:
        return _NO_RATE[remedy.no_suitable_rate.reason]
    if remedy.work == "none":
        return _suits(of, response, aims, remedy)
    if remedy.work == "turns":
        more = remedy.way == "more"
        if not of.amount_known:
            return "add_preload_amount_unknown" if more else "less_preload_amount_unknown"
        left = of.adjustment.left_in_mm if more else of.adjustment.left_out_mm
        if left is None:
            return "add_preload_headroom_unknown" if more else "less_preload_headroom_unknown"
        again = remedy.edge or aims.topped_out_mm is not None or of.adjustment.effect_uncertain
        if more:
            return "add_preload_measure_again" if again else "add_preload"
        return "less_preload_measure_again" if again else "less_preload"
    if remedy.work == "spacer":
        unchecked = of.adjustment.most_installed_mm is None
        if remedy.way == "more":
            return "longer_spacer_unchecked" if unchecked else "longer_spacer"
        if unchecked:
            return "shorter_spacer_unchecked"
        in_target = all(within(response.sag(state), aims, state) for state in aims.targets)
        return "over_limit_shorter_spacer" if in_target else "shorter_spacer"
    rider_in = within(response.sag("rider"), aims, "rider")
    if of.adjustment.as_it_stands and remedy.reason == "no_room":
        # Preload is out of its band already, the other way: the spring is held up, or hardly preloaded.
        if remedy.way == "stiffer" and of.adjustment.above_band:
            return "too_soft_held_up"
        if remedy.way == "softer" and of.adjustment.below_band:
            return "too_stiff_little_preload"
    if remedy.reason == "limit":
        if all(within(response.sag(state), aims, state) for state in aims.targets):
            return "pair_suits_over_limit"
        static_mm, target = response.sag("static"), aims.targets.get("static")
        if not rider_in:
            return "stiffer_at_limit"
        above = static_mm is not None and target is not None and static_mm > target[1]
        return "too_stiff_contradicted" if above else "too_soft_held_up"
    if remedy.way == "stiffer":
        return _stiffer(remedy, rider_in=rider_in)
    return _softer(of, remedy, rider_in=rider_in)


def _is_by_length(adjustment: PreloadAdjustment, remedy: Remedy) -> bool:
    """Whether the work is what a spring of another length asks for, and is done by putting that length right."""
    if not adjustment.by_length or remedy.no_suitable_rate is not None:
        return False
    lacking = "more" if adjustment.by_length == "shorter" else "less"
    return remedy.work == "none" or (remedy.work in ("turns", "spacer") and remedy.way == lacking)


def _is_by_spacers(adjustment: PreloadAdjustment, response: Response, aims: Aims, remedy: Remedy) -> bool:
    """Whether spacers that differ between the legs are put right before the work is done.

    No other spring is fitted where the adjusters then bring both sags in. Where no leg alone is wrong, matched spacers
    carry as much as these, so that turns and sags that suit stay as they are.
    """
    match = adjustment.match
    if match is None or adjustment.by_length or remedy.no_suitable_rate is not None:
        return False
    if remedy.work == "spring":
        out_mm, in_mm = adjustment.left_out_mm or 0.0, adjustment.left_in_mm or 0.0
        then = shortfall(response, widened(aims), (match.mean_mm - out_mm, match.mean_mm + in_mm))
        return match.leg is not None and max(then.stiffer_mm, then.softer_mm) <= SLACK
    return match.leg is not None or remedy.work == "spacer"


def _suits(of: EndToAdvise, response: Response, aims: Aims, remedy: Remedy) -> Advice:
    now_mm = after(response)
    if of.adjustment.out_of_band:
        return "pair_edge_recheck" if at_edge(of.captured, now_mm, aims) else "pair_suits_recheck"
    if _behind_top_out(of, response, aims):
        return "top_out_hides_sags"
    if remedy.no_spring_nearer:
        return "pair_nearest"
    if remedy.edge:
        return "pair_close"
    if any(of.state(state).figures.verdict_now == "down_only" for state in aims.targets):
        return "pair_down_only"
    if outside(now_mm, aims):
        return "pair_borderline"
    static = of.captured.static.figures.target
    if static is not None and aims.targets["static"] != static:
        return "top_out_hides_static" if of.adjustment.fitted == "yes" else "too_soft_or_top_out"
    if at_edge(of.captured, now_mm, aims):
        return "pair_borderline"
    return "top_out_brings_in" if _only_by_top_out(of, aims) else "pair_suits"


def _behind_top_out(of: EndToAdvise, response: Response, aims: Aims) -> bool:
    """Whether a top-out spring makes rider sag read otherwise than its target, or static sag read more than its own."""
    rider, static = of.captured.rider.figures.target, of.captured.static.figures.target
    if rider is not None and aims.targets["rider"] != rider:
        return True
    static_mm = response.sag("static")
    return static is not None and static_mm is not None and static[1] + SLACK < static_mm <= aims.targets["static"][1]


def _only_by_top_out(of: EndToAdvise, aims: Aims) -> bool:
    """Whether a sag in its target, which is meant for a machine without a top-out spring, would certainly lie outside
    without that spring."""
    if not takes_from_sag(of.model):
        return False
    bare = without_it(of.model, of.carried.known())
    profile = {state: target for state, target in aims.targets.items() if of.state(state).figures.target_source is None}
    least = {state: max(CLOSE_TO_TARGET_MM, aims.slack_mm.get(state, 0.0)) for state in profile}
    return not in_target(bare, Aims(targets=profile, slack_mm=least))


def _stiffer(remedy: Remedy, *, rider_in: bool) -> Advice:
    if remedy.reason == "no_room":
        return "stiffer_no_room"
    return "too_soft_held_up" if rider_in else "too_soft"


def _softer(of: EndToAdvise, remedy: Remedy, *, rider_in: bool) -> Advice:
    if remedy.reason == "no_room":
        return "softer_no_room"
    if rider_in:
        return "too_stiff_contradicted" if of.adjustment.at_limit else "too_stiff_little_preload"
    return "too_stiff"
