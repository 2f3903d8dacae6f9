"""Loads on the springs of each end in each state: from scales, or estimated from masses and shares."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from stanchion.base.record import record
from stanchion.job.calibration import NOT_CALIBRATED
from stanchion.job.model import End, Job, Path, State
from stanchion.judgement.criteria.thresholds import SCALE_UNCERTAINTY_KG, SHARE_UNCERTAINTY
from stanchion.judgement.ends.other_rider import weights_with_rider
from stanchion.judgement.ends.scale_checks import loads_contradicted
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.judgement.results.problems import Problem
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
    doubted: bool = False
    """The scales contradict the masses entered, or each other, so that nothing is concluded from these loads."""

    def load(self, state: State) -> Figure:
        """The load in that state."""
        return self.static_n if state == "static" else self.rider_n

    @property
    def believed(self) -> EndLoads:
        """The loads to conclude something from: none where they are doubted."""
        if not self.doubted:
            return self
        return replace(self, static_n=absent("loads_doubted"), rider_n=absent("loads_doubted"))

    @property
    def hanging_n(self) -> float:
        """Vertical load with the wheel hanging [N], 0 or less; 0 where the unsprung mass is not recorded."""
        return -(self.unsprung_kg or 0.0) * G_N


@record
class _Scale:
    """One scale reading and its path."""

    path: Path
    kg: float | None


def with_scales_corrected(job: Job) -> Job:
    """The job with the readings of calibrated scales corrected. Few jobs have any: the module is imported only then."""
    if job.calibration == NOT_CALIBRATED:
        return job
    from stanchion.judgement.ends.calibrated import corrected  # noqa: PLC0415

    return corrected(job)


def loads_at(job: Job, end: End) -> EndLoads:
    """Loads on the springs of one end. A scale takes precedence; loads from masses and shares are estimates, and so are
    scale readings that are converted to another rider.

    Args:
        job: the job.
        end: which end.
    """
    job = with_scales_corrected(job)
    weights = weights_with_rider(job)
    converted = getattr(weights, f"{end}_aboard_kg") != getattr(job.weights, f"{end}_aboard_kg")
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
    with_rider = (
        Figure(aboard.kg, estimate=converted) if aboard.kg is not None else derive(lambda m, r: m + r, static, rider)
    )
    below = Figure(unsprung or 0.0)
    read_kg = None if converted else aboard.kg
    return EndLoads(
        static_n=derive(sprung_load, static, below),
        rider_n=derive(sprung_load, with_rider, below),
        unsprung_kg=unsprung,
        uncertainty_n=_uncertainties(alone.kg, read_kg, machine_kg, rider_kg),
        change_uncertainty_n=G_N * _change_uncertainty(alone.kg, read_kg, machine_kg, rider_kg),
        doubted=loads_contradicted(job, end),
    )


def doubted_by(job: Job, end: End) -> Problem:
    """Why an end is in doubt: its loads, by scales and masses; else what was entered, by its sag."""
    return "loads_doubted" if loads_at(job, end).doubted else "inputs_doubted"


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
