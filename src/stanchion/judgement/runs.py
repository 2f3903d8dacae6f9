"""What a run tells: travel used against travel there is, at both ends, and what the trade reads out of it.

Common practice, no published source: within 5 mm of full travel counts as using all of it; more than 25 mm never used
under hard braking is too much kept back. The order of remedies is the trade's: preload where sag asks for it, air gap,
damping, and springs last.
"""

from __future__ import annotations

from collections.abc import Mapping

from stanchion.errors import OutOfRange
from stanchion.job.model import ENDS, End, Job, Run
from stanchion.judgement.figures import Figure, absent, derive, recorded
from stanchion.judgement.findings import Finding, Severity
from stanchion.judgement.rear import linkage_of
from stanchion.judgement.ridden import EndUsed, RunFigures, SagBehind

NEAR_FULL_MM = 5.0
KEPT_BACK_MM = 25.0
READING_MM = 2.0
"""A marker this little beyond the travel is a matter of reading it."""


def run_figures(job: Job, at: int, behind: Mapping[End, SagBehind]) -> RunFigures:
    """Travel used and left at both ends of one run, by the settings that were ridden.

    Args:
        job: the job.
        at: which run.
        behind: static sag at each end, for markers that count from there.
    """
    run = job.runs[at]
    front, rear = run.front or job.front, run.rear or job.rear
    fork = _available(front.travel_mm, front.packers_mm, ("front", "travel_mm"))
    shock = _available(rear.stroke_mm, rear.packers_mm, ("rear", "stroke_mm"))
    static_shock = behind["rear"].static_mm
    if run.marker_from == "static":
        linkage, problem = linkage_of(rear)
        if linkage is None:
            static_shock = absent(problem) if problem else Figure(needs=(("rear", "motion_ratio"),))
        else:
            static_shock = derive(linkage.shock_travel, static_shock)
    return RunFigures(
        front=_used(
            run, recorded(run.front_marker_mm, ("runs", at, "front_marker_mm")), behind["front"].static_mm, fork
        ),
        rear=_used(run, recorded(run.rear_marker_mm, ("runs", at, "rear_marker_mm")), static_shock, shock),
    )


def _available(full_mm: float | None, packers_mm: float | None, path: tuple[str, str]) -> Figure:
    def less_packers(full: float) -> float:
        if full <= (packers_mm or 0.0):
            raise OutOfRange("packers", packers_mm or 0.0, f"less than the travel, {full:g}")
        return full - (packers_mm or 0.0)

    return derive(less_packers, recorded(full_mm, path))


def _used(run: Run, marker: Figure, static: Figure, available: Figure) -> EndUsed:
    used = derive(lambda m, s: m + s, marker, static) if run.marker_from == "static" else marker
    return EndUsed(used_mm=used, available_mm=available, left_mm=derive(lambda a, u: a - u, available, used))


def run_findings(job: Job, figures: RunFigures, behind: Mapping[End, SagBehind]) -> list[Finding]:
    """What the markers of the latest run ask for.

    Args:
        job: the job, with at least one run.
        figures: of its latest run.
        behind: sag verdict and headroom at each end.
    """
    found: list[Finding] = []
    for end in ENDS:
        of = figures.end(end)
        left, used = of.left_mm.value, of.used_mm.value
        if left is None or used is None:
            continue
        where = ("runs", len(job.runs) - 1, f"{end}_marker_mm")
        values: dict[str, object] = {"used_mm": used, "left_mm": max(0.0, left), "available_mm": of.available_mm.value}
        code = _code(end, left, behind[end])
        if code:
            headroom = behind[end].headroom_in_mm.value
            values["headroom_mm"] = headroom
            found.append(Finding(code, _SEVERITY.get(code, Severity.WARNING), where, values))
    return found


_SEVERITY = {"marker_beyond_travel": Severity.FAULT, "travel_kept_back": Severity.NOTE}


def _code(end: End, left_mm: float, behind: SagBehind) -> str:
    """Which reading applies; empty where the travel is well used or nothing is to be said."""
    if left_mm < -READING_MM:
        return "marker_beyond_travel"
    headroom = behind.headroom_in_mm.value
    if left_mm <= NEAR_FULL_MM:
        if headroom is not None and headroom <= 0.0:
            return "bottoms_adjuster_in"
        if behind.rider_verdict == "above":
            return "bottoms_add_preload"
        return "bottoms_air_gap" if end == "front" else "bottoms_damping"
    if end == "front" and left_mm > KEPT_BACK_MM and behind.rider_verdict == "in":
        return "travel_kept_back"
    return ""
