"""Anti-squat and the length of a chain."""

from __future__ import annotations

import pytest

from stanchion.mechanics.anti_squat import squat
from stanchion.mechanics.chain import centres_for, chain_links, pitch_of, pitch_radius
from stanchion.mechanics.swingarm import Arm


def test_anti_squat_of_a_machine_worked_out_apart() -> None:
    """Our own computation with exact geometry, after V. Cossalter, Motorcycle Dynamics, 2nd ed., ch. 6 (from memory)."""
    found = squat(
        Arm(length_mm=560.0, down_deg=12.0, sprocket_ahead_mm=55.0, sprocket_above_mm=12.0),
        rear_radius_mm=318.0,
        front_pitch_radius_mm=pitch_radius(15.875, 15.0),
        rear_pitch_radius_mm=pitch_radius(15.875, 44.0),
        height_mm=620.0,
        wheelbase_mm=1370.0,
    )
    assert found.chain_deg == pytest.approx(5.217328, abs=5e-7)
    assert found.squat_deg == pytest.approx(29.146006, abs=5e-7)
    assert found.transfer_deg == pytest.approx(24.349355, abs=5e-7)
    assert 100.0 * found.anti_squat == pytest.approx(123.221566, abs=5e-7)


def test_links_of_a_chain() -> None:
    """The formula is from J. E. Shigley, Mechanical Engineering Design, flexible elements (from memory); the number is
    our own computation with it."""
    assert chain_links(15.875, 15.0, 44.0, 600.0) == pytest.approx(105.654187, abs=5e-7)
    assert centres_for(15.875, 15.0, 44.0, 105.654187) == pytest.approx(600.0, abs=1e-5)


def test_pitch_of_chains() -> None:
    """From memory: ISO 10190 has 12.7 mm for 420 and 428, 15.875 mm for 520, 525 and 530."""
    assert {pitch_of(size) for size in ("415", "420", "428")} == {12.7}
    assert {pitch_of(size) for size in ("520", "525", "530")} == {15.875}
