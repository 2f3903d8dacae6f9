"""Which figures of a text have changed, marked for a moment."""

from __future__ import annotations

import re
from collections import defaultdict

from textual.content import Content

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
