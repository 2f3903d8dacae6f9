"""Which fields are on which screen, in the order one measures. Pure: a job in, lines out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields

from stanchion.base.record import record
from stanchion.job.air import PRESSURES
from stanchion.job.edit import value_at
from stanchion.job.model import ENDS, SIDES, STATES, AirLeg, Job, Outside, Path, Rear, Side
from stanchion.job.spec import Kind
from stanchion.ui.bench_lines import stop_lines, tester_lines, top_out_lines, with_rates
from stanchion.ui.form_lines import FormLine, Heading, Row, most_of, row_of
from stanchion.units.known_units import Units
from stanchion.units.quantity import unit_name

COIL_FIELDS = ("wire_mm", "outer_mm", "total_coils", "ends", "wire", "solid_length_mm")

COUNTED = {"turns": "turns", "clicks": "clicks", "rings": "rings", "mm": "mm", "none": ""}


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
        return tuple(s for s in self.sides if self.job.front.leg(s).coil_fitted and self._counting(s) in countings)

    @property
    def by_air(self) -> tuple[Side, ...]:
        """The legs that are sprung by air."""
        return tuple(side for side in self.sides if self.job.front.leg(side).air.fitted)

    def unit_of(self, sides: tuple[Side, ...]) -> str:
        """The unit of these legs' adjusters; empty if they differ."""
        counted = {COUNTED[self._counting(side)] for side in sides}
        return counted.pop() if len(counted) == 1 else ""

    def second(self, side: Side) -> str:
        """How a second spring stands in that leg."""
        return self.job.front.leg(side).spring.second.arranged

    def of_second(self, side: Side) -> tuple[str, ...]:
        """The fields of the second spring in that leg; none where there is none."""
        return _OF_SECOND.get(self.second(side), ())

    def row(
        self, *tail: str, sides: tuple[Side, ...] | None = None, unit: str | None = None, label: str = ""
    ) -> Iterator[Row]:
        """A row with a cell for those legs; no row where there are none."""
        wanted = self.sides if sides is None else sides
        if wanted:
            cells = (("front", side, *tail) if side in wanted else None for side in self.sides)
            yield row_of(self.units, *cells, unit=unit, label=label)

    def pieces(self, *tail: str, sides: tuple[Side, ...]) -> Iterator[Row]:
        """A row for each piece, and one to add another."""
        counts = {side: len(value_at(self.job, ("front", side, *tail))) for side in sides}
        most = most_of(("front", "left", *tail))
        for at in range(min(most, max(counts.values(), default=-1) + 1)):
            cells = (("front", side, *tail, at) if at <= counts.get(side, -1) else None for side in self.sides)
            yield row_of(self.units, *cells, number=at + 1)

    def noted(self, *tail: str) -> Iterator[Row]:
        """A row for each field of a note on another venue, for the legs that have it."""
        for field in fields(Outside):
            path = (*tail, field.name)
            yield from self.row(
                *path, sides=tuple(s for s in self.sides if value_at(self.job, ("front", s, *path)) is not None)
            )

    def _counting(self, side: Side) -> str:
        return self.job.front.leg(side).adjuster.counting


def front(job: Job, units: Units) -> tuple[FormLine, ...]:
    """The fork: both legs in one column until they are split."""
    legs = _LegLines(job, units)
    return (*_leg_springs(legs), *_leg_damping(legs), *_fork(legs), *_leg_coils(legs))


def _leg_springs(legs: _LegLines) -> Iterator[FormLine]:
    yield from _leg_air(legs)
    sprung = legs.having(*COUNTED)
    turning = legs.having("turns", "clicks", "rings", "mm")
    reading = legs.having("rings", "mm")
    unit = legs.unit_of(turning)
    if sprung or not legs.by_air:
        yield Heading("Fork spring, per leg", legs.heads)
    for row in legs.row("spring", "rate_n_per_mm", sides=sprung):
        springs = [legs.job.front.leg(side).spring if side in sprung else None for side in legs.sides]
        yield with_rates(row, springs, legs.units)
    ended = any(legs.second(side) == "end_to_end" for side in sprung)
    yield from legs.row("spring", "free_length_mm", sides=sprung, label=BOTH_LENGTHS if ended else "")
    yield from legs.row("spring", "set_length_mm", sides=sprung)
    yield from legs.row("spring", "set_length_at", sides=turning, unit=unit)
    yield from legs.row("spring", "set_length_in_mm", sides=turning)
    yield from legs.row("read_at", sides=sprung)
    if legs.job.front.split:
        yield from legs.row("spring_fitted", sides=tuple(s for s in legs.sides if s not in legs.by_air))
    yield from _leg_seconds(legs, sprung)
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


