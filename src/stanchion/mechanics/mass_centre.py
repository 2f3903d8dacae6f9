"""Where the centre of mass lies: along the machine from two scales, and its height from scales with the front lifted.

The suspension is blocked while the front is lifted, so that the machine turns about the rear wheel as one piece.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.limits import not_negative, positive
from stanchion.mechanics.statistics import Uncertainty, fit_line


def ahead_of_rear(front_kg: float, rear_kg: float, wheelbase_mm: float) -> float:
    """How far the centre of mass lies ahead of the rear contact.

    .. math:: b = W_f p / (W_f + W_r)

    Args:
        front_kg: what the scale under the front wheel reads, level [kg], >= 0.
        rear_kg: the same under the rear wheel [kg], >= 0.
        wheelbase_mm: between the axles, level [mm], > 0.

    Returns:
        b [mm].

    Raises:
        OutOfRange: a reading is negative, both are zero, or the wheelbase is not above 0.

    Source:
        Moments about the rear contact.

    >>> ahead_of_rear(120.0, 120.0, 1400.0)
    700.0
    """
    total = positive("mass", not_negative("front scale", front_kg) + not_negative("rear scale", rear_kg))
    return positive("wheelbase", wheelbase_mm) * front_kg / total


def ahead_uncertainty(
    front_kg: float, rear_kg: float, wheelbase_mm: float, scale_kg: float, tape_mm: float
) -> Uncertainty:
    """Uncertainty of ahead_of_rear.

    .. math:: u(b)^2 = (p/W)^2 ((W_r/W)^2 + (W_f/W)^2) u_s^2 + (W_f/W)^2 u_p^2

    Args:
        front_kg: front scale [kg], >= 0.
        rear_kg: rear scale [kg], >= 0.
        wheelbase_mm: between the axles [mm], > 0.
        scale_kg: standard uncertainty of one reading of a scale [kg], >= 0.
        tape_mm: standard uncertainty of the wheelbase [mm], >= 0.

    Returns:
        Standard uncertainty of b [mm].

    Raises:
        OutOfRange: as ahead_of_rear, or an uncertainty is negative.

    Source:
        JCGM 100:2008, 5.1.2.

    >>> round(ahead_uncertainty(120.0, 120.0, 1400.0, 0.5, 0.0).standard, 3)
    2.062
    """
    share = ahead_of_rear(front_kg, rear_kg, wheelbase_mm) / wheelbase_mm
    of_scales = wheelbase_mm / (front_kg + rear_kg) * math.hypot(share, 1.0 - share)
    by_scales = of_scales * not_negative("uncertainty of a scale", scale_kg)
    return Uncertainty(math.hypot(by_scales, share * not_negative("uncertainty of the wheelbase", tape_mm)))


def lift_angle(raised_mm: float, wheelbase_mm: float, front_radius_mm: float, rear_radius_mm: float) -> float:
    """Angle by which the machine is turned once the front wheel stands on a block.

    .. math:: p \\sin\\theta + (R_f - R_r) \\cos\\theta - (R_f - R_r) = H

    Args:
        raised_mm: height of the block under the front wheel H [mm], >= 0.
        wheelbase_mm: between the axles, level [mm], > 0.
        front_radius_mm: radius of the front tyre [mm], > 0.
        rear_radius_mm: radius of the rear tyre [mm], > 0.

    Returns:
        The angle [degrees].

    Raises:
        OutOfRange: an argument outside its range, or a block that no machine of that wheelbase reaches.

    Source:
        Geometry.

    >>> round(lift_angle(350.0, 1400.0, 300.0, 300.0), 3)
    14.478
    """
    step = positive("front tyre radius", front_radius_mm) - positive("rear tyre radius", rear_radius_mm)
    apart = math.hypot(positive("wheelbase", wheelbase_mm), step)
    sine = (not_negative("height of the block", raised_mm) + step) / apart
    if not -1.0 < sine < 1.0:
        raise OutOfRange(
            "height of the block", raised_mm, f"less than {apart - step:g}: the axles are not further apart"
        )
    return math.degrees(math.asin(sine) - math.atan2(step, wheelbase_mm))


@record(kw_only=True)
class Weighed:
    """A machine on two scales, level, suspension as it is when it is lifted."""

    front_kg: float
    rear_kg: float
    wheelbase_mm: float
    front_radius_mm: float
    rear_radius_mm: float


def lifted_front_kg(level: Weighed, height_mm: float, raised_mm: float) -> float:
    """What the front scale reads on a block, once the height of the centre of mass is known.

    .. math:: W_f' = W (b - (h - R_r) \\tan\\theta) / (p - (R_f - R_r) \\tan\\theta)

    Args:
        level: the machine level.
        height_mm: height of the centre of mass above the ground h [mm], > 0.
        raised_mm: height of the block under the front wheel [mm], >= 0.

    Returns:
        The reading [kg].

    Raises:
        OutOfRange: a height outside its range, or a block that no machine of that wheelbase reaches.

    Source:
        Moments about the rear contact: height_by_lifting turned round.

    >>> machine = Weighed(front_kg=120.0, rear_kg=120.0, wheelbase_mm=1400.0, front_radius_mm=300.0,
    ...                   rear_radius_mm=300.0)
    >>> round(lifted_front_kg(machine, 627.4, 350.0), 2)
    105.51
    """
    step = level.front_radius_mm - level.rear_radius_mm
    degrees = lift_angle(raised_mm, level.wheelbase_mm, level.front_radius_mm, level.rear_radius_mm)
    tangent = math.tan(math.radians(degrees))
    arm = ahead_of_rear(level.front_kg, level.rear_kg, level.wheelbase_mm)
    arm -= (positive("height of the centre of mass", height_mm) - level.rear_radius_mm) * tangent
    return (level.front_kg + level.rear_kg) * arm / (level.wheelbase_mm - step * tangent)


@record
class MassHeight:
    """Height of the centre of mass above the ground, and how sure it is."""

    height_mm: float
    uncertainty: Uncertainty
    steepest_deg: float
    """Largest angle the machine was lifted by."""


def height_by_lifting(
    level: Weighed, lifted: Sequence[tuple[float, float]], scale_kg: float, tape_mm: float
) -> MassHeight:
    """Height of the centre of mass from what the front scale reads on blocks of known height.

    Each reading gives a point, the level one among them; the slope of the straight line through them gives the height.

    .. math:: W_f' (p - (R_f - R_r) \\tan\\theta) / W = b - (h - R_r) \\tan\\theta

    The uncertainty is that of the scales and the tape, or of the scatter about the line where three points or more
    scatter more than these explain.

    Args:
        level: the machine level.
        lifted: height of the block under the front wheel [mm], > 0, and what the front scale then reads [kg].
        scale_kg: standard uncertainty of one reading of a scale [kg], >= 0.
        tape_mm: standard uncertainty of a height [mm], >= 0.

    Returns:
        The height.

    Raises:
        OutOfRange: no lifted reading, or a block or reading outside its range.

    Source:
        Moments about the rear contact; the method is that of ISO 10392 (from a transcription).

    >>> machine = Weighed(front_kg=120.0, rear_kg=120.0, wheelbase_mm=1400.0, front_radius_mm=300.0,
    ...                   rear_radius_mm=300.0)
    >>> round(height_by_lifting(machine, [(350.0, 105.508)], 0.5, 1.0).height_mm)
    627
    """
    if not lifted:
        raise OutOfRange("number of lifted readings", 0, "1 or more")
    total = level.front_kg + level.rear_kg
    tangents, arms = _points(level, lifted)
    centre = math.fsum(tangents) / len(tangents)
    spread = math.sqrt(math.fsum((tangent - centre) ** 2 for tangent in tangents))
    slope = math.fsum((x - centre) * y for x, y in zip(tangents, arms, strict=True)) / spread**2
    by_scale = level.wheelbase_mm / total * not_negative("uncertainty of a scale", scale_kg)
    by_tape = slope * not_negative("uncertainty of a height", tape_mm) / level.wheelbase_mm
    uncertainty = Uncertainty(math.hypot(by_scale, by_tape) / spread)
    if len(arms) > 2:
        line = fit_line(tangents, arms)
        if line.slope_uncertainty > uncertainty.standard:
            uncertainty = Uncertainty(line.slope_uncertainty, len(arms) - 2.0)
    return MassHeight(level.rear_radius_mm - slope, uncertainty, math.degrees(math.atan(max(tangents))))


def _points(level: Weighed, lifted: Sequence[tuple[float, float]]) -> tuple[list[float], list[float]]:
    """Tangents of the angles, and the lever arms that the front scale stands for then; level first."""
    step, total = level.front_radius_mm - level.rear_radius_mm, level.front_kg + level.rear_kg
    tangents, arms = [0.0], [ahead_of_rear(level.front_kg, level.rear_kg, level.wheelbase_mm)]
    for raised_mm, front_kg in lifted:
        angle = lift_angle(
            positive("height of the block", raised_mm), level.wheelbase_mm, level.front_radius_mm, level.rear_radius_mm
        )
        tangents.append(math.tan(math.radians(angle)))
        arms.append(not_negative("front scale, lifted", front_kg) * (level.wheelbase_mm - step * tangents[-1]) / total)
    return tangents, arms


@record
class OffTheLine:
    """The one reading of a front scale that does not lie on the line of the others."""

    at: int
    """Which of the lifted readings; -1: the one level."""
    expected_kg: float
    """What the scale would read there by the others."""


def off_the_line(level: Weighed, lifted: Sequence[tuple[float, float]]) -> OffTheLine | None:
    """The reading without which the others lie on a line, where there is just one.

    Each reading is left out in turn. The one without which the rest scatters least is meant, if the rest then scatters
    by less than a third of what it does without any other.

    Args:
        level: the machine level.
        lifted: height of the block under the front wheel [mm], > 0, and what the front scale then reads [kg].

    Returns:
        That reading; None where it cannot be told, as with fewer than three lifted readings.

    Raises:
        OutOfRange: a block or reading outside its range.

    Source:
        Moments about the rear contact; leaving one out is common practice, no published source.

    >>> machine = Weighed(front_kg=120.0, rear_kg=120.0, wheelbase_mm=1400.0, front_radius_mm=300.0,
    ...                   rear_radius_mm=300.0)
    >>> found = off_the_line(machine, [(250.0, 109.8), (350.0, 115.5), (450.0, 100.9)])
    >>> found.at, round(found.expected_kg)
    (1, 105)
    """
    tangents, arms = _points(level, lifted)
    if len(arms) < _ENOUGH_TO_LEAVE_ONE_OUT:
        return None
    lines = [
        fit_line([*tangents[:at], *tangents[at + 1 :]], [*arms[:at], *arms[at + 1 :]])
        if len({*tangents[:at], *tangents[at + 1 :]}) > 1
        else None
        for at in range(len(arms))
    ]
    known = sorted((line.residual_deviation, at) for at, line in enumerate(lines) if line is not None)
    least, at = known[0]
    line = lines[at]
    if line is None or len(known) < len(arms) or not least < known[1][0] / 3.0:
        return None
    step, total = level.front_radius_mm - level.rear_radius_mm, level.front_kg + level.rear_kg
    arm_mm = line.intercept + line.slope * tangents[at]
    return OffTheLine(at - 1, arm_mm * total / (level.wheelbase_mm - step * tangents[at]))


_ENOUGH_TO_LEAVE_ONE_OUT = 4
"""With three points any two lie on a line."""
