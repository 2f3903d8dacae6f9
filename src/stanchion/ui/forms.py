"""Which fields are on which screen, in the order one measures. Pure: a job in, lines out."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING, Any

from stanchion.base.record import record
from stanchion.job.edit import spec_at, value_at
from stanchion.job.model import ENDS, SIDES, STATES, Job, Path, Side
from stanchion.job.spec import Kind, Many, Number, Rows
from stanchion.units.known_units import Units
from stanchion.units.quantity import show, unit_name
from stanchion.wording.finding_words import field_label
from stanchion.wording.verdicts import STATE_WORDS

if TYPE_CHECKING:
    from stanchion.judgement.springs.stock import Stock


@record
class Heading:
    """A line that names what follows, with a word above each column."""

    text: str
    columns: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    """A word above each column after the units."""


@record
class Row:
    """A labelled line of fields; None where a column has no field here."""

    label: str
    cells: tuple[Path | None, ...]
    unit: str = ""
    across: bool = False
    """Enter goes on across this line before it goes down: its fields belong together."""
    texts: tuple[str, ...] = ()
    """What to show in each cell that is empty, or where a column has no field; empty: nothing."""
    after: tuple[str, ...] = ()
    """Text after the unit, one for each column."""


FormLine = Heading | Row
Form = Callable[[Any, Units], tuple[FormLine, ...]]
"""Returns the lines of the form for a Job or a Stock."""


def value_if_empty(path: Path, units: Units) -> str:
    """The value assumed where a field is empty; none for most."""
    if path[-1] == "set_length_at":
        return "out"
    if path[-1] == "tape_resolution_mm":
        return show(1.0, Kind.LENGTH, units).split(" ")[0]
    return ""


COIL_FIELDS = ("wire_mm", "outer_mm", "total_coils", "ends", "wire", "solid_length_mm")

COUNTED = {"turns": "turns", "clicks": "clicks", "rings": "rings", "mm": "mm", "none": ""}


def machine(job: Job, units: Units) -> tuple[FormLine, ...]:
    """Who, what, when, where; the loads on the springs; the geometry."""
    names = ("machine", "rider", "venue", "date", "use", "rider_mass_kg", "notes")
    lines: list[FormLine] = [Heading("Job"), *(row_of(units, ("job", name)) for name in names)]
    lines.append(Heading(f"Scale under wheel, {unit_name(Kind.MASS, units)}", ("front", "rear")))
    for state, word in (("alone", STATE_WORDS["static"]), ("aboard", STATE_WORDS["rider"])):
        cells = (("weights", f"front_{state}_kg"), ("weights", f"rear_{state}_kg"))
        lines.append(row_of(units, *cells, label=word.capitalize()))
    cells = (("weights", "front_unsprung_kg"), ("weights", "rear_unsprung_kg"))
    lines.append(row_of(units, *cells, label="Unsprung"))
    lines.append(Heading("Without scales"))
    lines += [row_of(units, ("weights", name)) for name in ("machine_kg", "front_share_pct", "rider_front_share_pct")]
    lines.append(Heading("Geometry"))
    measures = ("rake_deg", "offset_mm", "wheelbase_mm", "front_radius_mm", "rear_radius_mm", "measured")
    lines += [row_of(units, ("geometry", name)) for name in measures]
    if job.geometry.measured != "extended":
        lines += [row_of(units, ("geometry", name)) for name in ("front_sag_mm", "rear_sag_mm")]
    lines += [row_of(units, ("geometry", name)) for name in ("fork_height_mm", "length_adjuster_mm")]
    return tuple(lines)


def new_job(job: Job, units: Units) -> tuple[FormLine, ...]:
    """What names a new job."""
    del job
    return tuple(row_of(units, ("job", name)) for name in ("machine", "rider", "venue", "date", "use"))


def next_occasion(job: Job, units: Units) -> tuple[FormLine, ...]:
    """What changes from one occasion to the next: venue, date, rider and use."""
    del job
    return tuple(row_of(units, ("job", name)) for name in ("venue", "date", "rider", "rider_mass_kg", "use"))


@record
class _LegLines:
    """Lines of the fork that have a column for each leg, or one for both."""

    job: Job
    units: Units

    @property
    def sides(self) -> tuple[Side, ...]:
        return SIDES if self.job.front.split else ("left",)

    @property
    def heads(self) -> tuple[str, ...]:
        return self.sides if self.job.front.split else ("both",)

    def having(self, *countings: str) -> tuple[Side, ...]:
        """The legs with a spring whose adjuster is counted in one of these ways."""
        return tuple(s for s in self.sides if self.job.front.leg(s).spring_fitted and self._counting(s) in countings)

    def unit_of(self, sides: tuple[Side, ...]) -> str:
        """The unit of these legs' adjusters; empty if they differ."""
        counted = {COUNTED[self._counting(side)] for side in sides}
        return counted.pop() if len(counted) == 1 else ""

    def row(self, *tail: str, sides: tuple[Side, ...] | None = None, unit: str | None = None) -> Iterator[Row]:
        """A row with a cell for those legs; no row where there are none."""
        wanted = self.sides if sides is None else sides
        if wanted:
            cells = (("front", side, *tail) if side in wanted else None for side in self.sides)
            yield row_of(self.units, *cells, unit=unit)

    def pieces(self, *tail: str, sides: tuple[Side, ...]) -> Iterator[Row]:
        """A row for each piece, and one to add another."""
        counts = {side: len(value_at(self.job, ("front", side, *tail))) for side in sides}
        most = _most(("front", "left", *tail))
        for at in range(min(most, max(counts.values(), default=-1) + 1)):
            cells = (("front", side, *tail, at) if at <= counts.get(side, -1) else None for side in self.sides)
            yield row_of(self.units, *cells, number=at + 1)

    def _counting(self, side: Side) -> str:
        return self.job.front.leg(side).adjuster.counting


