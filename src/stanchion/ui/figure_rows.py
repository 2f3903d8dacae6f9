"""Rows of figures below the heads of their columns, and sentences between them, as styled text."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from textual.content import Content

from stanchion.base.text import clean
from stanchion.job.spec import Kind
from stanchion.judgement.results.figures import Figure
from stanchion.ui import present
from stanchion.units.known_units import Units
from stanchion.units.quantity import show_difference

MUTED = "$text-muted"
NAME, CELL = 13, 8
"""Columns of the name of a row, and of each figure."""


def head(name: str, *columns: str) -> Content:
    """The head of some rows: their name, and what stands in each column."""
    cells = "".join(column.rjust(CELL) for column in columns)
    return Content.styled(name.ljust(NAME), "$primary bold") + Content.styled(cells, "$primary")


def row(
    name: str,
    figures: list[Figure],
    kind: Kind,
    units: Units,
    gap: int | None = None,
    *,
    apart: Sequence[tuple[Figure, Figure]] = (),
) -> Content:
    """A row of figures; with `apart` each is the difference of two that are shown.

    The mark of an estimate stands in the margin of the next column, so that the columns stay below their heads.
    """
    line, margin = Content.styled(name.ljust(NAME), MUTED), CELL
    for at, figure in enumerate(figures):
        text = " " * CELL if at == gap else present.number(figure, kind, units, CELL)
        if apart and figure.known:
            one, other = (of.value or 0.0 for of in apart[at])
            text = show_difference(one, other, kind, units).split(" ")[0]
        line += Content.styled(text.strip().rstrip("°").rjust(margin), "$figure bold")
        margin = CELL
        if figure.estimate and figure.known:
            line += Content.styled("~", MUTED)
            margin -= 1
    return line


def wrapped(text: str, width: int, style: str = "") -> list[Content]:
    """A sentence in lines of that width at most."""
    return [Content.styled(line, style) for line in textwrap.wrap(clean(text, 500), max(20, width - 1))]
