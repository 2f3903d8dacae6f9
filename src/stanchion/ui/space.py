"""Fitting text to the room there is: what is cut ends with a mark. Pure."""

from __future__ import annotations

import re
import textwrap
from collections import Counter
from collections.abc import Callable, Iterable, Sequence

from rich.cells import cell_len, set_cell_size

HORIZONTAL: list[tuple[int, str]] = [(0, "-slim"), (60, "-narrow"), (80, "-std"), (110, "-wide")]
"""Columns from which a screen has which class."""
VERTICAL: list[tuple[int, str]] = [(0, "-least"), (8, "-flat"), (16, "-low"), (24, "-usual"), (34, "-tall")]
"""The same for lines."""
LEAST = (60, 16)
"""Columns and lines from which every screen can be used in full; with fewer, the current field comes first."""
ELLIPSIS = "…"
HEAD = 3
"""Columns kept of the beginning of a name if two names differ only further on."""


def classes(columns: int, lines: int) -> list[str]:
    """The classes of a screen of this size.

    >>> classes(60, 23), classes(200, 10)
    (['-narrow', '-low'], ['-wide', '-flat'])
    """
    return [
        [name for least, name in steps if size >= least][-1]
        for size, steps in ((max(0, columns), HORIZONTAL), (max(0, lines), VERTICAL))
    ]


def short_lines(lines: int) -> int:
    """Lines for what follows from a sheet, below it, on a screen of so many."""
    return next((most for least, most in ((34, 8), (24, 4), (16, 2), (8, 1)) if lines >= least), 0)


def fitting(hints: Sequence[str], last: Sequence[str], width: int) -> str:
    """The hints in a line, the most needed first; those there is no room for are left out, the last of them first.

    Args:
        hints: the less needed ones, the most needed first.
        last: those that are named as long as there is room at all, the most needed last.
        width: columns there are.

    >>> fitting(["F7 legs", "Enter next"], ["Esc all keys"], 24)
    'F7 legs · Esc all keys'
    >>> fitting(["F7 legs"], ["F6 warnings", "Esc all keys"], 20)
    'Esc all keys'
    """
    offered = [[*hints[:count], *last] for count in range(len(hints), 0, -1)]
    offered += [list(last[at:]) for at in range(len(last))]
    for shown in offered:
        line = " · ".join(shown)
        if cell_len(line) <= width:
            return line
    return cut(last[-1], width) if last else ""


NO_BREAK = "\N{NO-BREAK SPACE}"
_UNIT = re.compile(r"(?<=\d) (?=(?:mm|in|N/mm|kg/mm|lb/in|N|lbf|kg|lb|bar|kPa|psi|s|turns?|clicks?)\b)")
"""Between a number and its unit."""


def cut(text: str, width: int) -> str:
    """The text in at most so many columns; a longer one ends with a mark.

    >>> cut("Damson no. 11", 8), cut("Damson", 8)
    ('Damson …', 'Damson')
    """
    if cell_len(text) <= width:
        return text
    return set_cell_size(text, width - 1) + ELLIPSIS if width > 0 else ""


def cut_within(text: str, width: int) -> str:
    """The text in at most so many columns, shortened in the middle.

    >>> cut_within("Damson with the long swing arm no. 11", 16)
    'Damson w… no. 11'
    """
    if cell_len(text) <= width:
        return text
    tail_width = max(0, (width - 1) // 2)
    tail = text
    while cell_len(tail) > tail_width:
        tail = tail[1:]
    return set_cell_size(text, max(0, width - 1 - cell_len(tail))) + ELLIPSIS + tail if width > 1 else cut(text, width)


def wrapped_whole(text: str, width: int, *, subsequent_indent: str = "") -> list[str]:
    """The text wrapped so that no line ends between a number and its unit.

    >>> wrapped_whole("over the limit of 15 mm. Recheck", 20)
    ['over the limit of', '15 mm. Recheck']
    """
    joined = _UNIT.sub(NO_BREAK, text)
    lines = textwrap.wrap(joined, width, subsequent_indent=subsequent_indent)
    return [line.replace(NO_BREAK, " ") for line in lines]


def in_lines(text: str, width: int, most: int) -> list[str]:
    """The text wrapped into so many lines at most; where that is not enough, the last one ends with a mark.

    >>> in_lines("Preload is over its limit", 12, 2)
    ['Preload is', 'over its …']
    """
    if most < 1 or width < 1:
        return []
    lines = wrapped_whole(text, width) or [""]
    if len(lines) <= most:
        return lines
    last = lines[most - 1]
    while last and cell_len(last) > width - 2:
        last = last.rpartition(" ")[0]
    return [*lines[: most - 1], f"{last} {ELLIPSIS}" if last else cut(lines[most - 1] + " ", width)]


def kept_distinct(names: Iterable[str], width: int) -> dict[str, str]:
    """Each name in at most so many columns, no two different ones alike.

    They are cut at the end; those that would look alike so are cut in the middle, or where they begin to differ; and
    where there is no room even for that, they are numbered.

    >>> kept_distinct(["Damson with the long arm, 11", "Damson with the long arm, 12", "Quince"], 12)["Quince"]
    'Quince'
    >>> sorted(kept_distinct(["Damson with the long arm, 11", "Damson with the long arm, 12"], 12).values())
    ['Damson…m, 11', 'Damson…m, 12']
    """
    different = list(dict.fromkeys(names))
    if width < 1:
        return dict.fromkeys(different, "")
    shown: dict[str, str] = {}
    pending = different
    for way in (cut, cut_within, _from_where_they_differ(different)):
        cut_so = {name: way(name, width) for name in pending}
        seen = Counter([*shown.values(), *cut_so.values()])
        shown |= {name: words for name, words in cut_so.items() if seen[words] == 1}
        pending = [name for name in pending if name not in shown]
    number = 0
    for name in pending:
        words = ""
        while not words or words in shown.values():
            number += 1
            words = cut(name, max(1, width - len(str(number)))) + str(number)
        shown[name] = words
    return shown


def _from_where_they_differ(names: Sequence[str]) -> Callable[[str, int], str]:
    def way(name: str, width: int) -> str:
        most = max((_in_common(name, other) for other in names if other != name), default=0)
        if most <= HEAD + 1:
            return cut(name, width)
        return cut(f"{name[:HEAD]}{ELLIPSIS}{name[most:]}", width)

    return way


def _in_common(one: str, other: str) -> int:
    """The letters that both begin with."""
    pairs = enumerate(zip(one, other, strict=False))
    return next((at for at, (a, b) in pairs if a != b), min(len(one), len(other)))
