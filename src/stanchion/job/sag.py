"""Sag as it was read, and beside each reading what the machine had then, so that a change since is noticed."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.places import End
from stanchion.job.spec import Kind, Rate, choice, flag, many, number, part, text


@record(kw_only=True)
class Readings:
    """The readings of one state at one end."""

    down_mm: tuple[float, ...] = many(Kind.LENGTH, 0, 2000, 0.5, most=5)
    """Pushed down and let rise slowly [mm]."""
    up_mm: tuple[float, ...] = many(Kind.LENGTH, 0, 2000, 0.5, most=5)
    """Lifted and let settle slowly [mm]."""
    preload_at: tuple[float, ...] = many(Kind.COUNT, 0, 500, 0.25, most=2)
    """Where the preload adjusters stood when it was read, one for each adjuster; empty: not known."""
    rates_n_per_mm: tuple[Rate, ...] = many(Kind.RATE, 0.1, 1000, 0.25, most=2, two=True)
    """Rates of the springs that were in [N/mm]; empty: not known."""
    stacks_mm: tuple[float, ...] = many(Kind.LENGTH, 0, 1000, 0.5, most=2)
    """Heights of the fork's spacer stacks that were in, one a leg [mm]; empty: not known, or the shock."""
    free_lengths_mm: tuple[float, ...] = many(Kind.LENGTH, 0, 1000, 0.5, most=2)
    """Free lengths of the springs that were in [mm]; empty: not known."""
    set_lengths_mm: tuple[float, ...] = many(Kind.LENGTH, 0, 1000, 0.5, most=2)
    """Set lengths of the springs that were in [mm]; empty: not known."""
    set_lengths_in_mm: tuple[float, ...] = many(Kind.LENGTH, 0, 1000, 0.5, most=2)
    """The same with the adjusters fully in, one for each adjuster; empty: not known."""
    air_gaps_mm: tuple[float, ...] = many(Kind.LENGTH, 0, 500, 5, most=2)
    """Air gaps of the fork, one a leg [mm]; empty: not known, or the shock."""
    linkage_mm: tuple[float, ...] = many(Kind.LENGTH, 0, 500, 5, most=24)
    """Pairs of the linkage that was in, wheel and shock travel by turns; of one by its points the length of its link,
    0 for as they have it [mm]; empty: not known, or the fork."""
    motion_ratios: tuple[float, ...] = many(Kind.RATIO, 0.1, 2, 0.01, most=1)
    """Its motion ratio where no pairs were measured; empty: not known, or the fork."""
    riders_kg: tuple[float, ...] = many(Kind.MASS, 20, 250, 0.5, most=1)
    """Mass of the rider aboard [kg]; empty: not known, or the machine alone."""
    second_springs: tuple[float, ...] = many(Kind.COUNT, 0, 2000, 0.5, most=14)
    """What was recorded of second springs that were in (see `second_springs` in measured.py); empty: there were none,
    or not known."""
    pressures_bar: tuple[float, ...] = many(Kind.PRESSURE, 0, 30, 0.1, most=6)
    """Pressures set in fork legs that are sprung by air, of each first the main, then the balance, then the outer
    chamber [bar]; empty: not known, or none."""


@record(kw_only=True)
class SagEnd:
    """Sag readings at one end."""

    gauge: str = choice("length", "travel")
    """A length that shrinks as the suspension moves, or a gauge that reads travel used directly."""
    hanging_mm: tuple[float, ...] = many(Kind.LENGTH, 0, 2000, 0.5, most=5)
    """L1: the length with the wheel hanging clear [mm]; not used with a gauge that reads travel."""
    hanging_holds: bool = flag()
    """Whether nothing that L1 depends on was changed since it was read."""
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
