"""What the points of a linkage give over the travel, for the screen of the linkage, check and the sheet.

Worked out when it is asked for, whether or not the points give the job's motion ratio.
"""

from __future__ import annotations

from itertools import pairwise

from stanchion.base.record import record
from stanchion.job.model import Job, Path
from stanchion.judgement.ends.points_law import PairBeside, PointsLaw, pairs_beside, points_law
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.mechanics.linkage_points import position_at_travel
from stanchion.mechanics.rear import full_wheel_travel

_PLOTTED = 40
_TRAVEL: tuple[Path, ...] = (("rear", "wheel_travel_mm"),)
"""What full travel needs where neither it nor the stroke of the shock, which gives it too, is entered."""


@record(kw_only=True)
class PointsAt:
    """The linkage at one wheel travel."""

    wheel_mm: Figure
    shock_mm: Figure
    """Shock travel."""
    ratio: Figure
    arm_deg: Figure
    """Swingarm below horizontal."""
    back_mm: Figure
    """How far the axle stands behind where it is at full extension; negative: ahead."""


@record(kw_only=True)
class PointsFigures:
    """What the points give."""

    known: Figure
    """0 where the linkage is known by its points, else why not."""
    extended: PointsAt
    now: PointsAt
    """Where the job's own motion ratio is given: at rider sag, else static sag, else extended."""
    full: PointsAt
    """Absent where neither wheel travel nor stroke says where that is."""
    progression_pct: Figure
    """By how much the ratio is higher at full travel than at full extension."""
    link_mm: Figure
    """Length of the link as it is fitted."""
    ratios: tuple[tuple[float, float], ...]
    """Wheel travel and ratio over the travel, to be plotted; none where full travel is not known."""
    pairs: tuple[PairBeside, ...]
    """The measured pairs beside the points."""
    pair_ratios: tuple[tuple[float, float], ...]
    """Wheel travel and ratio in the middle between two measured pairs."""


def points_figures(job: Job, a: Assessment) -> PointsFigures:
    """What the points of a job's linkage give.

    Args:
        job: the job.
        a: what assess() gave for it.
    """
    rear = job.rear
    law = points_law(rear, job.swingarm.pivot_to_axle_mm)
    known = _known(law)
    linkage = law.linkage
    if linkage is None:
        extended = now = full = _nowhere(known)
        ratios: tuple[tuple[float, float], ...] = ()
    else:
        stroke_mm = None if rear.stroke_mm is None else rear.stroke_mm - (rear.packers_mm or 0.0)
        end_mm = full_wheel_travel(linkage, rear.wheel_travel_mm, stroke_mm if stroke_mm and stroke_mm > 0.0 else None)
        extended, full = _at(law, 0.0), _at(law, end_mm)
        now = _at(law, min(a.rear.at_travel_mm, end_mm))
        travels = [end_mm * at / _PLOTTED for at in range(_PLOTTED + 1)]
        ratios = tuple((mm, linkage.motion_ratio(mm)) for mm in travels)
        if rear.wheel_travel_mm is None and rear.stroke_mm is None:
            full, ratios = _nowhere(Figure(needs=_TRAVEL)), ()
    return PointsFigures(
        known=known,
        extended=extended,
        now=now,
        full=full,
        progression_pct=derive(lambda at_full, first: 100.0 * (at_full / first - 1.0), full.ratio, extended.ratio),
        link_mm=_link(job, law),
        ratios=ratios,
        pairs=pairs_beside(rear, law),
        pair_ratios=_between_pairs(job),
    )


def _nowhere(why: Figure) -> PointsAt:
    return PointsAt(wheel_mm=why, shock_mm=why, ratio=why, arm_deg=why, back_mm=why)


def _known(law: PointsLaw) -> Figure:
    if law.places.needs:
        return Figure(needs=law.places.needs)
    if law.places.wrong is not None:
        return absent("points_impossible")
    return absent("points_stop") if law.linkage is None else Figure(0.0)


def _link(job: Job, law: PointsLaw) -> Figure:
    if job.rear.points.layout == "straight":
        return absent("no_link")
    points = law.places.points
    as_read = None if points is None else points.link_mm
    known = as_read if job.rear.link_mm is None else job.rear.link_mm
    return Figure(known) if known is not None else _known(law)


def _at(law: PointsLaw, wheel_mm: float) -> PointsAt:
    places, curve = law.places.points, law.curve
    if places is None or curve is None or curve.linkage is None:
        raise TypeError("asked for a position of a linkage that is not known")
    found, _ = position_at_travel(places, curve.extended, wheel_mm)
    first, _ = position_at_travel(places, curve.extended, 0.0)
    shock_mm, ratio, _ = curve.linkage.state(wheel_mm)
    none = absent("points_stop")
    return PointsAt(
        wheel_mm=Figure(wheel_mm),
        shock_mm=Figure(shock_mm),
        ratio=Figure(ratio),
        arm_deg=none if found is None else Figure(found.arm_deg),
        back_mm=none if found is None or first is None else Figure(first.axle[0] - found.axle[0]),
    )


def _between_pairs(job: Job) -> tuple[tuple[float, float], ...]:
    pairs = sorted(
        {(0.0, 0.0)}
        | {(one.wheel_mm, one.shock_mm) for one in job.rear.linkage if one.wheel_mm is not None and one.shock_mm}
    )
    return tuple(((z0 + z1) / 2.0, (s1 - s0) / (z1 - z0)) for (z0, s0), (z1, s1) in pairwise(pairs) if z1 > z0)
