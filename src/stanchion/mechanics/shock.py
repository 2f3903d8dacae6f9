"""Force along the shock, and its rate and travel at the wheel."""

from __future__ import annotations

from stanchion.mechanics.limits import finite, not_negative, positive
from stanchion.mechanics.spring_curve import RateOrCurve, force_at

BAR_MPA = 0.1
"""One bar in MPa (N/mm²), exact."""


def shock_force(spring: RateOrCurve, preload_mm: float, stroke_used_mm: float, gas_force_n: float = 0.0) -> float:
    """Force along the shock, without damping.

    .. math:: F_s = k max(0, P + s) + F_g

    Args:
        spring: spring rate [N/mm], > 0, or curve of the spring.
        preload_mm: preload now [mm]; negative where the spring is loose.
        stroke_used_mm: shock travel from full extension [mm], >= 0.
        gas_force_n: gas force [N], >= 0.

    Returns:
        Force [N].

    Raises:
        OutOfRange: rate not above 0, travel or gas force negative.

    Source:
        Hooke's law.

    >>> shock_force(95.0, 12.0, 20.0, 200.0)
    3240.0
    """
    squeezed = finite("preload", preload_mm) + not_negative("shock travel", stroke_used_mm)
    return force_at(spring, squeezed) + not_negative("gas force", gas_force_n)


def wheel_rate(rate_n_per_mm: float, motion_ratio: float, force_n: float = 0.0, ratio_slope: float = 0.0) -> float:
    """Rate at the wheel of what acts along the shock.

    .. math:: k_w = k m^2 + F_s dm/dz

    Args:
        rate_n_per_mm: rate along the shock there [N/mm], > 0: of the spring, and of gas, bump rubber and top-out
            spring where they work.
        motion_ratio: shock travel over wheel travel there, > 0.
        force_n: force along the shock there [N], needed only where the ratio changes; negative where a top-out spring
            pulls harder than the rest pushes.
        ratio_slope: dm/dz there [1/mm]; 0 for one constant ratio.

    Returns:
        Wheel rate [N/mm]; negative where a falling ratio outweighs the spring.

    Raises:
        OutOfRange: rate or ratio not above 0, or a force that is no ordinary number.

    Source:
        D. C. Barton & J. D. Fieldhouse, Automotive Chassis Engineering (Springer 2018), 3.9.2, eqs (3.29)-(3.33),
        for a constant ratio; the second term is the derivative of F_s m.

    >>> round(wheel_rate(80.0, 0.4), 6)
    12.8
    """
    along = positive("rate along the shock", rate_n_per_mm) * positive("motion ratio", motion_ratio) ** 2
    return along + finite("shock force", force_n) * finite("change of motion ratio", ratio_slope)


def collar_effect(
    spring_n_per_mm: float,
    motion_ratio: float,
    force_n: float = 0.0,
    ratio_slope: float = 0.0,
    others_n_per_mm: float = 0.0,
) -> float:
    """How far the wheel end of the machine rises for one mm of collar, about 1/m.

    .. math:: dz/dP = k m / ((k + k_o) m^2 + F_s dm/dz)

    Args:
        spring_n_per_mm: rate of the spring that the collar presses [N/mm], > 0.
        motion_ratio: shock travel over wheel travel there, > 0.
        force_n: force along the shock there [N].
        ratio_slope: dm/dz there [1/mm].
        others_n_per_mm: rate of all else that acts along the shock there, k_o [N/mm], >= 0: gas, bump rubber, top-out
            spring. The collar does not press them, but they hold the wheel back.

    Returns:
        Rise at the wheel for 1 mm of preload, dimensionless.

    Raises:
        OutOfRange: rate or ratio not above 0, or the wheel rate is not above 0 (no stable position).

    Source:
        The wheel load staying the same while preload changes.

    >>> round(collar_effect(80.0, 0.4), 6)
    2.5
    """
    spring = positive("spring rate", spring_n_per_mm)
    along = spring + not_negative("rate of all else along the shock", others_n_per_mm)
    return spring * motion_ratio / positive("wheel rate", wheel_rate(along, motion_ratio, force_n, ratio_slope))


def length_adjuster_rise(length_change_mm: float, motion_ratio: float) -> float:
    """Change of height at the wheel end when the shock itself is made longer.

    .. math:: \\Delta h = \\Delta l / m

    Args:
        length_change_mm: change of eye-to-eye length [mm], longer is positive.
        motion_ratio: shock travel over wheel travel at ride height, > 0.

    Returns:
        Rise at the wheel end [mm].

    Raises:
        OutOfRange: ratio not above 0.

    Source:
        Definition of the motion ratio.

    >>> length_adjuster_rise(2.0, 0.4)
    5.0
    """
    return finite("change of shock length", length_change_mm) / positive("motion ratio", motion_ratio)
