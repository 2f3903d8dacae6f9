"""Judging a whole job: calls the judgement of each part and gathers figures, findings and cautions."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from stanchion.job.calibration import NOT_CALIBRATED
from stanchion.job.measured import changed_since_read
from stanchion.job.model import ENDS, STATES, Drive, End, Job, PointsRead, State, Swingarm
from stanchion.judgement import unjudged
from stanchion.judgement.criteria.cautions import CAUTIONS, cautions_for
from stanchion.judgement.criteria.own_targets import own_target_findings, profile_for
from stanchion.judgement.criteria.profiles import FALLBACK, PreloadBand, Profile, Profiles
from stanchion.judgement.criteria.thresholds import TRAVEL_NOT_AS_MEANT
from stanchion.judgement.ends.coils import coil_findings, springs_figures
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.ends.front import front_figures
from stanchion.judgement.ends.instruments import own_length
from stanchion.judgement.ends.length_cause import ends_out_by_length, with_causes_alone
from stanchion.judgement.ends.loads import with_scales_corrected
from stanchion.judgement.ends.outside import outside_findings
from stanchion.judgement.ends.preload_adjustment import PreloadAdjustment, front_adjustment, rear_adjustment
from stanchion.judgement.ends.rear import RearResult, shock_figures
from stanchion.judgement.ends.rebound_after_spring import rebound_findings
from stanchion.judgement.ends.set_length_by_stack import by_stack
from stanchion.judgement.ends.stops import stop_findings
from stanchion.judgement.ends.top_out import top_out_note
from stanchion.judgement.missing import missing_findings
from stanchion.judgement.plausible import at_odds, implausible, previous_findings
from stanchion.judgement.predict.change_over import change_over_findings, change_overs
from stanchion.judgement.predict.changing_rate import changing_rate_findings
from stanchion.judgement.predict.geometry import (
    geometry_figures,
    geometry_findings,
    marked_by_doubt,
    state_for_geometry,
)
from stanchion.judgement.predict.prediction import EndModels, end_models, ends_as_read, predict
from stanchion.judgement.predict.steering_change import steering_findings
from stanchion.judgement.results.assessment import (
    Assessment,
    EndSagFigures,
    FrontFigures,
    GeometryFigures,
    RearFigures,
    SagFigures,
)
from stanchion.judgement.results.findings import DOUBTS, Finding, Severity, worst_first
from stanchion.judgement.results.parts import Parts
from stanchion.judgement.results.predicted import Predicted
from stanchion.judgement.results.ridden import MarkerReference, RunFigures
from stanchion.judgement.sag.behind_top_out import noted_behind
from stanchion.judgement.sag.both_ends import both_ends
from stanchion.judgement.sag.marked_by_sag import alike_by_sag, at_end_by_sag, marked_by_sag
from stanchion.judgement.sag.sag_advice import EndAdvice
from stanchion.judgement.sag.sag_figures import Measured, measure_end
from stanchion.judgement.sag.working_rate import Captured
from stanchion.judgement.track.marker_reference import marker_references, with_hanging_as_ridden
from stanchion.judgement.track.run_by_sag import run_by_sag
from stanchion.judgement.track.run_figures import latest_marked, run_figures, run_findings
from stanchion.judgement.track.tyres import tyre_findings
from stanchion.judgement.track.upkeep import upkeep_figures, upkeep_findings
from stanchion.mechanics.statistics import Uncertainty


def assess(job: Job, profiles: Profiles, previous: Job | None = None) -> Assessment:
    """Everything derived from a job: pure, and fast enough to run at every keystroke.

    Args:
        job: what is recorded.
        profiles: bands and targets. The job's `use` names the profile to judge by; where there is none of that name,
            "track" is used, with a warning.
        previous: the job this one was carried from, if available.

    Returns:
        Figures, findings worst first, and the cautions that apply. A figure that lacks data is absent and names what
        is missing. Where an error of the program stops a part, it is among the faults. Nothing raises.
    """
    parts = Parts()
    profile = profile_for(job, profiles)
    findings = parts.found("checks", _profile_findings, job, profiles)
    job = parts.judged("checks", job, with_scales_corrected, job)  # nothing that follows knows other readings of scales
    fitted = parts.judged("front", job, by_stack, job, previous)  # set lengths as they are with the stacks fitted
    front, found = parts.judged(
        "front", (unjudged.FRONT, []), front_figures, fitted.front, profile.front.installed_preload, *_read_with(job)
    )
    findings += found
    after_front = len(findings)  # findings on the shock are inserted here, once its travel at rider sag is known

    states, sag_findings = parts.judged("sag", (unjudged.STATES_OF_ENDS, []), _measured, job, profile)
    sags_mm = _sags_mm(states["rear"])
    bands = {end: profile.end(end).installed_preload for end in ENDS}
    rear = parts.judged("rear", unjudged.REAR, shock_figures, job, bands["rear"], sags_mm)
    springs = parts.judged("springs", unjudged.SPRINGS, springs_figures, fitted.front, job.rear, front, rear.figures)
    findings += parts.found("springs", coil_findings, fitted.front, job.rear, springs, *_read_with(job))
    findings += parts.found("springs", stop_findings, job.front, job.rear)
    findings += sag_findings

    models = parts.judged("prediction", unjudged.MODELS, end_models, fitted, front, rear)
    rear = parts.judged("rear", rear, _at_true_travel, job, rear, models.rear, sags_mm, bands["rear"])
    lengths = parts.found("checks", previous_findings, job, previous, front, bands["front"])
    adjustments = _adjustments(parts, fitted, front, rear, bands, models=models, found=[*findings, *lengths])
    captured: dict[End, Captured] = {end: _captured(states[end], sag_findings, end) for end in ENDS}
    old = [(end, state) for end in ENDS for state in STATES if states[end][state].changed]
    predicted, advice, found = parts.judged(
        "prediction",
        (unjudged.PREDICTED, unjudged.ADVICE, []),
        predict,
        fitted,
        front,
        rear,
        models,
        adjustments=adjustments,
        captured=captured,
        as_read=parts.judged("prediction", {}, ends_as_read, job, old),
    )
    sag = SagFigures(
        front=_end_sag(captured["front"], advice["front"]), rear=_end_sag(captured["rear"], advice["rear"])
    )
    findings += [finding for finding in found if finding.code in DOUBTS]
    findings += parts.found("sag", _sag_findings, job, sag, models, adjustments)
    findings += [finding for finding in found if finding.code not in DOUBTS]
    findings += parts.found("prediction", changing_rate_findings, job, models, sag, predicted)
    if sags_mm == (None, None):
        predicted_mm = (predicted.rear.rider.travel_mm.value, predicted.rear.static.travel_mm.value)
        rear = parts.judged("rear", unjudged.REAR, shock_figures, job, bands["rear"], predicted_mm)
    findings[after_front:after_front] = [*lengths, *rear.findings]
    changes = parts.judged("prediction", (), change_overs, job, models, (front, rear.figures), sag, predicted)
    findings += parts.found("prediction", change_over_findings, job, changes)

    geometry = parts.judged("geometry", unjudged.GEOMETRY, _geometry, job, sag, predicted, rear.figures)
    findings += [
        *parts.found("geometry", geometry_findings, job, geometry),
        *parts.found("geometry", _lift_findings, job, sag, predicted, rear.figures),
    ]
    findings += parts.found("geometry", steering_findings, job, previous, sag, predicted.sag, rear.figures.motion_ratio)
    references = parts.judged(
        "runs", unjudged.MARKER_REFERENCES, marker_references, fitted, front, rear.figures, sag, models
    )
    run, found = _latest_run(parts, job, references)
    findings += found
    upkeep = parts.judged("upkeep", unjudged.UPKEEP, upkeep_figures, job.upkeep)
    findings += [
        *parts.found("upkeep", upkeep_findings, job, previous),
        *parts.found("upkeep", _drive_findings, job, previous),
        *parts.found("geometry", _points_and_arm_findings, job, rear.figures),
    ]
    findings += parts.found("checks", _travel_findings, job, profile)
    for marked in (marked_by_sag, at_end_by_sag, run_by_sag, alike_by_sag, noted_behind):
        findings = [marked(finding, sag, predicted) for finding in findings]
    findings += parts.found("work_list", _work_findings, job)
    for of_changes in (outside_findings, rebound_findings):
        findings += parts.found("checks", of_changes, job, previous)
    findings += [*parts.found("checks", implausible, job), *parts.found("checks", at_odds, job)]
    findings += parts.found("checks", missing_findings, job, profile, front, rear.figures, sag)
    cautions = parts.judged("cautions", CAUTIONS, cautions_for, job, findings)
    return Assessment(
        front=front,
        rear=rear.figures,
        sag=sag,
        predicted=predicted,
        geometry=geometry,
        run=run,
        marker_references=references,
        upkeep=upkeep,
        springs=springs,
        findings=worst_first([*parts.findings(), *with_causes_alone(findings)]),
        cautions=cautions,
        change_overs=changes,
        faults=tuple(parts.faults),
    )


def _adjustments(
    parts: Parts,
    job: Job,
    front: FrontFigures,
    rear: RearResult,
    bands: Mapping[End, PreloadBand | None],
    *,
    models: EndModels,
    found: Iterable[Finding],
) -> dict[End, PreloadAdjustment]:
    """How far preload can be changed at each end, and what a change of it does."""
    by_length = parts.judged("checks", {}, ends_out_by_length, [*found, *rear.findings])
    adjustments: dict[End, PreloadAdjustment] = {
        "front": parts.judged(
            "front", unjudged.ADJUSTMENT, front_adjustment, job.front, front, bands["front"], models.front
        ),
        "rear": parts.judged("rear", unjudged.ADJUSTMENT, rear_adjustment, job.rear, rear, bands["rear"], models.rear),
    }
    return {end: replace(of, by_length=by_length.get(end, "")) for end, of in adjustments.items()}


def _latest_run(
    parts: Parts, job: Job, references: Mapping[End, MarkerReference]
) -> tuple[RunFigures | None, list[Finding]]:
    """What the latest run tells, with the findings on the latest markers; None where there is no run."""
    if not job.runs:
        return None, []
    latest, marked = len(job.runs) - 1, latest_marked(job)
    ridden = job.runs[marked]
    as_ridden = parts.judged("runs", unjudged.MARKER_REFERENCES, with_hanging_as_ridden, job, ridden, references)
    run = of_markers = parts.judged("runs", unjudged.RUN, run_figures, job, marked, references, as_ridden)
    if marked != latest:
        run = parts.judged("runs", unjudged.RUN, run_figures, job, latest, references)
    findings = parts.found("runs", run_findings, job, marked, of_markers, as_ridden)
    return run, findings + parts.found("runs", tyre_findings, job, run)


def _profile_findings(job: Job, profiles: Profiles) -> Iterator[Finding]:
    """Findings on a profile that does not exist, own targets that do not count, and scales whose readings are
    corrected."""
    if profiles.get(job.job.use) is None:
        values = {"use": job.job.use, "fallback": FALLBACK, "names": ", ".join(profiles.names)}
        yield Finding("unknown_use", Severity.WARNING, ("job", "use"), values)
    yield from own_target_findings(job)
    if job.calibration != NOT_CALIBRATED:  # few jobs are, so the module is imported only then
        from stanchion.judgement.ends.calibrated import calibration_findings  # noqa: PLC0415

        yield from calibration_findings(job)


def _read_with(job: Job) -> tuple[float | None, Uncertainty | None]:
    """Smallest division of the tape, and how sure one length is by the technician's own study."""
    return job.sag.tape_resolution_mm, own_length(job.repeatability)


