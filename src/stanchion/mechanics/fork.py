"""A fork, and the force along it.

Compression x is counted along the leg from the damper's mechanical stop. Each leg has a main spring, it may have a
top-out spring that works against it near full extension, and it may hold trapped air; in place of the main spring it
may be sprung by air. Unknown parts are left out: a top-out rate of 0, no air.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.air_spring import AirSpring
from stanchion.mechanics.bump_stop import BumpStop
from stanchion.mechanics.gas import ATMOSPHERE_MPA
from stanchion.mechanics.limits import finite, not_negative, positive
from stanchion.mechanics.spring_curve import RateOrCurve, SpringCurve, force_at, least_rate


@record(kw_only=True)
class TrappedAir:
    """The air in one leg, and its state when the leg was closed or last bled."""

    area_mm2: float
    """Area that displaces the air: of the sealing diameter of the sliding tube [mm²], > 0."""
    least_volume_mm3: float
    """Volume at full travel [mm³], > 0."""
    exponent: float = 1.0
    """n: 1 for sag, up to 1.4 for hard braking."""
    closed_mpa: float = ATMOSPHERE_MPA
    """Absolute pressure when closed [MPa], > 0."""
    closed_at_mm: float = 0.0
    """Compression when closed [mm], from 0 to the full travel."""
    temperature_ratio: float = 1.0
    """Absolute temperature now over that when closed, > 0."""
    ambient_mpa: float = ATMOSPHERE_MPA
    """Pressure outside [MPa], > 0."""

    def __post_init__(self) -> None:
        """Check the ranges of the fields."""
        positive("sealing area", self.area_mm2)
        positive("air left at full travel", self.least_volume_mm3)
        not_negative("polytropic exponent", self.exponent)
        positive("pressure when closed", self.closed_mpa)
        not_negative("compression when closed", self.closed_at_mm)
        positive("temperature ratio", self.temperature_ratio)
        positive("ambient pressure", self.ambient_mpa)


@record(kw_only=True)
class ForkLeg:
    """What acts along one leg."""

    rate_n_per_mm: float = 0.0
    """Rate of the main spring [N/mm], or the least of its curve; 0 in a leg without one."""
    preload_mm: float = 0.0
    """Preload now, at the stop [mm]; negative where loose."""
    top_out_rate_n_per_mm: float = 0.0
    """Rate of the top-out spring [N/mm]; 0 where there is none."""
    top_out_mm: float = 0.0
    """Length over which the top-out spring works, from the stop [mm]."""
    air: TrappedAir | None = None
    """Trapped air; None: left out."""
    curve: SpringCurve | None = None
    """Force of the main spring where it has no one rate; None: it has."""
    air_spring: AirSpring | None = None
    """The air the leg is sprung by; None: it is not."""
    stop: BumpStop | None = None
    """Its bump rubber or cone; None: there is none, or its force is not known."""

    def __post_init__(self) -> None:
        """Check the ranges of the fields."""
        not_negative("spring rate", self.rate_n_per_mm)
        finite("preload", self.preload_mm)
        not_negative("top-out rate", self.top_out_rate_n_per_mm)
        not_negative("length of the top-out spring", self.top_out_mm)


@record
class Fork:
    """Both legs (or one, where the fork has one), and full travel less rigid packers."""

    legs: tuple[ForkLeg, ...]
    travel_mm: float
    """Full travel [mm], > 0."""

    def __post_init__(self) -> None:
        """Check the ranges of the fields."""
        positive("full travel", self.travel_mm)
        if not self.legs:
            raise OutOfRange("number of legs", 0, "1 or more")


def fork_of(legs: Sequence[ForkLeg], travel_mm: float) -> Fork:
    """A fork in which a leg like the one before is the same object, so that its force is worked out only once.

    Args:
        legs: its legs.
        travel_mm: full travel less rigid packers [mm], > 0.

    Returns:
        The fork.

    Raises:
        OutOfRange: no legs, or travel not above 0.

    Source:
        Definition.

    >>> fork = fork_of([ForkLeg(rate_n_per_mm=9.0), ForkLeg(rate_n_per_mm=9.0)], 120.0)
    >>> fork.legs[0] is fork.legs[1]
    True
    """
    shared: list[ForkLeg] = []
    for leg in legs:
        shared.append(shared[-1] if shared and shared[-1] == leg else leg)
    return Fork(tuple(shared), travel_mm)


def spring_forces(leg: ForkLeg, x_mm: float) -> float:
    """Force of the springs of one leg, main spring less top-out spring.

    .. math:: F = k max(0, P_s + x) - k_t max(0, x_t - x)

    A main spring with a curve gives its force there in place of the first term; air that springs the leg, and a bump
    rubber, add their own.

    Args:
        leg: the leg.
        x_mm: compression from the stop [mm].

    Returns:
        Force along the leg [N]; negative where the top-out spring wins.

    Raises:
        OutOfRange: compression infinite or not a number.

    Source:
        Hooke's law; the exact cases are in tests/reference/.

    >>> spring_forces(ForkLeg(rate_n_per_mm=9.5, preload_mm=15.0, top_out_rate_n_per_mm=30.0, top_out_mm=20.0), 20.0)
    332.5
    """
    squeezed = leg.preload_mm + finite("compression", x_mm)
    main = leg.rate_n_per_mm * max(0.0, squeezed) if leg.curve is None else force_at(leg.curve, squeezed)
    if leg.air_spring is not None:
        main += leg.air_spring.state(x_mm)[0]
    if leg.stop is not None:
        main += leg.stop.state(x_mm)[0]
    return main - leg.top_out_rate_n_per_mm * max(0.0, leg.top_out_mm - x_mm)


def air_force(air: TrappedAir, travel_mm: float, x_mm: float) -> float:
    """Force of the trapped air of one leg.

    .. math:: F = A (p_c (V(x_c) / V(x))^n T / T_c - p_a), \\quad V(x) = V_{min} + A (T - x)

    Args:
        air: the air.
        travel_mm: full travel [mm], > 0.
        x_mm: compression from the stop [mm], up to travel_mm.

    Returns:
        Force along the leg [N].

    Raises:
        OutOfRange: the air has no volume left there.

    Source:
        Ideal gas.

    >>> air = TrappedAir(area_mm2=1452.2012, least_volume_mm3=1452.2012 * 20.0)
    >>> round(air_force(air, 100.0, 60.0), 3)
    147.144
    """
    return _air_force_and_rate(air, travel_mm, x_mm)[0]


def _air_force_and_rate(air: TrappedAir, travel_mm: float, x_mm: float) -> tuple[float, float]:
    volume = air.least_volume_mm3 + air.area_mm2 * (travel_mm - x_mm)
    if not volume > 0.0:
        raise OutOfRange("compression", x_mm, "less: no air would be left")
    squeeze = (air.least_volume_mm3 + air.area_mm2 * (travel_mm - air.closed_at_mm)) / volume
    if air.exponent != 1.0:
        squeeze **= air.exponent
    absolute_n = air.area_mm2 * air.closed_mpa * air.temperature_ratio * squeeze
    return absolute_n - air.area_mm2 * air.ambient_mpa, air.exponent * absolute_n * air.area_mm2 / volume


def force_and_rate(fork: Fork, x_mm: float) -> tuple[float, float]:
    """Force and rate along the fork at once, for solvers; see fork_force and fork_rate.

    Args:
        fork: the fork.
        x_mm: compression from the stop [mm], up to full travel; not checked again here.

    Returns:
        Force [N] and rate [N/mm].

    Raises:
        OutOfRange: the air has no volume left there.

    Source:
        Sum of spring_forces and air_force, and its derivative.

    >>> force_and_rate(Fork((ForkLeg(rate_n_per_mm=9.0, preload_mm=12.0),) * 2, 120.0), 30.0)
    (756.0, 18.0)
    """
    force = rate = of_leg = rate_of_leg = 0.0
    last = None
    for leg in fork.legs:
        if leg is last:  # see fork_of
            force += of_leg
            rate += rate_of_leg
            continue
        # Each leg by itself first, so that the order of the legs does not change the sum by rounding.
        last, of_leg, rate_of_leg = leg, 0.0, 0.0
        squeezed = leg.preload_mm + x_mm
        if squeezed > 0.0:
            if leg.curve is None:
                of_leg += leg.rate_n_per_mm * squeezed
                rate_of_leg += leg.rate_n_per_mm
            else:
                of_leg, rate_of_leg = leg.curve.state(squeezed)
        if leg.air_spring is not None:
            sprung_n, sprung_rate = leg.air_spring.state(x_mm)
            of_leg += sprung_n
            rate_of_leg += sprung_rate
        if leg.stop is not None:
            stopped_n, stopped_rate = leg.stop.state(x_mm)
            of_leg += stopped_n
            rate_of_leg += stopped_rate
        engaged = leg.top_out_mm - x_mm
        if engaged > 0.0:
            of_leg -= leg.top_out_rate_n_per_mm * engaged
            rate_of_leg += leg.top_out_rate_n_per_mm
        if leg.air is not None:
            air_n, air_rate = _air_force_and_rate(leg.air, fork.travel_mm, x_mm)
            of_leg += air_n
            rate_of_leg += air_rate
        force += of_leg
        rate += rate_of_leg
    return force, rate


def fork_force(fork: Fork, x_mm: float) -> float:
    """Force along the fork, all legs together.

    Args:
        fork: the fork.
        x_mm: compression from the stop [mm], up to full travel.

    Returns:
        Force [N].

    Raises:
        OutOfRange: compression beyond 0 to full travel.

    Source:
        Sum of spring_forces and air_force.

    >>> fork_force(Fork((ForkLeg(rate_n_per_mm=9.0, preload_mm=12.0),) * 2, 120.0), 30.0)
    756.0
    """
    return force_and_rate(fork, _on_travel(fork, x_mm))[0]


def fork_rate(fork: Fork, x_mm: float) -> float:
    """Rate along the fork, all legs together; at a kink, the lower of the two rates.

    Args:
        fork: the fork.
        x_mm: compression from the stop [mm], up to full travel.

    Returns:
        Rate [N/mm].

    Raises:
        OutOfRange: compression beyond 0 to full travel.

    Source:
        Derivative of fork_force.

    >>> fork_rate(Fork((ForkLeg(rate_n_per_mm=9.0, preload_mm=12.0),) * 2, 120.0), 30.0)
    18.0
    """
    return force_and_rate(fork, _on_travel(fork, x_mm))[1]


def _on_travel(fork: Fork, x_mm: float) -> float:
    if not 0.0 <= x_mm <= fork.travel_mm:
        raise OutOfRange("compression", x_mm, f"from 0 to full travel, {fork.travel_mm:g}")
    return x_mm


def with_added_preload(fork: Fork, *added_mm: float) -> Fork:
    """The fork with more preload in each leg that has a spring.

    Args:
        fork: the fork.
        added_mm: preload added [mm], one for each leg, or one for all.

    Returns:
        The fork after.

    Raises:
        OutOfRange: not one number, and not one for each leg.

    Source:
        Definition.

    >>> with_added_preload(Fork((ForkLeg(rate_n_per_mm=9.0, preload_mm=12.0),), 120.0), 2.0).legs[0].preload_mm
    14.0
    """
    if len(added_mm) == 1:
        added_mm *= len(fork.legs)
    if len(added_mm) != len(fork.legs):
        raise OutOfRange("number of preload changes", len(added_mm), f"one for each leg, {len(fork.legs)}")
    if not any(added_mm):
        return fork
    legs: list[ForkLeg] = []
    last: tuple[ForkLeg, float] | None = None
    for leg, added in zip(fork.legs, added_mm, strict=True):
        if last is not None and leg is last[0] and added == last[1]:  # see fork_of
            legs.append(legs[-1])
            continue
        last = (leg, added)
        leg_then = ForkLeg(  # written out because solvers call this often and replace() takes twice as long
            rate_n_per_mm=leg.rate_n_per_mm,
            preload_mm=leg.preload_mm + added,
            top_out_rate_n_per_mm=leg.top_out_rate_n_per_mm,
            top_out_mm=leg.top_out_mm,
            air=leg.air,
            curve=leg.curve,
            air_spring=leg.air_spring,
            stop=leg.stop,
        )
        legs.append(leg_then)
    return Fork(tuple(legs), fork.travel_mm)


def with_spring(leg: ForkLeg, spring: RateOrCurve, preload_mm: float) -> ForkLeg:
    """The leg with a main spring.

    Args:
        leg: the leg.
        spring: rate of the main spring [N/mm], > 0, or its curve.
        preload_mm: its preload at the stop [mm]; negative where loose.

    Returns:
        The leg after.

    Raises:
        OutOfRange: rate negative, or preload not an ordinary number.

    Source:
        Definition.

    >>> with_spring(ForkLeg(), 9.0, 12.0).rate_n_per_mm
    9.0
    """
    curve = spring if isinstance(spring, SpringCurve) else None
    return replace(leg, rate_n_per_mm=least_rate(spring), curve=curve, preload_mm=preload_mm)


def with_rate(fork: Fork, rate_n_per_mm: float) -> Fork:
    """The fork with the same rate in each leg that has a spring, preloads unchanged.

    Args:
        fork: the fork.
        rate_n_per_mm: rate of each main spring [N/mm], > 0.

    Returns:
        The fork after.

    Raises:
        OutOfRange: rate not above 0.

    Source:
        Definition.

    >>> with_rate(Fork((ForkLeg(rate_n_per_mm=9.0), ForkLeg()), 120.0), 10.0).legs[1].rate_n_per_mm
    0.0
    """
    positive("spring rate", rate_n_per_mm)
    legs = (
        replace(leg, rate_n_per_mm=rate_n_per_mm, curve=None) if leg.rate_n_per_mm > 0.0 else leg for leg in fork.legs
    )
    return Fork(tuple(legs), fork.travel_mm)
