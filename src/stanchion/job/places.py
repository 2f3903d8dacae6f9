"""Paths of values and comments, and the names of sides, ends and states of sag."""

from __future__ import annotations

from dataclasses import field
from typing import Any, Literal

from stanchion.base.record import record

Path = tuple[str | int, ...]
"""The place of a value in a job, as names and list positions: ("front", "left", "spring", "free_length_mm")."""

Side = Literal["left", "right"]
End = Literal["front", "rear"]
State = Literal["static", "rider"]
SIDES: tuple[Side, Side] = ("left", "right")
ENDS: tuple[End, End] = ("front", "rear")
STATES: tuple[State, State] = ("static", "rider")


@record
class Comment:
    """A comment in a file edited by hand, and its place."""

    path: Path
    """The key, table or entry of a list it belongs to, as the file spells it; empty: the whole of it."""
    place: Literal["above", "beside", "end"]
    """On a line of its own above the key, at the end of its line, or at the end of a table or list."""
    text: str
    """From the # on."""
    of: int = 0
    """For an entry of a list: the length of the list, because an entry is identified by its number alone."""


def comments_kept() -> Any:
    """Declare the comments of a part of a file, with paths relative to that part. Records that differ only in comments
    are equal."""
    return field(default=(), compare=False)