def front(job: Job, units: Units) -> tuple[FormLine, ...]:
    """The fork: both legs in one column until they are split."""
    legs = _LegLines(job, units)
    return (*_leg_springs(legs), *_leg_damping(legs), *_fork(legs), *_leg_coils(legs))


def _leg_springs(legs: _LegLines) -> Iterator[FormLine]:
    sprung = legs.having(*COUNTED)
    turning = legs.having("turns", "clicks", "rings", "mm")
    reading = legs.having("rings", "mm")
    unit = legs.unit_of(turning)
    yield Heading("Fork spring, per leg", legs.heads)
    for name in ("rate_n_per_mm", "free_length_mm", "set_length_mm"):
        yield from legs.row("spring", name, sides=sprung)
    yield from legs.row("spring", "set_length_at", sides=turning, unit=unit)
    yield from legs.row("spring", "set_length_in_mm", sides=turning)
    yield from legs.row("read_at", sides=sprung)
    if legs.job.front.split:
        yield from legs.row("spring_fitted")
    if sprung:
        yield Heading("Fork preload adjuster", legs.heads)
    yield from legs.row("adjuster", "counting", sides=sprung)
    threaded, clicking = legs.having("turns", "rings", "mm"), legs.having("clicks")
    yield from legs.row("adjuster", "total_turns", sides=threaded)
    yield from legs.row("adjuster", "total_clicks", sides=clicking, unit="clicks")
    yield from legs.row("adjuster", "reading_out", sides=reading, unit=unit)
    yield from legs.row("adjuster", "reading_in", sides=reading, unit=unit)
    yield from legs.row("adjuster", "now", sides=turning, unit=unit)
    yield from legs.row("adjuster", "pitch_mm", sides=threaded)
    yield from legs.row("adjuster", "click_mm", sides=clicking)
    if sprung:
        yield Heading("Fork spacer stack", legs.heads)
    yield from legs.row("stack", "spacer_mm", sides=sprung)
    yield from legs.pieces("stack", "washers_mm", sides=sprung)
    yield from legs.pieces("stack", "seats_mm", sides=sprung)


def _leg_coils(legs: _LegLines) -> Iterator[FormLine]:
    sprung = legs.having(*COUNTED)
    if not sprung:
        return
    yield Heading("Fork coils, for bind", legs.heads)
    for name in COIL_FIELDS:
        yield from legs.row("spring", "coils", name, sides=sprung)
    for side in sprung:
        name = f"Fork tester, {side}" if legs.job.front.split else "Fork tester"
        yield from _tester(legs.units, ("front", side, "spring", "coils", "tester"), legs.job, name)


def _tester(units: Units, path: Path, job: Job, name: str) -> Iterator[FormLine]:
    """Pairs of a spring tester, and a row to add another."""
    length, force = unit_name(Kind.LENGTH, units), unit_name(Kind.FORCE, units)
    yield Heading(name, (f"long {length}", f"force {force}"))
    for at in range(min(_most(path), len(value_at(job, path)) + 1)):
        pair = row_of(units, (*path, at, "length_mm"), (*path, at, "force_n"), label=f"Pair {at + 1}", unit="")
        yield replace(pair, across=True)


