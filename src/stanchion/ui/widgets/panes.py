"""The panes beside and below a sheet: large figures, tables, findings. They show; they compute nothing."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterable, Sequence
from typing import Any

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Static

from stanchion.job.model import STATES, End
from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import Assessment, PreloadFigures
from stanchion.judgement.results.codes import Caution
from stanchion.judgement.results.figures import PROGRAM_FAULT
from stanchion.judgement.results.findings import Finding
from stanchion.ui import present
from stanchion.ui.gauge import gauge_lines
from stanchion.ui.sag_scale import sag_lines
from stanchion.ui.space import cut
from stanchion.ui.widgets.live_text import MARK, BigFigure, Figures, LiveText
from stanchion.units.known_units import Units
from stanchion.units.quantity import unit_name
from stanchion.wording.finding_words import reason
from stanchion.wording.target_words import own_sag_targets

BIG = 13
"""Columns of one large figure: sign, three digits, a point and a decimal."""
GAUGE = 29
"""Columns of the gauge of an adjuster: as wide as the table above it."""
SCALE = 58
"""Columns of a scale of sag at most: wider it would only be harder to take in."""
ABOVE_TABLE, ABOVE_SHORT = 5, 2
"""Lines of the heading, the large figures and their verdict; and where the figures are not large."""
LEAST_LARGE, LEAST_LARGE_SAGS = 12, 7
"""Lines from which a pane has room for large figures."""


class Drawn(LiveText):
    """Lines that depend on the room there is: drawn again when that changes."""

    class Failed(Message):
        """An error of the program kept the lines from being drawn."""

        def __init__(self, error: Exception) -> None:
            super().__init__()
            self.error = error

    def __init__(self, **options: Any) -> None:
        super().__init__(**options)
        self._drawing: Callable[[int, int], Iterable[Content]] | None = None

    def draw(self, drawing: Callable[[int, int], Iterable[Content]]) -> None:
        """Show the lines that a drawing gives for so many columns and lines."""
        self._drawing = drawing
        self._redraw()

    def on_resize(self) -> None:
        """Draw for the new size."""
        self._redraw()

    def _redraw(self) -> None:
        if self._drawing is not None and self.size.width:
            try:
                lines = list(self._drawing(self.size.width, self.size.height))
            except Exception as error:  # noqa: BLE001 - one drawing must not end the program
                lines = [present.NOT_JUDGED]
                self.post_message(self.Failed(error))
            self.update(Content("\n").join(lines))


class DrawnFigures(Figures, Drawn):
    """Figures that depend on the room there is."""


def _head(text: str, *, changed: bool = False) -> Content:
    """The heading of large figures; marked where one of them has changed, since a mark in the digits hides them."""
    return Content.styled(text, "$primary bold" + (f" {MARK}" if changed else ""))


Extra = Sequence[Sequence[Content]]


class PreloadPane(Vertical):
    """Installed preload in large digits, its verdict, and what the adjuster still gives."""

    _shown: tuple[Sequence[str], Sequence[PreloadFigures], Units, Extra] | None = None
    """What it shows."""

    def __init__(self, id: str) -> None:  # noqa: A002
        super().__init__(id=id, classes="pane")

    def compose(self) -> ComposeResult:
        """Heading, two large figures side by side, verdicts, table."""
        yield LiveText(classes="pane-head")
        with Horizontal(classes="digits-row"):
            yield BigFigure("", classes="first")
            yield BigFigure("", classes="second")
        yield LiveText(classes="pane-verdict")
        yield DrawnFigures(classes="pane-table")

    def show(self, heads: Sequence[str], columns: Sequence[PreloadFigures], units: Units, extra: Extra) -> None:
        """Show the figures of one or two springs, and further lines below, each in spellings from long to short."""
        self._shown = (heads, columns, units, extra)
        short = self._all_lines() < LEAST_LARGE
        by_air = all(column.by_air for column in columns)
        self.query_one(".digits-row").display = not short and not by_air
        unit = unit_name(Kind.LENGTH, units)
        band = columns[0].band
        own = "" if columns[0].band_source is None else "own "
        limits = "" if band is None else f"{own}band {present.band(band, units)}"
        first, second = self.query_one(".first", BigFigure), self.query_one(".second", BigFigure)
        values = [present.big(column.installed_preload_mm, units) for column in columns]
        first.update(values[0].rjust(4))
        second.update(values[1].rjust(4) if len(values) > 1 else "")
        second.display = len(values) > 1
        changed = first.has_changed or second.has_changed
        head = "SPRUNG BY AIR" if by_air else f"INSTALLED PRELOAD, {unit}"
        self.query_one(".pane-head", Static).update(_head(head, changed=changed))
        lines: list[Content] = []
        waiting: list[Content] = []
        if by_air:
            verdicts = Content.styled("Pressure and sags: Prediction", "$text-muted")
        elif len(columns) == 1:
            waits = "" if columns[0].installed_preload_mm.known else present.waits_for(columns[0])
            beside = Content.styled(f" needs {waits}" if waits else f" {limits}" if limits else "", "$text-muted")
            if columns[0].installed_preload_mm.problem == PROGRAM_FAULT:
                beside = Content.styled(f" {reason(columns[0].installed_preload_mm)}", "$warn bold")
            figure = Content.styled(f"{values[0].strip()} ", "$figure bold") if short else Content("")
            figure += Content.styled(present.unsure(columns[0], units), "$figure bold")
            verdicts = figure + present.verdict(columns[0].verdict, "in") + beside
        else:
            verdicts = Content("")
            for column, value in zip(columns, values, strict=True):
                cell = (
                    present.verdict(column.verdict)
                    if column.has_spring
                    else Content("air" if column.by_air else "no spring")
                )
                if short and column.has_spring:
                    cell = Content.styled(f"{value.strip()} ", "$figure bold") + cell
                verdicts += cell + Content(" " * max(1, BIG + 1 - cell.cell_length))
            names = "".join(head.rjust(present.NUMBER) for head in heads)
            waiting = present.both_wait(heads, columns)
            lines = [Content.styled(limits.ljust(present.LABEL), "$text-muted") + Content.styled(names, "$primary")]
        self.query_one(".pane-verdict", Static).update(verdicts)
        tall = self.screen.has_class("-tall")

        def drawing(width: int, _: int) -> list[Content]:
            room = self._room()
            table = [*lines, *([] if by_air else present.preload_table(columns, units, width))]
            drawn = gauge_lines(heads, columns, min(width, GAUGE), tall=tall)
            further = [present.first_that_fits(line, width) for line in extra]  # a line more would push another out
            lines_shown = [*table, *further, *waiting]
            if len(lines_shown) > room:
                fewer = present.preload_table(columns, units, width, room - len(lines) - len(waiting))
                return [*lines, *fewer, *waiting, *further][: max(0, room)]
            # A figure never gives way to its drawing, nor moves when there is one.
            more = [*table, *drawn, *further, *waiting] if tall or len(columns) == 1 else [*lines_shown, *drawn]
            return more if len(more) <= room else lines_shown

        self.query_one(".pane-table", Drawn).draw(drawing)

    def _room(self) -> int:
        """Lines there are below the large figures and their verdict."""
        height = self._all_lines()
        return height - (ABOVE_TABLE if height >= LEAST_LARGE else ABOVE_SHORT)

    def _all_lines(self) -> int:
        """Lines there are."""
        return self.parent.size.height if isinstance(self.parent, Widget) else 0

    def on_resize(self) -> None:
        """Draw for the new size."""
        if self._shown is not None:
            self.show(*self._shown)


def _own_lines(spellings: Sequence[str], width: int, room: int) -> list[Content]:
    """Where own targets are from, in the first spelling that there is room for."""
    wrapped = [textwrap.wrap(words, max(1, width)) for words in spellings]
    found = next((lines for lines in wrapped if len(lines) <= room), wrapped[-1])
    return [Content.styled(line, "$text-muted") for line in found]


def _as_many(lines: Sequence[Content], scale: Callable[[], Sequence[Content]], room: int) -> list[Content]:
    """The lines, and below them the scale if there is room for its first line."""
    return [*lines, *(scale() if room > len(lines) else ())]


class SagPane(Vertical):
    """Sag of one end, machine alone and rider aboard, in large digits with target and verdict."""

    _shown: tuple[Assessment, Units] | None = None
    """What it shows."""

    def __init__(self, end: End) -> None:
        super().__init__(id=f"sag-{end}", classes="pane sag-pane")
        self.end = end

    def compose(self) -> ComposeResult:
        """Heading, two large figures, three lines."""
        yield LiveText(classes="pane-head")
        with Horizontal(classes="digits-row"):
            yield Static("sag", classes="digits-label", markup=False)
            yield BigFigure("", classes="first")
            yield BigFigure("", classes="second")
        yield DrawnFigures(classes="pane-table")

    def show(self, assessment: Assessment, units: Units) -> None:
        """Show the sags of this end."""
        self._shown = (assessment, units)
        room = self.size.height or LEAST_LARGE_SAGS
        short = room < LEAST_LARGE_SAGS
        self.query_one(".digits-row").display = not short
        figures, predicted = assessment.sag.end(self.end), assessment.predicted.end(self.end)
        unit = unit_name(Kind.LENGTH, units)
        head = _head(self.end.upper().ljust(8))
        for state, place in zip(STATES, (".first", ".second"), strict=True):
            figure = self.query_one(place, BigFigure)
            figure.update(present.big(figures.state(state).shown_mm, units).rjust(4))
            name = _head(f"{state}, {unit}", changed=figure.has_changed)
            head += name + Content(" " * (BIG - name.cell_length))
        self.query_one(".pane-head", Static).update(head)
        target, stiction, spread = present.state_lines((figures.static, figures.rider), units, BIG)
        lines = [target, stiction, spread]
        if short:  # the least needed go
            sags = "".join(present.big(figures.state(state).shown_mm, units).ljust(BIG) for state in STATES)
            lines = [Content.styled("sag".ljust(8), "$text-muted") + Content.styled(sags, "$figure bold"), target]
            lines = [*lines, *([spread] if room == len(lines) + 2 else [stiction, spread])][: room - 1]
        own = [own_sag_targets(figures, brief=brief) for brief in (False, True)]
        above = 1 if short else 4
        tall = self.screen.has_class("-tall")
        self.query_one(".pane-table", Drawn).draw(
            lambda width, _: _as_many(
                [*lines, *_own_lines(own, width, room - above - len(lines))],
                lambda: sag_lines(figures, predicted, units, min(width, SCALE), tall=tall),
                room - above,
            )
        )

    def on_resize(self) -> None:
        """Draw for the new size."""
        if self._shown is not None:
            self.show(*self._shown)


LEAST_FINDING = 2
"""Lines that a warning has before a caution has any."""


class FindingsStrip(Drawn):
    """The worst findings in full, as many as there is room for, and cautions below."""

    def __init__(self) -> None:
        super().__init__(id="findings")

    def show(
        self,
        findings: Sequence[Finding],
        cautions: Sequence[Caution],
        units: Units,
        more_key: str,
        trouble: str,
        *,
        exercise: str = "",
    ) -> None:
        """Show findings already in order; before them, why the job is not saved, where that is so, and how far an
        exercise is, where the job is one."""

        def lines(width: int, height: int) -> list[Content]:
            kept, wrapped = len(present.caution_lines(cautions[:1], width, 1)), textwrap.wrap(exercise, width)
            rows = min(len(wrapped), max(1, height // 2))
            told = [*wrapped[: rows - 1], cut(" ".join(wrapped[rows - 1 :]), width)] if rows else []
            if height - kept - len(told) < (LEAST_FINDING if not told else 1):
                kept = 0  # the worst warning comes before a caution, which is whole or not there
            lines_shown = present.trouble_lines(trouble, width)[: max(1, height - 1)]
            lines_shown += [Content.styled(line, "$primary bold") for line in told]
            lines_shown += present.finding_lines(findings, units, width, height - kept - len(lines_shown), more_key)
            if not lines_shown:
                lines_shown = [Content.styled("Nothing to warn about in what is entered.", "$text-muted")]
            room = height - len(lines_shown)
            spoken = present.caution_lines(cautions, width, min(room, max(present.CAUTIONS_LINES, height // 3)))
            if len(spoken) > room:
                spoken = [Content.styled(f"CAUTIONS: {more_key}", "bold")][:room]
            return [*lines_shown, *[Content("")] * (height - len(spoken) - len(lines_shown)), *spoken]

        self.draw(lines)
