"""How much of the load that goes to the rear on the gas the chain and the swingarm carry."""

from __future__ import annotations

import math

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.chain import upper_run
from stanchion.mechanics.limits import finite, positive
from stanchion.mechanics.swingarm import Arm


@record(kw_only=True)
class Squat:
    """Lines and angles of a machine on the gas, seen from the side."""

    chain_deg: float
    """The upper run of the chain, rising towards the front sprocket [degrees]."""
    squat_deg: float
    """Sigma: from the rear contact to where the line of the chain meets that of the swingarm [degrees]."""
    transfer_deg: float
    """Tau: the load transfer line, from the rear contact [degrees]."""
    anti_squat: float
    """Share of the load transfer that does not go into the spring; above 1 the rear rises."""

    @property
    def squat_slope(self) -> float:
        """Tangent of sigma: part of the thrust that lifts the rear."""
        return math.tan(math.radians(self.squat_deg))


def squat(
    arm: Arm,
    *,
    rear_radius_mm: float,
    front_pitch_radius_mm: float,
    rear_pitch_radius_mm: float,
    height_mm: float,
    wheelbase_mm: float,
) -> Squat:
    """Anti-squat of a machine in one position.

    .. math:: \\tan\\tau = h / p, \\quad A = \\tan\\sigma / \\tan\\tau

    Args:
        arm: the swingarm as it stands, axes level.
        rear_radius_mm: radius of the rear tyre, loaded [mm], > 0.
        front_pitch_radius_mm: pitch circle of the front sprocket [mm], >= 0.
        rear_pitch_radius_mm: pitch circle of the rear sprocket [mm], >= 0.
        height_mm: height of the centre of mass h [mm], > 0.
        wheelbase_mm: p [mm], > 0.

    Returns:
        Its lines and angles.

    Raises:
        OutOfRange: an argument outside its range, or the chain's line meets the swingarm's above the rear contact,
            where no angle is left.

    Source:
        V. Cossalter, Motorcycle Dynamics, 2nd ed., chapter 6 (from memory; given there as the inverse ratio).

    >>> arm = Arm(length_mm=560.0, down_deg=12.0, sprocket_ahead_mm=55.0, sprocket_above_mm=12.0)
    >>> found = squat(arm, rear_radius_mm=318.0, front_pitch_radius_mm=38.177266, rear_pitch_radius_mm=111.26424,
    ...               height_mm=620.0, wheelbase_mm=1370.0)
    >>> round(found.anti_squat, 4)
    1.2322
    """
    down = math.radians(arm.down_deg)
    axle_x, axle_z = arm.axle
    radius = positive("rear tyre radius", rear_radius_mm)
    front = (arm.sprocket_ahead_mm - axle_x, arm.sprocket_above_mm - axle_z + radius)
    run = upper_run((0.0, radius), rear_pitch_radius_mm, front, front_pitch_radius_mm)
    up = math.radians(run.up_deg)
    # both lines meet at (x / w, z / w) from the rear contact: w is 0 where they are parallel, which is no trouble here
    w = math.cos(down) * math.sin(up) - math.sin(down) * math.cos(up)
    along = run.x_mm * math.sin(up) - (run.z_mm - radius) * math.cos(up)
    x, z = along * math.cos(down), along * math.sin(down) + radius * w
    if x == 0.0:
        raise OutOfRange("where the chain's line meets the swingarm's", x, "ahead of the rear contact or behind it")
    slope = finite("squat line", z / x)
    transfer = positive("height of the centre of mass", height_mm) / positive("wheelbase", wheelbase_mm)
    return Squat(
        chain_deg=run.up_deg,
        squat_deg=math.degrees(math.atan(slope)),
        transfer_deg=math.degrees(math.atan(transfer)),
        anti_squat=slope / transfer,
    )
