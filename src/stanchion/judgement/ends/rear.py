"""Figures and findings on the shock: its spring, and the rate at the wheel through the linkage."""

from __future__ import annotations

from dataclasses import replace

from stanchion.base.record import record
from stanchion.job.model import Job, Rear
from stanchion.judgement.criteria.profiles import PreloadBand
from stanchion.judgement.criteria.thresholds import MOTION_RATIOS, TAPE_DIVISION_MM
from stanchion.judgement.ends.air_leg import AirLaw, air_of, compared_only, over_pressure
from stanchion.judgement.ends.along_shock import AlongShock, along_shock
from stanchion.judgement.ends.coils import most_before_bind
from stanchion.judgement.ends.dampers import clicker_findings
from stanchion.judgement.ends.instruments import own_length
from stanchion.judgement.ends.linkage import (
    extension_findings,
    is_uncertain,
    linkage_at,
    linkage_findings,
    linkage_needs,
    linkage_of,
    linkage_uncertainties,
    smooth_where_uncertain,
    wheel_rate_findings,
)
from stanchion.judgement.ends.outside import outside_mpa, pressure_in
from stanchion.judgement.ends.preload import SpringAt, adjuster_range, no_spring, spring_figures
from stanchion.judgement.ends.preload_findings import spring_findings
from stanchion.judgement.ends.preload_sure import surely_judged
from stanchion.judgement.ends.shock_gas import gas_of
from stanchion.judgement.ends.spring_law import SpringLaw, law_of_shock
from stanchion.judgement.results.assessment import RearFigures, SmoothFigures
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.mechanics.gas import ATMOSPHERE_MPA
from stanchion.mechanics.linkage import Linkage
from stanchion.mechanics.linkage_smooth import LinkageUncertainty, SmoothLinkage, linkage_uncertainty
from stanchion.mechanics.shock import collar_effect, wheel_rate
from stanchion.mechanics.statistics import Uncertainty


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
    air: AirLaw | None = None,
    here_mpa: float = ATMOSPHERE_MPA,
    arm_mm: float | None = None,
    own: Uncertainty | None = None,
) -> RearResult:
    """The shock's figures.

    Args:
        rear: the shock as recorded.
        band: band for installed preload.
        travels: wheel travel from full extension at rider sag and at static sag [mm], captured or else predicted;
            ratio and wheel rate are given at the first that is known, and at full extension where neither is.
        tape_mm: smallest division of the tape the linkage was read with; None: 1 mm is taken.
        with_uncertainty: whether to work out the uncertainty of ratio and rates from the linkage pairs; a model of
            the rear end does not need it.
        air: the air that springs it, as air_of_shock gives it; None: a coil spring.
        here_mpa: pressure outside now [MPa].
        arm_mm: length of the swingarm from pivot to axle [mm], which a linkage by its points needs.
        own: how sure one length of the spring is by the technician's own study [mm]; None: there is none.
    """
    at, law = SpringAt(rear.spring, rear.collar, ("rear",), "collar"), law_of_shock(rear)
    limits = adjuster_range(at)
    if air is None:
        spring = spring_figures(at, law, limits, absent("no_stack"), band, bind_mm=most_before_bind(rear))
        spring = surely_judged(spring, at, band, tape_mm, own)
        findings, preload = list(spring_findings(at, limits, spring, band)), spring.preload_now_mm
    else:
        spring, law, preload = replace(no_spring(band, absent("no_stack")), by_air=True), law_of_air(air), Figure(0.0)
        findings = [*over_pressure(rear.air, ("rear",), {}), *compared_only(rear.air, ("rear",), {})]
    for name in ("low_speed_compression", "high_speed_compression", "rebound"):
        findings += clicker_findings(getattr(rear, name), ("rear", name))

    travel_mm = max(0.0, next((travel for travel in travels if travel is not None), 0.0))
    linkage, problem = linkage_of(rear, arm_mm)
    ratio, slope, stroke_used = linkage_at(linkage, problem, travel_mm, linkage_needs(rear, arm_mm))
    gas = gas_of(rear, here_mpa)
    along = along_shock(rear, law, preload, gas, linkage)
    of_spring, of_others = along.spring_rate(stroke_used), along.other_rate(stroke_used)
    rate = derive(lambda spring, others: spring + others, of_spring, of_others)
    ratio_changes = slope.value is not None and slope.value != 0.0
    force = Figure(0.0)
    if ratio_changes:  # only then does the force along the shock enter the rate at the wheel
        force = along.force(stroke_used)
    findings += linkage_findings(linkage, problem or ratio.problem, travel_mm)
    at_wheel = derive(wheel_rate, rate, ratio, force, slope)
    if at_wheel.known and ratio_changes and not gas.extended_n.known and air is None:
        findings.append(Finding("gas_unknown", Severity.NOTE, ("rear",)))
    effect = derive(collar_effect, of_spring, ratio, force, slope, of_others)
    tape_mm = TAPE_DIVISION_MM if tape_mm is None else tape_mm
    of_ratio = of_rate = of_collar = absent("no_figure")
    smooth = None
    if with_uncertainty:
        inputs = (rate, ratio, force, slope)
        of_ratio, of_rate, of_collar = linkage_uncertainties(rear, travel_mm, tape_mm, inputs, arm_mm)
        smooth = smooth_where_uncertain(rear, travel_mm, tape_mm, at_wheel, of_rate)
    figures = RearFigures(
        spring=spring,
        motion_ratio=ratio,
        motion_ratio_uncertainty=of_ratio,
        wheel_rate_n_per_mm=at_wheel,
        wheel_rate_uncertainty_n_per_mm=of_rate,
        smooth=None if smooth is None else _by_smooth_curve(smooth, travel_mm, along),
        at_travel_mm=travel_mm,
        gas_force_n=gas.extended_n,
        gas_full_n=gas.full_n,
    )
    findings += wheel_rate_findings(figures, smooth)
    findings += extension_findings(rear, linkage)
    if rear.by_points:
        from stanchion.judgement.ends.points_law import points_findings, points_law  # noqa: PLC0415 - as in linkage

        findings += points_findings(rear, points_law(rear, arm_mm), tape_mm)
    # The uncertainty is that of k m / K with the rate of all that acts along the shock, as large a share of it as here.
    collar_uncertain = is_uncertain(derive(lambda k, m, at: k * m / at, rate, ratio, at_wheel), of_collar)
    if not effect.known and not ratio_changes:  # with one ratio the rate of the spring does not matter
        effect = derive(lambda m: 1.0 / m, ratio)
    return RearResult(figures, effect, findings, linkage, collar_uncertain)


