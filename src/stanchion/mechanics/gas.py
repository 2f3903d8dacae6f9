"""Enclosed gas in a fork leg, behind a piston or in a tyre.

Pressures in MPa (N/mm²) are absolute unless stated otherwise.
"""

from __future__ import annotations

import math

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.limits import finite, not_negative, positive

ATMOSPHERE_MPA = 0.101325
"""Standard atmosphere [MPa], exact (NIST SP 811, App. B.8)."""
KELVIN_AT_ZERO_CELSIUS = 273.15
ATMOSPHERE_BAR = 1.01325
HPA_MPA = 1e-4
"""One hectopascal [MPa], exact."""
ML_MM3 = 1000.0
"""One millilitre [mm³], exact."""
ISOTHERMAL = 1.0
"""Exponent of air squeezed so slowly that it keeps its temperature."""
ADIABATIC = 1.4
"""Exponent of air squeezed so fast that it keeps its heat: the ratio of specific heats of air."""

FAST = 1.3
"""Exponent of air in a fast stroke, between the two. Common practice, no published source."""
FAST_RANGE = (1.2, 1.4)
"""Between which it lies. Common practice, no published source."""


def circle_area(diameter_mm: float) -> float:
    """Area of a circle.

    .. math:: A = \\pi d^2 / 4

    Args:
        diameter_mm: diameter [mm], > 0.

    Returns:
        Area [mm²].

    Raises:
        OutOfRange: diameter not above 0.

    Source:
        Geometry.

    >>> round(circle_area(43.0), 3)
    1452.201
    """
    return math.pi / 4.0 * positive("diameter", diameter_mm) ** 2


def least_air_volume(inner_mm: float, air_gap_mm: float, solids_mm3: float = 0.0, rod_mm: float = 0.0) -> float:
    """Air left in a fork leg at full travel.

    .. math:: V_{min} = \\pi/4 \\cdot (ID^2 - d^2) \\cdot h - V_s

    Args:
        inner_mm: inner diameter of the tube that holds the air [mm], > 0.
        air_gap_mm: air gap h, fork fully compressed, spring and spacer out [mm], > 0.
        solids_mm3: volume of the solids in that air when assembled (spring, spacer, cap) [mm³], >= 0.
        rod_mm: diameter of damper rod or cartridge that stands through it [mm], >= 0.

    Returns:
        Volume [mm³], > 0.

    Raises:
        OutOfRange: a length is not above 0, or the solids leave no air.

    Source:
        Geometry.

    >>> round(least_air_volume(39.0, 130.0) / 1000.0, 1)
    155.3
    """
    area = circle_area(inner_mm) - (circle_area(rod_mm) if not_negative("diameter of the damper rod", rod_mm) else 0.0)
    volume = area * positive("air gap", air_gap_mm) - not_negative("volume of solids", solids_mm3)
    return positive("air left at full travel", volume)


def polytropic_pressure(pressure: float, volume_ratio: float, exponent: float) -> float:
    """Pressure of enclosed gas after its volume changes.

    .. math:: p_2 = p_1 (V_1 / V_2)^n

    Args:
        pressure: absolute pressure before, in any unit, > 0.
        volume_ratio: V1/V2, > 0; above 1 where squeezed.
        exponent: n, 1 (slow, heat flows away) to 1.4 (fast), >= 0.

    Returns:
        Absolute pressure after, in the unit given.

    Raises:
        OutOfRange: pressure or ratio not above 0, or exponent negative.

    Source:
        Ideal gas; worked example LearnThermo 8B-1 in tests/reference/.

    >>> polytropic_pressure(0.1, 2.0, 1.0)
    0.2
    """
    squeezed = math.pow(positive("volume ratio", volume_ratio), not_negative("polytropic exponent", exponent))
    return positive("absolute pressure", pressure) * squeezed


def heated_pressure(pressure: float, from_celsius: float, to_celsius: float) -> float:
    """Absolute pressure of enclosed gas at another temperature and the same volume.

    .. math:: p_2 = p_1 T_2 / T_1

    Args:
        pressure: absolute pressure, in any unit, > 0.
        from_celsius: temperature there [°C], above absolute zero.
        to_celsius: other temperature [°C], above absolute zero.

    Returns:
        Absolute pressure, in the unit given.

    Raises:
        OutOfRange: pressure not above 0, or a temperature not above absolute zero.

    Source:
        Ideal gas.

    >>> round(heated_pressure(2.0, 20.0, 80.0), 4)
    2.4093
    """
    return positive("absolute pressure", pressure) * temperature_ratio(from_celsius, to_celsius)


def temperature_ratio(from_celsius: float, to_celsius: float) -> float:
    """Ratio of two absolute temperatures.

    .. math:: T_2 / T_1

    Args:
        from_celsius: T1 [°C], above absolute zero.
        to_celsius: T2 [°C], above absolute zero.

    Returns:
        The ratio.

    Raises:
        OutOfRange: a temperature is not above absolute zero.

    Source:
        Definition of the Celsius scale.

    >>> temperature_ratio(20.0, 20.0)
    1.0
    """
    return _kelvin(to_celsius) / _kelvin(from_celsius)


