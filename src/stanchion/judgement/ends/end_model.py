"""The interface that fork and rear end share for predictions.

Travel counts from the mechanical stop and forces act along the direction of the sag: along the leg at the front,
vertically at the rear wheel.
"""

from __future__ import annotations

from typing import Protocol

from stanchion.base.record import record
from stanchion.job.model import Path, TopOut
from stanchion.judgement.ends.top_out_bench import as_it_counts
from stanchion.judgement.results.figures import Figure, derive, recorded
from stanchion.judgement.results.left_out import LeftOut
from stanchion.mechanics.equilibrium import Limit
from stanchion.mechanics.fork_change import PreloadCase

LONGEST_TRAVEL_MM = 500.0
"""Travel taken where none is recorded: the longest a job can hold. Nothing is then said of its end."""


@record
class Equilibrium:
    """Where an end comes to rest under a load."""

    travel_mm: float
    limit: Limit
    only_one: bool = True
    """False where the load is balanced at more than one place."""


class EndModel(Protocol):
    """One end of the machine as it can be computed from a job."""

    @property
    def computable(self) -> Figure:
        """A known figure where the end can be computed; otherwise names what is missing."""

    @property
    def omitted(self) -> tuple[LeftOut, ...]:
        """What is left out of the calculation because it was not entered."""

    @property
    def unloaded(self) -> Equilibrium:
        """Where the end comes to rest with the wheel hanging."""

    @property
    def hanging(self) -> Figure:
        """A known figure where `unloaded` is known, which it also is without a top-out spring; otherwise names what is
        missing."""

    @property
    def full_travel_mm(self) -> float:
        """Travel up to which the end is computed."""

    @property
    def end_unknown(self) -> Figure | None:
        """Why full travel is not known; None where it is."""

    @property
    def top_out_reach_mm(self) -> float:
        """Travel below which a top-out spring works; 0 without one."""

    @property
    def measured_to_mm(self) -> float:
        """Travel up to which every spring with a curve was measured; infinite where none ends before."""

    def along(self, vertical_n: float) -> float:
        """The part of a vertical load that acts along the direction of the sag."""

    def equilibrium(self, vertical_n: float) -> Equilibrium:
        """Where the end comes to rest under a vertical load."""

    def force(self, travel_mm: float) -> float:
        """Force at that travel, along the direction of the sag."""

    def preload_for(self, sag_mm: float, vertical_n: float) -> float | None:
        """Preload to add for a sag, at the adjusters or, without one, at every spring; None where none gives it."""

    def preload_at_springs(self, sag_mm: float, vertical_n: float) -> float | None:
        """Preload to add at every spring for a sag; None where none gives it."""

    def sag_with(self, added_mm: float, vertical_n: float) -> float:
        """Sag after adding that preload."""

    def without_top_out(self) -> EndModel:
        """The end without its top-out spring."""

    def with_preload(self, added_mm: float) -> EndModel:
        """The end with that much more preload at every spring, as a longer spacer gives it."""


def hanging_known(top_out: TopOut, at: Path, computable: Figure, *, weighed: bool) -> Figure:
    """A known figure where the position of the hanging wheel is known, otherwise what is missing.

    Without a top-out spring the wheel hangs on the stop; with one, where main and top-out spring balance.

    Args:
        top_out: the top-out spring as recorded.
        at: where it is recorded.
        computable: `EndModel.computable` of that end.
        weighed: whether the mass of the hanging wheel is recorded; without it the answer is an estimate.
    """
    if top_out.fitted != "yes":
        return Figure(0.0)
    top_out = as_it_counts(top_out)
    rate = recorded(top_out.rate_n_per_mm, (*at, "rate_n_per_mm"))
    length = recorded(top_out.works_over_mm, (*at, "works_over_mm"))
    return derive(lambda *_: 0.0, computable, rate, length, Figure(0.0, estimate=not weighed))


def hangs_at(model: EndModel) -> Figure:
    """Travel of the hanging wheel from the mechanical stop [mm]; absent with the reason where it is not known."""
    return derive(lambda _: model.unloaded.travel_mm, model.hanging)


def preload_case(model: EndModel, travel_mm: float, limit: Limit) -> PreloadCase:
    """Which case a change of preload falls under when the end is at that travel."""
    if limit is Limit.TOPPED_OUT:
        return PreloadCase.TOPPED_OUT
    if limit is Limit.BOTTOMED:
        return PreloadCase.BOTTOMED
    if travel_mm < model.top_out_reach_mm:
        return PreloadCase.ON_TOP_OUT
    return PreloadCase.TOP_OUT_WHEN_EXTENDED if model.unloaded.travel_mm < model.top_out_reach_mm else PreloadCase.FREE
