"""Travel used on a run against the travel available at both ends, and the findings on it.

Common practice, no published source: within 4 % of full travel, 5 mm of 125, counts as using all of it; more than 20 %
never used under hard braking is too much kept back. The order of remedies is the usual one: preload where sag asks for
it, then air gap, damping, and springs last.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import Literal

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.measured import changes_since_read
from stanchion.job.model import ENDS, SIDES, Clicker, End, Front, Job, Rear, Run, Stops
from stanchion.job.runs import changes_between
from stanchion.judgement.criteria.thresholds import (
    AIR_GAP_STEP_MM,
    GAUGE_STEP_BAR,
    MARKER_READING_MM,
    NEAR_FULL_TRAVEL,
    SLACK,
    TRAVEL_KEPT_BACK,
)
from stanchion.judgement.ends.air_model import airs_of
from stanchion.judgement.ends.stops import stop_places
from stanchion.judgement.results.codes import RunCode, TravelVerdict
from stanchion.judgement.results.figures import Figure, derive, first_known, recorded
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.results.ridden import EndUsed, MarkerReference, RunFigures
from stanchion.judgement.track.marker_reference import along_the_shaft, with_adjusters_as_ridden, with_hanging_as_ridden
from stanchion.judgement.track.tyres import tyre_figures

# --- figures ------------------------------------------------------------------------------------------------------


def run_figures(
    job: Job,
    at: int,
    references: Mapping[End, MarkerReference],
    run_references: Mapping[End, MarkerReference] | None = None,
) -> RunFigures:
    """Travel used and left at both ends of one run, and its tyres.

    Packers and bump rubber are those that were ridden. Travel, stroke and linkage are facts of the machine: their
    values in the job now apply to every run, so that they can be measured or corrected after it.

    Args:
        job: the job.
        at: which run.
        references: what markers are compared with, as assess() gives it.
        run_references: the same with the wheels hanging as on that run; None: it is worked out here.
    """
    run = job.runs[at]
    references = with_hanging_as_ridden(job, run, references) if run_references is None else run_references
    front, rear = run.front or job.front, run.rear or job.rear
    full = recorded(_either(job.front.travel_mm, front.travel_mm), ("front", "travel_mm"))
    stroke = recorded(_either(job.rear.stroke_mm, rear.stroke_mm), ("rear", "stroke_mm"))
    static_shock = references["rear"].static_mm
    if run.marker_from == "static":
        static_shock = _along_the_shock(job, rear, static_shock, references["rear"].unloaded_mm)
    return RunFigures(
        front=_used(
            run,
            recorded(run.front_marker_mm, ("runs", at, "front_marker_mm")),
            references["front"].static_mm,
            available_travel(full, front.packers_mm, references["front"].hanging_mm),
            (front.stops, None, references["front"].hanging_mm),
        ),
        rear=_used(
            run,
            recorded(run.rear_marker_mm, ("runs", at, "rear_marker_mm")),
            static_shock,
            available_travel(stroke, rear.packers_mm, references["rear"].hanging_mm),
            (rear.stops, rear.bump_rubber_mm, references["rear"].hanging_mm),
        ),
        front_tyre=tyre_figures(job, at, "front"),
        rear_tyre=tyre_figures(job, at, "rear"),
    )


def _either(now: float | None, ridden: float | None) -> float | None:
    return ridden if now is None else now


def _along_the_shock(job: Job, ridden: Rear, sag: Figure, unloaded: Figure) -> Figure:
    """Shock travel for a rear sag, which is counted from the hanging wheel."""
    arm_mm = job.swingarm.pivot_to_axle_mm
    here = along_the_shaft(job.rear, arm_mm, sag, unloaded)
    return first_known(here, along_the_shaft(ridden, arm_mm, sag, unloaded)) if sag.known else here


def available_travel(full: Figure, packers_mm: float | None, hanging: Figure) -> Figure:
    """Travel from the hanging wheel to the end.

    Args:
        full: travel along the leg, or the shock's stroke [mm].
        packers_mm: rigid packers in it [mm]; None: none.
        hanging: travel of the hanging wheel from the mechanical stop [mm].
    """
    taken = packers_mm or 0.0

    def what_is_left(travel_mm: float, hanging_mm: float) -> float:
        if travel_mm <= taken + hanging_mm:
            raise OutOfRange("packers", taken, f"less than the travel, {travel_mm:g}")
        return travel_mm - taken - hanging_mm

    return derive(what_is_left, full, hanging)


def _used(
    run: Run, marker: Figure, static: Figure, available: Figure, ending: tuple[Stops, float | None, Figure]
) -> EndUsed:
    """Travel used of one end; `ending` are its stops, the height of a bump rubber, and where the wheel hangs."""
    stops, height_mm, hanging = ending
    used = derive(lambda m, s: m + s, marker, static) if run.marker_from == "static" else marker
    left = derive(lambda a, u: a - u, available, used)
    places = stop_places(stops, height_mm, available, hanging)
    pressed, slowed = (
        derive(lambda deepest, begins: max(0.0, deepest - begins), used, place) if place.known or place.needs else place
        for place in (places.rubber_mm, places.hydraulic_mm)
    )
    return EndUsed(
        used_mm=used,
        available_mm=available,
        left_mm=left,
        share_used=derive(lambda u, a: u / a, used, available),
        on_rubber_mm=pressed,
        in_hydraulic_mm=slowed,
        verdict=_verdict(left.value, available.value, stops.hydraulic_mm or 0.0),
    )


def _verdict(left_mm: float | None, available_mm: float | None, hydraulic_mm: float) -> TravelVerdict:
    """What the travel left says; the length of a hydraulic stop cannot be expected to be used."""
    if left_mm is None or available_mm is None:
        return ""
    if left_mm < -MARKER_READING_MM:
        return "beyond"
    if left_mm - hydraulic_mm <= NEAR_FULL_TRAVEL * available_mm + SLACK:
        return "near_full"
    return "kept_back" if left_mm - hydraulic_mm > TRAVEL_KEPT_BACK * available_mm + SLACK else "used"


# --- findings -----------------------------------------------------------------------------------------------------


def latest_marked(job: Job) -> int:
    """The latest run after which a marker was read; the latest of all where none was.

    Args:
        job: the job, with at least one run.
    """
    marked = [
        at for at, run in enumerate(job.runs) if run.front_marker_mm is not None or run.rear_marker_mm is not None
    ]
    return max(marked, default=len(job.runs) - 1)


def run_findings(
    job: Job, at: int, figures: RunFigures, run_references: Mapping[End, MarkerReference]
) -> list[Finding]:
    """Findings on the markers of a run, judged by the settings that were ridden.

    Where an end was changed since, its advice is only a note.

    Args:
        job: the job.
        at: the run, from 0.
        figures: of that run.
        run_references: what markers are compared with, with the wheels hanging as on that run.
    """
    found: list[Finding] = []
    run = job.runs[at]
    ridden = with_adjusters_as_ridden(job, run, run_references)
    since = changes_between(job, run, Run(front=job.front, rear=job.rear))
    changed = {change.path[0] for change in since if change.old not in (None, (), "")}  # not what was blank then
    for end in ENDS:
        of, reference = figures.end(end), ridden[end]
        rider_used = _rider_used(job, run, end, reference)
        closed = _compression_closed(job, run, end)
        set_up = _set_up(job, run)
        air = bool(airs_of(set_up, end))
        gap_mm = None if air else _air_gap_room(set_up.front)
        code = _code(end, of, reference, _MarkerContext(rider_used, gap_mm, closed, air))
        if not code:
            continue
        severity = _SEVERITY.get(code, Severity.WARNING)
        values = _values(end, of, reference) | _damper_left(job, run, end, code) | {"rider_mm": rider_used}
        if air:
            values |= _air_values(set_up, end)
        if reference.rider_changed:
            values["sag_outdated"] = True
        if end in changed and code not in _DOUBTS:
            severity = Severity.NOTE
            values["changed_since"] = True
        elif code not in _DOUBTS and "rider" in changes_since_read(job, end):
            severity = Severity.NOTE
            values["rider_since"] = True
        found.append(Finding(code, severity, ("runs", at, f"{end}_marker_mm"), values))
    return found


_DOUBTS = ("marker_beyond_travel", "marker_below_sag")
_SEVERITY: dict[RunCode, Severity] = {"marker_beyond_travel": Severity.FAULT, "travel_kept_back": Severity.NOTE}


@record
class _MarkerContext:
    """What the advice on a travel marker depends on besides the marker itself."""

    rider_used_mm: float | None
    """Rider sag where the marker sits: along the leg, or of the shock."""
    air_gap_mm: float | None
    """By how much the air gap may still be reduced."""
    compression_closed: bool
    """Whether compression damping is fully closed."""
    air: bool
    """Whether air springs the end, or a leg of it: what comes first then is its pressure."""


def _code(end: End, of: EndUsed, reference: MarkerReference, context: _MarkerContext) -> RunCode | Literal[""]:
    """Which finding applies; empty where the travel is well used or too little is known."""
    used, rider = of.used_mm.value, context.rider_used_mm
    if of.verdict == "beyond":
        return "marker_beyond_travel"
    if used is not None and rider is not None and used < rider - MARKER_READING_MM:
        return "marker_below_sag"
    if of.verdict == "near_full":
        return _bottoms(end, reference, context)
    if end == "front" and of.verdict == "kept_back" and reference.rider_verdict in ("in", "borderline"):
        return "travel_kept_back"
    return ""


def _bottoms(end: End, reference: MarkerReference, context: _MarkerContext) -> RunCode:
    if not context.air and reference.has_adjuster and reference.no_more:
        return "bottoms_adjuster_in"
    if reference.rider_verdict == "above":
        return "bottoms_add_preload"
    if not reference.rider_verdict:
        return "bottoms_sag_unknown"
    if end == "rear":
        return "bottoms_damping_closed" if context.compression_closed else "bottoms_damping"
    least = context.air_gap_mm is not None and context.air_gap_mm < AIR_GAP_STEP_MM - SLACK
    return "bottoms_air_gap_least" if least else "bottoms_air_gap"


def _set_up(job: Job, run: Run) -> Job:
    """The job with fork and shock as they were ridden."""
    return replace(job, front=run.front or job.front, rear=run.rear or job.rear)


def _air_values(set_up: Job, end: End) -> dict[str, object]:
    """What can be done at an end that is sprung by air besides its pressure: an outer chamber that may be pumped up
    further, and the air gap of a leg that air does not spring."""
    airs = airs_of(set_up, end)
    outer = any(
        air.outer != "none" and (air.outer_most_bar or math.inf) >= (air.outer_bar or 0.0) + GAUGE_STEP_BAR - SLACK
        for air in airs.values()
    )
    values: dict[str, object] = {"air": True, "remedy": "chamber", "outer_room": True if outer else None}
    if end == "front":
        fork = set_up.front
        gaps = [side for side in SIDES if side not in airs and fork.leg(side).air_gap_mm is not None]
        least = fork.air_gap_least_mm
        values["gap_leg"] = next(
            (s for s in gaps if least is None or (fork.leg(s).air_gap_mm or 0.0) - AIR_GAP_STEP_MM >= least - SLACK),
            None,
        )
    return values


def _rider_used(job: Job, run: Run, end: End, reference: MarkerReference) -> float | None:
    """Rider sag where the marker of that end is: along the leg, or of the shock."""
    if end == "front":
        return reference.rider_mm.value
    return _along_the_shock(job, run.rear or job.rear, reference.rider_mm, reference.unloaded_mm).value


def _air_gap_room(fork: Front) -> float | None:
    """By how much the smallest air gap may still be reduced; None where that is not known."""
    gaps = [gap for side in SIDES if (gap := fork.leg(side).air_gap_mm) is not None]
    if fork.air_gap_least_mm is None or not gaps:
        return None
    return max(0.0, min(gaps) - fork.air_gap_least_mm)


def _values(end: End, of: EndUsed, reference: MarkerReference) -> dict[str, object]:
    left = of.left_mm.value
    pressed, slowed = of.on_rubber_mm.value, of.in_hydraulic_mm.value
    return {
        "used_mm": of.used_mm.value,
        "available_mm": of.available_mm.value,
        "left_mm": None if left is None else max(0.0, left),
        "step_mm": AIR_GAP_STEP_MM,
        "headroom_mm": reference.headroom_in_mm.value if reference.has_adjuster else None,
        "no_more": reference.no_more or None,
        "as_it_stands": True if reference.no_more == "band" else None,
        "into_mm": slowed or pressed or None,
        "stop": "hydraulic" if slowed else "rubber",
        "remedy": "air_gap" if end == "front" else "compression",
    }


def _damper_left(job: Job, run: Run, end: End, code: RunCode) -> dict[str, object]:
    """Adjustment left of the compression damping in the direction of the advice: at the front, of the leg with the
    least."""
    out = code == "travel_kept_back"
    if end == "front":
        left = [(_left(clicker, out=out), clicker.unit) for clicker in _compression(job, run, end)]
        known = [(count, unit) for count, unit in left if count is not None]
        return _counted("clicks", *min(known)) if known else {}
    values: dict[str, object] = {}
    for name, clicker in zip(("low", "high"), _compression(job, run, end), strict=True):
        count = _left(clicker, out=out)
        if count is not None:
            values |= _counted(name, count, clicker.unit)
    return values


def _counted(name: str, count: float, unit: str) -> dict[str, object]:
    return {name: count, f"{name}_unit": unit}


def _compression(job: Job, run: Run, end: End) -> list[Clicker]:
    """The compression adjusters as ridden: of both legs, or low and high speed of the shock."""
    if end == "front":
        fork = run.front or job.front
        return [fork.leg(side).compression for side in SIDES]
    shock = run.rear or job.rear
    return [shock.low_speed_compression, shock.high_speed_compression]


def _compression_closed(job: Job, run: Run, end: End) -> bool:
    """Whether every compression adjuster that was read was fully closed."""
    fork = run.front or job.front
    high_speed = [fork.leg(side).high_speed_compression for side in SIDES] if end == "front" else []
    clickers = [*_compression(job, run, end), *high_speed]
    known = [left for clicker in clickers if (left := _left(clicker, out=False)) is not None]
    return bool(known) and max(known) < SLACK


def _left(clicker: Clicker, *, out: bool) -> float | None:
    if clicker.now is None or not out:
        return clicker.now
    return None if clicker.total is None else max(0.0, clicker.total - clicker.now)
