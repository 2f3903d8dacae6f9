"""Frequency and damping of both ends as lines of styled text, beside those of earlier settings. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from textual.content import Content

from stanchion.base.text import clean
from stanchion.job.model import ENDS, End
from stanchion.job.spec import Kind
from stanchion.judgement.results.damping import DampingFigures
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.findings import Finding
from stanchion.planning.damping_compared import EarlierDamping
from stanchion.ui.figure_rows import MUTED, wrapped
from stanchion.units.known_units import Units
from stanchion.units.quantity import show, unit_name
from stanchion.wording.damping_sentences import (
    DAMPING_ROWS,
    NONE,
    damping_notes,
    earlier_name,
    number_words,
    ratio_lines,
    wanted_words,
)
from stanchion.wording.finding_words import reason, sentence

NAME, CELL = 24, 11


def damping_lines(
    figures: DampingFigures,
    earlier: Sequence[EarlierDamping],
    units: Units,
    width: int,
    *,
    left: Iterable[Finding] = (),
) -> Iterator[Content]:
    """The table of both ends, what their dampers want beside earlier settings, and what the figures rest on.

    Args:
        figures: the job's figures.
        earlier: what they are compared with.
        units: display units.
        width: columns there are.
        left: findings on rebound left as it was.
    """
    columns = "".join(name.rjust(CELL) for name in ("now", *map(earlier_name, earlier)))
    every = (figures, *(one.figures for one in earlier))
    for end in ENDS:
        head = Content.styled(f"{end.upper()}, AT RIDER SAG".ljust(NAME), "$primary bold")
        yield head + Content.styled(columns, "$primary")
        for name, field, kind, unit in DAMPING_ROWS:
            label = f"{name}, {unit_name(kind, units) if kind is not None else unit}"
            yield _row(label, [getattr(of.end(end), field) for of in every], kind, units)
    yield _row("Frequency front to rear", [of.front_to_rear for of in every], None, units)
    for name, words in ratio_lines(figures):
        yield from wrapped(f"{name}: {words}", width, "$figure")
    for end in ENDS:
        yield from _why_not(figures, end, width)
    for finding in left:
        yield from wrapped(sentence(finding, units), width, "$warn bold")
    for one in earlier:
        yield from wrapped(wanted_words(one), width, "$figure bold")
    for note in damping_notes(figures):
        yield from wrapped(note, width, MUTED)


def _row(name: str, figures: Sequence[Figure], kind: Kind | None, units: Units) -> Content:
    cells = "".join(f"{_cell(figure, kind, units):>{CELL}}" for figure in figures)
    return Content.styled(name.ljust(NAME), MUTED) + Content.styled(cells, "$figure bold")


def _cell(figure: Figure, kind: Kind | None, units: Units) -> str:
    if figure.value is None:
        return NONE
    text = number_words(figure.value) if kind is None else show(figure.value, kind, units).split(" ")[0]
    return f"~{text}" if figure.estimate else text


def _why_not(figures: DampingFigures, end: End, width: int) -> Iterator[Content]:
    """Why an end has no frequency now."""
    frequency = figures.end(end).frequency_hz
    if not frequency.known:
        yield from wrapped(f"{end.capitalize()}: {clean(reason(frequency))}.", width, MUTED)
