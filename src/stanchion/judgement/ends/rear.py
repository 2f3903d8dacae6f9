"""Figures and findings on the shock: its spring, the linkage, and the rate at the wheel."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Literal

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import Rear
from stanchion.judgement.criteria.profiles import PreloadBand
from stanchion.judgement.criteria.thresholds import (
    LAST_PAIR_SHORT,
    MOTION_RATIOS,
    SLACK,
    STEEPEST_RATIO_PER_MM,
    TAPE_DIVISION_MM,
    WHEEL_RATE_UNCERTAIN,
)
from stanchion.judgement.ends.coils import most_before_bind
from stanchion.judgement.ends.dampers import clicker_findings
from stanchion.judgement.ends.preload import SpringAt, adjuster_range, spring_figures, spring_findings
from stanchion.judgement.results.assessment import RearFigures, SmoothFigures
from stanchion.judgement.results.codes import Problem
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.mechanics.linkage import Linkage, constant_ratio, through_pairs
from stanchion.mechanics.linkage_smooth import (
    LinkageUncertainty,
    Pairs,
    SmoothLinkage,
    linkage_uncertainty,
    moved_by_readings,
    smooth_through_pairs,
)
from stanchion.mechanics.shock import collar_effect, gas_force, shock_force, wheel_rate


@record
class RearResult:
    """The shock's figures and findings, its linkage, and the effect of the collar at the wheel."""

    figures: RearFigures
    collar_effect: Figure
    """Rise at the wheel for 1 mm of preload, at the travel the figures are for."""
    findings: list[Finding]
    linkage: Linkage | None
    """From measured pairs or from one ratio; None where neither is recorded or the pairs are impossible."""
    collar_uncertain: bool = False
    """Whether the effect of the collar, as the linkage pairs give it, is so uncertain that sag must be measured
    again."""


def rear_figures(
    rear: Rear,
    band: PreloadBand | None,
    travels: tuple[float | None, float | None],
    tape_mm: float | None = None,
    *,
    with_uncertainty: bool = True,
) -> RearResult:
    """The shock's figures.

    Args:
        rear: the shock as recorded.
        band: band for installed preload.
        travels: rider sag and static sag [mm], captured or else predicted; ratio and wheel rate are given at the
            first that is known, and at full extension where neither is.
        tape_mm: smallest division of the tape the linkage was read with; None: 1 mm is taken.
        with_uncertainty: whether to work out the uncertainty of ratio and rates from the linkage pairs; a model of
            the rear end does not need it.
    """
    at = SpringAt(rear.spring, rear.collar, ("rear",), "collar")
    limits = adjuster_range(at)
    spring = spring_figures(at, limits, absent("no_stack"), band, most_before_bind(rear))
    findings = list(spring_findings(at, limits, spring, band))
    for name in ("low_speed_compression", "high_speed_compression", "rebound"):
        findings += clicker_findings(getattr(rear, name), ("rear", name))

    travel_mm = max(0.0, next((travel for travel in travels if travel is not None), 0.0))
    linkage, problem = linkage_of(rear)
    ratio, slope, stroke_used = _at(linkage, problem, travel_mm)
    gas = derive(
        gas_force,
        recorded(rear.gas_pressure_bar, ("rear", "gas_pressure_bar")),
        recorded(rear.shaft_mm, ("rear", "shaft_mm")),
    )
    rate = recorded(rear.spring.rate_n_per_mm, ("rear", "spring", "rate_n_per_mm"))
    ratio_changes = slope.value is not None and slope.value != 0.0
    force = Figure(0.0)
    if ratio_changes:  # only then does the force along the shock enter the rate at the wheel
        force = derive(shock_force, rate, spring.preload_now_mm, stroke_used, Figure(gas.value or 0.0))
    findings += _linkage_findings(linkage, problem or ratio.problem, travel_mm)
    at_wheel = derive(wheel_rate, rate, ratio, force, slope)
    if at_wheel.known and ratio_changes and not gas.known:
        findings.append(Finding("gas_unknown", Severity.NOTE, ("rear",)))
    effect = derive(collar_effect, rate, ratio, force, slope)
    tape_mm = TAPE_DIVISION_MM if tape_mm is None else tape_mm
    of_ratio = of_rate = of_collar = absent("no_figure")
    smooth = None
    if with_uncertainty:
        of_ratio, of_rate, of_collar = _uncertainties(rear, travel_mm, tape_mm, (rate, ratio, force, slope))
        smooth = _smooth(rear, travel_mm, tape_mm, at_wheel, of_rate)
    figures = RearFigures(
        spring=spring,
        motion_ratio=ratio,
        motion_ratio_uncertainty=of_ratio,
        wheel_rate_n_per_mm=at_wheel,
        wheel_rate_uncertainty_n_per_mm=of_rate,
        smooth=None
        if smooth is None
        else _by_smooth_curve(smooth, travel_mm, rate, spring.preload_now_mm, Figure(gas.value or 0.0)),
        at_travel_mm=travel_mm,
        gas_force_n=gas,
    )
    findings += _wheel_rate_findings(figures, smooth)
    findings += _extension_findings(rear, linkage)
    collar_uncertain = _is_uncertain(effect, of_collar)
    if not effect.known and not ratio_changes:  # with one ratio the rate of the spring does not matter
        effect = derive(lambda m: 1.0 / m, ratio)
    return RearResult(figures, effect, findings, linkage, collar_uncertain)


def _pairs(rear: Rear) -> Pairs:
    """The complete pairs; none where no pair lies beyond full extension."""
    pairs = tuple(
        (pair.wheel_mm, pair.shock_mm)
        for pair in rear.linkage
        if pair.wheel_mm is not None and pair.shock_mm is not None
    )
    return pairs if any(pair != (0.0, 0.0) for pair in pairs) else ()


