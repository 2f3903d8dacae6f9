"""Where a value stands in a job, and the two of everything: sides, ends, states."""

from __future__ import annotations

from typing import Literal

Path = tuple[str | int, ...]
"""Where a value stands in a job, as names and list positions: ("front", "left", "spring", "free_length_mm")."""

Side = Literal["left", "right"]
End = Literal["front", "rear"]
State = Literal["static", "rider"]
SIDES: tuple[Side, Side] = ("left", "right")
ENDS: tuple[End, End] = ("front", "rear")
STATES: tuple[State, State] = ("static", "rider")
