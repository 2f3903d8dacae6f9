"""How a machine stands while it brakes or gains speed steadily: loads, travels, geometry and centre of mass.

No air drag, no damping, rigid tyres. Side view: x forward from the rear contact, z up from the ground.
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
from stanchion.mechanics.swingarm import ArmLine, axle_back, lowered

MOST_G = 3.0
"""Largest deceleration or acceleration looked at [g]: beyond what any tyre holds."""
_SETTLED_MM = 1e-7
"""Change of travel in one round below which the machine has settled."""
_ROUNDS = 200
_HASTY = 40
"""Rounds after which the steps are halved, should travels swing to and fro."""
_FORCE_N = 1e-6
"""Difference of forces at which an acceleration is found [N]."""


def axle_loads(
    mass_kg: float, ahead_mm: float, height_mm: float, wheelbase_mm: float, deceleration_g: float
) -> tuple[float, float]:
    """Loads on both wheels of a machine that brakes or gains speed steadily.

    .. math:: N_f = m (g b + a h) / p, \\quad N_r = m g - N_f

    Args:
        mass_kg: m [kg], > 0.
        ahead_mm: centre of mass ahead of the rear contact b [mm].
        height_mm: its height h [mm], > 0.
        wheelbase_mm: p [mm], > 0.
        deceleration_g: a [g]; below 0 where it gains speed.

    Returns:
        Front and rear load [N]; one is negative where its wheel would lift.

    Raises:
        OutOfRange: an argument outside its range.

    Source:
        Moments about the rear contact.

    >>> [round(load, 3) for load in axle_loads(246.0, 700.0, 620.0, 1370.0, 0.6)]
    [1887.687, 524.749]
    """
    weight = positive("mass", mass_kg) * G_N
    arm = finite("centre of mass", ahead_mm) + finite("deceleration", deceleration_g) * positive(
        "height of the centre of mass", height_mm
    )
    front = weight * arm / positive("wheelbase", wheelbase_mm)
    return front, weight - front


def force_along_leg(
    front_load_n: float, unsprung_kg: float, braking_n: float, deceleration_g: float, rake_deg: float
) -> float:
    """Force along the legs of a fork whose wheel brakes, or is pushed along.

    .. math:: F = (N_f - m_u g) \\cos\\epsilon + (F_b - m_u a) \\sin\\epsilon

    The braking torque acts between wheel and leg and pushes the leg neither in nor out.

    Args:
        front_load_n: load on the front wheel N_f [N].
        unsprung_kg: mass below the springs m_u [kg], >= 0.
        braking_n: braking force at the contact F_b [N], >= 0.
        deceleration_g: a [g]; below 0 where it gains speed.
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
    level = not_negative("braking force", braking_n) - unsprung_kg * finite("deceleration", deceleration_g) * G_N
    return upright * cosine + level * sine


@record(kw_only=True)
class Machine:
    """A machine as it stands before it brakes or gains speed, with its springs and where they stand."""

    stands: Baseline
    """Its geometry then."""
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
    """Travel of the fork from its stop then [mm]."""
    rear: RearEnd
    rear_mm: float
    """Travel of the rear wheel from full extension then [mm]."""
    arm: ArmLine | None = None
    """Its swingarm then, below level ground; None: not known, so that the rear axle is taken to move straight up."""

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


def stance(machine: Machine, fork_mm: float, rear_mm: float) -> Stance:
    """Geometry and centre of mass once both ends have moved; the sprung mass turns with the frame, the wheels do not.

    Args:
        machine: the machine before.
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
    >>> machine = Machine(stands=stands, mass_kg=246.0, ahead_mm=700.0, height_mm=620.0, front_unsprung_kg=0.0,
    ...                   rear_unsprung_kg=0.0, fork=Fork((ForkLeg(rate_n_per_mm=9.0),), 120.0), fork_mm=30.0,
    ...                   rear=rear, rear_mm=30.0)
    >>> dived = stance(machine, 90.0, 10.0)
    >>> round(dived.attitude.rake_deg, 2), round(dived.ahead_mm, 1), round(dived.height_mm, 1)
    (20.31, 717.8, 600.5)
    """
    base = machine.stands
    slid = finite("fork travel", fork_mm) - machine.fork_mm
    lower_mm = machine.rear_mm - finite("rear travel", rear_mm)
    back_mm = 0.0 if machine.arm is None else axle_back(machine.arm, lower_mm)
    now = attitude(base, front_shorter_mm=slid, rear_lower_axle_mm=lower_mm, rear_axle_back_mm=back_mm)
    front, rear = machine.front_unsprung_kg, machine.rear_unsprung_kg
    sprung = machine.mass_kg - front - rear
    ahead = (machine.mass_kg * machine.ahead_mm - front * base.wheelbase_mm) / sprung + back_mm
    height = machine.mass_kg * machine.height_mm - front * base.front_radius_mm - rear * base.rear_radius_mm
    above_axle = height / sprung - base.rear_radius_mm + lower_mm
    cosine, sine = math.cos(math.radians(now.pitch_deg)), math.sin(math.radians(now.pitch_deg))
    ahead, above_axle = ahead * cosine + above_axle * sine, above_axle * cosine - ahead * sine
    sprung_up = above_axle + base.rear_radius_mm
    return Stance(
        now,
        (sprung * ahead + front * now.wheelbase_mm) / machine.mass_kg,
        (sprung * sprung_up + front * base.front_radius_mm + rear * base.rear_radius_mm) / machine.mass_kg,
    )


