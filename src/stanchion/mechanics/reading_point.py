"""The compression at which a set length was read, to convert preload to the damper's stop.

With a top-out spring the leg may have been on its mechanical stop, drawn out until the top-out spring just touched, or
assembled with the two springs pushing at each other. Without one the reading point is 0.
"""

from __future__ import annotations

from stanchion.mechanics.limits import not_negative, positive
from stanchion.mechanics.spring_curve import RateOrCurve, force_at


def reading_point_touching(top_out_mm: float) -> float:
    """Compression at which a set length was read with the leg extended until the top-out spring just touched.

    .. math:: x_r = x_t

    Args:
        top_out_mm: length over which the top-out spring works [mm], >= 0.

    Returns:
        Reading point [mm]. On the mechanical stop it is 0.

    Raises:
        OutOfRange: length negative.

    Source:
        Definition.

    >>> reading_point_touching(20.0)
    20.0
    """
    return not_negative("length of the top-out spring", top_out_mm)


def reading_point_assembled(
    spring: RateOrCurve, squeezed_mm: float, top_out_rate_n_per_mm: float, top_out_mm: float
) -> float:
    """Compression at which a set length was read with the leg assembled, its two springs pushing against each other.

    .. math:: x_r = max(0, x_t - F(L_f - L) / k_t)

    Args:
        spring: rate of the main spring [N/mm], > 0, or its curve.
        squeezed_mm: free length less set length as read [mm]; where it is not above 0 the springs do not push.
        top_out_rate_n_per_mm: rate of the top-out spring [N/mm], > 0.
        top_out_mm: length over which it works [mm], >= 0.

    Returns:
        Reading point [mm].

    Raises:
        OutOfRange: a rate is not above 0, or length negative.

    Source:
        Balance of the two springs.

    >>> reading_point_assembled(9.5, 12.0, 30.0, 20.0)
    16.2
    """
    reached = reading_point_touching(top_out_mm) - force_at(spring, squeezed_mm) / positive(
        "top-out rate", top_out_rate_n_per_mm
    )
    return max(0.0, reached)
