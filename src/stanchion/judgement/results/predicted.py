"""The records of an assessment for predictions from loads and springs."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.model import End, State
from stanchion.judgement.results.codes import LeftOut
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.findings import Finding


@record(kw_only=True)
class PredictedState:
    """Prediction for one state at one end."""

    sag_mm: Figure
    """Sag as the springs should give it: along the leg at the front, vertical at the rear wheel. Under the load by
    scales and masses; once sags are old, under the load as they correct it."""
    load_n: Figure
    """Vertical load on the springs by scales and masses."""
    carried_n: Figure
    """Vertical load corrected by the measured sags; where nothing was weighed, derived from them."""
    travel_mm: Figure
    """Travel from the mechanical stop; sag counts from the hanging wheel instead."""
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
    """Force for slow compression: the air keeps its temperature (n = 1)."""
    slow_air_n: Figure
    """The air's part of it."""
    fast_n: Figure
    """Force for fast compression: the air keeps its heat (n = 1.4)."""
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
    """The effective rate between the two captured sags, along the sag."""

    rate_n_per_mm: Figure
    uncertainty_n_per_mm: Figure
    """Standard uncertainty of that rate."""
    expanded_n_per_mm: Figure
    """Expanded uncertainty, about 95 %."""
    predicted_n_per_mm: Figure
    """The rate of the entered springs between the same two positions."""


@record(kw_only=True)
class PredictedEnd:
    """Prediction for one end."""

    static: PredictedState
    rider: PredictedState
    static_at_most_n: float | None = None
    """Upper limit of the load, machine alone, where it is known only from the end being topped out."""
    rider_minus_static_mm: Figure
    """What the rider should add to sag with these springs."""
    turns_for_target: Figure
    """Turns from now to the middle of the target for rider sag, as near to it as static sag allows: in is above 0, out
    below."""
    mm_for_target: Figure
    """That change as preload at the adjusters, or at the springs where there is no adjuster."""
    target: Finding | None
    """Advice that brings the sags into target; where sags are measured, the advice on those."""
    working_rate: WorkingRateFigures
    full_travel: FullTravelFigures
    omitted: tuple[LeftOut, ...]
    """What the figures leave out because it was not entered; prediction_sentences.py has the words."""
    estimate: bool
    """Whether a load is estimated from a mass times a share."""

    def state(self, state: State) -> PredictedState:
        """One state."""
        return self.static if state == "static" else self.rider

    @property
    def incomplete(self) -> bool:
        """Whether a figure is known from which something is left out: a sag, or the force at full travel."""
        figures = (self.static.sag_mm, self.rider.sag_mm, self.full_travel.slow_n)
        return bool(self.omitted) and any(figure.known for figure in figures)


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
