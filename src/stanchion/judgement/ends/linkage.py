"""The linkage of the rear end: by pairs, one ratio or its points, how far it reaches, and when it is in doubt."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Literal

from stanchion.base.errors import OutOfRange
from stanchion.job.model import Job, Path, Rear
from stanchion.judgement.criteria.thresholds import (
    LAST_PAIR_SHORT,
    MOTION_RATIOS,
    SLACK,
    STEEPEST_RATIO_PER_MM,
    WHEEL_RATE_UNCERTAIN,
)
from stanchion.judgement.results.assessment import RearFigures
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.results.problems import Problem
from stanchion.mechanics.linkage import Linkage, constant_ratio, through_pairs
from stanchion.mechanics.linkage_smooth import (
    LinkageUncertainty,
    Moved,
    Pairs,
    SmoothLinkage,
    linkage_uncertainty,
    moved_by_readings,
    smooth_through_pairs,
)


def linkage_of(rear: Rear, arm_mm: float | None = None) -> tuple[Linkage | None, Problem | Literal[""]]:
    """The linkage, or None and the problem: by its points where these are used, else by pairs or one ratio. Where the
    last pair falls a little short of full travel, the curve is continued in a straight line.

    Args:
        rear: the shock and its linkage.
        arm_mm: length of the swingarm from pivot to axle [mm], which the points need.
    """
    if rear.by_points:
        from stanchion.judgement.ends.points_law import points_law  # noqa: PLC0415 - few linkages are known by them

        law = points_law(rear, arm_mm)
        if law.linkage is not None:
            return law.linkage, ""
        return None, "points_impossible" if law.places.wrong else "points_stop" if law.stopped else ""
    pairs = _pairs(rear)
    try:
        if pairs:
            measured = through_pairs(pairs)
            return measured.reaching(_covered_to(rear, measured)), ""
        if rear.motion_ratio is not None:
            return constant_ratio(rear.motion_ratio), ""
    except OutOfRange:
        return None, "linkage_pairs"
    return None, ""


def linkage_of_job(job: Job) -> Linkage | None:
    """The linkage of a job's machine; None where it is not known."""
    return linkage_of(job.rear, job.swingarm.pivot_to_axle_mm)[0]


def _covered_to(rear: Rear, measured: Linkage) -> float:
    """Wheel travel up to which the pairs are used: the last pair, or full travel where that is only a little beyond
    it."""
    last_mm = measured.covered_mm
    shock_mm, ratio, _ = measured.state(last_mm)
    ends = []
    if rear.wheel_travel_mm is not None:
        ends.append((rear.wheel_travel_mm, rear.wheel_travel_mm - last_mm))
    if rear.stroke_mm is not None and ratio > 0.0:
        stroke_mm = rear.stroke_mm - (rear.packers_mm or 0.0)
        end_mm = last_mm + (stroke_mm - shock_mm) / ratio
        ends.append((end_mm, end_mm - last_mm))
    end_mm, short_mm = min(ends, default=(last_mm, 0.0))
    return end_mm if SLACK < short_mm <= LAST_PAIR_SHORT * end_mm else last_mm


def linkage_needs(rear: Rear, arm_mm: float | None = None) -> tuple[Path, ...]:
    """What is to be measured where there is no linkage yet."""
    if not rear.by_points:
        return (("rear", "motion_ratio"),)
    from stanchion.judgement.ends.points_law import points_law  # noqa: PLC0415

    return points_law(rear, arm_mm).places.needs


def linkage_at(
    linkage: Linkage | None,
    problem: Problem | Literal[""],
    travel_mm: float,
    needs: tuple[Path, ...] = (("rear", "motion_ratio"),),
) -> tuple[Figure, Figure, Figure]:
    """Motion ratio, its slope, and shock travel at one wheel travel; without a linkage, what it needs."""
    if linkage is None:
        missing = absent(problem) if problem else Figure(needs=needs)
        return missing, missing, missing
    if travel_mm > linkage.covered_mm:
        beyond = absent("beyond_measured")
        return beyond, beyond, beyond
    shock_mm, ratio, slope = linkage.state(travel_mm)
    if not (MOTION_RATIOS[0] <= ratio <= MOTION_RATIOS[1] and abs(slope) <= STEEPEST_RATIO_PER_MM):
        cannot_be = absent("linkage_ratio")
        return cannot_be, cannot_be, cannot_be
    return Figure(ratio), Figure(slope), Figure(shock_mm)


def linkage_findings(linkage: Linkage | None, problem: Problem | Literal[""], travel_mm: float) -> Iterator[Finding]:
    """Pairs that cannot be, and a wheel travel beyond them."""
    if problem in ("linkage_pairs", "linkage_ratio"):
        yield Finding(problem, Severity.FAULT, ("rear", "linkage"))
    elif linkage is not None and travel_mm > linkage.covered_mm + SLACK:
        yield Finding(
            "linkage_beyond_measured",
            Severity.NOTE,
            ("rear", "linkage"),
            {"travel_mm": travel_mm, "covered_mm": linkage.covered_mm},
        )


