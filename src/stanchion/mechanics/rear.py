"""The rear end at the wheel: force and rate of shock and linkage, and where they come to rest under a load.

Wheel travel z is vertical, counted from full extension of the mechanical stop. Where the motion ratio falls fast
enough, more than one place can balance a load; the solver then says so.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.air_spring import AirSpring
from stanchion.mechanics.bump_stop import BumpStop
from stanchion.mechanics.equilibrium import FORCE_TOLERANCE_N, Limit
from stanchion.mechanics.limits import finite, not_negative, positive
from stanchion.mechanics.linkage import Linkage
from stanchion.mechanics.solve import bracketed_root
from stanchion.mechanics.spring_curve import RateOrCurve, SpringCurve, least_rate

_SLICES = 8
"""Number of slices of a piece of the linkage in the search for positions of balance, where the force may fall."""


@record(kw_only=True)
class RearEnd:
    """Shock spring, gas and linkage."""

    rate_n_per_mm: float
    """Rate of the shock spring [N/mm], or the least of its curve, > 0."""
    preload_mm: float
    """Preload now, shock extended [mm]; negative where loose."""
    linkage: Linkage
    travel_mm: float
    """Full vertical wheel travel [mm], > 0 and no more than the linkage covers; see full_wheel_travel."""
    gas_force_n: float = 0.0
    """Constant force of the gas on the shaft [N]; 0: left out, or `gas` has it."""
    gas: AirSpring | None = None
    """The gas behind the shaft, where its volume is known: its force rises over the stroke."""
    stop: BumpStop | None = None
    """The bump rubber on the shaft; None: there is none, or its force is not known."""
    top_out_rate_n_per_mm: float = 0.0
    """Rate of a top-out spring inside the shock [N/mm]; 0 where there is none."""
    top_out_mm: float = 0.0
    """Shock travel over which it works [mm]."""
    curve: SpringCurve | AirSpring | None = None
    """Force of the shock spring where it has no one rate, or the air in its place, with no preload; None: it has."""

    def __post_init__(self) -> None:
        """Check the ranges of the fields."""
        positive("spring rate", self.rate_n_per_mm)
        finite("preload", self.preload_mm)
        not_negative("gas force", self.gas_force_n)
        not_negative("top-out rate", self.top_out_rate_n_per_mm)
        not_negative("length of the top-out spring", self.top_out_mm)
        if positive("full wheel travel", self.travel_mm) > self.linkage.covered_mm:
            raise OutOfRange(
                "full wheel travel", self.travel_mm, f"at most {self.linkage.covered_mm:g}: beyond what was measured"
            )

    @property
    def spring(self) -> RateOrCurve:
        """The shock spring: its rate, or its curve."""
        return self.rate_n_per_mm if self.curve is None else self.curve


@record
class WheelPosition:
    """Where the rear wheel comes to rest."""

    travel_mm: float
    """Vertical wheel travel from full extension [mm]."""
    limit: Limit
    residual_n: float
    """Load at the wheel less the force of the shock there [N]: what the stop carries where the wheel is at one."""
    only_one: bool
    """False where the load is balanced at more than one position, because the motion ratio falls too fast."""


def full_wheel_travel(linkage: Linkage, wheel_travel_mm: float | None = None, stroke_mm: float | None = None) -> float:
    """Vertical wheel travel that can be used and computed: the least of what is known.

    Args:
        linkage: the linkage.
        wheel_travel_mm: full wheel travel as recorded [mm], > 0, or None.
        stroke_mm: stroke of the shock, less rigid packers [mm], > 0, or None.

    Returns:
        Travel [mm].

    Raises:
        OutOfRange: a length is not above 0, or nothing bounds the travel of a constant ratio.

    Source:
        Definition.

    >>> from stanchion.mechanics.linkage import constant_ratio
    >>> full_wheel_travel(constant_ratio(0.5), 130.0, 60.0)
    120.0
    """
    ends = [linkage.covered_mm]
    if wheel_travel_mm is not None:
        ends.append(positive("full wheel travel", wheel_travel_mm))
    if stroke_mm is not None:
        stroke = positive("stroke of the shock", stroke_mm)
        if linkage.covered_mm == math.inf:
            ends.append(stroke / linkage.motion_ratio(0.0))
        elif stroke < linkage.shock_travel(linkage.covered_mm):
            ends.append(bracketed_root(lambda z: linkage.shock_travel(z) - stroke, 0.0, linkage.covered_mm, 1e-12))
    end = min(ends)
    if end == math.inf:
        raise OutOfRange("full wheel travel", end, "known: give the stroke of the shock or the wheel travel")
    return end


def with_preload(rear: RearEnd, preload_mm: float) -> RearEnd:
    """The rear end with another preload.

    Args:
        rear: the rear end.
        preload_mm: preload, shock extended [mm]; negative where loose.

    Returns:
        The rear end after.

    Raises:
        OutOfRange: preload infinite or not a number.

    Source:
        Definition.

    >>> from stanchion.mechanics.linkage import constant_ratio
    >>> rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=120.0)
    >>> with_preload(rear, 12.0).preload_mm
    12.0
    """
    return RearEnd(  # written out because solvers call this often and replace() takes several times as long
        rate_n_per_mm=rear.rate_n_per_mm,
        preload_mm=preload_mm,
        linkage=rear.linkage,
        travel_mm=rear.travel_mm,
        gas_force_n=rear.gas_force_n,
        gas=rear.gas,
        stop=rear.stop,
        top_out_rate_n_per_mm=rear.top_out_rate_n_per_mm,
        top_out_mm=rear.top_out_mm,
        curve=rear.curve,
    )


def with_shock_spring(rear: RearEnd, spring: RateOrCurve, preload_mm: float) -> RearEnd:
    """The rear end with another spring.

    Args:
        rear: the rear end.
        spring: rate of the spring [N/mm], > 0, or its curve.
        preload_mm: its preload, shock extended [mm]; negative where loose.

    Returns:
        The rear end after.

    Raises:
        OutOfRange: rate not above 0, or preload not an ordinary number.

    Source:
        Definition.

    >>> from stanchion.mechanics.linkage import constant_ratio
    >>> rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=120.0)
    >>> with_shock_spring(rear, 95.0, 12.0).rate_n_per_mm
    95.0
    """
    curve = None if isinstance(spring, float | int) else spring
    return replace(rear, rate_n_per_mm=least_rate(spring), curve=curve, preload_mm=preload_mm)


def rear_shock_force(rear: RearEnd, shock_mm: float) -> float:
    """Force along the shock, including its top-out spring.

    .. math:: F_s = k max(0, P + s) + F_g - k_t max(0, x_t - s)

    A spring with a curve gives its force there in place of the first term; a bump rubber adds its own.

    Args:
        rear: the rear end.
        shock_mm: shock travel s from full extension [mm], >= 0.

    Returns:
        Force [N].

    Raises:
        OutOfRange: travel negative.

    Source:
        Hooke's law.

    >>> from stanchion.mechanics.linkage import constant_ratio
    >>> rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=120.0)
    >>> rear_shock_force(rear, 10.0)
    1800.0
    """
    return _force(rear, not_negative("shock travel", shock_mm))


def _force(rear: RearEnd, shock_mm: float) -> float:
    squeezed, engaged, force = rear.preload_mm + shock_mm, rear.top_out_mm - shock_mm, rear.gas_force_n
    if squeezed >= 0.0:
        force += rear.rate_n_per_mm * squeezed if rear.curve is None else rear.curve.state(squeezed)[0]
    if rear.gas is not None:
        force += rear.gas.state(shock_mm)[0]
    if rear.stop is not None:
        force += rear.stop.state(shock_mm)[0]
    if engaged > 0.0:
        force -= rear.top_out_rate_n_per_mm * engaged
    return force


def _rate(rear: RearEnd, shock_mm: float) -> float:
    main, squeezed = 0.0, rear.preload_mm + shock_mm
    if squeezed > 0.0 or isinstance(rear.curve, AirSpring):
        main = rear.rate_n_per_mm if rear.curve is None else rear.curve.state(squeezed)[1]
    if rear.gas is not None:
        main += rear.gas.state(shock_mm)[1]
    if rear.stop is not None:
        main += rear.stop.state(shock_mm)[1]
    return main + (rear.top_out_rate_n_per_mm if rear.top_out_mm > shock_mm else 0.0)


def rear_wheel_force(rear: RearEnd, wheel_mm: float) -> float:
    """Vertical force at the wheel.

    .. math:: F_w = F_s m(z)

    Args:
        rear: the rear end.
        wheel_mm: vertical wheel travel from full extension [mm], 0 to what the linkage covers.

    Returns:
        Force [N].

    Raises:
        OutOfRange: beyond what was measured.

    Source:
        Virtual work.

    >>> from stanchion.mechanics.linkage import constant_ratio
    >>> rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=120.0)
    >>> rear_wheel_force(rear, 20.0)
    900.0
    """
    shock, ratio, _ = rear.linkage.state(wheel_mm)
    return rear_shock_force(rear, shock) * ratio


def rear_wheel_rate(rear: RearEnd, wheel_mm: float) -> float:
    """Rate at the wheel at one wheel travel.

    .. math:: k_w = k m^2 + F_s dm/dz

    Args:
        rear: the rear end.
        wheel_mm: vertical wheel travel from full extension [mm], 0 to what the linkage covers.

    Returns:
        Rate [N/mm]; negative where the position is not stable.

    Raises:
        OutOfRange: beyond what was measured.

    Source:
        Derivative of rear_wheel_force.

    >>> from stanchion.mechanics.linkage import constant_ratio
    >>> rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=120.0)
    >>> rear_wheel_rate(rear, 20.0)
    22.5
    """
    shock, ratio, slope = rear.linkage.state(wheel_mm)
    return _rate(rear, shock) * ratio * ratio + _force(rear, shock) * slope


def rear_position(rear: RearEnd, load_n: float) -> WheelPosition:
    """Where the rear wheel comes to rest under a vertical load, lowered gently from full extension.

    The force need not rise all the way, so each piece of the linkage is looked through in turn and the first place of
    balance is taken. At a kink between straight pieces the force jumps; a load inside the jump rests on the kink.

    Args:
        rear: the rear end.
        load_n: vertical load on the springs [N]; negative for the hanging wheel.

    Returns:
        Wheel travel, 0 to full, and whether it lies at an end or is not the only place.

    Raises:
        OutOfRange: load infinite or not a number.

    Source:
        Balance of forces.

    >>> from stanchion.mechanics.linkage import constant_ratio
    >>> rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=120.0)
    >>> rear_position(rear, 900.0).travel_mm
    20.0
    """
    places = list(_places(rear, load_n))
    travel_mm, limit, residual_n = places[0]
    return WheelPosition(travel_mm, limit, residual_n, len(places) == 1)


def rear_travel(rear: RearEnd, load_n: float) -> tuple[float, Limit]:
    """Where the rear wheel comes to rest, as rear_position gives it, without a search for further positions.

    Args:
        rear: the rear end.
        load_n: vertical load on the springs [N]; negative for the hanging wheel.

    Returns:
        Wheel travel [mm], and whether it lies at an end.

    Raises:
        OutOfRange: load infinite or not a number.

    Source:
        Balance of forces.

    >>> from stanchion.mechanics.linkage import constant_ratio
    >>> rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=120.0)
    >>> rear_travel(rear, 900.0)
    (20.0, <Limit.NONE: ''>)
    """
    travel_mm, limit, _ = next(_places(rear, load_n))
    return travel_mm, limit


def _places(rear: RearEnd, load_n: float) -> Iterator[tuple[float, Limit, float]]:
    """Every stable position of balance, from full extension on: wheel travel, whether it is an end, and the residual
    load."""
    finite("rear load", load_n)
    links, balanced = rear.linkage, False
    excess_n = _force(rear, 0.0) * links.cubics[0][1] - load_n
    pulled = rear.top_out_rate_n_per_mm != 0.0 or isinstance(rear.curve, AirSpring)
    if load_n <= 0.0 and not pulled:  # nothing pulls the wheel off its stop
        yield 0.0, Limit.TOPPED_OUT, -excess_n
        return
    if excess_n >= 0.0:
        yield 0.0, Limit.TOPPED_OUT, -excess_n
    for start, end, (c0, c1, c2, c3) in zip(links.knots_mm, links.knots_mm[1:], links.cubics, strict=False):
        if start >= rear.travel_mm:
            break

        def excess_at(h: float, c0: float = c0, c1: float = c1, c2: float = c2, c3: float = c3) -> float:
            force = _force(rear, c0 + h * (c1 + h * (c2 + h * c3)))
            return force * (c1 + h * (2.0 * c2 + h * 3.0 * c3)) - load_n

        length = min(end, rear.travel_mm) - start
        before, excess_n = excess_n, _force(rear, c0) * c1 - load_n
        if before < 0.0 <= excess_n:
            balanced = True
            yield start, Limit.NONE, 0.0
        force = _force(rear, c0 + length * (c1 + length * (c2 + length * c3)))
        ratio = c1 + length * (2.0 * c2 + length * 3.0 * c3)
        never_falls = excess_n + load_n >= 0.0 <= c2 and c2 + 3.0 * c3 * length >= 0.0  # force and ratio both rise
        # The ratio is a parabola, and so nowhere above its Bézier points.
        too_weak = excess_n < 0.0 and max(0.0, force) * max(c1, c1 + c2 * length, ratio) < load_n
        slices = 1 if never_falls or too_weak else _SLICES
        left = 0.0
        for i in range(1, slices + 1):
            right = length * i / slices
            before, excess_n = excess_n, excess_at(right) if i < slices else force * ratio - load_n
            if before < 0.0 <= excess_n:
                h = bracketed_root(excess_at, left, right, FORCE_TOLERANCE_N)
                balanced = True
                yield start + h, Limit.NONE, -excess_at(h)
            left = right
    if excess_n < 0.0 or not (balanced or excess_n > 0.0):
        yield rear.travel_mm, Limit.BOTTOMED, -excess_n
