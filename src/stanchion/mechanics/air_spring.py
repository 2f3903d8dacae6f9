"""A fork leg or a shock sprung by air: one to three chambers.

The main chamber shrinks as the leg is compressed and pushes it out; the balance chamber grows and pulls it in. An outer
chamber either shrinks too, on an area of its own, or gives the main chamber room behind a floating piston.
Pressures in MPa (N/mm²) are absolute unless stated otherwise.
"""

from __future__ import annotations

import math
from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.gas import ATMOSPHERE_MPA, ISOTHERMAL
from stanchion.mechanics.limits import finite, not_negative, positive


@record(kw_only=True)
class Chamber:
    """One chamber with the leg fully extended."""

    area_mm2: float
    """Area on which its pressure acts along the leg [mm²], > 0."""
    volume_mm3: float
    """Its volume [mm³], > 0."""
    pressure_mpa: float
    """Its absolute pressure when it was set [MPa], > 0."""

    def __post_init__(self) -> None:
        """Check the ranges of the fields."""
        positive("area of a chamber", self.area_mm2)
        positive("volume of a chamber", self.volume_mm3)
        positive("pressure of a chamber", self.pressure_mpa)


@record(kw_only=True)
class AirSpring:
    """The chambers of one leg, and how their air is squeezed."""

    main: Chamber
    """Shrinks as the leg is compressed."""
    balance: Chamber | None = None
    """Grows as the leg is compressed; None: there is none."""
    port_mm: float | None = None
    """Compression at which the main chamber fills the balance chamber through a port [mm]; None: there is no port."""
    outer: Chamber | None = None
    """The outer chamber; None: there is none. Behind a floating piston its area does not count."""
    floating: bool = False
    """Whether a floating piston parts it from the main chamber: it rests on its stop until the main chamber has the
    pressure of the outer one, and from there on both are squeezed together."""
    exponent: float = ISOTHERMAL
    """n: 1 for sag, up to 1.4 for fast strokes."""
    temperature_ratio: float = 1.0
    """Absolute temperature now over that when the pressures were set, > 0."""
    ambient_mpa: float = ATMOSPHERE_MPA
    """Pressure outside [MPa], > 0."""

    def __post_init__(self) -> None:
        """Check the ranges of the fields."""
        not_negative("polytropic exponent", self.exponent)
        positive("temperature ratio", self.temperature_ratio)
        positive("ambient pressure", self.ambient_mpa)

    def state(self, x_mm: float) -> tuple[float, float]:
        """Force and rate along the leg at a compression.

        .. math:: F = \\sum s A (p(x) - p_a), \\quad p(x) = p_0 (V_0 / (V_0 - s A x))^n T / T_0

        with s = 1 for the main chamber and for an outer chamber on its own area, and -1 for the balance chamber. Once
        a floating piston has left its stop, main and outer chamber have one pressure:

        .. math:: p(x)^{1/n} = (p_1^{1/n} V_1 + p_2^{1/n} V_2) / (V_1 + V_2 - A x)

        A main chamber that is set to more than the outer one has pushed the floating piston in while it was pumped up:
        then both are one chamber of that pressure. The force never falls as the leg is compressed.

        Args:
            x_mm: compression from full extension [mm], where the chambers that shrink still have volume.

        Returns:
            Force [N] and rate [N/mm].

        Raises:
            OutOfRange: a chamber that shrinks has no volume left there.

        Source:
            Ideal gas; pressure times area.

        >>> leg = AirSpring(main=Chamber(area_mm2=500.0, volume_mm3=100_000.0, pressure_mpa=1.101325))
        >>> round(leg.state(0.0)[0], 6), round(leg.state(100.0)[0], 6)
        (500.0, 1050.6625)
        """
        if self.floating:
            squeezed, since_mm = self._squeezed(x_mm, self.exponent)
            force, rate = self._of(squeezed, 1.0, x_mm - since_mm)
        else:
            force, rate = self._of(self.main, 1.0, x_mm)
        if self.outer is not None and not self.floating:
            push, rate_of_push = self._of(self.outer, 1.0, x_mm)
            force, rate = force + push, rate + rate_of_push
        if self.balance is not None:
            pull, rate_of_pull = self._of(self.balance, -1.0, x_mm)
            force, rate = force + pull, rate + rate_of_pull
        return force, rate

    def piston_moves_at(self, exponent: float) -> float | None:
        """Compression at which a floating piston leaves its stop [mm]; None: there is none, or nothing moves it.

        Args:
            exponent: n of the stroke.
        """
        if self.outer is None or not self.floating or exponent == 0.0:
            return None
        ratio = min(1.0, self.main.pressure_mpa / self.outer.pressure_mpa)
        left: float = ratio ** (1.0 / exponent)
        return self.main.volume_mm3 * (1.0 - left) / self.main.area_mm2

    def main_pressure(self, x_mm: float) -> float:
        """Absolute pressure of the main chamber in a slow stroke, at the temperature at which it was set [MPa].

        Args:
            x_mm: compression from full extension [mm].

        Raises:
            OutOfRange: the chamber has no volume left there.
        """
        squeezed, since_mm = self._squeezed(x_mm, ISOTHERMAL)
        left = squeezed.volume_mm3 - squeezed.area_mm2 * (x_mm - since_mm)
        return squeezed.pressure_mpa * squeezed.volume_mm3 / positive("volume of the main chamber", left)

    @property
    def known_to_mm(self) -> float:
        """Compression up to which its force is known [mm]: every one that leaves its chambers volume."""
        return math.inf

    @property
    def least_rate_n_per_mm(self) -> float:
        """The rate from which solvers start: that at full extension [N/mm]."""
        return self.state(0.0)[1]

    def _of(self, chamber: Chamber, sign: float, x_mm: float) -> tuple[float, float]:
        volume = chamber.volume_mm3 - sign * chamber.area_mm2 * x_mm
        if not volume > 0.0:
            raise OutOfRange("compression", x_mm, "less: a chamber would have no volume left")
        squeeze = chamber.volume_mm3 / volume
        if self.exponent != 1.0:
            squeeze **= self.exponent
        absolute_n = chamber.area_mm2 * chamber.pressure_mpa * self.temperature_ratio * squeeze
        force = sign * (absolute_n - chamber.area_mm2 * self.ambient_mpa)
        return force, self.exponent * absolute_n * chamber.area_mm2 / volume

    def _squeezed(self, x_mm: float, exponent: float) -> tuple[Chamber, float]:
        """The air that pushes in the main chamber, and the compression from which it counts.

        It is the main chamber alone, or both once the floating piston has left its stop.
        """
        outer, moves_at_mm = self.outer, self.piston_moves_at(exponent)
        if outer is None or moves_at_mm is None or x_mm < moves_at_mm:
            return self.main, 0.0
        main = self.main
        both_mm3 = main.volume_mm3 - main.area_mm2 * moves_at_mm + outer.volume_mm3
        pressure_mpa = max(main.pressure_mpa, outer.pressure_mpa)
        return Chamber(area_mm2=main.area_mm2, volume_mm3=both_mm3, pressure_mpa=pressure_mpa), moves_at_mm


