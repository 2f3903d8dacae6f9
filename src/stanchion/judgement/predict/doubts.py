"""Where measured sag and prediction differ, or lie so far apart that something entered must be wrong; and what is to be
checked before a spring is advised."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from stanchion.job.model import State
from stanchion.judgement.criteria.thresholds import (
    INPUTS_DOUBTED,
    PREDICTED_SAG_DIFFERS,
    PREDICTED_SAG_DIFFERS_MM,
    USUAL_TRAVEL_MM,
)
from stanchion.judgement.predict.end_inputs import EndInputs
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.results.predicted import PredictedState, WorkingRateFigures
from stanchion.judgement.sag.corrected_loads import AsRead, topped_out_at
from stanchion.judgement.sag.sag_advice import NO_SPRING, EndAdvice, put_first
from stanchion.judgement.sag.working_rate import hint_for, left_out_of, rate_doubted, working_finding
from stanchion.mechanics.statistics import Uncertainty


def doubt_of_inputs(
    of: EndInputs, states: Mapping[State, PredictedState], working: WorkingRateFigures
) -> Finding | None:
    """Warning that an entry must be wrong: a measured sag, or the working rate between both sags, lies too far from
    what loads and springs predict. Doubted loads say nothing of the readings."""
    if of.loads.doubted:
        return None
    travel_mm = (
        of.model.full_travel_mm if of.model.computable.known and of.model.end_unknown is None else USUAL_TRAVEL_MM
    )
    apart: list[tuple[bool, float, Finding]] = []
    for state in ("rider", "static"):
        off, sag = states[state].difference_mm.value, states[state].sag_mm.value
        at_most_mm = topped_out_at(of.captured, state)
        if sag is not None and at_most_mm is not None and of.captured.believed:
            off = min(0.0, at_most_mm - sag)
        if off is None or sag is None:
            continue
        spread = of.captured.state(state).figures.expanded_mm.value
        far = _differs(of.now, state, off, spread or 0.0, INPUTS_DOUBTED * travel_mm)
        values = {"end": of.end, "work": "inputs", "captured_mm": sag + off, "predicted_mm": sag}
        apart.append((far, abs(off), Finding("inputs_doubted", Severity.WARNING, ("sag", of.end, state), values)))
    for far, _, finding in apart:
        if far:
            return finding
    # The working rate is what both sags say together: name the one that disagrees more.
    return max(apart, key=lambda one: one[1])[2] if apart and rate_doubted(working, of.model.omitted) else None


def as_read_believed(of: EndInputs) -> Mapping[State, AsRead]:
    """The end as it was when its old sags were read; nothing where one of them is so far from what springs and loads
    gave then that the entries were doubted."""
    travel_mm = (
        of.model.full_travel_mm if of.model.computable.known and of.model.end_unknown is None else USUAL_TRAVEL_MM
    )
    for state, then in of.as_read.items():
        model = then.model
        figures, load_n = of.captured.state(state).figures, then.loads.load(state).value
        if figures.sag_mm.value is None or load_n is None or not model.computable.known:
            continue
        predicted_mm = model.equilibrium(load_n).travel_mm - model.unloaded.travel_mm
        at_most_mm = topped_out_at(of.captured, state)
        off_mm = figures.sag_mm.value - predicted_mm if at_most_mm is None else min(0.0, at_most_mm - predicted_mm)
        spread_mm = figures.expanded_mm.value or 0.0
        if _differs(then, state, off_mm, spread_mm, INPUTS_DOUBTED * travel_mm):
            return {}
    return of.as_read


def _differs(of: AsRead, state: State, off_mm: float, spread_mm: float, least_mm: float) -> bool:
    """Whether a measured sag differs from the predicted one by more than `least_mm` and by more than the uncertainty of
    the readings and of the load."""
    if abs(off_mm) <= max(least_mm, spread_mm):
        return False
    load_n = of.loads.load(state).value or 0.0
    off_n = Uncertainty(of.loads.uncertainty_n[state]).expanded
    less, more = (of.model.equilibrium(max(0.0, load_n + n)).travel_mm for n in (-off_n, off_n))
    return abs(off_mm) > math.hypot(spread_mm, (more - less) / 2.0)


_RIDER_FIRST: tuple[State, ...] = ("rider", "static")


def difference_findings(
    of: EndInputs, states: Mapping[State, PredictedState], working: WorkingRateFigures, *, estimate: bool
) -> list[Finding]:
    """That a captured sag, or the rate between both, differs from the predicted one: a finding on rider sag, or on
    static sag where only that differs, and one on the rate.

    Where friction, or what was not entered or not weighed, may be all that is wrong, it is a note. Whether the sag is
    in its target says nothing of that.
    """
    by_state = (_sag_off(of, state, states[state], estimate=estimate) for state in _RIDER_FIRST)
    rate = working_finding(of.end, of.model, working)
    return [*[one for found in by_state for one in found][:1], *([rate] if rate is not None else [])]


def _sag_off(of: EndInputs, state: State, predicted: PredictedState, *, estimate: bool) -> Iterator[Finding]:
    off, sag = predicted.difference_mm.value, predicted.sag_mm.value
    measured = of.captured.state(state)
    spread = measured.figures.expanded_mm.value
    if off is None or sag is None or spread is None:
        return
    if not _differs(of.now, state, off, spread, max(PREDICTED_SAG_DIFFERS_MM, PREDICTED_SAG_DIFFERS * sag)):
        return
    stuck_mm = measured.figures.stiction_mm.value or 0.0
    # Friction holds the machine anywhere within half the stiction on either side.
    by_friction = measured.sticks or abs(off) <= stuck_mm / 2.0
    hint = hint_for(of.model.omitted, estimate=estimate, friction=by_friction)
    severity = Severity.WARNING if hint == "label" else Severity.NOTE
    values = {"captured_mm": sag + off, "predicted_mm": sag, "hint": hint, "left_out": left_out_of(of.model, hint)}
    yield Finding("sag_not_as_predicted", severity, ("sag", of.end, state), values)


def no_spring_judged(advice: EndAdvice, *, to_check: bool) -> EndAdvice:
    """The advice without a spring or spacer to fit, while loads or springs and loads are in doubt.

    Args:
        advice: what the sags of the end ask for: no other spring.
        to_check: whether springs and loads do not give what was measured, so that those fitted are not judged either.
    """
    asked = advice.to_target
    if asked is None or asked.values["work"] != "none":
        return advice
    values = {**asked.values, **({"to_check": True} if to_check else {})}
    if asked.code == "pair_suits_recheck" and not values.get("as_it_stands"):
        length = {name: None for name in values if name.startswith("length_") or name in ("by_spring", "by_spacer")}
        values |= {**length, "recheck_adjuster": True}
    return put_first(advice, replace(asked, values=values))


def check_before_spring(of: EndInputs, asked: Finding, differ: Iterable[Finding]) -> Finding | None:
    """What is to be put right before another spring is advised; None where nothing is, or no spring is asked for.

    A spring is bought for a load and a rate that are known. Where the scales contradict the masses the load is not;
    where loads that were weighed and springs that were entered whole do not give the sag, one of them is wrong.
    Preload may be turned all the same, as it is turned back without cost.

    Args:
        of: the end.
        asked: the advice on its sags.
        differ: what differs from the prediction.
    """
    if asked.values["work"] != "spring" and asked.code not in NO_SPRING | {"pair_nearest"}:
        return None
    values: dict[str, object] = {"end": of.end, "work": "loads"}
    if of.loads.doubted:
        return Finding("check_before_spring", Severity.WARNING, ("sag", of.end), values)
    for found in differ:
        if found.severity is Severity.WARNING:
            of_rate = found.code != "sag_not_as_predicted"
            values = {**found.values, "end": of.end, "work": "rate" if of_rate else "inputs"}
            return Finding("check_before_spring", Severity.WARNING, found.where, values)
    return None
