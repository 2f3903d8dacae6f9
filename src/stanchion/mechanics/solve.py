"""Root finding within a bracket."""

from __future__ import annotations

from collections.abc import Callable

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.limits import finite

VALUE_TOLERANCE = 1e-9
"""How near zero a value must be to count as a crossing, in the unit of the function."""


def bracketed_root(
    function: Callable[[float], float], low: float, high: float, value_tolerance: float = VALUE_TOLERANCE
) -> float:
    """Where a continuous function crosses zero between two points at which its signs differ.

    The first step is linear; then inverse quadratic steps are taken where they are safe and halving otherwise, so the
    search always ends.

    Args:
        function: continuous from low to high.
        low: one end of the bracket.
        high: the other end.
        value_tolerance: how near zero the value must be, >= 0; the search also ends where the bracket cannot shrink.

    Returns:
        The point.

    Raises:
        OutOfRange: the signs at the two ends do not differ, or an end or the value there is no ordinary number.

    Source:
        T. R. Chandrupatla, Advances in Engineering Software 28 (1997) (method; citation from memory).

    >>> round(bracketed_root(lambda x: x * x - 2.0, 0.0, 2.0), 9)
    1.414213562
    """
    a, b = finite("end of the bracket", high), finite("end of the bracket", low)
    f_a, f_b = (finite("value at one end of the bracket", function(end)) for end in (a, b))
    if abs(f_a) <= value_tolerance:
        return a
    if abs(f_b) <= value_tolerance:
        return b
    if (f_a > 0.0) == (f_b > 0.0):
        raise OutOfRange("value at one end of the bracket", f_a, "of the other sign than at the other end")
    step = min(max(f_a / (f_a - f_b), 1e-12), 1.0 - 1e-12)  # linear step: exact where the function is linear
    while True:
        x = a + step * (b - a)
        if x in (a, b):
            return a if abs(f_a) < abs(f_b) else b
        f_x = function(x)
        if abs(f_x) <= value_tolerance:
            return x
        if (f_x > 0.0) == (f_a > 0.0):
            c, f_c = a, f_a
        else:
            c, b, f_c, f_b = b, a, f_b, f_a
        a, f_a = x, f_x
        xi = (a - b) / (c - b)
        phi = (f_a - f_b) / (f_c - f_b)
        step = 0.5
        if phi * phi < xi and (1.0 - phi) ** 2 < 1.0 - xi:
            step = f_a / (f_b - f_a) * f_c / (f_b - f_c) + (c - a) / (b - a) * f_a / (f_c - f_a) * f_b / (f_c - f_b)
            step = min(max(step, 1e-12), 1.0 - 1e-12)


def falling_root(
    function: Callable[[float], float],
    guess: float,
    slope: float,
    low: float,
    high: float,
) -> float | None:
    """Where a function that never rises crosses zero, starting from a guess.

    Args:
        function: continuous and never rising from low to high.
        guess: where to begin; it is clamped to the limits.
        slope: approximate slope there, < 0.
        low: lower limit.
        high: upper limit.

    Returns:
        The point, or None where it does not cross zero within the limits.

    Raises:
        OutOfRange: slope not below 0, or a limit or a value of the function that is no ordinary number: with one the
            search would never end.

    Source:
        A step by the slope, then bracketed_root.

    >>> falling_root(lambda x: 3.0 - x, 1.0, -1.0, 0.0, 10.0)
    3.0
    >>> falling_root(lambda x: 30.0 - x, 1.0, -1.0, 0.0, 10.0) is None
    True
    """
    if not finite("slope", slope) < 0.0:
        raise OutOfRange("slope", slope, "below 0")
    x = min(max(finite("guess", guess), finite("lower limit", low)), finite("upper limit", high))
    f_x = finite("value at the guess", function(x))
    if abs(f_x) <= VALUE_TOLERANCE:
        return x
    other, reach = x, -f_x / slope
    while True:
        if (f_x > 0.0 and other >= high) or (f_x < 0.0 and other <= low):
            return None
        other = min(max(other + reach, low), high)
        f_other = finite("value of the function", function(other))
        if abs(f_other) <= VALUE_TOLERANCE:
            return other
        if (f_other > 0.0) != (f_x > 0.0):
            return bracketed_root(function, x, other)
        x = other  # same sign: the root lies further out
        reach *= 2.0
