"""Figures of a spring from its wire, its coils and a spring tester, and the findings on them: coil bind at full travel,
and rates that do not agree."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from stanchion.base.record import record
from stanchion.job.model import Coils, Front, Path, Rear, Side
from stanchion.judgement.criteria.thresholds import LEAST_COIL_CLEARANCE_MM, NOT_SHOWN_MM, RATE_SOURCES_DIFFER, SLACK
from stanchion.judgement.ends.preload import SpringAt
from stanchion.judgement.results.assessment import (
    Band,
    CoilFigures,
    FrontFigures,
    PreloadFigures,
    RearFigures,
    SpringsFigures,
)
from stanchion.judgement.results.codes import CoilCode
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.mechanics.spring import (
    DYNAMIC_GAP_FACTOR,
    SPRING_STEEL_MPA,
    SPRING_STEEL_SOURCE,
    WIRES,
    Ends,
    active_coils,
    left_at_full_travel,
    longest_solid_length,
    mean_coil_diameter,
    minimum_gaps,
    shear_modulus,
    solid_length,
    spring_rate,
)
from stanchion.mechanics.statistics import fit_line

_WIRES = {wire.key: wire for wire in WIRES}
_NO_SPRING = absent("no_spring")
NO_SPRING = CoilFigures(
    shear_modulus_mpa=_NO_SPRING,
    active_coils=_NO_SPRING,
    rate_calculated_n_per_mm=_NO_SPRING,
    rate_measured_n_per_mm=_NO_SPRING,
    rate_measured_uncertainty_n_per_mm=_NO_SPRING,
    solid_length_mm=_NO_SPRING,
    travel_mm=_NO_SPRING,
    usable_travel_mm=_NO_SPRING,
    coil_bind_clearance_mm=_NO_SPRING,
    clearance_now_mm=_NO_SPRING,
    required_clearance_mm=_NO_SPRING,
)
"""The figures of a leg without a spring."""


def springs_figures(front: Front, rear: Rear, of_front: FrontFigures, of_rear: RearFigures) -> SpringsFigures:
    """The figures of every spring of the machine, from its coils.

    Args:
        front: the fork as recorded.
        rear: the shock as recorded.
        of_front: the fork's figures, for preload.
        of_rear: the shock's.
    """
    left = _leg(front, "left", of_front.left)
    right = _leg(front, "right", of_front.right) if front.split else left
    return SpringsFigures(left=left, right=right, rear=_shock(rear, of_rear.spring))


def springs_at(front: Front, rear: Rear) -> tuple[SpringAt, ...]:
    """Every spring that is entered in the job, the shock's last."""
    sides: tuple[Side, ...] = ("left", "right") if front.split else ("left",)
    legs = [(side, front.leg(side)) for side in sides]
    return (
        *(
            SpringAt(leg.spring, leg.adjuster, ("front", side), "adjuster", both_legs=not front.split)
            for side, leg in legs
            if leg.spring_fitted
        ),
        SpringAt(rear.spring, rear.collar, ("rear",), "collar"),
    )


def spring_of_coils(
    coils: Coils, at: Path, free_mm: Figure, preloads_mm: tuple[Figure, Figure], travel_mm: Figure
) -> CoilFigures:
    """The figures of one spring.

    Args:
        coils: wire, coils and tester readings.
        at: path of the coils.
        free_mm: free length.
        preloads_mm: preload with the adjuster fully in and at its present position, both from the mechanical stop.
        travel_mm: how far full travel compresses the spring.
    """
    data = _coil_data(coils, at)
    greatest_mm, now_mm = preloads_mm
    solid = data.solid_length_mm
    return CoilFigures(
        shear_modulus_mpa=data.shear_modulus_mpa,
        shear_modulus_source=data.shear_modulus_source,
        active_coils=data.active_coils,
        rate_calculated_n_per_mm=data.rate_n_per_mm,
        rate_calculated_range=data.rate_range,
        rate_measured_n_per_mm=data.measured_n_per_mm,
        rate_measured_uncertainty_n_per_mm=data.measured_uncertainty,
        solid_length_mm=solid,
        solid_length_from=data.solid_length_from,
        travel_mm=travel_mm,
        usable_travel_mm=derive(lambda length, block: length - block, free_mm, solid),
        coil_bind_clearance_mm=derive(left_at_full_travel, free_mm, solid, greatest_mm, travel_mm),
        clearance_now_mm=derive(left_at_full_travel, free_mm, solid, now_mm, travel_mm),
        required_clearance_mm=data.required_clearance_mm,
    )


