"""How a machine stands while the rear wheel drives it forward steadily: loads, travels, anti-squat.

The engine drives through the chain; the front wheel rolls. The thrust's part tan(sigma) lifts the rear by the pull of
the chain; the inertia of the rear unsprung mass is left out of it. See steady.py for what else is left out.
"""

from __future__ import annotations

from dataclasses import replace

from stanchion.base.record import record
from stanchion.mechanics.anti_squat import Squat, squat
from stanchion.mechanics.axle_moved import along_the_arm, longer, standing
from stanchion.mechanics.limits import G_N, finite, not_negative
from stanchion.mechanics.steady import (
    MOST_G,
    Forces,
    Machine,
    NotSettledError,
    Settled,
    Stance,
    axle_loads,
    crossing,
    force_along_leg,
    on_rear_springs,
    settled,
    stance,
)
from stanchion.mechanics.swingarm import Arm, axle_back, lowered, moved


@record(kw_only=True)
class Driven:
    """A machine whose rear wheel is driven by a chain."""

    machine: Machine
    """It stands so before it gains speed."""
    arm: Arm
    """Its swingarm then, axes level with the ground."""
    front_pitch_radius_mm: float
    """Pitch circle of the front sprocket [mm]."""
    rear_pitch_radius_mm: float
    """Pitch circle of the rear sprocket [mm]."""

    @property
    def on_its_arm(self) -> Machine:
        """The machine, its rear axle on the arc of this swingarm."""
        return replace(self.machine, arm=self.arm.line)


def squat_at(driven: Driven, now: Stance, rear_mm: float) -> tuple[Arm, Squat]:
    """Swingarm, chain line and anti-squat at a stance.

    Args:
        driven: the machine before.
        now: how it stands.
        rear_mm: travel of the rear wheel from full extension [mm].

    Returns:
        The swingarm there, and the lines and angles.

    Raises:
        OutOfRange: the swingarm does not reach there.

    Source:
        Geometry; as squat().
    """
    before = driven.machine
    arm = moved(driven.arm, axle_lower_mm=before.rear_mm - rear_mm, pitch_deg=now.attitude.pitch_deg)
    return arm, squat(
        arm,
        rear_radius_mm=before.stands.rear_radius_mm,
        front_pitch_radius_mm=driven.front_pitch_radius_mm,
        rear_pitch_radius_mm=driven.rear_pitch_radius_mm,
        height_mm=now.height_mm,
        wheelbase_mm=now.attitude.wheelbase_mm,
    )


def on_gas(driven: Driven, acceleration_g: float) -> Settled | None:
    """How the machine stands while it gains speed steadily.

    .. math:: \\Delta N = m a h / p, \\quad F_s = N_r - m_u g - \\Delta N A

    Args:
        driven: the machine before.
        acceleration_g: a [g], >= 0.

    Returns:
        The machine; None where the travels do not settle.

    Raises:
        OutOfRange: an acceleration below 0, or no attitude is left.

    Source:
        Balance of forces at both ends; A is anti-squat, see anti_squat.py.
    """
    thrust_g = not_negative("acceleration", acceleration_g)
    return settled(driven.on_its_arm, lambda now, rear_mm: _forces(driven, now, rear_mm, thrust_g))


def _forces(driven: Driven, now: Stance, rear_mm: float, acceleration_g: float) -> Forces:
    machine = driven.on_its_arm
    front_n, rear_n = axle_loads(
        machine.mass_kg, now.ahead_mm, now.height_mm, now.attitude.wheelbase_mm, -acceleration_g
    )
    along = force_along_leg(front_n, machine.front_unsprung_kg, 0.0, -acceleration_g, now.attitude.rake_deg)
    lifted = machine.mass_kg * acceleration_g * G_N * squat_at(driven, now, rear_mm)[1].squat_slope
    up_n = rear_n - machine.rear_unsprung_kg * G_N - lifted
    return Forces(front_n, rear_n, along, on_rear_springs(machine, now, rear_mm, up_n))


