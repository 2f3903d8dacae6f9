"""Predictions from loads and springs: sag in both states, the change to the target, working rate and full travel."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

from stanchion.base.record import record
from stanchion.job.as_read import as_read
from stanchion.job.measured import changes_since_read
from stanchion.job.model import ENDS, SIDES, STATES, End, Job, State
from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.judgement.ends.air_model import has_air
from stanchion.judgement.ends.end_model import EndModel, Equilibrium, preload_case
from stanchion.judgement.ends.fork_model import ForkModel, fork_model
from stanchion.judgement.ends.front import front_figures
from stanchion.judgement.ends.loads import loads_at
from stanchion.judgement.ends.preload_adjustment import PreloadAdjustment
from stanchion.judgement.ends.rear import RearResult, shock_figures
from stanchion.judgement.ends.rear_model import RearModel, rear_model
from stanchion.judgement.ends.scale_checks import load_findings
from stanchion.judgement.ends.set_length_by_stack import by_stack
from stanchion.judgement.predict.doubts import (
    as_read_believed,
    check_before_spring,
    difference_findings,
    doubt_of_inputs,
    no_spring_judged,
)
from stanchion.judgement.predict.end_inputs import EndInputs
from stanchion.judgement.predict.full_travel import fork_full_travel, rear_full_travel
from stanchion.judgement.predict.oil_figures import oil_figures
from stanchion.judgement.predict.spring_search import SpringSearch
from stanchion.judgement.results.assessment import FrontFigures, StateFigures
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.results.predicted import (
    AirFigures,
    AirInUse,
    FullTravelFigures,
    OilFigures,
    Predicted,
    PredictedEnd,
    PredictedState,
)
from stanchion.judgement.sag.corrected_loads import AsRead, Carried, carried_at
from stanchion.judgement.sag.end_to_advise import EndToAdvise
from stanchion.judgement.sag.sag_advice import AIR_OUT_OF_REACH, NO_SPRING, EndAdvice, advise, put_first, silent
from stanchion.judgement.sag.working_rate import Captured, working_rates
from stanchion.mechanics.equilibrium import Limit
from stanchion.mechanics.fork_change import PreloadCase


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
    as_read: Mapping[tuple[End, State], AsRead],
) -> tuple[Predicted, dict[End, EndAdvice], list[Finding]]:
    """Predict both ends: the figures, the advice for each end, and the findings.

    Args:
        job: the job.
        front: figures of the fork.
        rear: figures of the shock, with its linkage.
        models: both ends as they can be computed.
        adjustments: how preload is changed at each end.
        captured: the sag readings of each end.
        as_read: the ends as they were when a sag was read that is old now; see ends_as_read().
    """
    fork, shock = models.front, models.rear
    sprung = [side for side in SIDES if job.front.leg(side).coil_fitted]
    turned = [side for side in sprung if job.front.leg(side).adjuster.counting != "none"]
    of_turns = [front.leg(side).mm_per_turn for side in (turned if job.front.split else turned[:1])]
    ends = {
        "front": EndInputs(
            end="front",
            model=fork,
            loads=loads_at(job, "front"),
            captured=captured["front"],
            adjustment=adjustments["front"],
            per_turn=derive(lambda *mm: max(mm), *of_turns) if turned else absent("no_adjuster"),
            figures=front,
            as_read=_of_end(as_read, "front"),
        ),
        "rear": EndInputs(
            end="rear",
            model=shock,
            loads=loads_at(job, "rear"),
            captured=captured["rear"],
            adjustment=adjustments["rear"],
            per_turn=rear.figures.spring.mm_per_turn,
            figures=rear.figures.spring,
            as_read=_of_end(as_read, "rear"),
        ),
    }
    full_travel = {
        "front": fork_full_travel(fork, ends["front"].loads.believed.rider_n),
        "rear": rear_full_travel(shock, ends["rear"].loads.believed.rider_n),
    }
    findings = [*load_findings(job), *_air_findings(fork, both_legs=not job.front.split)]
    figures: dict[End, PredictedEnd] = {}
    advice: dict[End, EndAdvice] = {}
    for end in ENDS:
        figures[end], advice[end], found = _predicted_end(job, ends[end], full_travel[end])
        findings += found
    return Predicted(front=figures["front"], rear=figures["rear"]), advice, findings


def ends_as_read(job: Job, old: Collection[tuple[End, State]]) -> dict[tuple[End, State], AsRead]:
    """Ends as they were when their sags were read; what is not known of them is left out.

    Args:
        job: the job.
        old: the ends and states whose sag was read with what is no longer fitted, or with another rider.
    """
    ends: dict[tuple[End, State], AsRead] = {}
    for end, state in old:
        then = as_read(job, end, state)
        if then is None:
            continue
        if end == "front":
            then = _with_stacks_as_read(then, job, state)
            model: EndModel = fork_model(then, front_figures(then.front, None)[0])
        else:
            rear = shock_figures(then, with_uncertainty=False)
            model = rear_model(then, rear.figures, rear.linkage)
        other = state == "rider" and then.job.rider_mass_kg != job.job.rider_mass_kg
        ends[end, state] = AsRead(model=model, loads=loads_at(then, end).believed, other_rider=other)
    return ends


def _with_stacks_as_read(then: Job, job: Job, state: State) -> Job:
    """The fork as it was when a sag was read, whose set lengths may have been read with other stacks before that."""
    readings = job.sag.front.static if state == "static" else job.sag.front.rider
    sides = [side for side in SIDES if then.front.leg(side).coil_fitted]
    lengths = [(then.front.leg(side).spring.set_length_mm, job.front.leg(side).spring.set_length_mm) for side in sides]
    if len(readings.stacks_mm) != len(sides) or any(was != now for was, now in lengths):
        return then
    return by_stack(then, stacks_mm=dict(zip(sides, readings.stacks_mm, strict=True)))


def _of_end(ends: Mapping[tuple[End, State], AsRead], end: End) -> dict[State, AsRead]:
    return {state: ends[end, state] for state in STATES if (end, state) in ends}


def _predicted_end(
    job: Job, of: EndInputs, full_travel: FullTravelFigures
) -> tuple[PredictedEnd, EndAdvice, list[Finding]]:
    corrected = carried_at(of.model, of.loads.believed, of.captured, as_read_believed(of))
    loads = {state: of.loads.load(state) for state in STATES}
    if corrected.by_old_sag:
        loads |= {
            state: load
            for state, load in corrected.loads.items()
            if state not in corrected.by_sag and (load.known or not of.loads.doubted)
        }
    equilibria: dict[State, Equilibrium] = {}
    if of.model.computable.known:
        for state, load in loads.items():
            if load.value is not None:
                equilibria[state] = of.model.equilibrium(load.value)
    corrected = _as_far_as_measured(of, corrected, equilibria)
    states = {state: _state(of, state, loads[state], equilibria.get(state), corrected) for state in STATES}
    static, rider = states["static"], states["rider"]
    working = working_rates(of.model, of.loads.believed, of.captured)
    doubt = doubt_of_inputs(of, states, working)
    to_advise = EndToAdvise(
        end=of.end,
        model=of.model,
        loads=of.loads.believed,
        captured=of.captured,
        adjustment=of.adjustment,
        per_turn=of.per_turn,
        carried=corrected,
        springs=SpringSearch(job, of.figures, of.adjustment.band, of.captured.static.figures.target, corrected),
    )
    if doubt is not None:
        advice = silent(doubt)
    elif has_air(job, of.end):
        from stanchion.judgement.sag.air_advice import advise_air  # noqa: PLC0415 - as in _air_of

        advice = advise_air(to_advise, of.model, job)
    else:
        advice = advise(to_advise)
    estimate = any(load.estimate for load in loads.values())
    differ = difference_findings(of, states, working, estimate=estimate)
    to_check = any(found.severity is Severity.WARNING for found in differ)
    first = None if advice.to_target is None else check_before_spring(of, advice.to_target, differ)
    if first is not None:
        advice = put_first(advice, first)
    elif to_check or of.loads.doubted:
        advice = no_spring_judged(advice, to_check=to_check)
    advice = _with_what_changed(job, of.end, advice)
    air, in_use = _air_of(job, of, loads)
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
        air=air,
        air_in_use=in_use,
        oil=_oil(job, of, loads["rider"]),
        omitted=of.model.omitted,
        estimate=estimate,
        doubted=doubt is not None or of.loads.doubted,
        to_check=to_check,
    )
    if figures.doubted:
        return figures, advice, []
    findings = [*_clip_findings(of, states, equilibria), *(() if first is not None else differ)]  # said with it
    captured = any(of.captured.state(state).figures.sag_mm.known for state in STATES)
    asked = advice.to_target
    heavier = asked is not None and (
        asked.values["work"] in ("spacer", "spring", "pressure") or asked.code in NO_SPRING | AIR_OUT_OF_REACH
    )
    turned = asked is not None and asked.values["work"] == "turns"
    if asked is not None and (heavier or turned) and (not captured or _is_old(advice)):
        findings.append(asked)
    return figures, advice, findings


def _as_far_as_measured(of: EndInputs, corrected: Carried, equilibria: Mapping[State, Equilibrium]) -> Carried:
    """The loads without those that bring the springs, by prediction alone, beyond what was measured of them."""
    beyond = {
        state: absent("beyond_tester")
        for state, equilibrium in equilibria.items()
        if equilibrium.travel_mm > of.model.measured_to_mm + SLACK and state not in corrected.by_sag
    }
    return replace(corrected, loads={**corrected.loads, **beyond}) if beyond else corrected


def _is_old(advice: EndAdvice) -> bool:
    """Whether the measured sags are older than a change, so that advice rests on predicted ones."""
    return advice.by_readings is not None and advice.by_readings.code == "measure_again_changed"


def _with_what_changed(job: Job, end: End, advice: EndAdvice) -> EndAdvice:
    """The advice in which a request to measure again names what was changed, and whether there is predicted advice."""
    again = advice.by_readings
    if again is None or not _is_old(advice):
        return advice
    changed = changes_since_read(job, end)
    values: dict[str, object] = {"changed": changed}
    if changed == ("rider",):
        values["rider_only"] = True
    target = advice.to_target
    if target is not None and (target.values.get("predicted") or target.values.get("rider_by_load")):
        values["by_prediction"] = True
    else:
        values["no_advice"] = True
    return replace(advice, by_readings=replace(again, values={**again.values, **values}))


def _state(
    of: EndInputs, state: State, load: Figure, equilibrium: Equilibrium | None, carried: Carried
) -> PredictedState:
    """One state under a load; sag is absent where the end comes to rest beyond what can be computed."""
    model = of.model
    captured: StateFigures = (of.captured.static if state == "static" else of.captured.rider).figures
    travel = derive(lambda *_: equilibrium.travel_mm if equilibrium else 0.0, model.computable, load)
    limit = equilibrium.limit if equilibrium is not None else Limit.NONE
    if limit is Limit.BOTTOMED and model.end_unknown is not None:
        travel, limit = model.end_unknown, Limit.NONE
    if travel.value is not None and travel.value > model.measured_to_mm + SLACK:
        travel, limit = absent("beyond_tester"), Limit.NONE
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


def _case(of: EndInputs, captured: StateFigures, taken: Figure, travel: Figure, limit: Limit) -> str:
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
    of: EndInputs, states: Mapping[State, PredictedState], equilibria: Mapping[State, Equilibrium]
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


def _air_of(job: Job, of: EndInputs, loads: Mapping[State, Figure]) -> tuple[AirFigures | None, tuple[AirInUse, ...]]:
    """Figures of its air. Few machines are sprung by it, so the modules are imported only then."""
    if not has_air(job, of.end):
        return None, ()
    from stanchion.judgement.predict.air_figures import air_figures  # noqa: PLC0415
    from stanchion.judgement.predict.air_in_use import air_in_use  # noqa: PLC0415

    return air_figures(job, of.end, of.model, loads), air_in_use(job, of.end)


def _oil(job: Job, of: EndInputs, rider_n: Figure) -> OilFigures | None:
    """What the oil level of a fork does; None at the rear."""
    if not isinstance(of.model, ForkModel):
        return None
    marker = job.runs[-1].front_marker_mm if job.runs else None
    deepest = recorded(marker, ("runs", max(0, len(job.runs) - 1), "front_marker_mm"))
    if job.runs and job.runs[-1].marker_from == "static":
        deepest = derive(lambda mm, sag: mm + sag, deepest, of.captured.static.figures.sag_mm)
    return oil_figures(job, of.model, rider_n, deepest)


def _air_findings(fork: ForkModel, *, both_legs: bool) -> Iterator[Finding]:
    """Findings on recorded air that is impossible."""
    values = {"both_legs": True} if both_legs else {}
    for side, code in fork.impossible:
        if code == "bled_beyond_travel":
            yield Finding("bled_beyond_travel", Severity.WARNING, ("front", side, "bleed", "at_mm"), values)
        else:
            yield Finding("air_no_room", Severity.WARNING, ("front", side, "air_gap_mm"), values)
