"""Where the top-out spring of a fork holds the unloaded leg, and what that does to sag readings."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.errors import OutOfRange
from stanchion.job.model import Front, Leg
from stanchion.judgement.assessment import PreloadFigures
from stanchion.judgement.findings import Finding, Severity
from stanchion.mechanics.fork import Fork, ForkLeg
from stanchion.mechanics.rest import fork_position
from stanchion.record import record


@record(kw_only=True)
class TopOutState:
    """What a top-out spring does in one leg."""

    unloaded_mm: float | None = None
    """Where it holds the unloaded leg, from the mechanical stop [mm]; None where it cannot be told."""
    works_over_mm: float | None = None
    """Length over which it works [mm]."""
    share: float = 1.0
    """How much of a change of preload shows in a sag that is off the top-out spring."""

    def holds(self, sag_mm: float) -> bool:
        """Whether a state with this sag still stands on the top-out spring."""
        if self.unloaded_mm is None or self.works_over_mm is None:
            return False
        return self.unloaded_mm + sag_mm < self.works_over_mm


def top_out_state(front: Front, leg: Leg, figures: PreloadFigures) -> TopOutState:
    """What the top-out spring does in that leg; without one, or with too little known, nothing.

    The weight of the hanging wheel, which draws the unloaded leg out a little further, is left out.
    """
    if front.top_out.fitted != "yes":
        return TopOutState()
    stiff, length = front.top_out.rate_n_per_mm, front.top_out.works_over_mm
    rate, preload_mm = leg.spring.rate_n_per_mm, figures.preload_now_mm.value
    if stiff is None or rate is None:
        return TopOutState(works_over_mm=length)
    share = stiff / (rate + stiff)
    if length is None or preload_mm is None or figures.read_at_mm is None:
        return TopOutState(works_over_mm=length, share=share)
    try:
        unloaded = fork_position(
            Fork(
                (
                    ForkLeg(
                        rate_n_per_mm=rate,
                        preload_mm=preload_mm - figures.read_at_mm,
                        top_out_rate_n_per_mm=stiff,
                        top_out_mm=length,
                    ),
                ),
                max(front.travel_mm or 0.0, length + 1.0),
            ),
            0.0,
        )
    except OutOfRange:
        return TopOutState(works_over_mm=length, share=share)
    return TopOutState(unloaded_mm=unloaded.travel_mm, works_over_mm=length, share=share)


def top_out_note(front: Front, state: TopOutState, *, sag_known: bool) -> Iterator[Finding]:
    """That targets are meant for a fork without one."""
    if front.top_out.fitted == "yes" and sag_known:
        yield Finding(
            "top_out_reads_lower",
            Severity.NOTE,
            ("front", "top_out"),
            {"unloaded_mm": state.unloaded_mm, "share": state.share if state.share < 1.0 else None},
        )
