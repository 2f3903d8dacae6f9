"""A fork leg or a shock's shaft drawn upright and to scale, with marks on it. Pure: numbers in, text out."""

from __future__ import annotations

import math

from stanchion.base.record import record
from stanchion.ui.gauge import place

NUMBER = 4
"""Columns for the numbers of the scale."""
TUBE = 5
BESIDE = NUMBER + 1 + TUBE + 1
"""Columns before the words."""
LEAST_HEIGHT, LEAST_WIDTH = 6, BESIDE
APART = 3
"""Lines between two numbers of the scale at least."""
USED, RUBBER = "░", "▒"
BEYOND = "!"
"""Mark of what lies beyond the end of the travel."""
SHORTEST, LONGEST = 0.01, 10_000.0
"""Travel that can be numbered, in the unit shown."""
_STEPS = (1, 2, 5)


@record
class Place:
    """A mark at a place on the travel."""

    at: float
    """From the hanging wheel [mm]."""
    words: str
    letter: str = ""
    """Letter drawn in the tube at that place; empty: words only."""
    lane: int = 0
    """Which of the tube's three columns the letter has, so that two in one line are both seen."""


def travel_drawing(
    full: float,
    places: tuple[Place, ...],
    height: int,
    width: int,
    *,
    used: float | None = None,
    rubber_from: float | None = None,
    unit: float = 1.0,
) -> tuple[str, ...]:
    r"""The travel from the hanging wheel, in the first line, to its end, in the last: as many mm a line everywhere.

    A letter is in the line of its place, to half a line. Its words are there too, or where they would meet others as
    near to it as they can. Too little room, or a travel that cannot be, gives no lines.

    Args:
        full: the travel [mm].
        places: the marks.
        height: lines.
        width: columns; words are cut to it.
        used: down to where the travel was used [mm]; None: not known.
        rubber_from: from where on the bump rubber is met [mm]; None: there is none.
        unit: length of the unit that the scale is numbered in [mm].

    >>> drawn = travel_drawing(120.0, (Place(34.5, "rider", "R", 1),), 7, 20, used=60.0)
    >>> print(*(line.rstrip() for line in drawn), sep="\n")
       0 ┌░░░┐
         │░░░│
         │░R░│ rider
         │░░░│
         │   │
     100 ┤   │
         └───┘
    """
    if height < LEAST_HEIGHT or width < LEAST_WIDTH or not SHORTEST < full / unit < LONGEST:
        return ()
    inner = [[" "] * 3 for _ in range(height)]
    inner[0], inner[-1] = ["─"] * 3, ["─"] * 3
    if used is not None and used > 0.0:
        for line in range(place(used, full, height) + 1):
            inner[line] = [USED] * 3
    if rubber_from is not None:
        for line in range(place(rubber_from, full, height), height):
            inner[line] = [RUBBER] * 3
    for one in places:
        if one.letter:
            inner[place(one.at, full, height)][one.lane] = one.letter if 0.0 <= one.at <= full else BEYOND
    numbers = _numbers(full / unit, height)
    words = _words(places, full, height)
    lines = []
    for at in range(height):
        left, right = (
            ("┌", "┐") if at == 0 else ("└", "┘") if at == height - 1 else ("┤" if at in numbers else "│", "│")
        )
        text = f"{numbers.get(at, ''):>{NUMBER}} {left}{''.join(inner[at])}{right} {words.get(at, '')}"
        lines.append(text[:width].ljust(width))
    return tuple(lines)


def _numbers(full: float, height: int) -> dict[int, str]:
    """Round numbers by their line, as many as fit."""
    step = next(
        step
        for power in range(math.floor(math.log10(full)) - 3, math.floor(math.log10(full)) + 2)
        for step in (first * 10.0**power for first in _STEPS)
        if step / full * (height - 1) >= APART
    )
    values = [step * count for count in range(int(full / step + 1e-9) + 1)]
    return {place(value, full, height): f"{value:.4g}"[:NUMBER] for value in values}


def _words(places: tuple[Place, ...], full: float, height: int) -> dict[int, str]:
    """The words by line: each at its place, or moved aside from another; those without room are left out."""
    named = sorted((one for one in places if one.words), key=lambda one: one.at)[:height]
    lines: list[int] = []
    for one in named:
        lines.append(max(place(one.at, full, height), lines[-1] + 1 if lines else 0))
    below = height
    for at in reversed(range(len(lines))):
        lines[at] = below = min(lines[at], below - 1)
    return {line: one.words for line, one in zip(lines, named, strict=True)}
