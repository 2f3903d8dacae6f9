"""Figures of a spring from its wire, its coils and a spring tester, and the findings on them: coil bind at full travel,
and rates that do not agree."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from stanchion.job.model import Front, Path, Rear, Side, Spring
from stanchion.job.spec import Progressive
from stanchion.judgement.criteria.thresholds import (
    LEAST_COIL_CLEARANCE_MM,
    NOT_SHOWN_MM,
    RATE_SOURCES_DIFFER,
    SLACK,
    TAPE_DIVISION_MM,
)
from stanchion.judgement.ends.coil_data import coil_data
from stanchion.judgement.ends.coils_sure import RoomSure, Stroke, may_touch
from stanchion.judgement.ends.front import spring_in
from stanchion.judgement.ends.preload import SpringAt
from stanchion.judgement.ends.second_spring import closing, second_closes_first, usable_travel
from stanchion.judgement.ends.spring_law import SpringLaw, law_of_leg, law_of_shock
from stanchion.judgement.results.assessment import (
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
    left_at_full_travel,
)
from stanchion.mechanics.spring_curve import force_at
from stanchion.mechanics.spring_stress import GUIDE_SHARE
from stanchion.mechanics.statistics import Uncertainty

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
    stress_mpa=_NO_SPRING,
    stress_share=_NO_SPRING,
    buckles_at_mm=_NO_SPRING,
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
            if leg.coil_fitted
        ),
        SpringAt(rear.spring, rear.collar, ("rear",), "collar"),
    )


def spring_of_coils(
    spring: Spring, law: SpringLaw | None, at: Path, preloads_mm: tuple[Figure, Figure], travel_mm: Figure
) -> CoilFigures:
    """The figures of one spring, or of two that work as one.

    Args:
        spring: the spring, for wire, coils, tester readings and a second spring.
        law: the force of both over their compression; None where it is one spring.
        at: path of the spring.
        preloads_mm: preload with the adjuster fully in and at its present position, both from the mechanical stop.
        travel_mm: how far full travel compresses the spring.
    """
    data = coil_data(spring.coils, (*at, "coils"))
    free_mm = recorded(spring.free_length_mm, (*at, "free_length_mm"))
    greatest_mm, now_mm = preloads_mm
    solid = data.solid_length_mm
    usable = derive(lambda length, block: length - block, free_mm, solid)
    if law is not None:
        usable = usable_travel(spring, at, law.main)
        solid = derive(lambda length, mm: length - mm, free_mm, usable)
    pressed = derive(lambda preload, travel: max(0.0, preload + travel), now_mm, travel_mm)
    pressed = pressed if law is None else of_main(spring, law, at, pressed)
    return CoilFigures(
        shear_modulus_mpa=data.shear_modulus_mpa,
        shear_modulus_source=data.shear_modulus_source,
        active_coils=data.active_coils,
        rate_calculated_n_per_mm=data.rate_n_per_mm,
        rate_calculated_range=data.rate_range,
        rate_measured_n_per_mm=data.measured_n_per_mm,
        rate_measured_uncertainty_n_per_mm=data.measured_uncertainty,
        solid_length_mm=data.solid_length_mm,
        solid_length_from=data.solid_length_from,
        travel_mm=travel_mm,
        usable_travel_mm=usable,
        coil_bind_clearance_mm=derive(left_at_full_travel, free_mm, solid, greatest_mm, travel_mm),
        clearance_now_mm=derive(left_at_full_travel, free_mm, solid, now_mm, travel_mm),
        required_clearance_mm=data.required_clearance_mm,
        stress_mpa=derive(lambda mpa, mm: mpa * mm, data.stress_mpa_per_mm, pressed),
        stress_share=derive(lambda share, mm: share * mm, data.share_per_mm, pressed),
        buckles_at_mm=absent("guided_by_tube") if "front" in at else data.buckles_at(free_mm),
    )


def of_main(spring: Spring, law: SpringLaw, at: Path, pressed_mm: Figure) -> Figure:
    """How far the main spring is compressed where two end to end are compressed so far together."""
    main, curve = law.main, law.curve
    if spring.second.arranged != "end_to_end" or curve is None or not isinstance(main, float):
        return pressed_mm
    closes = closing(spring, at, main)
    most_mm = math.inf if closes is None else closes.main_mm
    return derive(lambda mm: min(force_at(curve, mm) / main, most_mm), pressed_mm)


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
    solid = coil_data(rear.spring.coils, ("rear", "spring", "coils")).solid_length_mm.value
    usable = None if free is None or solid is None else free - solid
    if rear.spring.second.fitted:
        usable = usable_travel(rear.spring, ("rear", "spring"), law_of_shock(rear).main).value
    if usable is None or stroke is None:
        return None
    return usable - max(0.0, stroke - (rear.packers_mm or 0.0)) - LEAST_COIL_CLEARANCE_MM


def _leg(front: Front, side: Side, of_leg: PreloadFigures) -> CoilFigures:
    leg = front.leg(side)
    if not leg.coil_fitted:
        return NO_SPRING
    at: Path = ("front", side, "spring")
    preloads = preloads_at_stop(of_leg)
    travel = _shortened(recorded(front.travel_mm, ("front", "travel_mm")), front.packers_mm)
    law = law_of_leg(front, side) if leg.spring.second.fitted else None
    return spring_of_coils(leg.spring, law, at, preloads, travel)


def _shock(rear: Rear, spring: PreloadFigures) -> CoilFigures:
    at: Path = ("rear", "spring")
    travel = _shortened(recorded(rear.stroke_mm, ("rear", "stroke_mm")), rear.packers_mm)
    preloads = (spring.greatest_preload_mm, spring.preload_now_mm)
    law = law_of_shock(rear) if rear.spring.second.fitted else None
    return spring_of_coils(rear.spring, law, at, preloads, travel)


def _shortened(travel: Figure, packers_mm: float | None) -> Figure:
    """Full travel less rigid packers."""
    return derive(lambda mm: max(0.0, mm - packers_mm), travel) if packers_mm else travel


def coil_findings(
    front: Front, rear: Rear, springs: SpringsFigures, tape_mm: float | None = None, own: Uncertainty | None = None
) -> Iterator[Finding]:
    """Findings on the coils of every spring.

    Args:
        front: the fork as recorded.
        rear: the shock as recorded.
        springs: the figures of every spring.
        tape_mm: smallest division of the tape [mm]; None: 1 mm is taken.
        own: how sure one length is by the technician's own study [mm]; None: there is none.
    """
    for at in springs_at(front, rear):
        figures = springs.rear if at.is_shock else springs.left if at.where[1] == "left" else springs.right

        def sure(room_mm: float, at: SpringAt = at, *, now: bool) -> RoomSure | None:
            tape = TAPE_DIVISION_MM if tape_mm is None else tape_mm
            stroke = _stroke(front, rear, at)
            read = at if at.is_shock else _as_read(front, at)
            return None if stroke is None else may_touch(room_mm, read, stroke, tape, own, now=now)

        yield from _bind_findings(at, figures, sure)
        yield from _stress_findings(at, figures)
        yield from _rate_findings(at, figures)


def _finding(at: SpringAt, code: CoilCode, severity: Severity, **values: object) -> Finding:
    if at.both_legs:
        values["both_legs"] = True
    return Finding(code, severity, at.spring_at, values)


def _stroke(front: Front, rear: Rear, at: SpringAt) -> Stroke | None:
    """Full travel of a spring as read; None where it is not recorded."""
    of, name = (rear.stroke_mm, "stroke_mm") if at.is_shock else (front.travel_mm, "travel_mm")
    packers_mm = rear.packers_mm if at.is_shock else front.packers_mm
    return None if of is None else Stroke(of, packers_mm, (at.where[0], name))


def _as_read(front: Front, at: SpringAt) -> SpringAt:
    """The spring of a leg with where its lengths were read."""
    side: Side = "right" if at.where[1] == "right" else "left"
    return spring_in(front, side, law_of_leg(front, side).spring)


def _bind_findings(at: SpringAt, figures: CoilFigures, sure: Callable[..., RoomSure | None]) -> Iterator[Finding]:
    """Findings on coil bind at full travel: a fault where the spring binds as it is set now or may bind; a warning
    where it would bind only with the adjuster further in, or may touch by what its readings can be wrong by.

    Args:
        at: the spring.
        figures: its figures.
        sure: how sure the room left is, where it is so little that the coils may touch.
    """
    solid, usable = figures.solid_length_mm.value, figures.usable_travel_mm.value
    if solid is not None and usable is not None and usable <= SLACK:
        yield _finding(at, "solid_not_shorter", Severity.FAULT, solid_mm=solid, free_mm=at.spring.free_length_mm)
        return
    fully_in, now = figures.coil_bind_clearance_mm.value, figures.clearance_now_mm.value
    only_further_in = fully_in is not None and now is not None and fully_in < LEAST_COIL_CLEARANCE_MM - SLACK <= now
    touching_now = sure(now, now=True) if only_further_in and now is not None else None
    if only_further_in and now is not None and fully_in is not None and touching_now is None:
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
    if binds_now or touching_now is not None:
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
        "second_first": second_closes_first(at.spring, at.spring_at) or None,
    }
    touching = sure(clearance_mm, now=fully_in is None)
    if touching is not None:
        values["expanded_mm"] = touching.expanded_mm
    if abs(clearance_mm) < NOT_SHOWN_MM and not at.is_shock:
        yield _finding(at, "coil_bind_at_the_end", Severity.FAULT, **values)
    elif clearance_mm <= SLACK:
        yield _finding(at, "coil_bind", Severity.FAULT, **values, short_mm=-clearance_mm)
    elif clearance_mm < LEAST_COIL_CLEARANCE_MM - SLACK:
        yield _finding(at, "coil_bind_near", Severity.FAULT, **values, least_mm=LEAST_COIL_CLEARANCE_MM)
    elif touching is not None:
        solid_counted = figures.solid_length_from != "measured" and touching.reading[-1] == "solid_length_mm"
        values |= {"reading": touching.reading, **({"work": "solid"} if solid_counted else {})}
        yield _finding(at, "coils_may_touch", Severity.WARNING, **values)
    elif required is not None and clearance_mm < required - SLACK:
        yield _finding(at, "coil_gaps_small", Severity.NOTE, **values, required_mm=required)
    elif required is not None and clearance_mm < DYNAMIC_GAP_FACTOR * required - SLACK:
        yield _finding(
            at, "coil_gaps_small_when_ridden", Severity.NOTE, **values, required_mm=DYNAMIC_GAP_FACTOR * required
        )


def _stress_findings(at: SpringAt, figures: CoilFigures) -> Iterator[Finding]:
    """Notes on stress in the wire beyond the guide value, and on a shock spring that buckles within its travel."""
    share, stress = figures.stress_share.value, figures.stress_mpa.value
    if share is not None and stress is not None and share > GUIDE_SHARE[1] + SLACK:
        low, high = GUIDE_SHARE
        yield _finding(at, "wire_stress_high", Severity.NOTE, share=share, stress=round(stress), low=low, high=high)
    buckles, usable, left = figures.buckles_at_mm.value, figures.usable_travel_mm.value, figures.clearance_now_mm.value
    if buckles is not None and usable is not None and left is not None and usable - left > buckles + SLACK:
        yield _finding(at, "spring_may_buckle", Severity.NOTE, buckles_mm=buckles, pressed_mm=usable - left)


def _rate_findings(at: SpringAt, figures: CoilFigures) -> Iterator[Finding]:
    """Findings on rates that disagree: of label, spring tester and calculation."""
    label, measured = at.spring.rate_n_per_mm, figures.rate_measured_n_per_mm.value
    calculated, bounds = figures.rate_calculated_n_per_mm.value, figures.rate_calculated_range
    if figures.rate_measured_n_per_mm.problem in ("tester_falls", "tester_one_length"):
        yield _finding(at, "tester_disordered", Severity.WARNING)
    else:
        yield from _questioned(at)
    if isinstance(label, Progressive):  # one rate is no measure of it
        return
    if label is None:
        yield from _unmarked(at, figures)
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


def _questioned(at: SpringAt) -> Iterator[Finding]:
    """A warning on each reading of the spring tester that the others speak against."""
    for row, off_n in coil_data(at.spring.coils, (*at.spring_at, "coils")).questioned:
        where: Path = (*at.spring_at, "coils", "tester", row, "force_n")
        values: dict[str, object] = {"number": row + 1, "off_n": off_n}
        if at.both_legs:
            values["both_legs"] = True
        yield Finding("tester_pair_off", Severity.WARNING, where, values)


def _unmarked(at: SpringAt, figures: CoilFigures) -> Iterator[Finding]:
    """A note on which rate is taken for a spring that has none recorded."""
    measured, calculated = figures.rate_measured_n_per_mm.value, figures.rate_calculated_n_per_mm.value
    if measured is not None:
        uncertainty = figures.rate_measured_uncertainty_n_per_mm.value
        yield _finding(at, "rate_by_tester", Severity.NOTE, measured=measured, uncertainty=uncertainty)
    elif calculated is not None and figures.rate_measured_n_per_mm.problem != "tester_bends":
        low, high = figures.rate_calculated_range or (calculated, calculated)
        ends = {"low": low, "high": high} if high > low else {}
        yield _finding(at, "rate_by_coils", Severity.NOTE, calculated=calculated, **ends)


def _differ(one: float, other: float, of: float) -> bool:
    return abs(one - other) > RATE_SOURCES_DIFFER * of + SLACK
