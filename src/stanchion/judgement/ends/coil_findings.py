"""What is to be said of a spring's coils: coil bind before it is ridden, and rates that do not agree."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.job.model import Front, Rear
from stanchion.judgement.criteria.thresholds import LEAST_COIL_CLEARANCE_MM, NOT_SHOWN_MM, RATE_SOURCES_DIFFER, SLACK
from stanchion.judgement.ends.coils import springs_at
from stanchion.judgement.ends.preload import SpringAt
from stanchion.judgement.results.assessment import CoilFigures, SpringsFigures
from stanchion.judgement.results.codes import CoilCode
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.mechanics.spring import DYNAMIC_GAP_FACTOR


def coil_findings(front: Front, rear: Rear, springs: SpringsFigures) -> Iterator[Finding]:
    """Findings on the coils of every spring."""
    for at in springs_at(front, rear):
        figures = springs.rear if at.is_shock else springs.left if at.where[1] == "left" else springs.right
        yield from _bind_findings(at, figures)
        yield from _rate_findings(at, figures)


def _finding(at: SpringAt, code: CoilCode, severity: Severity, **values: object) -> Finding:
    if at.both_legs:
        values["both_legs"] = True
    return Finding(code, severity, at.spring_at, values)


def _bind_findings(at: SpringAt, figures: CoilFigures) -> Iterator[Finding]:
    """Findings on coil bind at full travel: a fault where the spring binds as it is set now or may bind; a warning
    where it would bind only with the adjuster further in."""
    solid, usable = figures.solid_length_mm.value, figures.usable_travel_mm.value
    if solid is not None and usable is not None and usable <= SLACK:
        yield _finding(at, "solid_not_shorter", Severity.FAULT, solid_mm=solid, free_mm=at.spring.free_length_mm)
        return
    fully_in, now = figures.coil_bind_clearance_mm.value, figures.clearance_now_mm.value
    if fully_in is not None and now is not None and fully_in < LEAST_COIL_CLEARANCE_MM - SLACK <= now:
        yield _finding(
            at,
            "coil_bind_further_in",
            Severity.WARNING,
            left_mm=now,
            fully_in_left_mm=max(0.0, fully_in),
            spare_mm=now - LEAST_COIL_CLEARANCE_MM,
            least_mm=LEAST_COIL_CLEARANCE_MM,
        )
        return
    binds_now = now is not None and now < LEAST_COIL_CLEARANCE_MM - SLACK
    if binds_now:
        fully_in = None
    left = now if fully_in is None else fully_in
    if left is None:
        return
    required, travel = figures.required_clearance_mm.value, figures.travel_mm.value
    preload = None if usable is None or travel is None else usable - left - travel
    values: dict[str, object] = {
        "left_mm": left,
        "usable_mm": usable,
        "travel_mm": travel,
        "preload_mm": preload,
        "now_mm" if fully_in is None else "fully_in_mm": preload,
    }
    if abs(left) < NOT_SHOWN_MM and not at.is_shock:
        yield _finding(at, "coil_bind_at_the_end", Severity.FAULT, **values)
    elif left <= SLACK:
        yield _finding(at, "coil_bind", Severity.FAULT, **values, short_mm=-left)
    elif left < LEAST_COIL_CLEARANCE_MM - SLACK:
        yield _finding(at, "coil_bind_near", Severity.FAULT, **values, least_mm=LEAST_COIL_CLEARANCE_MM)
    elif required is not None and left < required - SLACK:
        yield _finding(at, "coil_gaps_small", Severity.NOTE, **values, required_mm=required)
    elif required is not None and left < DYNAMIC_GAP_FACTOR * required - SLACK:
        yield _finding(
            at, "coil_gaps_small_when_ridden", Severity.NOTE, **values, required_mm=DYNAMIC_GAP_FACTOR * required
        )


def _rate_findings(at: SpringAt, figures: CoilFigures) -> Iterator[Finding]:
    """Findings on rates that disagree: of label, spring tester and calculation."""
    label, measured = at.spring.rate_n_per_mm, figures.rate_measured_n_per_mm.value
    calculated, bounds = figures.rate_calculated_n_per_mm.value, figures.rate_calculated_range
    if figures.rate_measured_n_per_mm.problem in ("tester_falls", "tester_one_length"):
        yield _finding(at, "tester_disordered", Severity.WARNING)
    if label is not None and measured is not None and _differ(measured, label, label):
        yield _finding(
            at,
            "label_and_tester_differ",
            Severity.NOTE,
            label=label,
            measured=measured,
            share=abs(measured - label) / label,
            uncertainty=figures.rate_measured_uncertainty_n_per_mm.value,
        )
    if calculated is None or bounds is None:
        return
    if label is not None and _differ(nearest := min(max(label, bounds[0]), bounds[1]), label, label):
        yield _finding(
            at,
            "label_and_coils_differ",
            Severity.NOTE,
            label=label,
            calculated=calculated,
            share=abs(nearest - label) / label,
        )
    if measured is not None and _differ(nearest := min(max(measured, bounds[0]), bounds[1]), measured, measured):
        yield _finding(
            at,
            "tester_and_coils_differ",
            Severity.NOTE,
            measured=measured,
            calculated=calculated,
            share=abs(nearest - measured) / measured,
        )


def _differ(one: float, other: float, of: float) -> bool:
    return abs(one - other) > RATE_SOURCES_DIFFER * of + SLACK
