"""Which other length brings installed preload into its band where the sags are right: of the spring on a shock, of the
spacer in a fork. The adjuster goes the other way by as much, so that the sags stay."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.judgement.criteria.profiles import PreloadBand
from stanchion.judgement.criteria.thresholds import NOT_SHOWN_MM
from stanchion.judgement.ends.preload_adjustment import PreloadAdjustment
from stanchion.judgement.results.assessment import Band


@record(kw_only=True)
class OtherLength:
    """Between which changes of length installed preload is in its band [mm]."""

    low_mm: float
    high_mm: float
    longer: bool

    @property
    def values(self) -> dict[str, object]:
        """What the sentence says of it."""
        return {
            "length_low_mm": self.low_mm,
            "length_high_mm": self.high_mm,
            "length_way": "longer" if self.longer else "shorter",
            "length_turned": "out" if self.longer else "in",
        }


def other_length(band: PreloadBand, installed_mm: Band, left_out_mm: float, left_in_mm: float) -> OtherLength | None:
    """The change of length that does; None where the adjuster does not go so far.

    Args:
        band: the band for installed preload.
        installed_mm: least and greatest installed preload.
        left_out_mm: how far the adjuster goes out.
        left_in_mm: how far it goes in.

    >>> from stanchion.judgement.criteria.profiles import PreloadBand
    >>> found = other_length(PreloadBand(low=8.0, high=18.0), (7.0, 7.0), 3.25, 6.75)
    >>> (found.low_mm, found.high_mm, found.longer)
    (1.0, 3.25, True)
    >>> other_length(PreloadBand(low=8.0, high=18.0), (7.0, 7.0), 0.5, 9.5) is None
    True
    """
    low_mm = max(band.low - installed_mm[0], -left_in_mm)
    high_mm = min(band.high - installed_mm[1], left_out_mm)
    if high_mm - low_mm < NOT_SHOWN_MM or low_mm < 0.0 < high_mm:
        return None
    if high_mm <= 0.0:
        return OtherLength(low_mm=-high_mm, high_mm=-low_mm, longer=False)
    return OtherLength(low_mm=low_mm, high_mm=high_mm, longer=True)


def present_other_length(adjustment: PreloadAdjustment) -> OtherLength | None:
    """The same with the springs fitted now; None where that is not known.

    A collar without a fully-out is turned into the band, and a top-out spring takes up part of another spacer.
    """
    band, least_mm, most_mm = adjustment.band, adjustment.least_installed_mm, adjustment.most_installed_mm
    out_mm, in_mm = adjustment.left_out_mm, adjustment.left_in_mm
    if band is None or least_mm is None or most_mm is None or out_mm is None or in_mm is None:
        return None
    if adjustment.as_it_stands or (adjustment.has_spacer and adjustment.fitted != "no"):
        return None
    found = other_length(band, (least_mm, most_mm), out_mm, in_mm)
    shortest_mm = adjustment.shortest_spacer_mm
    too_short = found is not None and not found.longer and shortest_mm is not None and found.high_mm > shortest_mm
    return None if too_short else found
