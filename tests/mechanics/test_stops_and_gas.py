"""Bump rubbers and the gas of a shock in the balance of forces: by scipy's roots and integrals, and by properties."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from stanchion.mechanics.air_spring import AirSpring, Chamber
from stanchion.mechanics.bump_stop import BumpStop
from stanchion.mechanics.equilibrium import fork_position
from stanchion.mechanics.fork import Fork, ForkLeg, fork_force, fork_rate, spring_forces
from stanchion.mechanics.gas import ATMOSPHERE_MPA
from stanchion.mechanics.linkage import constant_ratio, through_pairs
from stanchion.mechanics.rear import RearEnd, rear_position, rear_shock_force, rear_wheel_force, rear_wheel_rate
from stanchion.mechanics.rear_change import rear_preload_for_sag
from stanchion.mechanics.spring_curve import measured_curve

AREA = math.pi / 4 * 16.0**2
CONE = measured_curve(((5.0, 150.0), (10.0, 420.0), (15.0, 980.0), (20.0, 2300.0)))
"""Invented readings of a cone."""


def gas(bar: float, volume_mm3: float, exponent: float = 1.0) -> AirSpring:
    chamber = Chamber(area_mm2=AREA, volume_mm3=volume_mm3, pressure_mpa=0.1 * bar + ATMOSPHERE_MPA)
    return AirSpring(main=chamber, exponent=exponent)


def fork(stop: BumpStop | None) -> Fork:
    return Fork((ForkLeg(rate_n_per_mm=9.0, preload_mm=12.0, stop=stop),) * 2, 120.0)


class TestForkWithACone:
    @pytest.mark.parametrize("spring", [40.0, CONE], ids=["rate", "pairs"])
    @pytest.mark.parametrize("load", [1500.0, 2700.0, 3500.0])
    def test_it_comes_to_rest_where_the_forces_balance(self, spring: object, load: float) -> None:
        """By brentq, with the forces written out."""
        stop = BumpStop(100.0, spring)  # type: ignore[arg-type]

        def force(x: float) -> float:
            pressed = max(0.0, x - 100.0)
            of_cone = 40.0 * pressed if spring == 40.0 else (CONE.state(pressed)[0] if pressed else 0.0)
            return 2 * (9.0 * (12.0 + x) + of_cone)

        if load >= force(120.0):
            pytest.skip("bottoms")
        assert fork_position(fork(stop), load).travel_mm == pytest.approx(brentq(lambda x: force(x) - load, 0.0, 120.0))

    @given(st.floats(0.5, 119.5))
    def test_its_rate_is_the_slope_of_its_force(self, x: float) -> None:
        of = fork(BumpStop(100.0, CONE))
        if min(abs(x - at) for at in (100.0, 105.0, 110.0, 115.0)) < 1e-3:
            return
        slope = (fork_force(of, x + 1e-4) - fork_force(of, x - 1e-4)) / 2e-4
        assert fork_rate(of, x) == pytest.approx(slope, rel=1e-4)

    def test_before_it_touches_nothing_changes(self) -> None:
        for x in (0.0, 50.0, 100.0):
            assert fork_force(fork(BumpStop(100.0, CONE)), x) == fork_force(fork(None), x)
        leg = fork(BumpStop(100.0, CONE)).legs[0]
        assert spring_forces(leg, 110.0) == pytest.approx(9.0 * 122.0 + 420.0)

    def test_pressed_and_let_go_it_gives_its_work_back(self) -> None:
        of = fork(BumpStop(100.0, CONE))
        pressing = quad(lambda x: fork_force(of, x), 0.0, 120.0, points=[100.0, 105.0, 110.0, 115.0])[0]
        releasing = quad(lambda x: fork_force(of, 120.0 - x), 0.0, 120.0, points=[5.0, 10.0, 15.0, 20.0])[0]
        assert pressing == pytest.approx(releasing, rel=1e-9)


def rear(**more: object) -> RearEnd:
    usual = {"rate_n_per_mm": 90.0, "preload_mm": 10.0, "linkage": constant_ratio(0.5), "travel_mm": 130.0}
    return RearEnd(**{**usual, **more})  # type: ignore[arg-type]


class TestShockWithGas:
    """16 mm shaft, 1.0 MPa above ambient, 100 000 mm³. Own computation from p V = const."""

    @pytest.mark.parametrize(("stroke", "force"), [(0.0, 201.0619), (66.0, 234.9425), (132.0, 281.0636)])
    def test_its_force_over_the_stroke(self, stroke: float, force: float) -> None:
        of = rear(gas=gas(10.0, 100_000.0), travel_mm=270.0)
        assert rear_shock_force(of, stroke) - 90.0 * (10.0 + stroke) == pytest.approx(force, abs=5e-5)

    def test_with_volume_without_end_it_is_one_force(self) -> None:
        of, constant = rear(gas=gas(10.0, 1e12)), rear(gas_force_n=1.0 * AREA)
        for load in (400.0, 900.0, 1500.0):
            assert rear_position(of, load).travel_mm == pytest.approx(rear_position(constant, load).travel_mm, abs=1e-6)

    @pytest.mark.parametrize("load", [600.0, 1200.0, 3600.0])
    def test_the_wheel_rests_where_linkage_gas_and_rubber_balance(self, load: float) -> None:
        """By brentq, with force and ratio written out, over a rising ratio."""
        linkage = through_pairs(tuple((z, 0.4 * z + 0.0005 * z * z) for z in (30.0, 60.0, 90.0, 120.0, 130.0)))
        end = linkage.shock_travel(130.0)
        of = rear(linkage=linkage, gas=gas(12.0, 60_000.0), stop=BumpStop(end - 12.0, 150.0))

        def force(z: float) -> float:
            s, ratio, _ = linkage.state(z)
            inside = (1.2 + 0.101325) * 60_000.0 / (60_000.0 - AREA * s) - 0.101325
            return (90.0 * (10.0 + s) + AREA * inside + 150.0 * max(0.0, s - end + 12.0)) * ratio

        assert force(0.0) < load < force(130.0)
        assert rear_position(of, load).travel_mm == pytest.approx(brentq(lambda z: force(z) - load, 0.0, 130.0))
        assert rear_wheel_force(of, 100.0) == pytest.approx(force(100.0))

    @given(st.floats(1.0, 129.0))
    def test_the_wheel_rate_is_the_slope_of_the_wheel_force(self, z: float) -> None:
        of = rear(gas=gas(10.0, 30_000.0, 1.4), stop=BumpStop(55.0, CONE))
        if min(abs(z / 2 - at) for at in (55.0, 60.0, 65.0)) < 1e-3:
            return
        slope = (rear_wheel_force(of, z + 1e-4) - rear_wheel_force(of, z - 1e-4)) / 2e-4
        assert rear_wheel_rate(of, z) == pytest.approx(slope, rel=1e-4)

    def test_the_preload_for_a_sag_gives_that_sag(self) -> None:
        of = rear(gas=gas(10.0, 30_000.0), stop=BumpStop(55.0, 80.0))
        preload = rear_preload_for_sag(of, 35.0, 1100.0, -200.0)
        assert preload is not None
        assert rear_position(replace(of, preload_mm=preload), 1100.0).travel_mm == pytest.approx(35.0, abs=1e-6)