BOTH_LENGTHS = "Free length, both"
"""Label of the free length of two springs end to end."""
_OF_SECOND = {
    "end_to_end": ("rate_n_per_mm", "stop_mm", "free_length_mm", "solid_length_mm", "divider_mm"),
    "side_by_side": ("rate_n_per_mm", "gap_mm", "free_length_mm", "solid_length_mm"),
}
"""The fields of a second spring, by how it is arranged."""


def _leg_seconds(legs: _LegLines, sprung: tuple[Side, ...]) -> Iterator[FormLine]:
    """The second spring of each leg, where there is one."""
    having = {side: legs.second(side) for side in sprung if legs.second(side) != "none"}
    if not having:
        return
    yield Heading("Fork second spring", legs.heads)
    yield from legs.row("spring", "second", "arranged", sides=sprung)
    for name in dict.fromkeys(name for kind in having.values() for name in _OF_SECOND[kind]):
        sides = tuple(side for side, kind in having.items() if name in _OF_SECOND[kind])
        yield from legs.row("spring", "second", name, sides=sides)


def _leg_air(legs: _LegLines) -> Iterator[FormLine]:
    """The air that springs a leg."""
    if not legs.by_air:
        return
    yield Heading("Fork air spring, per leg", legs.heads)
    asked = {side: list(air_fields(legs.job.front.leg(side).air)) for side in legs.by_air}
    asked |= {side: [("fitted",)] for side in legs.sides if side not in asked}
    for name in dict.fromkeys(name for side in legs.by_air for name in asked[side]):
        yield from legs.row("air", *name, sides=tuple(side for side in legs.sides if name in asked[side]))


def _leg_coils(legs: _LegLines) -> Iterator[FormLine]:
    sprung = legs.having(*COUNTED)
    if not sprung:
        return
    yield Heading("Fork coils, for bind", legs.heads)
    for name in COIL_FIELDS:
        yield from legs.row("spring", "coils", name, sides=sprung)
    if all(legs.second(side) == "none" for side in sprung):
        yield from legs.row("spring", "second", "arranged", sides=sprung)
    for side in sprung:
        name = f"Fork tester, {side}" if legs.job.front.split else "Fork tester"
        yield from tester_lines(legs.units, ("front", side, "spring", "coils", "tester"), legs.job, name)


def _leg_damping(legs: _LegLines) -> Iterator[FormLine]:
    yield Heading("Fork damping, from closed", legs.heads)
    for damper in ("compression", "high_speed_compression", "rebound"):
        unit = value_at(legs.job, ("front", "left", damper, "unit"))
        for name in ("now", "total"):
            yield from legs.row(damper, name, unit=unit)
        yield from legs.row(damper, "unit")
    yield Heading("Fork oil and air", legs.heads)
    if not legs.by_air:
        yield from legs.row("air", "fitted")
    for name in ("air_gap_mm", "oil_volume_ml", "solids_ml"):
        yield from legs.row(name)
    for name in ("at_mm", "pressure_bar", "temperature_c"):
        yield from legs.row("bleed", name)
    yield from legs.noted("bleed", "closed_in")


def _fork(legs: _LegLines) -> Iterator[FormLine]:
    front, units = legs.job.front, legs.units
    yield row_of(units, ("front", "oil"))
    yield Heading("Fork")
    gapped = any(front.leg(side).air_gap_mm is not None for side in SIDES)
    for name in (
        "travel_mm",
        "packers_mm",
        *(("gap_compared_mm", "reserve_wanted_n", "left_wanted_mm") if gapped else ()),
        "air_gap_least_mm",
        "fork_height_mm",
        "stanchion_outer_mm",
        "stanchion_inner_mm",
        "damper_rod_mm",
        "temperature_c",
    ):
        yield row_of(units, ("front", name))
    yield from stop_lines(units, ("front", "stops"), front.stops)
    yield row_of(units, ("front", "top_out", "fitted"))
    if front.top_out.fitted == "yes":
        yield from top_out_lines(units, ("front", "top_out"), front.top_out)
        if len(front.main_springs) == 1 or front.top_out_legs != "unknown":
            yield row_of(units, ("front", "top_out_legs"))
    if front.split:
        yield Heading("Meant to differ")
        for name in ("preload_difference_meant", "dampers_split"):
            yield row_of(units, ("front", name))


