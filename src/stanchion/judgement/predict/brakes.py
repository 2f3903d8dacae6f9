"""The machine with its rider on the brakes: where both ends stand at a deceleration, and where fork or rear wheel end.

Worked out when it is asked for; the assessment of a job does not hold it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import Job
from stanchion.judgement.criteria.thresholds import MARKER_READING_MM, MOST_BRAKING_G, SLACK, USUAL_BRAKING_G
from stanchion.judgement.ends.fork_model import ForkModel
from stanchion.judgement.predict.loaded_machine import loaded_machine
from stanchion.judgement.predict.ridden_machine import RiddenMachine, ridden_machine
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.balance import BrakesFigures, Braking, OnBrakes
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.mechanics.gas import ADIABATIC
from stanchion.mechanics.limits import G_N
from stanchion.mechanics.on_the_brakes import braked, fork_ends_at, rear_lifts_at
from stanchion.mechanics.steady import MOST_G, Settled


def brakes_figures(
    job: Job,
    assessment: Assessment,
    *,
    with_ends: bool = True,
    braking: Braking | None = None,
    axle_back_mm: float = 0.0,
) -> BrakesFigures:
    """The machine with its rider on the brakes.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        with_ends: whether to look for the decelerations at which the fork or the rear wheel is at its end too.
        braking: the deceleration to look at; None: as entered, else the usual one.
        axle_back_mm: how far the rear axle is taken to be moved back along the swingarm.
    """
    machine = loaded_machine(job, assessment)
    braking = braking or entered_or_usual(job)
    built = ridden_machine(job, assessment, machine, axle_back_mm)
    by_height: tuple[OnBrakes, OnBrakes] | None = None
    off = absent("not_lifted")
    if isinstance(built, Figure):
        slow = fast = _absent(built)
    else:
        off = built.height_off
        if with_ends and off.value is not None:
            by_height = _by_height(built, machine.front, braking.slow_g.value or 0.0, off.value)
        slow, fast = (
            _on_brakes(one, machine.front, at_g.value or 0.0, with_ends=with_ends)
            for one, at_g in (
                (built, braking.slow_g),
                (_squeezed_fast(built, machine.front), braking.fast_g),
            )
        )
    return BrakesFigures(
        braking=braking,
        slow=slow,
        fast=fast,
        by_height=by_height,
        height_off_mm=off,
        omitted=machine.front.omitted,
        by_arc=not isinstance(built, Figure) and built.machine.arm is not None,
    )


def entered_or_usual(job: Job) -> Braking:
    """The deceleration entered, else the usual one of the use."""
    chosen = job.balance.braking_g
    if chosen is not None:
        return Braking(slow_g=Figure(chosen), fast_g=Figure(chosen), source="entered")
    usual = Figure(USUAL_BRAKING_G.get(job.job.use, USUAL_BRAKING_G["other"]), estimate=True)
    return Braking(slow_g=usual, fast_g=usual, source="usual")


def fork_left(job: Job, assessment: Assessment, slow_g: float, fast_g: float, higher_mm: float = 0.0) -> Figure:
    """Fork travel left on the brakes: the less of a slow stroke and one so fast that the air keeps its heat.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        slow_g: deceleration of the slow stroke [g].
        fast_g: that of the fast one [g].
        higher_mm: how much higher the centre of mass is taken to lie; below 0: lower.
    """
    machine = loaded_machine(job, assessment)
    built = _with_height(ridden_machine(job, assessment, machine), higher_mm)
    if isinstance(built, Figure):
        return built
    slow, fast = (
        _on_brakes(one, machine.front, braking_g, with_ends=False).fork_left_mm
        for one, braking_g in ((built, slow_g), (_squeezed_fast(built, machine.front), fast_g))
    )
    return derive(min, slow, fast)


def _by_height(
    of: RiddenMachine, model: ForkModel, braking_g: float, off_mm: float
) -> tuple[OnBrakes, OnBrakes] | None:
    """The machine with its centre of mass that much lower, and that much higher; None where it would be underground."""
    if off_mm >= of.machine.height_mm:
        return None
    low, high = (_higher(of, by) for by in (-off_mm, off_mm))
    return (
        _on_brakes(low, model, braking_g, with_ends=True),
        _on_brakes(high, model, braking_g, with_ends=True),
    )


def _higher(of: RiddenMachine, by_mm: float) -> RiddenMachine:
    return replace(of, machine=replace(of.machine, height_mm=of.machine.height_mm + by_mm))


def _with_height(of: RiddenMachine | Figure, higher_mm: float) -> RiddenMachine | Figure:
    """The machine with its centre of mass so much higher; absent where that would be underground."""
    if higher_mm == 0.0 or isinstance(of, Figure):
        return of
    return _higher(of, higher_mm) if of.machine.height_mm + higher_mm > 0.0 else absent("out_of_range")


def braking_for_travel(
    job: Job, assessment: Assessment, used_mm: Figure, higher_mm: float = 0.0
) -> tuple[Figure, Figure]:
    """The deceleration that brings the fork to a travel: its air squeezed slowly, and so fast that it keeps its heat.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        used_mm: fork travel from the hanging wheel [mm].
        higher_mm: how much higher the centre of mass is taken to lie; below 0: lower.

    Returns:
        Decelerations [g]; absent where that travel asks for more than the rear wheel stays down at, or is all there is.
    """
    machine = loaded_machine(job, assessment)
    built = _with_height(ridden_machine(job, assessment, machine), higher_mm)
    if isinstance(built, Figure):
        return built, built
    travel = derive(lambda used, hangs: used + hangs, used_mm, built.hangs_front)
    if travel.value is None:
        return travel, travel
    if travel.value >= built.machine.fork.travel_mm - MARKER_READING_MM:
        return absent("fork_at_end"), absent("fork_at_end")
    if travel.value > machine.front.measured_to_mm + SLACK:
        return absent("beyond_tester"), absent("beyond_tester")
    slow, fast = (_for_travel(one, travel.value) for one in (built, _squeezed_fast(built, machine.front)))
    return slow, fast


def _for_travel(of: RiddenMachine, travel_mm: float) -> Figure:
    try:
        lifts = rear_lifts_at(of.machine)
        found = fork_ends_at(of.machine, travel_mm, MOST_G if lifts is None else lifts)
    except OutOfRange:
        return absent("out_of_range")
    too_hard = found is None or found > MOST_BRAKING_G
    return absent("bumps_or_reading") if too_hard else Figure(found, estimate=True)


def _squeezed_fast(built: RiddenMachine, model: ForkModel) -> RiddenMachine:
    """The machine with the air of its fork squeezed so fast that it keeps its heat; the same where it has none."""
    if not any(leg.air is not None or leg.air_spring is not None for leg in built.machine.fork.legs):
        return built
    fork = model.squeezed(ADIABATIC).fork
    return built if fork is None else replace(built, machine=replace(built.machine, fork=fork))


def _on_brakes(of: RiddenMachine, model: ForkModel, braking_g: float, *, with_ends: bool) -> OnBrakes:
    try:
        return _figures(of, model, braking_g, with_ends=with_ends)
    except OutOfRange:
        return _absent(absent("out_of_range"))


def _figures(of: RiddenMachine, model: ForkModel, braking_g: float, *, with_ends: bool) -> OnBrakes:
    """The figures at one deceleration.

    Raises:
        OutOfRange: no attitude is left.
    """
    found = braked(of.machine, braking_g)
    at = _Read(of, model, found)
    figures = OnBrakes(
        fork_used_mm=derive(lambda x, hangs: x - hangs, at.fork(lambda b: b.fork_mm), of.hangs_front),
        fork_left_mm=at.fork(lambda b: of.machine.fork.travel_mm - b.fork_mm)
        if model.end_unknown is None
        else model.end_unknown,
        front_kg=at.figure(lambda b: b.front_load_n / G_N),
        rear_kg=at.figure(lambda b: b.rear_load_n / G_N),
        rear_used_mm=derive(lambda z, hangs: z - hangs, at.figure(lambda b: b.rear_mm), of.hangs_rear),
        rake_deg=at.fork(lambda b: b.stance.attitude.rake_deg),
        trail_mm=at.fork(lambda b: b.stance.attitude.trail_mm),
        wheelbase_mm=at.fork(lambda b: b.stance.attitude.wheelbase_mm),
        ahead_mm=at.fork(lambda b: b.stance.ahead_mm),
        height_mm=at.fork(lambda b: b.stance.height_mm),
        fork_ends_g=absent("not_settled"),
        rear_lifts_g=absent("not_settled"),
    )
    if not with_ends:
        return figures
    lifts = rear_lifts_at(of.machine)
    full_mm = of.machine.fork.travel_mm
    ends = fork_ends_at(of.machine, full_mm, MOST_G if lifts is None else lifts)
    lifts_g = absent("rear_stays_down") if lifts is None else Figure(lifts, estimate=of.estimate)
    if model.end_unknown is not None:
        ends_g = model.end_unknown
    elif full_mm > model.measured_to_mm + SLACK:
        ends_g = absent("beyond_tester")
    else:
        ends_g = absent("rear_lifts_first") if ends is None else Figure(ends, estimate=of.estimate)
    return replace(figures, fork_ends_g=ends_g, rear_lifts_g=lifts_g)


@record
class _Read:
    """Figures read off a machine on the brakes; absent with the reason where they cannot be."""

    of: RiddenMachine
    model: ForkModel
    found: Settled | None

    def figure(self, value: Callable[[Settled], float]) -> Figure:
        """A figure that does not need the end of the fork."""
        if self.found is None:
            return absent("not_settled")
        if self.found.rear_load_n < 0.0:
            return absent("rear_lifts")
        return Figure(value(self.found), estimate=self.of.estimate)

    def fork(self, value: Callable[[Settled], float]) -> Figure:
        """A figure that needs to know where the fork stands: not beyond what is known of its springs and its end."""
        if self.model.end_unknown is not None:
            return self.model.end_unknown
        found = self.found
        if found is not None and found.fork_mm > self.model.measured_to_mm + SLACK:
            return absent("beyond_tester")
        return self.figure(value)


def _absent(why: Figure) -> OnBrakes:
    return OnBrakes(
        fork_used_mm=why,
        fork_left_mm=why,
        front_kg=why,
        rear_kg=why,
        rear_used_mm=why,
        rake_deg=why,
        trail_mm=why,
        wheelbase_mm=why,
        ahead_mm=why,
        height_mm=why,
        fork_ends_g=why,
        rear_lifts_g=why,
    )
