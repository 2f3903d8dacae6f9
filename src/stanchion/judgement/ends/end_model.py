"""What a prediction asks of an end of the machine, fork or shock alike.

Travel counts from the mechanical stop and forces act along the direction of the sag: along the leg at the front,
vertically at the rear wheel.
"""

from __future__ import annotations

from typing import Protocol

from stanchion.base.record import record
from stanchion.job.model import Path, TopOut
from stanchion.judgement.results.codes import LeftOut
from stanchion.judgement.results.figures import Figure, derive, recorded
from stanchion.mechanics.equilibrium import Limit
from stanchion.mechanics.fork_change import PreloadCase

LONGEST_TRAVEL_MM = 500.0
"""Travel taken where none is recorded: the longest a job can hold. Nothing is then said of its end."""


@record
class Equilibrium:
    """Where an end comes to rest."""

    travel_mm: float
    limit: Limit
    only_one: bool = True
    """False where the load is balanced at more than one place."""


class EndModel(Protocol):
    """One end of the machine with everything that is known of it."""

    @property
    def why(self) -> Figure:
        """Known where the end can be computed; else what that waits for."""

    @property
    def without(self) -> tuple[LeftOut, ...]:
        """What was not entered and is left out."""

    @property
    def unloaded(self) -> Equilibrium:
        """Where it stands with the wheel hanging."""

    @property
    def hanging(self) -> Figure:
        """Known where `unloaded` can be told: the end is computed, or no top-out spring is fitted; else what it waits
        for."""

    @property
    def full_travel_mm(self) -> float:
        """Travel up to which it is computed."""

    @property
    def end_unknown(self) -> Figure | None:
        """Why nothing can be said of full travel; None where it is known."""

    @property
    def top_out_reach_mm(self) -> float:
        """Travel below which a top-out spring works; 0 without one."""

    def along(self, vertical_n: float) -> float:
        """Part of a vertical load along the direction of the sag."""

    def equilibrium(self, vertical_n: float) -> Equilibrium:
        """Where it rests under a vertical load."""

    def force(self, travel_mm: float) -> float:
        """Force there, along the direction of the sag."""

    def preload_for(self, sag_mm: float, vertical_n: float) -> float | None:
        """Preload to add at the adjusters (at all springs where there is no adjuster) for a sag; None: none does."""

    def preload_at_springs(self, sag_mm: float, vertical_n: float) -> float | None:
        """Preload to add at every spring for a sag; None where none gives it."""

    def sag_with(self, added_mm: float, vertical_n: float) -> float:
        """Sag after adding that preload."""

    def with_preload(self, added_mm: float) -> EndModel:
        """The end with that much more preload at every spring, as a longer spacer gives it."""


def hanging_known(top_out: TopOut, at: Path, why: Figure, *, weighed: bool) -> Figure:
    """Known where it can be told where the wheel hangs: without a top-out spring on the stop, with one by its springs.

    Args:
        top_out: the top-out spring as recorded.
        at: where it is recorded.
        why: known where the end can be computed.
        weighed: whether the mass of the hanging wheel is recorded; without it the answer is an estimate.
    """
    if top_out.fitted != "yes":
        return Figure(0.0)
    rate = recorded(top_out.rate_n_per_mm, (*at, "rate_n_per_mm"))
    length = recorded(top_out.works_over_mm, (*at, "works_over_mm"))
    return derive(lambda *_: 0.0, why, rate, length, Figure(0.0, estimate=not weighed))


def hangs_at(model: EndModel) -> Figure:
    """Where an end stands with the wheel hanging, from the mechanical stop [mm]; or why that cannot be told."""
    return derive(lambda _: model.unloaded.travel_mm, model.hanging)


def preload_case(model: EndModel, travel_mm: float, limit: Limit) -> PreloadCase:
    """Which of the cases a change of preload falls under where an end stands at that travel."""
    if limit is Limit.TOPPED_OUT:
        return PreloadCase.TOPPED_OUT
    if limit is Limit.BOTTOMED:
        return PreloadCase.BOTTOMED
    if travel_mm < model.top_out_reach_mm:
        return PreloadCase.ON_TOP_OUT
    return PreloadCase.TOP_OUT_WHEN_EXTENDED if model.unloaded.travel_mm < model.top_out_reach_mm else PreloadCase.FREE
