"""Solving the rear end for the preload or rate of the shock spring that gives a wanted sag."""

from __future__ import annotations

from functools import cache

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.equilibrium import SAG_TOLERANCE_MM, Limit
from stanchion.mechanics.limits import finite, positive
from stanchion.mechanics.rear import RearEnd, rear_travel, with_preload, with_shock_spring
from stanchion.mechanics.solve import falling_root


def rear_preload_for_sag(rear: RearEnd, wanted_mm: float, load_n: float, hanging_load_n: float = 0.0) -> float | None:
    """Preload of the shock spring for a wanted rear sag.

    Args:
        rear: the rear end as it is.
        wanted_mm: sag wanted at the wheel [mm], above 0 and below full travel.
        load_n: vertical sprung load [N].
        hanging_load_n: minus the unsprung weight [N], <= 0.

    Returns:
        Preload [mm], not the change of it; None where none gives that sag as a stable position.

    Raises:
        OutOfRange: wanted sag not between 0 and full travel, or a load out of range.

    Source:
        Balance of forces at the wanted sag, solved for preload.

    >>> from stanchion.mechanics.linkage import constant_ratio
    >>> rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=120.0)
    >>> round(rear_preload_for_sag(rear, 25.0, 900.0), 9)
    7.5
    """
    _reachable(rear, wanted_mm)
    shock, ratio = _at_sag(rear, wanted_mm, hanging_load_n)
    force, gas_n = max(0.0, load_n) / ratio, _gas(rear, shock)
    end = rear.linkage.shock_travel(rear.travel_mm)

    @cache
    def excess_mm(preload_mm: float) -> float:
        return _carried_sag(with_preload(rear, preload_mm), load_n, hanging_load_n) - wanted_mm

    preload = falling_root(
        excess_mm,
        guess=(force - gas_n) / rear.rate_n_per_mm - shock,
        slope=-1.0 / ratio,
        low=-end - 1.0,
        high=(10.0 * force + rear.top_out_rate_n_per_mm * rear.top_out_mm) / rear.rate_n_per_mm + 1.0,
    )
    return preload if preload is not None and _holds(excess_mm(preload)) else None


def rear_rate_for_sag(rear: RearEnd, wanted_mm: float, load_n: float, hanging_load_n: float = 0.0) -> float | None:
    """Rate of the shock spring for a wanted rear sag, preload unchanged.

    Args:
        rear: the rear end as it is.
        wanted_mm: sag wanted at the wheel [mm], above 0 and below full travel.
        load_n: vertical sprung load [N].
        hanging_load_n: minus the unsprung weight [N], <= 0.

    Returns:
        Rate [N/mm]; None where none gives that sag as a stable position.

    Raises:
        OutOfRange: wanted sag not between 0 and full travel, or a load out of range.

    Source:
        Balance of forces at the wanted sag, solved for the rate.

    >>> from stanchion.mechanics.linkage import constant_ratio
    >>> rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=constant_ratio(0.5), travel_mm=120.0)
    >>> round(rear_rate_for_sag(rear, 25.0, 900.0), 9)
    80.0
    """
    _reachable(rear, wanted_mm)
    finite("sprung load", load_n)
    shock, ratio = _at_sag(rear, wanted_mm, hanging_load_n)
    squeezed = max(1.0, rear.preload_mm + shock)
    guess = max(1.0, (load_n / ratio - _gas(rear, shock)) / squeezed)

    @cache
    def excess_mm(rate: float) -> float:
        return _carried_sag(with_shock_spring(rear, rate, rear.preload_mm), load_n, hanging_load_n) - wanted_mm

    rate = falling_root(
        excess_mm,
        guess=guess,
        slope=-squeezed / (guess * ratio),
        low=1e-3,
        high=1e5,
    )
    return rate if rate is not None and _holds(excess_mm(rate)) else None


def _at_sag(rear: RearEnd, wanted_mm: float, hanging_load_n: float) -> tuple[float, float]:
    """Approximate shock travel and motion ratio at the wanted sag; the ratio is kept well above 0."""
    unloaded = rear_travel(rear, hanging_load_n)[0]
    shock, ratio, _ = rear.linkage.state(min(unloaded + wanted_mm, rear.travel_mm))
    return shock, max(ratio, 0.02)


def _gas(rear: RearEnd, shock_mm: float) -> float:
    """Force of the gas at a shock travel."""
    return rear.gas_force_n + (rear.gas.state(shock_mm)[0] if rear.gas is not None else 0.0)


def _holds(off_mm: float) -> bool:
    """Whether a solution gives the wanted sag; where the motion ratio falls too fast, sag may jump past it."""
    return abs(off_mm) < SAG_TOLERANCE_MM


def _carried_sag(rear: RearEnd, load_n: float, hanging_load_n: float) -> float:
    """Sag while the spring carries the load; full travel where the wheel bottoms."""
    if not hanging_load_n <= 0.0:
        raise OutOfRange("load with the wheel hanging", hanging_load_n, "0 or less")
    loaded_mm, limit = rear_travel(rear, load_n)
    return loaded_mm if limit is Limit.BOTTOMED else loaded_mm - rear_travel(rear, hanging_load_n)[0]


def _reachable(rear: RearEnd, wanted_mm: float) -> None:
    if not 0.0 < positive("wanted sag", wanted_mm) < rear.travel_mm:
        raise OutOfRange("wanted sag", wanted_mm, f"below full travel, {rear.travel_mm:g}")
