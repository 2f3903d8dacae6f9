"""Room for a text of several lines."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Static, TextArea

from stanchion.base.text import clean_lines
from stanchion.ui.screens.modal import Dialog


class WriteText(Dialog[str]):
    """Room for a text of several lines. Esc, Tab or a second Enter takes it over."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,tab", "done", show=False, priority=True),
        Binding("enter,ctrl+j", "line_or_done", show=False, priority=True),
    ]

    def __init__(self, title: str, text: str, longest: int) -> None:
        super().__init__()
        self._title, self._text, self._longest = title, text, longest

    def compose(self) -> ComposeResult:
        """Title and text."""
        with Vertical(classes="dialog wide"):
            yield Static(self._title, classes="dialog-title", markup=False)
            yield TextArea(clean_lines(self._text), soft_wrap=True)
            keys = "Enter twice, Tab or Esc takes the text over; Enter once is a new line."
            foot = f"{keys} At most {self._longest} characters."
            yield Static(foot, classes="dialog-foot", markup=False)

    def on_mount(self) -> None:
        """Put the cursor at the end of the text."""
        area = self.query_one(TextArea)
        area.move_cursor(area.document.end)

    def on_key(self, event: events.Key) -> None:
        """Insert a letter that was typed before the text had the focus."""
        area = self.query_one(TextArea)
        if event.character and event.is_printable and not area.has_focus:
            event.stop()
            area.insert(event.character)

    def action_line_or_done(self) -> None:
        """Enter: a new line; on an empty last line there is nothing to add, and the text is taken over."""
        area = self.query_one(TextArea)
        last = area.document.end
        if area.cursor_location == last and not area.document.get_line(last[0]).strip():
            self.action_done()
        else:
            area.insert("\n")

    def action_done(self) -> None:
        """Take the text over; one that is too long stays here, nothing of it is lost."""
        self._take_over()

    def close_to_quit(self) -> bool:
        """Take the text over first; stay open with one that is too long."""
        return self._take_over()

    def _take_over(self) -> bool:
        """Return the text, without empty lines at its end; False where it is too long and stays here."""
        text = clean_lines(self.query_one(TextArea).text).rstrip()
        if len(text) > self._longest:
            message = f"{len(text)} characters: shorten it to {self._longest}, then Esc"
            self.query_one(".dialog-foot", Static).update(Content.styled(message, "$fault bold"))
            return False
        self.dismiss(text)
        return True
