"""A fork leg or a shock sprung by air: one or two chambers behind a piston.

The main chamber shrinks as the leg is compressed and pushes it out; the balance chamber grows and pulls it in.
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
    by_port: bool = False
    """Whether the main chamber fills the balance chamber through a port."""
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

        with s = 1 for the main chamber and -1 for the balance chamber. The force never falls as the leg is compressed.

        Args:
            x_mm: compression from full extension [mm], where the main chamber still has volume.

        Returns:
            Force [N] and rate [N/mm].

        Raises:
            OutOfRange: the main chamber has no volume left there.

        Source:
            Ideal gas; pressure times area.

        >>> leg = AirSpring(main=Chamber(area_mm2=500.0, volume_mm3=100_000.0, pressure_mpa=1.101325))
        >>> round(leg.state(0.0)[0], 6), round(leg.state(100.0)[0], 6)
        (500.0, 1050.6625)
        """
        force, rate = self._of(self.main, 1.0, x_mm)
        if self.balance is not None:
            pull, rate_of_pull = self._of(self.balance, -1.0, x_mm)
            force, rate = force + pull, rate + rate_of_pull
        return force, rate

    @property
    def known_to_mm(self) -> float:
        """Compression up to which its force is known [mm]: every one that leaves the main chamber volume."""
        return math.inf

    @property
    def least_rate_n_per_mm(self) -> float:
        """The rate from which solvers start: that at full extension [N/mm]."""
        return self.state(0.0)[1]

    def _of(self, chamber: Chamber, sign: float, x_mm: float) -> tuple[float, float]:
        volume = chamber.volume_mm3 - sign * chamber.area_mm2 * x_mm
        if not volume > 0.0:
            raise OutOfRange("compression", x_mm, "less: the main chamber would have no volume left")
        squeeze = chamber.volume_mm3 / volume
        if self.exponent != 1.0:
            squeeze **= self.exponent
        absolute_n = chamber.area_mm2 * chamber.pressure_mpa * self.temperature_ratio * squeeze
        force = sign * (absolute_n - chamber.area_mm2 * self.ambient_mpa)
        return force, self.exponent * absolute_n * chamber.area_mm2 / volume


def balanced_at(main: Chamber, area_mm2: float, volume_mm3: float, port_mm: float) -> Chamber:
    """The balance chamber that a port fills from the main one as the piston passes it.

    .. math:: p_b(x_p) = p_m(x_p), \\quad p_{b,0} = p_b(x_p) (V_b + A_b x_p) / V_b

    The air is taken to move slowly there, at one temperature. The pressure of the main chamber is that read after the
    leg was last pushed past the port.

    Args:
        main: the main chamber, extended.
        area_mm2: area of the balance chamber [mm²], > 0.
        volume_mm3: its volume, extended [mm³], > 0.
        port_mm: compression at which the piston passes the port [mm], >= 0.

    Returns:
        The balance chamber, extended.

    Raises:
        OutOfRange: an argument is out of range, or the main chamber has no volume left at the port.

    Source:
        Ideal gas at one temperature.

    >>> main = Chamber(area_mm2=500.0, volume_mm3=100_000.0, pressure_mpa=1.0)
    >>> balanced_at(main, 500.0, 10_000.0, 0.0).pressure_mpa
    1.0
    """
    not_negative("travel at the port", port_mm)
    left = positive("volume of the main chamber at the port", main.volume_mm3 - main.area_mm2 * port_mm)
    at_port = main.pressure_mpa * main.volume_mm3 / left
    volume = positive("volume of a chamber", volume_mm3)
    grown = (volume + positive("area of a chamber", area_mm2) * port_mm) / volume
    return Chamber(area_mm2=area_mm2, volume_mm3=volume, pressure_mpa=at_port * grown)


def with_more_pressure(leg: AirSpring, added_mpa: float) -> AirSpring:
    """The leg with more pressure in its main chamber, extended, as a pump adds it at the present temperature.

    A balance chamber that is filled through a port follows, one that is pumped up itself does not.

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
    if leg.balance is None or not leg.by_port:
        return replace(leg, main=main)
    rise = main.pressure_mpa / leg.main.pressure_mpa
    return replace(leg, main=main, balance=replace(leg.balance, pressure_mpa=leg.balance.pressure_mpa * rise))
