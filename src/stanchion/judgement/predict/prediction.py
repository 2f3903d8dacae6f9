"""Predictions from loads and springs: sag in both states, the change to the target, working rate and full travel."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping
from functools import cached_property
from typing import TYPE_CHECKING

from stanchion.base.record import record
from stanchion.job.measured import as_read
from stanchion.job.model import ENDS, SIDES, STATES, End, Job, State
from stanchion.judgement.criteria.thresholds import (
    INPUTS_DOUBTED,
    PREDICTED_SAG_DIFFERS,
    PREDICTED_SAG_DIFFERS_MM,
    USUAL_TRAVEL_MM,
)
from stanchion.judgement.ends.end_model import EndModel, Equilibrium, preload_case
from stanchion.judgement.ends.fork_model import ForkModel, fork_model
from stanchion.judgement.ends.front import front_figures
from stanchion.judgement.ends.loads import EndLoads, load_findings, loads_at
from stanchion.judgement.ends.preload_adjustment import PreloadAdjustment
from stanchion.judgement.ends.rear import RearResult, rear_figures
from stanchion.judgement.ends.rear_model import RearModel, rear_model
from stanchion.judgement.predict.full_travel import fork_full_travel, rear_full_travel
from stanchion.judgement.results.assessment import FrontFigures, PreloadFigures, StateFigures
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.results.predicted import (
    FullTravelFigures,
    Predicted,
    PredictedEnd,
    PredictedState,
    WorkingRateFigures,
)
from stanchion.judgement.sag.corrected_loads import Carried, carried_at, topped_out_at
from stanchion.judgement.sag.remedies import NoSuitableRate
from stanchion.judgement.sag.sag_advice import NO_SPRING, EndAdvice, EndToAdvise, advise, silent
from stanchion.judgement.sag.targets import Aims
from stanchion.judgement.sag.working_rate import Captured, hint_for, rate_doubted, working_finding, working_rates
from stanchion.mechanics.equilibrium import Limit
from stanchion.mechanics.fork_change import PreloadCase
from stanchion.mechanics.statistics import Uncertainty

if TYPE_CHECKING:
    from stanchion.judgement.springs.spring_swap import SpringSwap


@record(kw_only=True)
class _EndInputs:
    """One end with everything its prediction needs."""

    end: End
    model: EndModel
    loads: EndLoads
    captured: Captured
    adjustment: PreloadAdjustment
    per_turn: Figure
    """Preload of one turn; known where it is known for every adjuster."""
    figures: FrontFigures | PreloadFigures
    """Its springs with their preload."""
    as_read: Mapping[State, EndModel]
    """The end as it was when a sag was read that is old now."""

    def swap(self, job: Job) -> SpringSwap:
        """That end, to try other springs in."""
        from stanchion.judgement.springs.fork_spring_swap import ForkSpringSwap  # noqa: PLC0415
        from stanchion.judgement.springs.rear_spring_swap import RearSpringSwap  # noqa: PLC0415

        figures = self.figures
        return ForkSpringSwap(job, figures) if isinstance(figures, FrontFigures) else RearSpringSwap(job, figures)


@record(kw_only=True)
class EndModels:
    """Both ends of a machine as they can be computed."""

    front: ForkModel
    rear: RearModel

    def end(self, end: End) -> EndModel:
        """The model of one end."""
        return self.front if end == "front" else self.rear


def end_models(job: Job, front: FrontFigures, rear: RearResult) -> EndModels:
    """Both ends as they can be computed from a job.

    Args:
        job: the job.
        front: figures of the fork.
        rear: figures of the shock, with its linkage.
    """
    return EndModels(front=fork_model(job, front), rear=rear_model(job, rear.figures, rear.linkage))


def predict(
    job: Job,
    front: FrontFigures,
    rear: RearResult,
    models: EndModels,
    *,
    adjustments: Mapping[End, PreloadAdjustment],
    captured: Mapping[End, Captured],
    old_models: Mapping[tuple[End, State], EndModel],
) -> tuple[Predicted, dict[End, EndAdvice], list[Finding]]:
    """Predict both ends: the figures, the advice for each end, and the findings.

    Args:
        job: the job.
        front: figures of the fork.
        rear: figures of the shock, with its linkage.
        models: both ends as they can be computed.
        adjustments: how preload is changed at each end.
        captured: the sag readings of each end.
        old_models: the ends as they were when a sag was read that is old now; see models_as_read().
    """
    fork, shock = models.front, models.rear
    sprung = [side for side in SIDES if job.front.leg(side).spring_fitted]
    turned = [side for side in sprung if job.front.leg(side).adjuster.counting != "none"]
    of_turns = [front.leg(side).mm_per_turn for side in (turned if job.front.split else turned[:1])]
    ends = {
        "front": _EndInputs(
            end="front",
            model=fork,
            loads=loads_at(job, "front"),
            captured=captured["front"],
            adjustment=adjustments["front"],
            per_turn=derive(lambda *mm: max(mm), *of_turns) if turned else absent("no_adjuster"),
            figures=front,
            as_read=_of_end(old_models, "front"),
        ),
        "rear": _EndInputs(
            end="rear",
            model=shock,
            loads=loads_at(job, "rear"),
            captured=captured["rear"],
            adjustment=adjustments["rear"],
            per_turn=rear.figures.spring.mm_per_turn,
            figures=rear.figures.spring,
            as_read=_of_end(old_models, "rear"),
        ),
    }
    full_travel = {
        "front": fork_full_travel(fork, ends["front"].loads.rider_n),
        "rear": rear_full_travel(shock, ends["rear"].loads.rider_n),
    }
    findings = [*load_findings(job), *_air_findings(fork, both_legs=not job.front.split)]
    figures: dict[End, PredictedEnd] = {}
    advice: dict[End, EndAdvice] = {}
    for end in ENDS:
        figures[end], advice[end], found = _predicted_end(job, ends[end], full_travel[end])
        findings += found
    return Predicted(front=figures["front"], rear=figures["rear"]), advice, findings


def models_as_read(job: Job, old: Collection[tuple[End, State]]) -> dict[tuple[End, State], EndModel]:
    """Ends as they were when their sags were read; what is not known of them is left out.

    Args:
        job: the job.
        old: the ends and states whose sag was read with other springs or preload than are in now.
    """
    models: dict[tuple[End, State], EndModel] = {}
    for end, state in old:
        then = as_read(job, end, state)
        if then is None:
            continue
        if end == "front":
            models[end, state] = fork_model(then, front_figures(then.front, None)[0])
        else:
            rear = rear_figures(then.rear, None, (None, None), with_uncertainty=False)
            models[end, state] = rear_model(then, rear.figures, rear.linkage)
    return models


def _of_end(models: Mapping[tuple[End, State], EndModel], end: End) -> dict[State, EndModel]:
    return {state: models[end, state] for state in STATES if (end, state) in models}


class _SpringSearch:
    """Looks for other springs for one end. The modules for that are imported only when it is called."""

    def __init__(self, job: Job, of: _EndInputs, carried: Carried) -> None:
        self._job, self._of, self._carried, self._loads = job, of, carried, carried.known()

    def __call__(self, aims: Aims, *, exactly: bool = False) -> NoSuitableRate | None:
        """The nearest rate where no rate that is sold brings both sags in; None where one does, or where it is not
        known."""
        from stanchion.judgement.springs.rate_window import find_no_suitable_rate, rate_requirements  # noqa: PLC0415

        swap = self._swap
        if not swap.computable.known or swap.rate_now is None or "rider" not in self._loads:
            return None
        asked = rate_requirements(self._loads, self._carried.static_at_most_n, self._of.adjustment.band, aims)
        return find_no_suitable_rate(swap, asked, swap.rate_now, exactly=exactly)

    @cached_property
    def _swap(self) -> SpringSwap:
        return self._of.swap(self._job)


def _predicted_end(
    job: Job, of: _EndInputs, full_travel: FullTravelFigures
) -> tuple[PredictedEnd, EndAdvice, list[Finding]]:
    corrected = carried_at(of.model, of.loads, of.captured, _as_read_believed(of))
    loads = {state: of.loads.load(state) for state in STATES}
    if corrected.by_old_sag:
        loads |= {state: corrected.loads[state] for state in STATES if state not in corrected.by_sag}
    equilibria: dict[State, Equilibrium] = {}
    if of.model.computable.known:
        for state, load in loads.items():
            if load.value is not None:
                equilibria[state] = of.model.equilibrium(load.value)
    states = {state: _state(of, state, loads[state], equilibria.get(state), corrected) for state in STATES}
    static, rider = states["static"], states["rider"]
    working = working_rates(of.end, of.model, of.loads, of.captured)
    doubt = _doubt(of, states, working)
    advice = (
        silent(doubt)
        if doubt is not None
        else advise(
            EndToAdvise(
                end=of.end,
                model=of.model,
                loads=of.loads,
                captured=of.captured,
                adjustment=of.adjustment,
                per_turn=of.per_turn,
                carried=corrected,
                springs=_SpringSearch(job, of, corrected),
            )
        )
    )
    figures = PredictedEnd(
        static=static,
        rider=rider,
        static_at_most_n=corrected.static_at_most_n,
        rider_minus_static_mm=derive(lambda r, s: r - s, rider.sag_mm, static.sag_mm),
        turns_for_target=advice.turns,
        mm_for_target=advice.preload_mm,
        target=advice.to_target,
        working_rate=working,
        full_travel=full_travel,
        omitted=of.model.omitted,
        estimate=any(load.estimate for load in loads.values()),
    )
    if doubt is not None:
        return figures, advice, []
    findings = [*_clip_findings(of, states, equilibria), *_difference_findings(of, states, figures, advice.by_readings)]
    rate = working_finding(of.end, of.model, working)
    findings += [rate] if rate is not None else []
    captured = any(of.captured.state(state).figures.sag_mm.known for state in STATES)
    asked = advice.to_target
    heavier = asked is not None and (asked.values["work"] in ("spacer", "spring") or asked.code in NO_SPRING)
    if asked is not None and heavier and not captured:
        findings.append(asked)
    return figures, advice, findings


def _doubt(of: _EndInputs, states: Mapping[State, PredictedState], working: WorkingRateFigures) -> Finding | None:
    """Warning that an entry must be wrong: a measured sag, or the working rate between both sags, lies too far from
    what loads and springs predict."""
    travel_mm = (
        of.model.full_travel_mm if of.model.computable.known and of.model.end_unknown is None else USUAL_TRAVEL_MM
    )
    for state in ("rider", "static"):
        off, sag = states[state].difference_mm.value, states[state].sag_mm.value
        at_most_mm = topped_out_at(of.captured, state)
        if sag is not None and at_most_mm is not None and of.captured.believed:
            off = min(0.0, at_most_mm - sag)
        spread = of.captured.state(state).figures.expanded_mm.value
        far = off is not None and _differs(of, state, off, spread or 0.0, INPUTS_DOUBTED * travel_mm)
        if off is None or sag is None or not (far or rate_doubted(working)):
            continue
        values = {"end": of.end, "work": "inputs", "captured_mm": sag + off, "predicted_mm": sag}
        return Finding("inputs_doubted", Severity.WARNING, ("sag", of.end, state), values)
    return None


def _as_read_believed(of: _EndInputs) -> Mapping[State, EndModel]:
    """The end as it was when its old sags were read; nothing where one of them is so far from what springs and loads
    gave then that the entries were doubted."""
    travel_mm = (
        of.model.full_travel_mm if of.model.computable.known and of.model.end_unknown is None else USUAL_TRAVEL_MM
    )
    for state, model in of.as_read.items():
        figures, load_n = of.captured.state(state).figures, of.loads.load(state).value
        if figures.sag_mm.value is None or load_n is None or not model.computable.known:
            continue
        predicted_mm = model.equilibrium(load_n).travel_mm - model.unloaded.travel_mm
        at_most_mm = topped_out_at(of.captured, state)
        off_mm = figures.sag_mm.value - predicted_mm if at_most_mm is None else min(0.0, at_most_mm - predicted_mm)
        spread_mm = figures.expanded_mm.value or 0.0
        if _differs(of, state, off_mm, spread_mm, INPUTS_DOUBTED * travel_mm, model=model):
            return {}
    return of.as_read


def _differs(
    of: _EndInputs, state: State, off_mm: float, spread_mm: float, least_mm: float, *, model: EndModel | None = None
) -> bool:
    """Whether a measured sag differs from the predicted one by more than `least_mm` and by more than the uncertainty of
    the readings and of the load."""
    if abs(off_mm) <= max(least_mm, spread_mm):
        return False
    load_n = of.loads.load(state).value or 0.0
    off_n = Uncertainty(of.loads.uncertainty_n[state]).expanded
    less, more = ((model or of.model).equilibrium(max(0.0, load_n + n)).travel_mm for n in (-off_n, off_n))
    return abs(off_mm) > math.hypot(spread_mm, (more - less) / 2.0)


def _state(
    of: _EndInputs, state: State, load: Figure, equilibrium: Equilibrium | None, carried: Carried
) -> PredictedState:
    """One state under a load; sag is absent where the end comes to rest beyond what can be computed."""
    model = of.model
    captured: StateFigures = (of.captured.static if state == "static" else of.captured.rider).figures
    travel = derive(lambda *_: equilibrium.travel_mm if equilibrium else 0.0, model.computable, load)
    limit = equilibrium.limit if equilibrium is not None else Limit.NONE
    if limit is Limit.BOTTOMED and model.end_unknown is not None:
        travel, limit = model.end_unknown, Limit.NONE
    sag = derive(lambda at: at - model.unloaded.travel_mm, travel)
    taken = captured.sag_mm if of.captured.believed and not captured.topped_out else absent("readings_doubtful")
    if not captured.sag_mm.known:
        taken = captured.sag_mm
    return PredictedState(
        sag_mm=sag,
        load_n=of.loads.load(state),
        carried_n=carried.loads[state],
        travel_mm=travel,
        limit=limit.value,
        difference_mm=derive(lambda c, p: c - p, taken, sag),
        preload_case=_case(of, captured, taken, travel, limit),
    )


def _case(of: _EndInputs, captured: StateFigures, taken: Figure, travel: Figure, limit: Limit) -> str:
    """Which case a change of preload falls under: by the captured sag where there is one, otherwise by the
    prediction."""
    if not of.model.computable.known:
        return ""
    if of.captured.believed and captured.topped_out:
        return PreloadCase.TOPPED_OUT.value
    if taken.value is not None:
        return preload_case(of.model, of.model.unloaded.travel_mm + taken.value, Limit.NONE).value
    return "" if travel.value is None else preload_case(of.model, travel.value, limit).value


def _clip_findings(
    of: _EndInputs, states: Mapping[State, PredictedState], equilibria: Mapping[State, Equilibrium]
) -> Iterator[Finding]:
    """Findings that an end is predicted to bottom or to top out, or that the load balances at more than one place."""
    for state in STATES:
        limit = states[state].limit
        if limit == Limit.BOTTOMED.value:
            yield Finding("predicted_bottoms", Severity.WARNING, ("sag", of.end, state))
        elif limit == Limit.TOPPED_OUT.value:
            severity = Severity.WARNING if state == "rider" else Severity.NOTE
            yield Finding("predicted_tops_out", severity, ("sag", of.end, state))
    if any(not equilibrium.only_one for equilibrium in equilibria.values()):
        yield Finding("predicted_twice", Severity.NOTE, ("rear", "linkage"))


def _difference_findings(
    of: _EndInputs, states: Mapping[State, PredictedState], figures: PredictedEnd, advice: Finding | None
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
        if _differs(of, state, off, spread, max(PREDICTED_SAG_DIFFERS_MM, PREDICTED_SAG_DIFFERS * sag)):
            stuck_mm = measured.figures.stiction_mm.value or 0.0
            # Friction holds the machine anywhere within half the stiction on either side.
            by_friction = measured.sticks or abs(off) <= stuck_mm / 2.0
            hint = hint_for(figures.omitted, estimate=figures.estimate, friction=by_friction)
            values = {"captured_mm": sag + off, "predicted_mm": sag, "hint": hint}
            severity = Severity.NOTE if advice is None or hint != "label" else advice.severity
            yield Finding("sag_not_as_predicted", severity, ("sag", of.end, state), values)
            return


def _air_findings(fork: ForkModel, *, both_legs: bool) -> Iterator[Finding]:
    """Findings on recorded air that is impossible."""
    values = {"both_legs": True} if both_legs else {}
    for side, code in fork.impossible:
        if code == "bled_beyond_travel":
            yield Finding("bled_beyond_travel", Severity.WARNING, ("front", side, "bleed", "at_mm"), values)
        else:
            yield Finding("air_no_room", Severity.WARNING, ("front", side, "air_gap_mm"), values)
