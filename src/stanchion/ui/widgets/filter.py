"""The line a list is filtered by, as one types."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType
from textual.widgets import Input

from stanchion.ui.widgets.editor import LONGEST, without_commands


class Filter(Input, inherit_bindings=False):
    """A line editor that leaves the keys which are commands of the program to them."""

    BINDINGS: ClassVar[list[BindingType]] = without_commands(Input.BINDINGS)

    def __init__(self, id: str, narrows: str) -> None:  # noqa: A002 - Textual's word
        super().__init__(placeholder=f"type to filter: {narrows}", id=id, compact=True, max_length=LONGEST)
