"""What the force at full travel consists of: springs, air, gas and bump rubber, each by itself."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.mechanics.air_spring import AirSpring
from stanchion.mechanics.fork import Fork, air_force
from stanchion.mechanics.rear import RearEnd
from stanchion.mechanics.spring_curve import force_at


@record(kw_only=True)
class ForceParts:
    """The parts of a force [N], along the fork or at the rear wheel; None: there is no such part."""

    coil_n: float | None = None
    """Coil springs, less top-out springs as far as they still work."""
    air_spring_n: float | None = None
    """Air in the place of coil springs."""
    trapped_n: float | None = None
    """Air trapped above the oil."""
    gas_n: float | None = None
    """Gas of the shock."""
    rubber_n: float | None = None
    """Bump rubber or cone."""

    @property
    def sum_n(self) -> float:
        """All of them."""
        parts = (self.coil_n, self.air_spring_n, self.trapped_n, self.gas_n, self.rubber_n)
        return sum(part for part in parts if part is not None)

    @property
    def air_n(self) -> float:
        """The air's part: that of air springs and of trapped air."""
        return (self.air_spring_n or 0.0) + (self.trapped_n or 0.0)


def fork_parts(fork: Fork) -> ForceParts:
    """The parts of the force along a fork at full travel, all legs together.

    Args:
        fork: the fork; its air is squeezed as its exponents say.

    Returns:
        The parts; their sum is fork_force at full travel.

    Raises:
        OutOfRange: the air has no volume left there.

    Source:
        Hooke's law, ideal gas.

    >>> from stanchion.mechanics.fork import ForkLeg
    >>> fork_parts(Fork((ForkLeg(rate_n_per_mm=9.0, preload_mm=12.0),) * 2, 120.0)).coil_n
    2376.0
    """
    full = fork.travel_mm
    coils: list[float] = []
    for leg in fork.legs:
        if leg.rate_n_per_mm > 0.0:
            spring = leg.rate_n_per_mm if leg.curve is None else leg.curve
            coils.append(force_at(spring, leg.preload_mm + full))
        left_mm = leg.top_out_mm - full
        if left_mm > 0.0 and leg.top_out_rate_n_per_mm > 0.0:
            coils.append(-leg.top_out_rate_n_per_mm * left_mm)
    return ForceParts(
        coil_n=_sum(coils),
        air_spring_n=_sum([leg.air_spring.state(full)[0] for leg in fork.legs if leg.air_spring is not None]),
        trapped_n=_sum([air_force(leg.air, full, full) for leg in fork.legs if leg.air is not None]),
        rubber_n=_sum([leg.stop.state(full)[0] for leg in fork.legs if leg.stop is not None]),
    )


def rear_parts(rear: RearEnd) -> ForceParts:
    """The parts of the vertical force at the rear wheel at full travel.

    Args:
        rear: the rear end; its air and gas are squeezed as their exponents say.

    Returns:
        The parts; their sum is rear_wheel_force at full travel.

    Raises:
        OutOfRange: beyond what was measured of the linkage.

    Source:
        Hooke's law, ideal gas, virtual work.

    >>> from stanchion.mechanics.linkage import constant_ratio
    >>> rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=120.0)
    >>> rear_parts(rear).coil_n
    3150.0
    """
    shock_mm, ratio, _ = rear.linkage.state(rear.travel_mm)
    by_air = isinstance(rear.curve, AirSpring)
    main_n = force_at(rear.spring, rear.preload_mm + shock_mm)
    pull_n = rear.top_out_rate_n_per_mm * max(0.0, rear.top_out_mm - shock_mm)
    coils = [] if by_air else [main_n * ratio]
    gases = [] if rear.gas is None else [rear.gas.state(shock_mm)[0] * ratio]
    return ForceParts(
        coil_n=_sum([*coils, *([-pull_n * ratio] if pull_n else [])]),
        air_spring_n=main_n * ratio if by_air else None,
        gas_n=_sum([*gases, *([rear.gas_force_n * ratio] if rear.gas_force_n else [])]),
        rubber_n=None if rear.stop is None else rear.stop.state(shock_mm)[0] * ratio,
    )


def _sum(parts: list[float]) -> float | None:
    """Their sum; None where there are none."""
    return sum(parts) if parts else None
