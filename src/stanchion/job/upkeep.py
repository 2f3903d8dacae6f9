"""What was done to the machine besides setting it up."""

from __future__ import annotations

import datetime as dt

from stanchion.base.record import record
from stanchion.job.spec import Kind, day, flag, number, part, rows, text


@record(kw_only=True)
class Service:
    """When something was last renewed."""

    on: dt.date | None = day()
    """The day; None: not known."""
    at_hours: float | None = number(Kind.COUNT, 0, 100_000, 1)
    """What the hour meter read then."""


@record(kw_only=True)
class Torque:
    """One fastener to tighten by the manual."""

    what: str = text(40)
    """Which."""
    torque_nm: float | None = number(Kind.TORQUE, 0.1, 500, 1)
    """Torque the manual gives [N·m]."""
    done: bool = flag()
    """Tightened to it on this occasion."""
    initials: str = text(12)
    """Who did it."""


@record(kw_only=True)
class ChainAndTyres:
    """The chain and tyres that were on when something was measured; what is left empty was not known then."""

    front_teeth: float | None = number(Kind.COUNT, 5, 60, 1)
    """Teeth of the front sprocket."""
    rear_teeth: float | None = number(Kind.COUNT, 10, 120, 1)
    """Teeth of the rear sprocket."""
    axle_mark_mm: float | None = number(Kind.LENGTH, 0, 200, 1)
    """Where the rear axle stood [mm]."""
    front_tyre: str = text(60)
    """Front tyre."""
    rear_tyre: str = text(60)
    """Rear tyre."""


@record(kw_only=True)
class StacksThen:
    """Height of the spacer stack that was in when the set length of a leg was read; None: not known."""

    left_mm: float | None = number(Kind.LENGTH, 0, 1000, 0.5)
    """Of the left leg, or of both [mm]."""
    right_mm: float | None = number(Kind.LENGTH, 0, 1000, 0.5)
    """Of the right leg where it is entered apart [mm]."""


@record(kw_only=True)
class Upkeep:
    """What was done to the machine besides setting it up, and the chain and tyres fitted."""

    machine_hours: float | None = number(Kind.COUNT, 0, 100_000, 1)
    """What the hour meter reads now."""
    fork_oil: Service = part(Service)
    """Fork oil."""
    fork_seals: Service = part(Service)
    """Fork seals."""
    shock: Service = part(Service)
    """Oil, gas and seals of the shock."""
    front_teeth: float | None = number(Kind.COUNT, 5, 60, 1)
    """Teeth of the front sprocket."""
    rear_teeth: float | None = number(Kind.COUNT, 10, 120, 1)
    """Teeth of the rear sprocket."""
    axle_mark_mm: float | None = number(Kind.LENGTH, 0, 200, 1)
    """Position of the rear axle on the scale of the swingarm, or from its end [mm]."""
    wheelbase_mm: float | None = number(Kind.LENGTH, 700, 2500, 1)
    """Between the axles, as set [mm]."""
    front_tyre: str = text(60)
    """Front tyre: make, compound, size."""
    rear_tyre: str = text(60)
    """Rear tyre: make, compound, size."""
    front_wanted_bar: float | None = number(Kind.PRESSURE, 0, 6, 0.05)
    """Pressure the front tyre should have hot, above ambient [bar]."""
    rear_wanted_bar: float | None = number(Kind.PRESSURE, 0, 6, 0.05)
    """Pressure the rear tyre should have hot [bar]."""
    torques: tuple[Torque, ...] = rows(Torque, 30)
    """What is to be tightened by the manual."""
    ratio_with: ChainAndTyres = part(ChainAndTyres)
    """What was on when the motion ratio was last measured."""
    geometry_with: ChainAndTyres = part(ChainAndTyres)
    """What was on when the geometry was last measured."""
    swingarm_with: ChainAndTyres = part(ChainAndTyres)
    """What was on when the swingarm was last measured."""
    set_lengths_with: StacksThen = part(StacksThen)
    """With what spacer stacks the set lengths of the fork were read."""
