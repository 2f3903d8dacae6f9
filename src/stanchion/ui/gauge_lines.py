"""The gauges of preload adjusters as lines of styled text."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content

from stanchion.judgement.results.assessment import PreloadFigures
from stanchion.ui.gauge import LEAST, gauge, ruler

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
