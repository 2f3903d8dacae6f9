"""Text set in columns of a printed page, where a wide character takes two."""

from __future__ import annotations

import re
import unicodedata

from stanchion.units.known_units import UNITS

BOUND = "\u00a0"
"""A blank at which no line is broken."""
_NAMES = sorted({re.escape(unit.name) for units in UNITS.values() for unit in units if unit.name} | {"turn", "clicks?"})
_BEFORE_UNIT = re.compile(rf"(?<=\d) (?=(?:{'|'.join(_NAMES)})(?![^\W_]))")


def columns(text: str) -> int:
    """How many columns a text takes.

    >>> columns("Möwe"), columns("灰色")
    (4, 4)
    """
    return sum(map(_width, text))


def bound(text: str) -> str:
    """The text with each number bound to the unit after it.

    >>> bound("12.0 mm, in band").replace(BOUND, "_")
    '12.0_mm, in band'
    """
    return _BEFORE_UNIT.sub(BOUND, text)


def padded(text: str, width: int) -> str:
    """The text with blanks up to a width.

    >>> padded("灰", 4) + "|"
    '灰  |'
    """
    return text + " " * (width - columns(text))


def wrapped(text: str, width: int, first: str = "", rest: str = "") -> list[str]:
    """The text in lines of at most so many columns; a word that is longer is broken, a number
    not parted from its unit.

    Args:
        text: what to set.
        width: columns of a line, indent included; at least two more than the indents take.
        first: put before the first line.
        rest: put before every other line.

    >>> wrapped("one two three", 9, "- ", "  ")
    ['- one two', '  three']
    """
    lines: list[str] = []
    line, room, empty = first, width - columns(first), True
    for word in _pieces(bound(text), width - max(columns(first), columns(rest))):
        need = columns(word) + (0 if empty else 1)
        if need > room:
            lines.append(line)
            line, room, empty, need = rest, width - columns(rest), True, columns(word)
        line += word if empty else f" {word}"
        room, empty = room - need, False
    return [one.replace(BOUND, " ") for one in (lines if empty else [*lines, line])]


def _pieces(text: str, width: int) -> list[str]:
    """The words, those broken that are longer than a line."""
    pieces = []
    for word in filter(None, text.split(" ")):
        piece = ""
        for character in word:
            if columns(piece) + _width(character) > width:
                pieces.append(piece)
                piece = ""
            piece += character
        pieces.append(piece)
    return pieces


def _width(character: str) -> int:
    if unicodedata.category(character) in ("Mn", "Me"):
        return 0
    return 2 if unicodedata.east_asian_width(character) in ("W", "F") else 1
