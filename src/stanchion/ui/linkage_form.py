"""The form of the linkage screen: what gives the ratio, the layout, and its points as they are read. Pure."""

from __future__ import annotations

from stanchion.job.model import Job, Path
from stanchion.job.spec import Kind
from stanchion.ui.form_lines import FormLine, Heading, row_of
from stanchion.units.known_units import Units
from stanchion.units.quantity import unit_name
from stanchion.wording.points_labels import POINT_NAMES

_POINTS: Path = ("rear", "points")
_HEADS = {"coordinates": ("ahead", "up"), "lengths": ("pivot", "axle"), "photo": ("right", "down")}


def linkage_form(job: Job, units: Units) -> tuple[FormLine, ...]:
    """The lines of the form; of the points, those that the layout has, with the numbers of the way they are read.

    Args:
        job: the job.
        units: display units.
    """
    points = job.rear.points
    lines: list[FormLine] = [Heading("Linkage by points")]
    lines += [row_of(units, (*_POINTS, name)) for name in ("used", "layout", "read_by")]
    lines.append(row_of(units, ("swingarm", "pivot_to_axle_mm")))
    lines.append(row_of(units, (*_POINTS, "axle_below_mm")))
    lines.append(row_of(units, ("rear", "eye_to_eye_mm")))
    if points.layout != "straight":
        lines.append(row_of(units, ("rear", "link_mm")))
    if points.layout == "rocker_on_swingarm":
        lines.append(row_of(units, (*_POINTS, "held_on")))
    photo = points.read_by == "photo"
    unit = "pixels" if photo else unit_name(Kind.LENGTH, units)
    lines.append(Heading(f"Points, {unit}", _HEADS[points.read_by]))
    for name in (*(("pivot", "axle") if photo else ()), *points.names):
        cells: list[Path] = [(*_POINTS, name, cell) for cell in points.cells]
        lines.append(row_of(units, *cells, unit="", label=POINT_NAMES[name], across=True))
    if points.read_by == "lengths":
        lines.append(Heading("Side of the swingarm"))
        lines += [row_of(units, (*_POINTS, name, "side"), label=POINT_NAMES[name]) for name in points.names]
    return tuple(lines)