def extension_findings(rear: Rear, linkage: Linkage | None) -> Iterator[Finding]:
    """Note that the curve is continued beyond the last pair."""
    last_mm = 0.0 if rear.by_points else max((wheel_mm for wheel_mm, _ in _pairs(rear)), default=0.0)
    if linkage is not None and last_mm and linkage.covered_mm > last_mm:
        values = {"last_mm": last_mm, "end_mm": linkage.covered_mm}
        yield Finding("linkage_goes_on", Severity.NOTE, ("rear", "linkage"), values)


def linkage_uncertainties(
    rear: Rear,
    travel_mm: float,
    tape_mm: float,
    inputs: tuple[Figure, Figure, Figure, Figure],
    arm_mm: float | None = None,
) -> tuple[Figure, Figure, Figure]:
    """Expanded uncertainty of motion ratio, wheel rate and collar effect.

    Args:
        rear: the shock as recorded.
        travel_mm: at which wheel travel.
        tape_mm: division of the tape.
        inputs: spring rate, motion ratio, force along the shock, and how fast the ratio changes.
        arm_mm: length of the swingarm from pivot to axle [mm], which the points need.
    """
    rate, ratio, force, slope = inputs
    if not (_pairs(rear) or rear.by_points) or not ratio.known:
        one_ratio = absent("one_ratio") if ratio.known else ratio
        return one_ratio, one_ratio, one_ratio

    @cache
    def known() -> LinkageUncertainty:
        return linkage_uncertainty(
            _moved(rear, travel_mm, tape_mm, arm_mm),
            rate.value or 1.0,
            ratio.value or 0.0,
            force.value or 0.0,
            slope.value or 0.0,
        )

    of_ratio = derive(lambda _: known().motion_ratio.expanded, ratio)
    of_rate = derive(lambda *_: known().wheel_rate.expanded, rate, ratio, force, slope)
    of_collar = absent("out_of_range")
    if of_rate.known and (collar := known().collar_effect) is not None:
        of_collar = Figure(collar.expanded)
    return of_ratio, of_rate, of_collar


def _moved(rear: Rear, travel_mm: float, tape_mm: float, arm_mm: float | None) -> tuple[Moved, ...]:
    """What each reading of the linkage moves."""
    if not rear.by_points:
        return moved_by_readings(_pairs(rear), travel_mm, tape_mm)
    from stanchion.judgement.ends.points_law import points_uncertainty  # noqa: PLC0415

    return points_uncertainty(rear, arm_mm, travel_mm, tape_mm)


def smooth_where_uncertain(
    rear: Rear, travel_mm: float, tape_mm: float, at_wheel: Figure, expanded: Figure
) -> SmoothLinkage | None:
    """The smooth curve through the pairs, where the curve through every pair leaves the wheel rate too uncertain.

    None where the wheel rate is certain enough, where the travel lies beyond the pairs, and where there are too few
    pairs.
    """
    pairs = () if rear.by_points else _pairs(rear)
    lost = at_wheel.value is not None and at_wheel.value <= 0.0
    if not pairs or tape_mm <= 0.0 or not (lost or is_uncertain(at_wheel, expanded)):
        return None
    if travel_mm > max(wheel_mm for wheel_mm, _ in pairs) + SLACK:
        return None
    try:
        return smooth_through_pairs(pairs, tape_mm)
    except OutOfRange:
        return None


def wheel_rate_findings(figures: RearFigures, smooth: SmoothLinkage | None) -> Iterator[Finding]:
    """Findings on a wheel rate that remains uncertain or impossible even with the smooth curve."""
    at_wheel, expanded = figures.best_wheel_rate
    rate, within = at_wheel.value, expanded.value
    where = ("rear", "linkage")
    if rate is None:
        return
    if smooth is not None and not smooth.fits and rate + (within or 0.0) > 0.0:
        wheel_mm, off_mm = smooth.furthest
        values: dict[str, object] = {"wheel_mm": wheel_mm, "off_mm": abs(off_mm)}
        yield Finding("linkage_not_smooth", Severity.WARNING, where, values)
    elif rate <= 0.0:
        yield Finding("wheel_rate_negative", Severity.FAULT, where)
    elif within is not None and is_uncertain(at_wheel, expanded):
        values = {"rate": rate, "uncertainty": within, "share": within / rate}
        yield Finding("wheel_rate_uncertain", Severity.WARNING, where, values)


def is_uncertain(figure: Figure, expanded: Figure) -> bool:
    """Whether a figure above 0 is so uncertain, as the pairs give it, that it is only to be used with doubt."""
    if figure.value is None or expanded.value is None or figure.value <= 0.0:
        return False
    return expanded.value > WHEEL_RATE_UNCERTAIN * figure.value


def _pairs(rear: Rear) -> Pairs:
    """The complete pairs; none where no pair lies beyond full extension."""
    pairs = tuple(
        (pair.wheel_mm, pair.shock_mm)
        for pair in rear.linkage
        if pair.wheel_mm is not None and pair.shock_mm is not None
    )
    return pairs if any(pair != (0.0, 0.0) for pair in pairs) else ()
