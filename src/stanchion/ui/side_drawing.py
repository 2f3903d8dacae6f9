"""The machine from the side in characters, to scale: wheels, steering axis, and what is known of both travels. Pure."""

from __future__ import annotations

import math
from collections.abc import Iterator

from textual.content import Content

from stanchion.report.sheet_shape import SideView, Travel
from stanchion.ui.plot import PlotMark, dotted, scale
from stanchion.ui.space import cut
from stanchion.wording.advice_values import PREDICTED

HEAD, DRAWN, MUTED = "$primary bold", "$figure", "$text-muted"
LEAST_WIDTH, LEAST_DRAWN = 44, 9
"""Columns, and lines of the drawing itself, for which the wheels are still round."""
BELOW = 6
"""Lines of words around the drawing."""
MOST_DRAWN = 13
NAME = 5
"""Columns for the name of a travel."""
LETTERS = {"static": "S", "rider": "R", "deepest": "M"}

Dots = set[tuple[int, int]]


def side_lines(view: SideView, width: int, height: int, *, plain: bool = False) -> list[Content]:
    """The machine as it stands; no lines where there is too little room.

    The front wheel is on the right. Frame and swingarm are not known, so they are not drawn. Where the axles stand is
    shown along their travels below.

    Args:
        view: what is known of it.
        width: columns.
        height: lines there are.
        plain: in ASCII, for a terminal that has no braille.
    """
    rows = min(MOST_DRAWN, height - BELOW)
    if width < LEAST_WIDTH or rows < LEAST_DRAWN:
        return []
    drawing = _Drawing(view, width, rows, plain=plain)
    head = cut(f"FROM THE SIDE, {view.state}, to scale", width)
    said = cut(f"rake {view.rake}, trail {view.trail.text}", max(0, drawing.axis_column - 2))
    lines = drawing.lines()
    if not lines[0][: len(said) + 2].strip(" \u2800"):
        lines[0] = f" {said}{lines[0][len(said) + 1 :]}"
    return [
        Content.styled(head, HEAD),
        *(Content.styled(line, DRAWN) for line in lines),
        Content.styled(_under_wheels(view, drawing, width), DRAWN),
        Content.styled(
            _between(f" wheelbase {view.wheelbase.text} ", drawing.rear_column, drawing.front_column), MUTED
        ),
        *_travels(view, width),
    ]


