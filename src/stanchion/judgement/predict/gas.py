"""The machine with its rider on the gas: anti-squat, where both ends stand, and what small changes do.

Worked out when it is asked for; the assessment of a job does not hold it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import Drive, Job
from stanchion.judgement.criteria.thresholds import SLACK, USUAL_ACCELERATION_G
from stanchion.judgement.predict.chain import axle_back_for, chain_figures, chain_pitch, fits
from stanchion.judgement.predict.geometry import state_with_sags
from stanchion.judgement.predict.loaded_machine import LoadedMachine, loaded_machine
from stanchion.judgement.predict.ridden_machine import RiddenMachine, ridden_machine
from stanchion.judgement.predict.swingarm import TurnedArm, arm_in, measured_arm
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.judgement.results.gas import ChainFigures, GasChange, GasEffect, GasFigures, OverTravel, SquatFigures
from stanchion.mechanics.anti_squat import Squat
from stanchion.mechanics.chain import pitch_radius
from stanchion.mechanics.limits import G_N
from stanchion.mechanics.on_the_gas import (
    Driven,
    axle_moved_back,
    front_lifts_at,
    on_gas,
    over_travel,
    pivot_raised,
    rear_raised,
    sprocket_raised,
    squat_at,
)
from stanchion.mechanics.steady import Settled, stance
from stanchion.mechanics.swingarm import Arm

_STEP_MM = 5.0
"""How much of a height or length a small change is [mm]."""
_POINTS = 12
"""Slices of the travel for which anti-squat is given."""


def gas_figures(job: Job, assessment: Assessment, *, whole: bool = True, axle_back_mm: float = 0.0) -> GasFigures:
    """The machine with its rider on the gas.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        whole: whether to work out too where the front lifts, anti-squat over the travel, and what small changes do.
        axle_back_mm: how far the rear axle is taken to be moved back along the swingarm.
    """
    usual = USUAL_ACCELERATION_G.get(job.job.use, USUAL_ACCELERATION_G["other"])
    chosen = job.drive.acceleration_g
    acceleration = Figure(usual, estimate=True) if chosen is None else Figure(chosen)
    chain = chain_figures(job)
    loaded = loaded_machine(job, assessment)
    built = _driven(job, assessment, loaded)
    if isinstance(built, Figure):
        return _absent(built, acceleration, chain)
    try:
        if axle_back_mm != 0.0:
            built = replace(built, driven=axle_moved_back(built.driven, axle_back_mm))
        figures = _figures(built, loaded, acceleration, chain)
        if not whole:
            return figures
        unknown = loaded.rear.end_unknown
        points = tuple(_over_travel(built)) if unknown is None else ()
        found = _whole(job, built, figures, acceleration.value or 0.0)
        return replace(found, over_travel=points, over_travel_unknown=unknown)
    except OutOfRange:
        return _absent(absent("arm_reaches_not"), acceleration, chain)


@record
class _Built:
    """A machine that can be computed on the gas."""

    driven: Driven
    drive: Drive
    ridden: RiddenMachine
    estimate: bool


def _driven(job: Job, assessment: Assessment, loaded: LoadedMachine) -> _Built | Figure:
    """The machine with its swingarm and chain; where something of it is not known, an absent figure that says what."""
    ridden = ridden_machine(job, assessment, loaded)
    stands = state_with_sags(assessment.sag, assessment.predicted.sag, "rider")
    arm: TurnedArm | Figure
    if stands is None:
        measured = measured_arm(job)
        arm = measured if isinstance(measured, Figure) else Figure(0.0)
    else:
        arm = arm_in(job, stands, assessment.rear.motion_ratio)
    pitch = chain_pitch(job)
    radii = [
        derive(pitch_radius, pitch, recorded(getattr(job.upkeep, name), ("upkeep", name)))
        for name in ("front_teeth", "rear_teeth")
    ]
    if isinstance(ridden, Figure) or isinstance(arm, Figure):
        return derive(lambda *_: 0.0, *(one for one in (arm, ridden) if isinstance(one, Figure)), *radii)
    known = derive(lambda *_: 0.0, *radii)
    if not known.known:
        return known
    front, rear = (one.value or 0.0 for one in radii)
    driven = Driven(machine=ridden.machine, arm=arm.arm, front_pitch_radius_mm=front, rear_pitch_radius_mm=rear)
    return _Built(driven, job.drive, ridden, ridden.estimate or arm.estimate)


def _figures(built: _Built, loaded: LoadedMachine, acceleration: Figure, chain: ChainFigures) -> GasFigures:
    """The figures at one acceleration.

    Raises:
        OutOfRange: no attitude is left.
    """
    driven, machine = built.driven, built.driven.machine
    before = stance(machine, machine.fork_mm, machine.rear_mm)
    found = on_gas(driven, acceleration.value or 0.0)

    def there(value: Callable[[Settled], float]) -> Figure:
        if found is None:
            return absent("not_settled")
        if found.front_load_n < 0.0:
            return absent("front_lifts")
        bottomed = found.rear_mm >= machine.rear.travel_mm - SLACK
        if bottomed and loaded.rear.end_unknown is not None:
            return loaded.rear.end_unknown
        return Figure(value(found), estimate=built.estimate)

    arm, lines = squat_at(driven, before, machine.rear_mm)
    return GasFigures(
        acceleration_g=acceleration,
        stands=_lines(arm, lines, estimate=built.estimate),
        anti_squat_there_pct=there(lambda of: 100.0 * squat_at(driven, of.stance, of.rear_mm)[1].anti_squat),
        rear_squats_mm=there(lambda of: of.rear_mm - machine.rear_mm),
        fork_extends_mm=there(lambda of: machine.fork_mm - of.fork_mm),
        fork_used_mm=derive(lambda x, hangs: x - hangs, there(lambda of: of.fork_mm), built.ridden.hangs_front),
        rear_used_mm=derive(lambda z, hangs: z - hangs, there(lambda of: of.rear_mm), built.ridden.hangs_rear),
        ahead_mm=there(lambda of: of.stance.ahead_mm),
        height_mm=there(lambda of: of.stance.height_mm),
        front_kg=there(lambda of: of.front_load_n / G_N),
        rear_kg=there(lambda of: of.rear_load_n / G_N),
        rake_deg=there(lambda of: of.stance.attitude.rake_deg),
        trail_mm=there(lambda of: of.stance.attitude.trail_mm),
        wheelbase_mm=there(lambda of: of.stance.attitude.wheelbase_mm),
        front_lifts_g=absent("not_settled"),
        chain=chain,
    )


def _lines(arm: Arm, of: Squat, *, estimate: bool) -> SquatFigures:
    def figure(value: float) -> Figure:
        return Figure(value, estimate=estimate)

    return SquatFigures(
        arm_deg=figure(arm.down_deg),
        chain_deg=figure(of.chain_deg),
        squat_deg=figure(of.squat_deg),
        transfer_deg=figure(of.transfer_deg),
        anti_squat_pct=figure(100.0 * of.anti_squat),
    )


def _whole(job: Job, built: _Built, figures: GasFigures, acceleration_g: float) -> GasFigures:
    lifts = front_lifts_at(built.driven)
    return replace(
        figures,
        front_lifts_g=absent("front_stays_down") if lifts is None else Figure(lifts, estimate=built.estimate),
        effects=tuple(_effects(job, built, acceleration_g)),
    )


def _over_travel(built: _Built) -> Iterator[OverTravel]:
    """Anti-squat from the hanging wheel to full travel, where the swingarm reaches."""
    hangs = built.ridden.hangs_rear.value
    if hangs is None:
        return
    full = built.driven.machine.rear.travel_mm
    for at in range(_POINTS + 1):
        rear_mm = hangs + (full - hangs) * at / _POINTS
        try:
            lines = over_travel(built.driven, rear_mm)[1]
        except OutOfRange:
            return
        yield OverTravel(rear_used_mm=rear_mm - hangs, anti_squat_pct=100.0 * lines.anti_squat)


@record
class _Step:
    """A small change of the machine."""

    change: GasChange
    amount: float
    axle_back: Figure
    make: Callable[[], Driven]


def _effects(job: Job, built: _Built, acceleration_g: float) -> Iterator[GasEffect]:
    """What each small change does, against the machine as it is."""
    driven = built.driven
    changes: tuple[tuple[GasChange, Callable[[Driven, float], Driven]], ...] = (
        ("rear_up", rear_raised),
        ("axle_back", axle_moved_back),
        ("sprocket_up", sprocket_raised),
        ("pivot_up", pivot_raised),
    )
    for change, make in changes:
        back = Figure(_STEP_MM if change == "axle_back" else 0.0)
        yield _effect(built, _Step(change, _STEP_MM, back, partial(make, driven, _STEP_MM)), acceleration_g)
    for name in ("front_teeth", "rear_teeth"):
        yield _tooth(job, built, name, acceleration_g)


def _tooth(job: Job, built: _Built, name: str, acceleration_g: float) -> GasEffect:
    """What one tooth more does, the axle moved for the same chain where its length is known."""
    front = name == "front_teeth"
    teeth = (getattr(job.upkeep, name) or 0.0) + 1.0
    both = (teeth, job.upkeep.rear_teeth or 0.0) if front else (job.upkeep.front_teeth or 0.0, teeth)
    back = axle_back_for(job, *both)
    radius = pitch_radius(chain_pitch(job).value or 0.0, teeth)

    def made() -> Driven:
        moved = axle_moved_back(built.driven, back.value or 0.0)
        return replace(moved, front_pitch_radius_mm=radius) if front else replace(moved, rear_pitch_radius_mm=radius)

    return _effect(built, _Step("front_tooth" if front else "rear_tooth", 1.0, back, made), acceleration_g)


def _effect(built: _Built, step: _Step, acceleration_g: float) -> GasEffect:
    try:
        now, then = _summed(built.driven, acceleration_g), _summed(step.make(), acceleration_g)
    except OutOfRange:
        now, then = {}, {}

    def differs(name: str) -> Figure:
        one, other = now.get(name), then.get(name)
        if one is None or other is None:
            return absent("not_settled")
        return Figure(other - one, estimate=built.estimate)

    return GasEffect(
        change=step.change,
        amount=step.amount,
        axle_back_mm=step.axle_back,
        fits=None if step.axle_back.value is None else fits(built.drive, step.axle_back.value),
        anti_squat_pct=differs("anti_squat"),
        rear_squats_mm=differs("squats"),
        trail_mm=differs("trail"),
        wheelbase_mm=differs("wheelbase"),
    )


def _summed(driven: Driven, acceleration_g: float) -> dict[str, float | None]:
    """What is compared of a machine.

    Raises:
        OutOfRange: no attitude is left.
    """
    machine = driven.machine
    now = stance(machine, machine.fork_mm, machine.rear_mm)
    found = on_gas(driven, acceleration_g)
    return {
        "anti_squat": 100.0 * squat_at(driven, now, machine.rear_mm)[1].anti_squat,
        "squats": None if found is None or found.front_load_n < 0.0 else found.rear_mm - machine.rear_mm,
        "trail": now.attitude.trail_mm,
        "wheelbase": now.attitude.wheelbase_mm,
    }


def _absent(why: Figure, acceleration: Figure, chain: ChainFigures) -> GasFigures:
    return GasFigures(
        acceleration_g=acceleration,
        stands=SquatFigures(arm_deg=why, chain_deg=why, squat_deg=why, transfer_deg=why, anti_squat_pct=why),
        anti_squat_there_pct=why,
        rear_squats_mm=why,
        fork_extends_mm=why,
        fork_used_mm=why,
        rear_used_mm=why,
        ahead_mm=why,
        height_mm=why,
        front_kg=why,
        rear_kg=why,
        rake_deg=why,
        trail_mm=why,
        wheelbase_mm=why,
        front_lifts_g=why,
        chain=chain,
    )
