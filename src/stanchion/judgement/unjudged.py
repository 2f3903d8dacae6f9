"""Placeholders in an assessment for parts that an error of the program kept from being judged."""

from __future__ import annotations

from dataclasses import fields
from typing import Any, TypeVar

from stanchion.job.model import ENDS, STATES, End, State
from stanchion.judgement.ends.end_model import Equilibrium
from stanchion.judgement.ends.fork_model import ForkModel
from stanchion.judgement.ends.preload_adjustment import PreloadAdjustment
from stanchion.judgement.ends.rear import RearResult
from stanchion.judgement.ends.rear_model import RearModel
from stanchion.judgement.predict.prediction import EndModels
from stanchion.judgement.results.assessment import (
    CoilFigures,
    FrontFigures,
    GeometryFigures,
    PreloadFigures,
    RearFigures,
    SpringsFigures,
    StateFigures,
    Steering,
    UpkeepFigures,
)
from stanchion.judgement.results.figures import PROGRAM_FAULT, absent
from stanchion.judgement.results.predicted import (
    FullTravelFigures,
    Predicted,
    PredictedEnd,
    PredictedState,
    WorkingRateFigures,
)
from stanchion.judgement.results.ridden import EndUsed, MarkerReference, RunFigures, TyreFigures
from stanchion.judgement.sag.sag_advice import EndAdvice
from stanchion.judgement.sag.sag_figures import Measured
from stanchion.mechanics.equilibrium import Limit

T = TypeVar("T")

NOT_JUDGED = absent(PROGRAM_FAULT)


def _absent(kind: type[T], **others: Any) -> T:
    """A record all of whose figures are absent.

    Args:
        kind: which record.
        others: values of its fields that are not figures.
    """
    of_kind: Any = kind
    figures = {field.name: NOT_JUDGED for field in fields(of_kind) if field.type == "Figure"}
    return kind(**figures, **others)


_PRELOAD = _absent(PreloadFigures, band=None, verdict="", read_at_mm=None)
FRONT = _absent(FrontFigures, left=_PRELOAD, right=_PRELOAD)
REAR = RearResult(_absent(RearFigures, spring=_PRELOAD, at_travel_mm=0.0), NOT_JUDGED, [], None)

_COILS = _absent(CoilFigures)
SPRINGS = SpringsFigures(left=_COILS, right=_COILS, rear=_COILS)

_STATE = _absent(StateFigures, target=None, verdict="", topped_out=False, down_only=False, single_readings=False)
_MEASURED = Measured(figures=_STATE, state_uncertainty=None)
STATES_OF_ENDS: dict[End, dict[State, Measured]] = {end: dict.fromkeys(STATES, _MEASURED) for end in ENDS}
ADJUSTMENT = PreloadAdjustment(
    per_sag=None,
    share=None,
    per_turn_mm=None,
    step_mm=None,
    left_in_mm=None,
    left_out_mm=None,
    most_installed_mm=None,
    least_installed_mm=None,
    least_preload_now_mm=None,
    band=None,
    verdict="",
)

_NOWHERE = Equilibrium(0.0, Limit.NONE)
MODELS = EndModels(
    front=_absent(
        ForkModel,
        fork=None,
        omitted=(),
        cosine=1.0,
        hanging_n=0.0,
        unloaded=_NOWHERE,
        end_unknown=None,
        adjusted=(),
        tube_area_mm2=None,
    ),
    rear=_absent(
        RearModel,
        rear=None,
        omitted=(),
        hanging_n=0.0,
        unloaded=_NOWHERE,
        end_unknown=None,
        top_out_reach_mm=0.0,
    ),
)

_PREDICTED_STATE = _absent(PredictedState, limit="", preload_case="")
_PREDICTED_END = _absent(
    PredictedEnd,
    static=_PREDICTED_STATE,
    rider=_PREDICTED_STATE,
    target=None,
    working_rate=_absent(WorkingRateFigures),
    full_travel=_absent(FullTravelFigures),
    omitted=(),
    estimate=False,
)
PREDICTED = Predicted(front=_PREDICTED_END, rear=_PREDICTED_END)
ADVICE: dict[End, EndAdvice] = dict.fromkeys(ENDS, _absent(EndAdvice, by_readings=None, to_target=None))

GEOMETRY = _absent(
    GeometryFigures,
    state="extended",
    front_from="extended",
    rear_from="extended",
    baseline=_absent(Steering),
    baseline_state="extended",
    entered=False,
)

_MARKER_REFERENCE = _absent(MarkerReference, rider_verdict="", no_more="", has_adjuster=False)
MARKER_REFERENCES: dict[End, MarkerReference] = dict.fromkeys(ENDS, _MARKER_REFERENCE)
_USED = _absent(EndUsed, verdict="")
_TYRE = _absent(TyreFigures)
RUN = RunFigures(front=_USED, rear=_USED, front_tyre=_TYRE, rear_tyre=_TYRE)

UPKEEP = _absent(UpkeepFigures)