@record
class Forces:
    """What acts on a machine at one stance."""

    front_load_n: float
    """Load on the front wheel."""
    rear_load_n: float
    """Load on the rear wheel."""
    along_leg_n: float
    """Along the legs, both together."""
    on_rear_n: float
    """On the rear springs, vertical at the wheel."""


def on_rear_springs(machine: Machine, now: Stance, rear_mm: float, up_n: float, forward_n: float = 0.0) -> float:
    """What forces on the rear axle put on the springs, counted as vertical at the wheel while it stood as before.

    .. math:: F_s = (U \\cos\\theta - V \\sin\\theta) / \\cos(\\theta + \\alpha)

    The swingarm lies theta below level, and the frame has tilted by alpha since. Without a swingarm it is U.

    Args:
        machine: the machine before.
        now: how it stands.
        rear_mm: travel of the rear wheel from full extension [mm].
        up_n: upward force on the axle U [N].
        forward_n: forward force on the axle V [N].

    Returns:
        The force [N].

    Raises:
        OutOfRange: travel or a force is no ordinary number, or the swingarm does not reach there.

    Source:
        Moments about the pivot.

    >>> from stanchion.mechanics.fork import ForkLeg
    >>> from stanchion.mechanics.linkage import constant_ratio
    >>> stands = Baseline(rake_deg=23.5, offset_mm=30.0, wheelbase_mm=1370.0, front_radius_mm=300.0,
    ...                   rear_radius_mm=300.0)
    >>> rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=120.0)
    >>> machine = Machine(stands=stands, mass_kg=246.0, ahead_mm=700.0, height_mm=620.0, front_unsprung_kg=0.0,
    ...                   rear_unsprung_kg=0.0, fork=Fork((ForkLeg(rate_n_per_mm=9.0),), 120.0), fork_mm=30.0,
    ...                   rear=rear, rear_mm=30.0, arm=ArmLine(length_mm=560.0, down_deg=12.0))
    >>> round(on_rear_springs(machine, stance(machine, 90.0, 30.0), 30.0, 1000.0), 1)
    1007.8
    """
    finite("rear travel", rear_mm)
    finite("upward force on the rear axle", up_n)
    finite("forward force on the rear axle", forward_n)
    if machine.arm is None:
        return up_n
    in_frame = math.radians(lowered(machine.arm, machine.rear_mm - rear_mm).down_deg)
    level = in_frame - math.radians(now.attitude.pitch_deg)
    return (up_n * math.cos(level) - forward_n * math.sin(level)) / math.cos(in_frame)


ForcesAt = Callable[[Stance, float], Forces]
"""The forces at a stance and a travel of the rear wheel from full extension [mm]."""


@record
class Settled:
    """A machine whose ends have come to rest under steady forces."""

    fork_mm: float
    """Travel of the fork from its stop [mm]."""
    rear_mm: float
    """Travel of the rear wheel from full extension [mm]."""
    front_load_n: float
    """Load on the front wheel [N]; negative where it would lift."""
    rear_load_n: float
    """Load on the rear wheel [N]; negative where it would lift."""
    stance: Stance


