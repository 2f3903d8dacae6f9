"""Installed preload that differs between the legs: the spacers with which both have the same."""

from __future__ import annotations

from collections.abc import Mapping

from stanchion.base.record import record
from stanchion.job.model import SIDES, Front, Leg, Side
from stanchion.judgement.criteria.profiles import PreloadBand
from stanchion.judgement.criteria.thresholds import LEG_PRELOADS_DIFFER_MM, NOT_SHOWN_MM, SLACK
from stanchion.judgement.ends.adjusters_alike import Alike, mean_by_rates, set_alike
from stanchion.judgement.ends.preload import OUT_OF_BAND, most_preload
from stanchion.judgement.ends.set_length_reading import reading_point
from stanchion.judgement.ends.spring_law import law_of_leg
from stanchion.judgement.results.assessment import FrontFigures


@record(kw_only=True)
class SpacersAlike:
    """What makes installed preload the same in both legs."""

    change_mm: tuple[float, float]
    """By how much the spacer is to be longer, left and right; of a leg that stays as it is 0."""
    spacers_mm: tuple[float | None, float | None]
    """The lengths it then has; None where the one fitted is not known."""
    leg: Side | None
    """The leg that alone has installed preload out of its band, so that only its spacer is wrong; None: neither."""
    mean_mm: float
    """The same change of preload at both springs that carries as much."""
    adjusters: Alike | None
    """Where both adjusters are then to be set, if they stand apart."""

    @property
    def values(self) -> Mapping[str, object]:
        """What is said of it."""
        values: dict[str, object] = {}
        if self.leg is not None:
            at = SIDES.index(self.leg)
            change = self.change_mm[at]
            values |= {
                "of_leg": self.leg,
                "match_way": "longer" if change > 0.0 else "shorter",
                "match_mm": abs(change),
                "match_spacer_mm": self.spacers_mm[at],
            }
        else:
            values["match_both"] = True
            for side, spacer in zip(SIDES, self.spacers_mm, strict=True):
                values[f"match_{side}_mm"] = None if None in self.spacers_mm else spacer
        return {**values, **(self.adjusters.values if self.adjusters else {})}


def spacers_alike(front: Front, figures: FrontFigures, band: PreloadBand | None) -> SpacersAlike | None:
    """The spacers to fit; None where installed preload is the same, is meant to differ, or it is not known.

    Where one leg alone is out of the band, its spacer is wrong, and the other leg's is kept. Otherwise both meet at the
    mean by the rates of their springs, with which the fork carries as much as it does now, or the nearest in the band.

    Args:
        front: the fork as recorded.
        figures: its legs.
        band: band for installed preload.
    """
    legs = [(front.leg(side), figures.leg(side)) for side in SIDES]
    if not front.split or front.preload_difference_meant or not all(leg.coil_fitted for leg, _ in legs):
        return None
    if front.top_out_of("left") != front.top_out_of("right"):
        return None  # their lengths were read at different points
    installed = [mm for _, of in legs if (mm := of.installed_preload_mm.value) is not None]
    if len(installed) < len(legs) or max(installed) - min(installed) <= LEG_PRELOADS_DIFFER_MM + SLACK:
        return None
    out = [of.verdict in OUT_OF_BAND for _, of in legs]
    wrong: Side | None = None
    wanted_mm: float | None
    if out[0] is not out[1]:
        wrong, wanted_mm = (SIDES[0], installed[1]) if out[0] else (SIDES[1], installed[0])
    else:
        wanted_mm = mean_by_rates(legs, installed)
        if wanted_mm is not None and band is not None:
            wanted_mm = min(max(wanted_mm, band.low), most_preload(band))
    if wanted_mm is None:
        return None
    change = [
        _at_stop(front, side, wanted_mm) - _at_stop(front, side, mm) for side, mm in zip(SIDES, installed, strict=True)
    ]
    then = [_then(leg, mm) for (leg, _), mm in zip(legs, change, strict=True)]
    if any(mm is not None and mm < NOT_SHOWN_MM for mm in then):
        return None  # no spacer is so short
    mean_mm = mean_by_rates(legs, change)
    adjusters = set_alike(front, figures, once_matched=True)
    return SpacersAlike(
        change_mm=(change[0], change[1]),
        spacers_mm=(then[0], then[1]),
        leg=wrong,
        mean_mm=sum(change) / len(change) if mean_mm is None else mean_mm,
        adjusters=adjusters,
    )


def _then(leg: Leg, change_mm: float) -> float | None:
    fitted = leg.stack.spacer_mm
    return None if fitted is None else fitted + change_mm


def _at_stop(front: Front, side: Side, read_mm: float) -> float:
    """Installed preload at the damper's stop, which changes as the spacer does: a top-out spring gives way."""
    at_mm = reading_point(front.top_out_of(side), front.leg(side), law_of_leg(front, side).spring, read_mm)
    return read_mm - (at_mm or 0.0)
