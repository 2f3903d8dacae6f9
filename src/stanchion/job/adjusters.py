"""What is turned: preload adjusters and dampers."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.spec import Kind, choice, number


@record(kw_only=True)
class Adjuster:
    """What sets preload: a fork cap's adjuster, or the collar of a shock."""

    counting: str = choice("turns", "rings", "mm", "none")
    """How its position is read: turns from fully out, rings showing, mm showing, or there is no adjuster."""
    total_turns: float | None = number(Kind.TURNS, 0.1, 200, 0.5)
    """Turns from fully out to fully in."""
    pitch_mm: float | None = number(Kind.LENGTH, 0.05, 20, 0.25)
    """Preload added by one turn, from the thread [mm]."""
    reading_out: float | None = number(Kind.COUNT, 0, 500, 0.5)
    """Rings or mm showing when fully out."""
    reading_in: float | None = number(Kind.COUNT, 0, 500, 0.5)
    """Rings or mm showing when fully in."""
    now: float | None = number(Kind.COUNT, 0, 500, 0.25)
    """Present position, counted as said above."""


@record(kw_only=True)
class Clicker:
    """A damper adjuster, counted from fully in (closed)."""

    now: float | None = number(Kind.COUNT, 0, 200, 1)
    """Clicks or turns out from fully in."""
    total: float | None = number(Kind.COUNT, 0.25, 200, 1)
    """Clicks or turns from fully in to fully out."""
    unit: str = choice("clicks", "turns")
    """What is counted."""