@record(kw_only=True)
class _CoilData:
    """Figures from coils and tester that do not depend on where the spring is fitted."""

    shear_modulus_mpa: Figure
    shear_modulus_source: str
    active_coils: Figure
    rate_n_per_mm: Figure
    rate_range: Band | None
    measured_n_per_mm: Figure
    measured_uncertainty: Figure
    solid_length_mm: Figure
    solid_length_from: str
    required_clearance_mm: Figure


@lru_cache(maxsize=64)  # most keystrokes leave the coils unchanged
def _coil_data(coils: Coils, at: Path) -> _CoilData:
    ends = Ends(coils.ends)
    wire = recorded(coils.wire_mm, (*at, "wire_mm"))
    total = recorded(coils.total_coils, (*at, "total_coils"))
    mean = derive(mean_coil_diameter, recorded(coils.outer_mm, (*at, "outer_mm")), wire)
    active = derive(lambda count: active_coils(count, ends), total)
    modulus, source, bounds = _modulus(coils, wire)
    rate = derive(spring_rate, modulus, wire, mean, active)
    spread = None
    if rate.value is not None and modulus.value is not None:
        spread = (rate.value * bounds[0] / modulus.value, rate.value * bounds[1] / modulus.value)
    solid, solid_from = _solid(coils, ends, wire, total)
    measured, uncertainty = _measured(coils, at)
    return _CoilData(
        shear_modulus_mpa=modulus,
        shear_modulus_source=source,
        active_coils=active,
        rate_n_per_mm=rate,
        rate_range=spread,
        measured_n_per_mm=measured,
        measured_uncertainty=uncertainty,
        solid_length_mm=solid,
        solid_length_from=solid_from if solid.known else "",
        required_clearance_mm=derive(minimum_gaps, wire, mean, active),
    )


def preloads_at_stop(of_leg: PreloadFigures) -> tuple[Figure, Figure]:
    """Greatest preload and preload now of a fork spring at the damper's mechanical stop.

    Without a top-out spring they are as read. They are also left as read where too little is known of a top-out spring
    that is fitted: the spring then counts as compressed further than it is, which errs on the safe side of coil bind.
    """
    point = of_leg.read_at_mm
    if not point:
        return of_leg.greatest_preload_mm, of_leg.preload_now_mm
    return derive(lambda mm: mm - point, of_leg.greatest_preload_mm), derive(
        lambda mm: mm - point, of_leg.preload_now_mm
    )


def most_before_bind(rear: Rear) -> float | None:
    """The greatest preload at which the shock's coils keep their least clearance; None where it is not known."""
    free, stroke = rear.spring.free_length_mm, rear.stroke_mm
    solid = _coil_data(rear.spring.coils, ("rear", "spring", "coils")).solid_length_mm.value
    if free is None or stroke is None or solid is None:
        return None
    return free - solid - max(0.0, stroke - (rear.packers_mm or 0.0)) - LEAST_COIL_CLEARANCE_MM


def _leg(front: Front, side: Side, of_leg: PreloadFigures) -> CoilFigures:
    leg = front.leg(side)
    if not leg.spring_fitted:
        return NO_SPRING
    at: Path = ("front", side, "spring")
    preloads = preloads_at_stop(of_leg)
    travel = _shortened(recorded(front.travel_mm, ("front", "travel_mm")), front.packers_mm)
    free = recorded(leg.spring.free_length_mm, (*at, "free_length_mm"))
    return spring_of_coils(leg.spring.coils, (*at, "coils"), free, preloads, travel)


def _shock(rear: Rear, spring: PreloadFigures) -> CoilFigures:
    at: Path = ("rear", "spring")
    travel = _shortened(recorded(rear.stroke_mm, ("rear", "stroke_mm")), rear.packers_mm)
    free = recorded(rear.spring.free_length_mm, (*at, "free_length_mm"))
    preloads = (spring.greatest_preload_mm, spring.preload_now_mm)
    return spring_of_coils(rear.spring.coils, (*at, "coils"), free, preloads, travel)


def _shortened(travel: Figure, packers_mm: float | None) -> Figure:
    """Full travel less rigid packers."""
    return derive(lambda mm: max(0.0, mm - packers_mm), travel) if packers_mm else travel


