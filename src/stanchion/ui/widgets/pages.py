"""Lines in pages: what there is no room for stands on a further page, which ^Down and ^Up turn to."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from textual.binding import Binding
from textual.content import Content

from stanchion.ui.widgets.live_text import Figures
from stanchion.ui.widgets.panes import Drawn

TURN_KEYS = (
    Binding("ctrl+down", "turn_page(1)", show=False, priority=True),
    Binding("ctrl+up", "turn_page(-1)", show=False, priority=True),
)
"""The keys of a screen that has pages."""


class Pages(Drawn):
    """Lines that depend on the room there is, a page of them at a time."""

    def __init__(self, **options: Any) -> None:
        super().__init__(**options)
        self._of: object = None
        self._page = 0

    def draw_pages(self, drawing: Callable[[int, int], Sequence[Sequence[Content]]], of: object) -> None:
        """Show a page of those that a drawing gives for so many columns and lines.

        Args:
            drawing: gives the pages, at least one.
            of: what they are about; anything else than before begins at the first page.
        """
        if of != self._of:
            self._of, self._page = of, 0

        def page(width: int, height: int) -> Sequence[Content]:
            pages = drawing(width, height)
            self._page = max(0, min(self._page, len(pages) - 1))
            return pages[self._page]

        self.draw(page)

    def turn(self, step: int) -> None:
        """Show a later or an earlier page, if there is one."""
        self._page += step
        self._redraw()


class PagedFigures(Figures, Pages):
    """Figures in pages; those that changed stay marked until they are seen."""
