"""The machine as it stands with its rider, ready to be computed on the brakes and on the gas.

Worked out when it is asked for; the assessment of a job does not hold it.
"""

from __future__ import annotations

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import ENDS, Job
from stanchion.judgement.ends.end_model import hangs_at
from stanchion.judgement.ends.loads import doubted_by
from stanchion.judgement.predict.balance import wheel_weights
from stanchion.judgement.predict.geometry import geometry_figures, line_in, state_with_sags
from stanchion.judgement.predict.loaded_machine import LoadedMachine
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.mechanics.axle_moved import along_the_arm
from stanchion.mechanics.geometry import Baseline
from stanchion.mechanics.steady import Machine


@record(kw_only=True)
class RiddenMachine:
    """A machine with its rider that can be computed on the brakes and on the gas."""

    machine: Machine
    hangs_front: Figure
    """Travel of each hanging wheel from the stop, from which used travel counts."""
    hangs_rear: Figure
    height_off: Figure
    """How far up or down its centre of mass may lie."""
    estimate: bool
    """Whether it rests on an estimate."""


def ridden_machine(
    job: Job, assessment: Assessment, machine: LoadedMachine, axle_back_mm: float = 0.0
) -> RiddenMachine | Figure:
    """The machine as it stands with its rider; where something of it is not known, an absent figure that says what.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        machine: both ends with their springs and loads.
        axle_back_mm: how far the rear axle is taken to be moved back along the swingarm.
    """
    doubted = [end for end in ENDS if assessment.predicted.end(end).doubted]
    if doubted:
        return absent(doubted_by(job, doubted[0]))
    weights = wheel_weights(job, assessment, "rider")
    stands = state_with_sags(assessment.sag, assessment.predicted.sag, "rider")
    fork_mm, rear_mm = machine.travel("front", "rider"), machine.travel("rear", "rider")
    base = job.geometry
    offset, front_radius, rear_radius = (
        recorded(getattr(base, name), ("geometry", name)) for name in ("offset_mm", "front_radius_mm", "rear_radius_mm")
    )
    needed = [weights.total_kg, weights.height_mm, fork_mm, rear_mm, offset, front_radius, rear_radius]
    if stands is not None:
        geometry = geometry_figures(job, stands, assessment.rear.motion_ratio)
        needed += [geometry.rake_deg, geometry.wheelbase_mm, weights.ahead_mm]
    everything = derive(lambda *_: 0.0, *needed)
    fork, rear = machine.front.fork, machine.rear.rear
    if not everything.known or stands is None or fork is None or rear is None:
        return absent("out_of_range") if everything.known else everything
    value = [figure.value or 0.0 for figure in needed]
    try:
        before = Machine(
            stands=Baseline(
                rake_deg=value[7],
                offset_mm=value[4],
                wheelbase_mm=value[8],
                front_radius_mm=value[5],
                rear_radius_mm=value[6],
            ),
            mass_kg=value[0],
            ahead_mm=value[9],
            height_mm=value[1],
            front_unsprung_kg=job.weights.front_unsprung_kg or 0.0,
            rear_unsprung_kg=job.weights.rear_unsprung_kg or 0.0,
            fork=fork,
            fork_mm=value[2],
            rear=rear,
            rear_mm=value[3],
            arm=line_in(job, stands, assessment.rear.motion_ratio),
        )
        if axle_back_mm != 0.0:
            before = along_the_arm(before, axle_back_mm)
    except OutOfRange:
        return absent("out_of_range")
    return RiddenMachine(
        machine=before,
        hangs_front=hangs_at(machine.front),
        hangs_rear=hangs_at(machine.rear),
        height_off=weights.height_expanded_mm,
        estimate=everything.estimate,
    )
