"""Formulas against a calculation by hand, where neither a published example nor a property pins them down."""

from __future__ import annotations

import math

import pytest

from stanchion.base.errors import OutOfRange
from stanchion.mechanics import fork, fork_change, gas, geometry, limits, load, preload, sag, shock, spring, statistics
from stanchion.mechanics.linkage import constant_ratio
from stanchion.mechanics.rear import full_wheel_travel
from stanchion.mechanics.spring import WIRES, shear_modulus
from stanchion.mechanics.statistics import Uncertainty


class TestTyresAndGas:
    def test_a_tyre_is_set_colder_by_what_it_rose_before_in_absolute_pressure(self) -> None:
        # by hand, air outside taken as 1 bar: 2.2 cold rose to 3.0 hot, so 3.2 bar absolute became 4.0; wanted 2.6, that is
        # 3.6 absolute: 3.6 * 3.2 / 4.0 = 2.88 absolute, 1.88 on the gauge
        assert gas.cold_tyre_pressure(2.6, 2.2, 3.0, 1.0) == pytest.approx(1.88, abs=1e-12)

    @pytest.mark.parametrize(
        "bad", [(-0.1, 2.0, 2.2, 1.0), (2.0, -0.1, 2.2, 1.0), (2.0, 2.0, -0.1, 1.0), (2, 2, 2, 0.0)]
    )
    def test_a_pressure_below_that_outside_is_no_tyre(self, bad: tuple[float, float, float, float]) -> None:
        with pytest.raises(OutOfRange, match=r"^(gauge|ambient) pressure = "):
            gas.cold_tyre_pressure(*bad)

    def test_air_with_nothing_standing_in_it_is_the_whole_tube(self) -> None:
        assert gas.least_air_volume(40.0, 100.0) == pytest.approx(math.pi * 400.0 * 100.0, rel=1e-12)

    def test_half_a_kelvin_is_a_temperature_and_absolute_zero_is_none(self) -> None:
        assert gas.tyre_pressure_at(2.0, 20.0, -272.65) < 0.0
        with pytest.raises(OutOfRange, match="temperature"):
            gas.tyre_pressure_at(2.0, 20.0, -273.15)


class TestPreload:
    def test_turns_are_preload_over_pitch(self) -> None:
        assert preload.turns_for(6.0, 1.5) == 4.0
        assert preload.turns_for(0.0, 1.5) == 0.0
        for bad in ((-1.0, 1.5), (6.0, 0.0)):
            with pytest.raises(OutOfRange):
                preload.turns_for(*bad)

    def test_an_adjuster_cannot_stand_beyond_its_ends(self) -> None:
        assert preload.added_preload(8.0, 1.0) == 8.0
        with pytest.raises(OutOfRange, match="adjuster position"):
            preload.added_preload(8.0, 1.01)
        with pytest.raises(OutOfRange, match="adjuster position"):
            preload.headroom_in(8.0, 1.01)


class TestShock:
    def test_without_gas_and_with_a_straight_ratio_the_spring_is_all_there_is(self) -> None:
        # by hand: 80 N/mm through 0.5 is 80 * 0.25 = 20 N/mm; 1 mm of collar moves the wheel 80 * 0.5 / 20 = 2 mm
        assert shock.shock_force(80.0, 12.0, 20.0) == 2560.0
        assert shock.wheel_rate(80.0, 0.5) == 20.0
        assert shock.collar_effect(80.0, 0.5) == 2.0

    def test_a_force_without_a_slope_and_a_slope_without_a_force_add_nothing(self) -> None:
        for more in ({"force_n": 1000.0}, {"ratio_slope": 0.001}):
            assert shock.wheel_rate(80.0, 0.5, **more) == 20.0
            assert shock.collar_effect(80.0, 0.5, **more) == 2.0

    def test_a_ratio_that_rises_adds_its_slope_times_the_force(self) -> None:
        # by hand: 20 + 1000 * 0.001 = 21 N/mm; 80 * 0.5 / 21
        assert shock.wheel_rate(80.0, 0.5, 1000.0, 0.001) == 21.0
        assert shock.collar_effect(80.0, 0.5, 1000.0, 0.001) == pytest.approx(40.0 / 21.0, rel=1e-12)

    def test_a_spring_that_is_loose_pushes_with_nothing(self) -> None:
        assert shock.shock_force(80.0, -5.0, 2.0, 150.0) == 150.0

    def test_the_stroke_bounds_the_wheel_through_a_ratio_that_is_constant(self) -> None:
        assert full_wheel_travel(constant_ratio(0.5), stroke_mm=60.0) == 120.0


