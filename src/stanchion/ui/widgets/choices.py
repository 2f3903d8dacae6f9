"""A list to choose from, and the line that filters it as one types."""

from __future__ import annotations

from typing import ClassVar, Generic, TypeVar

from textual.binding import BindingType
from textual.content import Content
from textual.widgets import Input, OptionList
from textual.widgets.option_list import Option

from stanchion.ui.textual_hooks import shows_line_of
from stanchion.ui.widgets.editor import LONGEST, without_commands

PAGE = 10
"""Lines that a page key moves by while it is not known how many fit."""

What = TypeVar("What")


class Choosable(Option, Generic[What]):
    """A line of a list with the object it represents.

    An answer to Enter comes a moment after the key. By then the list may have been filled again, and a line number
    would refer to something else or to nothing.
    """

    def __init__(self, words: Content, what: What, *, disabled: bool = False) -> None:
        super().__init__(words, disabled=disabled)
        self.what = what


class Choices(OptionList):
    """A list to choose from."""

    def action_page_up(self) -> None:
        """A screenful up."""
        self._page(-1)

    def action_page_down(self) -> None:
        """A screenful down."""
        self._page(1)

    def _page(self, direction: int) -> None:
        """Move by as many lines as fit; Textual raises a KeyError where the list has no room or is not laid out yet."""
        at = self.highlighted
        if at is None:
            (self.action_last if direction > 0 else self.action_first)()
        elif shows_line_of(self, at):
            (super().action_page_down if direction > 0 else super().action_page_up)()  # type: ignore[no-untyped-call]
        else:
            open_ones = [n for n, option in enumerate(self.options) if not option.disabled]
            ahead = [n for n in open_ones if (n - at) * direction > 0]
            ahead.sort(key=lambda n: abs(n - at - direction * PAGE))
            if ahead:
                self.highlighted = ahead[0]


class Filter(Input, inherit_bindings=False):
    """A line editor that leaves the keys which are commands of the program to them."""

    BINDINGS: ClassVar[list[BindingType]] = without_commands(Input.BINDINGS)

    def __init__(self, id: str, narrows: str) -> None:  # noqa: A002 - Textual's word
        super().__init__(placeholder=f"type to filter: {narrows}", id=id, compact=True, max_length=LONGEST)
