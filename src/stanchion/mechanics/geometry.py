"""Steering geometry: trail from rake, and how the frame tilts when either end moves.

Rake is the angle of the steering axis from vertical. The legs are taken as parallel to the steering axis.
"""

from __future__ import annotations

import math

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.limits import finite, positive
from stanchion.mechanics.load import cosine_of_rake


def normal_trail(tyre_radius_mm: float, rake_deg: float, offset_mm: float) -> float:
    """Trail square to the steering axis.

    .. math:: t_n = R \\sin\\epsilon - o

    Args:
        tyre_radius_mm: radius of the front tyre R [mm], > 0.
        rake_deg: rake [degrees], 0 to below 90.
        offset_mm: of the front axle ahead of the steering axis, square to it o [mm].

    Returns:
        Normal trail [mm].

    Raises:
        OutOfRange: radius not above 0, or rake outside 0 to below 90.

    Source:
        J. P. Meijaard, J. M. Papadopoulos, A. Ruina & A. L. Schwab, Proc. R. Soc. A 463 (2007), geometry of Table 1.

    >>> round(normal_trail(298.5, 24.0, 30.0), 3)
    91.411
    """
    cosine_of_rake(rake_deg)
    upright = positive("tyre radius", tyre_radius_mm) * math.sin(math.radians(rake_deg))
    return upright - finite("fork offset", offset_mm)


def ground_trail(tyre_radius_mm: float, rake_deg: float, offset_mm: float) -> float:
    """Trail along the ground.

    .. math:: t = (R \\sin\\epsilon - o) / \\cos\\epsilon

    Args:
        tyre_radius_mm: radius of the front tyre R [mm], > 0.
        rake_deg: rake [degrees], 0 to below 90.
        offset_mm: of the front axle ahead of the steering axis, square to it o [mm].

    Returns:
        Trail [mm].

    Raises:
        OutOfRange: radius not above 0, or rake outside 0 to below 90.

    Source:
        As normal_trail.

    >>> round(ground_trail(298.5, 24.0, 30.0), 6)
    100.061674
    """
    return normal_trail(tyre_radius_mm, rake_deg, offset_mm) / cosine_of_rake(rake_deg)


@record(kw_only=True)
class Baseline:
    """Geometry measured in one state of the machine."""

    rake_deg: float
    """Rake [degrees], 0 to below 90."""
    offset_mm: float
    """Fork offset [mm]."""
    wheelbase_mm: float
    """Between the axles, level [mm], > 0."""
    front_radius_mm: float
    """Radius of the front tyre, loaded [mm], > 0."""
    rear_radius_mm: float
    """Radius of the rear tyre, loaded [mm], > 0."""

    def __post_init__(self) -> None:
        """Check the ranges of the fields."""
        cosine_of_rake(self.rake_deg)
        finite("fork offset", self.offset_mm)
        positive("wheelbase", self.wheelbase_mm)
        positive("front tyre radius", self.front_radius_mm)
        positive("rear tyre radius", self.rear_radius_mm)


@record(kw_only=True)
class Attitude:
    """Steering geometry and tilt of the machine in one position."""

    rake_deg: float
    trail_mm: float
    normal_trail_mm: float
    wheelbase_mm: float
    pitch_deg: float
    """Tilt from the baseline [degrees]; positive is nose down."""


