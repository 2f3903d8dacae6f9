"""Scrolling a form: the current line comes into view, and the heading of its section stays in the top line."""

from __future__ import annotations

from textual.containers import VerticalScroll
from textual.geometry import Region
from textual.widget import Widget

from stanchion.ui.form_lines import Heading
from stanchion.ui.widgets.grid import Grid

LEAST_PINNED = 4
"""Lines from which the heading of the current section keeps one, however far the form is scrolled."""


class FormScroll:
    """How far a form is scrolled in the pane that it lies in.

    Args:
        sheet: the widget of the form.
    """

    def __init__(self, sheet: Widget) -> None:
        self._sheet = sheet
        self._top = 0
        """The line at the top of what is shown."""
        self._to_top = False

    def follow(self) -> None:
        """Draw the pinned heading anew wherever the form is scrolled to. Call this once the sheet is mounted."""
        pane = self._pane
        if pane is not None:
            self._sheet.watch(pane, "scroll_y", self._scrolled, init=False)

    def pinned(self, y: int, grid: Grid) -> Heading | None:
        """The heading to draw in a line in place of what stands there; None for any line but the top one.

        It is that of the section scrolled to. There is none at the beginning, and none where there are only few lines.
        """
        return grid.heading_over(y) if y and y == self._top and self._may_pin else None

    def next_to_top(self) -> None:
        """Show the next line brought into view at the top, because its section was gone to."""
        self._to_top = True

    def bring_into_view(self, y: int, grid: Grid) -> None:
        """Scroll to a line, and to the one above where that is its heading or may be covered by one."""
        pane = self._pane
        if pane is None:
            return
        above = 1 if y and (self._may_pin or grid.headed(y)) else 0
        if self._to_top:
            pane.scroll_to(y=y - above, animate=False, force=True)
        else:
            pane.scroll_to_region(Region(0, y - above, 1, 1 + above), animate=False, force=True)
        self._to_top = False

    @property
    def _pane(self) -> VerticalScroll | None:
        pane = self._sheet.parent
        return pane if isinstance(pane, VerticalScroll) else None

    @property
    def _may_pin(self) -> bool:
        pane = self._pane
        return pane is not None and pane.size.height >= LEAST_PINNED

    def _scrolled(self) -> None:
        """Draw the line at the top again, and the one that was there before."""
        pane = self._pane
        before, self._top = self._top, pane.scroll_offset.y if pane is not None else 0
        for y in {before, self._top}:
            self._sheet.refresh(Region(0, y, self._sheet.size.width, 1))
