"""Adjusters of two legs that stand apart: where both are to be set so that the fork carries the same."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from stanchion.base.record import record
from stanchion.job.model import SIDES, Front, Leg, Path
from stanchion.job.spec import middle_rate
from stanchion.judgement.criteria.thresholds import LEG_PRELOADS_DIFFER_MM, NOT_SHOWN_MM, SLACK
from stanchion.judgement.ends.spring_law import unmarked_rate
from stanchion.judgement.results.assessment import FrontFigures, PreloadFigures


@record(kw_only=True)
class Alike:
    """Both adjusters at one position."""

    added_mm: float
    """What each then adds, with which the fork carries as much as it does now."""
    left_in_mm: float
    """How far both go further in from there."""
    per_turn_mm: float | None = None
    """Preload of one turn, where it is the same in both legs."""
    step_mm: float | None = None
    """Preload of the least that one is turned, likewise."""
    in_clicks: bool = False
    """Whether both are counted in clicks."""

    @property
    def values(self) -> Mapping[str, object]:
        """What is said of it: that they stand apart, and where to set them."""
        values: dict[str, object] = {"apart": True, **({"turned_in": "clicks"} if self.in_clicks else {})}
        if self.added_mm < NOT_SHOWN_MM or self.left_in_mm < NOT_SHOWN_MM:
            return {**values, "alike_out" if self.added_mm < NOT_SHOWN_MM else "alike_in": True}
        if not self.per_turn_mm or not self.step_mm:
            return values
        return {**values, "alike_turns": round(self.added_mm / self.step_mm) * self.step_mm / self.per_turn_mm}


def set_alike(front: Front, figures: FrontFigures, *, once_matched: bool = False) -> Alike | None:
    """Where both adjusters are to be set; None where they stand alike, are meant to differ, or it is not known.

    By the balance of forces, k1 (P + a1 + x) + k2 (P + a2 + x) = (k1 + k2) (P + a + x): a is the mean of what both add,
    by the rates of their springs.

    Args:
        front: the fork as recorded.
        figures: its legs.
        once_matched: installed preload may differ, since the spacers are put right first.
    """
    legs = [(front.leg(side), figures.leg(side)) for side in SIDES]
    if front.preload_difference_meant or not all(_adjusted(leg) for leg, _ in legs):
        return None
    added, installed, ranges = (
        _known([getattr(of, name).value for _, of in legs])
        for name in ("headroom_out_mm", "installed_preload_mm", "adjuster_range_mm")
    )
    if not (added and installed and ranges):
        return None
    limit = LEG_PRELOADS_DIFFER_MM + SLACK
    if (max(installed) - min(installed) > limit and not once_matched) or max(added) - min(added) <= limit:
        return None
    mean = mean_by_rates(legs, added)
    if mean is None or mean > min(ranges):
        return None
    counted = {of.turned_in for _, of in legs}
    return Alike(
        added_mm=mean,
        left_in_mm=min(ranges) - mean,
        per_turn_mm=_same([of.mm_per_turn.value for _, of in legs]) if len(counted) == 1 else None,
        step_mm=_same([of.step_mm for _, of in legs]),
        in_clicks=counted == {"clicks"},
    )


def _adjusted(leg: Leg) -> bool:
    return leg.coil_fitted and leg.adjuster.counting != "none"


def _known(values: Sequence[float | None]) -> list[float]:
    """The values; none where one is not known."""
    known = [value for value in values if value is not None]
    return known if len(known) == len(values) else []


def _same(values: Sequence[float | None]) -> float | None:
    """The value of both legs; None where it is not known, or they differ."""
    known = _known(values)
    return known[0] if known and max(known) - min(known) <= SLACK else None


def mean_by_rates(legs: Sequence[tuple[Leg, PreloadFigures]], values_mm: Sequence[float]) -> float | None:
    """The mean of one value of each leg, by the rates of their springs; None where a rate is not known."""
    weights = _known([rate_of(leg) for leg, _ in legs])
    if not sum(weights) > 0.0:
        return None
    return sum(mm * rate for mm, rate in zip(values_mm, weights, strict=True)) / sum(weights)


_SPRING: Path = ("front", "left", "spring")


def rate_of(leg: Leg) -> float | None:
    """The rate by which a leg counts beside the other; of a progressive spring the middle of its label."""
    rate = leg.spring.rate_n_per_mm
    return unmarked_rate(leg.spring, _SPRING).value if rate is None else middle_rate(rate)
