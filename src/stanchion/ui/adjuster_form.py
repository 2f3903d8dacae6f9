"""Every adjuster and both heights, a line each: position, range, base, as ridden last, what the last change did."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from stanchion.job.air import PRESSURES
from stanchion.job.edit import value_at
from stanchion.job.found import found_value, is_taken
from stanchion.job.model import SIDES, Adjuster, AirLeg, Job, Path
from stanchion.job.spec import Kind
from stanchion.planning.adjuster_history import Ridden
from stanchion.ui.form_lines import FormLine, Heading, Row, row_of
from stanchion.units.known_units import Units
from stanchion.units.quantity import show
from stanchion.wording.adjuster_words import change_in_row, unit_counted
from stanchion.wording.positions import bare

COLUMNS = ("now", "range")
BASE, FIRST_RUN = "base", "run 1"
"""Above the bases; the second where none was set, so that all are positions of the first run."""
CELL = 6
"""Columns of a cell."""
AFTER = ("ridden", "last change")
FOUND = ("as found",)
"""Beyond the units before the first run; afterwards the line below names where an adjuster was found."""
FORK_DAMPERS = (("compression", "Compression"), ("high_speed_compression", "High-speed comp."), ("rebound", "Rebound"))
SHORTER = {"compression": "Comp.", "high_speed_compression": "High-speed"}
"""Labels where the side follows them."""
SHOCK_DAMPERS = (
    ("low_speed_compression", "Low-speed comp."),
    ("high_speed_compression", "High-speed comp."),
    ("rebound", "Rebound"),
)
PRESSURE_LABELS = {"pressure_bar": "Air", "balance_bar": "Balance air", "outer_bar": "Outer air"}
MOST = {"pressure_bar": "most_bar", "outer_bar": "outer_most_bar"}
"""The maker's highest pressure of a chamber, on the line of its pressure."""
FORK_HEIGHT: Path = ("front", "fork_height_mm")
SHOCK_LENGTH: Path = ("rear", "length_adjuster_mm")


def adjuster_form(job: Job, units: Units, ridden: Callable[[Path], Ridden]) -> tuple[FormLine, ...]:
    """The lines of both ends: preload, height, damping.

    Args:
        job: the job.
        units: display units.
        ridden: gives what the runs say of the adjuster at a path.
    """
    lines = _FormLines(job, units, ridden)
    after = AFTER if job.runs else FOUND if is_taken(job.found) else ()
    found: list[FormLine] = []
    for name, rows in (("Fork", list(lines.fork())), ("Shock", list(lines.shock()))):
        any_set = any(_own_base(job, row) is not None for row in rows)
        shown = [_first_run_marked(job, row) for row in rows] if any_set else rows
        found += [Heading(name, (*COLUMNS, BASE if any_set or not job.runs else FIRST_RUN), after), *shown]
    return tuple(found)


def _own_base(job: Job, row: Row) -> float | None:
    at = row.cells[-1]
    return None if at is None else value_at(job, at)


def _first_run_marked(job: Job, row: Row) -> Row:
    """The row among bases that were set: a position of the first run is in brackets."""
    *others, first = row.texts
    if not first or _own_base(job, row) is not None:
        return row
    short = first if len(first) + 2 <= CELL else f"{float(first):.2f}"
    return replace(row, texts=(*others, f"({short})"))


def position_of(path: Path) -> Path:
    """The position on whose line a field is.

    >>> position_of(("rear", "rebound", "base")), position_of(("front", "fork_height_mm"))
    (('rear', 'rebound', 'now'), ('front', 'fork_height_mm'))
    >>> position_of(("front", "left", "air", "most_bar"))
    ('front', 'left', 'air', 'pressure_bar')
    """
    if path[-2] == "air":
        name = next((name for name, most in MOST.items() if most == path[-1]), PRESSURES[0])
        return path if path[-1] in PRESSURES else (*path[:-1], name)
    return path if path in (FORK_HEIGHT, SHOCK_LENGTH) else (*path[:-1], "now")


