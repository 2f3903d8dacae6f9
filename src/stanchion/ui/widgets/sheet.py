"""A form drawn as one widget, with one editor that moves from cell to cell.

A screen of forty line editors starts and repaints slowly; one editor over a drawn sheet does not.
"""

from __future__ import annotations

from typing import Any, ClassVar, Protocol

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from rich.style import Style
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.events import Key, Resize
from textual.geometry import Region
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget
from textual.widgets import Input

from stanchion.job.model import Path
from stanchion.job.spec import Day, Flag, Number, Spec, Text
from stanchion.judgement.wording import choice_word
from stanchion.quantity import Units
from stanchion.session import Draft
from stanchion.text import clean
from stanchion.ui.forms import Form, Heading, Line, Row, empty_means
from stanchion.ui.widgets.editor import CellEditor


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
        """What a field may hold."""

    def value(self, path: Path) -> Any:
        """What stands at a path."""

    def options(self, path: Path) -> tuple[str, ...]:
        """The words a field may hold; empty for a field that takes typing."""

    def text_of(self, path: Path) -> str:
        """What a field shows."""

    def type(self, path: Path, text: str) -> None:
        """Take the text of a field as it stands after a key."""

    def leave(self, path: Path) -> None:
        """The field has been left."""

    def nudge(self, path: Path, direction: int) -> bool:
        """Step the value of a field."""


