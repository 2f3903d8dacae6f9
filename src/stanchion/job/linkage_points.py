"""The points of the rear linkage as they were read from the side: with tape and level, between centres, or in a
photograph. The numbers are kept as they were read."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.spec import Kind, choice, number, part


@record(kw_only=True)
class PointRead:
    """One point, by whichever way the points are read."""

    forward_mm: float | None = number(Kind.LENGTH, -1000, 1000, 1)
    """Ahead of the swingarm pivot, level [mm]; below 0: behind it."""
    up_mm: float | None = number(Kind.LENGTH, -1000, 1000, 1)
    """Above the swingarm pivot [mm]; below 0: lower than it."""
    from_pivot_mm: float | None = number(Kind.LENGTH, 0, 1500, 1)
    """From the centre of the swingarm pivot [mm]."""
    from_axle_mm: float | None = number(Kind.LENGTH, 0, 1500, 1)
    """From the centre of the rear axle [mm]."""
    side: str = choice("below", "above")
    """On which side of the line from pivot to axle it lies; told with its two lengths."""
    right_px: float | None = number(Kind.COUNT, 0, 50_000, 1)
    """From the left edge of the photograph [pixels]."""
    down_px: float | None = number(Kind.COUNT, 0, 50_000, 1)
    """From its top edge [pixels]."""


@record(kw_only=True)
class Pixel:
    """Where pivot or axle is in the photograph."""

    right_px: float | None = number(Kind.COUNT, 0, 50_000, 1)
    """From the left edge of the photograph [pixels]."""
    down_px: float | None = number(Kind.COUNT, 0, 50_000, 1)
    """From its top edge [pixels]."""


@record(kw_only=True)
class PointsRead:
    """The points of the linkage, all read with the swingarm in one position."""

    used: str = choice("pairs", "points")
    """What gives the motion ratio: the measured pairs (or the one number), or the points."""
    layout: str = choice("straight", "rocker_on_frame", "rocker_on_swingarm")
    """The shock straight between swingarm and frame, a rocker on the frame with a link to the swingarm, or a rocker on
    the swingarm with a link to the frame."""
    read_by: str = choice("coordinates", "lengths", "photo")
    """How the points are read: level and plumb from the pivot, between centres from pivot and axle, or in a photograph
    taken square to the machine."""
    held_on: str = choice("frame", "swingarm")
    """Where the end of the shock sits that the rocker does not move."""
    axle_below_mm: float | None = number(Kind.LENGTH, -300, 500, 1)
    """Axle below the swingarm pivot when the points were read [mm]; below 0: above it. Of a photograph None: as in
    the picture."""
    pivot: Pixel = part(Pixel)
    """The swingarm pivot in the photograph."""
    axle: Pixel = part(Pixel)
    """The rear axle in the photograph."""
    rocker: PointRead = part(PointRead)
    """What the rocker turns about."""
    link_end: PointRead = part(PointRead)
    """Where the link joins the rocker."""
    link_far: PointRead = part(PointRead)
    """The link's other end, on the swingarm or on the frame."""
    shock_moved: PointRead = part(PointRead)
    """The end of the shock that rocker or swingarm moves."""
    shock_held: PointRead = part(PointRead)
    """Its other end."""

    @property
    def names(self) -> tuple[str, ...]:
        """The points that this layout has."""
        return POINTS if self.layout != "straight" else POINTS[3:]

    @property
    def cells(self) -> tuple[str, str]:
        """The two numbers of a point, by the way it is read."""
        return CELLS[self.read_by]


POINTS = ("rocker", "link_end", "link_far", "shock_moved", "shock_held")
CELLS: dict[str, tuple[str, str]] = {
    "coordinates": ("forward_mm", "up_mm"),
    "lengths": ("from_pivot_mm", "from_axle_mm"),
    "photo": ("right_px", "down_px"),
}
