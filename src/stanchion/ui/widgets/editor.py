"""The one line editor of a sheet: it stands in the cell in hand and moves with it."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.widgets import Input

from stanchion.text import clean

LONGEST = 400


class CellEditor(Input):
    """A line editor that gives up the keys which move between cells, and turns + and - into steps in number cells."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "step_left", show=False),
        Binding("right", "step_right", show=False),
    ]

    class Nudged(Message):
        """+ or - was pressed in a number cell."""

        def __init__(self, direction: int) -> None:
            self.direction = direction
            super().__init__()

    class Stepped(Message):
        """The cursor was moved beyond the end of the text."""

        def __init__(self, direction: int) -> None:
            self.direction = direction
            super().__init__()

    class Entered(Message):
        """Enter was pressed."""

    def __init__(self) -> None:
        super().__init__(compact=True, max_length=LONGEST, select_on_focus=False)
        self.numeric = False
        self.signed = False

    async def _on_key(self, event: events.Key) -> None:
        types_a_sign = self.signed and event.character in ("-", "−") and not self.value
        steps = event.character in ("+", "-", "−") and (self._untouched or not self.value) and not types_a_sign
        if self.numeric and steps:
            event.stop()
            event.prevent_default()
            self.post_message(self.Nudged(1 if event.character == "+" else -1))
            return
        await super()._on_key(event)

    def _on_paste(self, event: events.Paste) -> None:
        """Paste the first line, made harmless."""
        lines = event.text.splitlines()
        event.stop()
        event.prevent_default()
        if lines:
            self.replace(clean(lines[0])[:LONGEST], *self.selection)

    async def action_submit(self) -> None:
        """Enter leads on to the next field."""
        self.post_message(self.Entered())

    def action_step_left(self) -> None:
        """Left, and at the beginning of the text to the field on the left."""
        if self._untouched or self.cursor_position == 0:
            self.post_message(self.Stepped(-1))
        else:
            self.action_cursor_left()

    def action_step_right(self) -> None:
        """Right, and at the end of the text to the field on the right."""
        if self._untouched or self.cursor_position >= len(self.value):
            self.post_message(self.Stepped(1))
        else:
            self.action_cursor_right()

    @property
    def _untouched(self) -> bool:
        """The whole text is still selected, as it is when a cell has just been entered."""
        start, end = sorted(self.selection)
        return start == 0 and end == len(self.value)

    def fill(self, text: str, *, numeric: bool, signed: bool = False) -> None:
        """Stand for another cell; its text is selected, so that the first key replaces it.

        Args:
            text: what the cell holds.
            numeric: + and - step the value.
            signed: ... but in an empty cell - begins a number below zero.
        """
        self.numeric = numeric
        self.signed = signed
        with self.prevent(Input.Changed):
            self.value = text
        self.action_select_all()
