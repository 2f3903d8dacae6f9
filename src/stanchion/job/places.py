"""Where a value or a comment stands in a file, and the two of everything: sides, ends, states."""

from __future__ import annotations

from dataclasses import field
from typing import Any, Literal

from stanchion.base.record import record

Path = tuple[str | int, ...]
"""Where a value stands in a job, as names and list positions: ("front", "left", "spring", "free_length_mm")."""

Side = Literal["left", "right"]
End = Literal["front", "rear"]
State = Literal["static", "rider"]
SIDES: tuple[Side, Side] = ("left", "right")
ENDS: tuple[End, End] = ("front", "rear")
STATES: tuple[State, State] = ("static", "rider")


@record
class Comment:
    """A comment that somebody wrote into a file by hand, and where it stands."""

    path: Path
    """The key, table or entry of a list it belongs to, as the file spells it; empty: the whole of it."""
    place: Literal["above", "beside", "end"]
    """On a line of its own above it, on its line behind it, or at its end: below all that a table or a list holds."""
    text: str
    """From the # on."""
    of: int = 0
    """Of an entry of a list: how many entries the list had, for an entry is known by its number alone."""


def comments_kept() -> Any:
    """Declare the comments of a part of a file, with paths that begin at that part. They make no difference to what the
    part is."""
    return field(default=(), compare=False)
