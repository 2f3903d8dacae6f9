"""Which cautions a job calls for. Their words stand in caution_sentences.py."""

from __future__ import annotations

from collections.abc import Iterable
from typing import get_args

from stanchion.job.linkage_points import PointsRead
from stanchion.job.model import SIDES, Job, Leg, Readings, Rear
from stanchion.job.swingarm import Drive, Swingarm
from stanchion.judgement.results.codes import Caution
from stanchion.judgement.results.findings import Finding

CAUTIONS: tuple[Caution, ...] = get_args(Caution)
"""Every caution, in the order they are shown."""


def cautions_for(job: Job, findings: Iterable[Finding]) -> tuple[Caution, ...]:
    """The cautions that apply to what has been recorded and found, in the order they are shown.

    Those on work done, on riding and on judgement always apply.
    """
    apply: set[Caution] = {"after_work_torque", "after_work_brakes", "after_work_chain", "before_riding", "judgement"}
    legs = [job.front.leg(side) for side in (SIDES if job.front.split else SIDES[:1])]
    if any(map(_fork_work, legs)):
        apply |= {"fork_caps", "fork_air", "one_leg", "adjuster_end"}
    if job.front.oil or any(leg.air_gap_mm is not None or leg.oil_volume_ml is not None for leg in legs):
        apply |= {"fork_caps", "fork_air", "bleed_extended", "used_oil", "oil_on_discs"}
    apply |= _air_cautions(legs, job.rear)
    if job.front.fork_height_mm is not None:
        apply |= {"fork_height", "support"}
    spring, rear = job.rear.spring, job.rear
    if spring.free_length_mm is not None or spring.set_length_mm is not None or rear.collar.now is not None:
        apply |= {"shock_spring", "shock_gas", "hot_shock", "support", "keep_clear", "adjuster_end"}
    if rear.gas_pressure_bar is not None:
        apply |= {"shock_gas", "hot_shock"}
    if rear.linkage or rear.motion_ratio is not None or rear.points != PointsRead():
        apply |= {"support", "keep_clear"}
    if any(_taken(end.static, end.rider) or end.hanging_mm for end in (job.sag.front, job.sag.rear)):
        apply |= {"support", "one_leg"}
    if _taken(job.sag.front.rider, job.sag.rear.rider):
        apply.add("rider_steadied")
    apply |= _measuring_cautions(job)
    if job.job.use in ("road", "soft-road"):
        apply.add("road_machine")
    if any(finding.code.startswith("adjuster_fully") for finding in findings):
        apply.add("adjuster_end")
    return tuple(code for code in CAUTIONS if code in apply)


def _measuring_cautions(job: Job) -> set[Caution]:
    """Those on lifting the front, and on measuring at swingarm and chain."""
    lifting: set[Caution] = {"support", "lift_front"} if job.balance.lifts or job.balance.blocked == "yes" else set()
    return lifting | {"chain_still"} if job.swingarm != Swingarm() or job.drive != Drive() else lifting


def _air_cautions(legs: Iterable[Leg], rear: Rear) -> set[Caution]:
    fork: set[Caution] = {"fork_air", "air_pump", "one_leg"} if any(leg.air.fitted for leg in legs) else set()
    return fork | {"air_pump", "air_shock", "hot_shock", "support"} if rear.air.fitted else fork


def _fork_work(leg: Leg) -> bool:
    spring = leg.spring
    return (
        spring.free_length_mm is not None
        or spring.set_length_mm is not None
        or leg.stack.spacer_mm is not None
        or leg.adjuster.now is not None
    )


def _taken(*states: Readings) -> bool:
    return any(state.down_mm or state.up_mm for state in states)