def _leg_damping(legs: _LegLines) -> Iterator[FormLine]:
    yield Heading("Fork damping, from closed", legs.heads)
    for damper in ("compression", "high_speed_compression", "rebound"):
        unit = value_at(legs.job, ("front", "left", damper, "unit"))
        for name in ("now", "total"):
            yield from legs.row(damper, name, unit=unit)
        yield from legs.row(damper, "unit")
    yield Heading("Fork oil and air", legs.heads)
    for name in ("air_gap_mm", "oil_volume_ml", "solids_ml"):
        yield from legs.row(name)
    for name in ("at_mm", "pressure_bar", "temperature_c"):
        yield from legs.row("bleed", name)


def _fork(legs: _LegLines) -> Iterator[FormLine]:
    front, units = legs.job.front, legs.units
    yield row_of(units, ("front", "oil"))
    yield Heading("Fork")
    for name in (
        "travel_mm",
        "packers_mm",
        "air_gap_least_mm",
        "fork_height_mm",
        "stanchion_outer_mm",
        "stanchion_inner_mm",
        "temperature_c",
    ):
        yield row_of(units, ("front", name))
    yield row_of(units, ("front", "top_out", "fitted"))
    if front.top_out.fitted == "yes":
        for name in ("rate_n_per_mm", "works_over_mm"):
            yield row_of(units, ("front", "top_out", name))
        one_spring = sum(front.leg(side).spring_fitted for side in SIDES) == 1
        if one_spring or (front.split and front.top_out_legs != "unknown"):
            yield row_of(units, ("front", "top_out_legs"))
    if front.split:
        yield Heading("Meant to differ")
        for name in ("preload_difference_meant", "dampers_split"):
            yield row_of(units, ("front", name))


def rear(job: Job, units: Units) -> tuple[FormLine, ...]:
    """The shock, its spring and the linkage."""
    counting = job.rear.collar.counting
    unit = COUNTED[counting]

    def row(*tail: str, unit: str | None = None) -> Row:
        return row_of(units, ("rear", *tail), unit=unit)

    lines: list[FormLine] = [Heading("Shock spring")]
    lines += [row("spring", name) for name in ("rate_n_per_mm", "free_length_mm", "set_length_mm")]
    if counting != "none":
        lines += [row("spring", "set_length_at", unit=unit), row("spring", "set_length_in_mm")]
    lines += [Heading("Shock preload adjuster"), row("collar", "counting")]
    if counting != "none":
        collar = job.rear.collar
        lines += [row("collar", collar.step_name)]
        lines += [row("collar", collar.total_name, unit="clicks" if counting == "clicks" else None)]
        if not collar.from_out:
            lines += [row("collar", name, unit=unit) for name in ("reading_out", "reading_in")]
        lines.append(row("collar", "now", unit=unit))
    lines.append(Heading("Linkage"))
    lines.append(row("motion_ratio"))
    pairs = job.rear.linkage
    lines.append(Heading("Pairs: travel of", ("wheel", "shock")))
    most = _most(("rear", "linkage"))
    for at in range(min(most, len(pairs) + 1)):
        cells = (("rear", "linkage", at, "wheel_mm"), ("rear", "linkage", at, "shock_mm"))
        lines.append(replace(row_of(units, *cells, label=f"Pair {at + 1}"), across=True))
    lines.append(Heading("Shock"))
    lines += [row(name) for name in ("stroke_mm", "wheel_travel_mm", "eye_to_eye_mm", "length_adjuster_mm")]
    lines += [row(name) for name in ("shaft_mm", "gas_pressure_bar", "packers_mm", "bump_rubber_mm")]
    lines.append(row("top_out", "fitted"))
    if job.rear.top_out.fitted == "yes":
        lines += [row("top_out", name) for name in ("rate_n_per_mm", "works_over_mm")]
    lines.append(Heading("Shock damping, from closed"))
    for damper in ("low_speed_compression", "high_speed_compression", "rebound"):
        counted = value_at(job, ("rear", damper, "unit"))
        lines += [row(damper, "now", unit=counted), row(damper, "total", unit=counted), row(damper, "unit")]
    lines.append(Heading("Shock coils, for coil bind"))
    lines += [row("spring", "coils", name) for name in COIL_FIELDS]
    lines += _tester(units, ("rear", "spring", "coils", "tester"), job, "Shock tester")
    return tuple(lines)


