"""How a machine stands while it brakes steadily with the front wheel: loads, travels, rake and wheelbase.

The rear wheel is neither braked nor driven. See steady.py for what is left out.
"""

from __future__ import annotations

from stanchion.mechanics.fork import fork_force
from stanchion.mechanics.limits import G_N, not_negative, positive
from stanchion.mechanics.steady import (
    MOST_G,
    Forces,
    Machine,
    NotSettledError,
    Settled,
    Stance,
    axle_loads,
    carried_besides,
    crossing,
    force_along_leg,
    on_rear_springs,
    settled,
)


def braked(machine: Machine, deceleration_g: float, fork_held_mm: float | None = None) -> Settled | None:
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

    >>> from stanchion.mechanics.fork import Fork, ForkLeg
    >>> from stanchion.mechanics.geometry import Baseline
    >>> from stanchion.mechanics.linkage import constant_ratio
    >>> from stanchion.mechanics.rear import RearEnd
    >>> stands = Baseline(rake_deg=23.5, offset_mm=30.0, wheelbase_mm=1370.0, front_radius_mm=300.0,
    ...                   rear_radius_mm=300.0)
    >>> rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=120.0)
    >>> machine = Machine(stands=stands, mass_kg=246.0, ahead_mm=700.0, height_mm=620.0, front_unsprung_kg=13.0,
    ...                   rear_unsprung_kg=15.0, fork=Fork((ForkLeg(rate_n_per_mm=11.0, preload_mm=14.0),) * 2, 120.0),
    ...                   fork_mm=32.0, rear=rear, rear_mm=30.0)
    >>> found = braked(machine, 0.6)
    >>> round(found.fork_mm, 1), round(found.rear_mm, 1), round(found.stance.attitude.rake_deg, 2)
    (84.5, 0.0, 20.18)
    """
    not_negative("deceleration", deceleration_g)
    return settled(machine, lambda now, rear_mm: _forces(machine, now, rear_mm, deceleration_g), fork_held_mm)


def _forces(machine: Machine, now: Stance, rear_mm: float, deceleration_g: float) -> Forces:
    front_n, rear_n = axle_loads(
        machine.mass_kg, now.ahead_mm, now.height_mm, now.attitude.wheelbase_mm, deceleration_g
    )
    braking_n = machine.mass_kg * deceleration_g * G_N
    along = force_along_leg(front_n, machine.front_unsprung_kg, braking_n, deceleration_g, now.attitude.rake_deg)
    wheel_n = machine.rear_unsprung_kg * G_N
    on_rear_n = on_rear_springs(machine, now, rear_mm, rear_n - wheel_n, wheel_n * deceleration_g)
    return Forces(front_n, rear_n, along, on_rear_n)


def rear_lifts_at(machine: Machine) -> float | None:
    """Deceleration at which the rear wheel carries nothing any more.

    Args:
        machine: the machine before it brakes.

    Returns:
        Deceleration [g]; None where it stays on the ground up to MOST_G, or where the travels do not settle.

    Raises:
        OutOfRange: never for a machine that could be made and stands.

    Source:
        Moments about the front contact: a = g (p - b) / h, at the attitude it then has.

    >>> from stanchion.mechanics.fork import Fork, ForkLeg
    >>> from stanchion.mechanics.geometry import Baseline
    >>> from stanchion.mechanics.linkage import constant_ratio
    >>> from stanchion.mechanics.rear import RearEnd
    >>> stands = Baseline(rake_deg=23.5, offset_mm=30.0, wheelbase_mm=1370.0, front_radius_mm=300.0,
    ...                   rear_radius_mm=300.0)
    >>> rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=1e-6)
    >>> stiff = Machine(stands=stands, mass_kg=246.0, ahead_mm=700.0, height_mm=620.0, front_unsprung_kg=0.0,
    ...                 rear_unsprung_kg=0.0, fork=Fork((ForkLeg(rate_n_per_mm=9.0),), 1e-6), fork_mm=0.0,
    ...                 rear=rear, rear_mm=0.0)
    >>> round(rear_lifts_at(stiff), 6) == round(670.0 / 620.0, 6)
    True
    """
    return crossing(lambda a: -_at(machine, a).rear_load_n, MOST_G)


def fork_ends_at(machine: Machine, at_mm: float, most_g: float) -> float | None:
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

    >>> from stanchion.mechanics.fork import Fork, ForkLeg
    >>> from stanchion.mechanics.geometry import Baseline
    >>> from stanchion.mechanics.linkage import constant_ratio
    >>> from stanchion.mechanics.rear import RearEnd
    >>> stands = Baseline(rake_deg=23.5, offset_mm=30.0, wheelbase_mm=1370.0, front_radius_mm=300.0,
    ...                   rear_radius_mm=300.0)
    >>> rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=120.0)
    >>> machine = Machine(stands=stands, mass_kg=246.0, ahead_mm=700.0, height_mm=620.0, front_unsprung_kg=13.0,
    ...                   rear_unsprung_kg=15.0, fork=Fork((ForkLeg(rate_n_per_mm=11.0, preload_mm=14.0),) * 2, 120.0),
    ...                   fork_mm=32.0, rear=rear, rear_mm=30.0)
    >>> end = fork_ends_at(machine, 110.0, 1.1)
    >>> round(braked(machine, end).fork_mm, 6)
    110.0
    """
    held_n = fork_force(machine.fork, at_mm) - carried_besides(machine)[0]

    def short_of_it(deceleration_g: float) -> float:
        found = _at(machine, deceleration_g, at_mm)
        return _forces(machine, found.stance, found.rear_mm, deceleration_g).along_leg_n - held_n

    return crossing(short_of_it, positive("largest deceleration", most_g))


def _at(machine: Machine, deceleration_g: float, fork_held_mm: float | None = None) -> Settled:
    found = braked(machine, deceleration_g, fork_held_mm)
    if found is None:
        raise NotSettledError
    return found
