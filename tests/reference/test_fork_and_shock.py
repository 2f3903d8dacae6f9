"""Checks of forces along fork and shock: a published staged pair of springs, and exact solutions of our own."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from stanchion.mechanics.equilibrium import Limit, fork_position
from stanchion.mechanics.fork import Fork, ForkLeg, TrappedAir, fork_force, fork_rate
from stanchion.mechanics.gas import circle_area
from stanchion.mechanics.linkage import constant_ratio, through_pairs
from stanchion.mechanics.load import cosine_of_rake, vertical_rate
from stanchion.mechanics.rear import RearEnd, rear_position, rear_wheel_force, rear_wheel_rate
from stanchion.mechanics.shock import wheel_rate
from stanchion.mechanics.spring import spring_rate


class TestStagedSprings:
    """V. B. Bhandari, Design of Machine Elements (title from memory), Ex. 10.19 (transcription: a public companion).

    Two springs share 1000 N, the inner one 15 mm shorter. A fork leg whose spring is 15 mm loose is that inner spring,
    so the solver for a fork must find the printed compression and shares.
    """

    outer = spring_rate(81_370.0, 6.0, 36.0, 10.0)
    inner = spring_rate(81_370.0, 5.0, 30.0, 8.0)

    def test_second_spring_comes_in_inside_the_stroke(self) -> None:
        legs = (ForkLeg(rate_n_per_mm=self.outer), ForkLeg(rate_n_per_mm=self.inner, preload_mm=-15.0))
        position = fork_position(Fork(legs, 60.0), 1000.0)
        assert position.travel_mm == pytest.approx(24.988839, abs=5e-7)
        assert self.outer * position.travel_mm == pytest.approx(706.021471, abs=5e-7)
        assert self.inner * (position.travel_mm - 15.0) == pytest.approx(293.978529, abs=5e-7)
        assert position.limit is Limit.NONE
        assert abs(position.residual_n) < 1e-6


class TestMainSpringAgainstTopOutSpring:
    """Own exact solution in rationals; no published example of opposing springs was found."""

    k, kt, preload, reach = Fraction(19, 2), Fraction(30), Fraction(15), Fraction(20)
    fork = Fork((ForkLeg(rate_n_per_mm=9.5, preload_mm=15.0, top_out_rate_n_per_mm=30.0, top_out_mm=20.0),), 120.0)

    @pytest.mark.parametrize(
        ("load", "exact", "rate"),
        [
            (0.0, Fraction(915, 79), 39.5),
            (200.0, Fraction(1315, 79), 39.5),
            (400.0, Fraction(515, 19), 9.5),
            (600.0, Fraction(915, 19), 9.5),
            (900.0, Fraction(1515, 19), 9.5),
        ],
    )
    def test_position_is_the_exact_one(self, load: float, exact: Fraction, rate: float) -> None:
        by_hand = (Fraction(load) + self.kt * self.reach - self.k * self.preload) / (self.k + self.kt)
        if by_hand >= self.reach:
            by_hand = Fraction(load) / self.k - self.preload
        assert by_hand == exact
        position = fork_position(self.fork, load)
        assert position.travel_mm == pytest.approx(float(exact), abs=1e-9)
        assert fork_rate(self.fork, position.travel_mm) == pytest.approx(rate)

    def test_change_over_where_the_top_out_spring_lets_go(self) -> None:
        assert fork_position(self.fork, 332.5).travel_mm == pytest.approx(20.0, abs=1e-9)
        assert fork_force(self.fork, 20.0) == 332.5


class TestTrappedAir:
    """Own computation: bore 43 mm, 120 mm of air at 101 325 Pa, one leg. No published example of fork air was read."""

    @pytest.mark.parametrize(
        ("exponent", "rows", "at_rest"),
        [
            (1.0, [(30, 49.0481, 2.179915), (60, 147.1443, 4.904810), (90, 441.4329, 19.619238)], 1.226202),
            (1.2, [(30, 60.6674, 2.770822), (60, 190.9045, 6.760976), (90, 629.4879, 31.065288)], 1.471443),
            (1.4, [(30, 72.9748, 3.424074), (60, 241.1718, 9.060709), (90, 877.6280, 47.822709)], 1.716683),
        ],
    )
    def test_force_and_rate(self, exponent: float, rows: list[tuple[float, float, float]], at_rest: float) -> None:
        area = circle_area(43.0)
        air = TrappedAir(area_mm2=area, least_volume_mm3=20.0 * area, exponent=exponent)
        fork = Fork((ForkLeg(air=air),), 100.0)
        for x, force, rate in rows:
            assert fork_force(fork, x) == pytest.approx(force, abs=5e-5)
            assert fork_rate(fork, x) == pytest.approx(rate, abs=5e-7)
        assert fork_force(fork, 0.0) == pytest.approx(0.0, abs=1e-9)
        assert fork_rate(fork, 0.0) == pytest.approx(at_rest, abs=5e-7)


def test_fork_carries_the_load_by_virtual_work() -> None:
    """Derivation by virtual work; V. Cossalter, Motorcycle Dynamics, ch. 5 has it too (from memory).

    A vertical push δz at the axle moves it δs along the fork, δz = δs cos ε.
    """
    fork = Fork((ForkLeg(rate_n_per_mm=9.0, preload_mm=12.0),) * 2, 120.0)
    rake = 25.0
    low, high = 900.0, 1000.0
    along = [fork_position(fork, load * cosine_of_rake(rake)).travel_mm for load in (low, high)]
    vertical = (along[1] - along[0]) * math.cos(math.radians(rake))
    assert (high - low) / vertical == pytest.approx(vertical_rate(fork_rate(fork, along[0]), rake), rel=1e-9)


class TestSwingArm:
    """Own exact geometry: arm of 550 mm, lower mount at 200 mm on it, upper mount at (120, 330) mm, 95 N/mm, the
    spring 12 mm squeezed at -12°. No textbook number could be read; the formula for a constant ratio stands in Barton
    & Fieldhouse, 3.9.2, eqs (3.29)-(3.33)."""

    @pytest.mark.parametrize(
        ("ratio", "slope", "force", "at_wheel", "spring_part", "rate"),
        [
            (0.34091487, 8.292966e-5, 1140.00000, 388.64295, 11.041180, 11.135720),
            (0.34639318, 1.0935404e-4, 2995.66554, 1037.67811, 11.398882, 11.726470),
            (0.35340004, 1.3415285e-4, 4906.01645, 1733.78640, 11.864701, 12.522857),
        ],
    )
    def test_force_and_rate_at_the_wheel(
        self, ratio: float, slope: float, force: float, at_wheel: float, spring_part: float, rate: float
    ) -> None:
        assert wheel_rate(95.0, ratio) == pytest.approx(spring_part, abs=1e-6)
        assert wheel_rate(95.0, ratio, force, slope) == pytest.approx(rate, abs=1e-6)

    def test_pairs_taken_from_it_give_its_forces_back(self) -> None:
        """A linkage measured every 2° must give force within 0.5 % and rate within 3 % of the exact geometry."""

        def length(angle: float) -> float:
            return math.hypot(200 * math.cos(angle) - 120, 200 * math.sin(angle) - 330)

        start = math.radians(-12.0)
        angles = [math.radians(a) for a in range(-12, 5, 2)]
        z = [550 * (math.sin(a) - math.sin(start)) for a in angles]
        pairs = [(zi, length(start) - length(a)) for zi, a in zip(z, angles, strict=True)]
        link = through_pairs(pairs)
        rear = RearEnd(rate_n_per_mm=95.0, preload_mm=12.0, linkage=link, travel_mm=link.covered_mm)
        for travel, at_wheel, rate in ((56.860775, 1037.67811, 11.726470), (114.351430, 1733.78640, 12.522857)):
            assert rear_wheel_force(rear, travel) == pytest.approx(at_wheel, rel=5e-3)
            assert rear_wheel_rate(rear, travel) == pytest.approx(rate, rel=3e-2)
            assert rear_position(rear, at_wheel).travel_mm == pytest.approx(travel, abs=0.6)

    def test_constant_ratio(self) -> None:
        """80 N/mm through a ratio of 0.4 is 12.8 N/mm at the wheel (own arithmetic)."""
        rear = RearEnd(rate_n_per_mm=80.0, preload_mm=5.0, linkage=constant_ratio(0.4), travel_mm=120.0)
        assert rear_wheel_rate(rear, 60.0) == pytest.approx(12.8)
