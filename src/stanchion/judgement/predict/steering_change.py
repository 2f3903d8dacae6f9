"""Whether the machine steers more quickly than before: less trail or a steeper rake than measured, or than ridden last.

Like is compared with like: the baseline in the state in which it was measured, and the settings ridden last with the
sags of the present ones.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stanchion.job.model import Job, State
from stanchion.judgement.criteria.thresholds import RAKE_STEEPER_DEG, SLACK, TRAIL_LESS_MM
from stanchion.judgement.predict.geometry import (
    EXTENDED,
    GeometryState,
    PredictedSags,
    geometry_figures,
    state_for_geometry,
    state_with_sags,
)
from stanchion.judgement.results.assessment import SagFigures, Steering
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.findings import Finding, Severity


def steering_findings(
    job: Job, previous: Job | None, captured: SagFigures, predicted: PredictedSags, motion_ratio: Figure
) -> Iterator[Finding]:
    """A warning where trail or rake is noticeably less than before; the larger of the two changes is named.

    Args:
        job: the job, with the baseline.
        previous: the job it was carried from.
        captured: sags as measured.
        predicted: sags as predicted.
        motion_ratio: at about ride height.
    """
    found = []
    at_state = _in_state(job.geometry.measured, captured, predicted)
    if at_state is not None:
        now = geometry_figures(job, at_state, motion_ratio)
        found.append(_less(now, now.baseline, "measured", at_state.state))
    before = _as_ridden(job, previous)
    if before is not None:
        at_state = state_for_geometry(captured, predicted)
        now, then = (geometry_figures(one, at_state, motion_ratio) for one in (job, before))
        found.append(_less(now, then, "ridden", at_state.state))
    worst = max((one for one in found if one is not None), key=_less_mm, default=None)
    if worst is not None:
        yield worst


def _in_state(name: str, captured: SagFigures, predicted: PredictedSags) -> GeometryState | None:
    """The present sags in the state of the baseline; None where one is not known."""
    if name == "extended":
        return EXTENDED
    state: State = "static" if name == "static" else "rider"
    return state_with_sags(captured, predicted, state)


def _as_ridden(job: Job, previous: Job | None) -> Job | None:
    """The job with fork height and shock length as ridden last, in this job or the one before; None: not known."""
    last = job.runs[-1] if job.runs else previous
    if last is None or last.front is None or last.rear is None:
        return None
    height, length = last.front.fork_height_mm, last.rear.length_adjuster_mm
    if None in (height, length) and (height, length) != (job.front.fork_height_mm, job.rear.length_adjuster_mm):
        return None
    return replace(
        job,
        front=replace(job.front, fork_height_mm=height),
        rear=replace(job.rear, length_adjuster_mm=length),
    )


def _less_mm(finding: Finding) -> float:
    return float(str(finding.values["less_mm"]))


def _less(now: Steering, then: Steering, since: str, state: str) -> Finding | None:
    trail, rake = now.trail_mm.value, now.rake_deg.value
    trail_then, rake_then = then.trail_mm.value, then.rake_deg.value
    if trail is None or rake is None or trail_then is None or rake_then is None:
        return None
    less_mm, steeper_deg = trail_then - trail, rake_then - rake
    if less_mm <= TRAIL_LESS_MM + SLACK and steeper_deg <= RAKE_STEEPER_DEG + SLACK:
        return None
    values = {
        "trail_mm": trail,
        "then_mm": trail_then,
        "less_mm": less_mm,
        "rake_deg": rake,
        "rake_then_deg": rake_then,
        "since": since,
        "geometry_state": state,
    }
    return Finding("trail_less", Severity.WARNING, ("geometry",), values)
