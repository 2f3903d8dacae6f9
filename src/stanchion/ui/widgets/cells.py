"""What a form is filled into, and a line of it as it is drawn: label, cells, unit."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Protocol

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from rich.style import Style

from stanchion.base.record import record
from stanchion.base.text import clean, one_line
from stanchion.bench.edit_session import Draft
from stanchion.job.model import Path
from stanchion.job.spec import Day, Flag, Number, Spec, Text
from stanchion.ui.form_lines import FormLine, Heading, Row, value_if_empty
from stanchion.ui.space import ELLIPSIS, cut
from stanchion.units.known_units import DISPLAY_UNITS, Units
from stanchion.units.quantity import MINUS
from stanchion.wording.american import worded
from stanchion.wording.finding_words import choice_word


class Fields(Protocol):
    """What a sheet fills: a Session, or a StockSession."""

    drafts: dict[Path, Draft]

    @property
    def units(self) -> Units:
        """Display units."""

    @property
    def subject(self) -> Any:
        """What the form is made for."""

    def spec(self, path: Path) -> Spec:
        """The spec of a field."""

    def value(self, path: Path) -> Any:
        """The value at a path."""

    def options(self, path: Path) -> tuple[str, ...]:
        """The words a field can be set to; empty for a field that takes typing."""

    def text_of(self, path: Path) -> str:
        """What a field shows."""

    def type(self, path: Path, text: str) -> None:
        """Take the text of a field as it is after a key."""

    def leave(self, path: Path) -> None:
        """The field has been left."""

    def nudge(self, path: Path, direction: int) -> bool:
        """Step the value of a field."""


def chosen(fields: Fields, path: Path) -> bool:
    """Whether a field is chosen by stepping through words, not typed."""
    return isinstance(fields.spec(path), Flag) or bool(fields.options(path))


def long(fields: Fields, path: Path) -> bool:
    """Whether a field holds several lines."""
    spec = fields.spec(path)
    return isinstance(spec, Text) and spec.lines > 1


WIDEST_CHOICE = 24
LEAST_LABEL, LEAST_CELL = 8, 5
"""Columns of labels and cells at least, where there is little room."""
AFTER = 7
"""Columns beyond the units for each text but the last, which has the rest of the line."""
LEAST_LAST = 11
"""Columns from which there is the last of several texts."""


@record
class Cells:
    """How the lines of a form are set.

    Args:
        label: columns for the labels.
        cell: columns for a cell, with one more between cells.
        width: columns there are in all.
        unit: columns for the units, where there is something beyond them.
    """

    label: int
    cell: int
    width: int
    unit: int = 0

    @classmethod
    def within(cls, label: int, cell: int, width: int, lines: Sequence[FormLine]) -> Cells:
        """For these lines in so many columns: where they are too wide, labels give way first, then cells.

        Args:
            label: columns wanted for the labels.
            cell: columns wanted for a cell.
            width: columns there are; 0: not known yet.
            lines: the form.
        """
        rows = [line for line in lines if isinstance(line, Row)]
        wide = max((len(row.cells) * (cell + 1) + (cell_len(row.unit) or -1) for row in rows), default=0)
        unit = 1 + max((cell_len(row.unit) for row in rows if row.after), default=-1)
        if not width or label + wide <= width:
            return cls(label, cell, width, unit)
        label = max(min(label, LEAST_LABEL), min(label, width - wide))
        fits = min(((width - label - cell_len(row.unit)) // len(row.cells) - 1 for row in rows), default=cell)
        return cls(label, max(min(cell, LEAST_CELL), min(cell, fits)), width, unit)

    def at(self, column: int, wide: int) -> int:
        """Where a cell begins that is so many columns wide: never beyond the edge, over its neighbours if need be."""
        begins = self.label + column * (self.cell + 1)
        return max(0, min(begins, self.width - wide)) if self.width else begins

    def width_of(self, row: Row, fields: Fields) -> int:
        """Columns of a cell: a text has the whole line; numbers share it."""
        first = next(cell for cell in row.cells if cell is not None)
        if len(row.cells) > 1:
            return self.cell
        room = self.width - self.label - 2
        if isinstance(fields.spec(first), Text | Day):
            return max(self.cell, room)
        if chosen(fields, first):
            return max(self.cell, min(WIDEST_CHOICE, room))
        spec = fields.spec(first)
        if isinstance(spec, Number) and spec.two:  # both rates of a label, where there is room
            return max(self.cell, min(cell_len(fields.text_of(first)), room - cell_len(row.unit)))
        return self.cell

    def drawn(self, line: FormLine, fields: Fields, at: Path | None, style: Callable[[str], Style]) -> list[Segment]:
        """A line, the current field marked.

        Args:
            line: the line.
            fields: what it shows.
            at: the current field.
            style: gives the style of a part of the sheet by its name.
        """
        return self._heading(line, style) if isinstance(line, Heading) else self._row(line, fields, at, style)

    def _heading(self, line: Heading, style: Callable[[str], Style]) -> list[Segment]:
        columns = "".join(cut(word, self.cell).center(self.cell) + " " for word in line.columns)
        free = len(columns) - len(columns.lstrip(" ")) if columns else self.width - self.label
        text = cut(_capitals(worded(line.text)), self.label + max(0, free) - 1)
        head = text.ljust(self.label) + columns[max(0, len(text) - self.label) :]
        return [
            Segment(head, style("heading")),
            *self._after(len(line.columns), line.after, cell_len(head), style("heading")),
        ]

    def _after(self, cells: int, texts: Sequence[str], there: int, style: Style) -> list[Segment]:
        """What stands beyond the unit of a line; as much of it as there is room for.

        Args:
            cells: how many cells the line has.
            texts: a text for each column.
            there: columns of the line that are taken.
            style: how they are drawn.
        """
        if not any(texts):
            return []
        begins = self.label + cells * (self.cell + 1) + self.unit
        room = self.width - begins
        line = "".join(cut(text, AFTER - 1).ljust(AFTER) for text in texts[:-1])
        if line and room < len(line) + LEAST_LAST:  # no heading would fit over the last one
            return [Segment(" " * max(0, begins - there), style), Segment(cut(line.rstrip(), room), style)]
        line = cut((line + texts[-1]).rstrip(), room) if room >= len(line) + 4 else cut(line.rstrip(), room)
        return [Segment(" " * max(0, begins - there), style), Segment(line, style)]

    def _row(self, row: Row, fields: Fields, at: Path | None, style: Callable[[str], Style]) -> list[Segment]:
        now = at in row.cells if at else False
        label = cut(f"{'›' if now else ' '}{worded(row.label)}", self.label - 1).ljust(self.label)
        segments = [Segment(label, style("label-now" if now else "label"))]
        width = self.width_of(row, fields)
        for x, path in enumerate(row.cells):
            instead = row.texts[x] if x < len(row.texts) else ""
            if path is None:
                segments.append(Segment(_fit(instead, width) + " ", style("unit")))
                continue
            text, bad = _text_of(fields, path)
            name = "cell-now" if path == at else "bad" if bad else "cell"
            if not text and (taken := value_if_empty(path, fields.units) or instead):
                text, name = taken, "empty" if name == "cell" else name
            whole = text
            if not bad and path != at and isinstance(fields.spec(path), Number):
                text = _rounded_to_fit(text, width)
            if bad:  # the mark is part of the cell: it must not touch the next one
                segments.append(Segment(f"{_fit(text, width - 1)}!", style(name)))
            else:
                segments.append(Segment(_fit(text, width), style(name)))
            # A number that was rounded to fit is marked between the cells; the current field shows it whole.
            segments.append(Segment(" " if text == whole else ELLIPSIS, style("label" if text == whole else "unit")))
        segments.append(Segment(row.unit, style("unit")))
        there = self.label + len(row.cells) * (width + 1) + cell_len(row.unit)
        return [*segments, *self._after(len(row.cells), row.after, there, style("label-now" if now else "unit"))]


def _capitals(heading: str) -> str:
    """A heading in capitals; a unit at its end stays as it is written.

    >>> _capitals("Own targets, mm"), _capitals("Fork damping, from closed")
    ('OWN TARGETS, mm', 'FORK DAMPING, FROM CLOSED')
    """
    name, comma, unit = heading.rpartition(", ")
    known = any(unit in names for names in DISPLAY_UNITS.values())
    return f"{name.upper()}{comma}{unit}" if known else heading.upper()


def _text_of(fields: Fields, path: Path) -> tuple[str, bool]:
    """The text of a cell, and whether it could not be read."""
    if chosen(fields, path):
        return f"‹{choice_word(path, fields.value(path))}›", False
    draft = fields.drafts.get(path)
    if long(fields, path):
        return one_line(fields.text_of(path)), draft is not None and bool(draft.reason)
    return clean(fields.text_of(path)), draft is not None and bool(draft.reason)


def _rounded_to_fit(text: str, width: int) -> str:
    """A number with as many decimals as there are columns for; the current field shows them all.

    A lap time stays as it is.

    >>> _rounded_to_fit("23.759842", 5), _rounded_to_fit("142", 5), _rounded_to_fit("1:14.1", 5)
    ('23.76', '142', '1:14.1')
    >>> _rounded_to_fit("8.336-10.297", 9), _rounded_to_fit("8.336-10.297", 7)
    ('8.3-10.3', '8.336-10.297')
    """
    start, two, end = text.partition("-")
    if two and len(text) > width:
        shorter = (f"{float(start):.{decimals}f}-{float(end):.{decimals}f}" for decimals in (2, 1))
        return next((both for both in shorter if len(both) <= width), text)
    whole, _, decimals = text.partition(".")
    bare = whole.removeprefix(MINUS)
    if len(text) <= width or not (bare + decimals).isdecimal():
        return text
    sign = whole.removesuffix(bare)
    return f"{sign}{float(f'{bare}.{decimals}'):.{max(0, width - len(whole) - 1)}f}"


def _fit(text: str, width: int) -> str:
    """The text in exactly so many columns; a longer one ends with a mark."""
    return text + " " * (width - cell_len(text)) if cell_len(text) <= width else set_cell_size(text, width - 1) + "…"