class TestGeometry:
    def test_the_rear_rises_by_less_sag_alone(self) -> None:
        assert geometry.rear_rise(-4.0) == 4.0
        assert geometry.rear_rise(-4.0, 2.0) == 6.0
        assert geometry.rear_rise(-4.0, 2.0, 1.0) == 7.0

    @pytest.mark.parametrize("name", ["front_radius_mm", "rear_radius_mm", "wheelbase_mm"])
    @pytest.mark.parametrize("bad", [0.0, -300.0])
    def test_a_wheel_has_a_size(self, name: str, bad: float) -> None:
        good = {"rake_deg": 24.0, "offset_mm": 30.0, "wheelbase_mm": 1400.0, "front_radius_mm": 300.0}
        with pytest.raises(OutOfRange):
            geometry.Baseline(**{**good, "rear_radius_mm": 320.0, name: bad})


class TestSagAndUncertainty:
    def test_both_parts_of_a_sag_are_uncertain(self) -> None:
        both = sag.sag_uncertainty(Uncertainty(0.3), Uncertainty(0.4))
        assert both.standard == pytest.approx(0.5, rel=1e-12)

    @pytest.mark.parametrize(("freedom", "limit"), [(math.inf, 1.960 / 2), (2.0, 4.303 / 2), (19.0, 2.093 / 2)])
    def test_a_change_tells_from_its_expanded_uncertainty_on(self, freedom: float, limit: float) -> None:
        # t of the NIST/SEMATECH e-Handbook, table of upper critical values (0.975), to three decimals
        for way in (1.0, -1.0):
            assert sag.within_spread(way * (limit - 0.001), Uncertainty(0.5, freedom))
            assert not sag.within_spread(way * (limit + 0.001), Uncertainty(0.5, freedom))

    def test_mountings_of_the_rider_show_in_both_readings_and_count_in_full(self) -> None:
        # by hand: each mounting shifts both readings alike, by 0, 2 and 4 mm: middles 512.5, 514.5, 516.5, s = 2
        down, up = [510.0, 512.0, 514.0], [515.0, 517.0, 519.0]
        aboard = sag.state_uncertainty(down, up, 0.0, mounted=True)
        assert aboard.standard == pytest.approx(2.0 / math.sqrt(3.0))
        assert aboard.freedom == 2.0
        # the machine alone: four degrees of freedom, and half of each in quadrature
        alone = sag.state_uncertainty(down, up, 0.0, mounted=False)
        assert alone.standard == pytest.approx(2.0 / math.sqrt(3.0) / math.sqrt(2.0))
        assert alone.freedom == pytest.approx(4.0)

    def test_mountings_that_cannot_be_told_apart_count_in_full_with_the_fewer_repeats(self) -> None:
        aboard = sag.state_uncertainty([510.0, 512.0, 514.0], [515.0, 517.0], 0.0, mounted=True)
        assert aboard.standard == pytest.approx((2.0 / math.sqrt(3.0) + 1.0) / 2.0)
        assert aboard.freedom == 1.0

    def test_the_tape_does_the_same_to_both_readings_of_a_state(self) -> None:
        # JCGM 100:2008, 5.2.2: fully correlated, so that their mean is no better than one of them: 1 / sqrt(12)
        alike = sag.state_uncertainty([510.0, 510.0], [515.0, 515.0], 1.0, mounted=False)
        assert alike.standard == pytest.approx(1.0 / math.sqrt(12.0))
        assert alike.freedom == math.inf

    def test_a_line_through_three_points_and_what_it_leaves(self) -> None:
        # by hand: (0, 0), (1, 1), (2, 3): slope 3 / 2, intercept 4/3 - 3/2; left over 1/6, -1/3, 1/6
        line = statistics.fit_line([0.0, 1.0, 2.0], [0.0, 1.0, 3.0])
        left_over = math.sqrt(1.0 / 6.0)
        assert line.points == 3
        assert line.slope == pytest.approx(1.5)
        assert line.intercept == pytest.approx(-1.0 / 6.0)
        assert line.residual_deviation == pytest.approx(left_over)
        assert line.slope_uncertainty == pytest.approx(left_over / math.sqrt(2.0))
        assert line.intercept_uncertainty == pytest.approx(left_over * math.sqrt(1.0 / 3.0 + 1.0 / 2.0))

    def test_one_reading_is_its_own_mean(self) -> None:
        assert statistics.mean([3.0]) == 3.0

    @pytest.mark.parametrize("confidence", [0.0, 1.0, -0.1, 1.1])
    def test_nothing_is_certain_and_nothing_worthless(self, confidence: float) -> None:
        with pytest.raises(OutOfRange, match="confidence"):
            statistics.student_t(confidence, 5)

    def test_both_limits_of_a_range_are_in_it(self) -> None:
        assert [limits.within("share", value, 0.0, 1.0) for value in (0.0, 1.0)] == [0.0, 1.0]

    def test_a_wheel_that_carries_only_itself_carries_no_sprung_load(self) -> None:
        assert load.sprung_load(15.0, 15.0) == 0.0


