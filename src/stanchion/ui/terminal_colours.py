"""How many colours the terminal has that the program runs in."""

from __future__ import annotations

import re
from collections.abc import Mapping
from enum import Enum

_CONSOLES = re.compile(r"linux|cons\d+.*", re.ASCII)


class Colours(Enum):
    """What a terminal can show."""

    FULL = "full colour"
    MANY = "256 colours"
    FEW = "16 colours"
    """Or fewer."""


def is_console(environ: Mapping[str, str]) -> bool:
    """Whether the terminal is a system's text console, which shows underlined and slanted letters in a colour."""
    return bool(_CONSOLES.fullmatch(environ.get("TERM", "")))


def colours_of(system: str | None, environ: Mapping[str, str]) -> Colours:
    """What the terminal can show. A console has 16 colours whatever COLORTERM says.

    Args:
        system: what Rich makes of the environment; None: nothing is known.
        environ: the environment.

    >>> colours_of("256", {"TERM": "xterm-256color"}).name, colours_of("truecolor", {"TERM": "linux"}).name
    ('MANY', 'FEW')
    """
    if is_console(environ):
        return Colours.FEW
    return {"truecolor": Colours.FULL, "256": Colours.MANY}.get(system or "", Colours.FEW)
