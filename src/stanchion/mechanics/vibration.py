"""A sprung mass that swings freely: how fast, and how much damping stops it."""

from __future__ import annotations

import math

from stanchion.mechanics.limits import not_negative, positive


def natural_frequency(rate_n_per_mm: float, mass_kg: float) -> float:
    """How often in a second a mass swings on its spring without damping.

    .. math:: f = \\frac{1}{2\\pi} \\sqrt{k/m}

    Args:
        rate_n_per_mm: rate k in the direction in which the mass moves [N/mm], > 0.
        mass_kg: mass m on it [kg], > 0.

    Returns:
        Frequency [Hz].

    Raises:
        OutOfRange: rate or mass not above 0.

    Source:
        S. S. Rao, Mechanical Vibrations, free vibration of one degree of freedom.

    >>> round(natural_frequency(22.0, 110.0), 3)
    2.251
    """
    return math.sqrt(positive("rate", rate_n_per_mm) * 1000.0 / positive("sprung mass", mass_kg)) / math.tau


def critical_damping(rate_n_per_mm: float, mass_kg: float) -> float:
    """The least damping with which a mass on its spring comes to rest without swinging past.

    .. math:: c_{crit} = 2 \\sqrt{k m}

    Args:
        rate_n_per_mm: rate k in the direction in which the mass moves [N/mm], > 0.
        mass_kg: mass m on it [kg], > 0.

    Returns:
        Force for each unit of speed, in that direction [N s/m].

    Raises:
        OutOfRange: rate or mass not above 0.

    Source:
        S. S. Rao, Mechanical Vibrations, viscous damping.

    >>> round(critical_damping(22.0, 110.0), 1)
    3111.3
    """
    return 2.0 * math.sqrt(positive("rate", rate_n_per_mm) * positive("sprung mass", mass_kg) * 1000.0)


def damping_ratio(damping_n_s_per_m: float, rate_n_per_mm: float, mass_kg: float) -> float:
    """Damping as a share of the critical one.

    .. math:: \\zeta = c / (2 \\sqrt{k m})

    Args:
        damping_n_s_per_m: force for each unit of speed, in the direction in which the mass moves [N s/m], >= 0.
        rate_n_per_mm: rate in that direction [N/mm], > 0.
        mass_kg: mass on it [kg], > 0.

    Returns:
        The ratio: 0 swings on for ever, 1 no longer swings past.

    Raises:
        OutOfRange: damping negative, rate or mass not above 0.

    Source:
        S. S. Rao, Mechanical Vibrations, viscous damping.

    >>> round(damping_ratio(1000.0, 22.0, 110.0), 3)
    0.321
    """
    return not_negative("damping", damping_n_s_per_m) / critical_damping(rate_n_per_mm, mass_kg)


def damping_change(rate_n_per_mm: float, mass_kg: float, new_rate_n_per_mm: float, new_mass_kg: float) -> float:
    """How much more damping another spring or mass wants, for the same damping ratio.

    .. math:: c_2 / c_1 = \\sqrt{k_2 m_2 / (k_1 m_1)}

    Args:
        rate_n_per_mm: rate before [N/mm], > 0.
        mass_kg: mass before [kg], > 0.
        new_rate_n_per_mm: rate now [N/mm], > 0.
        new_mass_kg: mass now [kg], > 0.

    Returns:
        Damping now over damping before.

    Raises:
        OutOfRange: a rate or mass not above 0.

    Source:
        Definition of the damping ratio.

    >>> round(damping_change(8.0, 100.0, 10.5, 100.0), 3)
    1.146
    """
    return critical_damping(new_rate_n_per_mm, new_mass_kg) / critical_damping(rate_n_per_mm, mass_kg)
