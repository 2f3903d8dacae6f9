"""What to do about the sags of one end: the remedy that was found, as one finding for every screen and sheet."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from stanchion.base.record import record
from stanchion.job.model import STATES, End, State
from stanchion.judgement.criteria.thresholds import CLOSE_TO_TARGET_MM, NOT_SHOWN_MM, SLACK
from stanchion.judgement.ends.end_model import EndModel, hangs_at
from stanchion.judgement.ends.loads import EndLoads
from stanchion.judgement.ends.preload_adjustment import PreloadAdjustment
from stanchion.judgement.ends.top_out import off_top_out
from stanchion.judgement.results.assessment import Band, StateFigures
from stanchion.judgement.results.codes import Advice
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.sag.available_preload import as_shown, available_preload
from stanchion.judgement.sag.corrected_loads import Carried, blocked_by, sags_now, topped_out_at
from stanchion.judgement.sag.remedies import AvailablePreload, NoRate, Remedy, Springs, find_remedy
from stanchion.judgement.sag.response import ByModel, ByRule, Response
from stanchion.judgement.sag.sag_figures import Measured, near_edge
from stanchion.judgement.sag.targets import Aims, within
from stanchion.judgement.sag.working_rate import Captured
from stanchion.mechanics.sag import change_uncertainty, within_spread

NOTES: frozenset[Advice] = frozenset(
    {"pair_suits", "pair_borderline", "pair_down_only", "pair_close", "top_out_hides_static"}
)
"""Advice that asks for no work; the rest are warnings."""
NO_ADVICE: frozenset[Advice] = frozenset(
    {"find_friction", "measure_again_swapped", "measure_again_impossible", "measure_again_changed", "inputs_doubted"}
)
"""Where nothing is said of springs."""
NO_SPRING: frozenset[Advice] = frozenset({"no_spring_needs_more", "no_spring_needs_less", "no_spring_sold"})
"""No spring that is sold brings both sags in."""
_NO_SPRING: dict[NoRate, Advice] = {
    "no_rate_needs_more": "no_spring_needs_more",
    "no_rate_needs_less": "no_spring_needs_less",
    "no_rate_sold": "no_spring_sold",
}
_UNFIT = ("loose", "low", "high", "over_limit")


@record(kw_only=True)
class EndAdvice:
    """What to do at one end, and the numbers that go with it."""

    by_readings: Finding | None
    """What the measured sags say; None where rider sag is not measured, or has no target."""
    to_target: Finding | None
    """What brings the sags into target. It is the same finding where the sags are measured; else by loads and springs
    alone, and called predicted; None where rider sag is not known, or there is no target."""
    turns: Figure
    """Turns from now to the middle of the target for rider sag, as near to it as static sag allows; in is above 0."""
    preload_mm: Figure
    """The same as preload at the adjusters."""
    projected_static_mm: Figure
    """Static sag once rider sag is in the middle of its target."""
    static_hidden: bool = False
    """A top-out spring, and not a soft spring, keeps static sag small, so that nothing is asked of it."""


@record(kw_only=True)
class EndToAdvise:
    """One end with all that its advice rests on."""

    end: End
    model: EndModel
    loads: EndLoads
    captured: Captured
    adjustment: PreloadAdjustment
    per_turn: Figure
    """Known where a turn of every adjuster there is, whether or not they are alike."""
    carried: Carried
    """What it carries, as the measured sags correct it."""
    springs: Springs
    """Finds out about other springs."""

    def state(self, state: State) -> Measured:
        """One state as measured."""
        return self.captured.static if state == "static" else self.captured.rider


def advise(of: EndToAdvise) -> EndAdvice:
    """What to do at one end.

    The sags are those measured. Where there are none, or they were read before springs or preload were changed, they
    are what springs and loads give, and the advice says that it is predicted.

    Args:
        of: the end.
    """
    blocked = blocked_by(of.captured)
    again = None
    if blocked:
        again = Finding(blocked, Severity.WARNING, ("sag", of.end), {"end": of.end, "work": "measure"})
        if blocked != "measure_again_changed":
            return silent(again)
    rider = of.captured.rider.figures
    measured = rider.sag_mm.known and not blocked
    response = _response(of, measured=measured)
    if rider.target is None:
        return _nothing(absent("no_target"), again)
    if response is None or response.sag("rider") is None:
        nothing = _nothing(derive(lambda *_: 0.0, of.model.computable, of.loads.rider_n), again)
        topped_out = of.captured.static.figures.topped_out
        return replace(nothing, projected_static_mm=absent("topped_out")) if topped_out else nothing
    hidden = measured and _held_by_top_out(of)
    aims = _aims(of, response, measured=measured, hidden=hidden)
    available = (
        available_preload(of.adjustment)
        if _amount_known(of)
        else AvailablePreload(turned=(-math.inf, math.inf), spacer=(0.0, 0.0))
    )
    remedy = find_remedy(response, aims, available, of.springs)
    if hidden and remedy.work in ("turns", "spacer"):
        both = find_remedy(response, _aims(of, response, measured=measured, hidden=False), available)
        if both.work == remedy.work and not both.edge:
            remedy = both  # no more work, and static sag comes in as well
    remedy = as_shown(remedy, response, aims, of.adjustment, available)
    finding = _finding(of, response, aims, remedy)
    aim = absent("target_out_of_reach")
    if not _amount_known(of):
        aim = derive(lambda *_: 0.0, of.model.computable)
    elif remedy.aim_mm is not None:
        aim = Figure(remedy.aim_mm, estimate=response.predicted and of.carried.loads["rider"].estimate)
    return EndAdvice(
        by_readings=finding if measured else again,
        to_target=finding,
        turns=_turns(of, aim),
        preload_mm=aim,
        projected_static_mm=_projected(of, response, rider.target),
        static_hidden=hidden,
    )


def silent(finding: Finding) -> EndAdvice:
    """Nothing but one finding, since what it speaks of must be put right first."""
    none = absent("inputs_doubted" if finding.code == "inputs_doubted" else "readings_doubtful")
    return EndAdvice(by_readings=finding, to_target=finding, turns=none, preload_mm=none, projected_static_mm=none)


def _nothing(missing: Figure, by_readings: Finding | None) -> EndAdvice:
    return EndAdvice(
        by_readings=by_readings, to_target=None, turns=missing, preload_mm=missing, projected_static_mm=missing
    )


# --- what is known ------------------------------------------------------------------------------------------------


def _response(of: EndToAdvise, *, measured: bool) -> Response | None:
    if of.model.computable.known:
        by_sag = of.carried.by_sag
        sags_mm = {state: mm for state, mm in sags_now(of.captured).items() if state in by_sag}
        return ByModel(of.model, of.carried.known(), predicted="rider" not in by_sag, measured_mm=sags_mm)
    if not measured:
        return None
    return ByRule(sags_now(of.captured), of.adjustment.per_sag or 1.0, of.adjustment.share or 1.0)


def _amount_known(of: EndToAdvise) -> bool:
    """Whether a change of sag can be turned into preload."""
    return of.model.computable.known or (of.adjustment.per_sag is not None and of.adjustment.share is not None)


def _aims(of: EndToAdvise, response: Response, *, measured: bool, hidden: bool) -> Aims:
    aims = aims_of({state: of.state(state).figures for state in STATES}, measured=measured, static_hidden=hidden)
    unknown = measured and not hidden and response.sag("static") is None
    return replace(aims, topped_out_mm=topped_out_at(of.captured, "static")) if unknown else aims


def aims_of(sags: Mapping[State, StateFigures], *, measured: bool, static_hidden: bool) -> Aims:
    """What is wanted of the sags of one end.

    Args:
        sags: both states.
        measured: whether the sags are those measured.
        static_hidden: a top-out spring keeps static sag small, so that it may be, but not too large.
    """
    targets: dict[State, Band] = {}
    slack: dict[State, float] = {}
    for state, figures in sags.items():
        if figures.target is None:
            continue
        least = 0.0 if state == "static" and static_hidden else figures.target[0]
        targets[state] = (least, figures.target[1])
        # By how much a sag may lie outside before it is certain that it does. With rider sag topped out, a topped-out
        # state is predicted from its load, and how finely the stop was read says nothing about that.
        off = figures.expanded_mm.value
        read = measured and not (figures.topped_out and sags["rider"].topped_out)
        slack[state] = off if read and off is not None else CLOSE_TO_TARGET_MM
    return Aims(targets=targets, slack_mm=slack)


def _held_by_top_out(of: EndToAdvise) -> bool:
    """Whether a top-out spring, and not a soft spring, keeps static sag small."""
    static, rider = of.captured.static, of.captured.rider
    hangs_mm = hangs_at(of.model).value
    if of.adjustment.fitted == "yes" and hangs_mm is not None and hangs_mm < NOT_SHOWN_MM:
        return False  # the hanging wheel stands on the stop, and so the spring takes nothing from sag
    if of.adjustment.fitted == "no" or not (static.figures.topped_out or static.figures.verdict == "below"):
        return False
    targets = (static.figures.target, rider.figures.target)
    if targets[0] is None or targets[1] is None:
        return False  # nothing is asked of static sag
    static_mm, rider_mm = static.figures.sag_mm.value, rider.figures.sag_mm.value
    if static_mm is None or rider_mm is None:
        return True
    return not _is_wide(static, rider, rider_mm - static_mm, targets[0], targets[1])


def _is_wide(static: Measured, rider: Measured, apart_mm: float, static_target: Band, rider_target: Band) -> bool:
    """Whether the sags lie further apart than is usual, by more than the measuring spread.

    Usual is what lies between the middles of both targets, and half the width of the static one: without scale loads
    there is nothing nearer to go by (common practice, no published source).
    """
    low, high = static_target
    beyond = apart_mm - (sum(rider_target) - low - high) / 2.0 - (high - low) / 2.0
    if beyond <= SLACK:
        return False
    if static.state_uncertainty is None or rider.state_uncertainty is None:
        return True
    return not within_spread(beyond, change_uncertainty(static.state_uncertainty, rider.state_uncertainty))


# --- the finding --------------------------------------------------------------------------------------------------


def _finding(of: EndToAdvise, response: Response, aims: Aims, remedy: Remedy) -> Finding:
    code = _code(of, response, aims, remedy)
    adjustment = of.adjustment
    more = remedy.turned_mm > 0.0 or (remedy.turned_mm == 0.0 and remedy.way == "more")
    turned = abs(remedy.turned_mm) if abs(remedy.turned_mm) > SLACK and _amount_known(of) else None
    spacer = remedy.spacer_mm if remedy.work == "spacer" else None
    new_spacer = None
    if spacer is not None and adjustment.spacer_mm is not None:
        new_spacer = adjustment.spacer_mm + spacer
    low = adjustment.verdict in ("low", "loose")
    # Turns leave installed preload where it is; a collar that has no fully-out is turned within its band.
    turns = remedy.work == "turns" and not adjustment.as_it_stands
    known = remedy.work in ("turns", "spacer") and _amount_known(of)
    by_load = of.model.computable.known and not response.predicted and "static" not in of.carried.by_sag
    static = _sag_values("static", response.sag("static"), topped_out=of.captured.static.figures.topped_out)
    values: dict[str, object] = {
        "end": of.end,
        "work": "measure" if remedy.no_suitable_rate is not None and remedy.work == "none" else remedy.work,
        "way": remedy.way,
        "predicted": response.predicted or None,
        "static_by_load": (by_load and static["static_mm"] is not None) or None,
        **_sag_values("rider", response.sag("rider"), topped_out=of.captured.rider.figures.topped_out),
        **static,
        **(_sag_values("rider_after", remedy.after_mm["rider"]) if known else {}),
        **(_sag_values("static_after", remedy.after_mm["static"]) if known else {}),
        "installed_mm": adjustment.least_installed_mm if low else adjustment.most_installed_mm,
        "limit_mm": adjustment.band.limit if adjustment.band else None,
        "band_low": (turns and low) or None,
        "band_high": (turns and adjustment.verdict in ("high", "over_limit")) or None,
        "preload_mm": turned,
        "turns": turned / adjustment.per_turn_mm if turned is not None and adjustment.per_turn_mm else None,
        "turned_way": "in" if more else "out",
        **({"turned_in": "clicks"} if adjustment.in_clicks else {}),
        "left_mm": adjustment.left_in_mm if remedy.way in ("more", "stiffer") else adjustment.left_out_mm,
        "spacer_change_mm": None if spacer is None else abs(spacer),
        "spacer_way": None if spacer is None else "longer" if spacer > 0.0 else "shorter",
        "new_spacer_mm": new_spacer,
    }
    if remedy.edge and (remedy.work == "spring" or (remedy.work == "spacer" and remedy.no_suitable_rate is None)):
        values["again"], values["again_spacer"] = True, remedy.work == "spacer" or None
    if remedy.no_suitable_rate is not None:
        values["unread"] = aims.topped_out_mm is not None or None
        values["through_linkage"] = of.end == "rear" or None
        if remedy.no_suitable_rate.between_n_per_mm is not None:
            values["low_n_per_mm"], values["high_n_per_mm"] = remedy.no_suitable_rate.between_n_per_mm
        if remedy.work == "spring":
            values |= {
                "rate_n_per_mm": remedy.no_suitable_rate.nearest_n_per_mm,
                "hides": remedy.way == "stiffer" or None,
            }
    if code == "pair_borderline":
        at_edge = _at_edge(of, response, aims)
        values["at_edge"] = "both" if len(at_edge) > 1 else min(at_edge)
    return Finding(code, Severity.NOTE if code in NOTES else Severity.WARNING, ("sag", of.end), values)


def _sag_values(name: str, sag_mm: float | None, *, topped_out: bool = False) -> dict[str, object]:
    """A sag for the wording; a state that is topped out has none to speak of."""
    if topped_out or (sag_mm is not None and sag_mm < NOT_SHOWN_MM):
        return {f"{name}_mm": None, f"{name}_topped_out": True}
    return {f"{name}_mm": sag_mm, f"{name}_topped_out": None}


def _code(of: EndToAdvise, response: Response, aims: Aims, remedy: Remedy) -> Advice:
    if remedy.no_suitable_rate is not None:
        return _NO_SPRING[remedy.no_suitable_rate.reason]
    if remedy.work == "none":
        return _suits(of, response, aims, remedy)
    if remedy.work == "turns":
        more = remedy.way == "more"
        if not _amount_known(of):
            return "add_preload_amount_unknown" if more else "less_preload_amount_unknown"
        left = of.adjustment.left_in_mm if more else of.adjustment.left_out_mm
        if left is None:
            return "add_preload_headroom_unknown" if more else "less_preload_headroom_unknown"
        again = remedy.edge or aims.topped_out_mm is not None or of.adjustment.effect_uncertain
        if more:
            return "add_preload_measure_again" if again else "add_preload"
        return "less_preload_measure_again" if again else "less_preload"
    if remedy.work == "spacer":
        unchecked = of.adjustment.band is None or of.adjustment.most_installed_mm is None
        if remedy.way == "more":
            return "longer_spacer_unchecked" if unchecked else "longer_spacer"
        if unchecked:
            return "shorter_spacer_unchecked"
        in_target = all(within(response.sag(state), aims, state) for state in aims.targets)
        return "over_limit_shorter_spacer" if in_target else "shorter_spacer"
    rider_in = within(response.sag("rider"), aims, "rider")
    if of.adjustment.as_it_stands and remedy.reason == "no_room":
        # Preload is out of its band already, the other way: the spring is held up, or hardly preloaded.
        if remedy.way == "stiffer" and of.adjustment.verdict in ("high", "over_limit"):
            return "too_soft_held_up"
        if remedy.way == "softer" and of.adjustment.verdict in ("loose", "low"):
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


def _suits(of: EndToAdvise, response: Response, aims: Aims, remedy: Remedy) -> Advice:
    if of.adjustment.verdict in _UNFIT:
        return "pair_suits_recheck"
    if remedy.edge:
        return "pair_close"
    if any(of.state(state).figures.verdict_now == "down_only" for state in aims.targets):
        return "pair_down_only"
    if _outside(response, aims):
        return "pair_borderline"
    static = of.captured.static.figures.target
    if static is not None and aims.targets["static"] != static:
        return "top_out_hides_static" if of.adjustment.fitted == "yes" else "too_soft_or_top_out"
    return "pair_borderline" if _at_edge(of, response, aims) else "pair_suits"


def _outside(response: Response, aims: Aims) -> set[State]:
    """The states whose sag is not within its target, by however little."""
    exactly = Aims(targets=aims.targets, slack_mm={})
    return {state for state in aims.targets if not within(response.sag(state), exactly, state)}


def _at_edge(of: EndToAdvise, response: Response, aims: Aims) -> set[State]:
    """The states whose sag is too near an edge of its target, or just outside it."""
    near = {state for state, target in aims.targets.items() if _near_edge(of.state(state).figures, target)}
    return near | _outside(response, aims)


def _near_edge(figures: StateFigures, target: Band) -> bool:
    """Whether a sag as it was read now lies too near an edge of what is wanted of it to be told from outside."""
    sag_mm, expanded_mm = figures.sag_mm.value, figures.expanded_mm.value
    if sag_mm is None or expanded_mm is None or figures.changed or figures.topped_out:
        return False
    return near_edge(sag_mm, target, expanded_mm)


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


# --- figures ------------------------------------------------------------------------------------------------------


def _turns(of: EndToAdvise, preload: Figure) -> Figure:
    per_turn_mm = of.adjustment.per_turn_mm
    if of.per_turn.known and not per_turn_mm:
        return absent("adjusters_differ" if per_turn_mm is None else "no_adjuster")
    per_turn = of.per_turn if per_turn_mm is None else Figure(per_turn_mm)
    return derive(lambda added, turn: added / turn, preload, per_turn)


def _projected(of: EndToAdvise, response: Response, target: Band) -> Figure:
    """Static sag once rider sag is in the middle of its target; absent where preload does not move it so."""
    static = of.captured.static.figures
    if static.topped_out:
        return absent("topped_out")
    static_mm, rider_mm = response.sag("static"), response.sag("rider")
    if static_mm is None or rider_mm is None:
        return derive(lambda *_: 0.0, of.captured.static.figures.sag_mm, of.captured.rider.figures.sag_mm)
    less_mm = rider_mm - sum(target) / 2.0
    # The machine rises by more than sag shows, since the wheel then hangs further out: it may come onto the spring.
    rises_mm = max(0.0, less_mm) / of.adjustment.top_out_share
    off = off_top_out(of.model, of.adjustment.top_out_mm, static_mm - rises_mm)
    return derive(lambda _: static_mm - less_mm, off)
