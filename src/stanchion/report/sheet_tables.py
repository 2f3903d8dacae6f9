"""The tables of the hand-over sheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from stanchion.base.text import clean
from stanchion.job.edit import value_at
from stanchion.job.model import ENDS, SIDES, STATES, AirLeg, Job, SecondSpring, Spring, Stops
from stanchion.job.runs import base_positions
from stanchion.job.spec import Kind
from stanchion.judgement.ends.coil_data import coil_data
from stanchion.judgement.ends.spring_law import unmarked_rate
from stanchion.judgement.predict.damping import damping_figures
from stanchion.judgement.results.assessment import Assessment, PreloadFigures
from stanchion.report.lines import NONE, by_leg, figure, recorded_text
from stanchion.report.sheet_air import BY_AIR, air_rows, fork_air_rows, gas_forces
from stanchion.report.sheet_cells import (
    NO_SPRING,
    band,
    clicks,
    dampers_of,
    headroom,
    less_packers,
    position,
    preload_from,
    set_lengths,
    settable,
    stack_cell,
    state_name,
)
from stanchion.report.sheet_curves import force_rows
from stanchion.report.sheet_shape import Table
from stanchion.units.known_units import Units
from stanchion.units.quantity import show
from stanchion.wording.american import worded
from stanchion.wording.choice_words import choice_word
from stanchion.wording.damping_sentences import frequency_cell
from stanchion.wording.figure_names import FIGURE_NAMES
from stanchion.wording.positions import bare
from stanchion.wording.prediction_sentences import GEOMETRY_STATES, geometry_state
from stanchion.wording.verdicts import PRELOAD_VERDICTS, SAG_VERDICTS, STATE_WORDS

_DOUBTED = ("find_friction", "measure_again_swapped", "measure_again_impossible")
"""Advice that says the readings of an end are not to be relied on."""

CLOSED = "closed"
"""What dampers are counted from."""

_Row = tuple[str, Sequence[str]]


def settings_table(job: Job, units: Units) -> Table:
    """Every adjuster in the order of the work: position, base where any is known, what it counts from, box to tick."""
    front, rear = job.front, job.rear
    bases = base_positions(job)
    rows: list[tuple[str, str, str, str]] = [
        ("Fork height", recorded_text(front.fork_height_mm, Kind.LENGTH, units), NONE, worded("top yoke")),
        ("Shock length", recorded_text(rear.length_adjuster_mm, Kind.LENGTH, units), NONE, "adjuster"),
    ]

    def base(*path: str) -> str:
        known = bases.get((*path, "base"))
        own = value_at(job, (*path, "base")) is not None
        return NONE if known is None else bare(known) if own else f"{bare(known)} (run 1)"

    for side in SIDES if front.split else SIDES[:1]:
        leg = front.leg(side)
        where = f", {side}" if front.split else ""
        if leg.air.fitted:
            rows += _pressures(leg.air, "Fork", where, units)
        rows.append(
            (
                f"Fork preload{where}",
                position(leg.adjuster) if leg.coil_fitted else NONE,
                base("front", side, "adjuster"),
                preload_from(leg.adjuster),
            )
        )
        rows += [
            (f"Fork {words}{where}", clicks(clicker), base("front", side, name), CLOSED)
            for name, words, clicker in dampers_of(leg)
        ]
    if rear.air.fitted:
        rows += _pressures(rear.air, "Shock", "", units)
    else:
        rows.append(("Shock preload", position(rear.collar), base("rear", "collar"), preload_from(rear.collar)))
    rows += [
        (f"Shock {words}", clicks(clicker), base("rear", name), CLOSED) for name, words, clicker in dampers_of(rear)
    ]
    rows.append(("Axle mark", recorded_text(job.upkeep.axle_mark_mm, Kind.LENGTH, units), NONE, "swingarm scale"))
    filled = [row for row in rows if row[1] not in (NONE, "no adjuster")]
    if not bases:
        cells = [(name, (position, of, "[ ]")) for name, position, _, of in filled]
        return Table("Settings to check", ("position", "counted from", "checked"), tuple(cells))
    with_base = [(name, (position, base, of, "[ ]")) for name, position, base, of in filled]
    return Table("Settings to check", ("position", "base", "counted from", "checked"), tuple(with_base))


def _pressures(air: AirLeg, of: str, where: str, units: Units) -> Iterator[tuple[str, str, str, str]]:
    """The pressures of a leg or shock that is sprung by air."""
    at = "" if air.set_at_c is None else f", {show(air.set_at_c, Kind.TEMPERATURE, units)}"
    yield f"{of} air{where}", recorded_text(air.pressure_bar, Kind.PRESSURE, units), NONE, f"extended{at}"
    for name in air.pumped[1:]:
        bar = recorded_text(getattr(air, name), Kind.PRESSURE, units)
        yield f"{of} {name.removesuffix('_bar')} air{where}", bar, NONE, f"extended{at}"


def spring_table(job: Job, a: Assessment, units: Units) -> Table:
    """Springs and preload: each leg, or both as one, and the shock."""
    sides = SIDES if job.front.split else SIDES[:1]
    legs = [job.front.leg(side) for side in sides]
    figures = [a.front.leg(side) for side in sides]
    springs: list[Spring | str] = [
        BY_AIR if leg.air.fitted else leg.spring if f.has_spring else NO_SPRING
        for leg, f in zip(legs, figures, strict=True)
    ]
    springs.append(BY_AIR if job.rear.air.fitted else job.rear.spring)
    rows: list[_Row] = [
        *_spring_rows(springs, units),
        ("Spacer stack", [*(stack_cell(leg, f, units) for leg, f in zip(legs, figures, strict=True)), NONE]),
        *_preload_rows([*figures, a.rear.spring], units),
    ]
    heads = ("fork left", "fork right", "shock") if job.front.split else ("fork, each leg", "shock")
    return Table("Springs and preload", heads, _filled(rows))


def load_table(job: Job, units: Units) -> Table:
    """What the scales read under each wheel."""
    rows: list[_Row] = [
        (
            f"{end.capitalize()} wheel",
            [
                recorded_text(getattr(job.weights, f"{end}_{state}_kg"), Kind.MASS, units)
                for state in ("alone", "aboard")
            ],
        )
        for end in ENDS
    ]
    return Table("Axle loads", tuple(STATE_WORDS[state] for state in STATES), _filled(rows), narrow=True)


def fork_facts(job: Job, a: Assessment, units: Units) -> Table:
    """What is set once for the fork."""
    front = job.front
    top_out = {"yes": "fitted", "no": "none"}.get(front.top_out.fitted, NONE)
    if front.top_out.fitted == "yes" and front.top_out_legs != "unknown":
        top_out += f", {choice_word(('front', 'top_out_legs'), front.top_out_legs)}"
    legs = [front.leg(side) for side in (SIDES if front.split else SIDES[:1])]
    rows: list[_Row] = [
        ("Air gap", [by_leg([recorded_text(leg.air_gap_mm, Kind.LENGTH, units) for leg in legs], " / ")]),
        ("Oil volume", [by_leg([recorded_text(leg.oil_volume_ml, Kind.VOLUME, units) for leg in legs], " / ")]),
        ("Oil", [clean(front.oil) or NONE]),
        ("Travel", [less_packers(front.travel_mm, front.packers_mm, units)]),
        ("Top-out spring", [top_out]),
        *_stop_rows(front.stops, units),
        *force_rows(a.predicted.front.full_travel, units),
        *fork_air_rows(front, units),
        ("Frequency", [frequency_cell(damping_figures(job, a), "front")]),
    ]
    return Table("Fork", (), _filled(rows))


def shock_facts(job: Job, a: Assessment, units: Units) -> Table:
    """What else is set at the shock, and what the linkage makes of it."""
    rear = job.rear
    ratio = figure(a.rear.best_motion_ratio[0], Kind.RATIO, units)
    wheel_rate = figure(a.rear.best_wheel_rate[0], Kind.RATE, units)
    if (rear.linkage or rear.by_points) and NONE not in (ratio, wheel_rate):
        by = "by points" if rear.by_points else f"{len(rear.linkage)} pairs"
        ratio += f" at {show(a.rear.at_travel_mm, Kind.LENGTH, units)}, {by}"
        wheel_rate += ", smooth" if a.rear.smooth else " there"
    rows: list[_Row] = [
        ("Eye to eye", [recorded_text(rear.eye_to_eye_mm, Kind.LENGTH, units)]),
        ("Stroke", [less_packers(rear.stroke_mm, rear.packers_mm, units)]),
        ("Gas pressure", [recorded_text(rear.gas_pressure_bar, Kind.PRESSURE, units)]),
        ("Gas force, out / in", [gas_forces(a, units)]),
        *_stop_rows(rear.stops, units),
        *force_rows(a.predicted.rear.full_travel, units),
        *air_rows(rear.air, units),
        (FIGURE_NAMES["motion_ratio"], [ratio]),
        ("Wheel rate", [wheel_rate]),
        ("Frequency", [frequency_cell(damping_figures(job, a), "rear")]),
    ]
    return Table("Shock and linkage", (), _filled(rows))


def _stop_rows(stops: Stops, units: Units) -> Iterator[_Row]:
    """Where a bump rubber or cone touches, with its rate, and the length of a hydraulic stop."""
    touches = recorded_text(stops.touches_mm, Kind.LENGTH, units)
    rate = recorded_text(None if stops.pairs else stops.rate_n_per_mm, Kind.RATE, units)
    by = f"{len(stops.pairs)} pair{'s' * (len(stops.pairs) > 1)}" if stops.pairs else "" if rate == NONE else rate
    yield "Rubber touches at", [", ".join(one for one in (touches if touches != NONE else "", by) if one) or NONE]
    yield "Hydraulic stop", [recorded_text(stops.hydraulic_mm, Kind.LENGTH, units)]


def sag_table(a: Assessment, units: Units) -> Table:
    """Both sags at both ends, against their targets and what the springs should give."""
    predicted = [a.predicted.sag(end, state) for end in ENDS for state in STATES]
    foreseen = any(one.known for one in predicted)
    rows: list[_Row] = []
    for end in ENDS:
        for state in STATES:
            of, given = a.sag.end(end).state(state), a.predicted.end(end).state(state)
            advice = a.sag.end(end).advice
            doubted = of.sag_mm.known and advice is not None and advice.code in _DOUBTED
            cells = [
                SAG_VERDICTS["topped_out"] if of.topped_out else figure(of.sag_mm, Kind.LENGTH, units),
                band(of.target, units),
                SAG_VERDICTS["doubtful" if doubted else of.verdict_now] or NONE,
            ]
            if foreseen:
                at_stop = given.limit == "topped_out"
                foretold = SAG_VERDICTS["topped_out"] if at_stop else figure(given.sag_mm, Kind.LENGTH, units)
                in_doubt = a.predicted.end(end).doubted and given.sag_mm.known
                cells.append(f"{foretold}, {SAG_VERDICTS['doubtful']}" if in_doubt else foretold)
            rows.append((state_name(end, state), cells))
    heads = ("measured", "target", "verdict", *(["predicted"] if foreseen else []))
    known = any(row[1][0] != NONE for row in rows) or foreseen
    return Table("Sag", heads, tuple((name, tuple(cells)) for name, cells in rows) if known else ())


def geometry_table(a: Assessment, units: Units) -> Table | None:
    """Steering geometry now and as measured; None where it is not known."""
    g = a.geometry
    if not g.rake_deg.known:
        return None
    rows = (
        ("Rake", g.rake_deg, g.baseline.rake_deg, Kind.ANGLE),
        ("Trail", g.trail_mm, g.baseline.trail_mm, Kind.LENGTH),
        ("Wheelbase", g.wheelbase_mm, g.baseline.wheelbase_mm, Kind.LENGTH),
    )
    heads = (f"now, {geometry_state(g)}", f"measured, {GEOMETRY_STATES[g.baseline_state]}")
    return Table(
        "Geometry",
        heads,
        tuple((name, (figure(now, kind, units), figure(base, kind, units))) for name, now, base, kind in rows),
        narrow=True,
    )


# --- rows ---------------------------------------------------------------------------------------------------------


def _spring_rows(springs: Sequence[Spring | str], units: Units) -> Iterator[_Row]:
    def cells(name: str, kind: Kind) -> list[str]:
        return [s if isinstance(s, str) else recorded_text(getattr(s, name), kind, units) for s in springs]

    yield "Spring rate", [s if isinstance(s, str) else _rate(s, units) for s in springs]
    yield "Second spring", [s if isinstance(s, str) else _second(s.second, units) for s in springs]
    yield "Free length", cells("free_length_mm", Kind.LENGTH)
    yield "Set length out / in", [set_lengths(spring, units) for spring in springs]


def _rate(spring: Spring, units: Units) -> str:
    """The rate as recorded; where none is, the one that is computed with, and what it is from."""
    rate = spring.rate_n_per_mm
    if rate is not None:
        return show(rate, Kind.RATE, units)
    found = unmarked_rate(spring, ())
    coils = coil_data(spring.coils, ())
    if found.value is None or coils.bend is not None:
        return NONE
    if not found.estimate:
        return f"{show(found.value, Kind.RATE, units)} (by spring tester)"
    between = "–".join(show(limit, Kind.RATE, units).split(" ")[0] for limit in coils.rate_range or ())
    return f"~{show(found.value, Kind.RATE, units)} (estimate by coils{between and f', {between}'})"


def _second(second: SecondSpring, units: Units) -> str:
    """A second spring: its rate, how it stands, and how far it is to its stop or to it."""
    if not second.fitted:
        return NONE
    parts = [choice_word(("arranged",), second.arranged)]
    if second.rate_n_per_mm is not None:
        parts.insert(0, show(second.rate_n_per_mm, Kind.RATE, units))
    for name, mm in (("stop", second.stop_mm), ("gap", second.gap_mm)):
        if mm is not None and (name == "stop") == (second.arranged == "end_to_end"):
            parts.append(f"{name} {show(mm, Kind.LENGTH, units)}")
    return ", ".join(parts)


def _preload_rows(figures: Sequence[PreloadFigures], units: Units) -> Iterator[_Row]:
    def installed(f: PreloadFigures) -> str:
        value = figure(f.installed_preload_mm, Kind.LENGTH, units)
        value += "" if f.unsure_mm is None else f" ± {show(f.unsure_mm, Kind.LENGTH, units)}"
        return f"{value}, {PRELOAD_VERDICTS[f.verdict]}" if f.verdict else value

    yield "Installed preload", [installed(f) for f in figures]
    yield "Preload now", [settable(f.preload_now_mm, units) for f in figures]
    yield "Headroom out", [headroom(f, "out", units) for f in figures]
    yield "Headroom in", [headroom(f, "in", units) for f in figures]


def _filled(rows: Iterable[_Row]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The rows in which there is anything."""
    nothing = (NONE, NO_SPRING, BY_AIR)
    return tuple((name, tuple(cells)) for name, cells in rows if any(cell not in nothing for cell in cells))
