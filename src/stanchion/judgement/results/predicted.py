"""The shape of what loads and springs predict, as it hangs on an Assessment."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.model import End, State
from stanchion.judgement.results.codes import LeftOut
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.findings import Finding


@record(kw_only=True)
class PredictedState:
    """One state at one end."""

    sag_mm: Figure
    """Sag as the springs should give it: along the leg at the front, vertical at the rear wheel."""
    load_n: Figure
    """Vertical load on the springs."""
    carried_n: Figure
    """The same as the measured sags correct it; where nothing was weighed, as they give it."""
    travel_mm: Figure
    """Where it comes to rest, from the mechanical stop: sag counts from the hanging wheel."""
    limit: str
    """"", "topped_out" or "bottomed"."""
    difference_mm: Figure
    """Captured sag less predicted."""
    preload_case: str
    """What a change of preload does in this state (PreloadCase of mechanics), by the captured sag where there is
    one; "" where it cannot be told."""


@record(kw_only=True)
class FullTravelFigures:
    """Force at full travel and how much of it is trapped air: along the fork, or at the rear wheel."""

    slow_n: Figure
    """Pressed down slowly: the air keeps its temperature (n = 1)."""
    slow_air_n: Figure
    """The air's part of it."""
    fast_n: Figure
    """Pressed down as fast as can be: the air keeps its heat (n = 1.4)."""
    fast_air_n: Figure
    """The air's part of it."""
    reserve_n: Figure
    """The slow force beyond the load with the rider aboard."""
    smaller_gap_slow_n: Figure
    """With an air gap 5 mm smaller, slowly."""
    smaller_gap_fast_n: Figure
    larger_gap_slow_n: Figure
    """With an air gap 5 mm larger, slowly."""
    larger_gap_fast_n: Figure


@record(kw_only=True)
class WorkingRateFigures:
    """The rate that is really at work between the two captured sags, along the sag."""

    rate_n_per_mm: Figure
    uncertainty_n_per_mm: Figure
    """Standard uncertainty of it."""
    expanded_n_per_mm: Figure
    """Expanded uncertainty, about 95 %."""
    predicted_n_per_mm: Figure
    """What the springs entered give between the same two places."""


@record(kw_only=True)
class PredictedEnd:
    """What loads and springs predict at one end."""

    static: PredictedState
    rider: PredictedState
    static_at_most_n: float | None = None
    """Load on the springs at most, machine alone, where all that tells it is that it stands topped out."""
    rider_minus_static_mm: Figure
    """What the rider should add to sag with these springs."""
    turns_for_target: Figure
    """Turns from now to the middle of the target for rider sag, as near to it as static sag allows: in is above 0, out
    below."""
    mm_for_target: Figure
    """The same as preload at the adjusters, or at the springs where there is no adjuster."""
    target: Finding | None
    """What brings the sags into target; the same advice as that on the measured sags where there are some."""
    working_rate: WorkingRateFigures
    full_travel: FullTravelFigures
    without: tuple[LeftOut, ...]
    """What was not entered, so that the figures are without it; prediction_sentences.py has the words."""
    estimate: bool
    """Whether a load rests on a mass times a share."""

    def state(self, state: State) -> PredictedState:
        """One state."""
        return self.static if state == "static" else self.rider


@record(kw_only=True)
class Predicted:
    """Both ends."""

    front: PredictedEnd
    rear: PredictedEnd

    def end(self, end: End) -> PredictedEnd:
        """One end."""
        return self.front if end == "front" else self.rear

    def sag(self, end: End, state: State) -> Figure:
        """Predicted sag."""
        return self.end(end).state(state).sag_mm
