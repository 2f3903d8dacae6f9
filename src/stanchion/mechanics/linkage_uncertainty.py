"""Uncertainty of ratio, wheel rate and collar effect where the linkage pairs were read with a tape."""

from __future__ import annotations

import math
from functools import lru_cache

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.limits import positive
from stanchion.mechanics.linkage import Linkage, through_pairs
from stanchion.mechanics.statistics import Uncertainty, combine, resolution_uncertainty

Pairs = tuple[tuple[float, float], ...]
Moved = tuple[float, float, float]

_FURTHEST = 3
"""Points to either side of a place that bear on the curve there: slopes at the ends of a piece take their neighbours,
and a reading may move the place into the next piece."""
_STEPS = (1.0, 1.0 / 16.0, 1.0 / 256.0)
"""Steps of the differentiation in standard uncertainties: smaller where the pairs would fall into disorder."""


@record
class LinkageUncertainty:
    """Uncertainty at one wheel travel of the values from linkage pairs."""

    motion_ratio: Uncertainty
    wheel_rate: Uncertainty
    """Of the wheel rate [N/mm]."""
    collar_effect: Uncertainty | None
    """Of the rise at the wheel for 1 mm of preload; None where the wheel rate is not above 0."""


@lru_cache(maxsize=64)
def moved_by_readings(pairs: Pairs, wheel_mm: float, step_mm: float) -> tuple[Moved, ...]:
    """Change of shock travel, motion ratio and its slope for one standard uncertainty of each reading.

    .. math:: u_i(y) = \\frac{1}{2} (f(x_i + u_i) - f(x_i - u_i)), \\quad u_i = a / \\sqrt{12}

    Wheel travel and shock travel of every pair count as independent readings. The error they share, because all are
    measured from one length at full extension, is left out.

    Args:
        pairs: (vertical wheel travel, shock travel) [mm], in any order, as `through_pairs` takes them.
        wheel_mm: where on the travel [mm]; beyond the last pair the curve goes straight on.
        step_mm: smallest division a of the tape [mm], >= 0.

    Returns:
        For each reading that bears on the curve there: change of s [mm], of m, and of dm/dz [1/mm].

    Raises:
        OutOfRange: pairs that give no curve, or so near each other that a reading may be in any order.

    Source:
        JCGM 100:2008, 5.1.3 note 2 (sensitivities by numerical differentiation); 4.3.7 (division of the scale).
    """
    points = sorted(pair for pair in pairs if pair != (0.0, 0.0))
    standard = resolution_uncertainty(step_mm)
    beyond = sum(1 for wheel, _ in points if wheel < wheel_mm)
    near = points[max(0, beyond - _FURTHEST) : beyond + _FURTHEST]
    return tuple(_moved(near, at, of, standard, wheel_mm) for at in range(len(near)) for of in (0, 1))


def _moved(points: list[tuple[float, float]], at: int, of: int, standard: float, wheel_mm: float) -> Moved:
    """What one reading moves: of pair `at` the wheel travel (`of` 0) or the shock travel (1)."""
    for share in _STEPS:
        try:
            more, less = (_state(points, at, of, way * share * standard, wheel_mm) for way in (1.0, -1.0))
        except OutOfRange:
            continue
        shock, ratio, slope = ((up - down) / 2.0 / share for up, down in zip(more, less, strict=True))
        return shock, ratio, slope
    raise OutOfRange("linkage pair", points[at][of], "further from the next pair than it can be read")


def _state(points: list[tuple[float, float]], at: int, of: int, by_mm: float, wheel_mm: float) -> Moved:
    wheel, shock = points[at]
    moved = (wheel + by_mm, shock) if of == 0 else (wheel, shock + by_mm)
    linkage: Linkage = through_pairs([*points[:at], moved, *points[at + 1 :]])
    return linkage.reaching(wheel_mm).state(wheel_mm)


def linkage_uncertainty(
    moved: tuple[Moved, ...], rate_n_per_mm: float, motion_ratio: float, force_n: float = 0.0, ratio_slope: float = 0.0
) -> LinkageUncertainty:
    """Uncertainty of motion ratio, wheel rate and collar effect from that of the linkage pairs alone.

    .. math:: u_i(K) = 2 k m\\,u_i(m) + F_s\\,u_i(m') + k m'\\,u_i(s), \\quad
              u_i(c) = c (u_i(m) / m - u_i(K) / K), \\quad u^2 = \\sum u_i^2

    Args:
        moved: what each reading moves, as `moved_by_readings` gives it.
        rate_n_per_mm: spring rate k [N/mm], > 0.
        motion_ratio: m there, > 0.
        force_n: force along the shock there [N].
        ratio_slope: dm/dz there [1/mm].

    Returns:
        The uncertainties.

    Raises:
        OutOfRange: rate or ratio not above 0.

    Source:
        JCGM 100:2008, 5.1.2, with the wheel rate k m² + Fs dm/dz and the collar effect c = k m / K.

    >>> pairs = ((60.0, 24.0), (120.0, 48.0))
    >>> known = linkage_uncertainty(moved_by_readings(pairs, 30.0, 1.0), 90.0, 0.4)
    >>> round(known.motion_ratio.standard, 4), round(known.wheel_rate.standard, 2)  # 2 x 90 x 0.4 x 0.00518
    (0.0052, 0.37)
    """
    rate, ratio = positive("spring rate", rate_n_per_mm), positive("motion ratio", motion_ratio)
    wheel_rate = rate * ratio * ratio + force_n * ratio_slope
    of_rate = [2.0 * rate * ratio * m + force_n * slope + rate * ratio_slope * s for s, m, slope in moved]
    collar = None
    if wheel_rate > 0.0:
        effect = rate * ratio / wheel_rate
        collar = _together(
            [effect * (m / ratio - at_wheel / wheel_rate) for (_, m, _), at_wheel in zip(moved, of_rate, strict=True)]
        )
    return LinkageUncertainty(_together([m for _, m, _ in moved]), _together(of_rate), collar)


def _together(parts: list[float]) -> Uncertainty:
    return Uncertainty(combine(*(math.fabs(part) for part in parts)))