def _modulus(coils: Coils, wire_mm: Figure) -> tuple[Figure, str, tuple[float, float]]:
    """Shear modulus, its source, and the bounds it lies in.

    Where the kind of wire is not known, the middle of the range of spring steels is taken, as an estimate with bounds:
    a rate of "8.9 to 9.4" is enough to tell an unmarked spring from the next one.
    """
    kind = _WIRES.get(coils.wire)
    if kind is None:
        return Figure(sum(SPRING_STEEL_MPA) / 2.0, estimate=True), SPRING_STEEL_SOURCE, SPRING_STEEL_MPA
    modulus = derive(lambda mm: shear_modulus(kind, mm), wire_mm)
    return modulus, kind.source, (modulus.value or 0.0, modulus.value or 0.0)


def _solid(coils: Coils, ends: Ends, wire: Figure, total: Figure) -> tuple[Figure, str]:
    """Solid length and its source: measured, or the longest that coils and wire allow."""
    if coils.solid_length_mm is not None:
        return Figure(coils.solid_length_mm), "measured"
    longest = derive(lambda count, mm: longest_solid_length(count, mm, ends), total, wire)
    nominal = derive(lambda count, mm: solid_length(count, mm, ends), total, wire)
    return longest, "nominal" if nominal.value == longest.value else "standard_limit"


def _measured(coils: Coils, at: Path) -> tuple[Figure, Figure]:
    """Rate by a spring tester, and its standard uncertainty."""
    pairs = [(p.length_mm, p.force_n) for p in coils.tester if p.length_mm is not None and p.force_n is not None]
    if len(pairs) < 2:
        waits = Figure(needs=((*at, "tester"),))
        return waits, waits
    pressed = [-length for length, _ in pairs]  # a shorter spring gives more force
    forces = [force for _, force in pairs]
    if max(pressed) - min(pressed) <= SLACK:
        return absent("tester_one_length"), absent("tester_one_length")
    if len(pairs) == 2:
        slope, uncertainty = (forces[1] - forces[0]) / (pressed[1] - pressed[0]), absent("tester_two_readings")
    else:
        line = fit_line(pressed, forces)
        slope, uncertainty = line.slope, Figure(line.slope_uncertainty)
    if slope <= 0.0:
        return absent("tester_falls"), absent("tester_falls")
    return Figure(slope), uncertainty


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
    clearance_mm = now if fully_in is None else fully_in
    if clearance_mm is None:
        return
    required, travel = figures.required_clearance_mm.value, figures.travel_mm.value
    preload = None if usable is None or travel is None else usable - clearance_mm - travel
    values: dict[str, object] = {
        "left_mm": clearance_mm,
        "usable_mm": usable,
        "travel_mm": travel,
        "preload_mm": preload,
        "now_mm" if fully_in is None else "fully_in_mm": preload,
    }
    if abs(clearance_mm) < NOT_SHOWN_MM and not at.is_shock:
        yield _finding(at, "coil_bind_at_the_end", Severity.FAULT, **values)
    elif clearance_mm <= SLACK:
        yield _finding(at, "coil_bind", Severity.FAULT, **values, short_mm=-clearance_mm)
    elif clearance_mm < LEAST_COIL_CLEARANCE_MM - SLACK:
        yield _finding(at, "coil_bind_near", Severity.FAULT, **values, least_mm=LEAST_COIL_CLEARANCE_MM)
    elif required is not None and clearance_mm < required - SLACK:
        yield _finding(at, "coil_gaps_small", Severity.NOTE, **values, required_mm=required)
    elif required is not None and clearance_mm < DYNAMIC_GAP_FACTOR * required - SLACK:
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
    compared: tuple[tuple[CoilCode, str, float | None], ...] = (
        ("label_and_coils_differ", "label", label),
        ("tester_and_coils_differ", "measured", measured),
    )
    for code, name, rate in compared:
        if rate is not None and _differ(nearest := min(max(rate, bounds[0]), bounds[1]), rate, rate):
            values = {name: rate, "calculated": calculated, "share": abs(nearest - rate) / rate}
            yield _finding(at, code, Severity.NOTE, **values)


def _differ(one: float, other: float, of: float) -> bool:
    return abs(one - other) > RATE_SOURCES_DIFFER * of + SLACK
