"""Solving a fork for the preload or rate that gives a wanted sag, and the cases of a change of preload."""

from __future__ import annotations

from enum import StrEnum
from functools import cache

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.equilibrium import (
    FORCE_TOLERANCE_N,
    SAG_TOLERANCE_MM,
    Limit,
    PredictedSag,
    fork_position,
    fork_sag,
)
from stanchion.mechanics.fork import Fork, force_and_rate, fork_force, spring_forces, with_added_preload, with_rate
from stanchion.mechanics.limits import finite, positive
from stanchion.mechanics.solve import VALUE_TOLERANCE, falling_root

RATES_TRIED_N_PER_MM = (1e-3, 1e4)
"""Between which rates of one spring an answer is looked for [N/mm]."""

_NEWTON_STEPS = 8


class PreloadCase(StrEnum):
    """The case that a change of preload falls under in one state."""

    FREE = "free"
    """No top-out spring at work: the machine rises by the change, and sag falls by it (a little less with air)."""
    TOP_OUT_WHEN_EXTENDED = "top_out_when_extended"
    """The top-out spring works only when extended: the machine rises by the change, sag falls by less."""
    ON_TOP_OUT = "on_top_out"
    """The top-out spring works in the state itself: the machine rises by less, sag stays."""
    TOPPED_OUT = "topped_out"
    """Against the stop: nothing shows."""
    BOTTOMED = "bottomed"
    """At full travel: nothing shows."""


def preload_for_sag(fork: Fork, wanted_mm: float, load_n: float, hanging_load_n: float = 0.0) -> float | None:
    """Preload to add to both legs alike for a wanted sag.

    Args:
        fork: the fork as it is.
        wanted_mm: sag wanted along the leg [mm], above 0 and below full travel.
        load_n: sprung load along the fork [N].
        hanging_load_n: load along the fork with the wheel hanging [N], <= 0.

    Returns:
        Preload to add [mm], negative to take away; None where none gives that sag with the springs
        carrying the load.

    Raises:
        OutOfRange: wanted sag not between 0 and full travel, or a load out of range.

    Source:
        fork_sag solved for preload.

    >>> from stanchion.mechanics.fork import ForkLeg
    >>> fork = Fork((ForkLeg(rate_n_per_mm=9.0, preload_mm=12.0),) * 2, 120.0)
    >>> round(preload_for_sag(fork, 35.0, 756.0), 9)
    -5.0
    """
    _reachable(fork, wanted_mm)
    finite("load along the fork", load_n)
    sprung = [leg for leg in fork.legs if leg.rate_n_per_mm > 0.0]
    if not sprung:
        return None
    loosest = -max(leg.preload_mm for leg in sprung) - fork.travel_mm
    against = max(0.0, load_n) + sum(leg.top_out_rate_n_per_mm * leg.top_out_mm for leg in fork.legs)
    tightest = max(against / leg.rate_n_per_mm - leg.preload_mm for leg in sprung)

    @cache
    def excess_mm(added_mm: float) -> float:
        return _carried_sag(with_added_preload(fork, added_mm), load_n, hanging_load_n) - wanted_mm

    balanced = _preload_by_balance(fork, wanted_mm, load_n, hanging_load_n)
    if balanced is not None and loosest <= balanced <= tightest and abs(excess_mm(balanced)) <= VALUE_TOLERANCE:
        return balanced
    now = fork_sag(fork, load_n, hanging_load_n)
    slope = _sag_by_preload(fork, now)
    guess = (wanted_mm - now.sag_mm) / slope
    if now.loaded.limit is not Limit.NONE:  # the springs carry only part of the load: go by the force wanted there
        x = min(now.unloaded.travel_mm + wanted_mm, fork.travel_mm)
        guess = (load_n - fork_force(fork, x)) / sum(leg.rate_n_per_mm for leg in sprung)
    found = falling_root(excess_mm, guess, slope, low=loosest, high=max(tightest, loosest))
    return found if found is not None and abs(excess_mm(found)) < SAG_TOLERANCE_MM else None


