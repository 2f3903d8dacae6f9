"""A machine on the gas: balances of forces and moments, small changes, and that the travels settle or it says so."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stanchion.base.errors import OutOfRange
from stanchion.mechanics import steady
from stanchion.mechanics.anti_squat import squat
from stanchion.mechanics.chain import centres_for, chain_links, pitch_of, pitch_radius, upper_run
from stanchion.mechanics.limits import G_N
from stanchion.mechanics.on_the_gas import (
    Driven,
    axle_moved_back,
    front_lifts_at,
    on_gas,
    over_travel,
    pivot_raised,
    rear_raised,
    sprocket_raised,
    squat_at,
)
from stanchion.mechanics.rear import rear_wheel_force
from stanchion.mechanics.steady import stance
from stanchion.mechanics.swingarm import Arm, arm_down, moved
from steady_machines import MACHINE, machines

ARM = Arm(length_mm=560.0, down_deg=12.0, sprocket_ahead_mm=55.0, sprocket_above_mm=12.0)
DRIVEN = Driven(
    machine=MACHINE,
    arm=ARM,
    front_pitch_radius_mm=pitch_radius(15.875, 15.0),
    rear_pitch_radius_mm=pitch_radius(15.875, 44.0),
)
"""Invented, much like the sport machine of the samples."""

driven_machines = st.builds(
    lambda machine, length, down, ahead, above, front, rear: Driven(
        machine=machine,
        arm=Arm(length_mm=length, down_deg=down, sprocket_ahead_mm=ahead, sprocket_above_mm=above),
        front_pitch_radius_mm=pitch_radius(15.875, float(front)),
        rear_pitch_radius_mm=pitch_radius(15.875, float(rear)),
    ),
    machines,
    st.floats(480.0, 640.0),
    st.floats(2.0, 16.0),
    st.floats(30.0, 110.0),
    st.floats(-30.0, 40.0),
    st.integers(12, 18),
    st.integers(36, 53),
)


@settings(max_examples=40, deadline=None)
@given(driven_machines, st.floats(0.0, 0.9))
def test_travels_settle_and_forces_and_moments_balance(driven: Driven, acceleration_g: float) -> None:
    found = on_gas(driven, acceleration_g)
    assert found is not None
    machine, at = driven.machine, found.stance
    weight = machine.mass_kg * G_N
    assert found.front_load_n + found.rear_load_n == pytest.approx(weight, rel=1e-12)
    nose_up = found.front_load_n * (at.attitude.wheelbase_mm - at.ahead_mm) - found.rear_load_n * at.ahead_mm
    assert nose_up == pytest.approx(-weight * acceleration_g * at.height_mm, rel=1e-9, abs=1e-5)
    assert 0.0 <= found.fork_mm <= machine.fork.travel_mm
    assert 0.0 <= found.rear_mm <= machine.rear.travel_mm


@settings(max_examples=60, deadline=None)
@given(driven_machines)
def test_the_pull_of_the_chain_and_the_swingarm_balance_the_thrust(driven: Driven) -> None:
    """Moments of wheel and swingarm about the pivot, with the pull of the chain by itself: another way than the lines
    that meet. A wheel without mass that is pushed by F at the ground needs a pull T = F R / r; what of the load on it
    the spring does not see, vertical at the axle, is the part tan(sigma) of F."""
    arm, radius, thrust = driven.arm, driven.machine.stands.rear_radius_mm, 1000.0
    before = stance(driven.machine, driven.machine.fork_mm, driven.machine.rear_mm)
    _, lines = squat_at(driven, before, driven.machine.rear_mm)
    axle_x, axle_z = arm.axle
    run = upper_run(
        (axle_x, axle_z),
        driven.rear_pitch_radius_mm,
        (arm.sprocket_ahead_mm, arm.sprocket_above_mm),
        driven.front_pitch_radius_mm,
    )
    pull = thrust * radius / driven.rear_pitch_radius_mm
    up = math.radians(run.up_deg)
    by_chain = run.x_mm * pull * math.sin(up) - run.z_mm * pull * math.cos(up)
    by_thrust = -(axle_z - radius) * thrust
    lifted_n = (by_chain + by_thrust) / axle_x
    assert -lifted_n == pytest.approx(thrust * lines.squat_slope, rel=1e-9, abs=1e-6)


def test_the_load_on_the_spring_changes_by_what_anti_squat_leaves() -> None:
    """Load change of the rear spring: the transfer times one less anti-squat, at the stance it then has; by moments
    about the pivot, for the swingarm has turned and the frame tilted since."""
    found, before = on_gas(DRIVEN, 0.5), stance(MACHINE, MACHINE.fork_mm, MACHINE.rear_mm)
    assert found is not None
    weight, at = MACHINE.mass_kg * G_N, found.stance
    transfer = weight * 0.5 * at.height_mm / at.attitude.wheelbase_mm
    still = weight * (at.ahead_mm / at.attitude.wheelbase_mm - before.ahead_mm / before.attitude.wheelbase_mm)
    arm, lines = squat_at(DRIVEN, at, found.rear_mm)
    share, was = lines.anti_squat, weight * (1.0 - before.ahead_mm / before.attitude.wheelbase_mm)
    was -= MACHINE.rear_unsprung_kg * G_N
    level, in_frame = (math.radians(deg) for deg in (arm.down_deg, arm.down_deg + at.attitude.pitch_deg))
    change = rear_wheel_force(MACHINE.rear, found.rear_mm) - rear_wheel_force(MACHINE.rear, MACHINE.rear_mm)
    now = (was + transfer * (1.0 - share) - still) * math.cos(level) / math.cos(in_frame)
    assert change == pytest.approx(now - was, abs=1e-3)


def test_at_a_hundred_per_cent_the_rear_stays_and_either_side_of_it_squats_or_rises() -> None:
    """The fork held in place, so that nothing but the load transfer acts on the rear: its stop carries the front."""
    flat = {}
    for down in (4.0, 14.0):
        driven = replace(DRIVEN, arm=replace(ARM, down_deg=down))
        found = on_gas(driven, 0.3)
        assert found is not None
        flat[over_travel(driven, MACHINE.rear_mm)[1].anti_squat] = found.rear_mm - MACHINE.rear_mm
    (low, squats), (high, rises) = sorted(flat.items())
    assert low < 1.0 < high
    assert squats > 0.0 > rises


@given(driven_machines)
@settings(max_examples=30, deadline=None)
def test_without_thrust_it_stands_as_before(driven: Driven) -> None:
    found = on_gas(driven, 0.0)
    assert found is not None
    assert found.fork_mm == pytest.approx(driven.machine.fork_mm, abs=1e-5)
    assert found.rear_mm == pytest.approx(driven.machine.rear_mm, abs=1e-5)


def test_the_front_lifts_where_its_load_ends() -> None:
    lifts = front_lifts_at(DRIVEN)
    assert lifts is not None
    found = on_gas(DRIVEN, lifts)
    assert found is not None
    assert found.front_load_n == pytest.approx(0.0, abs=1e-5)
    assert lifts == pytest.approx(found.stance.ahead_mm / found.stance.height_mm, rel=1e-6)


def test_a_long_low_machine_keeps_its_front_wheel_down() -> None:
    low = replace(MACHINE, ahead_mm=1150.0, height_mm=330.0)
    assert front_lifts_at(replace(DRIVEN, machine=low)) is None


@pytest.mark.parametrize(
    ("change", "grows"),
    [(rear_raised, True), (axle_moved_back, False), (sprocket_raised, False), (pivot_raised, True)],
    ids=["rear up", "axle back", "sprocket up", "pivot up"],
)
def test_small_changes_are_even_and_go_the_way_of_the_trade(
    change: Callable[[Driven, float], Driven], grows: bool
) -> None:
    """Which way anti-squat goes: common practice, no published source. Twice the change comes to twice the effect, and
    the way back to none, but for the ground that has tilted a little meanwhile."""

    def anti_squat(driven: Driven) -> float:
        return over_travel(driven, driven.machine.rear_mm)[1].anti_squat

    now = anti_squat(DRIVEN)
    one, two = (anti_squat(change(DRIVEN, by)) - now for by in (0.1, 0.2))
    assert two == pytest.approx(2.0 * one, rel=0.01)
    assert (one > 0.0) is grows
    assert anti_squat(change(change(DRIVEN, 5.0), -5.0)) == pytest.approx(now, abs=1e-4)


def test_a_rear_raised_stands_as_the_same_wheel_further_out_of_its_travel() -> None:
    raised = rear_raised(DRIVEN, 5.0)
    now = stance(replace(MACHINE, arm=ARM.line), MACHINE.fork_mm, MACHINE.rear_mm - 5.0)
    assert raised.machine.stands.rake_deg == pytest.approx(now.attitude.rake_deg, abs=1e-12)
    out = squat_at(DRIVEN, now, MACHINE.rear_mm - 5.0)[1]
    assert over_travel(raised, MACHINE.rear_mm)[1].anti_squat == pytest.approx(out.anti_squat, abs=1e-12)


def test_a_swingarm_turned_there_and_back_is_the_same() -> None:
    there = moved(ARM, axle_lower_mm=20.0, pitch_deg=1.5)
    back = moved(moved(there, pitch_deg=-1.5), axle_lower_mm=-20.0)
    for name in ("down_deg", "sprocket_ahead_mm", "sprocket_above_mm"):
        assert getattr(back, name) == pytest.approx(getattr(ARM, name), abs=1e-9)


def test_a_parallel_chain_and_swingarm_are_no_trouble() -> None:
    """The lines meet nowhere: the squat line is parallel to both."""
    arm = Arm(length_mm=560.0, down_deg=10.0, sprocket_ahead_mm=0.0, sprocket_above_mm=0.0)
    found = squat(
        arm,
        rear_radius_mm=300.0,
        front_pitch_radius_mm=60.0,
        rear_pitch_radius_mm=60.0,
        height_mm=600.0,
        wheelbase_mm=1400.0,
    )
    assert found.chain_deg == pytest.approx(10.0, abs=1e-9)
    # a pull along the arm does not lift; the thrust alone does, by its arm about the pivot, and the chain by r
    by_pull = (300.0 / 60.0) * 60.0 / (560.0 * math.cos(math.radians(10.0)))
    by_thrust = (300.0 + 560.0 * math.sin(math.radians(10.0))) / (560.0 * math.cos(math.radians(10.0)))
    assert found.squat_slope == pytest.approx(by_thrust - by_pull, rel=1e-9)


@given(st.integers(11, 20), st.integers(30, 60), st.floats(500.0, 800.0))
def test_links_and_centre_distance_are_each_others_inverse(front: int, rear: int, centres_mm: float) -> None:
    links = chain_links(15.875, float(front), float(rear), centres_mm)
    assert centres_for(15.875, float(front), float(rear), links) == pytest.approx(centres_mm, rel=1e-12)


def test_the_formula_of_the_chain_is_near_the_length_along_both_circles() -> None:
    """Exact length of tangents and arcs on the pitch circles."""
    front, rear, apart = pitch_radius(15.875, 15.0), pitch_radius(15.875, 44.0), 620.0
    lean = math.asin((rear - front) / apart)
    length = 2.0 * apart * math.cos(lean) + (math.pi + 2.0 * lean) * rear + (math.pi - 2.0 * lean) * front
    assert chain_links(15.875, 15.0, 44.0, apart) == pytest.approx(length / 15.875, abs=0.1)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: pitch_of("unknown"),
        lambda: pitch_radius(15.875, 2.0),
        lambda: upper_run((0.0, 0.0), 110.0, (60.0, 0.0), 30.0),
        lambda: centres_for(15.875, 15.0, 44.0, 29.0),
        lambda: arm_down(560.0, 560.0),
        lambda: replace(ARM, down_deg=90.0),
        lambda: on_gas(DRIVEN, -0.1),
    ],
)
def test_what_cannot_be_is_refused(wrong: Callable[[], object]) -> None:
    with pytest.raises(OutOfRange):
        wrong()


def test_travels_that_do_not_settle_give_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """No machine is known whose travels do not settle, so the search is stopped after one round."""
    monkeypatch.setattr(steady, "_ROUNDS", 1)
    assert on_gas(DRIVEN, 0.5) is None
    assert front_lifts_at(DRIVEN) is None
