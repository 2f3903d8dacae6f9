"""Fork and shock drawn upright and to scale, with marks on them. Pure."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from functools import lru_cache

from textual.content import Content

from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.job.model import STATES, End
from stanchion.job.spec import Kind
from stanchion.planning.on_travel import OnTravel
from stanchion.ui.gauge import place
from stanchion.ui.space import cut
from stanchion.units.known_units import Units, exact_factor
from stanchion.units.quantity import show, unit_name
from stanchion.wording.advice_values import PREDICTED
from stanchion.wording.finding_words import field_label, reason
from stanchion.wording.labels import uncapitalised
from stanchion.wording.verdicts import PREDICTED_BRIEF, SAG_VERDICTS

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
"""The mark of a place beyond the end of the travel."""
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
        lines.append(cut(text, width).ljust(width))
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


HEADS: dict[End, str] = {"front": "FORK, ALONG THE LEG", "rear": "SHOCK, ALONG ITS SHAFT"}
SHORT_HEADS: dict[End, str] = {"front": "FORK", "rear": "SHOCK"}
LETTERS = {"static": "S", "rider": "R"}


@lru_cache(16)
def travel_lines(
    on: OnTravel, end: End, units: Units, width: int, height: int, *, figures_only: bool = False
) -> tuple[Content, ...]:
    """The travel of one end with sags and marker on it; where it cannot be drawn, what it waits for.

    Args:
        on: the marks on the travel.
        end: which end.
        units: display units.
        width: columns there are.
        height: lines there are, one of them for the heading.
        figures_only: figures beside it, without words.
    """
    head = SHORT_HEADS[end] if figures_only else HEADS[end]
    title = Content.styled(cut(f"{head}, {unit_name(Kind.LENGTH, units)}", width), "$primary bold")
    full = on.full_mm.value
    if full is None:
        waits = f"needs {uncapitalised(field_label(on.full_mm.needs[0]))}" if on.full_mm.needs else reason(on.full_mm)
        return title, Content.styled(cut(clean(waits), width), "$text-muted")
    drawn = travel_drawing(
        full,
        tuple(_places(on, full, units, figures_only=figures_only)),
        height - 1,
        width,
        used=on.deepest_mm.value,
        rubber_from=on.rubber_from_mm.value,
        unit=exact_factor(Kind.LENGTH, units),
    )
    return title, *(Content.styled(line, "$figure") for line in drawn)


def _places(on: OnTravel, full: float, units: Units, *, figures_only: bool) -> list[Place]:
    """Every place that is known, in words or as a figure alone."""

    def words_for(name: str, value: float) -> str:
        figure = show(value, Kind.LENGTH, units).split(" ")[0].removesuffix(".0")
        return figure if figures_only else f"{name} {figure}"

    places = [] if figures_only else [Place(0.0, "hanging")]
    for lane, state in enumerate(STATES):
        sag = on.sag(state).value
        if sag is not None:
            words = words_for(f"{LETTERS[state]} {state}", sag)
            if state in on.old:  # the narrow drawing has room for one of the two, and the figure counts no more
                words = SAG_VERDICTS["stale"] if figures_only else f"{words} {SAG_VERDICTS['stale']}"
            elif state in on.predicted:
                words = PREDICTED_BRIEF if figures_only else f"{words} {PREDICTED}"
            places.append(Place(sag, words, LETTERS[state], lane))
    deepest, left, rubber = on.deepest_mm.value, on.left_mm.value, on.rubber_from_mm.value
    if on.run is not None and deepest is not None and left is not None:
        places.append(Place(deepest, words_for(f"M run {on.run + 1}", deepest), "M", len(STATES)))
        if not figures_only:
            places.append(Place((deepest + full) / 2.0, words_for("left", left) if left >= 0.0 else "beyond it"))
    places += [Place(at, words_for("C changes", at), "C", len(STATES)) for at in on.changes_mm]
    hydraulic = on.hydraulic_from_mm.value
    for name, begins in (("rubber", rubber), ("hydraulic", hydraulic)):
        if begins is not None and not figures_only:
            places.append(Place(begins, words_for(name, begins)))
    return [*places, Place(full, words_for("full", full))]


def side_by_side(left: Sequence[Content], right: Sequence[Content], at: int, gap: int = 1) -> list[Content]:
    """Two columns of lines; lines of the first are cut where they would reach the second."""
    pairs = itertools.zip_longest(left, right, fillvalue=Content(""))
    cut_off = ((one.truncate(at - gap, ellipsis=True), other) for one, other in pairs)
    return [one.pad_right(at - one.cell_length) + other for one, other in cut_off]