def _measured(job: Job, profile: Profile) -> tuple[dict[End, dict[State, Measured]], list[Finding]]:
    """Both sags of each end as measured, and the findings on the readings."""
    states: dict[End, dict[State, Measured]] = {}
    findings: list[Finding] = []
    for end in ENDS:
        travel = job.front.travel_mm if end == "front" else job.rear.wheel_travel_mm
        changed = [state for state in STATES if changed_since_read(job, end, state)]
        of, tape, own = job.sag.end(end), job.sag.tape_resolution_mm, job.repeatability
        states[end], found = measure_end(of, end, profile.end(end), travel, tape, own=own, changed=changed)
        findings += found
    return states, findings


def _sags_mm(states: Mapping[State, Measured]) -> tuple[float | None, float | None]:
    """Rider sag and static sag [mm]; None where it was not read with the parts fitted now."""
    rider, static = (None if states[s].changed else states[s].figures.sag_mm.value for s in _RIDER_FIRST)
    return rider, static


def _at_true_travel(
    job: Job,
    rear: RearResult,
    model: EndModel,
    sags_mm: tuple[float | None, float | None],
    band: PreloadBand | None,
) -> RearResult:
    """The shock's figures at the wheel travel of the sag they were worked out for. Sag counts from the hanging wheel,
    which a top-out spring keeps off full extension, and goes no further than full travel."""
    hangs_mm = model.unloaded.travel_mm if model.hanging.known else 0.0
    most_mm = model.full_travel_mm if model.computable.known and model.end_unknown is None else math.inf
    rider, static = (None if mm is None else min(hangs_mm + mm, most_mm) for mm in sags_mm)
    if (rider, static) == sags_mm:
        return rear
    return shock_figures(job, band, (rider, static))


