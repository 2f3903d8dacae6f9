"""The machine from the side in characters, to scale: one state of it, and dotted another one beside it. Pure."""

from __future__ import annotations

import itertools
import math
import textwrap
from collections.abc import Iterator, Sequence

from textual.content import Content

from stanchion.judgement.results.side import Point, SidePart, Standing, extent
from stanchion.report.sheet_shape import Measure, SidePose, SideView, Travel
from stanchion.report.side_view import ROWS
from stanchion.ui.plot import EMPTY, PlotMark, dotted, over, scale
from stanchion.ui.present import ESTIMATED
from stanchion.ui.space import cut
from stanchion.wording.advice_values import PREDICTED
from stanchion.wording.american import worded
from stanchion.wording.side_sentences import STANDING_HEADS

HEAD, DRAWN, MUTED = "$primary bold", "$figure", "$text-muted"
LEAST_WIDTH, LEAST_DRAWN = 44, 9
"""Columns, and lines of the drawing itself, for which the wheels are still round."""
BRIEF_WIDTH, BRIEF_DRAWN = 33, 6
"""The same beside the form of a window of eighty columns, for one state alone and in braille."""
AROUND = 3
"""Lines of words around the drawing: the state, the loads, the wheelbase."""
MOST_DRAWN = 13
NAME = 5
"""Columns for the name of a travel."""
ROW_NAME, BRIEF_NAME, CELL, MOST_CELL = 21, 13, 8, 11
"""Columns of the table of states: of a whole name, of one in two lines, and of a number."""
LETTERS = {"static": "S", "rider": "R", "deepest": "M"}
CENTRE = "G"
"""Letter at the centre of mass."""
APART = 3
"""Of how many dots the state beside has one."""

Dots = set[tuple[int, int]]


def side_lines(
    view: SideView, width: int, height: int, *, plain: bool = False, state: Standing | None = None, whole: bool = False
) -> list[Content]:
    """The machine in one state; no lines where there is too little room.

    The front wheel is on the right, and both states touch the ground with the rear wheel at the same place. What is
    not known of the machine is not drawn. Where the axles stand is shown along their travels below.

    Args:
        view: what is known of it.
        width: columns.
        height: lines there are.
        plain: in ASCII, for a terminal that has no braille.
        state: the state to draw; None: as it stands.
        whole: whether another state is dotted in, and the numbers of all stand below, where there is room.
    """
    pose = view.standing if state is None else view.pose(state)
    other = view.beside(pose) if whole else None
    legend = [*_legend(pose, other, width)] if whole else []
    numbers = states_lines(view, state, width) if whole else []
    travels = [*_travels(view, width)]
    tried = ([*travels, *legend, *numbers], [*legend, *numbers], [*travels, *legend])  # the numbers tell of travel too
    below = next(
        (lines for lines in (tried if whole else (travels,)) if LEAST_DRAWN + AROUND + len(lines) <= height), None
    )
    if width < LEAST_WIDTH or below is None:
        return numbers if len(numbers) <= height else []
    rows = min(MOST_DRAWN, height - AROUND - len(below))
    drawing = _Drawing(pose, other, width, rows, plain=plain, lettered=whole)
    return [
        Content.styled(cut(_title(pose, whole=whole), width), HEAD),
        *_drawn(pose, drawing, width),
        *below,
    ]


def state_block(
    view: SideView | None, state: Standing, width: int, height: int, *, plain: bool = False
) -> list[Content]:
    """The machine in one state, where its numbers stand beside; dotted in, where there is room, how it stands with its
    rider. No lines where that state is not known, or where there is too little room for a drawing that can be read.

    Args:
        view: what is known of it; None: nothing.
        state: the state.
        width: columns.
        height: lines there are.
        plain: in ASCII.
    """
    pose = None if view is None else view.pose(state)
    if view is None or pose is None or pose.state != state:
        return []
    wide = width >= LEAST_WIDTH
    other = view.beside(pose) if wide else None
    legend = [*_legend(pose, other, width)]
    rows = min(MOST_DRAWN, height - AROUND - len(legend))
    if (plain and not wide) or width < BRIEF_WIDTH or rows < (LEAST_DRAWN if wide else BRIEF_DRAWN):
        return []
    drawing = _Drawing(pose, other, width, rows, plain=plain, lettered=True)
    return [Content.styled("FROM THE SIDE", HEAD), *_drawn(pose, drawing, width), *legend]


