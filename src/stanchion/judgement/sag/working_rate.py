"""The rate really at work between the two captured sags, against what the springs entered should give there."""

from __future__ import annotations

from typing import Literal

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import End, State
from stanchion.judgement.criteria.thresholds import (
    LEAST_PREDICTED_RATE_N_PER_MM,
    WORKING_RATE_DIFFERS,
    WORKING_RATE_DOUBTED,
    WORKING_RATE_DOUBTED_WHOLE,
)
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.ends.loads import EndLoads
from stanchion.judgement.results.codes import FindingCode
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.results.left_out import Hint, LeftOut
from stanchion.judgement.results.predicted import WorkingRateFigures
from stanchion.judgement.results.problems import Problem
from stanchion.judgement.sag.sag_figures import Measured
from stanchion.mechanics.load import working_rate, working_rate_uncertainty
from stanchion.mechanics.sag import change_uncertainty
from stanchion.mechanics.statistics import Uncertainty

MATTERS_LITTLE: frozenset[LeftOut] = frozenset({"solids", "travel_front", "travel_rear"})
"""What a prediction may be without and still be near: sag hardly shows it."""


@record(kw_only=True)
class Captured:
    """Both states of one end as measured."""

    static: Measured
    rider: Measured
    impossible: bool
    """The two states cannot both be right."""

    def state(self, state: State) -> Measured:
        """One state."""
        return self.static if state == "static" else self.rider

    @property
    def believed(self) -> bool:
        """Whether the readings can be used against a prediction."""
        states = (self.static, self.rider)
        doubtful = any(state.swapped or state.impossible or state.sticks or state.changed for state in states)
        return not self.impossible and not doubtful


def working_rates(model: EndModel, loads: EndLoads, captured: Captured) -> WorkingRateFigures:
    """The working rate with its uncertainty, and the predicted one between the same places.

    Args:
        model: the end.
        loads: what it carries.
        captured: the readings.
    """
    static, rider = captured.static.figures, captured.rider.figures
    problem = _problem(model, captured)
    if problem:
        none = absent(problem)
        return WorkingRateFigures(
            rate_n_per_mm=none, uncertainty_n_per_mm=none, expanded_n_per_mm=none, predicted_n_per_mm=none
        )
    rake = Figure(needs=(("geometry", "rake_deg"),)) if "rake" in model.omitted else Figure(0.0)
    change_n = derive(lambda r, s, _: model.along(r - s), loads.rider_n, loads.static_n, rake)
    change_mm = derive(lambda r, s: r - s, rider.sag_mm, static.sag_mm)
    of_sags = _of_sags(captured)

    def uncertainty(load_n: float, apart_mm: float) -> Uncertainty:
        return working_rate_uncertainty(load_n, apart_mm, model.along(loads.change_uncertainty_n), of_sags)

    start = model.unloaded.travel_mm
    computable = model.computable
    if (
        computable.known
        and model.end_unknown is not None
        and start + (rider.sag_mm.value or 0.0) > model.full_travel_mm
    ):
        computable = model.end_unknown

    def predicted(static_mm: float, rider_mm: float, _: float) -> float:
        if not (0.0 <= start + static_mm < start + rider_mm):
            raise OutOfRange("change of sag", rider_mm - static_mm, "above 0")
        if start + rider_mm > model.full_travel_mm:
            raise OutOfRange("rider sag", rider_mm, "within full travel")
        return (model.force(start + rider_mm) - model.force(start + static_mm)) / (rider_mm - static_mm)

    predicted_rate = derive(predicted, static.sag_mm, rider.sag_mm, computable)
    if predicted_rate.value is not None and predicted_rate.value <= LEAST_PREDICTED_RATE_N_PER_MM:
        falls = predicted_rate.value < -LEAST_PREDICTED_RATE_N_PER_MM
        predicted_rate = absent("force_falls" if falls else "spring_not_reached")
    return WorkingRateFigures(
        rate_n_per_mm=derive(working_rate, change_n, change_mm),
        uncertainty_n_per_mm=derive(
            lambda load_n, apart_mm: uncertainty(load_n, apart_mm).standard, change_n, change_mm
        ),
        expanded_n_per_mm=derive(lambda load_n, apart_mm: uncertainty(load_n, apart_mm).expanded, change_n, change_mm),
        predicted_n_per_mm=predicted_rate,
    )


