"""What to do about the sags of one end: the remedy that was found, as one finding for every screen and sheet."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Literal

from stanchion.base.record import record
from stanchion.job.model import STATES, State
from stanchion.judgement.criteria.thresholds import CLOSE_TO_TARGET_MM, NOT_SHOWN_MM, SLACK
from stanchion.judgement.ends.end_model import hangs_at
from stanchion.judgement.ends.top_out import off_top_out
from stanchion.judgement.results.assessment import Band, StateFigures
from stanchion.judgement.results.codes import Advice
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.sag.advice_finding import advice_finding
from stanchion.judgement.sag.available_preload import AvailablePreload, available_preload
from stanchion.judgement.sag.behind_top_out import targets_behind
from stanchion.judgement.sag.corrected_loads import blocked_by, sags_now, topped_out_at
from stanchion.judgement.sag.end_to_advise import EndToAdvise
from stanchion.judgement.sag.remedies import find_remedy
from stanchion.judgement.sag.response import ByModel, ByRule, Response
from stanchion.judgement.sag.sag_figures import Measured
from stanchion.judgement.sag.targets import Aims
from stanchion.mechanics.sag import change_uncertainty, within_spread

NO_ADVICE: frozenset[Advice] = frozenset(
    {
        "find_friction",
        "measure_again_swapped",
        "measure_again_impossible",
        "measure_again_changed",
        "inputs_doubted",
        "loads_doubted",
        "check_before_spring",
    }
)
"""Where nothing is said of springs."""
NO_ADVICE_BY_SAGS = NO_ADVICE - {"check_before_spring"}
"""And nothing of the sags themselves. What is to be checked before a spring is bought holds for any other reason to buy
one, too."""
LEFT_AS_THEY_ARE: frozenset[Advice] = frozenset(
    {"pair_borderline", "pair_edge_recheck", "pair_suits_recheck", "lengths_first", "pair_down_only"}
)
"""Springs and preload are left alone until sag or lengths have been read again."""
NO_SPRING: frozenset[Advice] = frozenset({"no_spring_needs_more", "no_spring_needs_less", "no_spring_sold"})
"""No spring that is sold brings both sags in."""
AIR_OUT_OF_REACH: frozenset[Advice] = frozenset({"air_static_out", "air_at_most", "air_at_least"})
"""No pressure brings both sags in."""


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
    behind: Mapping[State, Band] = MappingProxyType({})
    """The targets that count instead where a top-out spring makes a sag read lower."""


def advise(of: EndToAdvise) -> EndAdvice:
    """What to do at one end.

    The sags are those measured. Where there are none, or they were read before springs or preload were changed, they
    are what springs and loads give, and the advice says that it is predicted.

    Args:
        of: the end.
    """
    again = measure_again(of)
    if again is not None and again.code != "measure_again_changed":
        return silent(again)
    rider = of.captured.rider.figures
    measured = rider.sag_mm.known and again is None
    response = _response(of, measured=measured)
    if rider.target is None:
        return _nothing(absent("no_target"), again)
    if response is None or response.sag("rider") is None:
        doubted = of.loads.rider_n.problem == "loads_doubted"
        nothing = _nothing(derive(lambda *_: 0.0, of.model.computable, of.loads.rider_n), again)
        if doubted and of.model.computable.known:
            values = {"end": of.end, "work": "inputs"}
            nothing = replace(nothing, to_target=Finding("loads_doubted", Severity.WARNING, ("sag", of.end), values))
        topped_out = of.captured.static.figures.topped_out
        return replace(nothing, projected_static_mm=absent("topped_out")) if topped_out else nothing
    hidden = measured and _held_by_top_out(of)
    behind = _behind(of, response, measured=measured)
    aims = _aims(of, response, behind, measured=measured, hidden=hidden)
    available = (
        available_preload(of.adjustment)
        if of.amount_known
        else AvailablePreload(turned=(-math.inf, math.inf), spacer=(0.0, 0.0))
    )
    remedy = find_remedy(response, aims, available, of.springs)
    if hidden and remedy.work in ("turns", "spacer"):
        both = find_remedy(response, _aims(of, response, behind, measured=measured, hidden=False), available)
        if both.work == remedy.work and not both.edge:
            remedy = both  # no more work, and static sag comes in as well
    elif hidden and remedy.work == "spring" and response.sag("static") is not None:
        asked = _aims(of, response, behind, measured=measured, hidden=False)
        if remedy.no_suitable_rate is None and of.springs.brings_in(asked, remedy.way):
            aims, hidden = asked, False  # where a spring is bought all the same, it brings static sag in as well
    finding = advice_finding(of, response, aims, remedy)
    aim = absent("target_out_of_reach")
    if not of.amount_known:
        aim = derive(lambda *_: 0.0, of.model.computable)
    elif remedy.aim_mm is not None:
        aim = Figure(remedy.aim_mm, estimate=response.predicted and of.carried.loads["rider"].estimate)
    return EndAdvice(
        by_readings=finding if measured else again,
        to_target=finding,
        turns=_turns(of, aim),
        preload_mm=aim,
        projected_static_mm=_projected(of, response, behind.get("rider", rider.target)),
        static_hidden=hidden,
        behind=behind,
    )


def measure_again(of: EndToAdvise) -> Finding | None:
    """That readings must be put right first, or were taken before a change; None where nothing is in the way."""
    blocked = blocked_by(of.captured)
    return Finding(blocked, Severity.WARNING, ("sag", of.end), {"end": of.end, "work": "measure"}) if blocked else None


def silent(finding: Finding) -> EndAdvice:
    """Nothing but one finding, since what it speaks of must be put right first."""
    none = absent("inputs_doubted" if finding.code == "inputs_doubted" else "readings_doubtful")
    return EndAdvice(by_readings=finding, to_target=finding, turns=none, preload_mm=none, projected_static_mm=none)


def put_first(advice: EndAdvice, finding: Finding) -> EndAdvice:
    """The figures as they are, and in place of the advice what must be put right before it is followed."""
    readings = finding if advice.by_readings is advice.to_target else advice.by_readings
    return replace(advice, by_readings=readings, to_target=finding)


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


def _behind(of: EndToAdvise, response: Response, *, measured: bool) -> dict[State, Band]:
    """The profile's targets as a top-out spring makes this end read them; a job's own targets are meant as it is read.

    Static sag that is measured below its target is judged by how far the sags lie apart (_held_by_top_out).
    """
    if not of.model.computable.known:
        return {}
    judged: dict[State, Band] = {}
    for state in STATES:
        figures = of.state(state).figures
        by_apart = measured and state == "static" and figures.verdict != "above"
        if figures.target is not None and figures.target_source is None and not by_apart:
            judged[state] = figures.target
    return targets_behind(of.model, {state: response.sag(state) for state in judged}, judged)


def _aims(of: EndToAdvise, response: Response, behind: Mapping[State, Band], *, measured: bool, hidden: bool) -> Aims:
    sags = {state: of.state(state).figures for state in STATES}
    aims = aims_of(sags, measured=measured, static_hidden=hidden, behind=behind)
    unknown = measured and not hidden and response.sag("static") is None
    return replace(aims, topped_out_mm=topped_out_at(of.captured, "static")) if unknown else aims


def aims_of(
    sags: Mapping[State, StateFigures],
    *,
    measured: bool,
    static_hidden: bool,
    behind: Mapping[State, Band] = MappingProxyType({}),
) -> Aims:
    """What is wanted of the sags of one end.

    Args:
        sags: both states.
        measured: whether the sags are those measured.
        static_hidden: a top-out spring keeps static sag small, so that it may be, but not too large.
        behind: the targets that count instead where a top-out spring makes a sag read lower.
    """
    targets: dict[State, Band] = {}
    open_to_more = any(of.target is not None and not of.repeated for of in sags.values())
    slack: dict[State, float] = {}
    for state, figures in sags.items():
        if figures.target is None:
            continue
        low, high = behind.get(state, figures.target)
        targets[state] = (0.0 if state == "static" and static_hidden else low, high)
        # By how much a sag may lie outside before it is certain that it does. With rider sag topped out, a topped-out
        # state is predicted from its load, and how finely the stop was read says nothing about that.
        off = figures.expanded_mm.value
        read = measured and not (figures.topped_out and sags["rider"].topped_out)
        slack[state] = off if read and off is not None else CLOSE_TO_TARGET_MM
    readings: Literal["", "open", "settled"] = "" if not measured else "open" if open_to_more else "settled"
    return Aims(targets=targets, slack_mm=slack, readings=readings)


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


# --- figures ------------------------------------------------------------------------------------------------------


def _turns(of: EndToAdvise, preload: Figure) -> Figure:
    per_turn_mm = of.adjustment.per_turn_mm
    if of.adjustment.alike_from_mm is not None:
        return absent("adjusters_differ")
    if of.per_turn.known and not per_turn_mm:
        return absent("adjusters_differ" if per_turn_mm is None else "no_adjuster")
    per_turn = of.per_turn if per_turn_mm is None else Figure(per_turn_mm)
    return derive(lambda added, turn: added / turn, preload, per_turn)


def _projected(of: EndToAdvise, response: Response, target: Band) -> Figure:
    """Static sag once rider sag is in the middle of its target; absent where preload does not move it so."""
    if of.captured.static.figures.topped_out:
        return absent("topped_out")
    static_mm, rider_mm = response.sag("static"), response.sag("rider")
    if static_mm is None or rider_mm is None:
        return derive(lambda *_: 0.0, of.captured.static.figures.sag_mm, of.captured.rider.figures.sag_mm)
    less_mm = rider_mm - sum(target) / 2.0
    # The machine rises by more than sag shows, since the wheel then hangs further out: it may come onto the spring.
    rises_mm = max(0.0, less_mm) / of.adjustment.top_out_share
    off = off_top_out(of.model, of.adjustment.top_out_mm, static_mm - rises_mm)
    none_left = off.known and static_mm - less_mm < NOT_SHOWN_MM
    return absent("topped_out") if none_left else derive(lambda _: static_mm - less_mm, off)
