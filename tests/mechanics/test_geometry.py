"""How the machine stands after its ends have moved."""

from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.geometry import (
    Baseline,
    attitude,
    front_rise,
    ground_trail,
    normal_trail,
    rear_rise,
)
from stanchion.mechanics.swingarm import ArmLine, axle_back, lowered

MACHINE = Baseline(rake_deg=24.0, offset_mm=30.0, wheelbase_mm=1400.0, front_radius_mm=298.5, rear_radius_mm=315.0)
moves = st.floats(-40, 40)


def test_unmoved_it_stands_as_it_was_measured() -> None:
    stands = attitude(MACHINE)
    assert stands.rake_deg == pytest.approx(24.0)
    assert stands.trail_mm == pytest.approx(ground_trail(298.5, 24.0, 30.0))
    assert stands.pitch_deg == pytest.approx(0.0, abs=1e-12)


@given(moves, moves)
def test_nose_down_makes_the_rake_smaller_by_the_pitch(front: float, rear: float) -> None:
    stands = attitude(MACHINE, front_shorter_mm=front, rear_lower_axle_mm=rear)
    assert stands.rake_deg + stands.pitch_deg == pytest.approx(24.0)
    assert stands.normal_trail_mm == pytest.approx(stands.trail_mm * math.cos(math.radians(stands.rake_deg)))


@given(st.floats(0.1, 40))
def test_a_higher_rear_or_a_lower_front_steepens_and_shortens_trail(move: float) -> None:
    as_measured = attitude(MACHINE)
    for stands in (attitude(MACHINE, rear_lower_axle_mm=move), attitude(MACHINE, front_shorter_mm=move)):
        assert stands.pitch_deg > 0.0
        assert stands.trail_mm < as_measured.trail_mm


@given(moves, moves)
def test_both_axles_are_where_the_frame_says_they_are(front: float, rear: float) -> None:
    """Turned by the pitch, the axles are a tyre-radius difference apart in height and a wheelbase apart in length."""
    stands = attitude(MACHINE, front_shorter_mm=front, rear_lower_axle_mm=rear)
    rake = math.radians(24.0)
    dx = 1400.0 - front * math.sin(rake)
    dz = 298.5 - 315.0 + front * math.cos(rake) + rear
    pitch = math.radians(stands.pitch_deg)
    assert dx * math.cos(pitch) + dz * math.sin(pitch) == pytest.approx(stands.wheelbase_mm)
    assert -dx * math.sin(pitch) + dz * math.cos(pitch) == pytest.approx(298.5 - 315.0)


def rolled_out(down_deg: float, length: float, front: float, rear: float) -> tuple[float, float, float, complex]:
    """Rake, trail, wheelbase and where the pivot is, by circles in the plane of the frame: the rear axle on the circle
    about the pivot, the ground the line that touches both tyres from below. Complex numbers, x + iz; the front axle
    slides along the steering axis."""
    front_axle, rear_axle = 1400.0 + 298.5j, 0.0 + 315.0j
    pivot = rear_axle + length * cmath.exp(1j * math.radians(down_deg))
    up = (rear_axle - pivot).imag - rear
    rear_axle = pivot - math.sqrt(length**2 - up**2) + 1j * up
    axis = cmath.exp(1j * math.radians(90.0 + 24.0))  # up along the legs
    front_axle += front * axis
    # the ground, a unit vector g, with both centres their radius above it: Im(conj(g) (front - rear)) = R_f - R_r
    apart = front_axle - rear_axle
    along = cmath.exp(1j * (cmath.phase(apart) - math.asin((298.5 - 315.0) / abs(apart))))
    contacts = front_axle - 298.5j * along, rear_axle - 315.0j * along
    assert ((contacts[0] - contacts[1]) / along).imag == pytest.approx(0.0, abs=1e-9)
    rake = math.degrees(cmath.phase(axis / (1j * along)))
    # the steering axis lies the offset behind the front axle; where it meets the ground
    behind = (front_axle - 30.0 * axis / 1j - contacts[0]) / along
    lean = axis / along
    meets = behind - lean * (behind.imag / lean.imag)
    return rake, meets.real, abs(contacts[0] - contacts[1]), (pivot - contacts[1]) / along


@given(moves, moves, st.floats(-10.0, 20.0), st.floats(480.0, 650.0))
def test_on_the_arc_of_its_swingarm_it_stands_as_circles_and_lines_put_it(
    front: float, rear: float, down: float, length: float
) -> None:
    line = ArmLine(length_mm=length, down_deg=down)
    stands = attitude(MACHINE, front_shorter_mm=front, rear_lower_axle_mm=rear, rear_axle_back_mm=axle_back(line, rear))
    rake, trail, wheelbase, pivot = rolled_out(down, length, front, rear)
    assert stands.rake_deg == pytest.approx(rake, abs=1e-9)
    assert stands.trail_mm == pytest.approx(trail, abs=1e-7)
    assert stands.wheelbase_mm == pytest.approx(wheelbase, abs=1e-7)
    there = math.radians(lowered(line, rear).down_deg - stands.pitch_deg)  # the swingarm below level ground
    assert (length * math.cos(there), 315.0 + length * math.sin(there)) == pytest.approx((pivot.real, pivot.imag))


def test_a_larger_rear_tyre_puts_the_nose_down() -> None:
    assert attitude(MACHINE, rear_radius_change_mm=5.0).pitch_deg == pytest.approx(
        math.degrees(math.asin(5.0 / 1400.0)), rel=1e-2
    )
    assert attitude(MACHINE, front_radius_change_mm=5.0).pitch_deg < 0.0


def test_rises_of_both_ends() -> None:
    assert front_rise(-5.0, 2.0, 24.0) == pytest.approx(3.0 * math.cos(math.radians(24.0)))
    assert front_rise(0.0, 0.0, 24.0, 4.0) == 4.0
    assert rear_rise(4.0, 2.5, 1.0) == -0.5


@pytest.mark.parametrize(
    "call",
    [
        lambda: Baseline(
            rake_deg=90.0, offset_mm=30.0, wheelbase_mm=1400.0, front_radius_mm=298.5, rear_radius_mm=315.0
        ),
        lambda: Baseline(rake_deg=24.0, offset_mm=30.0, wheelbase_mm=0.0, front_radius_mm=298.5, rear_radius_mm=315.0),
        lambda: attitude(MACHINE, front_shorter_mm=4000.0),
        lambda: attitude(MACHINE, front_radius_change_mm=-300.0),
        lambda: attitude(MACHINE, rear_lower_axle_mm=float("nan")),
        lambda: normal_trail(0.0, 24.0, 30.0),
        lambda: ground_trail(298.5, -1.0, 30.0),
        lambda: front_rise(0.0, float("nan"), 24.0),
    ],
)
def test_machines_that_cannot_stand_are_refused(call) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange):
        call()