def rear(job: Job, units: Units) -> tuple[FormLine, ...]:
    """The shock, its spring and the linkage."""

    def row(*tail: str, unit: str | None = None, label: str = "") -> Row:
        return row_of(units, ("rear", *tail), unit=unit, label=label)

    lines: list[FormLine] = list((_shock_air if job.rear.air.fitted else _shock_spring)(job, units))
    by_points = job.rear.by_points
    lines += [Heading("Linkage: by points, F7" if by_points else "Linkage"), row("motion_ratio")]
    pairs = job.rear.linkage
    lines.append(Heading("Pairs: travel of", ("wheel", "shock")))
    most = most_of(("rear", "linkage"))
    for at in range(min(most, len(pairs) + 1)):
        cells = (("rear", "linkage", at, "wheel_mm"), ("rear", "linkage", at, "shock_mm"))
        lines.append(row_of(units, *cells, label=f"Pair {at + 1}", across=True))
    lines.append(Heading("Shock"))
    lines += [row(name) for name in ("stroke_mm", "wheel_travel_mm", "eye_to_eye_mm", "length_adjuster_mm")]
    lines += [row(name) for name in ("shaft_mm", "gas_pressure_bar", "gas_volume_ml", "gas_set_at_c")]
    lines += [row("gas_set_in", name) for name in noted_in(job.rear.gas_set_in)]
    lines.append(row("temperature_c"))
    lines += [row(name) for name in ("packers_mm", "bump_rubber_mm")]
    lines += stop_lines(units, ("rear", "stops"), job.rear.stops)
    if not job.rear.air.fitted:
        lines.append(row("air", "fitted"))
    lines.append(row("top_out", "fitted"))
    if job.rear.top_out.fitted == "yes":
        lines += top_out_lines(units, ("rear", "top_out"), job.rear.top_out)
    lines.append(Heading("Shock damping, from closed"))
    for damper in ("low_speed_compression", "high_speed_compression", "rebound"):
        counted = value_at(job, ("rear", damper, "unit"))
        lines += [row(damper, "now", unit=counted), row(damper, "total", unit=counted), row(damper, "unit")]
    lines += [] if job.rear.air.fitted else _shock_coils(job, units)
    return tuple(lines)


def _shock_spring(job: Job, units: Units) -> Iterator[FormLine]:
    """The spring of the shock and its adjuster."""
    collar, unit = job.rear.collar, COUNTED[job.rear.collar.counting]
    second = job.rear.spring.second.arranged

    def row(*tail: str, unit: str | None = None, label: str = "") -> Row:
        return row_of(units, ("rear", *tail), unit=unit, label=label)

    yield Heading("Shock spring")
    yield with_rates(row("spring", "rate_n_per_mm"), (job.rear.spring,), units)
    yield row("spring", "free_length_mm", label=BOTH_LENGTHS if second == "end_to_end" else "")
    yield row("spring", "set_length_mm")
    if collar.counting != "none":
        yield from (row("spring", "set_length_at", unit=unit), row("spring", "set_length_in_mm"))
    if second != "none":
        yield from (Heading("Shock second spring"), row("spring", "second", "arranged"))
        yield from (row("spring", "second", name) for name in _OF_SECOND[second])
    yield from (Heading("Shock preload adjuster"), row("collar", "counting"))
    if collar.counting != "none":
        yield row("collar", collar.step_name)
        yield row("collar", collar.total_name, unit="clicks" if collar.counting == "clicks" else None)
        if not collar.from_out:
            yield from (row("collar", name, unit=unit) for name in ("reading_out", "reading_in"))
        yield row("collar", "now", unit=unit)


def _shock_coils(job: Job, units: Units) -> Iterator[FormLine]:
    """What is measured of its spring on the bench."""
    yield Heading("Shock coils, for coil bind")
    yield from (row_of(units, ("rear", "spring", "coils", name)) for name in COIL_FIELDS)
    if job.rear.spring.second.arranged == "none":
        yield row_of(units, ("rear", "spring", "second", "arranged"))
    yield from tester_lines(units, ("rear", "spring", "coils", "tester"), job, "Shock tester")


def _shock_air(job: Job, units: Units) -> Iterator[FormLine]:
    """The air that springs the shock."""
    yield Heading("Shock air spring")
    for name in air_fields(job.rear.air):
        yield row_of(units, ("rear", "air", *name))


def noted_in(outside: Outside) -> Iterator[str]:
    """The fields of a note on another venue that are filled in."""
    yield from (field.name for field in fields(Outside) if getattr(outside, field.name) is not None)


def air_fields(air: AirLeg) -> Iterator[tuple[str, ...]]:
    """The fields of the air of a leg or shock that apply, in the order they are asked."""
    yield from ((name,) for name in ("fitted", "pressure_bar", "set_at_c"))
    yield from (("set_in", name) for name in noted_in(air.set_in))
    yield from ((name,) for name in ("in_use_c", "wanted_bar"))
    yield from ((name,) for name in ("most_bar", "bore_mm", "length_mm", "volume_ml", "balance"))
    if air.balance in ("port", "pressure"):
        names = ("port_mm" if air.balance == "port" else "balance_bar", "rod_mm", "balance_length_mm", "balance_ml")
        yield from ((name,) for name in names)
    yield ("outer",)
    if air.outer != "none":
        yield from ((name,) for name in ("outer_bar", "outer_most_bar"))
        if air.outer == "own_area":
            yield from ((name,) for name in ("outer_bore_mm", "outer_tube_mm"))
        yield from ((name,) for name in ("outer_length_mm", "outer_ml"))


