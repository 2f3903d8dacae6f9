"""Shut-in gas against a published compressor example and against real air."""

from __future__ import annotations

import pytest

from stanchion.mechanics.gas import ATMOSPHERE_MPA, air_spring_force, air_spring_rate, circle_area, polytropic_pressure


def test_polytropic_compression_ends_at_513_21_kelvin() -> None:
    """LearnThermo, Example 8B-1 (learnthermo.com, ch. 8, read): air, 1 bar and 310 K to 8 bar, exponent 1.32.

    The ideal gas law turns pressure and volume into the printed temperature.
    """
    ratio = 8.0 ** (1 / 1.32)
    assert polytropic_pressure(1.0, ratio, 1.32) == pytest.approx(8.0)
    assert 310.0 * polytropic_pressure(1.0, ratio, 1.32) / ratio == pytest.approx(513.21, abs=0.005)


def test_polytropic_compression_of_the_textbook_piston() -> None:
    """Moran & Shapiro, Fundamentals of Engineering Thermodynamics (title from memory), Ex. 3.11: inputs from a
    transcription (1 bar, 295 K to 5 bar, exponent 1.3), answer 428 K from memory, to be confirmed."""
    ratio = 5.0 ** (1 / 1.3)
    assert 1 / ratio == pytest.approx(0.289955, abs=5e-7)  # own computation
    assert 295.0 * polytropic_pressure(1.0, ratio, 1.3) / ratio == pytest.approx(428.0, abs=0.5)


@pytest.mark.parametrize(
    ("ratio", "slow_pa", "fast_pa"),
    [
        (1.5, 151959.2553, 178826.5668),
        (2.0, 202574.9961, 267506.9392),
        (3.0, 303751.8700, 471468.1744),
        (4.0, 404857.4754, 704123.7306),
        (5.0, 505893.6393, 960391.7148),
    ],
)
def test_ideal_gas_is_good_to_half_a_percent_from_an_atmospheric_fill(
    ratio: float, slow_pa: float, fast_pa: float
) -> None:
    """Real air from 101 325 Pa and 293.15 K, computed with CoolProp 8.0.0: isothermal and isentropic."""
    assert polytropic_pressure(101_325.0, ratio, 1.0) == pytest.approx(slow_pa, rel=5e-3)
    assert polytropic_pressure(101_325.0, ratio, 1.4) == pytest.approx(fast_pa, rel=5e-3)


@pytest.mark.parametrize(
    ("ratio", "slow_pa", "fast_pa"), [(2.0, 1994187.46, 2676840.84), (3.0, 2984119.72, 4790469.42)]
)
def test_ideal_gas_is_good_to_three_percent_at_the_pressure_of_a_shock(
    ratio: float, slow_pa: float, fast_pa: float
) -> None:
    """Real air from 10 bar absolute, computed with CoolProp 8.0.0."""
    assert polytropic_pressure(1e6, ratio, 1.0) == pytest.approx(slow_pa, rel=3e-2)
    assert polytropic_pressure(1e6, ratio, 1.4) == pytest.approx(fast_pa, rel=3e-2)


@pytest.mark.parametrize(("exponent", "force", "rate"), [(1.0, 147.1443, 4.904810), (1.4, 241.1718, 9.060709)])
def test_air_spring_half_way_up_its_tube(exponent: float, force: float, rate: float) -> None:
    """Own computation: bore 43 mm, column of 120 mm squeezed to 60 mm."""
    area = circle_area(43.0)
    pressure = polytropic_pressure(ATMOSPHERE_MPA, 2.0, exponent)
    assert air_spring_force(pressure, area) == pytest.approx(force, abs=5e-5)
    assert air_spring_rate(pressure, area, 60.0 * area, exponent) == pytest.approx(rate, abs=5e-7)
