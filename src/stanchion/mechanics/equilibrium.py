"""Where a fork comes to rest under a load, and the sag that follows."""

from __future__ import annotations

from enum import StrEnum

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.fork import Fork, force_and_rate
from stanchion.mechanics.limits import finite

FORCE_TOLERANCE_N = 1e-9
"""Largest difference of forces at which a fork counts as in equilibrium [N]."""


SAG_TOLERANCE_MM = 1e-6
"""Largest difference from a wanted sag that a solution may have [mm]; where sag jumps past it there is no solution."""


class Limit(StrEnum):
    """Whether the suspension is at an end of its travel, and at which."""

    NONE = ""
    TOPPED_OUT = "topped_out"
    BOTTOMED = "bottomed"


@record
class Position:
    """Where the suspension comes to rest, and the load that a stop carries."""

    travel_mm: float
    """Along the leg at the front, vertically at the wheel at the rear [mm]."""
    limit: Limit
    residual_n: float
    """Load less the force of the springs [N]: what the stop carries where the suspension is at one."""


@record
class PredictedSag:
    """Sag that the springs should give, with both positions it is counted between."""

    sag_mm: float
    """From the unloaded to the loaded position [mm]."""
    loaded: Position
    unloaded: Position
    """With the wheel hanging."""


def fork_position(fork: Fork, load_n: float) -> Position:
    """Where the fork comes to rest under a load along it.

    The force never falls as the fork is compressed, so there is only one such position. The solver takes a Newton step
    where it stays inside the bracket and halves the bracket otherwise.

    Args:
        fork: the fork.
        load_n: load along the fork, all legs together [N]; negative for the hanging wheel.

    Returns:
        The position, from 0 to full travel, and whether it is at an end.

    Raises:
        OutOfRange: load infinite or not a number.

    Source:
        Balance of forces.

    >>> from stanchion.mechanics.fork import ForkLeg
    >>> fork_position(Fork((ForkLeg(rate_n_per_mm=9.0, preload_mm=12.0),) * 2, 120.0), 756.0).travel_mm
    30.0
    """
    finite("load along the fork", load_n)
    low, high = 0.0, fork.travel_mm
    at_stop, rate = force_and_rate(fork, low)
    if at_stop >= load_n:
        return Position(low, Limit.TOPPED_OUT, load_n - at_stop)
    at_full = force_and_rate(fork, high)[0]
    if at_full <= load_n:
        return Position(high, Limit.BOTTOMED, load_n - at_full)
    x, excess_n = low, at_stop - load_n
    while True:
        x = x - excess_n / rate if rate > 0.0 else high
        if not low < x < high:
            x = low + (high - low) / 2.0
            if x in (low, high):  # neighbouring floats
                excess_n = force_and_rate(fork, x)[0] - load_n
                break
        force, rate = force_and_rate(fork, x)
        excess_n = force - load_n
        if abs(excess_n) <= FORCE_TOLERANCE_N:
            break
        if excess_n > 0.0:
            high = x
        else:
            low = x
    return Position(x, Limit.NONE, -excess_n)


def fork_sag(fork: Fork, load_n: float, hanging_load_n: float = 0.0) -> PredictedSag:
    """Sag along the leg under a load.

    .. math:: s = x(W \\cos\\epsilon) - x_u

    Args:
        fork: the fork.
        load_n: sprung load along the fork [N].
        hanging_load_n: load along the fork with the wheel hanging: minus the unsprung weight along the leg [N], <= 0.

    Returns:
        Sag, with both positions.

    Raises:
        OutOfRange: the hanging load is above 0, or a load is not an ordinary number.

    Source:
        Definition.

    >>> from stanchion.mechanics.fork import ForkLeg
    >>> fork_sag(Fork((ForkLeg(rate_n_per_mm=9.0, preload_mm=12.0),) * 2, 120.0), 756.0).sag_mm
    30.0
    """
    if not hanging_load_n <= 0.0:
        raise OutOfRange("load with the wheel hanging", hanging_load_n, "0 or less")
    unloaded, loaded = fork_position(fork, hanging_load_n), fork_position(fork, load_n)
    return PredictedSag(loaded.travel_mm - unloaded.travel_mm, loaded, unloaded)
