"""The one line editor of a sheet: it lies over the current cell and moves with it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import ClassVar, Protocol

from rich.cells import cell_len
from rich.segment import Segment
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Size
from textual.message import Message
from textual.reactive import Reactive
from textual.strip import Strip
from textual.widgets import Input

from stanchion.base.text import clean
from stanchion.job.model import Path
from stanchion.ui.keys import KEYS

LONGEST = 400

_COMMANDS = {one for key in KEYS for one in key.keys.split(",") if key.on != "jobs"}


def without_commands(usual: Iterable[BindingType]) -> list[BindingType]:
    """The bindings of the usual line editor, without the keys that are commands of this program."""
    kept: list[BindingType] = []
    for binding in usual:
        if isinstance(binding, Binding):
            keys = ",".join(key for key in binding.key.split(",") if key not in _COMMANDS)
            kept += [replace(binding, key=keys)] if keys else []
    return kept


class Owner(Protocol):
    """The sheet of an editor. It is called directly, because a key typed fast after Enter belongs to the next cell."""

    def typed(self, text: str) -> None:
        """The text has changed."""

    def nudged(self, direction: int) -> None:
        """+ or - was pressed in a number cell."""

    def stepped(self, direction: int) -> None:
        """The cursor was moved beyond the end of the text."""

    def entered(self) -> None:
        """Enter was pressed."""

    async def on_key(self, event: events.Key) -> None:
        """A key was pressed that this editor is not there for."""

    def action_move(self, step: int) -> None:
        """Up or down."""

    def action_down_past(self) -> None:
        """Down in the column, whatever Enter does."""

    def action_along(self, step: int) -> None:
        """The next or previous field in reading order."""

    def action_section(self, step: int) -> None:
        """The next section, or back."""

    def action_edge(self, which: int) -> None:
        """The first (0) or the last (-1) field."""


def leading_on(owner: Owner) -> dict[str, Callable[[], None]]:
    """What the keys do that lead from field to field, whichever of sheet and editor has the keys."""
    return {
        "enter": owner.entered,
        "ctrl+j": owner.entered,
        "down": owner.action_down_past,
        "up": lambda: owner.action_move(-1),
        "tab": lambda: owner.action_along(1),
        "shift+tab": lambda: owner.action_along(-1),
        "pagedown": lambda: owner.action_section(1),
        "pageup": lambda: owner.action_section(-1),
        "ctrl+home": lambda: owner.action_edge(0),
        "ctrl+end": lambda: owner.action_edge(-1),
    }


def for_pairs(cell: tuple[object, Path], text: str) -> bool:
    """Whether what is pasted into a cell is for the list of pairs it belongs to: lines, two columns, or a file."""
    from stanchion.bench.pasted_pairs import SUFFIXES, pair_rows  # noqa: PLC0415 - not needed to start
    from stanchion.bench.session import Session  # noqa: PLC0415

    bare = text.strip()
    several = any(sign in bare for sign in "\n\r\t") or bare.strip("'\"").lower().endswith(SUFFIXES)
    return several and isinstance(cell[0], Session) and pair_rows(cell[1]) is not None


class CellEditor(Input, inherit_bindings=False):
    """A line editor that gives up the keys which move between cells, and turns + and - into steps in number cells."""

    class PairsPasted(Message):
        """Lines, or the name of a file, were pasted into one of a list of pairs."""

        def __init__(self, path: Path, text: str) -> None:
            self.path, self.text = path, text
            super().__init__()

    BINDINGS: ClassVar[list[BindingType]] = [
        *without_commands(Input.BINDINGS),
        Binding("left", "step_left", show=False),
        Binding("right", "step_right", show=False),
    ]

    virtual_size = Reactive(Size(0, 0))
    """How long the text is. Textual lays out the whole screen when it changes; the sheet has set the width already."""

    def __init__(self, owner: Owner) -> None:
        super().__init__(compact=True, max_length=LONGEST, select_on_focus=False)
        self.numeric = False
        self.signed = False
        self._owner = owner
        self._filling = False
        self._cell: tuple[object, Path] | None = None
        # A binding would be looked up only after the next printable key had been taken into this cell.
        self._at_once: dict[str, Callable[[], None]] = {
            **leading_on(owner),
            "left": self.action_step_left,
            "right": self.action_step_right,
            "backspace": self.action_delete_left,
            "delete": self.action_delete_right,
        }

    def watch_value(self, value: str) -> None:
        """Report every change of the text at once: by the time a message came, another cell could be current."""
        if not self._filling:
            self._owner.typed(value)

    def render_line(self, y: int) -> Strip:
        """Draw the text, with … at an edge beyond which there is more, unless the cursor is there."""
        strip = super().render_line(y)
        first, width = self.scroll_offset.x, self.size.width
        if y != 0 or (not first and len(self.value) * 2 <= width):
            return strip
        cursor = cell_len(self.value[: self.cursor_position]) - first if self.has_focus else None
        beyond = {0: first > 0, width - 1: cell_len(self.value) - first > width}
        for x in (x for x, more in beyond.items() if more and x != cursor):
            style = next(iter(strip.crop(x, x + 1)), Segment("")).style
            strip = Strip.join((strip.crop(0, x), Strip([Segment("…", style)]), strip.crop(x + 1)))
        return strip

    def takes(self, event: events.Key) -> bool:
        """Whether a key edits the text or leads on to another field."""
        return event.is_printable or event.key in self._at_once

    async def press(self, event: events.Key) -> None:
        """Take a key that was pressed before this had the keys."""
        if not await self.acts_on(event) and event.is_printable and event.character is not None:
            event.stop()
            event.prevent_default()
            self.replace(event.character, *self.selection)

    async def on_key(self, event: events.Key) -> None:
        """Take a key; the line editor then types it, where it is only a character."""
        await self.acts_on(event)

    async def acts_on(self, event: events.Key) -> bool:
        """Do what a key does other than being typed; True where it does anything."""
        if not self.display:  # the current field takes no typing: the sheet handles the key
            event.prevent_default()
            await self._owner.on_key(event)
            if self.takes(event):
                event.stop()
            return True
        types_a_sign = self.signed and event.character in ("-", "−") and not self.value
        steps = event.character in ("+", "-", "−") and (self._untouched or not self.value) and not types_a_sign
        if self.numeric and steps:
            event.stop()
            event.prevent_default()
            self._owner.nudged(1 if event.character == "+" else -1)
            return True
        if self.numeric and event.character == " " and self._untouched and self.value:
            event.stop()  # Space changes choices: in a number it would empty it without a word
            event.prevent_default()
            return True
        act = self._at_once.get(event.key)
        if act is not None:
            event.stop()
            event.prevent_default()
            act()
        return act is not None

    def on_paste(self, event: events.Paste) -> None:
        """Paste the first line, without control characters; lines of pairs, or a file of them, into their list."""
        lines = event.text.splitlines()
        event.stop()
        event.prevent_default()
        if self._cell is not None and for_pairs(self._cell, event.text):
            self.post_message(self.PairsPasted(self._cell[1], event.text))
        elif lines:
            self.replace(clean(lines[0])[:LONGEST], *self.selection)

    async def action_submit(self) -> None:
        """Enter leads on to the next field."""
        self._owner.entered()

    def action_step_left(self) -> None:
        """Left, and at the beginning of the text to the field on the left."""
        if self._untouched or self.cursor_position == 0:
            self._owner.stepped(-1)
        else:
            self.action_cursor_left()

    def action_step_right(self) -> None:
        """Right, and at the end of the text to the field on the right."""
        if self._untouched or self.cursor_position >= len(self.value):
            self._owner.stepped(1)
        else:
            self.action_cursor_right()

    @property
    def _untouched(self) -> bool:
        """The whole text is still selected, as it is when a cell has just been entered."""
        start, end = sorted(self.selection)
        return start == 0 and end == len(self.value)

    def put_down(self) -> None:
        """Forget which cell it shows, though the next one may be the same."""
        self._cell = None

    def fill(self, cell: tuple[object, Path], text: str, *, numeric: bool, signed: bool = False) -> None:
        """Show the text of a cell, selected, so that the first key replaces it.

        A cell that it shows already stays as it is while its text is the same: somebody may be typing in it.

        Args:
            cell: which one, and of what.
            text: what the cell holds.
            numeric: + and - step the value.
            signed: ... but in an empty cell - begins a number below zero.
        """
        self.numeric = numeric
        self.signed = signed
        if self._cell == cell and self.value == text:
            return
        self._cell = cell
        self._filling = True
        with self.prevent(Input.Changed):
            self.value = text
        self._filling = False
        self.action_select_all()
