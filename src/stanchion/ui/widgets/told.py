"""Text told anew at every key: drawn again only where it changed, laid out again only where it needs other room."""

from __future__ import annotations

from typing import Any

from textual.content import Content
from textual.visual import VisualType
from textual.widgets import Static


class Told(Static):
    """Lines of text that never are markup.

    A Static lays out the whole screen at every update, which costs more than all else that a key sets off. Most updates
    change a few letters or nothing, and then the layout stands.
    """

    def __init__(self, content: Content | str = "", **options: Any) -> None:
        super().__init__(content, markup=False, **options)
        self._told: Content | None = None

    def update(self, content: VisualType = "", *, layout: bool = True) -> None:
        """Show this; the layout is left alone where it takes as many lines as what it replaces."""
        new = content if isinstance(content, Content) else Content(content) if isinstance(content, str) else None
        before, self._told = self._told, new
        if new is None or before is None:
            super().update(content, layout=layout)
        elif not new.is_same(before):
            super().update(new, layout=layout and self._takes_other_room(before, new))

    def _takes_other_room(self, before: Content, after: Content) -> bool:
        if not self.styles.is_auto_height:
            return False
        width, rules = self.content_size.width, self.styles.get_rules()
        return not width or before.get_height(rules, width) != after.get_height(rules, width)