def _preload_by_balance(fork: Fork, wanted_mm: float, load_n: float, hanging_load_n: float) -> float | None:
    """Preload to add for a wanted sag, by the balance of forces, provided that no spring is loose in either position.

    Added preload then raises the force equally in both positions, so the hanging position is found independently of it.

    .. math:: F(x_u + s) - F(x_u) = W - W_u, \\quad x_u \\ge 0

    None where no solution is found quickly, and where a spring has a curve: its force does not rise equally.
    """
    for leg in fork.legs:
        if leg.curve is not None:
            return None
    unloaded_mm, rate = 0.0, sum(leg.rate_n_per_mm for leg in fork.legs)
    # Nothing else pulls it off its stop.
    pulled = any(leg.top_out_rate_n_per_mm > 0.0 or leg.air_spring is not None for leg in fork.legs)
    for _ in range(_NEWTON_STEPS):
        loaded_mm = unloaded_mm + wanted_mm
        if not 0.0 <= unloaded_mm < loaded_mm <= fork.travel_mm:
            return None
        loaded_n, loaded_rate = force_and_rate(fork, loaded_mm)
        if not pulled:
            return (load_n - loaded_n) / rate
        unloaded_n, unloaded_rate = force_and_rate(fork, unloaded_mm)
        excess_n = (unloaded_n - hanging_load_n) - (loaded_n - load_n)
        if (unloaded_mm == 0.0 and excess_n >= 0.0) or abs(excess_n) <= FORCE_TOLERANCE_N:
            return (load_n - loaded_n) / rate
        if not unloaded_rate > loaded_rate:
            return None
        unloaded_mm -= excess_n / (unloaded_rate - loaded_rate)
    return None


def rate_for_sag(fork: Fork, wanted_mm: float, load_n: float, hanging_load_n: float = 0.0) -> float | None:
    """Rate of each main spring for a wanted sag, preloads at the stop unchanged.

    Args:
        fork: the fork as it is; legs without a spring stay without.
        wanted_mm: sag wanted along the leg [mm], above 0 and below full travel.
        load_n: sprung load along the fork [N].
        hanging_load_n: load along the fork with the wheel hanging [N], <= 0.

    Returns:
        Rate [N/mm]; None where none gives that sag with the springs carrying the load.

    Raises:
        OutOfRange: wanted sag not between 0 and full travel, or a load out of range.

    Source:
        fork_sag solved for the rate.

    >>> from stanchion.mechanics.fork import ForkLeg
    >>> fork = Fork((ForkLeg(rate_n_per_mm=9.0, preload_mm=12.0),) * 2, 120.0)
    >>> round(rate_for_sag(fork, 23.0, 756.0), 9)
    10.8
    """
    _reachable(fork, wanted_mm)
    finite("load along the fork", load_n)
    sprung = [leg.rate_n_per_mm for leg in fork.legs if leg.rate_n_per_mm > 0.0]
    if not sprung:
        return None
    x = min(fork_position(fork, hanging_load_n).travel_mm + wanted_mm, fork.travel_mm)
    squeezed = max(1.0, sum(leg.preload_mm + x for leg in fork.legs if leg.rate_n_per_mm > 0.0))
    outside_springs_n = load_n - fork_force(fork, x) + sum(spring_forces(leg, x) for leg in fork.legs)
    guess = max(0.1, outside_springs_n / squeezed)
    slope = -squeezed / (guess * len(sprung))

    @cache
    def excess_mm(rate: float) -> float:
        return _carried_sag(with_rate(fork, rate), load_n, hanging_load_n) - wanted_mm

    found = falling_root(excess_mm, guess, slope, *RATES_TRIED_N_PER_MM)
    return found if found is not None and abs(excess_mm(found)) < SAG_TOLERANCE_MM else None


def _carried_sag(fork: Fork, load_n: float, hanging_load_n: float) -> float:
    """Sag while the springs carry the load; full travel where the fork bottoms.

    Full travel is more than any wanted sag. The sag of a bottomed fork would fall again with a softer spring, because
    that hangs further in.
    """
    sag = fork_sag(fork, load_n, hanging_load_n)
    return fork.travel_mm if sag.loaded.limit is Limit.BOTTOMED else sag.sag_mm


def _sag_by_preload(fork: Fork, sag: PredictedSag) -> float:
    """Slope of sag against preload, as the first guess of the solver. Both positions move, the unloaded one only where
    the fork is off its stop."""
    springs = sum(leg.rate_n_per_mm for leg in fork.legs)
    at_load = springs / max(force_and_rate(fork, sag.loaded.travel_mm)[1], springs)
    hanging = 0.0
    if sag.unloaded.limit is Limit.NONE:
        hanging = springs / max(force_and_rate(fork, sag.unloaded.travel_mm)[1], springs)
    return min(hanging - at_load, -0.05)


def _reachable(fork: Fork, wanted_mm: float) -> None:
    if not 0.0 < positive("wanted sag", wanted_mm) < fork.travel_mm:
        raise OutOfRange("wanted sag", wanted_mm, f"below full travel, {fork.travel_mm:g}")