def _of_sags(captured: Captured) -> Uncertainty:
    """Uncertainty of the difference of both sags; 0 where one is missing, as then there is no rate either."""
    static, rider = captured.static.state_uncertainty, captured.rider.state_uncertainty
    return Uncertainty(0.0) if static is None or rider is None else change_uncertainty(static, rider)


def _problem(model: EndModel, captured: Captured) -> Problem | Literal[""]:
    static, rider = captured.static.figures, captured.rider.figures
    if not captured.believed:
        return "readings_doubtful"
    if static.topped_out or rider.topped_out:
        return "topped_out"
    stands = None if static.sag_mm.value is None else model.unloaded.travel_mm + static.sag_mm.value
    return "on_top_out" if stands is not None and stands < model.top_out_reach_mm else ""


def rate_doubted(figures: WorkingRateFigures, omitted: tuple[LeftOut, ...]) -> bool:
    """Whether the two rates differ so much, and so surely, that one of the entered values must be wrong.

    Args:
        figures: the two rates.
        omitted: what was not entered, and so may explain part of the difference.
    """
    rate, uncertainty = figures.rate_n_per_mm.value, figures.expanded_n_per_mm.value
    predicted = figures.predicted_n_per_mm.value
    if rate is None or uncertainty is None or predicted is None:
        return False
    whole = hint_for(omitted, estimate=figures.rate_n_per_mm.estimate, friction=False) == "label"
    most = WORKING_RATE_DOUBTED_WHOLE if whole else WORKING_RATE_DOUBTED
    return rate - uncertainty > most * predicted or most * (rate + uncertainty) < predicted


def working_finding(end: End, model: EndModel, figures: WorkingRateFigures) -> Finding | None:
    """That the two rates differ by more than the share and the uncertainty allow."""
    rate, uncertainty = figures.rate_n_per_mm, figures.expanded_n_per_mm.value
    predicted = figures.predicted_n_per_mm.value
    if rate.value is None or uncertainty is None or predicted is None:
        return None
    off = abs(rate.value - predicted)
    if off <= WORKING_RATE_DIFFERS * predicted or off <= uncertainty:
        return None
    code: FindingCode = "working_rate_high" if rate.value > predicted else "working_rate_low"
    hint = hint_for(model.omitted, estimate=rate.estimate, friction=False)
    values: dict[str, object] = {
        "working": rate.value,
        "uncertainty": uncertainty,
        "predicted": predicted,
        "share": off / predicted,
        "hint": hint,
        "left_out": left_out_of(model, hint),
    }
    # What was not entered, or not weighed, may be all that is wrong.
    severity = Severity.WARNING if hint == "label" else Severity.NOTE
    return Finding(code, severity, ("sag", end), values)


def hint_for(omitted: tuple[LeftOut, ...], *, estimate: bool, friction: bool) -> Hint:
    """What a measured figure off its prediction points to first: what is most easily put right.

    >>> hint_for((), estimate=True, friction=False)
    'estimate'
    """
    if friction:
        return "friction"
    if not MATTERS_LITTLE.issuperset(omitted):
        return "without"
    return "estimate" if estimate else "label"


def left_out_of(model: EndModel, hint: Hint) -> tuple[LeftOut, ...] | None:
    """What is to be entered first where that is what the hint says."""
    return tuple(code for code in model.omitted if code not in MATTERS_LITTLE) if hint == "without" else None
