"""Where measured sag and prediction differ, or lie so far apart that something entered must be wrong."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from stanchion.job.model import State
from stanchion.judgement.criteria.thresholds import (
    INPUTS_DOUBTED,
    PREDICTED_SAG_DIFFERS,
    PREDICTED_SAG_DIFFERS_MM,
    USUAL_TRAVEL_MM,
)
from stanchion.judgement.predict.end_inputs import EndInputs
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.results.predicted import PredictedEnd, PredictedState, WorkingRateFigures
from stanchion.judgement.sag.corrected_loads import AsRead, topped_out_at
from stanchion.judgement.sag.working_rate import hint_for, rate_doubted
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
    return max(apart, key=lambda one: one[1])[2] if apart and rate_doubted(working) else None


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


def difference_findings(
    of: EndInputs, states: Mapping[State, PredictedState], figures: PredictedEnd, advice: Finding | None
) -> Iterator[Finding]:
    """That a captured sag differs from the predicted one; one finding an end, for rider sag where both differ.

    It is as severe as the advice on that sag, so that it comes first. Where friction, or what was not entered or not
    weighed, may be all that is wrong, it is a note.
    """
    for state in ("rider", "static"):
        predicted = states[state]
        off, sag = predicted.difference_mm.value, predicted.sag_mm.value
        measured = of.captured.static if state == "static" else of.captured.rider
        spread = measured.figures.expanded_mm.value
        if off is None or sag is None or spread is None:
            continue
        if _differs(of.now, state, off, spread, max(PREDICTED_SAG_DIFFERS_MM, PREDICTED_SAG_DIFFERS * sag)):
            stuck_mm = measured.figures.stiction_mm.value or 0.0
            # Friction holds the machine anywhere within half the stiction on either side.
            by_friction = measured.sticks or abs(off) <= stuck_mm / 2.0
            hint = hint_for(figures.omitted, estimate=figures.estimate, friction=by_friction)
            values = {"captured_mm": sag + off, "predicted_mm": sag, "hint": hint}
            severity = Severity.NOTE if advice is None or hint != "label" else advice.severity
            yield Finding("sag_not_as_predicted", severity, ("sag", of.end, state), values)
            return
