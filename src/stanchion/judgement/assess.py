"""The one place that walks a job, calls the mechanics and gathers figures, findings and cautions."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.job.measured import changed_since_read
from stanchion.job.model import ENDS, STATES, End, Job, State
from stanchion.judgement.assessment import Assessment, EndSagFigures, SagFigures
from stanchion.judgement.behind import behind_ends
from stanchion.judgement.cautions import cautions_for
from stanchion.judgement.coil_findings import coil_findings
from stanchion.judgement.coils import springs_figures
from stanchion.judgement.ends import both_ends
from stanchion.judgement.findings import Finding, Severity, worst_first
from stanchion.judgement.front import front_figures
from stanchion.judgement.geometry import geometry_figures, geometry_findings, stand
from stanchion.judgement.means import Means, front_means, rear_means
from stanchion.judgement.missing import missing_findings
from stanchion.judgement.plausible import implausible
from stanchion.judgement.prediction import predict
from stanchion.judgement.previous import previous_findings
from stanchion.judgement.profiles import FALLBACK, Profile, Profiles
from stanchion.judgement.rear import rear_figures
from stanchion.judgement.remedy import end_figures
from stanchion.judgement.runs import run_figures, run_findings
from stanchion.judgement.sags import Measured, measure_end
from stanchion.judgement.top_out import top_out_note
from stanchion.judgement.tyres import tyre_findings
from stanchion.judgement.upkeep import upkeep_figures, upkeep_findings
from stanchion.judgement.working import Captured

TRAVEL_TOLERANCE = 0.10
"""Share by which a machine's travel may lie outside that the targets are meant for (common practice, no published
source)."""


def assess(job: Job, profiles: Profiles, previous: Job | None = None) -> Assessment:
    """Everything derived from a job: pure, and fast enough to run at every keystroke.

    Args:
        job: what is recorded.
        profiles: bands and targets; job.use names the one that judges, and one that is not there falls back to
            "track" with a warning.
        previous: the job this one was carried from, where it is to hand.

    Returns:
        Figures, findings worst first, and the cautions that apply. Missing data makes a figure absent with what it
        waits for; nothing raises.
    """
    findings: list[Finding] = []
    profile = profiles.get(job.job.use)
    if profile is None:
        profile = profiles.by_name[FALLBACK]
        findings.append(
            Finding(
                "unknown_use",
                Severity.WARNING,
                ("job", "use"),
                {"use": job.job.use, "fallback": FALLBACK, "names": ", ".join(profiles.names)},
            )
        )
    front, found = front_figures(job.front, profile.front.installed_preload)
    findings += found
    after_front = len(findings)  # the shock's come here, once it is known at what travel it is judged

    tape = job.sag.tape_resolution_mm
    states: dict[End, dict[State, Measured]] = {}
    impossible: dict[End, bool] = {}
    sag_findings: list[Finding] = []
    for end in ENDS:
        travel = job.front.travel_mm if end == "front" else job.rear.wheel_travel_mm
        changed = [state for state in STATES if changed_since_read(job, end, state)]
        states[end], found = measure_end(job.sag.end(end), end, profile.end(end), travel, tape, changed=changed)
        impossible[end] = any(finding.code == "rider_above_static" for finding in found)
        sag_findings += found

    rear_states = states["rear"]
    rear = rear_figures(
        job.rear,
        profile.rear.installed_preload,
        (rear_states["rider"].figures.sag_mm.value, rear_states["static"].figures.sag_mm.value),
    )
    springs = springs_figures(job.front, job.rear, front, rear.figures)
    findings += coil_findings(job.front, job.rear, springs)
    findings += sag_findings

    means: dict[End, Means] = {
        "front": front_means(job.front, front, profile.front.installed_preload),
        "rear": rear_means(rear, profile.rear.installed_preload),
    }
    ends: dict[End, EndSagFigures] = {
        end: end_figures(end, states[end]["static"], states[end]["rider"], means[end], impossible=impossible[end])
        for end in ENDS
    }
    sag = SagFigures(front=ends["front"], rear=ends["rear"])
    findings += (advice for advice in (sag.front.advice, sag.rear.advice) if advice is not None)
    findings += both_ends(sag.front, sag.rear)
    front_sag_known = any(state.figures.sag_mm.known for state in states["front"].values())
    findings += top_out_note(job.front, means["front"].top_out, sag_known=front_sag_known)
    captured = {
        end: Captured(static=states[end]["static"], rider=states[end]["rider"], impossible=impossible[end])
        for end in ENDS
    }
    predicted, found = predict(job, front, rear, means, captured)
    findings += found
    if not any(state.figures.sag_mm.known for state in rear_states.values()):
        stands_at = (predicted.rear.rider.travel_mm.value, predicted.rear.static.travel_mm.value)
        rear = rear_figures(job.rear, profile.rear.installed_preload, stands_at)
    findings[after_front:after_front] = rear.findings
    geometry = geometry_figures(job, stand(sag, predicted.sag), rear.figures.motion_ratio)
    findings += geometry_findings(job, geometry)
    behind = behind_ends(job, front, rear.figures, sag, means["front"].top_out)
    run = run_figures(job, len(job.runs) - 1, behind) if job.runs else None
    if run is not None:
        findings += run_findings(job, run, behind)
        findings += tyre_findings(job, run)
    upkeep = upkeep_figures(job.upkeep)
    findings += upkeep_findings(job, previous)
    findings += (*_travel_findings(job, profile), *previous_findings(job, previous))
    findings += _work_findings(job)
    findings += implausible(job)
    findings += missing_findings(job, profile, front, rear.figures, sag)
    return Assessment(
        front=front,
        rear=rear.figures,
        sag=sag,
        predicted=predicted,
        geometry=geometry,
        run=run,
        behind=behind,
        upkeep=upkeep,
        springs=springs,
        findings=worst_first(findings),
        cautions=cautions_for(job, findings),
    )


def _travel_findings(job: Job, profile: Profile) -> Iterator[Finding]:
    """Targets in mm that are meant for a machine with another travel."""
    for end in ENDS:
        meant = profile.end(end).travel
        travel = job.front.travel_mm if end == "front" else job.rear.wheel_travel_mm
        targets = (profile.end(end).static_sag, profile.end(end).rider_sag)
        if meant is None or travel is None or all(t is None or t.as_share_of_travel for t in targets):
            continue
        if not meant[0] * (1 - TRAVEL_TOLERANCE) <= travel <= meant[1] * (1 + TRAVEL_TOLERANCE):
            yield Finding(
                "travel_not_as_meant",
                Severity.NOTE,
                ("front", "travel_mm") if end == "front" else ("rear", "wheel_travel_mm"),
                {"travel_mm": travel, "low_mm": meant[0], "high_mm": meant[1], "profile": profile.label},
            )


def _work_findings(job: Job) -> Iterator[Finding]:
    """Of a work list in hand; few jobs have one, so what judges it is loaded when one does."""
    if job.returning is not None:
        from stanchion.judgement.work_list import work_findings  # noqa: PLC0415

        yield from work_findings(job)
