"""Fork and shock drawn to scale, as lines of styled text."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from functools import lru_cache

from textual.content import Content

from stanchion.base.text import clean
from stanchion.job.model import STATES, End
from stanchion.job.spec import Kind
from stanchion.planning.on_travel import OnTravel
from stanchion.ui.present import cut
from stanchion.ui.travel_drawing import Place, travel_drawing
from stanchion.units.known_units import Units, exact_factor
from stanchion.units.quantity import show, unit_name
from stanchion.wording.finding_words import field_label, reason
from stanchion.wording.labels import uncapitalised

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
            places.append(Place(sag, words_for(f"{LETTERS[state]} {state}", sag), LETTERS[state], lane))
    deepest, left, rubber = on.deepest_mm.value, on.left_mm.value, on.rubber_from_mm.value
    if on.run is not None and deepest is not None and left is not None:
        places.append(Place(deepest, words_for(f"M run {on.run + 1}", deepest), "M", len(STATES)))
        if not figures_only:
            places.append(Place((deepest + full) / 2.0, words_for("left", left) if left >= 0.0 else "beyond it"))
    if rubber is not None and not figures_only:
        places.append(Place(rubber, words_for("rubber", rubber)))
    return [*places, Place(full, words_for("full", full))]


def side_by_side(left: Sequence[Content], right: Sequence[Content], at: int, gap: int = 1) -> list[Content]:
    """Two columns of lines; lines of the first are cut where they would reach the second."""
    pairs = itertools.zip_longest(left, right, fillvalue=Content(""))
    cut_off = ((one.truncate(at - gap, ellipsis=True), other) for one, other in pairs)
    return [one.pad_right(at - one.cell_length) + other for one, other in cut_off]
