"""Where the centre of mass lies as far as it was measured or judged, and the braking to look at."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.spec import Kind, choice, number, rows


@record(kw_only=True)
class Lift:
    """What the front scale read with the front wheel on a block, suspension blocked, rear wheel on its scale."""

    raised_mm: float | None = number(Kind.LENGTH, 20, 1500, 10)
    """Height of the block under the front wheel, scale included, above that of the rear one [mm]."""
    alone_kg: float | None = number(Kind.MASS, 5, 400, 0.5)
    """Front scale then, machine alone [kg]."""
    aboard_kg: float | None = number(Kind.MASS, 5, 500, 0.5)
    """Front scale then, rider aboard [kg]."""


@record(kw_only=True)
class Balance:
    """Height of the centre of mass, and the braking to look at."""

    braking_g: float | None = number(Kind.RATIO, 0.1, 1.5, 0.05)
    """Steady deceleration to look at [g]; None: the usual one of the use."""
    height_alone_mm: float | None = number(Kind.LENGTH, 200, 1200, 5)
    """Height of the centre of mass where it is known otherwise or judged, machine alone [mm]."""
    height_aboard_mm: float | None = number(Kind.LENGTH, 200, 1400, 5)
    """The same with the rider aboard [mm]."""
    blocked: str = choice("no", "yes")
    """Whether the suspension was blocked at ride height while the front was lifted."""
    lifts: tuple[Lift, ...] = rows(Lift, 6)
    """Readings with the front lifted, in any order."""
