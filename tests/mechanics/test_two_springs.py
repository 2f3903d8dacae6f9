"""Two springs that work as one, against published and exact values, scipy, and what must hold for any springs."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.spring import spring_rate
from stanchion.mechanics.spring_curve import SpringCurve, force_at, measured_curve, rate_at, rising_rate
from stanchion.mechanics.two_springs import end_to_end, side_by_side

RATES = st.floats(0.5, 500.0)
LENGTHS = st.floats(0.5, 200.0)


def test_side_by_side_against_a_published_example() -> None:
    # V. B. Bhandari, Design of Machine Elements, example 10.19: inner spring 15 mm shorter; G 81370 N/mm²; outer wire
    # 6, coil 36, 10 active; inner 5, 30, 8; 1000 N. Printed: 706.021471 and 293.978529 N, 24.988839 and 9.988839 mm.
    outer, inner = spring_rate(81370.0, 6.0, 36.0, 10.0), spring_rate(81370.0, 5.0, 30.0, 8.0)
    both = side_by_side(outer, inner, 15.0)
    squeezed = brentq(lambda mm: force_at(both.curve, mm) - 1000.0, 0.0, 100.0)
    assert squeezed == pytest.approx(24.988839, abs=1e-6)
    assert outer * squeezed == pytest.approx(706.021471, abs=1e-5)
    assert inner * (squeezed - both.changes_at_mm) == pytest.approx(293.978529, abs=1e-5)


def test_side_by_side_without_a_gap_against_a_published_example() -> None:
    # The same book, example 10.18: G 81370; wires 10 and 8, coils 80 and 64, 8 and 12 active; 2000 N. Printed: 52.526569.
    rates = spring_rate(81370.0, 10.0, 80.0, 8.0), spring_rate(81370.0, 8.0, 64.0, 12.0)
    assert 2000.0 / rate_at(side_by_side(*rates, 0.0).curve, 10.0) == pytest.approx(52.526569, abs=1e-6)


def test_end_to_end_by_hand() -> None:
    # 120 and 60 N/mm in series give 40; the softer one is closed after 15 mm, at 900 N: 22.5 mm of both. By hand.
    both = end_to_end(120.0, 60.0, math.inf, 15.0)
    assert (both.changes_at_mm, force_at(both.curve, 22.5)) == (22.5, 900.0)
    assert [force_at(both.curve, mm) for mm in (10.0, 30.0)] == [400.0, 1800.0]
    assert [rate_at(both.curve, mm) for mm in (22.4, 22.5)] == [40.0, 120.0]


def test_end_to_end_in_series_against_a_published_rate() -> None:
    # D. C. Barton & J. D. Fieldhouse, Automotive Chassis Engineering, 3.13: 20.63 N/mm above a tyre of 300 gives
    # 19.3 N/mm overall (that the two are in series is our reading of it).
    assert rate_at(end_to_end(20.63, 300.0, math.inf, math.inf).curve, 5.0) == pytest.approx(19.3, abs=0.05)


def test_the_stiffer_spring_may_close_first() -> None:
    both = end_to_end(120.0, 60.0, 2.0, 15.0)  # at 240 N
    assert both.changes_at_mm == 6.0
    assert rate_at(both.curve, 10.0) == 60.0


@given(RATES, RATES, LENGTHS)
def test_end_to_end_carries_one_force(main: float, second: float, closes_mm: float) -> None:
    both = end_to_end(main, second, math.inf, closes_mm)
    for squeezed in (0.3 * both.changes_at_mm, 1.7 * both.changes_at_mm):
        force = force_at(both.curve, squeezed)
        assert force / main + min(force / second, closes_mm) == pytest.approx(squeezed, rel=1e-9)
    assert 1.0 / rate_at(both.curve, 0.0) == pytest.approx(1.0 / main + 1.0 / second, rel=1e-12)


@given(RATES, RATES, LENGTHS, st.booleans())
def test_rate_is_the_slope_and_energy_is_closed(main: float, second: float, mm: float, on_top: bool) -> None:
    both = end_to_end(main, second, math.inf, mm) if on_top else side_by_side(main, second, mm)
    end = 2.5 * both.changes_at_mm
    worked, _ = quad(lambda u: force_at(both.curve, u), 0.0, end, points=[both.changes_at_mm])
    force = force_at(both.curve, end)
    if on_top:  # what each spring stores by itself; a stop stores nothing
        second_mm = min(force / second, mm)
        stored = force**2 / (2.0 * main) + second * second_mm**2 / 2.0
    else:
        stored = main * end**2 / 2.0 + second * (end - mm) ** 2 / 2.0
    assert worked == pytest.approx(stored, rel=1e-6)
    for at in (0.4 * both.changes_at_mm, end):
        step = 1e-4 * at
        slope = (force_at(both.curve, at + step) - force_at(both.curve, at - step)) / (2.0 * step)
        assert slope == pytest.approx(rate_at(both.curve, at), rel=1e-6)


@given(RATES, RATES, LENGTHS)
def test_what_never_meets_or_never_closes_is_one_spring(main: float, second: float, mm: float) -> None:
    assert force_at(side_by_side(main, second, math.inf).curve, mm) == pytest.approx(main * mm)
    assert math.isinf(side_by_side(main, second, math.inf).changes_at_mm)
    stiff = end_to_end(main, 1e12, math.inf, math.inf)
    assert force_at(stiff.curve, mm) == pytest.approx(main * mm, rel=1e-6)


@pytest.mark.parametrize(
    "main",
    [rising_rate(6.5, 10.5, 120.0), measured_curve(((20.0, 130.0), (40.0, 280.0), (60.0, 460.0), (80.0, 680.0)))],
)
@given(RATES, st.floats(0.0, 200.0), st.floats(0.0, 250.0))
def test_a_curve_with_a_spring_beside_it_is_their_sum(
    main: SpringCurve, second: float, gap_mm: float, squeezed_mm: float
) -> None:
    both = side_by_side(main, second, gap_mm).curve
    beside = second * max(0.0, squeezed_mm - gap_mm)
    assert force_at(both, squeezed_mm) == pytest.approx(force_at(main, squeezed_mm) + beside, rel=1e-9, abs=1e-6)
    apart = squeezed_mm - gap_mm
    if abs(apart) > 1e-6:
        more = second if apart > 0.0 else 0.0
        assert rate_at(both, squeezed_mm) == pytest.approx(rate_at(main, squeezed_mm) + more, rel=1e-9, abs=1e-6)


@pytest.mark.parametrize(
    "call",
    [
        lambda: end_to_end(0.0, 60.0, math.inf, 15.0),
        lambda: end_to_end(120.0, 60.0, math.inf, 0.0),
        lambda: end_to_end(120.0, 60.0, math.nan, 15.0),
        lambda: side_by_side(9.0, 0.0, 15.0),
        lambda: side_by_side(9.0, 4.0, -1.0),
    ],
)
def test_what_cannot_be_is_refused(call: Callable[[], object]) -> None:
    with pytest.raises(OutOfRange):
        call()