def shock_figures(
    job: Job,
    band: PreloadBand | None = None,
    travels: tuple[float | None, float | None] = (None, None),
    *,
    with_uncertainty: bool = True,
) -> RearResult:
    """The figures of a job's shock, as rear_figures gives them, sprung by coil or air."""
    air, here_mpa, tape_mm = air_of_shock(job), outside_mpa(job), job.sag.tape_resolution_mm
    found = rear_figures(
        job.rear,
        band,
        travels,
        tape_mm,
        with_uncertainty=with_uncertainty,
        air=air,
        here_mpa=here_mpa,
        arm_mm=job.swingarm.pivot_to_axle_mm,
        own=own_length(job.repeatability),
    )
    if pressure_in(job.rear.gas_set_in) is None or pressure_in(job.job.outside) is not None:
        return found
    return replace(found, figures=replace(found.figures, gas_carried=True))


def law_of_air(air: AirLaw) -> SpringLaw:
    """The law of a shock that is sprung by air."""
    return SpringLaw(air.spring, air.known)


def air_of_shock(job: Job) -> AirLaw | None:
    """The air that springs the shock; None where a coil spring does.

    Its chambers must hold up to the stroke; where none is recorded, up to shock travel at full wheel travel.
    """
    rear = job.rear
    if not rear.air.fitted:
        return None
    stroke = recorded(rear.stroke_mm, ("rear", "stroke_mm"))
    linkage, _ = linkage_of(rear, job.swingarm.pivot_to_axle_mm)
    if rear.stroke_mm is None and rear.wheel_travel_mm is not None and linkage is not None:
        stroke = Figure(linkage.shock_travel(min(rear.wheel_travel_mm, linkage.covered_mm)))
    return air_of(rear.air, ("rear", "air"), rear.temperature_c, stroke, outside_mpa(job))


def _by_smooth_curve(smooth: SmoothLinkage, travel_mm: float, along: AlongShock) -> SmoothFigures | None:
    """Ratio and wheel rate by the smooth curve; None where the pairs do not fit a smooth curve."""
    if not smooth.fits:
        return None
    shock_mm, ratio, slope = smooth.state(travel_mm)
    if not MOTION_RATIOS[0] <= ratio <= MOTION_RATIOS[1]:
        return None
    shock = Figure(shock_mm)
    rate = derive(lambda spring, others: spring + others, along.spring_rate(shock), along.other_rate(shock))
    force = along.force(shock)
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
