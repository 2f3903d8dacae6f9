"""A mass on a spring against a published example.

S. S. Rao, Mechanical Vibrations, "shock absorber for a motorcycle": 200 kg, damped period 2 s, the amplitude falls to a
quarter in half a cycle. The answers (0.4037, 2358.27 N/m, 554.50 N s/m) are from memory; more places recomputed.
"""

from __future__ import annotations

import math

import pytest

from stanchion.mechanics.vibration import critical_damping, damping_change, damping_ratio, natural_frequency

ZETA, RATE_N_PER_MM, DAMPING_N_S_PER_M = 0.4037127519, 2.358283291, 554.517744


def test_the_motorcycle_of_the_book_swings_and_is_damped_as_printed() -> None:
    damped_hz = natural_frequency(RATE_N_PER_MM, 200.0) * math.sqrt(1.0 - ZETA**2)
    assert 1.0 / damped_hz == pytest.approx(2.0, rel=1e-9)
    assert damping_ratio(DAMPING_N_S_PER_M, RATE_N_PER_MM, 200.0) == pytest.approx(ZETA, rel=1e-9)
    assert pytest.approx((0.4037, 2.35827, 554.50), rel=5e-5) == (ZETA, RATE_N_PER_MM, DAMPING_N_S_PER_M)


def test_a_damped_mass_is_where_the_book_says_after_half_a_cycle() -> None:
    # x'' = -(k x + c x')/m, from rest at 1, in small steps: at half the damped period 1/4 on the other side
    x, v, step = 1.0, 0.0, 1e-5
    k, c = RATE_N_PER_MM * 1000.0 / 200.0, ZETA * critical_damping(RATE_N_PER_MM, 200.0) / 200.0
    for _ in range(100_000):
        v -= (k * x + c * v) * step
        x += v * step
    assert x == pytest.approx(-0.25, abs=1e-4)


def test_another_spring_and_mass_want_damping_by_the_root_of_both() -> None:
    assert damping_change(8.0, 100.0, 10.5, 100.0) == pytest.approx(math.sqrt(10.5 / 8.0))
    assert damping_change(8.0, 100.0, 8.0, 121.0) == pytest.approx(1.1)
    assert damping_change(8.0, 100.0, 32.0, 100.0) == pytest.approx(2.0)
