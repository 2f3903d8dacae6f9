"""Terminals without all letters: recognising one, and printing stand-ins for the letters it lacks."""

from __future__ import annotations

import codecs
import io
import os
import re
import sys
import unicodedata
from collections.abc import Mapping
from typing import TextIO

VARIABLES = ("LC_ALL", "LC_CTYPE", "LANG")
"""Environment variables that name the letters of a terminal; the first that is set counts."""
_KEYS = bytes(range(128))
_COERCED = ("C.UTF-8", "C.utf8", "UTF-8")
_CONSOLES = re.compile(r"linux|dumb|unknown|cons\d+.*|vt\d+.*|ansi", re.ASCII)
"""Kinds of terminal that have few letters beyond ASCII, or none, whatever is said of their encoding."""


def only_ascii(
    setting: str, environ: Mapping[str, str] = os.environ, encoding: str | None = None, *, coerced: bool | None = None
) -> bool:
    """Whether to write only ASCII to the terminal.

    Args:
        setting: the user's setting, "ascii" or "unicode"; anything else: find out from the terminal.
        environ: the environment.
        encoding: of the output; None: that of standard output.
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
    """The locale that the environment names for letters; empty if it names none.

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


def typed_in(environ: Mapping[str, str] = os.environ) -> str:
    """The encoding in which a terminal sends what is typed: what the locale names, otherwise UTF-8.

    >>> typed_in({"LANG": "de_DE.ISO-8859-15@euro"}), typed_in({"LANG": "de_DE.utf8"}), typed_in({"LANG": "C"})
    ('iso8859-15', 'utf-8', 'utf-8')
    """
    named = locale_named(environ).partition("@")[0].partition(".")[2] or "utf-8"
    try:
        # Not every codec is one of letters, nor has each the keys of a terminal where ASCII has them.
        return codecs.lookup(named).name if _KEYS.decode(named) == _KEYS.decode("ascii") else "utf-8"
    except (LookupError, ValueError):
        return "utf-8"


def _is_utf_8(encoding: str) -> bool:
    try:
        return codecs.lookup(encoding).name == "utf-8"
    except LookupError:
        return False


def prints(stream: TextIO) -> None:
    """Make a stream replace the letters that its terminal lacks; output that goes elsewhere keeps its encoding."""
    if isinstance(stream, io.TextIOWrapper):
        bare = stream.isatty() and only_ascii("", encoding=stream.encoding)
        stream.reconfigure(encoding="ascii" if bare else None, errors=IN_PLAIN_LETTERS)


# --- stand-ins in print -------------------------------------------------------------------------------------------

IN_PLAIN_LETTERS = "stanchion_plain"
_PLAIN = {
    "\u2212": "-",
    "\u2013": "-",
    "\u2192": "->",
    "\u2026": "...",
    "\u00b0": " deg",
    "\u00b7": ".",
    "\u00b1": "+-",
    "\u00d7": "x",
}
"""A sign must not be lost."""


def plainly(error: UnicodeError) -> tuple[str, int]:
    """Stand-ins for letters that the encoding of a terminal lacks."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    lacking = error.object[error.start : error.end]
    return "".join(_PLAIN.get(letter) or _bare(letter) for letter in lacking), error.end


def _bare(letter: str) -> str:
    """A letter without its accent, where there is one in ASCII."""
    bare = unicodedata.normalize("NFKD", letter)[0]
    return bare if bare.isascii() and bare.isalnum() else "?"


codecs.register_error(IN_PLAIN_LETTERS, plainly)
