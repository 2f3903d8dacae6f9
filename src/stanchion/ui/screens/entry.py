"""Values asked one at a time, in large digits, for something that is kept only when all of it was answered."""

from __future__ import annotations

from abc import abstractmethod
from typing import ClassVar, Generic, TypeVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Static

from stanchion.bench.entry_round import EntryRound
from stanchion.job.spec import Text
from stanchion.ui.screens.app_screen import Dialog
from stanchion.ui.widgets.panes import Drawn

Round = TypeVar("Round", bound=EntryRound)
Kept = TypeVar("Kept")

FOOT = "Enter takes it and goes on. / or Up: back. Backspace deletes. Esc leaves."


class EntryScreen(Dialog[Kept | None], Generic[Round, Kept]):
    """A round from its first question to its result. Gives what came of it where that is kept.

    Args:
        going: the round, not begun.
        plain: whether its digits are in ASCII.
    """

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "dismiss(None)", show=False)]
    ends: ClassVar[str]
    """The keys once everything was answered."""

    def __init__(self, going: Round, *, plain: bool = False) -> None:
        super().__init__()
        self.going = going
        self.plain = plain

    @abstractmethod
    def title_now(self) -> str:
        """What is asked now."""

    @abstractmethod
    def lines_now(self, width: int, height: int) -> list[Content]:
        """What to do and what is typed; at the end the result."""

    @abstractmethod
    def kept(self) -> Kept:
        """What came of a whole round."""

    def compose(self) -> ComposeResult:
        """Title, what to do and what is typed, keys."""
        with Vertical(classes="dialog full"):
            yield Static(classes="dialog-title", markup=False)
            yield Drawn(id="entry")
            yield Static(classes="dialog-foot", markup=False)

    def on_mount(self) -> None:
        """Ask for the first value."""
        self._show()

    def _show(self) -> None:
        self.query_one(".dialog-title", Static).update(self.title_now())
        self.query_one(".dialog-foot", Static).update(self.ends if self.going.done else FOOT)
        self.query_one("#entry", Drawn).draw(self.lines_now)

    def on_key(self, event: events.Key) -> None:
        """Take a key: a character into the text, Enter on, / or Up back. A text that was begun may hold a /."""
        going, key = self.going, event.key
        in_a_text = going.one is not None and isinstance(going.one.spec, Text) and going.typed
        if key in ("enter", "ctrl+j", "down", "tab"):
            if going.done:
                self.dismiss(self.kept())
                return
            going.take()
        elif key in ("up", "shift+tab") or (event.character == "/" and not in_a_text):
            going.back()
        elif key == "backspace":
            going.delete()
        elif event.character and event.is_printable:
            going.type(event.character)
        else:
            return
        event.stop()
        self._show()
