"""A form drawn as one widget, with one editor that moves from cell to cell.

A screen of forty line editors starts and repaints slowly; one editor over a drawn sheet does not.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from rich.style import Style
from textual.app import ComposeResult
from textual.events import Key, Resize
from textual.geometry import Region
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget
from textual.widgets import Input

from stanchion.base.text import clean
from stanchion.job.model import Path
from stanchion.job.spec import Number
from stanchion.ui.form_lines import Form
from stanchion.ui.widgets.cells import Cells, Fields, chosen, long
from stanchion.ui.widgets.editor import CellEditor, leading_on
from stanchion.ui.widgets.first_letters import FirstLetters, Unmatched
from stanchion.ui.widgets.form_scroll import FormScroll
from stanchion.ui.widgets.grid import Grid


class FormSheet(Widget, can_focus=True):
    """The fields of one screen.

    Args:
        form: gives the lines for the open job.
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

    class Entered(Message):
        """The current field has changed."""

        def __init__(self, path: Path, left: Path | None) -> None:
            self.path = path
            self.left = left
            """The field before; None at the first."""
            super().__init__()

    class Changed(Message):
        """What was typed or chosen has been taken, as an edit or as a draft."""

    class NoSuchWord(Message):
        """Letters that begin none of the words were typed into a field that is chosen."""

        def __init__(self, unmatched: Unmatched) -> None:
            self.typed, self.words = unmatched.typed, unmatched.words
            super().__init__()

    class AtEnd(Message):
        """A number was to step beyond the end of its range."""

        def __init__(self, path: Path) -> None:
            self.path = path
            super().__init__()

    class PastEnd(Message):
        """Enter or Down below the last field of a column."""

    class LongText(Message):
        """Enter was pressed on a field of several lines."""

        def __init__(self, path: Path) -> None:
            self.path = path
            super().__init__()

    def __init__(self, form: Form, *, label_width: int = 24, cell_width: int = 9, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self.form = form
        self.label_width = label_width
        self.cell_width = cell_width
        self.session: Fields | None = None
        self.grid = Grid()
        self.at: Path | None = None
        self.on_drawing: Callable[[], None] = lambda: None
        """Called whenever something is to be drawn again, so that words about it elsewhere change in the same frame."""
        self._scroll = FormScroll(self)
        self._opening_text = ""
        """What was typed into a field of several lines before it was open."""
        self._first_letters = FirstLetters()
        self._set_for: tuple[Grid, int] | None = None
        self._set_so = Cells(label_width, cell_width, 0)
        self._styles_by_name: dict[str, Style] = {}
        self._editor = CellEditor(self)
        self._at_once: dict[str, Callable[[], None]] = {
            **leading_on(self),
            "left": lambda: self.action_sideways(-1),
            "right": lambda: self.action_sideways(1),
        }

    def compose(self) -> ComposeResult:
        """The editor over the current cell."""
        yield self._editor

    # --- what is shown --------------------------------------------------------------------------------------------

    def show(self, session: Fields) -> None:
        """Show what this session holds, keeping the current field where it is still there."""
        self.session = session
        self.refresh_lines(refill=True)

    def refresh_lines(self, *, refill: bool = False, only: int | None = None) -> None:
        """Draw again after the job changed.

        Args:
            refill: whether the editor takes the field's text again.
            only: the one line whose cells changed, if the form stays as it is; None: any may have.
        """
        if self.session is None:
            return
        lines = self.form(self.session.subject, self.session.units)
        if lines != self.grid.lines:
            self.grid = Grid(lines)
            self.styles.height = len(lines)
            only = None
        if self.at not in self.grid:
            self.at = self.grid.first()
            refill = True
        if refill:
            self._place_editor()
        if only is None or refill:
            self.refresh()
        else:
            self.refresh(Region(0, only, self.size.width, 1))
        self.on_drawing()

    def render_line(self, y: int) -> Strip:
        """One line of the form."""
        base = self.visual_style.rich_style
        if self.session is None or y >= len(self.grid.lines):
            return Strip.blank(self.size.width, base)
        line = self._scroll.pinned(y, self.grid) or self.grid.lines[y]
        segments = self._cells.drawn(line, self.session, self.at, self._style)
        return Strip(segments).adjust_cell_length(self.size.width, base)

    @property
    def _cells(self) -> Cells:
        about = (self.grid, self.size.width)
        if self._set_for != about:
            self._set_for = about
            self._set_so = Cells.within(self.label_width, self.cell_width, self.size.width, self.grid.lines)
        return self._set_so

    def _style(self, name: str) -> Style:
        style = self._styles_by_name.get(name)
        if style is None:
            style = self._styles_by_name[name] = self.get_component_rich_style(f"sheet--{name}")
        return style

    def notify_style_update(self) -> None:
        """Forget the styles of the theme before."""
        super().notify_style_update()
        self._styles_by_name.clear()

    # --- the current field ----------------------------------------------------------------------------------------

    def go(self, path: Path) -> None:
        """Go to the field at a path; of a whole part, to its first field on this sheet."""
        target = self.grid.nearest(path)
        if self.session is None or target is None:
            return
        self._first_letters.clear()
        left = self.at if self.at != target else None
        if left is not None:
            self.session.leave(left)
            self.at = target
            self.refresh_lines(refill=True)
            if target not in self.grid:
                return
        self.at = target
        self.put_down()
        self._place_editor()
        self.refresh()
        self.post_message(self.Entered(target, left))

    @property
    def editor(self) -> CellEditor:
        """The editor over the current cell."""
        return self._editor

    def put_down(self) -> None:
        """Let the next key replace the text of the current field, because it was left or come back to."""
        self._editor.put_down()

    def _place_editor(self) -> None:
        if self.at is None or self.session is None or self.at not in self.grid:
            self._editor.display = False
            return
        typed = not chosen(self.session, self.at) and not long(self.session, self.at)
        had_focus = self.has_focus or self._editor.has_focus
        self._editor.display = typed
        if typed:
            text = clean(self.session.text_of(self.at))
            spec = self.session.spec(self.at)
            self._size_editor(len(text))
            signed = isinstance(spec, Number) and spec.low < 0
            self._editor.fill((self.session, self.at), text, numeric=isinstance(spec, Number), signed=signed)
        if had_focus:
            self.take_focus()
        self.call_after_refresh(self._bring_into_view)

    def _size_editor(self, length: int) -> None:
        """Fit the editor to its cell; over its neighbours where the text is longer and the sheet has room."""
        if self.session is None or self.at is None:
            return
        y, x = self.grid.places[self.at]
        cells = self._cells
        width = cells.width_of(self.grid.row(self.at), self.session)
        begins = cells.at(x, width)
        room = self.size.width - begins if self.size.width else width
        self._editor.styles.offset = (begins, y)
        self._editor.styles.width = max(width, min(length + 1, room))

    def take_focus(self) -> None:
        """Give the focus to the current field."""
        target: Widget = self._editor if self._editor.display else self
        if not target.has_focus:
            target.focus(scroll_visible=False)

    def on_focus(self) -> None:
        """Pass the focus to the editor, unless the field is chosen, not typed."""
        if self._editor.display:
            self._editor.focus(scroll_visible=False)

    def on_resize(self, event: Resize) -> None:
        """Fit the editor to the new width, as a text cell is as wide as the sheet."""
        del event
        if self._editor.display and self.at is not None and self.at in self.grid:
            self._size_editor(len(self._editor.value))
            self.call_after_refresh(self._bring_into_view)

    def on_mount(self) -> None:
        """Keep the heading of the section in sight wherever the form is scrolled to."""
        self._scroll.follow()

    def _bring_into_view(self) -> None:
        """Scroll to the current field, wherever its line is by now."""
        if self.at is not None and self.at in self.grid:
            self._scroll.bring_into_view(self.grid.places[self.at][0], self.grid)

    @property
    def _on_long(self) -> bool:
        """Whether the current field holds several lines."""
        return self.session is not None and self.at is not None and long(self.session, self.at)

    # --- keys -----------------------------------------------------------------------------------------------------

    def action_move(self, step: int) -> None:
        """Up or down in the column, or across where the fields of a line belong together."""
        if self.at is None or self.at not in self.grid:
            return
        if step == 1 and self._on_long:
            self.post_message(self.LongText(self.at))
        elif step == 1 and self.grid.row(self.at).across:
            self.action_along(1)
        elif not self._go_to(self.grid.down(self.at, step)) and step == 1:
            self.post_message(self.PastEnd())

    def action_down_past(self) -> None:
        """Down, also from a field of several lines."""
        if self.at is not None and self.at in self.grid:
            self._go_to(self.grid.down(self.at, 1))

    def action_along(self, step: int) -> None:
        """The next or previous field in reading order."""
        if self.at is not None and self.at in self.grid:
            self._go_to(self.grid.along(self.at, step))

    def action_sideways(self, step: int) -> None:
        """The field to the left or right."""
        if self.at is not None and self.at in self.grid:
            self._go_to(self.grid.beside(self.at, step))

    def action_section(self, step: int) -> None:
        """The next section of the form, or back; as much of it is shown as there is room for."""
        if self.at is not None and self.at in self.grid:
            self._scroll.next_to_top()
            self._go_to(self.grid.section(self.at, step))

    def action_edge(self, which: int) -> None:
        """The first or the last field."""
        self._go_to(self.grid.edge(which))

    def _go_to(self, target: Path | None) -> bool:
        """Go to a field, if there is one; True if there was."""
        if target is not None:
            self.go(target)
        return target is not None

    async def on_key(self, event: Key) -> None:
        """Act on a key at once: a binding would be looked up only after the next key had been taken here.

        A key that came before the editor had the keys is its all the same. A letter typed into a field of several lines
        opens it and is its first.
        """
        if self._editor.display:
            if self._editor.takes(event):
                event.stop()
                await self._editor.press(event)
            return
        act = self._at_once.get(event.key)
        character = event.character if event.is_printable else None
        if act is not None:
            event.stop()
            act()
        elif character is not None and self._on_long and (character not in " +-" or self._opening_text):
            event.stop()
            self._opening_text += character
            if len(self._opening_text) == 1 and self.at is not None:
                self.post_message(self.LongText(self.at))
        elif character is not None and character in " +-":
            event.stop()
            self.action_turn(-1 if character == "-" else 1)
        elif character is not None and not self._on_long:
            event.stop()
            self._choose_by(character)

    def _choose_by(self, letter: str) -> None:
        """Choose the first word that begins with the letters typed into this field so far."""
        session, at = self.session, self.at
        if session is None or at is None or not chosen(session, at):
            return
        unmatched = self._first_letters.choose(session, at, letter)
        if unmatched is not None:
            self.post_message(self.NoSuchWord(unmatched))
            return
        self.refresh_lines(refill=True)
        self.post_message(self.Changed())

    def take_opening_text(self) -> str:
        """Return and forget what was typed into a field of several lines before it was open."""
        text, self._opening_text = self._opening_text, ""
        return text

    def action_turn(self, direction: int) -> None:
        """The next or previous word of a choice; a field of several lines opens."""
        if self.at is None or self.session is None:
            return
        if self._on_long:
            self.post_message(self.LongText(self.at))
        elif chosen(self.session, self.at):
            self._nudge(direction)

    def _nudge(self, direction: int) -> None:
        if self.at is None or self.session is None:
            return
        before = self.session.value(self.at)
        if self.session.nudge(self.at, direction) and before == self.session.value(self.at):
            self.post_message(self.AtEnd(self.at))
        self._first_letters.clear()
        self.refresh_lines(refill=True)
        self.post_message(self.Changed())

    # --- what the editor reports ----------------------------------------------------------------------------------

    def typed(self, text: str) -> None:
        """A key changed the text of the current field."""
        if self.at is None or self.session is None or text == clean(self.session.text_of(self.at)):
            return
        self.session.type(self.at, text)
        self._size_editor(len(text))
        self.refresh_lines(only=self.grid.places[self.at][0])
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
        """Ignore this message: the editor has reported the change already."""
        event.stop()
