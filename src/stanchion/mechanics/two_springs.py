"""Two springs that work as one: end to end until one of them closes, or side by side once the second is reached."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.limits import not_negative, positive
from stanchion.mechanics.spring_curve import RateOrCurve, SpringCurve, rate_at


@record
class TwoSprings:
    """What two springs do together."""

    curve: SpringCurve
    changes_at_mm: float
    """Compression of both from the free length at which the rate changes [mm]; infinite where it never does."""


@lru_cache(maxsize=64)  # most keystrokes leave the springs unchanged
def end_to_end(
    main_n_per_mm: float, second_n_per_mm: float, main_closes_mm: float, second_closes_mm: float
) -> TwoSprings:
    """Two springs that stand on each other: both give way, until one of them is closed, by its coils or by a stop.

    .. math:: F = \\frac{k_1 k_2}{k_1 + k_2} u \\quad (F \\le F_c = \\min(k_1 c_1, k_2 c_2))

    Beyond that only the spring that is still open gives way.

    Args:
        main_n_per_mm: rate of one [N/mm], > 0.
        second_n_per_mm: rate of the other [N/mm], > 0.
        main_closes_mm: how far the first can be compressed [mm], > 0; infinite where it does not close.
        second_closes_mm: the same of the other.

    Returns:
        Their curve, over the compression of both together.

    Raises:
        OutOfRange: an argument is not above 0.

    Source:
        Equal force in both (series: 1/k = 1/k1 + 1/k2; J. E. Shigley & C. R. Mischke, Mechanical Engineering Design,
        from memory).

    >>> both = end_to_end(120.0, 60.0, math.inf, 15.0)
    >>> both.changes_at_mm, both.curve.state(10.0), both.curve.state(30.0)
    (22.5, (400.0, 40.0), (1800.0, 120.0))
    """
    main, second = positive("rate of the main spring", main_n_per_mm), positive("second rate", second_n_per_mm)
    forces = [
        rate * _closing("compression until it closes", mm)
        for rate, mm in ((main, main_closes_mm), (second, second_closes_mm))
    ]
    together = main * second / (main + second)
    least = min(forces)
    if math.isinf(least):
        return TwoSprings(SpringCurve((0.0,), ((0.0, together, 0.0, 0.0),)), math.inf)
    alone = main if forces[1] <= forces[0] else second
    at_mm = least / together
    return TwoSprings(SpringCurve((0.0, at_mm), ((0.0, together, 0.0, 0.0), (least, alone, 0.0, 0.0))), at_mm)


@lru_cache(maxsize=64)
def side_by_side(main: RateOrCurve, second_n_per_mm: float, gap_mm: float) -> TwoSprings:
    """Two springs beside or inside each other, of which the second is reached only after a gap.

    .. math:: F = F_1(u) + k_2 \\max(0, u - g)

    Args:
        main: rate [N/mm] or curve of the main spring.
        second_n_per_mm: rate of the second [N/mm], > 0.
        gap_mm: compression g of the main spring at which the second is reached [mm], 0 or more; infinite: never.

    Returns:
        Their curve, over the compression of the main spring.

    Raises:
        OutOfRange: a rate is not above 0, or the gap is below 0.

    Source:
        Sum of both forces (V. B. Bhandari, Design of Machine Elements, example 10.19).

    >>> both = side_by_side(9.0, 4.0, 50.0)
    >>> both.changes_at_mm, both.curve.state(40.0), both.curve.state(60.0)
    (50.0, (360.0, 9.0), (580.0, 13.0))
    """
    second = positive("second rate", second_n_per_mm)
    first = main if isinstance(main, SpringCurve) else SpringCurve((0.0,), ((0.0, rate_at(main, 0.0), 0.0, 0.0),))
    if math.isinf(gap_mm):
        return TwoSprings(first, math.inf)
    gap = not_negative("gap to the second spring", gap_mm)
    knots, pieces = list(first.knots_mm), list(first.pieces)
    gap = next((knot for knot in knots if abs(knot - gap) < _SAME_MM), gap)
    if gap not in knots:
        at = sum(knot < gap for knot in knots)
        along = gap - knots[at - 1]
        force, rate, bend, twist = pieces[at - 1]
        cut = (
            force + along * (rate + along * (bend + along * twist)),
            rate + along * (2.0 * bend + 3.0 * along * twist),
            bend + 3.0 * along * twist,
            twist,
        )
        knots.insert(at, gap)
        pieces.insert(at, cut)
    for at, knot in enumerate(knots):
        if knot >= gap:
            force, rate, bend, twist = pieces[at]
            pieces[at] = (force + second * (knot - gap), rate + second, bend, twist)
    return TwoSprings(replace(first, knots_mm=tuple(knots), pieces=tuple(pieces)), gap)


_SAME_MM = 1e-9
"""Two places of a curve that are no further apart are one."""


def _closing(name: str, mm: float) -> float:
    """A compression above 0 that may be infinite."""
    if math.isnan(mm) or mm <= 0.0:
        raise OutOfRange(name, mm, "above 0")
    return mm
