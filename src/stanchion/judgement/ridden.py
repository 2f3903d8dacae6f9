"""The shape of what a run tells, as it hangs on an Assessment."""

from __future__ import annotations

from dataclasses import dataclass

from stanchion.job.model import End
from stanchion.judgement.figures import Figure


@dataclass(frozen=True, slots=True, kw_only=True)
class EndUsed:
    """Travel used at one end: along the leg at the front, of the shock at the rear, where the markers sit."""

    used_mm: Figure
    available_mm: Figure
    """Full travel or stroke, less rigid packers."""
    left_mm: Figure


@dataclass(frozen=True, slots=True, kw_only=True)
class RunFigures:
    """What one run tells."""

    front: EndUsed
    rear: EndUsed

    def end(self, end: End) -> EndUsed:
        """One end."""
        return self.front if end == "front" else self.rear


@dataclass(frozen=True, slots=True, kw_only=True)
class SagBehind:
    """What the reading of a marker leans on: sag as captured, and what the adjuster has left."""

    static_mm: Figure
    rider_verdict: str
    headroom_in_mm: Figure