def stock(of: Stock, units: Units) -> tuple[FormLine, ...]:
    """Every spring of the stock, and room for one more."""
    lines: list[FormLine] = []
    length = unit_name(Kind.LENGTH, units)
    heads = ("for", unit_name(Kind.RATE, units), f"free {length}", "count", f"wire {length}", f"coil {length}", "coils")
    for row in range(len(of.rows) + 1):
        name = f"Spring {row + 1}" if row < len(of.rows) else "One more"
        lines.append(Heading(name, heads))
        names = ("end", "rate_n_per_mm", "free_length_mm", "count", "wire_mm", "outer_mm", "total_coils")
        lines.append(Row("", tuple((row, field) for field in names)))
        lines.append(Row(f"ends, solid {length}"[:12], ((row, "ends"), None, (row, "solid_length_mm"))))
        lines.append(Row("label", ((row, "label"),)))
    return tuple(lines)


def trial(job: Job, units: Units) -> tuple[FormLine, ...]:
    """The fields of a trial: those that a person turns, changes or adds."""
    legs = _LegLines(job, units)
    sprung, turning = legs.having(*COUNTED), legs.having("turns", "clicks", "rings", "mm")
    collar = COUNTED[job.rear.collar.counting]
    lines: list[FormLine] = [Heading("Fork", legs.heads)]
    lines += legs.row("adjuster", "now", sides=turning, unit=legs.unit_of(turning))
    for name in ("rate_n_per_mm", "free_length_mm", "set_length_mm", "set_length_in_mm"):
        lines += legs.row("spring", name, sides=sprung)
    lines += legs.row("air_gap_mm")
    lines.append(row_of(units, ("front", "fork_height_mm")))
    lines.append(Heading("Shock"))
    if collar:
        lines.append(row_of(units, ("rear", "collar", "now"), unit=collar))
    names = ("rate_n_per_mm", "free_length_mm", "set_length_mm")
    lines += [row_of(units, ("rear", "spring", name)) for name in names]
    lines += [row_of(units, ("rear", name)) for name in ("length_adjuster_mm", "motion_ratio")]
    lines.append(Heading("Load"))
    lines += [row_of(units, ("job", "rider_mass_kg")), row_of(units, ("job", "use"))]
    lines += [row_of(units, ("weights", name)) for name in ("front_aboard_kg", "rear_aboard_kg")]
    return tuple(lines)


def sag(job: Job, units: Units) -> tuple[FormLine, ...]:
    """L1, then down and up for machine alone and rider aboard, at each end; repeats to the right."""
    lines: list[FormLine] = []
    for end in ENDS:
        readings = job.sag.end(end)
        heads = tuple(str(n + 1) for n in range(_most(("sag", end, "hanging_mm"))))
        lines.append(Heading(f"{end}, {unit_name(Kind.LENGTH, units)}", heads))
        if readings.gauge == "length":
            lines.append(_repeats(job, "Hanging, L1", ("sag", end, "hanging_mm")))
        for state in STATES:
            for word in ("down", "up"):
                lines.append(_repeats(job, f"{state.capitalize()} {word}", ("sag", end, state, f"{word}_mm")))
    lines.append(Heading("Measuring"))
    lines += [row_of(units, ("sag", end, "gauge"), label=f"{end.capitalize()} by") for end in ENDS]
    lines += [
        row_of(units, ("sag", "tape_resolution_mm"), label="Tape div."),
        row_of(units, ("sag", "fuel"), label="Fuel"),
    ]
    return tuple(lines)


def _repeats(job: Job, label: str, path: Path) -> Row:
    count, most = len(value_at(job, path)), _most(path)
    cells = tuple((*path, at) if at <= count else None for at in range(most))
    return Row(label, cells)


@cache
def row_of(
    units: Units, *cells: Path | None, unit: str | None = None, label: str = "", number: int | None = None
) -> Row:
    """A row of these fields, by the name and unit of the first unless others are given.

    Asked for some seventy times at every key; there are as many rows as there are fields and units, and no more.
    """
    path = next(cell for cell in cells if cell is not None)
    spec = spec_at(path)
    if unit is None:
        unit = unit_name(spec.kind, units) if isinstance(spec, Number) else ""
    name = label or field_label(path)
    return Row(f"{name} {number}" if number else name, cells, unit)


def _most(path: Path) -> int:
    spec = spec_at(path)
    if not isinstance(spec, Many | Rows):
        raise TypeError(f"{path} is no list")
    return spec.most
