"""What the program concludes of the terminal it runs in: size, colours, letters. For `stanchion doctor`."""

from __future__ import annotations

import codecs
import os
import sys
from collections.abc import Mapping

from rich.console import Console
from textual.constants import COLOR_SYSTEM

from stanchion.doctor import Told
from stanchion.text import clean

COLUMNS, LINES = 80, 24
"""The least size at which all is shown."""

_COLOURS = {"standard": "16 colours", "256": "256 colours", "truecolor": "full colour", "windows": "16 colours"}


def terminal() -> list[Told]:
    """Size, colours and letters, with the environment variables they were concluded from."""
    return [_size(), Told(f"{_variables(('TERM', 'COLORTERM', 'NO_COLOR'))}: {colours()}"), letters()]


def colours(environ: Mapping[str, str] = os.environ) -> str:
    """What is drawn with, as the library that draws finds out."""
    if "NO_COLOR" in environ:
        return "no colour, shades of grey (NO_COLOR is set)"
    system = Console(color_system=COLOR_SYSTEM, force_terminal=True, _environ=environ).color_system  # type: ignore[arg-type]
    return _COLOURS.get(system or "", "no colour")


def letters() -> Told:
    """Whether the terminal is written to in UTF-8."""
    encoding = sys.stdout.encoding or "unknown"
    try:
        utf8 = codecs.lookup(encoding).name == "utf-8"
    except LookupError:
        utf8 = False
    words = "UTF-8" if utf8 else f"{encoding}, NOT UTF-8: set LANG to a UTF-8 locale, such as C.UTF-8"
    return Told(f"{_variables(('LC_ALL', 'LC_CTYPE', 'LANG'))}: {words}", not utf8)


def _size() -> Told:
    for stream in (sys.stdout, sys.stdin, sys.stderr):
        try:
            columns, lines = os.get_terminal_size(stream.fileno())
        except (OSError, ValueError):
            continue
        if not columns or not lines:
            break
        small = columns < COLUMNS or lines < LINES
        told = f"{columns} columns, {lines} lines"
        return Told(f"{told}: too small, all is shown from {COLUMNS} x {LINES}" if small else told, small)
    return Told("size not known: this does not run in a terminal, or the terminal does not tell")


def _variables(names: tuple[str, ...]) -> str:
    return ", ".join(
        f"{name} {clean(os.environ[name], 40) or 'empty' if name in os.environ else '-'}" for name in names
    )
