"""A dynamometer's file as a damper sheet of the job, by the columns chosen. Nothing in it is guessed."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence

from stanchion.base.errors import BadQuantity
from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.bench.table_file import TableFile, TableRow, column_at, number_in
from stanchion.job.damper_columns import COLUMN_NAMES, FORCE_UNITS, SPEED_UNITS, DamperColumns
from stanchion.job.damper_sheet import MOST_POSITIONS
from stanchion.job.model import DamperCurve, DamperSheet
from stanchion.job.spec import Kind, Many, Number, specs_of
from stanchion.judgement.predict.damper_readings import DamperReading, damper_curves, gas_at_standstill
from stanchion.judgement.results.dampers import STROKES, Stroke
from stanchion.units.known_units import UNITS, either
from stanchion.units.quantity import show
from stanchion.wording.damper_import_words import COLUMN_WORDS, SIGN_WORDS

MOST_NAMED = 5
"""Unread lines that are named."""
_TIME = re.compile(r"\b(time|zeit|temps|tiempo|tempo|sec|secs|seconds|t)\b", re.IGNORECASE)
_DISPLACEMENT = re.compile(
    r"\b(displacement|disp|travel|position|pos|stroke|weg|hub|course|carrera|mm|in|inch|inches)\b(?!\s*/)",
    re.IGNORECASE,
)
_CLICKS = re.compile(r"\b(clicks?|klicks?|clics?|turns?|rasten?|position|pos)\b", re.IGNORECASE)
_SPEED = re.compile(r"speed|velo|geschw|vitesse|vel\b|/\s*s|mm/s|m/s|in/s|ips", re.IGNORECASE)


@record
class ReadLine:
    """What a line of the file says."""

    reading: DamperReading
    stroke_mm: float | None
    temperature_c: float | None


@record
class ReadSheet:
    """A damper sheet as it was read."""

    sheet: DamperSheet
    lines: int
    """How many lines were read."""
    unread: tuple[tuple[int, str], ...]
    """Number of each line that was not, and why."""
    doubt: str = ""
    """What in the headings does not go with what was chosen."""

    @property
    def words(self) -> str:
        """What was read, and which lines were not."""
        found, lines = len(self.sheet.curves), self.lines
        text = f"{lines} line{'s' * (lines != 1)} read: {found} curve{'s' * (found != 1)}.{self.doubt}"
        if self.sheet.gas_n is not None:
            text += f" Gas at standstill {show(self.sheet.gas_n, Kind.FORCE)}."
        if not self.unread:
            return text
        named = "; ".join(f"line {at}: {why}" for at, why in self.unread[:MOST_NAMED])
        more = len(self.unread) - MOST_NAMED
        return f"{text} Not read: {named}{f'; and {more} more' if more > 0 else ''}."


def read_sheet(file: TableFile, columns: DamperColumns) -> ReadSheet:
    """The damper sheet in a file.

    Args:
        file: its table.
        columns: how its columns are to be read.

    Raises:
        BadQuantity: a column is not chosen, or cannot be what it is chosen for; the signs cannot be right; or no line
            could be read. The message says what to do.
    """
    at = _columns(file, columns)
    mark = _decimal_mark(file, list(at.values()))
    found: list[ReadLine] = []
    unread: list[tuple[int, str]] = []
    for row in file.rows:
        try:
            found += _lines(row, at, columns, mark)
        except BadQuantity as refused:
            unread.append((row.line, str(refused)))
    if not found:
        first = f"line {unread[0][0]}: {unread[0][1]}" if unread else "it holds no lines"
        raise BadQuantity(f"No line could be read. {first[:1].upper()}{first[1:]}. Check the columns chosen.")
    _check_signs(found)
    _check_positions(found)
    curves = tuple(damper_curves(one.reading for one in found))
    if not curves:
        raise BadQuantity("The damper stands still on every line: check the column and the unit of the speed.")
    without_sign = columns.signs == "both_plus" and columns.stroke_by == "two_columns"
    gas_n = None if without_sign else gas_at_standstill(one.reading for one in found)
    sheet = DamperSheet(
        damper=columns.damper,
        turned=columns.turned,
        file=clean(file.name, 120),
        sha256=file.sha256,
        unread=float(len(unread)),
        stroke_mm=_mean(one.stroke_mm for one in found),
        temperature_c=_mean(one.temperature_c for one in found),
        gas="mean" if gas_n is None else "entered",
        gas_n=gas_n,
        curves=curves,
    )
    doubt = _doubt(file, at["speed"], SPEED_UNITS, columns.speed_unit)
    doubt += _doubt(file, at["force"], FORCE_UNITS, columns.force_unit)
    doubt += _stroke_doubt(file, at)
    return ReadSheet(sheet, len(file.rows) - len(unread), tuple(unread), doubt)


def _doubt(file: TableFile, at: int, units: Sequence[str], chosen: str) -> str:
    """That a heading names another unit than the one chosen."""
    heading = file.headings[at] if at < len(file.headings) else ""
    words = {word.strip("()[]{},:").casefold() for word in heading.split()}
    named = [unit for unit in units if unit.casefold() in words]
    if len(named) == 1 and named[0] != chosen:
        return f" The heading of column {at + 1} says {named[0]}, and {chosen} is chosen: check the unit."
    return ""


def _stroke_doubt(file: TableFile, columns: Mapping[str, int]) -> str:
    """That a column of clicks is chosen for the stroke."""
    at = columns.get("stroke", len(file.headings))
    heading = file.headings[at] if at < len(file.headings) else ""
    if not _CLICKS.search(heading):
        return ""
    return f" Column {at + 1}, '{clean(heading, 40)}', is chosen for the stroke: check that it is in mm."


# --- columns ----------------------------------------------------------------------------------------------------------


def _columns(file: TableFile, columns: DamperColumns) -> dict[str, int]:
    """The columns chosen, by what they hold."""
    needed = ["speed", "force", *(["rebound_force"] if columns.stroke_by == "two_columns" else [])]
    found: dict[str, int] = {}
    for name in COLUMN_NAMES:
        chosen = str(getattr(columns, name))
        if not chosen.strip():
            if name in needed:
                raise BadQuantity(f"Choose the column of {COLUMN_WORDS[name]}.")
            continue
        if name == "rebound_force" and name not in needed:
            continue
        at = column_at(file, chosen)
        if at is None:
            raise BadQuantity(f"There is no column '{clean(chosen, 40)}' for {COLUMN_WORDS[name]}: choose another.")
        if at in found.values():
            raise BadQuantity(f"One column is chosen twice, the second time for {COLUMN_WORDS[name]}: choose another.")
        found[name] = at
    _check_speed(file, found["speed"])
    return found


def _check_speed(file: TableFile, at: int) -> None:
    """Refuse a column of times or displacements in place of speeds."""
    heading = file.headings[at] if at < len(file.headings) else ""
    what = "displacement" if _DISPLACEMENT.search(heading) else "time" if _TIME.search(heading) else ""
    if what and not _SPEED.search(heading):
        raise BadQuantity(
            f"Column {at + 1}, '{clean(heading, 40)}', is a {what}. Speed is needed: export it from the dynamometer. "
            "Worked out from displacement it would be smoothed, and the force at low speed would be wrong."
        )


def _decimal_mark(file: TableFile, columns: Sequence[int]) -> str:
    """The sign before decimals in most of the numbers of these columns; empty where none has decimals."""
    counts = dict.fromkeys((".", ","), 0)
    for row in file.rows:
        for at in columns:
            if at < len(row.cells) and number_in(row.cells[at]) is not None:
                for mark in counts:
                    counts[mark] += mark in row.cells[at]
    return max(counts, key=lambda mark: counts[mark]) if any(counts.values()) else ""


# --- lines ------------------------------------------------------------------------------------------------------------


def _lines(row: TableRow, at: Mapping[str, int], columns: DamperColumns, mark: str) -> Iterator[ReadLine]:
    """What a line says: of one stroke, or of both where each has its column."""

    def value(name: str, limits: Number, factor: float = 1.0) -> float:
        cell = row.cells[at[name]] if at[name] < len(row.cells) else ""
        number = _number(cell, COLUMN_WORDS[name], mark) * factor
        if not limits.low <= number <= limits.high:
            held = clean(cell, 20)
            raise BadQuantity(f"'{held}' cannot be right for {COLUMN_WORDS[name]}: check the column and its unit")
        return number

    speed_factor, force_factor = _factor(Kind.SPEED, columns.speed_unit), _factor(Kind.FORCE, columns.force_unit)
    speed = value("speed", _SPEEDS, speed_factor)
    position = value("position", _POSITIONS) if "position" in at else columns.position_all
    stroke_mm = value("stroke", _STROKES) if "stroke" in at else None
    temperature = _celsius(value("temperature", _ANY_TEMPERATURE), columns) if "temperature" in at else None
    force = value("force", _FORCES, force_factor)
    plus = -1.0 if columns.signs == "minus_plus" else 1.0
    pulled = plus if columns.signs != "both_plus" else -1.0
    if columns.stroke_by == "two_columns":
        back = value("rebound_force", _FORCES, force_factor)
        pairs: list[tuple[Stroke, float]] = [("compression", plus * force), ("rebound", pulled * back)]
    else:
        rebound = _is_rebound(speed, plus * force, columns)
        pairs = [("rebound", pulled * force) if rebound else ("compression", plus * force)]
    for stroke, outwards in pairs:
        yield ReadLine(DamperReading(stroke, position, abs(speed), outwards), stroke_mm, temperature)


def _is_rebound(speed: float, outwards: float, columns: DamperColumns) -> bool:
    if columns.stroke_by == "force_sign":
        if columns.signs == "both_plus":
            raise BadQuantity(
                "with one sign for both strokes the force does not tell which stroke it is: go by the speed"
            )
        return outwards < 0.0
    return speed < 0.0 if columns.stroke_by == "speed_below" else speed > 0.0


def _number(cell: str, column: str, mark: str) -> float:
    number = number_in(cell)
    if number is None:
        held = f"'{clean(cell, 20)}'" if cell.strip() else "nothing"
        raise BadQuantity(f"{held} in the column of {column}")
    other = {".": ",", ",": "."}.get(mark, "")
    if other and other in cell:
        raise BadQuantity(f"'{clean(cell, 20)}' has a {_MARKS[other]} where the other lines have a {_MARKS[mark]}")
    return number


_MARKS = {".": "point", ",": "comma"}


def _limits(kind: type, name: str) -> Number:
    spec = specs_of(kind)[name]
    number = spec.item if isinstance(spec, Many) else spec
    if not isinstance(number, Number):
        raise TypeError(f"{name} is no number")
    return number


_FORCES = _limits(DamperCurve, "forces_n")
_POSITIONS = _limits(DamperCurve, "position")
_STROKES = _limits(DamperSheet, "stroke_mm")
_TEMPERATURES = _limits(DamperSheet, "temperature_c")
_ANY_TEMPERATURE = Number(Kind.TEMPERATURE, -40.0, 400.0, 1.0)
_FASTEST = _limits(DamperCurve, "speeds_mm_per_s").high
_SPEEDS = Number(Kind.SPEED, -_FASTEST, _FASTEST, 1.0)


def _factor(kind: Kind, unit: str) -> float:
    found = next((one for one in UNITS[kind] if one.name == unit), None)
    if found is None or found.exact is None:
        raise BadQuantity(f"Choose the unit: {either(tuple(one.name for one in UNITS[kind]))}.")
    return found.exact


def _celsius(value: float, columns: DamperColumns) -> float:
    celsius = (value - 32.0) / 1.8 if columns.temperature_unit == "°F" else value
    if not _TEMPERATURES.low <= celsius <= _TEMPERATURES.high:
        raise BadQuantity(
            f"{celsius:.0f} °C cannot be right for {COLUMN_WORDS['temperature']}: check the column and its unit"
        )
    return celsius


# --- curves -----------------------------------------------------------------------------------------------------------


def _check_signs(found: Sequence[ReadLine]) -> None:
    """Refuse signs by which the damper would push the way it is moved, whatever its gas: compression pushes outwards by
    what it resists, rebound pulls, and gas adds the same to both."""
    means = {
        stroke: math.fsum(one.reading.outwards_n for one in found if one.reading.stroke == stroke)
        / max(1, sum(one.reading.stroke == stroke for one in found))
        for stroke in STROKES
    }
    both = len({one.reading.stroke for one in found}) > 1
    if both and means["compression"] <= means["rebound"]:
        raise BadQuantity(f"By these signs the damper would push the way it is moved. Choose {SIGN_WORDS}.")


def _check_positions(found: Sequence[ReadLine]) -> None:
    positions = len({one.reading.position for one in found})
    if positions > MOST_POSITIONS:
        raise BadQuantity(
            f"The file has {positions} positions of the adjuster, and a sheet holds {MOST_POSITIONS}: check the column "
            "chosen for the position, or cut the file down."
        )


def _mean(values: Iterator[float | None]) -> float | None:
    known = [value for value in values if value is not None]
    return round(math.fsum(known) / len(known), 1) if known else None
