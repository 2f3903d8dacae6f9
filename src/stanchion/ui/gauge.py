"""The gauges of preload adjusters: positions drawn to scale between the ends. Pure."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from textual.content import Content

from stanchion.judgement.results.assessment import PreloadFigures

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


MUTED, DRAWN = "$text-muted", "$figure bold"
OUT, IN = "out ", " in"
SIDE = 6
"""Columns for the name of a leg."""


def gauge_lines(heads: Sequence[str], columns: Sequence[PreloadFigures], width: int, *, tall: bool) -> list[Content]:
    """The positions of the adjusters of one or two springs between fully out and fully in.

    The number of lines depends on springs and room only, never on what is known. A spring without an adjuster has an
    empty line.

    Args:
        heads: names of the springs.
        columns: their figures.
        width: columns there are.
        tall: a line for each spring with its turns below; otherwise one line for all.
    """
    if len(columns) == 1:
        return _long("", columns[0], width, tall=tall)
    if tall:
        return [
            line
            for head, one in zip(heads, columns, strict=True)
            for line in _long(head.ljust(SIDE), one, width, tall=True)
        ]
    each = (width - 1) // len(columns) - 2
    parts = [
        Content.styled(f"{head[:1].upper()} ", MUTED) + Content.styled(_bar(one, each) + " ", DRAWN)
        for head, one in zip(heads, columns, strict=True)
    ]
    return [Content("").join(parts)]


def _long(head: str, one: PreloadFigures, width: int, *, tall: bool) -> list[Content]:
    """A gauge with its ends named, and with whole turns below it where there is room."""
    across = width - len(head) - len(OUT) - len(IN)
    if across < LEAST or not _fitted(one):
        return [Content("")] * (2 if tall else 1)
    line = Content.styled(head + OUT, MUTED) + Content.styled(_bar(one, across), DRAWN) + Content.styled(IN, MUTED)
    if not tall:
        return [line]
    out, to_in = one.headroom_out_turns.value, one.headroom_in_turns.value
    total = out + to_in if out is not None and to_in is not None else None
    return [line, Content.styled(" " * (len(head) + len(OUT)) + ruler(total, across), MUTED)]


def _bar(one: PreloadFigures, width: int) -> str:
    if not _fitted(one):
        return " " * max(0, width)
    out, to_in = one.headroom_out_mm.value, one.headroom_in_mm.value
    if out is None or to_in is None:
        out, to_in = one.headroom_out_turns.value, one.headroom_in_turns.value
    return gauge(out, to_in, width)


def _fitted(one: PreloadFigures) -> bool:
    """Whether there is an adjuster at all."""
    return one.has_spring and one.mm_per_turn.problem != "no_adjuster"
