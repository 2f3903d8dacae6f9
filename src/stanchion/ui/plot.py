"""Small pictures made of characters: a curve in braille dots, and travel drawn to scale. Pure: numbers in, text out."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence

from textual.content import Content

from stanchion.base.record import record

DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
"""Braille dot of a cell by row and column."""
BLANK = 0x2800
EMPTY = f" {chr(BLANK)}"
"""Cells of a drawing without a dot."""


@record
class PlotMark:
    """A place on the travel, with its letter."""

    letter: str
    at: float


def curve(
    points: Sequence[tuple[float, float]],
    width: int,
    height: int,
    *,
    plain: bool = False,
    beside: Sequence[tuple[float, float]] = (),
) -> list[str]:
    """A curve in so many columns and lines, from (0, 0) at the lower left to the largest values.

    Args:
        points: (across, up) in rising order across.
        width: columns, > 1.
        height: lines, > 0.
        plain: in ASCII, for a terminal that has no braille.
        beside: another curve, for which there is room on the same scale.

    >>> curve([(0, 0), (1, 1)], 2, 1), curve([(0, 0), (1, 1)], 2, 2, plain=True)
    (['⣠⠞'], [' *', '* '])
    """
    most_x = max((x for x, _ in (*points, *beside)), default=0.0)
    most_y = max((y for _, y in (*points, *beside)), default=0.0)
    if not points or most_x <= 0.0 or most_y <= 0.0:
        return [" " * width for _ in range(height)]
    across, up = (width, height) if plain else (width * 2, height * 4)
    dots: set[tuple[int, int]] = set()
    last: int | None = None
    for column in range(across):
        x = most_x * column / (across - 1)
        if x > points[-1][0] + 1e-9:
            break
        y = _at(points, x)
        row = round((up - 1) * max(0.0, y) / most_y)
        # join steep pieces, so that the line has no holes; in ASCII a star a column is the clearer line
        first = row if plain or last is None else min(row, last)
        dots |= {(column, dot) for dot in range(first, row + 1)}
        last = row
    return _stars(dots, width, height) if plain else _braille(dots, width, height)


def dotted(dots: Iterable[tuple[int, int]], width: int, height: int, *, plain: bool = False) -> list[str]:
    """A drawing of dots, counted across and up from the lower left: two columns and four rows a character.

    Args:
        dots: the dots; those beyond the edges are left out.
        width: columns.
        height: lines.
        plain: in ASCII, one dot a character, for a terminal that has no braille.

    >>> dotted({(0, 0), (3, 3), (9, 9)}, 2, 1), dotted({(0, 0), (1, 0)}, 2, 1, plain=True)
    (['⡀⠈'], ['**'])
    """
    across, up = (width, height) if plain else (width * 2, height * 4)
    inside = {(x, y) for x, y in dots if 0 <= x < across and 0 <= y < up}
    return _stars(inside, width, height) if plain else _braille(inside, width, height)


def _braille(dots: Iterable[tuple[int, int]], width: int, height: int) -> list[str]:
    """Lines of braille with these dots, counted across and up: two columns and four rows a character."""
    cells = [[BLANK] * width for _ in range(height)]
    up = 4 * height
    for x, y in dots:
        cells[(up - 1 - y) // 4][x // 2] |= DOTS[(up - 1 - y) % 4][x % 2]
    return ["".join(map(chr, row)) for row in cells]


def _stars(dots: Iterable[tuple[int, int]], width: int, height: int) -> list[str]:
    """Lines of blanks with a star for each dot."""
    cells = [[" "] * width for _ in range(height)]
    for x, y in dots:
        cells[height - 1 - y][x] = "*"
    return ["".join(row) for row in cells]


def _at(points: Sequence[tuple[float, float]], x: float) -> float:
    for (x0, y0), (x1, y1) in itertools.pairwise(points):
        if x <= x1:
            return y0 if x1 <= x0 else y0 + (y1 - y0) * max(0.0, x - x0) / (x1 - x0)
    return points[-1][1]


def scale(marks: Sequence[PlotMark], most: float, width: int) -> str:
    """Travel drawn to scale from 0 to its end, with letters at the marks; a later mark moves aside.

    Args:
        marks: the places.
        most: the full travel, > 0.
        width: columns, > 2.

    >>> scale([PlotMark("S", 20.0), PlotMark("R", 60.0)], 120.0, 13)
    '├─S───R─────┤'
    """
    line = ["─"] * width
    line[0], line[-1] = "├", "┤"
    for mark in marks:
        at = min(width - 1, max(0, round((width - 1) * mark.at / most)))
        free = [i for i in (at, at + 1, at - 1, at + 2) if 0 <= i < width and line[i] in "─├┤"]
        if free:
            line[free[0]] = mark.letter
    return "".join(line)


def series(
    points: Sequence[tuple[int, float]],
    places: int,
    width: int,
    height: int,
    band: tuple[float, float] | None = None,
    *,
    plain: bool = False,
) -> list[str]:
    """Values over time from the lowest to the highest, joined by a line, with the edges of their target dotted in.

    Args:
        points: (place, value) in rising order of place.
        places: how many places there are in all, so that the plots of one table line up.
        width: columns, > 0.
        height: lines, > 0.
        band: target to draw in; None: none.
        plain: in ASCII, for a terminal that has no braille.

    >>> series([(0, 1.0), (1, 2.0)], 2, 4, 2, plain=True)
    ['   *', '*   ']
    """
    if not points:
        return [" " * width for _ in range(height)]
    across, up = (width, height) if plain else (width * 2, height * 4)
    values = [value for _, value in points] + list(band or ())
    low, high = min(values), max(values)
    grid: dict[tuple[int, int], str] = {}

    def column(place: int) -> int:
        return round((across - 1) * place / (places - 1)) if places > 1 else 0

    def line(value: float) -> int:
        return round((up - 1) * (value - low) / (high - low)) if high > low else (up - 1) // 2

    apart = 1 if plain else 6 if height < 3 else 3  # the fewer dots, the less the edges drown the line
    for edge in band or ():
        grid |= {(x, line(edge)): "-" for x in range(0, across, apart)}
    spots = [(column(place), line(value)) for place, value in points]
    if not plain:
        for (x0, y0), (x1, y1) in itertools.pairwise(spots):
            steps = max(abs(x1 - x0), abs(y1 - y0), 1)
            joined = ((x0 + round((x1 - x0) * i / steps), y0 + round((y1 - y0) * i / steps)) for i in range(steps))
            grid |= dict.fromkeys(joined, "*")
    grid |= dict.fromkeys(spots, "*")
    if plain:
        return ["".join(grid.get((x, up - 1 - y), " ") for x in range(across)) for y in range(up)]
    return _braille(grid, width, height)


def over(line: str, grey: str) -> Content:
    """A line of a drawing, with another one in grey where it is empty."""
    content = Content("")
    for drawn, cells in itertools.groupby(
        zip(line, grey.ljust(len(line)), strict=True), key=lambda pair: pair[0] not in EMPTY
    ):
        letters = "".join(one if drawn else other for one, other in cells)
        content += Content.styled(letters, "$figure" if drawn else "$text-muted")
    return content