def settled(machine: Machine, forces: ForcesAt, fork_held_mm: float | None = None) -> Settled | None:
    """Where both ends come to rest: forces bring them somewhere, which changes the forces again.

    What the springs carried before beyond the loads by its masses, from friction or a rate that is not quite right,
    they go on carrying; so without braking or thrust the machine stands as before.

    Args:
        machine: the machine before.
        forces: what acts on it.
        fork_held_mm: travel of the fork to take as given [mm]; None: where it comes to rest.

    Returns:
        The machine; None where the travels do not settle.

    Raises:
        OutOfRange: no attitude is left.

    Source:
        Balance of forces at both ends, repeated until travels change no more.

    >>> from stanchion.mechanics.fork import ForkLeg
    >>> from stanchion.mechanics.linkage import constant_ratio
    >>> stands = Baseline(rake_deg=23.5, offset_mm=30.0, wheelbase_mm=1370.0, front_radius_mm=300.0,
    ...                   rear_radius_mm=300.0)
    >>> rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=120.0)
    >>> machine = Machine(stands=stands, mass_kg=246.0, ahead_mm=700.0, height_mm=620.0, front_unsprung_kg=13.0,
    ...                   rear_unsprung_kg=15.0, fork=Fork((ForkLeg(rate_n_per_mm=11.0, preload_mm=14.0),) * 2, 120.0),
    ...                   fork_mm=32.0, rear=rear, rear_mm=30.0)
    >>> found = settled(machine, lambda now, rear_mm: at_rest(machine, now, rear_mm))
    >>> round(found.fork_mm, 6), round(found.rear_mm, 6)
    (32.0, 30.0)
    """
    fork_mm, rear_mm = machine.fork_mm if fork_held_mm is None else fork_held_mm, machine.rear_mm
    more_front, more_rear = carried_besides(machine)
    for round_ in range(_ROUNDS):
        now = stance(machine, fork_mm, rear_mm)
        acts = forces(now, rear_mm)
        along = acts.along_leg_n + more_front
        to_fork = fork_position(machine.fork, along).travel_mm if fork_held_mm is None else fork_mm
        to_rear = rear_travel(machine.rear, acts.on_rear_n + more_rear)[0]
        if abs(to_fork - fork_mm) + abs(to_rear - rear_mm) < _SETTLED_MM:
            return Settled(fork_mm, rear_mm, acts.front_load_n, acts.rear_load_n, now)
        part = 1.0 if round_ < _HASTY else 0.5
        fork_mm, rear_mm = fork_mm + part * (to_fork - fork_mm), rear_mm + part * (to_rear - rear_mm)
    return None


def at_rest(machine: Machine, now: Stance, rear_mm: float) -> Forces:
    """What acts on a machine that neither brakes nor gains speed.

    Args:
        machine: the machine before.
        now: how it stands.
        rear_mm: travel of the rear wheel from full extension [mm].

    Raises:
        OutOfRange: travel is no ordinary number.
    """
    front_n, rear_n = axle_loads(machine.mass_kg, now.ahead_mm, now.height_mm, now.attitude.wheelbase_mm, 0.0)
    along = force_along_leg(front_n, machine.front_unsprung_kg, 0.0, 0.0, now.attitude.rake_deg)
    up_n = rear_n - machine.rear_unsprung_kg * G_N
    return Forces(front_n, rear_n, along, on_rear_springs(machine, now, rear_mm, up_n))


def carried_besides(machine: Machine) -> tuple[float, float]:
    """What the springs carry before beyond the loads by its masses: along the fork, and at the rear wheel [N].

    Args:
        machine: the machine before it brakes or gains speed.

    Raises:
        OutOfRange: no attitude is left.
    """
    acts = at_rest(machine, stance(machine, machine.fork_mm, machine.rear_mm), machine.rear_mm)
    return (
        fork_force(machine.fork, machine.fork_mm) - acts.along_leg_n,
        rear_wheel_force(machine.rear, machine.rear_mm) - acts.on_rear_n,
    )


class NotSettledError(ArithmeticError):
    """The travels of both ends do not settle."""


def crossing(rising: Callable[[float], float], most_g: float) -> float | None:
    """Where a function of the acceleration rises through zero.

    Args:
        rising: the function; it may raise NotSettledError.
        most_g: largest acceleration to look at [g], > 0.

    Returns:
        Acceleration [g]; 0 where the function is above zero from the start, None where it never is, or where the
        travels do not settle.

    Raises:
        OutOfRange: a largest acceleration not above 0, or what the function raises.

    >>> crossing(lambda g: g - 0.5, 3.0)
    0.5
    """
    positive("largest acceleration", most_g)
    try:
        if rising(0.0) >= 0.0:
            return 0.0
        if rising(most_g) < 0.0:
            return None
        return bracketed_root(rising, 0.0, most_g, _FORCE_N)
    except NotSettledError:
        return None
