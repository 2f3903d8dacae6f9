"""What the program concludes of the terminal it runs in: size, colours, letters. For `stanchion doctor`."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping

from rich.console import Console
from textual.constants import COLOR_SYSTEM

from stanchion.base.ascii_only import VARIABLES, only_ascii
from stanchion.base.text import clean
from stanchion.commands.doctor import DoctorLine
from stanchion.ui.few_colours import Colours, colours_of
from stanchion.ui.space import LEAST
from stanchion.wording.american import worded


def terminal(letters_set: str) -> list[DoctorLine]:
    """Size, colours and letters, with the environment variables they were concluded from.

    Args:
        letters_set: the letters the user has set in the config file.
    """
    return [_size(), DoctorLine(f"{_variables(('TERM', 'COLORTERM', 'NO_COLOR'))}: {colours()}"), letters(letters_set)]


def colours(environ: Mapping[str, str] = os.environ) -> str:
    """What is drawn with, as the program itself finds out."""
    without_no_color = {name: value for name, value in environ.items() if name != "NO_COLOR"}
    system = Console(color_system=COLOR_SYSTEM, force_terminal=True, _environ=without_no_color).color_system  # type: ignore[arg-type]
    colours_there = colours_of(system, environ)
    if "NO_COLOR" in environ:
        return worded(
            f"no colour, {'black and white' if colours_there is Colours.FEW else 'shades of grey'} (NO_COLOR is set)"
        )
    if system is None:
        return worded("no colour")
    drawn = ", drawn in black and white" if colours_there is Colours.FEW else ""
    return worded(f"{colours_there.value}{drawn}")


def letters(letters_set: str) -> DoctorLine:
    """Whether the screens are drawn in Unicode or in ASCII alone, as the program itself decides."""
    encoding = sys.stdout.encoding or "unknown"
    plain, by_hand = only_ascii(letters_set, os.environ, encoding), letters_set in ("ascii", "unicode")
    words = f"{encoding}, drawn in {'ASCII' if plain else 'Unicode'}"
    if by_hand:
        words += f" (letters = '{letters_set}' in config.toml)"
    elif plain:
        words += "; if it has more letters, set LANG to a UTF-8 locale, such as C.UTF-8"
    return DoctorLine(f"{_variables(VARIABLES)}: {words}", plain and not by_hand)


def _size() -> DoctorLine:
    for stream in filter(None, (sys.stdout, sys.stdin, sys.stderr)):  # one that was closed is None
        try:
            columns, lines = os.get_terminal_size(stream.fileno())
        except (OSError, ValueError):
            continue
        if not columns or not lines:
            break
        small = columns < LEAST[0] or lines < LEAST[1]
        size = f"{columns} columns, {lines} lines"
        least = f"every screen has room from {LEAST[0]} x {LEAST[1]}"
        return DoctorLine(
            f"{size}: small, only the field in hand and the worst warning; {least}" if small else size, small
        )
    return DoctorLine("size not known: this does not run in a terminal, or the terminal does not report it")


def _variables(names: tuple[str, ...]) -> str:
    return ", ".join(
        f"{name} {clean(os.environ[name], 40) or 'empty' if name in os.environ else '-'}" for name in names
    )
