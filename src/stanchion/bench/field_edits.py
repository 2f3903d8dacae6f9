"""What a text typed into a field, a step or a swap comes to: a value, or the edits to make. Nothing is changed here."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from stanchion.base.errors import BadEdit
from stanchion.job.edit import Edit, number_at, spec_at, value_at
from stanchion.job.ends import Adjuster, Clicker
from stanchion.job.model import Job, Path
from stanchion.job.spec import Choice, Day, Flag, Number, Text
from stanchion.units.known_units import Units
from stanchion.units.quantity import nudge_rate, read
from stanchion.units.times import read_clock, read_day

SET = ("now", "base")
"""Fields that hold a position of an adjuster."""


def typed_value(path: Path, text: str, units: Units) -> Any:
    """The value of a text typed into a field; None for an empty one that may be empty.

    Args:
        path: the field.
        text: what was typed.
        units: display units, in which a bare number is read.

    Raises:
        BadQuantity: a number that cannot be read, or lies outside the field's limits.
        BadEdit: any other text the field refuses.
    """
    spec = spec_at(path)
    if isinstance(spec, Number):
        return read(text, spec, units) if text.strip() else None
    if isinstance(spec, Day):
        return read_day(text) if text.strip() or not spec.optional else None
    if isinstance(spec, Text | Choice):
        clock = isinstance(spec, Text) and spec.clock
        return spec.check(read_clock(text) if clock else text)
    raise BadEdit("this field takes no text")


def removes_item(job: Job, path: Path, value: Any) -> bool:
    """Whether this value would remove an item from a list of the job, so that the later ones move up."""
    if value not in (None, ""):
        return False
    if isinstance(path[-1], int):
        return value is None
    row = value_at(job, path[:-1]) if len(path) > 1 and isinstance(path[-2], int) else None
    return row is not None and replace(row, **{str(path[-1]): value}) == type(row)()


def step_edits(job: Job, path: Path, direction: int, options: tuple[str, ...], units: Units) -> list[Edit]:
    """The edits of one step of a field: its new value, and the removal of readings whose meaning it changes.

    Args:
        job: the job.
        path: the field.
        direction: +1 or -1; other whole numbers take as many steps at once.
        options: the words the field may hold; empty if it is not chosen from words.
        units: display units: a number steps by a round amount of its unit.

    Returns:
        The edits; none if the field cannot be stepped.
    """
    value = value_at(job, path)
    number = number_at(job, path)
    if number is not None:
        stepped = nudge_rate(value, number, direction, units)
        return [Edit(path, stepped if value is None else _short_of_end(job, path, value, stepped))]
    if isinstance(spec_at(path), Flag):
        return [Edit(path, not value)]
    if not options:
        return []
    at = options.index(value) if value in options else -1
    word = options[(at + direction) % len(options)]
    counted = _counted_by(path) if path[-1] == "counting" else ()
    return [Edit(path, word), *(Edit(other, None) for other in counted)]


def _short_of_end(job: Job, path: Path, value: Any, stepped: Any) -> Any:
    """The position stepped to, or the end of the adjuster's range that lies on the way there."""
    low, high = ends_of(job, path)
    if high is not None and stepped > value:
        return max(value, min(stepped, high))
    if low is not None and stepped < value:
        return min(value, max(stepped, low))
    return stepped


def ends_of(job: Job, path: Path) -> tuple[float | None, float | None]:
    """The lowest and the highest position of the adjuster a field belongs to; None where it is not known.

    >>> ends_of(Job(), ("rear", "rebound", "now")), ends_of(Job(), ("rear", "spring", "free_length_mm"))
    ((0.0, None), (None, None))
    """
    part = value_at(job, path[:-1]) if path[-1] in SET else None
    return part.ends if isinstance(part, Adjuster | Clicker) else (None, None)


def _counted_by(path: Path) -> tuple[Path, ...]:
    """The readings whose meaning changes when an adjuster is counted in another way."""
    part = path[:-2]
    return ((*path[:-1], "now"), (*path[:-1], "base"), (*part, "spring", "set_length_at"))


def swap_edits(job: Job, path: Path) -> list[Edit]:
    """The edits that swap the pushed-down and lifted-up readings of a state of sag.

    Args:
        job: the job.
        path: any reading of that state.

    Raises:
        BadEdit: the field is no such reading, or the state has none.
    """
    if len(path) < 4 or path[0] != "sag" or path[3] not in ("down_mm", "up_mm"):
        raise BadEdit("Go to a pushed-down or lifted-up reading first: those two are swapped.")
    down, up = ((*path[:3], name) for name in ("down_mm", "up_mm"))
    readings = value_at(job, down), value_at(job, up)
    if not any(readings):
        raise BadEdit("There are no readings here to swap.")
    return [Edit(down, readings[1]), Edit(up, readings[0])]