_RIDER_FIRST: tuple[State, State] = ("rider", "static")


def _captured(states: Mapping[State, Measured], sag_findings: Iterable[Finding], end: End) -> Captured:
    impossible = any(
        finding.code == "rider_above_static" and finding.where[:2] == ("sag", end) for finding in sag_findings
    )
    return Captured(static=states["static"], rider=states["rider"], impossible=impossible)


def _end_sag(captured: Captured, advice: EndAdvice) -> EndSagFigures:
    return EndSagFigures(
        static=captured.static.figures,
        rider=captured.rider.figures,
        projected_static_mm=advice.projected_static_mm,
        advice=advice.by_readings,
        static_hidden=advice.static_hidden,
        behind=advice.behind,
    )


def _sag_findings(
    job: Job, sag: SagFigures, models: EndModels, adjustments: Mapping[End, PreloadAdjustment]
) -> Iterator[Finding]:
    """The advice of each end, findings on both ends together, and notes on top-out springs."""
    yield from (advice for advice in (sag.front.advice, sag.rear.advice) if advice is not None)
    yield from both_ends(sag.front, sag.rear)
    for end in ENDS:
        top_out = job.front.top_out if end == "front" else job.rear.top_out
        known = any(sag.end(end).state(state).sag_mm.known for state in STATES)
        yield from top_out_note(end, top_out, models.end(end), adjustments[end].top_out_share, sag_known=known)