def trial(job: Job, units: Units) -> tuple[FormLine, ...]:
    """The fields of a trial: those that a person turns, changes or adds."""
    legs = _LegLines(job, units)
    sprung, turning = legs.having(*COUNTED), legs.having("turns", "clicks", "rings", "mm")
    collar = COUNTED[job.rear.collar.counting]
    lines: list[FormLine] = [Heading("Fork", legs.heads)]
    lines += legs.row("air", "pressure_bar", sides=legs.by_air)
    for name in PRESSURES[1:]:
        pumped = tuple(side for side in legs.by_air if name in job.front.leg(side).air.pumped)
        lines += legs.row("air", name, sides=pumped)
    lines += legs.row("adjuster", "now", sides=turning, unit=legs.unit_of(turning))
    for name in ("rate_n_per_mm", "free_length_mm", "set_length_mm", "set_length_in_mm"):
        lines += legs.row("spring", name, sides=sprung)
    lines += legs.row("stack", "spacer_mm", sides=sprung)
    for name in ("rate_n_per_mm", "stop_mm", "gap_mm"):
        lines += legs.row("spring", "second", name, sides=tuple(s for s in sprung if name in legs.of_second(s)))
    lines += legs.row("air_gap_mm")
    lines.append(row_of(units, ("front", "fork_height_mm")))
    lines.append(Heading("Shock"))
    if job.rear.air.fitted:
        lines += [row_of(units, ("rear", "air", name)) for name in job.rear.air.pumped]
    else:
        lines += [row_of(units, ("rear", "collar", "now"), unit=collar)] if collar else []
        names = ("rate_n_per_mm", "free_length_mm", "set_length_mm")
        lines += [row_of(units, ("rear", "spring", name)) for name in names]
        of_second = _OF_SECOND.get(job.rear.spring.second.arranged, ())[:2]
        lines += [row_of(units, ("rear", "spring", "second", name)) for name in of_second]
    lines += [row_of(units, ("rear", name)) for name in ("length_adjuster_mm", *_ratio_fields(job.rear))]
    if job.drive.chain != "unknown":
        lines.append(Heading("Chain", ENDS))
        lines.append(row_of(units, *(("upkeep", f"{end}_teeth") for end in ENDS), label="Sprocket teeth", across=True))
        lines += [row_of(units, ("drive", "links")), row_of(units, ("drive", "acceleration_g"), unit="g")]
    lines.append(Heading("Load"))
    lines += [row_of(units, ("job", "rider_mass_kg")), row_of(units, ("job", "use"))]
    lines += [row_of(units, ("weights", name)) for name in ("front_aboard_kg", "rear_aboard_kg")]
    return tuple(lines)


def _ratio_fields(rear: Rear) -> tuple[str, ...]:
    """What the motion ratio of a trial follows from: the length of a link, or one number."""
    if rear.points.used != "points":
        return ("motion_ratio",)
    return () if rear.points.layout == "straight" else ("link_mm",)


def sag(job: Job, units: Units) -> tuple[FormLine, ...]:
    """L1, then down and up for machine alone and rider aboard, at each end; repeats to the right."""
    lines: list[FormLine] = []
    for end in ENDS:
        readings = job.sag.end(end)
        heads = tuple(str(n + 1) for n in range(most_of(("sag", end, "hanging_mm"))))
        lines.append(Heading(f"{end}, {unit_name(Kind.LENGTH, units)}", heads))
        if readings.gauge == "length":
            lines.append(_repeats(job, "Hanging, L1", ("sag", end, "hanging_mm")))
        for state in STATES:
            lines += [
                _repeats(job, f"{state.capitalize()} {word}", ("sag", end, state, f"{word}_mm"))
                for word in ("down", "up")
            ]
    lines.append(Heading("Measuring"))
    lines += [row_of(units, ("sag", end, "gauge"), label=f"{end.capitalize()} by") for end in ENDS]
    lines += [
        row_of(units, ("sag", "tape_resolution_mm"), label="Tape div."),
        row_of(units, ("sag", "fuel"), label="Fuel"),
    ]
    return tuple(lines)


def _repeats(job: Job, label: str, path: Path) -> Row:
    count, most = len(value_at(job, path)), most_of(path)
    cells = tuple((*path, at) if at <= count else None for at in range(most))
    return Row(label, cells)