def with_port(leg: AirSpring, area_mm2: float, volume_mm3: float, port_mm: float) -> AirSpring:
    """The leg with a balance chamber that a port fills from the main one as the piston passes it.

    .. math:: p_b(x_p) = p_m(x_p), \\quad p_{b,0} = p_b(x_p) (V_b + A_b x_p) / V_b

    The air is taken to move slowly there, at one temperature. The pressure of the main chamber is that read after the
    leg was last pushed past the port.

    Args:
        leg: the leg.
        area_mm2: area of the balance chamber [mm²], > 0.
        volume_mm3: its volume, extended [mm³], > 0.
        port_mm: compression at which the piston passes the port [mm], >= 0.

    Returns:
        The leg with it.

    Raises:
        OutOfRange: an argument is out of range, or the main chamber has no volume left at the port.

    Source:
        Ideal gas at one temperature.

    >>> leg = AirSpring(main=Chamber(area_mm2=500.0, volume_mm3=100_000.0, pressure_mpa=1.0))
    >>> filled = with_port(leg, 500.0, 10_000.0, 0.0)
    >>> filled.balance.pressure_mpa
    1.0
    """
    at_port = leg.main_pressure(not_negative("travel at the port", port_mm))
    volume = positive("volume of a chamber", volume_mm3)
    grown = (volume + positive("area of a chamber", area_mm2) * port_mm) / volume
    balance = Chamber(area_mm2=area_mm2, volume_mm3=volume, pressure_mpa=at_port * grown)
    return replace(leg, balance=balance, port_mm=port_mm)


def with_more_pressure(leg: AirSpring, added_mpa: float) -> AirSpring:
    """The leg with more pressure in its main chamber, extended, as a pump adds it at the present temperature.

    A balance chamber that is filled through a port follows; a chamber that is pumped up itself does not.

    Args:
        leg: the leg.
        added_mpa: pressure added [MPa]; negative to let some out.

    Returns:
        The leg after.

    Raises:
        OutOfRange: no pressure would be left.

    Source:
        Ideal gas: pressures at one volume keep their ratio.

    >>> leg = AirSpring(main=Chamber(area_mm2=500.0, volume_mm3=100_000.0, pressure_mpa=1.0))
    >>> with_more_pressure(leg, 0.25).main.pressure_mpa
    1.25
    """
    main = replace(leg.main, pressure_mpa=leg.main.pressure_mpa + finite("pressure", added_mpa) / leg.temperature_ratio)
    pumped = replace(leg, main=main)
    if leg.balance is None or leg.port_mm is None:
        return pumped
    return with_port(pumped, leg.balance.area_mm2, leg.balance.volume_mm3, leg.port_mm)


def with_more_in_outer(leg: AirSpring, added_mpa: float) -> AirSpring:
    """The leg with more pressure in its outer chamber, extended, as a pump adds it at the present temperature.

    Args:
        leg: the leg; one without an outer chamber stays as it is.
        added_mpa: pressure added [MPa]; negative to let some out.

    Returns:
        The leg after.

    Raises:
        OutOfRange: no pressure would be left.

    Source:
        Ideal gas: pressures at one volume keep their ratio.

    >>> air = Chamber(area_mm2=500.0, volume_mm3=100_000.0, pressure_mpa=1.0)
    >>> with_more_in_outer(AirSpring(main=air, outer=air), 0.25).outer.pressure_mpa
    1.25
    """
    outer = leg.outer
    if outer is None:
        return leg
    more_mpa = outer.pressure_mpa + finite("pressure", added_mpa) / leg.temperature_ratio
    pumped = replace(leg, outer=replace(outer, pressure_mpa=more_mpa))
    if leg.balance is None or leg.port_mm is None:
        return pumped
    return with_port(pumped, leg.balance.area_mm2, leg.balance.volume_mm3, leg.port_mm)