def front_lifts_at(driven: Driven) -> float | None:
    """Acceleration at which the front wheel carries nothing any more.

    Args:
        driven: the machine before.

    Returns:
        Acceleration [g]; None where it stays on the ground up to MOST_G, or where the travels do not settle.

    Raises:
        OutOfRange: no attitude is left.

    Source:
        Moments about the rear contact: a = g b / h, at the attitude it then has.
    """

    def lifting(acceleration_g: float) -> float:
        found = on_gas(driven, acceleration_g)
        if found is None:
            raise NotSettledError
        return -found.front_load_n

    return crossing(lifting, MOST_G)


def over_travel(driven: Driven, rear_mm: float) -> tuple[Arm, Squat]:
    """Swingarm and anti-squat with the rear wheel at a travel, the fork as before.

    Args:
        driven: the machine before.
        rear_mm: travel of the rear wheel from full extension [mm].

    Returns:
        The swingarm there, and the lines and angles.

    Raises:
        OutOfRange: the swingarm does not reach there, or no attitude is left.

    Source:
        Geometry; as squat().
    """
    now = stance(driven.on_its_arm, driven.machine.fork_mm, rear_mm)
    return squat_at(driven, now, rear_mm)


def rear_raised(driven: Driven, raised_mm: float) -> Driven:
    """The machine with its rear higher at the same travel, as a longer shock makes it.

    Args:
        driven: the machine before.
        raised_mm: the axle lower in the frame [mm].

    Raises:
        OutOfRange: no attitude is left.

    Source:
        Geometry.
    """
    before = driven.on_its_arm
    now = stance(before, before.fork_mm, before.rear_mm - finite("rise of the rear", raised_mm))
    return replace(
        driven,
        machine=standing(before, now),
        arm=moved(driven.arm, axle_lower_mm=raised_mm, pitch_deg=now.attitude.pitch_deg),
    )


def axle_moved_back(driven: Driven, back_mm: float) -> Driven:
    """The machine with its rear axle moved back along the swingarm, travel and motion ratio as before.

    Args:
        driven: the machine before.
        back_mm: how far [mm]; below 0: forward.

    Raises:
        OutOfRange: the axle moved past the pivot, or no attitude is left.

    Source:
        Geometry; the rear unsprung mass moves with the axle.
    """
    machine = along_the_arm(driven.on_its_arm, back_mm)
    pitch_deg = machine.stands.rake_deg - driven.machine.stands.rake_deg
    arm = replace(driven.arm, length_mm=driven.arm.length_mm + back_mm)
    return replace(driven, machine=machine, arm=moved(arm, pitch_deg=-pitch_deg))


def sprocket_raised(driven: Driven, raised_mm: float) -> Driven:
    """The machine with its front sprocket higher in the frame.

    Args:
        driven: the machine before.
        raised_mm: how far [mm].

    Raises:
        OutOfRange: never for an ordinary number.
    """
    above = driven.arm.sprocket_above_mm + finite("rise of the front sprocket", raised_mm)
    return replace(driven, arm=replace(driven.arm, sprocket_above_mm=above))


def pivot_raised(driven: Driven, raised_mm: float) -> Driven:
    """The machine with its swingarm pivot higher in the frame, height of the axle, sprocket and ride height as before.

    The swingarm stands steeper, so its axle lies further forward.

    Args:
        driven: the machine before.
        raised_mm: how far [mm].

    Raises:
        OutOfRange: the swingarm does not reach there.
    """
    arm = driven.arm
    line = lowered(arm.line, finite("rise of the pivot", raised_mm))
    turned = replace(arm, down_deg=line.down_deg, sprocket_above_mm=arm.sprocket_above_mm - raised_mm)
    return replace(driven, machine=longer(driven.machine, axle_back(arm.line, raised_mm)), arm=turned)