class TestSprings:
    def test_a_coil_is_wider_than_twice_its_wire_and_no_more_is_asked(self) -> None:
        assert spring.mean_coil_diameter(11.0, 5.0) == 6.0
        with pytest.raises(OutOfRange, match="outer coil diameter"):
            spring.mean_coil_diameter(10.0, 5.0)

    @pytest.mark.parametrize("ends", [spring.Ends.OPEN, spring.Ends.OPEN_GROUND])
    def test_open_ends_of_which_the_standard_says_nothing_give_the_nominal_length(self, ends: spring.Ends) -> None:
        assert spring.longest_solid_length(20.0, 4.0, ends) == spring.solid_length(20.0, 4.0, ends)

    def test_a_wire_at_the_limit_of_a_step_belongs_to_the_thinner_ones(self) -> None:
        music = next(wire for wire in WIRES if wire.key == "music")
        assert [shear_modulus(music, d) for d in (0.813, 0.814, 3.175, 3.176)] == [82_700, 81_700, 81_000, 80_000]


class TestFork:
    def test_a_loose_spring_and_a_top_out_spring_out_of_reach_push_with_nothing(self) -> None:
        leg = fork.ForkLeg(rate_n_per_mm=9.0, preload_mm=-5.0, top_out_mm=3.0, top_out_rate_n_per_mm=20.0)
        assert fork.spring_forces(leg, 4.0) == 0.0
        assert fork.spring_forces(leg, 6.0) == 9.0
        assert fork.spring_forces(leg, 1.0) == -40.0

    def test_the_softest_spring_is_a_spring_and_a_leg_without_stays_without(self) -> None:
        legs = (fork.ForkLeg(rate_n_per_mm=0.5, preload_mm=1.0), fork.ForkLeg(rate_n_per_mm=0.0, preload_mm=0.0))
        changed = fork.with_rate(fork.Fork(legs, 120.0), 7.0)
        assert [leg.rate_n_per_mm for leg in changed.legs] == [7.0, 0.0]

    def test_a_wheel_said_to_hang_without_weight_leaves_the_fork_at_its_stop(self) -> None:
        # by hand: 2 * 9 N/mm, preload P, 600 N: sag 600 / 18 - P = 25 mm, so P = 8.333 mm in place of 12
        one = fork.Fork((fork.ForkLeg(rate_n_per_mm=9.0, preload_mm=12.0),) * 2, 120.0)
        added = fork_change.preload_for_sag(one, 25.0, 600.0)
        assert added == pytest.approx(600.0 / 18.0 - 25.0 - 12.0, abs=1e-6)

    def test_a_spring_of_any_rate_is_one_that_preload_can_be_found_for(self) -> None:
        # by hand: 2 * 0.8 N/mm, 100 N: 62.5 mm less 10 of preload is 52.5; wanted 50, so 2.5 mm more
        one = fork.Fork((fork.ForkLeg(rate_n_per_mm=0.8, preload_mm=10.0),) * 2, 120.0)
        assert fork_change.preload_for_sag(one, 50.0, 100.0) == pytest.approx(2.5, abs=1e-6)
        # and for the rate: 100 N over 2 springs squeezed by 60 mm
        assert fork_change.rate_for_sag(one, 50.0, 100.0) == pytest.approx(100.0 / 120.0, abs=1e-6)
