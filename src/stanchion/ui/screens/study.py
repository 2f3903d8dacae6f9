"""A study of how well readings repeat: one reading at a time, in large digits, in mixed order."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Static

from stanchion.bench.study_round import StudyRound
from stanchion.job.study import Study
from stanchion.ui.screens.app_screen import Dialog
from stanchion.ui.study_lines import study_lines, title_of
from stanchion.ui.widgets.panes import Drawn

FOOT = "Enter takes it and goes on. / or Up: back. Backspace deletes. Esc leaves."
ENDS = "Enter keeps the study. / or Up: back. Esc leaves."


class StudyScreen(Dialog[Study | None]):
    """A study from the names to its result. Gives the study where it is kept.

    Args:
        going: the study, not begun.
        plain: whether its digits are in ASCII.
    """

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "dismiss(None)", show=False)]

    def __init__(self, going: StudyRound, *, plain: bool = False) -> None:
        super().__init__()
        self.going = going
        self._plain = plain

    def compose(self) -> ComposeResult:
        """Title, what to do and what is typed, keys."""
        with Vertical(classes="dialog full"):
            yield Static(classes="dialog-title", markup=False)
            yield Drawn(id="study")
            yield Static(classes="dialog-foot", markup=False)

    def on_mount(self) -> None:
        """Ask for the first name."""
        self._show()

    def _show(self) -> None:
        self.query_one(".dialog-title", Static).update(title_of(self.going))
        self.query_one(".dialog-foot", Static).update(ENDS if self.going.done else FOOT)
        self.query_one("#study", Drawn).draw(
            lambda width, height: study_lines(self.going, width, height, plain=self._plain)
        )

    def on_key(self, event: events.Key) -> None:
        """Take a key: a character into the text, Enter on, / or Up back."""
        going, key = self.going, event.key
        numeric = going.one is None or going.one.key[0] in ("reading", "order", "tape")
        if key in ("enter", "ctrl+j", "down", "tab"):
            if going.done:
                self.dismiss(going.study())
                return
            going.take()
        elif key in ("up", "shift+tab") or (event.character == "/" and (numeric or not going.typed)):
            going.back()
        elif key == "backspace":
            going.delete()
        elif event.character and event.is_printable:
            going.type(event.character)
        else:
            return
        event.stop()
        self._show()
