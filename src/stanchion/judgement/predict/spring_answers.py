"""What is found of other springs for one end, kept while all that it depends on is the same: trying springs takes
longer than all other judging together, and most keystrokes change nothing that springs depend on.

An answer is worked out from its arguments alone. They hold only those parts of a job that springs depend on, so that an
answer cannot depend on anything by which it is not kept. The caches may be used by any thread: what two of them ask at
once is worked out twice, and is the same.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache
from typing import Literal

from stanchion.base.record import record
from stanchion.job.model import Clicker, Front, Geometry, Job, Leg, Occasion, Rear, State, Swingarm, Upkeep, Weights
from stanchion.judgement.criteria.profiles import PreloadBand
from stanchion.judgement.criteria.thresholds import NOT_SHOWN_MM
from stanchion.judgement.ends.preload import OUT_OF_BAND, verdict
from stanchion.judgement.results.assessment import Band, FrontFigures, PreloadFigures
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.sag.other_length import other_length
from stanchion.judgement.sag.remedy import NoSuitableRate
from stanchion.judgement.sag.suggested import SuggestedSpring
from stanchion.judgement.sag.targets import Aims
from stanchion.judgement.springs.candidates import Pair, fitted_now
from stanchion.judgement.springs.fork_spring_swap import ForkSpringSwap
from stanchion.judgement.springs.rate_window import find_no_suitable_rate, rate_requirements
from stanchion.judgement.springs.rear_spring_swap import RearSpringSwap
from stanchion.judgement.springs.spring_option import Option, Requirements
from stanchion.judgement.springs.spring_swap import SpringSwap
from stanchion.judgement.springs.suggested_spring import suggest, usual_installed, without_second


@record(kw_only=True)
class SpringsAskedFor:
    """One end, with all that other springs for it depend on."""

    job: Job
    """As much of the job as they depend on."""
    figures: FrontFigures | PreloadFigures
    """Its springs with their preload."""
    band: PreloadBand | None
    """The band for installed preload."""
    static_target: Band | None
    """The target for static sag; what the advice asks of it may be wider."""
    static: Figure
    """What the end carries, machine alone."""
    rider: Figure
    """What it carries with the rider aboard."""
    static_at_most_n: float | None
    """What it carries at most, machine alone, where nothing more is known."""


def fork_for_springs(job: Job) -> Job:
    """A job with no more of another one than what springs for its fork depend on."""
    front = job.front
    right = None if front.right is None else _without_clicks(front.right)
    return Job(
        job=_outside(job),
        front=replace(front, left=_without_clicks(front.left), right=right),
        rear=Rear(air=job.rear.air, gas_set_in=job.rear.gas_set_in),  # they may tell the pressure outside
        geometry=Geometry(rake_deg=job.geometry.rake_deg),
        weights=Weights(front_unsprung_kg=job.weights.front_unsprung_kg),
        upkeep=Upkeep(set_lengths_with=job.upkeep.set_lengths_with),
    )


def shock_for_springs(job: Job) -> Job:
    """A job with no more of another one than what a spring for its shock depends on."""
    front = job.front
    return Job(
        job=_outside(job),
        front=Front(left=_air_alone(front.left), right=None if front.right is None else _air_alone(front.right)),
        rear=replace(job.rear, low_speed_compression=_ANY, high_speed_compression=_ANY, rebound=_ANY),
        weights=Weights(rear_unsprung_kg=job.weights.rear_unsprung_kg),
        swingarm=Swingarm(pivot_to_axle_mm=job.swingarm.pivot_to_axle_mm),
    )


_ANY = Clicker()


def _without_clicks(leg: Leg) -> Leg:
    return replace(leg, compression=_ANY, high_speed_compression=_ANY, rebound=_ANY)


def _air_alone(leg: Leg) -> Leg:
    """What may tell the pressure outside."""
    return Leg(air_gap_mm=leg.air_gap_mm, bleed=leg.bleed, air=leg.air)


def _outside(job: Job) -> Occasion:
    return Occasion(altitude_m=job.job.altitude_m, barometer_hpa=job.job.barometer_hpa)


@lru_cache(maxsize=64)  # the open job, a trial on it, and jobs looked at lately
def no_suitable_rate(of: SpringsAskedFor, aims: Aims, *, exactly: bool) -> NoSuitableRate | None:
    """The nearest rate where no rate that is sold brings both sags in; None where one does, or where it is not known.

    Args:
        of: the end.
        aims: the targets.
        exactly: whether the targets are taken as they are, rather than widened by the uncertainty of the sags.
    """
    swap = _swap(of.job, of.figures)
    if not swap.computable.known or swap.rate_now is None or of.rider.value is None:
        return None
    if not isinstance(_second_out(of, aims), Figure):
        return None
    loads: dict[State, float] = {"rider": of.rider.value}
    if of.static.value is not None:
        loads["static"] = of.static.value
    required = rate_requirements(loads, of.static_at_most_n, of.band, aims)
    return find_no_suitable_rate(swap, required, swap.rate_now, exactly=exactly)


@lru_cache(maxsize=64)
def spring_to_fit(
    of: SpringsAskedFor,
    aims: Aims,
    way: Literal["stiffer", "softer"],
    no_suitable_rate: NoSuitableRate | None,
    *,
    edge: bool,
) -> SuggestedSpring | Figure:
    """The spring to fit, or an absent figure that says why no rate can be named.

    Args:
        of: the end.
        aims: the targets.
        way: which springs the advice asks for.
        no_suitable_rate: what comes nearest where no rate brings both sags in.
        edge: whether a rate brings both sags in only within their uncertainty.
    """
    alone = _second_out(of, aims) if way == "softer" else None
    if isinstance(alone, SuggestedSpring):
        return alone
    requirements = _requirements(of, aims)
    if isinstance(requirements, Figure):
        return requirements
    swap = _swap(of.job, of.figures)
    option = suggest(swap, requirements, way, no_suitable_rate, edge=edge)
    if option is None:
        return absent("no_usual_rate_suits")
    return replace(_suggested(swap, option, of.band), replaces_both=any(one.second.fitted for one in _now(of)))


def _second_out(of: SpringsAskedFor, aims: Aims) -> SuggestedSpring | Figure:
    """The main spring alone, where taking out the second one beside it brings both sags in; else absent."""
    if not any(spring.second.arranged == "side_by_side" for spring in _now(of)):
        return absent("no_usual_rate_suits")
    requirements = _requirements(of, aims)
    if isinstance(requirements, Figure):
        return requirements
    swap = _swap(of.job, of.figures)
    option = without_second(swap, requirements, _now(of))
    if option is None:
        return absent("no_usual_rate_suits")
    return replace(_suggested(swap, option, of.band), second_out=True)


def _now(of: SpringsAskedFor) -> Pair:
    """The springs fitted now."""
    return fitted_now(of.job, "front" if isinstance(of.figures, FrontFigures) else "rear")


def _requirements(of: SpringsAskedFor, aims: Aims) -> Requirements | Figure:
    """Targets and loads for springs, or an absent figure with what they wait for."""
    swap, rider = _swap(of.job, of.figures), aims.targets.get("rider")
    installed = usual_installed(swap, of.band)
    ready = derive(lambda *_: 0.0, swap.computable, of.rider, installed)
    if rider is None or installed.value is None or not ready.known:
        return ready
    return Requirements(
        static_target=of.static_target if aims.targets.get("static") == of.static_target else None,
        rider_target=rider,
        static=of.static,
        rider=of.rider,
        static_at_most_n=of.static_at_most_n,
        band=of.band,
        installed_mm=installed.value,
        aims=aims,
    )


@lru_cache(maxsize=64)
def _swap(job: Job, figures: FrontFigures | PreloadFigures) -> SpringSwap:
    """That end, to try other springs in."""
    return ForkSpringSwap(job, figures) if isinstance(figures, FrontFigures) else RearSpringSwap(job, figures)


def _suggested(swap: SpringSwap, option: Option, band: PreloadBand | None) -> SuggestedSpring:
    stands, adjusted = swap.span.no_fully_out, swap.span.range_mm != 0.0
    per_turn_mm = swap.span.per_turn_mm
    installed = [fitting.installed_mm for fitting in option.fittings]
    out = band is not None and not stands and any(verdict(mm, band) in OUT_OF_BAND for mm in installed)
    left_in_mm, length = option.headroom_in_mm.value, None
    if band is not None and out and swap.installed_stays_mm is not None:
        left = math.inf if left_in_mm is None else left_in_mm
        length = other_length(band, (min(installed), max(installed)), option.added_mm, left)
    return SuggestedSpring(
        rate_n_per_mm=option.mean_rate_n_per_mm,
        both_legs=len(option.fittings) > 1,
        installed_mm=None if stands else (min(installed), max(installed)),
        preload_mm=option.preload_mm,
        turns=option.added_mm / per_turn_mm if per_turn_mm and adjusted and not stands else None,
        added_mm=option.added_mm if adjusted and not stands else None,
        fully_in=adjusted and not stands and left_in_mm is not None and left_in_mm < NOT_SHOWN_MM,
        out_of_band=out,
        other_length=length,
        sags_mm={"static": option.best.static_mm.value, "rider": option.best.rider_mm.value},
    )