def _drawn(pose: SidePose, drawing: _Drawing, width: int) -> Iterator[Content]:
    """The drawing, with the loads below the wheels and the wheelbase between them."""
    yield from drawing.lines(f"rake {pose.rake.text}, trail {pose.trail.text}")
    yield Content.styled(_under_wheels(pose, drawing, width), DRAWN)
    words = f" wheelbase {pose.wheelbase.text} "
    yield Content.styled(_between(words, drawing.rear_column, drawing.front_column), MUTED)


def states_lines(view: SideView, state: Standing | None, width: int) -> list[Content]:
    """The numbers of every state beside one another; where they do not fit, of one and the state it is compared with.

    Args:
        view: what is known of the machine.
        state: the state; None: as it stands.
        width: columns.
    """
    poses = view.poses
    if width < BRIEF_NAME + len(poses) * CELL:
        pose = view.standing if state is None else view.pose(state)
        poses = tuple(one for one in poses if one in (pose, view.beside(pose)))
    beside = ROW_NAME if width >= ROW_NAME + len(poses) * CELL else BRIEF_NAME
    cell = min(MOST_CELL, (width - beside) // len(poses))
    heads = "".join(STANDING_HEADS[pose.state].rjust(cell) for pose in poses)
    lines = [Content.styled(" " * beside + heads, HEAD)]
    for name, field in ROWS:
        measures: list[Measure] = [getattr(pose, field) for pose in poses]
        unit = next((one.unit for one in measures if one.number), None)
        if unit is not None:
            shown = "".join((one.number or "–").rjust(cell) for one in measures)
            *above, last = textwrap.wrap(worded(f"{name}, {unit}"), beside)
            lines += [Content.styled(part, MUTED) for part in above]
            lines.append(Content.styled(last.ljust(beside), MUTED) + Content.styled(shown, DRAWN))
    return lines


def _legend(pose: SidePose, other: SidePose | None, width: int) -> Iterator[Content]:
    """Which state is dotted, and what the letter in the drawing is."""
    words = ["to scale", *([] if other is None else [f"dotted: {other.name}"])]
    words += [worded(f"{CENTRE} centre of mass")] if _centre(pose) is not None else []
    words += [f"{ESTIMATED} estimate"] if ESTIMATED in f"{pose.rake.text}{pose.rear_load.text}" else []
    yield from (Content.styled(line, MUTED) for line in textwrap.wrap("; ".join(words), width))


def _title(pose: SidePose, *, whole: bool) -> str:
    """The state as a heading; what else there is about it stands below where there is the whole drawing."""
    first, comma, others = pose.name.partition(",")
    return f"{first.upper()}{comma}{others}" if whole else f"FROM THE SIDE, {pose.name}, to scale"


def _centre(pose: SidePose) -> Point | None:
    return next((part.points[0] for part in pose.parts if part.name == "mass"), None)


def _under_wheels(pose: SidePose, drawing: _Drawing, width: int) -> str:
    """What the scales read, each below its wheel."""
    line = " " * width
    for load, column in ((pose.rear_load.text, drawing.rear_column), (pose.front_load.text, drawing.front_column)):
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
    """The parts of one state, or of two, as dots.

    Args:
        pose: the state.
        other: another one, dotted; None: none.
        width: columns.
        rows: lines.
        plain: in ASCII: a dot is a character, twice as high as wide.
        lettered: whether a letter stands at the centre of mass.
    """

    def __init__(
        self, pose: SidePose, other: SidePose | None, width: int, rows: int, *, plain: bool, lettered: bool
    ) -> None:
        self._pose, self._other, self._width, self._plain = pose, other, width, plain
        self._centre = _centre(pose) if lettered else None
        self._across, self._tall = (1, 2) if plain else (2, 1)
        """Dots in a column; how many times a dot is as high as wide."""
        parts = (*pose.parts, *(other.parts if other is not None else ()))
        left, right, _, top = extent(parts)
        up = rows if plain else rows * 4
        self._mm = max((right - left) / (width * self._across - 2), top / ((up - 1) * self._tall))
        """Length of a dot [mm]."""
        dots_up = math.ceil(top / self._mm / self._tall) + 1
        self._rows = min(rows, dots_up if plain else math.ceil(dots_up / 4))
        self._left = left - (width * self._across * self._mm - (right - left)) / 2.0
        self.rear_column, self.front_column = (self._wheel_column(name) for name in ("rear_wheel", "front_wheel"))
        """Columns where the tyres meet the ground."""

    def lines(self, words: str) -> list[Content]:
        """The drawing, a line each, with words at its upper left where that is empty."""
        drawn = self._lettered(dotted(self._dots(self._pose.parts, 1), self._width, self._rows, plain=self._plain))
        beside = [""] * self._rows
        if self._other is not None:
            dots = self._dots(self._other.parts, APART)
            beside = dotted(dots, self._width, self._rows, plain=self._plain)
        if self._plain:
            beside = [line.replace("*", ".") for line in beside]
        lines = [over(one, other) for one, other in zip(drawn, beside, strict=True)]
        room = len(words) + 2
        if not (drawn[0][:room] + beside[0][:room]).strip(EMPTY):
            lines[0] = Content.styled(f" {words} ", DRAWN) + over(drawn[0][room:], beside[0][room:])
        return lines

    def _lettered(self, lines: list[str]) -> list[str]:
        """The lines with a letter at the centre of mass."""
        if self._centre is None:
            return lines
        across, up = self._dot(*self._centre)
        column, row = across // self._across, self._rows - 1 - (up if self._plain else up // 4)
        if 0 <= row < len(lines) and 0 <= column < self._width:
            lines[row] = lines[row][:column] + CENTRE + lines[row][column + 1 :]
        return lines

    def _dots(self, parts: Sequence[SidePart], every: int) -> Dots:
        """The dots of the parts, or of each part every so many."""
        dots: Dots = set()
        for part in parts:
            if part.name == "mass":
                continue
            if part.name == "ground":
                if every == 1:
                    dots |= {(x, 0) for x in range(self._width * self._across)}
                continue
            line = self._round(part.points[0], part.radius_mm) if part.radius_mm else self._straight(part.points)
            dots |= set(line[::every])
        return dots

    def _wheel_column(self, name: str) -> int:
        x = next(part.points[0][0] for part in self._pose.parts if part.name == name)
        return min(self._width - 1, max(0, round((x - self._left) / self._mm / self._across - 0.5)))

    def _dot(self, x_mm: float, z_mm: float) -> tuple[int, int]:
        return round((x_mm - self._left) / self._mm), round(z_mm / self._mm / self._tall)

    def _straight(self, points: Sequence[Point]) -> list[tuple[int, int]]:
        found: dict[tuple[int, int], None] = {}
        for (x0, z0), (x1, z1) in itertools.pairwise(points):
            steps = max(1, math.ceil(max(abs(x1 - x0), abs(z1 - z0)) / self._mm))
            along = (at / steps for at in range(steps + 1))
            found |= dict.fromkeys(self._dot(x0 + (x1 - x0) * by, z0 + (z1 - z0) * by) for by in along)
        return list(found)

    def _round(self, centre: Point, radius: float) -> list[tuple[int, int]]:
        steps = max(12, math.ceil(2.0 * math.pi * radius / self._mm))
        angles = (2.0 * math.pi * at / steps for at in range(steps))
        return list(
            dict.fromkeys(
                self._dot(centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle))
                for angle in angles
            )
        )
