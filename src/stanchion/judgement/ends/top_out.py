"""How a top-out spring affects sag readings, and how much of a change of preload it hides."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.job.model import SIDES, End, Front, Path, Rear, TopOut
from stanchion.judgement.criteria.thresholds import NOT_SHOWN_MM
from stanchion.judgement.ends.end_model import EndModel, hangs_at
from stanchion.judgement.ends.spring_law import law_of_leg, law_of_shock
from stanchion.judgement.ends.top_out_bench import as_it_counts
from stanchion.judgement.results.figures import Figure, absent
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.mechanics.equilibrium import Limit
from stanchion.mechanics.spring_curve import least_rate


def front_share(front: Front, model: EndModel) -> float:
    """Share of preload added at every fork spring that shows in a sag beyond the top-out spring.

    Where the wheel hangs on the top-out spring, more preload extends the fork further, which sag does not show. The
    share is kt / (k + kt), with the springs of both legs; 1 without a top-out spring and where too little is known.

    Args:
        front: the fork as recorded.
        model: the fork as it is computed.
    """
    stiff = as_it_counts(front.top_out).rate_n_per_mm
    if front.top_out.fitted != "yes" or stiff is None:
        return 1.0
    sprung = [law_of_leg(front, side).spring for side in SIDES if front.leg(side).coil_fitted]
    known = [least_rate(spring) for spring in sprung if spring is not None]
    if not known or len(known) < len(sprung):
        return 1.0
    having = sum(1 for side in SIDES if front.top_out_of(side).fitted == "yes")
    return _share(sum(known), stiff * having, model)


def rear_share(rear: Rear, model: EndModel) -> float:
    """Share of preload added at the collar that shows in a sag beyond the shock's top-out spring; see front_share.

    Args:
        rear: the shock as recorded.
        model: the rear end as it is computed.
    """
    stiff = as_it_counts(rear.top_out).rate_n_per_mm
    if rear.top_out.fitted != "yes" or stiff is None:
        return 1.0
    spring = law_of_shock(rear).spring
    return 1.0 if spring is None else _share(least_rate(spring), stiff, model)


def _share(rate: float, stiff: float, model: EndModel) -> float:
    hangs = model.unloaded
    free = hangs.limit is not Limit.NONE or hangs.travel_mm >= model.top_out_reach_mm
    if rate + stiff <= 0.0 or (model.computable.known and free):
        return 1.0
    return stiff / (rate + stiff)


def off_top_out(model: EndModel, length_mm: float | None, sag_mm: float) -> Figure:
    """The sag where it lies beyond the top-out spring; otherwise absent, with the reason.

    Args:
        model: the end as it is computed.
        length_mm: length over which the spring works [mm]; None: not recorded.
        sag_mm: sag in that state [mm].
    """
    hangs = hangs_at(model)
    if hangs.value is not None:
        reach_mm = model.top_out_reach_mm
        return absent("on_top_out") if reach_mm > 0.0 and hangs.value + sag_mm < reach_mm else Figure(sag_mm)
    # A sag longer than the top-out spring works over lies beyond it, wherever the wheel hangs.
    return Figure(sag_mm) if length_mm is not None and sag_mm >= length_mm else hangs


def top_out_note(end: End, top_out: TopOut, model: EndModel, share: float, *, sag_known: bool) -> Iterator[Finding]:
    """Note that targets are meant for a machine without a top-out spring, and by how much sag reads lower.

    Args:
        end: which end.
        top_out: its top-out spring.
        model: the end as it is computed.
        share: how much of added preload shows in sag.
        sag_known: whether any sag of that end is measured.
    """
    if top_out.fitted != "yes" or not sag_known:
        return
    hangs = hangs_at(model)
    if hangs.value is not None and hangs.value < NOT_SHOWN_MM:
        return
    at: Path = (end, "top_out")
    values = {"unloaded_mm": hangs.value, "share": share if share < 1.0 else None, "needs": hangs.needs or None}
    yield Finding("top_out_reads_lower", Severity.NOTE, at, values)
