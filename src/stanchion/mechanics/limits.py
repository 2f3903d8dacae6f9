"""Checks of arguments: each function returns the value or raises OutOfRange with the limit it breaks."""

from __future__ import annotations

import math
from collections.abc import Iterable

from stanchion.base.errors import OutOfRange

G_N = 9.80665
"""Standard gravity [m/s²] (exact; NIST SP 811, App. B.8)."""


def finite(name: str, value: float) -> float:
    """Return the value if it is finite.

    Raises:
        OutOfRange: infinite or not a number.

    >>> finite("sag", -3.0)
    -3.0
    """
    if not math.isfinite(value):
        raise OutOfRange(name, value, "an ordinary number")
    return value


def all_finite(name: str, values: Iterable[float]) -> None:
    """Check that each of some values is an ordinary number.

    Raises:
        OutOfRange: one of them is nan or infinite.

    >>> all_finite("force", [1.0, float("nan")])
    Traceback (most recent call last):
    stanchion.base.errors.OutOfRange: force = nan is out of range: it must be an ordinary number
    """
    for value in values:
        finite(name, value)


def positive(name: str, value: float) -> float:
    """Return the value if it is above zero and finite.

    Raises:
        OutOfRange: zero, negative, infinite or not a number.

    >>> positive("rate", 0.0)
    Traceback (most recent call last):
    stanchion.base.errors.OutOfRange: rate = 0 is out of range: it must be above 0
    """
    if not 0.0 < value < math.inf:
        raise OutOfRange(name, value, "above 0")
    return value


def not_negative(name: str, value: float) -> float:
    """Return the value if it is zero or more and finite.

    Raises:
        OutOfRange: negative, infinite or not a number.

    >>> not_negative("travel", 0.0)
    0.0
    """
    if not 0.0 <= value < math.inf:
        raise OutOfRange(name, value, "0 or more")
    return value


def within(name: str, value: float, low: float, high: float) -> float:
    """Return the value if it lies between two limits or on one of them.

    Raises:
        OutOfRange: outside the limits, or not a number.

    >>> within("fraction", 0.25, 0.0, 1.0)
    0.25
    """
    if not low <= value <= high:
        raise OutOfRange(name, value, f"from {low:g} to {high:g}")
    return value
