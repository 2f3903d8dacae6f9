"""Axle loads, the height of the centre of mass by lifting, and a fork on the brakes."""

from __future__ import annotations

import math

import pytest

from stanchion.mechanics.equilibrium import fork_position
from stanchion.mechanics.fork import Fork, ForkLeg
from stanchion.mechanics.limits import G_N
from stanchion.mechanics.mass_centre import Weighed, ahead_of_rear, height_by_lifting, lift_angle
from stanchion.mechanics.steady import axle_loads, force_along_leg

BENCHMARK = Weighed(front_kg=33.5419, rear_kg=66.4581, wheelbase_mm=1020.0, front_radius_mm=350.0, rear_radius_mm=300.0)
"""J. P. Meijaard, J. M. Papadopoulos, A. Ruina & A. L. Schwab, Proc. R. Soc. A 463 (2007), Table 1 (read): wheelbase
1.02 m, rear radius 0.3 m, front radius 0.35 m. Centre of mass of all parts 0.3421276596 m ahead and 0.8611702128 m up,
front share 0.3354193: worked out from the published masses."""
AHEAD_MM, HEIGHT_MM = 342.1276596, 861.1702128


def lifted_kg(theta_deg: float) -> tuple[float, float]:
    """Height of the block and front reading of the benchmark bicycle of 100 kg, its points turned one by one."""
    theta = math.radians(theta_deg)

    def turned(x: float, z: float) -> tuple[float, float]:
        return x * math.cos(theta) - z * math.sin(theta), x * math.sin(theta) + z * math.cos(theta)

    axle, centre = turned(1020.0, 50.0), turned(AHEAD_MM, HEIGHT_MM - 300.0)
    return axle[1] - 50.0, 100.0 * centre[0] / axle[0]


def test_centre_of_mass_along_the_benchmark_bicycle() -> None:
    assert ahead_of_rear(309.3035294, 612.8364706, 1020.0) == pytest.approx(AHEAD_MM, abs=1e-4)


def test_front_lifted_by_ten_degrees_reads_the_share_worked_out_apart() -> None:
    """0.240489: our own computation from the published points, not published."""
    raised_mm, front_kg = lifted_kg(10.0)
    assert front_kg == pytest.approx(24.0489, abs=5e-5)
    assert lift_angle(raised_mm, 1020.0, 350.0, 300.0) == pytest.approx(10.0, abs=1e-9)


@pytest.mark.parametrize("angles", [(10.0,), (3.0, 6.0, 9.0, 12.0)], ids=["one block", "four blocks"])
def test_lifting_gives_the_height_of_the_benchmark_bicycle(angles: tuple[float, ...]) -> None:
    found = height_by_lifting(BENCHMARK, [lifted_kg(angle) for angle in angles], 0.5, 0.3)
    assert found.height_mm == pytest.approx(HEIGHT_MM, abs=0.01)  # the level share is rounded to seven digits
    assert found.steepest_deg == pytest.approx(max(angles), abs=1e-9)


def test_at_a_small_angle_the_same_scale_is_five_times_as_unsure() -> None:
    small, large = (height_by_lifting(BENCHMARK, [lifted_kg(angle)], 0.5, 0.0).uncertainty for angle in (2.0, 10.0))
    ratio = math.tan(math.radians(10.0)) / math.tan(math.radians(2.0))
    assert small.standard / large.standard == pytest.approx(ratio, rel=1e-9)
    assert ratio > 5.0


@pytest.mark.parametrize(
    ("braking_g", "front_n", "along_n", "travel_mm"),
    [
        (0.0, 1232.631482, 1013.484385, 32.067472),
        (0.6, 1887.687069, 2160.882590, 84.221936),
        (0.9, 2215.214863, 2734.581693, 110.299168),
    ],
)
def test_a_fork_without_air_on_the_brakes(braking_g: float, front_n: float, along_n: float, travel_mm: float) -> None:
    """Our own exact computation, not published: 246 kg, 700 mm ahead, 620 mm up, wheelbase 1370 mm, rake 23.5 degrees,
    13 kg unsprung, two springs of 11 N/mm with 14 mm of preload; attitude held."""
    front, rear = axle_loads(246.0, 700.0, 620.0, 1370.0, braking_g)
    along = force_along_leg(front, 13.0, 246.0 * braking_g * G_N, braking_g, 23.5)
    fork = Fork((ForkLeg(rate_n_per_mm=11.0, preload_mm=14.0),) * 2, 120.0)
    assert front == pytest.approx(front_n, abs=5e-7)
    assert rear == pytest.approx(246.0 * G_N - front_n, abs=5e-7)
    assert along == pytest.approx(along_n, abs=5e-7)
    assert fork_position(fork, along).travel_mm == pytest.approx(travel_mm, abs=5e-7)


def test_the_rear_lifts_where_the_moments_about_the_front_contact_balance() -> None:
    assert axle_loads(246.0, 700.0, 620.0, 1370.0, 670.0 / 620.0)[1] == pytest.approx(0.0, abs=1e-9)


def test_loads_at_rest_of_a_motorcycle_of_1994() -> None:
    """R. S. Sharp (1994) parameter set (transcription), loads by its axle-load formula: 1219.854558 and 1584.726342 N with
    g = 9.81 (our own computation)."""
    mass = 285.89
    front, rear = axle_loads(mass, 1219.854558 / (mass * 9.81) * 1435.0, 600.0, 1435.0, 0.0)
    assert front * 9.81 / G_N == pytest.approx(1219.854558, abs=1e-6)
    assert rear * 9.81 / G_N == pytest.approx(1584.726342, abs=1e-6)
