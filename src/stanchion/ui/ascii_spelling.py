"""A driver that spells everything drawn in ASCII, for a terminal that has no Unicode.

Plots and large digits have an ASCII form of their own (`plain`); all else is spelt here letter by
letter in as many columns, so that no layout changes. Texts in the job and in the current field are not changed.
Whether a terminal lacks Unicode is decided in base/ascii_only.py.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from functools import lru_cache
from typing import TYPE_CHECKING

from rich.cells import cell_len

if TYPE_CHECKING:
    from textual.driver import Driver

_TOGETHER = ((" · ", " | "), (" → ", " ->"), ("± ", "+-"), ("°C", " C"), ("°  ", "deg"))
"""Several characters that are better replaced together, in as many columns."""
_SPELT = {
    **dict.fromkeys("─╌┄┈╴╶╼╾–—−‐‑‒▔", "-"),
    **dict.fromkeys("━═▒╍", "="),
    **dict.fromkeys("│┃║▏▎▍▌▐▕├┤┣┫╎┆┊", "|"),
    **dict.fromkeys("┌┐└┘┬┴┼┏┓┗┛┳┻╋╭╮╰╯╔╗╚╝╠╣╦╩╬", "+"),
    **dict.fromkeys("█▓■", "#"),
    "░": ":",
    "·": ".",
    **dict.fromkeys("●◆•", "*"),
    "○": "o",
    **dict.fromkeys("›►→▶", ">"),
    **dict.fromkeys("‹◄◂←◀", "<"),
    "▲": "!",
    "↑": "^",
    **dict.fromkeys("▼↓", "v"),
    "✖": "X",
    "×": "x",
    "…": "~",
    "±": "~",
    "°": "d",
    **dict.fromkeys("‘’′´", "'"),
    **dict.fromkeys("“”″„«»", '"'),
    "▀": '"',
    **dict.fromkeys("▁▂▃▄▅▆▇▉▊▋\u2800\xa0\u2002\u2009\u202f", " "),
    **dict(zip("øØłŁđĐðÐıßþÞæÆœŒ", "oOlLdDdDisbBeEeE", strict=True)),
    "µ": "u",
}
_RUN = re.compile(r"[^\x00-\x7f]+")


def in_ascii(text: str) -> str:
    """Text for a terminal, spelt in ASCII in as many columns.

    Accents are left off; what cannot be spelt is a question mark for each of its columns.

    >>> in_ascii("├─S─░░┤ 22.0 °C · Jürgen … 15–25 · 灰")
    '|-S-::| 22.0  C | Jurgen ~ 15-25 | ??'
    """
    if text.isascii():
        return text
    for several, spelt in _TOGETHER:
        text = text.replace(several, spelt)
    return _RUN.sub(lambda run: _spelt(run[0]), text)


@lru_cache(4096)
def _spelt(run: str) -> str:
    columns = cell_len(run)
    spelt = "".join(map(_letter, run))
    return spelt if len(spelt) == columns else spelt[:columns].ljust(columns, "?")


def _letter(letter: str) -> str:
    """One letter in as many columns as it takes."""
    columns = cell_len(letter)
    known = _SPELT.get(letter)
    if known is None:
        bare = unicodedata.normalize("NFKD", letter)
        bare = "".join(one for one in bare if not unicodedata.combining(one))
        known = bare if bare.isascii() and bare.isprintable() and 0 < len(bare) <= columns else "?" * columns
    return known.ljust(columns)[:columns]


def spelling(driver: type[Driver]) -> type[Driver]:
    """A driver class like this one that writes only ASCII, whatever a screen draws."""
    whole: Callable[[Driver, str], None] = driver.write

    def write(self: Driver, data: str) -> None:
        whole(self, in_ascii(data))

    return type(f"Ascii{driver.__name__}", (driver,), {"write": write})
