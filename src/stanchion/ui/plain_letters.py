"""A terminal that has no Unicode: whether this is one, and everything that is drawn spelt in ASCII.

Both are decided here and nowhere else. What is a picture has an ASCII form of its own (`plain` of plots and large
digits); all else is spelt on its way to the terminal, letter by letter in as many columns, so that no layout changes
and what is kept, in the job and in the field in hand, stays as it is.
"""

from __future__ import annotations

import codecs
import os
import re
import sys
import unicodedata
from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import TYPE_CHECKING

from rich.cells import cell_len

if TYPE_CHECKING:
    from textual.driver import Driver

VARIABLES = ("LC_ALL", "LC_CTYPE", "LANG")
"""Where the letters of a terminal are said, the first that is set before the others."""
_COERCED = ("C.UTF-8", "C.utf8", "UTF-8")
_CONSOLES = re.compile(r"linux|dumb|unknown|cons\d+.*|vt\d+.*|ansi", re.ASCII)
"""Kinds of terminal that have few letters beyond ASCII, or none, whatever is said of their encoding."""


def only_ascii(
    setting: str, environ: Mapping[str, str] = os.environ, encoding: str | None = None, *, coerced: bool | None = None
) -> bool:
    """Whether the terminal is written to in ASCII alone.

    Args:
        setting: "ascii" or "unicode" as the user has set it; anything else: as the terminal is.
        environ: the environment.
        encoding: what is written in; None: that of standard output.
        coerced: whether Python took UTF-8 because the locale was the bare one; None: as it did.

    >>> only_ascii("", {"TERM": "xterm", "LANG": "C.UTF-8"}, "utf-8"), only_ascii("", {"LC_ALL": "C"}, "utf-8")
    (False, True)
    """
    if setting in ("ascii", "unicode"):
        return setting == "ascii"
    if encoding is None:
        encoding = getattr(sys.__stdout__, "encoding", None)
    if not _is_utf_8(encoding or "ascii") or _CONSOLES.fullmatch(environ.get("TERM", "")):
        return True
    name = locale_named(environ, coerced=coerced)
    if name.partition("@")[0] in ("C", "POSIX"):
        return True
    letters = name.partition("@")[0].partition(".")[2]
    return bool(letters) and not _is_utf_8(letters)


def locale_named(environ: Mapping[str, str] = os.environ, *, coerced: bool | None = None) -> str:
    """The locale that the environment names for letters; empty where it names none.

    Where none is named nothing is known of the terminal, and Python's own guess, UTF-8, stands. Where the bare locale
    is named Python sets LC_CTYPE itself (PEP 538), which says nothing of the terminal either.
    """
    if coerced is None:
        coerced = sys.flags.utf8_mode == 1 and not environ.get("PYTHONUTF8")
    for name in VARIABLES:
        value = environ.get(name, "")
        if value and not (name == "LC_CTYPE" and coerced and value in _COERCED):
            return value
    return ""


def _is_utf_8(encoding: str) -> bool:
    try:
        return codecs.lookup(encoding).name == "utf-8"
    except LookupError:
        return False


# --- spelling -----------------------------------------------------------------------------------------------------

_TOGETHER = ((" · ", " | "), (" → ", " ->"), ("± ", "+-"), ("°C", " C"), ("°  ", "deg"))
"""What stands better for several characters at once, in as many columns."""
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
    """What is written to a terminal, spelt in ASCII, in as many columns.

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
    """The same driver, which writes ASCII alone: the net below every screen."""
    whole: Callable[[Driver, str], None] = driver.write

    def write(self: Driver, data: str) -> None:
        whole(self, in_ascii(data))

    return type(f"Ascii{driver.__name__}", (driver,), {"write": write})
