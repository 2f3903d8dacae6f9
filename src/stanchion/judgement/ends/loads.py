"""Loads on the springs of each end in each state: from scales, or estimated from masses and shares."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace

from stanchion.base.record import record
from stanchion.job.model import ENDS, End, Job, Path, Readings, SagEnd, State, Weights
from stanchion.judgement.criteria.thresholds import SCALE_UNCERTAINTY_KG, SCALES_DIFFER, SHARE_UNCERTAINTY
from stanchion.judgement.results.codes import PredictionCode, Problem
from stanchion.judgement.results.figures import Figure, derive, recorded
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.mechanics.limits import G_N
from stanchion.mechanics.load import share_on_wheel, sprung_load


@record(kw_only=True)
class EndLoads:
    """Loads on the springs of one end."""

    static_n: Figure
    """Vertical load on its springs, machine alone [N]."""
    rider_n: Figure
    """Vertical load on its springs with the rider aboard [N]."""
    unsprung_kg: float | None
    """Mass below the springs; None: not recorded, so the loads are without it."""
    uncertainty_n: Mapping[State, float]
    """Standard uncertainty of each load [N]."""
    change_uncertainty_n: float
    """Standard uncertainty of the difference of both loads [N]."""

    def load(self, state: State) -> Figure:
        """The load in that state."""
        return self.static_n if state == "static" else self.rider_n

    @property
    def hanging_n(self) -> float:
        """Vertical load with the wheel hanging [N], 0 or less; 0 where the unsprung mass is not recorded."""
        return -(self.unsprung_kg or 0.0) * G_N


@record
class _Scale:
    """One scale reading and its path."""

    path: Path
    kg: float | None


def loads_at(job: Job, end: End) -> EndLoads:
    """Loads on the springs of one end. A scale takes precedence; loads from masses and shares are estimates.

    Args:
        job: the job.
        end: which end.
    """
    weights = job.weights
    front = end == "front"
    alone = _Scale(("weights", f"{end}_alone_kg"), weights.front_alone_kg if front else weights.rear_alone_kg)
    aboard = _Scale(("weights", f"{end}_aboard_kg"), weights.front_aboard_kg if front else weights.rear_aboard_kg)
    unsprung = weights.front_unsprung_kg if front else weights.rear_unsprung_kg
    machine_kg, rider_kg = weights.machine_kg, job.job.rider_mass_kg
    machine = _by_share(
        alone, machine_kg, ("weights", "machine_kg"), weights.front_share_pct, front=front, problem="machine_share"
    )
    rider = _by_share(
        aboard, rider_kg, ("job", "rider_mass_kg"), weights.rider_front_share_pct, front=front, problem="rider_share"
    )
    static = Figure(alone.kg) if alone.kg is not None else machine
    with_rider = Figure(aboard.kg) if aboard.kg is not None else derive(lambda m, r: m + r, static, rider)
    below = Figure(unsprung or 0.0)
    return EndLoads(
        static_n=derive(sprung_load, static, below),
        rider_n=derive(sprung_load, with_rider, below),
        unsprung_kg=unsprung,
        uncertainty_n=_uncertainties(alone.kg, aboard.kg, machine_kg, rider_kg),
        change_uncertainty_n=G_N * _change_uncertainty(alone.kg, aboard.kg, machine_kg, rider_kg),
    )


def _by_share(
    scale: _Scale, mass_kg: float | None, mass_at: Path, front_pct: float | None, *, front: bool, problem: Problem
) -> Figure:
    """The part of a mass that this wheel carries. Shares have no default; a missing one is reported with the usual
    values."""
    share_at: Path = ("weights", "front_share_pct" if problem == "machine_share" else "rider_front_share_pct")
    if mass_kg is None and front_pct is None:
        return Figure(needs=(scale.path,))  # ask for the scale, which is more exact
    if front_pct is None:
        return Figure(needs=(share_at,), problem=problem)
    mass = recorded(mass_kg, mass_at)
    share = Figure(front_pct / 100.0 if front else 1.0 - front_pct / 100.0, estimate=True)
    return derive(share_on_wheel, mass, share)


def _uncertainties(
    alone_kg: float | None, aboard_kg: float | None, machine_kg: float | None, rider_kg: float | None
) -> dict[State, float]:
    """Standard uncertainty of both loads [N]: of the scale or, without one, of the shares."""
    machine = SCALE_UNCERTAINTY_KG if alone_kg is not None else SHARE_UNCERTAINTY * (machine_kg or 0.0)
    aboard = math.hypot(machine, SHARE_UNCERTAINTY * (rider_kg or 0.0))
    return {"static": G_N * machine, "rider": G_N * (aboard if aboard_kg is None else SCALE_UNCERTAINTY_KG)}


def _change_uncertainty(
    alone_kg: float | None, aboard_kg: float | None, machine_kg: float | None, rider_kg: float | None
) -> float:
    """Standard uncertainty of the mass that the rider adds [kg]; a scale reading that enters both loads cancels."""
    if aboard_kg is None:
        return SHARE_UNCERTAINTY * (rider_kg or 0.0)
    other = SCALE_UNCERTAINTY_KG if alone_kg is not None else SHARE_UNCERTAINTY * (machine_kg or 0.0)
    return math.hypot(SCALE_UNCERTAINTY_KG, other)


def with_rider(job: Job, changed: Job) -> tuple[Job, float | None]:
    """A changed job with scale readings for its new rider, where the scales were read with another rider aboard.

    The part of the readings that the rider adds is scaled by the riders' masses. Sag read with the other rider aboard
    is left out.

    Args:
        job: the job, whose rider was on the scales.
        changed: the same job with something changed.

    Returns:
        The changed job with both scales as they would read, and the mass taken for the rider who was on them [kg];
        the changed job as it is, and None, where the rider is the same or was weighed again.
    """
    new_kg, weights = changed.job.rider_mass_kg, changed.weights
    aboard = (weights.front_aboard_kg, weights.rear_aboard_kg)
    old_kg = _rider_on_scales(job)
    if (
        new_kg in (None, job.job.rider_mass_kg)
        or aboard == (None, None)
        or aboard != (job.weights.front_aboard_kg, job.weights.rear_aboard_kg)
        or old_kg is None
        or old_kg <= 0.0
    ):
        return changed, None
    part = {end: _rider_at(job, end, old_kg) for end in ENDS}
    factor = (new_kg or 0.0) / old_kg
    read: dict[str, float | None] = {}
    for end, aboard_kg in zip(ENDS, aboard, strict=True):
        alone_kg, rider_kg = _alone_kg(changed, end), part[end]
        if aboard_kg is None or rider_kg is None:
            read[f"{end}_aboard_kg"] = None  # the rider's part here is not known
        elif alone_kg is None:
            read[f"{end}_aboard_kg"] = aboard_kg + rider_kg * (factor - 1.0)
        else:
            read[f"{end}_aboard_kg"] = alone_kg + rider_kg * factor
    front = _without_rider(job.sag.front, changed.sag.front)
    sag = replace(changed.sag, front=front, rear=_without_rider(job.sag.rear, changed.sag.rear))
    return replace(changed, weights=replace(weights, **read), sag=sag), old_kg


def _rider_on_scales(job: Job) -> float | None:
    """Mass of the rider by the scales, where all four were read; otherwise as entered."""
    weights = job.weights
    alone = _both(weights.front_alone_kg, weights.rear_alone_kg)
    aboard = _both(weights.front_aboard_kg, weights.rear_aboard_kg)
    return job.job.rider_mass_kg if alone is None or aboard is None else aboard - alone


def _alone_kg(job: Job, end: End) -> float | None:
    """Mass of the machine alone on one wheel, by scale or by share."""
    weights = job.weights
    scale = weights.front_alone_kg if end == "front" else weights.rear_alone_kg
    return scale if scale is not None else _part_kg(weights.machine_kg, weights.front_share_pct, end)


def _rider_at(job: Job, end: End, rider_kg: float) -> float | None:
    """Part of the rider's mass on one wheel: by its scale, or by the rider's share."""
    weights = job.weights
    aboard_kg = weights.front_aboard_kg if end == "front" else weights.rear_aboard_kg
    alone_kg = _alone_kg(job, end)
    if aboard_kg is None or alone_kg is None:
        return _part_kg(rider_kg, weights.rider_front_share_pct, end)
    return aboard_kg - alone_kg


def _part_kg(mass_kg: float | None, front_pct: float | None, end: End) -> float | None:
    if mass_kg is None or front_pct is None:
        return None
    return share_on_wheel(mass_kg, front_pct / 100.0 if end == "front" else 1.0 - front_pct / 100.0)


def _without_rider(before: SagEnd, after: SagEnd) -> SagEnd:
    """Readings of one end without those that were taken with another rider aboard."""
    return replace(after, rider=Readings()) if after.rider == before.rider else after


def load_findings(job: Job) -> Iterator[Finding]:
    """Findings on scales that disagree with the masses entered, or with each other."""
    weights = job.weights
    alone = _both(weights.front_alone_kg, weights.rear_alone_kg)
    aboard = _both(weights.front_aboard_kg, weights.rear_aboard_kg)
    rider = None if alone is None or aboard is None else aboard - alone
    masses = _both(weights.machine_kg, job.job.rider_mass_kg)
    yield from _disagree("scales_disagree_machine", alone, weights.machine_kg)
    yield from _disagree("scales_disagree_rider", rider, job.job.rider_mass_kg)
    if alone is None:
        yield from _disagree("scales_disagree_aboard", aboard, masses)
    yield from _swapped(weights)


def _both(first: float | None, second: float | None) -> float | None:
    return None if first is None or second is None else first + second


def _disagree(code: PredictionCode, scales_kg: float | None, entered_kg: float | None) -> Iterator[Finding]:
    if scales_kg is None or entered_kg is None or abs(scales_kg - entered_kg) <= SCALES_DIFFER * entered_kg:
        return
    values = {"scales_kg": scales_kg, "entered_kg": entered_kg}
    if code == "scales_disagree_machine":
        yield Finding("scales_disagree_machine", Severity.NOTE, ("weights", "machine_kg"), values)
    elif code == "scales_disagree_rider":
        # Four readings give the rider's mass; what they cannot explain may be another rider's.
        certain = abs(scales_kg - entered_kg) > 2.0 * math.sqrt(4.0) * SCALE_UNCERTAINTY_KG
        severity = Severity.WARNING if certain else Severity.NOTE
        yield Finding("scales_disagree_rider", severity, ("job", "rider_mass_kg"), values)
    else:
        yield Finding("scales_disagree_aboard", Severity.NOTE, ("weights",), values)


def _swapped(weights: Weights) -> Iterator[Finding]:
    for name, alone_kg, aboard_kg in (
        ("front_aboard_kg", weights.front_alone_kg, weights.front_aboard_kg),
        ("rear_aboard_kg", weights.rear_alone_kg, weights.rear_aboard_kg),
    ):
        if alone_kg is not None and aboard_kg is not None and aboard_kg <= alone_kg:
            values = {"alone_kg": alone_kg, "aboard_kg": aboard_kg}
            yield Finding("scales_swapped", Severity.WARNING, ("weights", name), values)
