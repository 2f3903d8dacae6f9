"""Where the points of the linkage lie, by the way they were read, and what is still to be read."""

from __future__ import annotations

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.linkage_points import Pixel, PointRead
from stanchion.job.model import Path, Rear
from stanchion.mechanics.linkage_points import LinkagePoints, Rocker
from stanchion.mechanics.point_reading import Point, axle_place, by_two_lengths, in_photograph

ARM: Path = ("swingarm", "pivot_to_axle_mm")
_AT: Path = ("rear", "points")


@record
class PointPlaces:
    """The points of the linkage, or why there are none."""

    points: LinkagePoints | None
    needs: tuple[Path, ...] = ()
    """What is still to be read."""
    wrong: Path | None = None
    """The point, or other field, that cannot be right with the others."""


def linkage_places(rear: Rear, arm_mm: float | None) -> PointPlaces:
    """The points as mechanics takes them.

    Args:
        rear: the shock and its linkage as recorded.
        arm_mm: length of the swingarm from pivot to axle [mm]; None: not recorded.
    """
    read = rear.points
    needs = _missing(rear, arm_mm)
    if needs or arm_mm is None:
        return PointPlaces(None, needs)
    at: Path = (*_AT, "axle_below_mm")
    try:
        axle = _axle(rear, arm_mm)
        found: dict[str, Point] = {}
        for name in read.names:
            at = (*_AT, name)
            found[name] = _place(rear, getattr(read, name), axle, arm_mm)
        at = ("rear", "link_mm") if rear.link_mm is not None else (*_AT, read.names[0])
        rocker = None
        if read.layout != "straight":
            rocker = Rocker(
                centre=found["rocker"],
                link_end=found["link_end"],
                link_far=found["link_far"],
                on_arm=read.layout == "rocker_on_swingarm",
                link_mm=rear.link_mm,
            )
        points = LinkagePoints(
            axle=axle,
            shock_moved=found["shock_moved"],
            shock_held=found["shock_held"],
            held_on_arm=read.layout == "rocker_on_swingarm" and read.held_on == "swingarm",
            rocker=rocker,
        )
    except OutOfRange:
        return PointPlaces(None, (), at)
    return PointPlaces(points)


def _missing(rear: Rear, arm_mm: float | None) -> tuple[Path, ...]:
    read = rear.points
    needs: list[Path] = [] if arm_mm is not None else [ARM]
    if read.read_by != "photo" and read.axle_below_mm is None:
        needs.append((*_AT, "axle_below_mm"))
    names = (*(("pivot", "axle") if read.read_by == "photo" else ()), *read.names)
    needs += [(*_AT, name, cell) for name in names for cell in read.cells if getattr(getattr(read, name), cell) is None]
    return tuple(needs)


def _axle(rear: Rear, arm_mm: float) -> Point:
    read = rear.points
    if read.read_by != "photo":
        return axle_place(arm_mm, read.axle_below_mm or 0.0)
    return in_photograph(_pixel(read.axle), _pixel(read.pivot), _pixel(read.axle), arm_mm, read.axle_below_mm)


def _place(rear: Rear, point: PointRead, axle: Point, arm_mm: float) -> Point:
    read = rear.points
    first, second = (getattr(point, cell) for cell in read.cells)
    if read.read_by == "coordinates":
        return first, second
    if read.read_by == "lengths":
        return by_two_lengths(axle, first, second, below=point.side == "below")
    return in_photograph((first, second), _pixel(read.pivot), _pixel(read.axle), arm_mm, read.axle_below_mm)


def _pixel(pixel: Pixel) -> Point:
    return pixel.right_px or 0.0, pixel.down_px or 0.0