def attitude(
    baseline: Baseline,
    *,
    front_shorter_mm: float = 0.0,
    rear_lower_axle_mm: float = 0.0,
    rear_axle_back_mm: float = 0.0,
    front_radius_change_mm: float = 0.0,
    rear_radius_change_mm: float = 0.0,
) -> Attitude:
    """Rake, trail and wheelbase after either end has moved, by the exact tilt of the frame.

    The front axle slides along the steering axis; the rear axle moves square to the baseline ground, and along it by
    what the arc of the swingarm asks. Then the frame turns until both tyres touch the ground again.

    .. math:: dx = w - t \\sin\\epsilon + b, \\quad dz = R_f - R_r + t \\cos\\epsilon + \\delta,
              \\quad \\alpha = atan2(dz, dx) - asin((R_f' - R_r') / \\sqrt{dx^2 + dz^2})

    Args:
        baseline: geometry as measured.
        front_shorter_mm: t, front axle nearer the yokes along the leg [mm]: more sag, or tubes raised in the yokes.
        rear_lower_axle_mm: delta, rear axle lower in the frame [mm]: less rear sag, or a longer shock over its ratio.
        rear_axle_back_mm: b, rear axle further back in the frame [mm], as swingarm.axle_back gives it.
        front_radius_change_mm: change of front tyre radius [mm].
        rear_radius_change_mm: change of rear tyre radius [mm].

    Returns:
        The attitude; wheelbase is level, between the axles.

    Raises:
        OutOfRange: the ends moved so far that no attitude is left.

    Source:
        Geometry; checked in tests/reference/ against values worked out apart.

    >>> machine = Baseline(rake_deg=24.0, offset_mm=30.0, wheelbase_mm=1400.0, front_radius_mm=298.5,
    ...                    rear_radius_mm=315.0)
    >>> round(attitude(machine, rear_lower_axle_mm=5.0).rake_deg, 3)
    23.795
    """
    rake = math.radians(baseline.rake_deg)
    front_radius = positive("front tyre radius", baseline.front_radius_mm + front_radius_change_mm)
    rear_radius = positive("rear tyre radius", baseline.rear_radius_mm + rear_radius_change_mm)
    slid = finite("change of front length", front_shorter_mm)
    dx = positive(
        "distance between the axles",
        baseline.wheelbase_mm - slid * math.sin(rake) + finite("rear axle back", rear_axle_back_mm),
    )
    dz = baseline.front_radius_mm - baseline.rear_radius_mm + slid * math.cos(rake)
    dz += finite("change at the rear axle", rear_lower_axle_mm)
    apart, step = math.hypot(dx, dz), front_radius - rear_radius
    if not abs(step) < apart:
        raise OutOfRange("difference of tyre radii", step, f"less than the distance between the axles, {apart:g}")
    tilt = math.atan2(dz, dx) - math.asin(step / apart)
    rake_deg = math.degrees(rake - tilt)
    return Attitude(
        rake_deg=rake_deg,
        trail_mm=ground_trail(front_radius, rake_deg, baseline.offset_mm),
        normal_trail_mm=normal_trail(front_radius, rake_deg, baseline.offset_mm),
        wheelbase_mm=math.sqrt(apart * apart - step * step),
        pitch_deg=math.degrees(tilt),
    )


def front_rise(
    sag_change_mm: float, fork_height_change_mm: float, rake_deg: float, radius_change_mm: float = 0.0
) -> float:
    """How far the front of the machine rises.

    .. math:: h = -(\\Delta s + \\Delta f) \\cos\\epsilon + \\Delta R

    Args:
        sag_change_mm: change of sag along the leg [mm], more is positive.
        fork_height_change_mm: change of tube edge above the top yoke [mm], more is positive.
        rake_deg: rake [degrees], 0 to below 90.
        radius_change_mm: change of front tyre radius [mm].

    Returns:
        Rise [mm].

    Raises:
        OutOfRange: rake outside 0 to below 90.

    Source:
        Geometry.

    >>> front_rise(-8.0, 0.0, 0.0)
    8.0
    """
    shorter = finite("change of sag", sag_change_mm) + finite("change of fork height", fork_height_change_mm)
    return finite("change of tyre radius", radius_change_mm) - shorter * cosine_of_rake(rake_deg)


def rear_rise(sag_change_mm: float, length_rise_mm: float = 0.0, radius_change_mm: float = 0.0) -> float:
    """How far the rear of the machine rises.

    .. math:: h = -\\Delta s + \\Delta l / m + \\Delta R

    Args:
        sag_change_mm: change of rear sag [mm], more is positive.
        length_rise_mm: what a change of shock length gives at the wheel (shock.length_adjuster_rise) [mm].
        radius_change_mm: change of rear tyre radius [mm].

    Returns:
        Rise [mm].

    Raises:
        OutOfRange: an argument is infinite or not a number.

    Source:
        Geometry.

    >>> rear_rise(-3.0, 5.0)
    8.0
    """
    rise = finite("rise from the shock length", length_rise_mm) - finite("change of sag", sag_change_mm)
    return rise + finite("change of tyre radius", radius_change_mm)