def _under_wheels(view: SideView, drawing: _Drawing, width: int) -> str:
    """What the scales read, each below its wheel."""
    line = " " * width
    for load, column in ((view.rear_load, drawing.rear_column), (view.front_load, drawing.front_column)):
        begins = min(max(0, column - len(load) // 2), width - len(load))
        line = line[:begins] + load + line[begins + len(load) :]
    return line.rstrip()


def _between(words: str, first: int, last: int) -> str:
    """A measure between two columns, its words in the middle."""
    inside = last - first - 1
    return " " * first + "├" + words.center(inside, "─")[:inside] + "┤"


def _travels(view: SideView, width: int) -> Iterator[Content]:
    """Both travels from the hanging wheel to their ends, with the sags and the deepest place on them."""
    known = [(name, travel) for name, travel in (("Fork", view.fork), ("Rear", view.rear)) if travel is not None]
    for name, travel in known:
        room = max(12, width - NAME - len(travel.full.text) - 1)
        marks = [PlotMark(LETTERS[mark.name], mark.mm) for mark in travel.marks if mark.name in LETTERS]
        bar = scale(marks, travel.full.mm, room)
        yield Content.styled(name.ljust(NAME), MUTED) + Content(f"{bar} {travel.full.text}")
    if known:
        letters = [word for word in LETTERS if any(word in _names(travel) for _, travel in known)]
        words = ", ".join(f"{LETTERS[word]} {'alone' if word == 'static' else word}" for word in letters)
        drawn = [mark for _, travel in known for mark in travel.marks]
        words += "; a sag is old" if any(mark.old for mark in drawn) else ""
        words += f"; a sag is {PREDICTED}" if any(mark.predicted for mark in drawn) else ""
        yield Content.styled(cut(words, width), MUTED)


def _names(travel: Travel) -> list[str]:
    return [mark.name for mark in travel.marks]


class _Drawing:
    """Wheels, ground, steering axis and leg as dots.

    Args:
        view: what is known of the machine.
        width: columns.
        rows: lines.
        plain: in ASCII: a dot is a character, twice as high as wide.
    """

    def __init__(self, view: SideView, width: int, rows: int, *, plain: bool) -> None:
        self._view, self._width, self._plain = view, width, plain
        self._across, self._tall = (1, 2) if plain else (2, 1)
        """Dots in a column; how many times a dot is as high as wide."""
        rake = math.radians(view.rake_deg)
        high_mm = max(2.5 * view.front_radius_mm, 2.0 * view.rear_radius_mm)
        ahead_mm = max(view.front_radius_mm, view.trail.mm)
        long_mm = view.rear_radius_mm + view.wheelbase.mm + ahead_mm
        up = rows if plain else rows * 4
        self._mm = max(long_mm / (width * self._across - 2), high_mm / ((up - 1) * self._tall))
        """Length of a dot [mm]."""
        dots_up = math.ceil(high_mm / self._mm / self._tall) + 1
        self._rows = min(rows, dots_up if plain else math.ceil(dots_up / 4))
        spare = (width * self._across * self._mm - long_mm) / 2.0
        self._rear_mm = spare + view.rear_radius_mm
        self._front_mm = self._rear_mm + view.wheelbase.mm
        self._high_mm, self._rake = high_mm, rake
        foot_mm = self._front_mm + view.trail.mm
        self._axis = (foot_mm, foot_mm - high_mm * math.tan(rake))
        self.axis_column = self._column(self._axis[1])
        """Column in which the steering axis ends at the top."""

    @property
    def rear_column(self) -> int:
        """Column where the rear tyre meets the ground."""
        return self._column(self._rear_mm)

    @property
    def front_column(self) -> int:
        """Column where the front tyre meets the ground."""
        return self._column(self._front_mm)

    def lines(self) -> list[str]:
        """The drawing, a line each."""
        view = self._view
        dots = self._straight(0.0, 0.0, self._width * self._across * self._mm, 0.0)
        for x, radius in ((self._rear_mm, view.rear_radius_mm), (self._front_mm, view.front_radius_mm)):
            dots |= self._round(x, radius)
        dots |= self._straight(self._axis[0], 0.0, self._axis[1], self._high_mm)
        up_mm = self._high_mm - view.front_radius_mm
        leg_top = self._front_mm - up_mm * math.tan(self._rake)
        dots |= self._straight(self._front_mm, view.front_radius_mm, leg_top, self._high_mm)
        return dotted(dots, self._width, self._rows, plain=self._plain)

    def _column(self, mm: float) -> int:
        return min(self._width - 1, max(0, round(mm / self._mm / self._across - 0.5)))

    def _dot(self, x_mm: float, y_mm: float) -> tuple[int, int]:
        return round(x_mm / self._mm), round(y_mm / self._mm / self._tall)

    def _straight(self, x0: float, y0: float, x1: float, y1: float) -> Dots:
        steps = max(1, math.ceil(max(abs(x1 - x0), abs(y1 - y0)) / self._mm))
        return {self._dot(x0 + (x1 - x0) * at / steps, y0 + (y1 - y0) * at / steps) for at in range(steps + 1)}

    def _round(self, x: float, radius: float) -> Dots:
        steps = max(12, math.ceil(2.0 * math.pi * radius / self._mm))
        angles = (2.0 * math.pi * at / steps for at in range(steps))
        return {self._dot(x + radius * math.cos(angle), radius + radius * math.sin(angle)) for angle in angles}