def tyre_pressure_at(
    gauge_bar: float, from_celsius: float, to_celsius: float, ambient_bar: float = ATMOSPHERE_BAR
) -> float:
    """Gauge pressure of a tyre at another temperature of the air inside.

    .. math:: p_2 = (p_1 + p_a) T_2 / T_1 - p_a

    Args:
        gauge_bar: gauge pressure [bar], >= 0.
        from_celsius: temperature of the air inside then [°C].
        to_celsius: temperature of the air inside at which the reading is wanted [°C].
        ambient_bar: pressure of the air outside [bar], > 0.

    Returns:
        Gauge pressure [bar].

    Raises:
        OutOfRange: pressure negative, ambient not above 0, or a temperature not above absolute zero.

    Source:
        Ideal gas at one volume.

    >>> round(tyre_pressure_at(1.7, 20.0, 70.0), 3)
    2.163
    """
    inside = not_negative("gauge pressure", gauge_bar) + positive("ambient pressure", ambient_bar)
    return heated_pressure(inside, from_celsius, to_celsius) - ambient_bar


def cold_tyre_pressure(
    wanted_bar: float, cold_bar: float, hot_bar: float, ambient_bar: float = ATMOSPHERE_BAR
) -> float:
    """Cold pressure for a wanted hot one, from an earlier rise of the same tyre between the same temperatures.

    .. math:: p_{set} = (p_w + p_a) (p_c + p_a) / (p_h + p_a) - p_a

    Args:
        wanted_bar: gauge pressure wanted hot p_w [bar], >= 0.
        cold_bar: gauge pressure it was set to cold p_c [bar], >= 0.
        hot_bar: gauge pressure it had hot p_h [bar], >= 0.
        ambient_bar: pressure of the air outside p_a [bar], > 0.

    Returns:
        Gauge pressure to set cold [bar].

    Raises:
        OutOfRange: a pressure is negative, or ambient not above 0.

    Source:
        Ideal gas at one volume: absolute pressure over absolute temperature is constant.

    >>> round(cold_tyre_pressure(2.1, 1.7, 2.163), 3)
    1.646
    """
    outside = positive("ambient pressure", ambient_bar)
    wanted, cold, hot = (not_negative("gauge pressure", bar) + outside for bar in (wanted_bar, cold_bar, hot_bar))
    return wanted * cold / hot - outside


def ambient_pressure(height_m: float) -> float:
    """Pressure of the standard atmosphere at a height.

    .. math:: p = p_0 (1 - 2.25577 \\cdot 10^{-5} h)^{5.25588}

    Args:
        height_m: height above sea level [m], -1000 to 9000.

    Returns:
        Absolute pressure [MPa].

    Raises:
        OutOfRange: height outside that.

    Source:
        ISO 2533 (constants from memory).

    >>> round(ambient_pressure(1000.0) * 1e6, 4)
    89874.5604
    """
    if not -1000.0 <= height_m <= 9000.0:
        raise OutOfRange("height", height_m, "from -1000 to 9000")
    return ATMOSPHERE_MPA * math.pow(1.0 - 2.25577e-5 * height_m, 5.25588)


def pressure_altitude(pressure_mpa: float) -> float:
    """Height at which the standard atmosphere has a pressure; the inverse of ambient_pressure.

    Args:
        pressure_mpa: absolute pressure [MPa], > 0.

    Returns:
        Height above sea level [m].

    Raises:
        OutOfRange: pressure not above 0.

    Source:
        ISO 2533, as ambient_pressure.

    >>> round(pressure_altitude(ambient_pressure(1000.0)), 6)
    1000.0
    """
    return (1.0 - math.pow(positive("pressure", pressure_mpa) / ATMOSPHERE_MPA, 1.0 / 5.25588)) / 2.25577e-5


def air_spring_force(pressure_mpa: float, area_mm2: float, ambient_mpa: float = ATMOSPHERE_MPA) -> float:
    """Force of enclosed gas on a piston with ambient air behind it.

    .. math:: F = (p - p_a) A

    Args:
        pressure_mpa: absolute pressure inside [MPa], > 0.
        area_mm2: area of the piston [mm²], > 0.
        ambient_mpa: pressure outside [MPa], >= 0.

    Returns:
        Force [N]; negative where the pressure inside is the lower.

    Raises:
        OutOfRange: pressure or area not above 0.

    Source:
        Pressure times area.

    >>> round(air_spring_force(0.202650, 1000.0), 3)
    101.325
    """
    inside = positive("absolute pressure", pressure_mpa) - not_negative("ambient pressure", ambient_mpa)
    return inside * positive("piston area", area_mm2)


def air_spring_rate(pressure_mpa: float, area_mm2: float, volume_mm3: float, exponent: float) -> float:
    """Rate of enclosed gas behind a piston.

    .. math:: k = n p A^2 / V

    Args:
        pressure_mpa: absolute pressure inside there [MPa], > 0.
        area_mm2: area of the piston [mm²], > 0.
        volume_mm3: volume there [mm³], > 0.
        exponent: n, 1 (slow) to 1.4 (fast), >= 0.

    Returns:
        Rate [N/mm].

    Raises:
        OutOfRange: an argument is not above 0, or exponent negative.

    Source:
        Derivative of p V^n = const.

    >>> round(air_spring_rate(0.101325, 1452.2012, 1452.2012 * 120.0, 1.0), 6)
    1.226202
    """
    stiffness = positive("absolute pressure", pressure_mpa) * positive("piston area", area_mm2) ** 2
    return not_negative("polytropic exponent", exponent) * stiffness / positive("gas volume", volume_mm3)


def _kelvin(celsius: float) -> float:
    kelvin = finite("temperature", celsius) + KELVIN_AT_ZERO_CELSIUS
    if not kelvin > 0.0:
        raise OutOfRange("temperature", celsius, f"above {-KELVIN_AT_ZERO_CELSIUS:g}")
    return kelvin
