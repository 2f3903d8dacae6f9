"""The sag readings."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.places import End
from stanchion.job.spec import Kind, choice, many, number, part, text


@record(kw_only=True)
class Readings:
    """The readings of one state at one end."""

    down_mm: tuple[float, ...] = many(Kind.LENGTH, 0, 2000, 0.5, most=5)
    """Pushed down and let rise slowly [mm]."""
    up_mm: tuple[float, ...] = many(Kind.LENGTH, 0, 2000, 0.5, most=5)
    """Lifted and let settle slowly [mm]."""
    preload_at: tuple[float, ...] = many(Kind.COUNT, 0, 500, 0.25, most=2)
    """Where the preload adjusters stood when it was read, one a leg or that of the shock; empty: not known."""
    rates_n_per_mm: tuple[float, ...] = many(Kind.RATE, 0.1, 1000, 0.25, most=2)
    """Rates of the springs that were in [N/mm]; empty: not known."""
    stacks_mm: tuple[float, ...] = many(Kind.LENGTH, 0, 1000, 0.5, most=2)
    """Heights of the fork's spacer stacks that were in, one a leg [mm]; empty: not known, or the shock."""


@record(kw_only=True)
class SagEnd:
    """Sag readings at one end."""

    gauge: str = choice("length", "travel")
    """A length that shrinks as the suspension moves, or a gauge that reads travel used directly."""
    hanging_mm: tuple[float, ...] = many(Kind.LENGTH, 0, 2000, 0.5, most=5)
    """L1: the length with the wheel hanging clear [mm]; not used with a gauge that reads travel."""
    static: Readings = part(Readings)
    """Machine alone."""
    rider: Readings = part(Readings)
    """Rider aboard, in riding position, in full gear."""


@record(kw_only=True)
class Sag:
    """The sag capture."""

    front: SagEnd = part(SagEnd)
    """Length along the leg."""
    rear: SagEnd = part(SagEnd)
    """Axle to a marked point straight above it."""
    tape_resolution_mm: float | None = number(Kind.LENGTH, 0.01, 10, 0.5)
    """Smallest division of the tape [mm]; None: 1 mm is taken."""
    fuel: str = text(40)
    """Fuel aboard when measured."""

    def end(self, end: End) -> SagEnd:
        """The readings at that end."""
        return self.front if end == "front" else self.rear
