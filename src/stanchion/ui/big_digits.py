"""Digits as large as there is room for, drawn with blocks, to be read from a step away. Pure: text in, lines out."""

from __future__ import annotations

SEGMENTS = {
    "0": "abcdef",
    "1": "bc",
    "2": "abged",
    "3": "abgcd",
    "4": "fgbc",
    "5": "afgcd",
    "6": "afgedc",
    "7": "abc",
    "8": "abcdefg",
    "9": "abcdfg",
    "-": "g",
    "−": "g",
    "–": "g",
}
"""Which bars make a figure: a above, g across the middle, d below; f and b upper left and right, e and c lower."""
POINTS = ".,"
HEIGHTS = (15, 13, 11, 9, 7, 5)
GAP = 2
"""Columns between two figures."""


def big_digits(text: str, width: int, height: int, *, plain: bool = False) -> list[str]:
    """A number in the largest digits that fit; no lines where none do, or where it holds more than a number.

    Args:
        text: digits, a sign, a point or comma.
        width: columns there are.
        height: lines there are.
        plain: in ASCII, for a terminal that has no block characters.

    >>> big_digits("1.", 20, 5, plain=True)
    ['   ##', '   ##', '   ##', '   ##', '   ##  ##']
    >>> big_digits("9 7/8 in", 80, 24)
    []
    """
    if not text or any(one not in SEGMENTS and one not in POINTS for one in text):
        return []
    for high in HEIGHTS:
        if high <= height and sum(_columns(one, high) + GAP for one in text) - GAP <= width:
            drawn = [_glyph(one, high, "#" if plain else "█") for one in text]
            return [(" " * GAP).join(glyph[line] for glyph in drawn).rstrip() for line in range(high)]
    return []


def ascii_digits(text: str) -> list[str]:
    """A number in ASCII digits of three lines, in the columns of the toolkit's own; other characters are on the last.

    >>> ascii_digits("12.")
    ['    _  ', '  | _| ', '  ||_ .']
    """
    lines = ["", "", ""]
    for one in text:
        bars = SEGMENTS.get(one, "")
        if bars or one == " ":
            cells = [" " + "_ "["a" not in bars] + " "]
            cells += [
                "".join(sign if bar in bars else " " for bar, sign in zip(row, "|_|", strict=True))
                for row in ("fgb", "edc")
            ]
        else:
            cells = [" ", " ", one]
        lines = [line + cell for line, cell in zip(lines, cells, strict=True)]
    return lines


def _stroke(high: int) -> int:
    return 2 if high > 9 else 1


def _columns(one: str, high: int) -> int:
    return 2 * _stroke(high) if one in POINTS else high


def _glyph(one: str, high: int, ink: str) -> list[str]:
    """One figure: bars of so many lines, twice as many columns, a cell being twice as tall as wide."""
    thick, wide = _stroke(high), _columns(one, high)
    if one in POINTS:
        return [" " * wide] * (high - thick) + [ink * wide] * thick
    grid = [[" "] * wide for _ in range(high)]
    middle = (high - thick) // 2
    across = {"a": 0, "g": middle, "d": high - thick}
    for bar in SEGMENTS[one]:
        if bar in across:
            lines, columns = range(across[bar], across[bar] + thick), range(wide)
        else:
            lines = range(middle + thick) if bar in "fb" else range(middle, high)
            columns = range(2 * thick) if bar in "fe" else range(wide - 2 * thick, wide)
        for line in lines:
            for column in columns:
                grid[line][column] = ink
    return ["".join(row) for row in grid]
