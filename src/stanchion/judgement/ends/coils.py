"""Figures of a spring from its wire, its coils and a spring tester, and the clearance of its coils at full travel."""

from __future__ import annotations

from functools import lru_cache

from stanchion.base.record import record
from stanchion.job.model import Coils, Front, Path, Rear, Side
from stanchion.judgement.criteria.thresholds import LEAST_COIL_CLEARANCE_MM, SLACK
from stanchion.judgement.ends.preload import SpringAt
from stanchion.judgement.results.assessment import (
    Band,
    CoilFigures,
    FrontFigures,
    PreloadFigures,
    RearFigures,
    SpringsFigures,
)
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.mechanics.spring import (
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
