"""The records of weights on both wheels, of the centre of mass, and of a machine on the brakes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from stanchion.base.record import record
from stanchion.job.model import State
from stanchion.judgement.results.figures import Figure, derive
from stanchion.judgement.results.left_out import LeftOut

HeightFrom = Literal["lifted", "entered", "usual", ""]
"""Where a height is from: the front lifted, entered as known or judged, the usual range, or there is none."""


@record(kw_only=True)
class WheelWeights:
    """Weights on both wheels and the centre of mass, level, in one state."""

    front_kg: Figure
    rear_kg: Figure
    total_kg: Figure
    front_share_pct: Figure
    ahead_mm: Figure
    """Centre of mass ahead of the rear contact."""
    ahead_expanded_mm: Figure
    """Its expanded uncertainty, about 95 %."""
    height_mm: Figure
    """Height of the centre of mass above the ground."""
    height_expanded_mm: Figure
    """Its expanded uncertainty; of a height that was not measured half of the usual range, or absent."""
    height_from: HeightFrom
    lifted_deg: Figure
    """Largest angle by which the front was lifted."""


@record(kw_only=True)
class OnBrakes:
    """A machine with its rider that brakes steadily, the air of its fork squeezed in one way."""

    fork_used_mm: Figure
    """Fork travel from the hanging wheel, as sag and a marker count."""
    fork_left_mm: Figure
    """What is left to full travel; 0 where the fork is at its end."""
    front_kg: Figure
    """Load on the front wheel, as a scale would show it."""
    rear_kg: Figure
    """Load left on the rear wheel."""
    rear_used_mm: Figure
    """Rear wheel travel from the hanging wheel."""
    rake_deg: Figure
    trail_mm: Figure
    """Along the ground."""
    wheelbase_mm: Figure
    """Between the axles."""
    ahead_mm: Figure
    """Centre of mass ahead of the rear contact."""
    height_mm: Figure
    """Its height above the ground."""
    fork_ends_g: Figure
    """Deceleration that brings the fork to its end."""
    rear_lifts_g: Figure
    """Deceleration at which the rear wheel carries nothing."""


BrakingFrom = Literal["entered", "ridden", "usual"]
"""The technician's own entry; what the fork markers of the runs stand for; the usual one of the use."""


@record(kw_only=True)
class Braking:
    """The deceleration that a machine on the brakes is looked at with. As ridden a slow and a fast stroke each have
    their own: both put the fork where the markers were."""

    slow_g: Figure
    """With the fork's air squeezed slowly; an estimate where it was not entered."""
    fast_g: Figure
    """So fast that it keeps its heat."""
    source: BrakingFrom
    markers: int = 0
    """How many fork markers it is from."""
    spread_g: Figure = Figure()
    """Standard deviation of a run about it; absent for fewer than two markers."""

    @property
    def middle_g(self) -> Figure:
        """Halfway between both."""
        return derive(lambda slow, fast: (slow + fast) / 2.0, self.slow_g, self.fast_g)


@record(kw_only=True)
class BrakesFigures:
    """A machine on the brakes, its air squeezed slowly (n = 1) and so fast that it keeps its heat (n = 1.4)."""

    braking: Braking
    slow: OnBrakes
    fast: OnBrakes
    by_height: tuple[OnBrakes, OnBrakes] | None = None
    """The slow one with the centre of mass as low and as high as it may lie; None where that is not known."""
    height_off_mm: Figure = Figure()
    """How far up or down it may lie."""
    omitted: tuple[LeftOut, ...]
    """What of the fork is left out because it was not entered."""
    by_arc: bool = False
    """Whether the rear axle goes on the arc of the swingarm; else it is taken to go straight up and down."""

    @property
    def braking_g(self) -> Figure:
        """Deceleration looked at, halfway between a slow and a fast stroke where these differ."""
        return self.braking.middle_g


@record(kw_only=True)
class BalanceFigures:
    """Weights and centre of mass in both states."""

    states: Mapping[State, WheelWeights]
