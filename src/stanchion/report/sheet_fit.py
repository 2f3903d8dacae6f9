"""What of the sheet has room on one printed page: text in columns, and how much of the longer texts."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence

from stanchion.base.record import record
from stanchion.report.sheet_shape import Line, Section
from stanchion.units.known_units import UNITS

OVER = 2
"""Lines a section takes beside its own: a blank and its title."""
LEAST = OVER + 1
"""Lines without which a section is not begun: one of its own. What is left out is counted in its title."""


@record
class Shown:
    """A section as far as there is room for it."""

    title: str
    lines: tuple[Line, ...]
    of: int
    """How many lines there are."""
    room: int
    """Lines it was given, its title apart."""
    whole: bool
    """Whether all of them are here, and none is cut short."""


def fitted(sections: Sequence[Section], room: int, width: int) -> tuple[Shown, ...]:
    """The sections within so many printed lines, in their order, which is that of their weight.

    Each takes the lines it needs, as long as those after it can still be begun; where even that is not possible, the
    first has half of the room. A section for which there is no room at all comes back without lines.

    Args:
        sections: the sections, the most important first.
        room: lines there are, a blank and a title for each section included.
        width: columns of a line.
    """
    filled = [section for section in sections if section.lines]
    needs = [OVER + sum(len(set_line(line, width)) for line in section.lines) for section in filled]
    given = []
    left = room
    for at, need in enumerate(needs):
        others = sum(min(other, LEAST) for other in needs[at + 1 :])
        wanted = min(need, max(left - others, min(need, max(LEAST, left // 2) if at == 0 else LEAST)))
        given.append(wanted if LEAST <= wanted <= left else 0)
        left -= given[-1]
    return tuple(_shown(section, lines - OVER, width) for section, lines in zip(filled, given, strict=True))


def set_line(line: Line, width: int) -> list[str]:
    """One line as it is printed, over as many lines as it takes."""
    return wrapped(f"{line.word} {line.text}".strip(), width, "  ", "    ")


def _shown(section: Section, room: int, width: int) -> Shown:
    kept: list[Line] = []
    used = 0
    for line in section.lines:
        takes = len(set_line(line, width))
        if used + takes > room:
            if used < room:
                kept.append(_cut(line, room - used, width))
            break
        kept.append(line)
        used += takes
    return Shown(section.title, tuple(kept), len(section.lines), max(room, 0), kept == list(section.lines))


def _cut(line: Line, lines: int, width: int) -> Line:
    """The beginning of a line, in so many printed lines, with an ellipsis."""
    words = " ".join(part.strip() for part in set_line(line, width)[:lines])
    body = words[len(line.word) :].strip()
    while body and len(set_line(Line(line.word, f"{body} …"), width)) > lines:
        body = body[:-1].rstrip()
    return Line(line.word, f"{body} …" if columns(body) else "…")


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
