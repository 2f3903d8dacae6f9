"""How a machine stands while it brakes steadily with the front wheel: loads, travels, rake and wheelbase.

No air drag, no damping, rigid tyres, the rear wheel neither braked nor driven. Side view: x forward from the rear
contact, z up from the ground.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.equilibrium import fork_position
from stanchion.mechanics.fork import Fork, fork_force
from stanchion.mechanics.geometry import Attitude, Baseline, attitude
from stanchion.mechanics.limits import G_N, finite, not_negative, positive, within
from stanchion.mechanics.load import cosine_of_rake
from stanchion.mechanics.rear import RearEnd, rear_travel, rear_wheel_force
from stanchion.mechanics.solve import bracketed_root

MOST_G = 3.0
"""Largest deceleration looked at [g]: beyond what any tyre holds."""
_SETTLED_MM = 1e-7
"""Change of travel in one round below which the machine has settled."""
_ROUNDS = 200
_HASTY = 40
"""Rounds after which the steps are halved, should travels swing to and fro."""


def axle_loads(
    mass_kg: float, ahead_mm: float, height_mm: float, wheelbase_mm: float, deceleration_g: float
) -> tuple[float, float]:
    """Loads on both wheels of a machine that brakes steadily.

    .. math:: N_f = m (g b + a h) / p, \\quad N_r = m g - N_f

    Args:
        mass_kg: m [kg], > 0.
        ahead_mm: centre of mass ahead of the rear contact b [mm].
        height_mm: its height h [mm], > 0.
        wheelbase_mm: p [mm], > 0.
        deceleration_g: a [g], 0 or more.

    Returns:
        Front and rear load [N]; the rear one is negative where the wheel would lift.

    Raises:
        OutOfRange: an argument outside its range.

    Source:
        Moments about the rear contact.

    >>> [round(load, 3) for load in axle_loads(246.0, 700.0, 620.0, 1370.0, 0.6)]
    [1887.687, 524.749]
    """
    weight = positive("mass", mass_kg) * G_N
    arm = finite("centre of mass", ahead_mm) + not_negative("deceleration", deceleration_g) * positive(
        "height of the centre of mass", height_mm
    )
    front = weight * arm / positive("wheelbase", wheelbase_mm)
    return front, weight - front


def force_along_leg(
    front_load_n: float, unsprung_kg: float, braking_n: float, deceleration_g: float, rake_deg: float
) -> float:
    """Force along the legs of a fork whose wheel brakes.

    .. math:: F = (N_f - m_u g) \\cos\\epsilon + (F_b - m_u a) \\sin\\epsilon

    The braking torque acts between wheel and leg and pushes the leg neither in nor out.

    Args:
        front_load_n: load on the front wheel N_f [N].
        unsprung_kg: mass below the springs m_u [kg], >= 0.
        braking_n: braking force at the contact F_b [N], >= 0.
        deceleration_g: a [g], >= 0.
        rake_deg: rake [degrees], 0 to below 90.

    Returns:
        Force along the legs, both together [N].

    Raises:
        OutOfRange: an argument outside its range.

    Source:
        Balance of forces on the front wheel along the leg.

    >>> round(force_along_leg(1887.687069, 13.0, 246.0 * 0.6 * G_N, 0.6, 23.5), 6)
    2160.88259
    """
    cosine, sine = cosine_of_rake(rake_deg), math.sin(math.radians(rake_deg))
    upright = finite("load on the front wheel", front_load_n) - not_negative("unsprung mass", unsprung_kg) * G_N
    level = not_negative("braking force", braking_n) - unsprung_kg * not_negative("deceleration", deceleration_g) * G_N
    return upright * cosine + level * sine


@record(kw_only=True)
class Braking:
    """A machine as it stands before it brakes, with its springs and where they stand."""

    stands: Baseline
    """Its geometry before it brakes."""
    mass_kg: float
    """Machine and rider [kg], above both unsprung masses."""
    ahead_mm: float
    """Centre of mass ahead of the rear contact [mm]."""
    height_mm: float
    """Its height [mm], > 0."""
    front_unsprung_kg: float
    rear_unsprung_kg: float
    fork: Fork
    fork_mm: float
    """Travel of the fork from its stop before it brakes [mm]."""
    rear: RearEnd
    rear_mm: float
    """Travel of the rear wheel from full extension before it brakes [mm]."""

    def __post_init__(self) -> None:
        """Check the ranges of the fields."""
        unsprung = not_negative("front unsprung mass", self.front_unsprung_kg)
        unsprung += not_negative("rear unsprung mass", self.rear_unsprung_kg)
        if not unsprung < self.mass_kg < math.inf:
            raise OutOfRange("mass", self.mass_kg, f"above the unsprung masses, {unsprung:g}")
        positive("height of the centre of mass", self.height_mm)
        within("fork travel", self.fork_mm, 0.0, self.fork.travel_mm)
        within("rear travel", self.rear_mm, 0.0, self.rear.travel_mm)


@record
class Stance:
    """A machine with its ends at some travel: its geometry and its centre of mass."""

    attitude: Attitude
    ahead_mm: float
    height_mm: float


def stance(machine: Braking, fork_mm: float, rear_mm: float) -> Stance:
    """Geometry and centre of mass once both ends have moved; the sprung mass turns with the frame, the wheels do not.

    Args:
        machine: the machine before it brakes.
        fork_mm: travel of the fork from its stop [mm].
        rear_mm: travel of the rear wheel from full extension [mm].

    Returns:
        How it stands.

    Raises:
        OutOfRange: the ends moved so far that no attitude is left.

    Source:
        Geometry; the two unsprung masses are taken to lie at their axles.

    >>> from stanchion.mechanics.fork import ForkLeg
    >>> from stanchion.mechanics.linkage import constant_ratio
    >>> stands = Baseline(rake_deg=23.5, offset_mm=30.0, wheelbase_mm=1370.0, front_radius_mm=300.0,
    ...                   rear_radius_mm=300.0)
    >>> rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=120.0)
    >>> machine = Braking(stands=stands, mass_kg=246.0, ahead_mm=700.0, height_mm=620.0, front_unsprung_kg=0.0,
    ...                   rear_unsprung_kg=0.0, fork=Fork((ForkLeg(rate_n_per_mm=9.0),), 120.0), fork_mm=30.0,
    ...                   rear=rear, rear_mm=30.0)
    >>> dived = stance(machine, 90.0, 10.0)
    >>> round(dived.attitude.rake_deg, 2), round(dived.ahead_mm, 1), round(dived.height_mm, 1)
    (20.31, 717.8, 600.5)
    """
    base = machine.stands
    slid = finite("fork travel", fork_mm) - machine.fork_mm
    lowered = machine.rear_mm - finite("rear travel", rear_mm)
    now = attitude(base, front_shorter_mm=slid, rear_lower_axle_mm=lowered)
    front, rear = machine.front_unsprung_kg, machine.rear_unsprung_kg
    sprung = machine.mass_kg - front - rear
    ahead = (machine.mass_kg * machine.ahead_mm - front * base.wheelbase_mm) / sprung
    height = machine.mass_kg * machine.height_mm - front * base.front_radius_mm - rear * base.rear_radius_mm
    above_axle = height / sprung - base.rear_radius_mm + lowered
    cosine, sine = math.cos(math.radians(now.pitch_deg)), math.sin(math.radians(now.pitch_deg))
    ahead, above_axle = ahead * cosine + above_axle * sine, above_axle * cosine - ahead * sine
    sprung_up = above_axle + base.rear_radius_mm
    return Stance(
        now,
        (sprung * ahead + front * now.wheelbase_mm) / machine.mass_kg,
        (sprung * sprung_up + front * base.front_radius_mm + rear * base.rear_radius_mm) / machine.mass_kg,
    )


@record
class Braked:
    """A machine that brakes steadily."""

    fork_mm: float
    """Travel of the fork from its stop [mm]."""
    rear_mm: float
    """Travel of the rear wheel from full extension [mm]."""
    front_load_n: float
    rear_load_n: float
    """Load on the rear wheel [N]; negative where it would lift."""
    stance: Stance


def braked(machine: Braking, deceleration_g: float, fork_held_mm: float | None = None) -> Braked | None:
    """How the machine stands at a deceleration: loads bring both ends somewhere, which changes the loads again.

    What the springs carried before beyond the loads by its masses, from friction or a rate that is not quite right,
    they go on carrying; so at no deceleration the machine stands as before.

    Args:
        machine: the machine before it brakes.
        deceleration_g: deceleration [g], >= 0.
        fork_held_mm: travel of the fork to take as given [mm]; None: where it comes to rest.

    Returns:
        The machine; None where the travels do not settle.

    Raises:
        OutOfRange: a deceleration below 0, or no attitude is left.

    Source:
        Balance of forces at both ends, repeated until travels change no more.

    >>> from stanchion.mechanics.fork import ForkLeg
    >>> from stanchion.mechanics.linkage import constant_ratio
    >>> stands = Baseline(rake_deg=23.5, offset_mm=30.0, wheelbase_mm=1370.0, front_radius_mm=300.0,
    ...                   rear_radius_mm=300.0)
    >>> rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=120.0)
    >>> machine = Braking(stands=stands, mass_kg=246.0, ahead_mm=700.0, height_mm=620.0, front_unsprung_kg=13.0,
    ...                   rear_unsprung_kg=15.0, fork=Fork((ForkLeg(rate_n_per_mm=11.0, preload_mm=14.0),) * 2, 120.0),
    ...                   fork_mm=32.0, rear=rear, rear_mm=30.0)
    >>> found = braked(machine, 0.6)
    >>> round(found.fork_mm, 1), round(found.rear_mm, 1), round(found.stance.attitude.rake_deg, 2)
    (84.5, 0.0, 20.18)
    """
    fork_mm, rear_mm = machine.fork_mm if fork_held_mm is None else fork_held_mm, machine.rear_mm
    more_front, more_rear = _carried_besides(machine)
    for round_ in range(_ROUNDS):
        now = stance(machine, fork_mm, rear_mm)
        front_n, rear_n = _loads(machine, now, deceleration_g)
        along = _along(machine, now, front_n, deceleration_g) + more_front
        to_fork = fork_position(machine.fork, along).travel_mm if fork_held_mm is None else fork_mm
        to_rear = rear_travel(machine.rear, rear_n - machine.rear_unsprung_kg * G_N + more_rear)[0]
        if abs(to_fork - fork_mm) + abs(to_rear - rear_mm) < _SETTLED_MM:
            return Braked(fork_mm, rear_mm, front_n, rear_n, now)
        part = 1.0 if round_ < _HASTY else 0.5
        fork_mm, rear_mm = fork_mm + part * (to_fork - fork_mm), rear_mm + part * (to_rear - rear_mm)
    return None


def rear_lifts_at(machine: Braking) -> float | None:
    """Deceleration at which the rear wheel carries nothing any more.

    Args:
        machine: the machine before it brakes.

    Returns:
        Deceleration [g]; None where it stays on the ground up to MOST_G, or where the travels do not settle.

    Raises:
        OutOfRange: never for a machine that could be made and stands.

    Source:
        Moments about the front contact: a = g (p - b) / h, at the attitude it then has.

    >>> from stanchion.mechanics.fork import ForkLeg
    >>> from stanchion.mechanics.linkage import constant_ratio
    >>> stands = Baseline(rake_deg=23.5, offset_mm=30.0, wheelbase_mm=1370.0, front_radius_mm=300.0,
    ...                   rear_radius_mm=300.0)
    >>> rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=1e-6)
    >>> stiff = Braking(stands=stands, mass_kg=246.0, ahead_mm=700.0, height_mm=620.0, front_unsprung_kg=0.0,
    ...                 rear_unsprung_kg=0.0, fork=Fork((ForkLeg(rate_n_per_mm=9.0),), 1e-6), fork_mm=0.0,
    ...                 rear=rear, rear_mm=0.0)
    >>> round(rear_lifts_at(stiff), 6) == round(670.0 / 620.0, 6)
    True
    """
    return _crossing(lambda a: -_settled(machine, a).rear_load_n, MOST_G)


def fork_ends_at(machine: Braking, at_mm: float, most_g: float) -> float | None:
    """Deceleration that brings the fork to a travel.

    Args:
        machine: the machine before it brakes.
        at_mm: travel from its stop [mm], such as full travel.
        most_g: largest deceleration to look at [g], such as where the rear wheel lifts.

    Returns:
        Deceleration [g], 0 where the fork is there before it brakes; None where none up to most_g brings it there.

    Raises:
        OutOfRange: a travel beyond 0 to full travel, or a largest deceleration not above 0.

    Source:
        Balance of forces along the leg with the fork at that travel.

    >>> from stanchion.mechanics.fork import ForkLeg
    >>> from stanchion.mechanics.linkage import constant_ratio
    >>> stands = Baseline(rake_deg=23.5, offset_mm=30.0, wheelbase_mm=1370.0, front_radius_mm=300.0,
    ...                   rear_radius_mm=300.0)
    >>> rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=120.0)
    >>> machine = Braking(stands=stands, mass_kg=246.0, ahead_mm=700.0, height_mm=620.0, front_unsprung_kg=13.0,
    ...                   rear_unsprung_kg=15.0, fork=Fork((ForkLeg(rate_n_per_mm=11.0, preload_mm=14.0),) * 2, 120.0),
    ...                   fork_mm=32.0, rear=rear, rear_mm=30.0)
    >>> end = fork_ends_at(machine, 110.0, 1.1)
    >>> round(braked(machine, end).fork_mm, 6)
    110.0
    """
    held_n = fork_force(machine.fork, at_mm) - _carried_besides(machine)[0]

    def short_of_it(deceleration_g: float) -> float:
        found = _settled(machine, deceleration_g, at_mm)
        return _along(machine, found.stance, found.front_load_n, deceleration_g) - held_n

    return _crossing(short_of_it, positive("largest deceleration", most_g))


class _NotSettledError(ArithmeticError):
    """The travels of both ends do not settle."""


def _settled(machine: Braking, deceleration_g: float, fork_held_mm: float | None = None) -> Braked:
    found = braked(machine, deceleration_g, fork_held_mm)
    if found is None:
        raise _NotSettledError
    return found


def _crossing(rising: Callable[[float], float], most_g: float) -> float | None:
    """Where a function of the deceleration rises through zero; 0 where it is above from the start, None where never."""
    try:
        if rising(0.0) >= 0.0:
            return 0.0
        if rising(most_g) < 0.0:
            return None
        return bracketed_root(rising, 0.0, most_g, _FORCE_N)
    except _NotSettledError:
        return None


_FORCE_N = 1e-6
"""Difference of forces at which a deceleration is found [N]."""


def _loads(machine: Braking, now: Stance, deceleration_g: float) -> tuple[float, float]:
    return axle_loads(machine.mass_kg, now.ahead_mm, now.height_mm, now.attitude.wheelbase_mm, deceleration_g)


def _along(machine: Braking, now: Stance, front_load_n: float, deceleration_g: float) -> float:
    braking_n = machine.mass_kg * deceleration_g * G_N
    return force_along_leg(front_load_n, machine.front_unsprung_kg, braking_n, deceleration_g, now.attitude.rake_deg)


def _carried_besides(machine: Braking) -> tuple[float, float]:
    """What the springs carry before it brakes beyond the loads by its masses: along the fork, and at the rear wheel."""
    before = stance(machine, machine.fork_mm, machine.rear_mm)
    front_n, rear_n = _loads(machine, before, 0.0)
    along = _along(machine, before, front_n, 0.0)
    on_spring = rear_n - machine.rear_unsprung_kg * G_N
    return fork_force(machine.fork, machine.fork_mm) - along, rear_wheel_force(
        machine.rear, machine.rear_mm
    ) - on_spring
