"""The lines that forms are made of: headings, and rows of fields. Pure."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

from stanchion.base.record import record
from stanchion.job.edit import spec_at
from stanchion.job.model import Path
from stanchion.job.spec import Kind, Many, Number, Rows
from stanchion.units.known_units import Units
from stanchion.units.quantity import show, unit_name
from stanchion.wording.labels import field_name


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
    if path == ("job", "altitude_m"):
        return "0"
    if path[-1] == "tape_resolution_mm":
        return show(1.0, Kind.LENGTH, units).split(" ")[0]
    return ""


@cache
def row_of(
    units: Units,
    *cells: Path | None,
    unit: str | None = None,
    label: str = "",
    number: int | None = None,
    across: bool = False,
) -> Row:
    """A row of these fields, by the name and unit of the first unless others are given.

    Asked for some seventy times at every key; there are as many rows as there are fields and units, and no more.
    """
    path = next(cell for cell in cells if cell is not None)
    spec = spec_at(path)
    if unit is None:
        unit = unit_name(spec.kind, units) if isinstance(spec, Number) else ""
    name = label or field_name(path)
    return Row(f"{name} {number}" if number else name, cells, unit, across)


def most_of(path: Path) -> int:
    """The most rows or pieces that a list can have."""
    spec = spec_at(path)
    if not isinstance(spec, Many | Rows):
        raise TypeError(f"{path} is no list")
    return spec.most
