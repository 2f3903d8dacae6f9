"""Rates and forces of springs worked out by hand, and a weighed machine to put springs into."""

from __future__ import annotations

from dataclasses import replace

from judgement_jobs import FULL, put
from stanchion.job.model import Job, Weights
from stanchion.job.spec import Progressive, Rate

WEIGHED = put(
    replace(FULL, sag=Job().sag),
    weights=Weights(
        front_alone_kg=90.0,
        rear_alone_kg=90.0,
        front_aboard_kg=110.0,
        rear_aboard_kg=150.0,
        front_unsprung_kg=15.0,
        rear_unsprung_kg=20.0,
    ),
    front__travel_mm=120.0,
    rear__stroke_mm=60.0,
    rear__wheel_travel_mm=120.0,
)
"""Without sags, so that what is expected is what springs and loads predict."""


def one_rate(rate: Rate | None) -> float:
    """The rate [N/mm]; 0 where none is recorded."""
    if isinstance(rate, Progressive):
        raise TypeError(f"{rate} is not one rate")
    return rate or 0.0


def rising_force(start: float, end: float, over: float, u: float) -> float:
    """Force of a rate that rises evenly over so much compression, and then stays."""
    bent = min(max(u, 0.0), over)
    return start * bent + (end - start) / (2 * over) * bent**2 + end * max(0.0, u - over)


def known(value: float | None) -> float:
    """The value, which is there."""
    assert value is not None
    return value