def _geometry(job: Job, sag: SagFigures, predicted: Predicted, rear: RearFigures) -> GeometryFigures:
    at_state = state_for_geometry(sag, predicted.sag)
    doubted = {end for end in ENDS if predicted.end(end).doubted}
    return geometry_figures(job, marked_by_doubt(at_state, doubted), rear.motion_ratio)


def _lift_findings(job: Job, sag: SagFigures, predicted: Predicted, rear: RearFigures) -> Iterator[Finding]:
    """Findings on readings with the front lifted. Few jobs have any, so the module is imported only then."""
    if job.balance.lifts:
        from stanchion.judgement.predict.balance import lift_findings  # noqa: PLC0415

        yield from lift_findings(job, sag, predicted.sag, rear.motion_ratio)


def _drive_findings(job: Job, previous: Job | None) -> Iterator[Finding]:
    """Findings on swingarm and chain. Few jobs have any, so the module is imported only then."""
    if job.swingarm != Swingarm() or job.drive != Drive():
        from stanchion.judgement.track.drive import drive_findings  # noqa: PLC0415

        yield from drive_findings(job, previous)


def _points_and_arm_findings(job: Job, rear: RearFigures) -> Iterator[Finding]:
    """The swingarm as measured beside its linkage points. Few jobs have both, so the module is imported only then."""
    if job.swingarm != Swingarm() and job.rear.points != PointsRead():
        from stanchion.judgement.predict.points_and_arm import points_and_arm_findings  # noqa: PLC0415

        yield from points_and_arm_findings(job, rear.motion_ratio)


def _travel_findings(job: Job, profile: Profile) -> Iterator[Finding]:
    """A note where targets in mm are given for machines with another travel than this one."""
    for end in ENDS:
        intended = profile.end(end).travel
        travel = job.front.travel_mm if end == "front" else job.rear.wheel_travel_mm
        targets = (profile.end(end).static_sag, profile.end(end).rider_sag)
        if (
            intended is None
            or travel is None
            or all(t is None or t.as_share_of_travel or t.source is not None for t in targets)
        ):
            continue
        if not intended[0] * (1 - TRAVEL_NOT_AS_MEANT) <= travel <= intended[1] * (1 + TRAVEL_NOT_AS_MEANT):
            yield Finding(
                "travel_not_as_meant",
                Severity.NOTE,
                ("front", "travel_mm") if end == "front" else ("rear", "wheel_travel_mm"),
                {"travel_mm": travel, "low_mm": intended[0], "high_mm": intended[1], "profile": profile.label},
            )


def _work_findings(job: Job) -> Iterator[Finding]:
    """Findings on an open work list, and on changes judged by riding. Few jobs have them: modules wait till then."""
    if job.returning is not None:
        from stanchion.judgement.work.work_list import work_findings  # noqa: PLC0415

        yield from work_findings(job)
    if job.changes or any(run.change or run.complaints for run in job.runs[-1:]):
        from stanchion.judgement.work.proof import proof_findings  # noqa: PLC0415

        yield from proof_findings(job)
    if any(run.complaints for run in job.runs):
        from stanchion.judgement.work.safety import safety_findings  # noqa: PLC0415

        yield from safety_findings(job)
