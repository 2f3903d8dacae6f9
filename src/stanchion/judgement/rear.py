"""The shock: its spring, the linkage, and the rate felt at the wheel."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.errors import OutOfRange
from stanchion.job.model import Rear
from stanchion.judgement.assessment import RearFigures
from stanchion.judgement.coils import most_before_bind
from stanchion.judgement.dampers import clicker_findings
from stanchion.judgement.figures import Figure, absent, derive, recorded
from stanchion.judgement.findings import Finding, Severity
from stanchion.judgement.preload import SLACK, SpringAt, reach_of, spring_figures, spring_findings
from stanchion.judgement.profiles import PreloadBand
from stanchion.mechanics.linkage import Linkage, constant_ratio, through_pairs
from stanchion.mechanics.shock import collar_effect, gas_force, shock_force, wheel_rate
from stanchion.record import record

RATIOS = (0.02, 5.0)
"""Motion ratios that a linkage can have; pairs that give another are misread."""
STEEPEST = 1.0
"""Change of motion ratio over one mm of wheel travel beyond which pairs are misread."""


@record
class RearResult:
    """The shock's figures, what the collar does at the wheel, and what is to be said."""

    figures: RearFigures
    collar_effect: Figure
    """Rise at the wheel for 1 mm of preload, at the travel the figures are for."""
    findings: list[Finding]
    linkage: Linkage | None
    """As measured, or one ratio; None where neither is there or the pairs cannot be."""


def rear_figures(rear: Rear, band: PreloadBand | None, travels: tuple[float | None, float | None]) -> RearResult:
    """The shock's figures.

    Args:
        rear: the shock as recorded.
        band: band for installed preload.
        travels: rider sag and static sag [mm], captured or else predicted; ratio and wheel rate are given at the
            first that is known, and at full extension where neither is.
    """
    at = SpringAt(rear.spring, rear.collar, ("rear",), "collar")
    room = reach_of(at)
    spring = spring_figures(at, room, absent("no_stack"), band, most_before_bind(rear))
    findings = list(spring_findings(at, room, spring, band))
    for name in ("low_speed_compression", "high_speed_compression", "rebound"):
        findings += clicker_findings(getattr(rear, name), ("rear", name))

    travel_mm = max(0.0, next((travel for travel in travels if travel is not None), 0.0))
    linkage, problem = linkage_of(rear)
    ratio, slope, stroke_used = _there(linkage, problem, travel_mm)
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
    if at_wheel.value is not None and at_wheel.value <= 0.0:
        findings.append(Finding("wheel_rate_negative", Severity.FAULT, ("rear", "linkage")))
    figures = RearFigures(
        spring=spring,
        motion_ratio=ratio,
        wheel_rate_n_per_mm=at_wheel,
        at_travel_mm=travel_mm,
        gas_force_n=gas,
    )
    effect = derive(collar_effect, rate, ratio, force, slope)
    if not effect.known and not ratio_changes:  # with one ratio the rate of the spring does not matter
        effect = derive(lambda m: 1.0 / m, ratio)
    return RearResult(figures, effect, findings, linkage)


def linkage_of(rear: Rear) -> tuple[Linkage | None, str]:
    """The linkage as measured; or None, and why."""
    pairs = [
        (pair.wheel_mm, pair.shock_mm)
        for pair in rear.linkage
        if pair.wheel_mm is not None and pair.shock_mm is not None
    ]
    beyond_extension = [pair for pair in pairs if pair != (0.0, 0.0)]
    try:
        if beyond_extension:
            return through_pairs(pairs), ""
        if rear.motion_ratio is not None:
            return constant_ratio(rear.motion_ratio), ""
    except OutOfRange:
        return None, "linkage_pairs"
    return None, ""


def _there(linkage: Linkage | None, problem: str, travel_mm: float) -> tuple[Figure, Figure, Figure]:
    """Motion ratio, its slope, and shock travel at one wheel travel."""
    if linkage is None:
        missing = absent(problem) if problem else Figure(needs=(("rear", "motion_ratio"),))
        return missing, missing, missing
    if travel_mm > linkage.covered_mm:
        beyond = absent("beyond_measured")
        return beyond, beyond, beyond
    shock_mm, ratio, slope = linkage.state(travel_mm)
    if not (RATIOS[0] <= ratio <= RATIOS[1] and abs(slope) <= STEEPEST):
        cannot_be = absent("linkage_ratio")
        return cannot_be, cannot_be, cannot_be
    return Figure(ratio), Figure(slope), Figure(shock_mm)


def _linkage_findings(linkage: Linkage | None, problem: str, travel_mm: float) -> Iterator[Finding]:
    if problem in ("linkage_pairs", "linkage_ratio"):
        yield Finding(problem, Severity.FAULT, ("rear", "linkage"))
    elif linkage is not None and travel_mm > linkage.covered_mm + SLACK:
        yield Finding(
            "linkage_beyond_measured",
            Severity.NOTE,
            ("rear", "linkage"),
            {"travel_mm": travel_mm, "covered_mm": linkage.covered_mm},
        )
