"""Text that may change at every key: drawn again only where it changed, laid out again only where it needs other room.

Figures among it can mark for a moment what has changed.
"""

from __future__ import annotations

import re
from collections import defaultdict
from typing import Any, Protocol, cast

from textual.app import RenderResult
from textual.content import Content
from textual.visual import VisualType
from textual.widgets import Digits, Static

from stanchion.ui.big_digits import ascii_digits
from stanchion.ui.textual_hooks import layout_changed

MARKED_S = 1.5
"""How long a changed figure stays marked after the last change [s]."""
MARK = "reverse"
"""A style that is visible in any number of colours, and in none."""

_FIGURE = re.compile(r"[-−]?\d+(?:[./]\d+)*|–(?= |$)")
"""A number, or the dash shown where there is none."""


def marked(before: Content, after: Content) -> Content:
    """The text with every figure marked that has changed since another state of it.

    Lines belong together that say the same beside their figures, wherever they stand; in a line that was not there
    before nothing is marked, since it is new as a whole and seen as such.

    >>> marked(Content("Range 8.0 mm"), Content("Range 8.5 mm")).spans
    [Span(6, 9, style='reverse')]
    """
    if after.plain == before.plain:
        return after
    known: dict[str, list[list[str]]] = defaultdict(list)
    for line in before.plain.split("\n"):
        known[_words(line)].append(_FIGURE.findall(line))
    shown, start = after, 0
    for line in after.plain.split("\n"):
        alike = known.get(_words(line))
        if alike:
            for figure, was in zip(_FIGURE.finditer(line), alike.pop(0), strict=True):
                if figure.group() != was:
                    shown = shown.stylize(MARK, start + figure.start(), start + figure.end())
        start += len(line) + 1
    return shown


def _words(line: str) -> str:
    """What a line says beside its figures, however it is spaced."""
    return " ".join(_FIGURE.sub("#", line).split())


class Letters(Protocol):
    """What this asks of the application."""

    only_ascii: bool
    """Whether the terminal has no letters but those of ASCII."""


class LiveText(Static):
    """Lines of text that never are markup.

    A Static lays out the whole screen at every update, which costs more than all else that a key sets off. Most updates
    change a few letters or nothing, and then the layout stays.
    """

    def __init__(self, content: Content | str = "", **options: Any) -> None:
        super().__init__(content, markup=False, **options)
        self._current: Content | None = None
        """As it is shown."""

    def update(self, content: VisualType = "", *, layout: bool = True) -> None:
        """Show this; the layout is left alone where it takes as many lines as what it replaces."""
        new = content if isinstance(content, Content) else Content(content) if isinstance(content, str) else None
        before, self._current = self._current, new
        if new is not None and before is not None:
            if new.is_same(before):
                return
            layout = layout and self._takes_other_room(before, new)
        if layout:
            layout_changed(self)
        super().update(content if new is None else new, layout=layout)

    def _takes_other_room(self, before: Content, after: Content) -> bool:
        if not self.styles.is_auto_height:
            return False
        width, rules = self.content_size.width, self.styles.get_rules()
        return not width or before.get_height(rules, width) != after.get_height(rules, width)


class Figures(LiveText):
    """Text with figures in it; those that changed stay marked until `mark_seen` is called."""

    def __init__(self, content: Content | str = "", **options: Any) -> None:
        super().__init__(content=content, **options)
        self._seen: Content | None = None
        self._new: Content | None = None

    def update(self, content: VisualType = "", *, layout: bool = True) -> None:
        """Show this, with what differs from the text last seen marked."""
        new = content if isinstance(content, Content) else Content(str(content))
        self._new = new
        if self._seen is None:
            self._seen = new
        super().update(marked(self._seen, new), layout=layout)

    @property
    def has_changed(self) -> bool:
        """Whether something changed since the user has seen it."""
        return self._new is not None and self._seen is not None and self._new.plain != self._seen.plain

    def mark_seen(self) -> None:
        """Take what is shown as seen: it has no mark when it is shown next."""
        self._seen = self._new


class BigFigure(Digits):
    """A figure in large digits, drawn again only where it changed; in ASCII where the terminal has no other letters."""

    def __init__(self, value: str = "", **options: Any) -> None:
        super().__init__(value, **options)
        self._seen: str | None = None

    def render(self) -> RenderResult:
        """Three lines."""
        if cast("Letters", self.app).only_ascii:
            return Content("\n".join(ascii_digits(self.value)))
        return super().render()

    def update(self, value: str) -> None:
        """Show this."""
        if value != self.value:
            super().update(value)
        if self._seen is None:
            self._seen = value

    @property
    def has_changed(self) -> bool:
        """Whether it changed since the user has seen it."""
        return self._seen is not None and self.value != self._seen

    def mark_seen(self) -> None:
        """Take what is shown as seen."""
        self._seen = self.value
