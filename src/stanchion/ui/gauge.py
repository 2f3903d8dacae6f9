"""What an adjuster has left, drawn to scale between its ends. Pure: numbers in, text out."""

from __future__ import annotations

import itertools
import math

LEAST = 3
"""Columns below which nothing is drawn."""
UNKNOWN = "·"
MARK = "●"
STEPS = (1, 2, 5, 10, 20, 50, 100)
"""Turns from one number of a ruler to the next."""
MOST_TURNS = 1000
TAIL = 2


def place(value: float, most: float, width: int) -> int:
    """The column of a value on a scale from 0 to its end, to half a column; beyond the ends, the end.

    >>> place(60.0, 120.0, 13), place(-5.0, 120.0, 13), place(500.0, 120.0, 13)
    (6, 0, 12)
    """
    return round((width - 1) * min(1.0, max(0.0, value / most)))


def gauge(out: float | None, to_in: float | None, width: int) -> str:
    """The position of an adjuster between fully out, on the left, and fully in.

    Args:
        out: what is left to fully out, in any unit; None: not known.
        to_in: what is left to fully in, in the same unit.
        width: columns.

    >>> gauge(3.0, 7.0, 11), gauge(10.0, 0.0, 11), gauge(None, None, 11)
    ('├━━●──────┤', '├━━━━━━━━━●', '├·········┤')
    """
    if width < LEAST:
        return " " * width
    if out is None or to_in is None or not (0.0 <= out < math.inf and 0.0 <= to_in < math.inf) or out == to_in == 0.0:
        return f"├{UNKNOWN * (width - 2)}┤"
    at = place(out, out + to_in, width) if out + to_in < math.inf else place(out / 2.0, out / 2.0 + to_in / 2.0, width)
    line = [*"├", *"━" * (width - 2), "┤"]
    line[at + 1 : -1] = "─" * (width - 2 - at)
    line[at] = MARK
    return "".join(line)


def ruler(total: float | None, width: int) -> str:
    """Whole turns from fully out, for the line below a gauge: each number begins at its place, as many as fit.

    Args:
        total: turns from fully out to fully in; None: not known.
        width: columns of the gauge; the line is TAIL longer, for the digits of the last.

    >>> ruler(10.0, 21), ruler(3.5, 8), ruler(None, 2)
    ('0 1 2 3 4 5 6 7 8 9 10 ', '0 1 2 3   ', '    ')
    """
    line = ""
    if total is not None and 0.0 < total < MOST_TURNS and width >= LEAST:
        step = next((step for step in STEPS if _apart(total, step, width)), MOST_TURNS)
        for turns in range(0, int(total) + 1, step):
            line = line.ljust(place(turns, total, width)) + str(turns)
    return line.ljust(width + TAIL)


def _apart(total: float, step: int, width: int) -> bool:
    """Whether numbers so many turns apart leave a column between them."""
    numbers = range(0, int(total) + 1, step)
    return all(place(b, total, width) - place(a, total, width) > len(str(a)) for a, b in itertools.pairwise(numbers))
