"""Load on each end of the machine, from scales or from masses and shares, and the rate between two loads."""

from __future__ import annotations

import math

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.limits import G_N, not_negative, positive, within
from stanchion.mechanics.statistics import Uncertainty, together


def sprung_load(on_wheel_kg: float, unsprung_kg: float) -> float:
    """Vertical load that the springs of one end carry.

    .. math:: W = (m - m_u) g

    Args:
        on_wheel_kg: what a scale under the wheel reads, or mass times share [kg], >= 0.
        unsprung_kg: mass below the springs at that end [kg], 0 to on_wheel_kg.

    Returns:
        Load [N], >= 0.

    Raises:
        OutOfRange: a mass is negative, or more is unsprung than the wheel carries.

    Source:
        Definition; g of NIST SP 811.

    >>> round(sprung_load(95.0, 15.0), 3)
    784.532
    """
    not_negative("unsprung mass", unsprung_kg)
    if not_negative("load on the wheel", on_wheel_kg) < unsprung_kg:
        raise OutOfRange("load on the wheel", on_wheel_kg, f"at least the unsprung mass, {unsprung_kg:g}")
    return (on_wheel_kg - unsprung_kg) * G_N


def share_on_wheel(mass_kg: float, share: float) -> float:
    """Estimate of the part of a mass that one wheel carries.

    .. math:: m_w = m q

    Args:
        mass_kg: mass of the machine or of the rider [kg], >= 0.
        share: share of it on that wheel, 0 to 1.

    Returns:
        Mass on the wheel [kg].

    Raises:
        OutOfRange: mass negative, or share outside 0 to 1.

    Source:
        Definition; the shares themselves are common practice, no published source.

    >>> share_on_wheel(180.0, 0.5)
    90.0
    """
    return not_negative("mass", mass_kg) * within("share", share, 0.0, 1.0)


def vertical_rate(along_n_per_mm: float, rake_deg: float) -> float:
    """Vertical rate of the front at the wheel.

    .. math:: k_v = k / \\cos^2 \\epsilon

    Args:
        along_n_per_mm: rate along the fork, both legs and air [N/mm], >= 0.
        rake_deg: rake of the fork legs from vertical [degrees], 0 to below 90.

    Returns:
        Vertical rate [N/mm].

    Raises:
        OutOfRange: rate negative, or rake outside 0 to below 90.

    Source:
        Virtual work with no horizontal force at the axle.

    >>> round(vertical_rate(18.0, 24.0), 3)
    21.568
    """
    return not_negative("rate along the fork", along_n_per_mm) / cosine_of_rake(rake_deg) ** 2


def cosine_of_rake(rake_deg: float) -> float:
    """Cosine of the rake.

    Args:
        rake_deg: rake from vertical [degrees], 0 to below 90.

    Returns:
        Cosine, above 0.

    Raises:
        OutOfRange: rake outside 0 to below 90.

    Source:
        Trigonometry.

    >>> cosine_of_rake(0.0)
    1.0
    """
    if not 0.0 <= rake_deg < 90.0:
        raise OutOfRange("rake", rake_deg, "from 0 to below 90")
    return math.cos(math.radians(rake_deg))


def working_rate(load_change_n: float, sag_change_mm: float) -> float:
    """Effective rate between two states of known load.

    .. math:: k = \\Delta W / \\Delta s

    It holds where neither state is topped out or on the top-out spring. At the front use the load along the fork and
    the sag along the leg.

    Args:
        load_change_n: change of load, along the direction of the sag [N], > 0.
        sag_change_mm: change of sag [mm], > 0.

    Returns:
        Rate [N/mm].

    Raises:
        OutOfRange: a change is not above 0.

    Source:
        Hooke's law.

    >>> working_rate(360.0, 20.0)
    18.0
    """
    return positive("change of load", load_change_n) / positive("change of sag", sag_change_mm)


def working_rate_uncertainty(
    load_change_n: float, sag_change_mm: float, load_uncertainty_n: float, sag_uncertainty: Uncertainty
) -> Uncertainty:
    """Uncertainty of the working rate.

    .. math:: u(k) = k \\sqrt{(u_W / \\Delta W)^2 + (u_s / \\Delta s)^2}

    Args:
        load_change_n: change of load [N], > 0.
        sag_change_mm: change of sag [mm], > 0.
        load_uncertainty_n: standard uncertainty of the change of load [N], >= 0.
        sag_uncertainty: uncertainty of the change of sag [mm].

    Returns:
        Its uncertainty [N/mm].

    Raises:
        OutOfRange: a change is not above 0, or an uncertainty negative.

    Source:
        JCGM 100:2008, 5.1.6 (a quotient).

    >>> round(working_rate_uncertainty(360.0, 20.0, 0.0, Uncertainty(1.0)).standard, 3)
    0.9
    """
    of_load = not_negative("uncertainty of the load", load_uncertainty_n) / positive("change of load", load_change_n)
    of_sag = sag_uncertainty.times(1.0 / positive("change of sag", sag_change_mm))
    return together(Uncertainty(of_load), of_sag).times(working_rate(load_change_n, sag_change_mm))
