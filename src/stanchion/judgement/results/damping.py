"""The records of how fast both ends of a machine swing, and how much damping would just stop that."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.model import End
from stanchion.judgement.results.dampers import Stroke
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.left_out import LeftOut


@record(kw_only=True)
class DampingRatio:
    """Damping by a damper sheet as a share of the critical one."""

    stroke: Stroke
    wheel_mm_per_s: float
    """Vertical speed of the wheel."""
    ratio: Figure


@record(kw_only=True)
class EndDamping:
    """One end at rider sag."""

    wheel_rate_n_per_mm: Figure
    """Vertical rate at the wheel, the air squeezed slowly."""
    sprung_kg: Figure
    """Mass that its springs carry with the rider aboard."""
    weighed: bool
    """Whether what the wheel carries with the rider aboard is by scales or masses, not by the sags."""
    unsprung_known: bool
    """Whether its unsprung mass was entered."""
    frequency_hz: Figure
    """How often it would swing in a second without damping."""
    critical_n_s_per_m: Figure
    """The damping at the wheel with which it no longer swings past."""
    ratios: tuple[DampingRatio, ...]
    """The damping ratio in both strokes; empty without a sheet of its damper."""
    omitted: tuple[LeftOut, ...]
    """What is left out of the rate because it was not entered."""


@record(kw_only=True)
class DampingFigures:
    """Both ends."""

    front: EndDamping
    rear: EndDamping
    front_to_rear: Figure
    """Frequency of the front over that of the rear."""

    def end(self, end: End) -> EndDamping:
        """One end."""
        return self.front if end == "front" else self.rear
