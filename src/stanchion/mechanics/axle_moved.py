"""A machine whose rear axle was moved along its swingarm, in the slots of the axle."""

from __future__ import annotations

import math
from dataclasses import replace

from stanchion.mechanics.limits import finite
from stanchion.mechanics.steady import Machine, Stance, stance
from stanchion.mechanics.swingarm import ArmLine


def along_the_arm(machine: Machine, back_mm: float) -> Machine:
    """The machine with its rear axle further back along the swingarm, travels and motion ratio as before.

    Args:
        machine: the machine before; one whose swingarm is not known has its axle moved level.
        back_mm: how far [mm]; below 0: forward.

    Returns:
        The machine as it stands then.

    Raises:
        OutOfRange: the axle moved past the pivot, or no attitude is left.

    Source:
        Geometry; the rear unsprung mass moves with the axle.

    >>> from stanchion.mechanics.fork import Fork, ForkLeg
    >>> from stanchion.mechanics.geometry import Baseline
    >>> from stanchion.mechanics.linkage import constant_ratio
    >>> from stanchion.mechanics.rear import RearEnd
    >>> stands = Baseline(rake_deg=23.5, offset_mm=30.0, wheelbase_mm=1370.0, front_radius_mm=300.0,
    ...                   rear_radius_mm=300.0)
    >>> rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=120.0)
    >>> machine = Machine(stands=stands, mass_kg=246.0, ahead_mm=700.0, height_mm=620.0, front_unsprung_kg=13.0,
    ...                   rear_unsprung_kg=15.0, fork=Fork((ForkLeg(rate_n_per_mm=9.0),), 120.0), fork_mm=30.0,
    ...                   rear=rear, rear_mm=30.0, arm=ArmLine(length_mm=560.0, down_deg=12.0))
    >>> now = along_the_arm(machine, 5.0)
    >>> round(now.stands.wheelbase_mm, 2), round(now.stands.rake_deg, 3), now.arm.length_mm
    (1374.89, 23.457, 565.0)
    """
    line = machine.arm
    down = 0.0 if line is None else math.radians(line.down_deg)
    far = replace(longer(machine, finite("change at the axle", back_mm) * math.cos(down)), arm=None)
    now = stance(far, machine.fork_mm, machine.rear_mm - back_mm * math.sin(down))
    arm = None
    if line is not None:
        arm = ArmLine(length_mm=line.length_mm + back_mm, down_deg=line.down_deg - now.attitude.pitch_deg)
    return replace(standing(far, now), arm=arm)


def longer(machine: Machine, back_mm: float) -> Machine:
    """The machine with its rear axle further back at the same height; the rear unsprung mass moves with it.

    Args:
        machine: the machine before.
        back_mm: how far [mm].
    """
    kept = 1.0 - machine.rear_unsprung_kg / machine.mass_kg
    return replace(
        machine,
        stands=replace(machine.stands, wheelbase_mm=machine.stands.wheelbase_mm + back_mm),
        ahead_mm=machine.ahead_mm + back_mm * kept,
    )


def standing(machine: Machine, now: Stance) -> Machine:
    """The machine that stands so before it brakes or gains speed, at the travels it had.

    Args:
        machine: the machine before.
        now: how it stands.
    """
    return replace(
        machine,
        stands=replace(machine.stands, rake_deg=now.attitude.rake_deg, wheelbase_mm=now.attitude.wheelbase_mm),
        ahead_mm=now.ahead_mm,
        height_mm=now.height_mm,
    )
