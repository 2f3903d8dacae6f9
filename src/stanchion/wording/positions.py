"""Positions of adjusters and dampers in words: numbers of turns, clicks, rings and mm, and what they count from."""

from __future__ import annotations

from stanchion.job.spec import Kind
from stanchion.units.quantity import show

DAMPERS: dict[str, str] = {
    "compression": "compression",
    "rebound": "rebound",
    "low_speed_compression": "low-speed compression",
    "high_speed_compression": "high-speed compression",
}
"""The names of dampers by their fields."""
FROM_CLOSED = "from closed"
"""Dampers count from fully in."""
_ONE = {"turns": "turn", "clicks": "click", "rings": "ring"}


def bare(number: float) -> str:
    """The number alone."""
    return show(number, Kind.COUNT)


def unit_word(number: float, unit: str) -> str:
    """The unit after a number: singular after 1.

    >>> unit_word(1.0, "clicks"), unit_word(2.0, "clicks"), unit_word(1.0, "mm")
    ('click', 'clicks', 'mm')
    """
    return _ONE.get(unit, unit) if abs(abs(number) - 1) < 1e-9 else unit


def counted(number: float, unit: str) -> str:
    """A number of turns, clicks, rings or mm.

    >>> counted(1.0, "clicks"), counted(2.5, "turns")
    ('1 click', '2.5 turns')
    """
    return f"{bare(number)} {unit_word(number, unit)}"


def showing(unit: str) -> str:
    """Words after a position that is read off the adjuster and not counted in turns.

    >>> showing("rings"), showing("turns")
    (' showing', '')
    """
    return " showing" if unit in ("rings", "mm") else ""


def turns_or_clicks(number: float, unit: str) -> str:
    """A number of turns as it is shown elsewhere, or of clicks to a tenth.

    >>> turns_or_clicks(2.5, "turns"), turns_or_clicks(3.0, "clicks")
    ('2.5 turns', '3 clicks')
    """
    return show(number, Kind.TURNS) if unit == "turns" else counted(round(number, 1), unit)
