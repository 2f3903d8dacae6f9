"""Chain and sprockets: pitch circles, the upper run of the chain, its length in links."""

from __future__ import annotations

import math

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.limits import all_finite, finite, not_negative, positive

_INCH_MM = 25.4
_LEAST_TEETH = 3


def pitch_of(size: str) -> float:
    """Pitch of a chain by its size: the first figure counts eighths of an inch.

    Args:
        size: as it is stamped, such as 520.

    Returns:
        Pitch [mm].

    Raises:
        OutOfRange: the size does not begin with a figure above 0.

    Source:
        The trade's numbering; from memory: ISO 10190 has 12.7 mm for 420 and 428, 15.875 mm for 520 to 530.

    >>> pitch_of("520"), pitch_of("428")
    (15.875, 12.7)
    """
    eighths = int(size[:1]) if size[:1].isdecimal() else 0
    return positive("first figure of the chain size", float(eighths)) * _INCH_MM / 8.0


def pitch_radius(pitch_mm: float, teeth: float) -> float:
    """Radius of the circle on which the pins of a chain run over a sprocket.

    .. math:: r = p / (2 \\sin(\\pi / z))

    Args:
        pitch_mm: pitch of the chain p [mm], > 0.
        teeth: z, 3 or more.

    Returns:
        Radius [mm].

    Raises:
        OutOfRange: an argument outside its range.

    Source:
        Geometry: each pitch is a chord of the circle.

    >>> round(pitch_radius(15.875, 44.0), 4)
    111.2642
    """
    if not _LEAST_TEETH <= teeth < math.inf:
        raise OutOfRange("teeth", teeth, f"{_LEAST_TEETH} or more")
    return positive("pitch of the chain", pitch_mm) / (2.0 * math.sin(math.pi / teeth))


@record
class UpperRun:
    """The upper run of a chain, as a line: it rises towards the front sprocket by this angle, and meets this point."""

    up_deg: float
    """Above horizontal, going forward [degrees]."""
    x_mm: float
    """Where it leaves the pitch circle of the rear sprocket."""
    z_mm: float


def upper_run(
    rear: tuple[float, float], rear_radius_mm: float, front: tuple[float, float], front_radius_mm: float
) -> UpperRun:
    """The upper run of a chain: the common tangent that lies above both pitch circles.

    .. math:: \\psi = \\varphi - \\arcsin((r_r - r_f) / d)

    Args:
        rear: centre of the rear sprocket, x and z [mm].
        rear_radius_mm: radius of its pitch circle [mm], >= 0.
        front: centre of the front sprocket, ahead of it [mm].
        front_radius_mm: radius of its pitch circle [mm], >= 0.

    Returns:
        The line.

    Raises:
        OutOfRange: a radius below 0, or one circle lies inside the other.

    Source:
        Geometry: phi is the angle of the line of centres, d its length.

    >>> round(upper_run((0.0, 0.0), 110.0, (600.0, 100.0), 40.0).up_deg, 4)
    2.8541
    """
    for name, centre in (("rear sprocket", rear), ("front sprocket", front)):
        all_finite(name, centre)
    x, z = front[0] - rear[0], front[1] - rear[1]
    apart = math.hypot(x, z)
    larger = not_negative("rear radius", rear_radius_mm) - not_negative("front radius", front_radius_mm)
    if not abs(larger) < apart:
        raise OutOfRange("distance of the sprockets", apart, f"above the difference of their radii, {abs(larger):g}")
    up = math.atan2(z, x) - math.asin(larger / apart)
    return UpperRun(math.degrees(up), rear[0] - rear_radius_mm * math.sin(up), rear[1] + rear_radius_mm * math.cos(up))


def chain_links(pitch_mm: float, front_teeth: float, rear_teeth: float, centres_mm: float) -> float:
    """Length of a taut chain in links.

    .. math:: L / p = 2 C / p + (z_1 + z_2) / 2 + (z_2 - z_1)^2 p / (4 \\pi^2 C)

    Args:
        pitch_mm: p [mm], > 0.
        front_teeth: z_1, > 0.
        rear_teeth: z_2, > 0.
        centres_mm: between the centres of the sprockets C [mm], > 0.

    Returns:
        Links, whole or not.

    Raises:
        OutOfRange: an argument outside its range.

    Source:
        J. E. Shigley, Mechanical Engineering Design, flexible elements (from memory); an approximation that is good to
        a hundredth of a link here.

    >>> round(chain_links(15.875, 15.0, 44.0, 600.0), 6)
    105.654187
    """
    around, apart = _around(pitch_mm, front_teeth, rear_teeth)
    return 2.0 * positive("centre distance", centres_mm) / pitch_mm + around + apart / centres_mm


def centres_for(pitch_mm: float, front_teeth: float, rear_teeth: float, links: float) -> float:
    """Distance of the sprockets at which a chain is taut: chain_links solved for the centre distance.

    Args:
        pitch_mm: p [mm], > 0.
        front_teeth: z_1, > 0.
        rear_teeth: z_2, > 0.
        links: links of the chain.

    Returns:
        Between the centres [mm].

    Raises:
        OutOfRange: an argument outside its range, or the chain is too short to go round both sprockets.

    Source:
        As chain_links.

    >>> round(centres_for(15.875, 15.0, 44.0, 105.654187), 3)
    600.0
    """
    around, apart = _around(pitch_mm, front_teeth, rear_teeth)
    free = finite("links", links) - around
    under_root = free * free - 8.0 * apart / pitch_mm
    if free <= 0.0 or under_root < 0.0:
        raise OutOfRange("links", links, "enough to go round both sprockets")
    return pitch_mm / 4.0 * (free + math.sqrt(under_root))


def _around(pitch_mm: float, front_teeth: float, rear_teeth: float) -> tuple[float, float]:
    """Links on both sprockets, and what the difference of the teeth adds, times the centre distance."""
    both = positive("front teeth", front_teeth) + positive("rear teeth", rear_teeth)
    more = (rear_teeth - front_teeth) / (2.0 * math.pi)
    return both / 2.0, more * more * positive("pitch of the chain", pitch_mm)
