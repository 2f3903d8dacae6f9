"""The most needed figures in a few lines below the sheet, where there is no room beside it. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from textual.content import Content

from stanchion.job.model import ENDS, STATES
from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import Assessment, PreloadFigures
from stanchion.judgement.results.figures import Figure
from stanchion.ui import present
from stanchion.units.known_units import Units
from stanchion.units.quantity import unit_name
from stanchion.wording.verdicts import IN_TARGET_BRIEF

MUTED, HEAD, FIGURE = "$text-muted", "$primary bold", "$figure bold"
WITH_UNITS = 56
"""Columns from which a line of sags has room for their unit."""
NAME = 6
"""Columns for the name of a spring or an end."""


def preload_short(heads: Sequence[str], columns: Sequence[PreloadFigures], units: Units) -> Iterator[Content]:
    """Installed preload and its verdict of one or two springs; then what the adjusters still give."""
    for head, one in zip(heads, columns, strict=True):
        name = Content.styled(f"{head:<{NAME}}" if len(columns) > 1 else "Installed ", MUTED)
        if not one.has_spring:
            yield name + Content.styled("air" if one.by_air else "no spring", MUTED)
            continue
        yield name + _length(one.installed_preload_mm, units) + present.verdict(one.verdict) + _needs(one)
    for head, one in zip(heads, columns, strict=True):
        if one.has_spring and one.headroom_in_turns.known:
            name = Content.styled(f"{head:<{NAME}}" if len(columns) > 1 else "Headroom ", MUTED)
            out, to_in = (
                present.number(figure, Kind.TURNS, units, 0)
                for figure in (one.headroom_out_turns, one.headroom_in_turns)
            )
            now_mm = present.settable(one.preload_now_mm, Kind.LENGTH, units, 0)
            now = Content.styled("now ", MUTED) + Content.styled(f"{now_mm} {unit_name(Kind.LENGTH, units)} ", FIGURE)
            counted = Content.styled(f" {one.turned_in}, ", MUTED)
            yield name + Content.styled(f"out {out} in {to_in}", FIGURE) + counted + now


def sag_short(a: Assessment, units: Units, width: int) -> Iterator[Content]:
    """Both sags of each end with their verdicts, then their targets."""
    unit = f" {unit_name(Kind.LENGTH, units)}" if width >= WITH_UNITS else ""  # the sheet names it
    for end in ENDS:
        line = Content.styled(f"{end.capitalize():<{NAME}}", HEAD)
        for state in STATES:
            of = a.sag.end(end).state(state)
            word = present.verdict(of.verdict_now, IN_TARGET_BRIEF)
            sag = Content.styled(f"{present.number(of.shown_mm, Kind.LENGTH, units, 0)}{unit} ", FIGURE)
            line += Content.styled(f"{state} ", MUTED) + sag + word + Content("  ")
        yield line.rstrip()
    for end in ENDS:
        figures = a.sag.end(end)
        bands = ", ".join(
            f"{state} {present.band(target, units)}"
            for state in STATES
            if (target := figures.state(state).target) is not None
        )
        if bands:
            yield Content.styled(f"Target {end}: {bands} {unit_name(Kind.LENGTH, units)}", MUTED)


def whole_short(a: Assessment, units: Units, width: int, *, split: bool) -> Iterator[Content]:
    """The whole job in short: preload and sags of both ends."""
    heads = ("Left", "Right", "Shock") if split else ("Fork", "Shock")
    columns = (a.front.left, a.front.right, a.rear.spring) if split else (a.front.left, a.rear.spring)
    parts = []
    for head, one in zip(heads, columns, strict=True):
        word = present.verdict(one.verdict)
        parts.append(Content.styled(f"{head} ", MUTED) + _length(one.installed_preload_mm, units) + word)
    name = Content.styled("Preload ", MUTED)
    line = name + Content("  ").join(parts)
    yield from [line] if line.cell_length <= width else [name + one for one in parts]
    yield from list(sag_short(a, units, width))[: len(ENDS)]


def _length(figure: Figure, units: Units) -> Content:
    if figure.value is None:
        return Content.styled("– ", FIGURE)
    text = present.number(figure, Kind.LENGTH, units, 0)
    return Content.styled(f"{text} {unit_name(Kind.LENGTH, units)} ", FIGURE)


def _needs(one: PreloadFigures) -> Content:
    waits = "" if one.installed_preload_mm.known else present.waits_for(one)
    return Content.styled(f"needs {waits}", MUTED) if waits else Content("")