class _FormLines:
    """Makes the lines of one job."""

    def __init__(self, job: Job, units: Units, ridden: Callable[[Path], Ridden]) -> None:
        self.job, self.units, self.ridden = job, units, ridden

    def fork(self) -> Iterator[Row]:
        """Both legs in one line until they are split."""
        sides = SIDES if self.job.front.split else SIDES[:1]
        for side in sides:
            leg = self.job.front.leg(side)
            if leg.coil_fitted:
                yield from self._preload(self._named("Preload", side), ("front", side, "adjuster"), leg.adjuster)
            elif leg.air.fitted:
                yield from self._pressures(("front", side, "air"), leg.air, side)
        yield self._height("Fork height", FORK_HEIGHT)
        for name, label in FORK_DAMPERS:
            short = SHORTER.get(name, label) if self.job.front.split else label
            for side in sides:
                yield self._damper(self._named(short, side), ("front", side, name))

    def shock(self) -> Iterator[Row]:
        if self.job.rear.air.fitted:
            yield from self._pressures(("rear", "air"), self.job.rear.air)
        else:
            yield from self._preload("Preload", ("rear", "collar"), self.job.rear.collar)
        yield self._height("Length adjuster", SHOCK_LENGTH)
        for name, label in SHOCK_DAMPERS:
            yield self._damper(label, ("rear", name))

    def _named(self, label: str, side: str) -> str:
        return f"{label} {side}" if self.job.front.split else label

    def _preload(self, label: str, at: Path, adjuster: Adjuster) -> Iterator[Row]:
        """No line where there is no adjuster; where rings or mm are read the range follows from both ends."""
        if adjuster.counting == "none":
            return
        out, fully_in = adjuster.reading_out, adjuster.reading_in
        between = "" if out is None or fully_in is None else bare(abs(out - fully_in))
        total = (*at, adjuster.total_name) if adjuster.from_out else None
        yield self._line(label, (*at, "now"), total, between)

    def _damper(self, label: str, at: Path) -> Row:
        return self._line(label, (*at, "now"), (*at, "total"))

    def _line(self, label: str, now: Path, total: Path | None, between: str = "") -> Row:
        cells = (now, total, (*now[:-1], "base"))
        row = row_of(self.units, *cells, unit=unit_counted(self.job, now), label=label)
        return self._with_runs(row, now, between, bare)

    def _height(self, label: str, at: Path) -> Row:
        row = row_of(self.units, at, None, None, label=label)
        return self._with_runs(row, at, "", lambda mm: _shown(mm, Kind.LENGTH, self.units))

    def _pressures(self, at: Path, air: AirLeg, side: str = "") -> Iterator[Row]:
        """The pressures that are pumped up; the maker's highest ends the range of the main and of the outer chamber."""
        for name in air.pumped:
            path, most = (*at, name), (*at, MOST[name]) if name in MOST else None
            row = row_of(
                self.units,
                path,
                most,
                None,
                label=self._named(PRESSURE_LABELS[name], side) if side else PRESSURE_LABELS[name],
            )
            yield self._with_runs(row, path, "", lambda bar: _shown(bar, Kind.PRESSURE, self.units))

    def _with_runs(self, row: Row, at: Path, between: str, spelled: Callable[[float], str]) -> Row:
        """The row with what the runs say: where no base was entered, the first run's position."""
        of = self.ridden(at)
        first, last = ("" if one is None else spelled(one) for one in (of.first, of.last))
        change = of.change
        did = "" if change is None else change_in_row(self.job, change, self.units)
        after: tuple[str, ...] = (last or "–", did or "–") if self.job.runs else ()
        if not self.job.runs and is_taken(self.job.found):
            found = found_value(self.job, at)
            after = ("–" if found is None else spelled(found),)
        return replace(row, texts=("", between, first), after=after)


def _shown(value: float, kind: Kind, units: Units) -> str:
    """A height or a pressure as far as it is shown, without its unit."""
    return show(value, kind, units).partition(" ")[0].removesuffix(".0")


def positions(job: Job, lines: tuple[FormLine, ...]) -> tuple[tuple[Path, float], ...]:
    """Each adjuster on the form whose position is recorded, with that."""
    first = (line.cells[0] for line in lines if isinstance(line, Row))
    known = ((path, value_at(job, path)) for path in first if path is not None and path[-1] == "now")
    return tuple((path, now) for path, now in known if now is not None)
