"""What meets the suspension at both ends of its travel: top-out spring, bump rubber or cone, hydraulic stop."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.spec import Kind, choice, number, rows


@record(kw_only=True)
class BenchPair:
    """One reading of a top-out spring on the bench."""

    travel_mm: float | None = number(Kind.LENGTH, 0, 150, 1)
    """Travel from the mechanical stop [mm]."""
    force_n: float | None = number(Kind.FORCE, 0, 20_000, 10)
    """Force with which the spring pulls in there [N]."""


@record(kw_only=True)
class TopOut:
    """The short spring that works against the main spring near full extension."""

    fitted: str = choice("unknown", "yes", "no")
    """Whether there is one."""
    rate_n_per_mm: float | None = number(Kind.RATE, 0.1, 1000, 1)
    """Its rate [N/mm]."""
    works_over_mm: float | None = number(Kind.LENGTH, 0, 150, 1)
    """Length over which it works, from the mechanical stop [mm]."""
    bench: tuple[BenchPair, ...] = rows(BenchPair, 5)
    """Readings on the bench, main spring out: they give the rate and the length where these are not entered."""


@record(kw_only=True)
class StopPair:
    """One reading of a bump rubber or cone."""

    squeezed_mm: float | None = number(Kind.LENGTH, 0, 150, 1)
    """How far it is pressed from its free height [mm]."""
    force_n: float | None = number(Kind.FORCE, 0, 50_000, 50)
    """Force it gives there [N]."""


@record(kw_only=True)
class Stops:
    """What meets the suspension near the end of its travel: of a fork, in each leg."""

    touches_mm: float | None = number(Kind.LENGTH, 0, 500, 1)
    """Travel from full extension at which a bump rubber or cone touches, along the leg or of the shaft [mm]; None at
    the shock: as its height says."""
    rate_n_per_mm: float | None = number(Kind.RATE, 0.1, 5000, 5)
    """Its rate from there on [N/mm]; not used where pairs are recorded."""
    pairs: tuple[StopPair, ...] = rows(StopPair, 6)
    """Its force by how far it is pressed."""
    hydraulic_mm: float | None = number(Kind.LENGTH, 0, 100, 1)
    """Length of a hydraulic stop at the end of the travel [mm]."""