class Sheet(Widget, can_focus=True):
    """The fields of one screen.

    Args:
        form: gives the lines for the job in hand.
        label_width: columns for the labels.
        cell_width: columns for a cell, with one more between cells.
    """

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "sheet--label",
        "sheet--label-now",
        "sheet--heading",
        "sheet--cell",
        "sheet--cell-now",
        "sheet--bad",
        "sheet--empty",
        "sheet--unit",
    }
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "move(-1)", show=False),
        Binding("enter,ctrl+j", "move(1)", show=False),
        Binding("down", "down_past", show=False),
        Binding("tab", "along(1)", show=False),
        Binding("shift+tab", "along(-1)", show=False),
        Binding("pageup", "page(-1)", show=False),
        Binding("pagedown", "page(1)", show=False),
        Binding("ctrl+home", "edge(0)", show=False),
        Binding("ctrl+end", "edge(-1)", show=False),
        Binding("left", "sideways(-1)", show=False),
        Binding("right", "sideways(1)", show=False),
        Binding("plus,add,space", "turn(1)", show=False),
        Binding("minus,subtract", "turn(-1)", show=False),
    ]

    class Entered(Message):
        """Another field is in hand."""

        def __init__(self, path: Path) -> None:
            self.path = path
            super().__init__()

    class Changed(Message):
        """What was typed or chosen has been taken, as an edit or as a draft."""

    class PastEnd(Message):
        """Enter or Down below the last field of a column."""

    class Opened(Message):
        """Enter on a field of several lines: it wants room to be written in."""

        def __init__(self, path: Path) -> None:
            self.path = path
            super().__init__()

    def __init__(self, form: Form, *, label_width: int = 24, cell_width: int = 9, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self.form = form
        self.label_width = label_width
        self.cell_width = cell_width
        self.session: Fields | None = None
        self.lines: tuple[Line, ...] = ()
        self.at: Path | None = None
        self._places: dict[Path, tuple[int, int]] = {}
        self._begun = ""
        self._editor = CellEditor(self)

    def compose(self) -> ComposeResult:
        """The editor that stands in the cell in hand."""
        yield self._editor

    # --- what is shown --------------------------------------------------------------------------------------------

    def show(self, session: Fields) -> None:
        """Show what this session holds, keeping the field in hand where it is still there."""
        self.session = session
        self.refresh_lines(refill=True)

    def refresh_lines(self, *, refill: bool = False, only: int | None = None) -> None:
        """Draw again after the job changed.

        Args:
            refill: the editor takes the field's text anew.
            only: the one line whose cells changed, if the form stays as it is; None: any may have.
        """
        if self.session is None:
            return
        lines = self.form(self.session.subject, self.session.units)
        if lines != self.lines:
            self.lines = lines
            self._places = {
                cell: (y, x)
                for y, line in enumerate(lines)
                if isinstance(line, Row)
                for x, cell in enumerate(line.cells)
                if cell is not None
            }
            self.styles.height = len(lines)
            only = None
        if self.at not in self._places:
            self.at = next(iter(self._places), None)
            refill = True
        if refill:
            self._place_editor()
        if only is None or refill:
            self.refresh()
        else:
            self.refresh(Region(0, only, self.size.width, 1))

    def render_line(self, y: int) -> Strip:
        """One line of the form."""
        base = self.visual_style.rich_style
        if self.session is None or y >= len(self.lines):
            return Strip.blank(self.size.width, base)
        line = self.lines[y]
        segments = self._heading(line) if isinstance(line, Heading) else self._row(line)
        return Strip(segments).adjust_cell_length(self.size.width, base)

    def _heading(self, line: Heading) -> list[Segment]:
        style = self._style("heading")
        head = line.text.upper()[: self.label_width - 1].ljust(self.label_width)
        cells = "".join(word.center(self.cell_width) + " " for word in line.columns)
        return [Segment(head + cells, style)]

    def _row(self, row: Row) -> list[Segment]:
        now = self.at in row.cells if self.at else False
        mark = "›" if now else " "
        label = f"{mark}{row.label}"[: self.label_width - 1].ljust(self.label_width)
        segments = [Segment(label, self._style("label-now" if now else "label"))]
        width = self._width_of(row)
        for path in row.cells:
            if path is None:
                segments.append(Segment(" " * (width + 1), self._style("label")))
                continue
            text, bad = self._cell_text(path)
            name = "cell-now" if path == self.at else "bad" if bad else "cell"
            if not text and self.session is not None and (taken := empty_means(path, self.session.units)):
                text, name = taken, "empty" if name == "cell" else name
            if not bad and path != self.at and self.session is not None and isinstance(self.session.spec(path), Number):
                text = _rounded_to_fit(text, width)
            segments.append(Segment(_fit(text, width), self._style(name)))
            segments.append(Segment("!" if bad else " ", self._style("bad" if bad else "label")))
        segments.append(Segment(row.unit, self._style("unit")))
        return segments

    def _width_of(self, row: Row) -> int:
        """A text has the whole line; numbers share it by columns."""
        first = next(cell for cell in row.cells if cell is not None)
        if self.session is not None and isinstance(self.session.spec(first), Text | Day) and len(row.cells) == 1:
            return max(self.cell_width, self.size.width - self.label_width - 2)
        if len(row.cells) == 1 and self._chosen(first):
            return max(self.cell_width, min(24, self.size.width - self.label_width - 2))
        return self.cell_width

    def _cell_text(self, path: Path) -> tuple[str, bool]:
        session = self.session
        if session is None:
            return "", False
        draft = session.drafts.get(path)
        if self._chosen(path):
            value = session.value(path)
            return f"‹{choice_word(path, value)}›", False
        text = clean(session.text_of(path))
        return text, draft is not None and bool(draft.reason)

    def _chosen(self, path: Path) -> bool:
        """Whether the field is chosen by stepping through words, not typed."""
        if self.session is None:
            return False
        return isinstance(self.session.spec(path), Flag) or bool(self.session.options(path))

    def _style(self, name: str) -> Style:
        return self.get_component_rich_style(f"sheet--{name}")

    # --- the field in hand ----------------------------------------------------------------------------------------

    def go(self, path: Path) -> None:
        """Take the field at a path in hand; of a whole part, its first field that stands here."""
        if self.session is None:
            return
        if path not in self._places:
            parts = (path[:n] for n in range(len(path), 0, -1))
            near = (next((place for place in self._places if place[: len(part)] == part), None) for part in parts)
            path = next((place for place in near if place is not None), path)
        if path not in self._places:
            return
        if self.at is not None and self.at != path:
            self.session.leave(self.at)
            self.at = path
            self.refresh_lines(refill=True)
            if path not in self._places:
                return
        self.at = path
        self._place_editor()
        self.refresh()
        self.post_message(self.Entered(path))

    def _place_editor(self) -> None:
        if self.at is None or self.session is None or self.at not in self._places:
            self._editor.display = False
            return
        y, x = self._places[self.at]
        typed = not self._chosen(self.at) and not self._long(self.at)
        had_focus = self.has_focus or self._editor.has_focus
        self._editor.display = typed
        if typed:
            row = self.lines[y]
            width = self._width_of(row) if isinstance(row, Row) else self.cell_width
            self._editor.styles.offset = (self.label_width + x * (self.cell_width + 1), y)
            text = clean(self.session.text_of(self.at))
            spec = self.session.spec(self.at)
            numeric = isinstance(spec, Number)
            self._size_editor(width, len(text))
            self._editor.fill(text, numeric=numeric, signed=isinstance(spec, Number) and spec.low < 0)
        if had_focus:
            self.take_focus()
        self.call_after_refresh(self._bring_into_view, y)

    def _size_editor(self, width: int, length: int) -> None:
        """As wide as its cell; wider over its neighbours, where the text is, as long as the sheet has room."""
        room = self.size.width - int(self._editor.styles.offset.x.value) if self.size.width else width
        self._editor.styles.width = max(width, min(length + 1, room))

    def take_focus(self) -> None:
        """Give the keys to the field in hand."""
        target: Widget = self._editor if self._editor.display else self
        if not target.has_focus:
            target.focus(scroll_visible=False)

    def on_focus(self) -> None:
        """The sheet itself has the keys only in a field that is chosen, not typed."""
        if self._editor.display:
            self._editor.focus(scroll_visible=False)

    def on_resize(self, event: Resize) -> None:
        """A text cell is as wide as the sheet."""
        del event
        if self._editor.display and self.at in self._places:
            y, _ = self._places[self.at]
            row = self.lines[y]
            if isinstance(row, Row):
                self._size_editor(self._width_of(row), len(self._editor.value))
            self.call_after_refresh(self._bring_into_view, y)

    def _bring_into_view(self, y: int) -> None:
        pane = self.parent
        if isinstance(pane, VerticalScroll):
            above = 1 if y and isinstance(self.lines[y - 1], Heading) else 0
            pane.scroll_to_region(Region(0, y - above, 1, 1 + above), animate=False, force=True)

    def _long(self, path: Path) -> bool:
        spec = self.session.spec(path) if self.session is not None else None
        return isinstance(spec, Text) and spec.lines > 1

    # --- keys -----------------------------------------------------------------------------------------------------

    def action_move(self, step: int) -> None:
        """Up or down in the column; past the last row of a column to the top of the next."""
        if self.at is None or self.at not in self._places:
            return
        if step == 1 and self._long(self.at):
            self.post_message(self.Opened(self.at))
            return
        y, x = self._places[self.at]
        line = self.lines[y]
        if step == 1 and isinstance(line, Row) and line.across:
            self.action_along(1)
            return
        target = self._next_in_column(y, x, step)
        if target is not None:
            self.go(target)
        elif step == 1:
            self.post_message(self.PastEnd())

    def action_down_past(self) -> None:
        """Down, also from a field of several lines."""
        if self.at is not None and self.at in self._places:
            target = self._next_in_column(*self._places[self.at], 1)
            if target is not None:
                self.go(target)

    def _next_in_column(self, y: int, x: int, step: int) -> Path | None:
        rows = range(y + 1, len(self.lines)) if step > 0 else range(y - 1, -1, -1)
        for row in rows:
            line = self.lines[row]
            if isinstance(line, Row):
                cells = [cell for cell in line.cells[: x + 1] if cell is not None]
                if cells:
                    return cells[-1]
        return None

    def action_along(self, step: int) -> None:
        """The next or previous field in reading order."""
        order = list(self._places)
        if self.at in order:
            self.go(order[(order.index(self.at) + step) % len(order)])

    def action_sideways(self, step: int) -> None:
        """The field to the left or right."""
        if self.at is None or self.at not in self._places:
            return
        y, x = self._places[self.at]
        line = self.lines[y]
        if isinstance(line, Row):
            places = [i for i, cell in enumerate(line.cells) if cell is not None and (i > x if step > 0 else i < x)]
            if places:
                target = line.cells[places[0] if step > 0 else places[-1]]
                if target is not None:
                    self.go(target)

    def action_page(self, step: int) -> None:
        """A screenful up or down."""
        if self.at is None or self.at not in self._places or not isinstance(self.parent, Widget):
            return
        y, x = self._places[self.at]
        goal = y + step * max(1, self.parent.size.height - 2)
        near = sorted(self._places.items(), key=lambda item: (abs(item[1][0] - goal), abs(item[1][1] - x)))
        if near:
            self.go(near[0][0])

    def action_edge(self, which: int) -> None:
        """The first or the last field."""
        order = list(self._places)
        if order:
            self.go(order[which])

    def on_key(self, event: Key) -> None:
        """A letter typed into a field of several lines opens it and is its first."""
        if self.at is None or not event.is_printable or not event.character or not self._long(self.at):
            return
        if event.character in " +-":  # as in every field that is not typed in place
            return
        event.stop()
        self._begun += event.character
        if len(self._begun) == 1:
            self.post_message(self.Opened(self.at))

    def take_begun(self) -> str:
        """What was typed into a field of several lines before it was open."""
        begun, self._begun = self._begun, ""
        return begun

    def action_turn(self, direction: int) -> None:
        """The next or previous word of a choice; a field of several lines opens."""
        if self.at is None or self.session is None:
            return
        if self._long(self.at):
            self.post_message(self.Opened(self.at))
        elif self._chosen(self.at):
            self._nudge(direction)

    def _nudge(self, direction: int) -> None:
        if self.at is None or self.session is None:
            return
        self.session.nudge(self.at, direction)
        self.refresh_lines(refill=True)
        self.post_message(self.Changed())

    # --- what the editor reports ----------------------------------------------------------------------------------

    def typed(self, text: str) -> None:
        """A key changed the text of the field in hand."""
        if self.at is None or self.session is None or text == clean(self.session.text_of(self.at)):
            return
        self.session.type(self.at, text)
        y, _ = self._places[self.at]
        row = self.lines[y]
        if isinstance(row, Row):
            self._size_editor(self._width_of(row), len(text))
        self.refresh_lines(only=y)
        self.post_message(self.Changed())

    def nudged(self, direction: int) -> None:
        """+ or - in a number."""
        self._nudge(direction)

    def stepped(self, direction: int) -> None:
        """The cursor ran past the end of the text."""
        self.action_sideways(direction)

    def entered(self) -> None:
        """Enter: on to the next field."""
        self.action_move(1)

    def on_input_changed(self, event: Input.Changed) -> None:
        """The editor has told already."""
        event.stop()


def _rounded_to_fit(text: str, width: int) -> str:
    """A number with as many decimals as there are columns for; the field in hand shows them all.

    >>> _rounded_to_fit("23.759842", 5), _rounded_to_fit("142", 5)
    ('23.76', '142')
    """
    whole, point, _ = text.partition(".")
    if len(text) <= width or not point:
        return text
    return f"{float(text):.{max(0, width - len(whole) - 1)}f}"


def _fit(text: str, width: int) -> str:
    """The text in exactly so many columns; a longer one ends with a mark."""
    return text + " " * (width - cell_len(text)) if cell_len(text) <= width else set_cell_size(text, width - 1) + "…"