def linkage_of(rear: Rear) -> tuple[Linkage | None, Problem | Literal[""]]:
    """The linkage, or None and the problem. Where the last pair falls a little short of full travel, the curve is
    continued in a straight line."""
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


def _extension_findings(rear: Rear, linkage: Linkage | None) -> Iterator[Finding]:
    """Note that the curve is continued beyond the last pair."""
    last_mm = max((wheel_mm for wheel_mm, _ in _pairs(rear)), default=0.0)
    if linkage is not None and last_mm and linkage.covered_mm > last_mm:
        values = {"last_mm": last_mm, "end_mm": linkage.covered_mm}
        yield Finding("linkage_goes_on", Severity.NOTE, ("rear", "linkage"), values)


def _uncertainties(
    rear: Rear, travel_mm: float, tape_mm: float, inputs: tuple[Figure, Figure, Figure, Figure]
) -> tuple[Figure, Figure, Figure]:
    """Expanded uncertainty of motion ratio, wheel rate and collar effect.

    Args:
        rear: the shock as recorded.
        travel_mm: at which wheel travel.
        tape_mm: division of the tape.
        inputs: spring rate, motion ratio, force along the shock, and how fast the ratio changes.
    """
    pairs = _pairs(rear)
    rate, ratio, force, slope = inputs
    if not pairs or not ratio.known:
        one_ratio = absent("one_ratio") if ratio.known else ratio
        return one_ratio, one_ratio, one_ratio

    @cache
    def known() -> LinkageUncertainty:
        return linkage_uncertainty(
            moved_by_readings(pairs, travel_mm, tape_mm),
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


def _smooth(rear: Rear, travel_mm: float, tape_mm: float, at_wheel: Figure, expanded: Figure) -> SmoothLinkage | None:
    """The smooth curve through the pairs, where the curve through every pair leaves the wheel rate too uncertain.

    None where the wheel rate is certain enough, where the travel lies beyond the pairs, and where there are too few
    pairs.
    """
    pairs = _pairs(rear)
    lost = at_wheel.value is not None and at_wheel.value <= 0.0
    if not pairs or tape_mm <= 0.0 or not (lost or _is_uncertain(at_wheel, expanded)):
        return None
    if travel_mm > max(wheel_mm for wheel_mm, _ in pairs) + SLACK:
        return None
    try:
        return smooth_through_pairs(pairs, tape_mm)
    except OutOfRange:
        return None


def _by_smooth_curve(
    smooth: SmoothLinkage, travel_mm: float, rate: Figure, preload: Figure, gas: Figure
) -> SmoothFigures | None:
    """Ratio and wheel rate by the smooth curve; None where the pairs do not fit a smooth curve."""
    if not smooth.fits:
        return None
    shock_mm, ratio, slope = smooth.state(travel_mm)
    if not MOTION_RATIOS[0] <= ratio <= MOTION_RATIOS[1]:
        return None
    force = derive(shock_force, rate, preload, Figure(shock_mm), gas)
    at_wheel = derive(wheel_rate, rate, Figure(ratio), force, Figure(slope))
    moved = smooth.moved(travel_mm)

    def uncertainty_with(k: float, along_n: float) -> LinkageUncertainty:
        return linkage_uncertainty(moved, k, ratio, along_n, slope)

    return SmoothFigures(
        motion_ratio=Figure(ratio),
        motion_ratio_uncertainty=Figure(uncertainty_with(1.0, 0.0).motion_ratio.expanded),
        wheel_rate_n_per_mm=at_wheel,
        wheel_rate_uncertainty_n_per_mm=derive(lambda k, f: uncertainty_with(k, f).wheel_rate.expanded, rate, force),
    )


def _wheel_rate_findings(figures: RearFigures, smooth: SmoothLinkage | None) -> Iterator[Finding]:
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
    elif within is not None and _is_uncertain(at_wheel, expanded):
        values = {"rate": rate, "uncertainty": within, "share": within / rate}
        yield Finding("wheel_rate_uncertain", Severity.WARNING, where, values)


def _is_uncertain(figure: Figure, expanded: Figure) -> bool:
    if figure.value is None or expanded.value is None or figure.value <= 0.0:
        return False
    return expanded.value > WHEEL_RATE_UNCERTAIN * figure.value


def _at(linkage: Linkage | None, problem: Problem | Literal[""], travel_mm: float) -> tuple[Figure, Figure, Figure]:
    """Motion ratio, its slope, and shock travel at one wheel travel."""
    if linkage is None:
        missing = absent(problem) if problem else Figure(needs=(("rear", "motion_ratio"),))
        return missing, missing, missing
    if travel_mm > linkage.covered_mm:
        beyond = absent("beyond_measured")
        return beyond, beyond, beyond
    shock_mm, ratio, slope = linkage.state(travel_mm)
    if not (MOTION_RATIOS[0] <= ratio <= MOTION_RATIOS[1] and abs(slope) <= STEEPEST_RATIO_PER_MM):
        cannot_be = absent("linkage_ratio")
        return cannot_be, cannot_be, cannot_be
    return Figure(ratio), Figure(slope), Figure(shock_mm)


def _linkage_findings(linkage: Linkage | None, problem: Problem | Literal[""], travel_mm: float) -> Iterator[Finding]:
    if problem in ("linkage_pairs", "linkage_ratio"):
        yield Finding(problem, Severity.FAULT, ("rear", "linkage"))
    elif linkage is not None and travel_mm > linkage.covered_mm + SLACK:
        yield Finding(
            "linkage_beyond_measured",
            Severity.NOTE,
            ("rear", "linkage"),
            {"travel_mm": travel_mm, "covered_mm": linkage.covered_mm},
        )
