"""Oil for a length of air gap, and the gap for a wanted force: by geometry, by scipy's root, and by properties."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.fork import Fork, ForkLeg, TrappedAir, fork_force
from stanchion.mechanics.oil_level import gap_change_for, oil_area, oil_for_gap, with_gap_change

AREA = math.pi / 4 * 43.0**2


def fork(column_mm: float, travel_mm: float, rate: float = 9.0) -> Fork:
    """Both legs alike, bore 43 mm everywhere; so much air above the oil at full travel."""
    air = TrappedAir(area_mm2=AREA, least_volume_mm3=AREA * column_mm)
    return Fork((ForkLeg(rate_n_per_mm=rate, preload_mm=12.0, air=air),) * 2, travel_mm)


class TestOil:
    def test_of_a_tube_and_around_a_rod(self) -> None:
        """pi/4 · 39² is 1194.59 mm², less pi/4 · 12² 1081.49 mm²: 5 mm hold 5.97 and 5.41 ml (by hand)."""
        assert oil_for_gap(-5.0, oil_area(39.0)) == pytest.approx(5.9730, abs=5e-5)
        assert oil_for_gap(-5.0, oil_area(39.0, 12.0)) == pytest.approx(5.4075, abs=5e-5)
        assert oil_for_gap(5.0, oil_area(39.0)) == -oil_for_gap(-5.0, oil_area(39.0))
        with pytest.raises(OutOfRange):
            oil_area(39.0, 39.0)


class TestGapForAForce:
    @pytest.mark.parametrize(("exponent", "force"), [(1.0, 147.1443), (1.2, 190.9045), (1.4, 241.1718)])
    def test_the_gap_of_a_known_force_is_found(self, exponent: float, force: float) -> None:
        """Bore 43 mm, 120 mm of air at 101 325 Pa, 60 mm in: 60 mm are left (own computation from p V^n = const). The
        fork begins with 50 mm, so 10 mm more are wanted."""
        wanted = 2 * (9.0 * 72.0 + force)
        assert gap_change_for(fork(50.0, 60.0), 60.0, wanted, AREA, exponent) == pytest.approx(10.0, abs=1e-3)

    @given(st.floats(40.0, 200.0), st.floats(1500.0, 6000.0), st.sampled_from([1.0, 1.3, 1.4]), st.floats(60.0, 120.0))
    def test_with_the_gap_found_the_fork_has_the_force(
        self, column: float, wanted: float, exponent: float, at: float
    ) -> None:
        """Against brentq where there is a gap; none is found only where springs alone give more."""
        of, area = fork(column, 120.0), 1100.0
        found = gap_change_for(of, at, wanted, area, exponent)

        def excess(change: float) -> float:
            return fork_force(with_gap_change(of, change, area, exponent), at) - wanted

        low, high = -AREA * column / area * (1 - 1e-6), 500.0
        if found is None:
            assert excess(high) > 0.0 or excess(low) < 0.0
        else:
            assert excess(found) == pytest.approx(0.0, abs=1e-5 * wanted)
            assert found == pytest.approx(brentq(excess, low, high), abs=1e-3)

    def test_springs_that_give_more_than_that_leave_nothing_to_the_gap(self) -> None:
        assert gap_change_for(fork(100.0, 120.0), 120.0, 500.0, AREA, 1.0) is None
        without = Fork((ForkLeg(rate_n_per_mm=9.0, preload_mm=12.0),) * 2, 120.0)
        assert gap_change_for(without, 120.0, 3000.0, AREA, 1.0) is None
