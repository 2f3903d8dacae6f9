"""Published values for the stress in a spring's wire, the strength of that wire, and buckling.

How far each source was read stands in its test's docstring, as in test_springs.py.
"""

from __future__ import annotations

import math

import pytest
from scipy.optimize import brentq

from stanchion.mechanics.spring import spring_index, spring_rate
from stanchion.mechanics.spring_stress import (
    GUIDE_SHARE,
    YOUNG_MPA,
    bergstraesser_factor,
    buckling_compression,
    direct_shear_factor,
    tensile_strength,
    torsion_stress,
)

INCH_MM = 25.4
PSI_MPA = 6.894757293168361e-3
LBF_N = 4.4482216152605


class TestStress:
    def test_shigley_example_10_1(self) -> None:
        """Budynas & Nisbett, Shigley's Mechanical Engineering Design, Example 10-1 (transcription): no. 16 music wire,
        K_B 1.124; 146 kpsi at 6.46 lbf, which presses the spring by 1.56 in."""
        wire, coil = 0.037 * INCH_MM, 0.400 * INCH_MM
        factor = bergstraesser_factor(spring_index(coil, wire))
        assert factor == pytest.approx(1.124, abs=5e-4)
        stress = factor * torsion_stress(11.85e6 * PSI_MPA, wire, coil, 10.5, 1.56 * INCH_MM)
        assert stress / (1e3 * PSI_MPA) == pytest.approx(146.0, rel=4e-3)  # the load and the compression are rounded

    @pytest.mark.parametrize(
        ("wire", "coil", "active", "load", "printed"),
        [(10.0, 80.0, 8.0, 1304.347826, 314.616701), (8.0, 64.0, 12.0, 695.652174, 262.180584)],
    )
    def test_bhandari_10_18(self, wire: float, coil: float, active: float, load: float, printed: float) -> None:
        """Bhandari, Example 10.18 (output of a public companion to the book), printed with Wahl's factor, which is 1.184
        at index 8; the part without it is what is computed here."""
        wahl = (4 * 8 - 1) / (4 * 8 - 4) + 0.615 / 8
        squeezed = load / spring_rate(81_370.0, wire, coil, active)
        assert torsion_stress(81_370.0, wire, coil, active, squeezed) * wahl == pytest.approx(printed, rel=1e-8)

    @pytest.mark.parametrize(("index", "factor"), [(4.0, 1.3846), (10.0, 1.1351), (12.0, 1.1111)])
    def test_bergstraesser_is_the_k_of_the_standard(self, index: float, factor: float) -> None:
        """Own computation; EN 13906-1 writes it (w + 0.5) / (w - 0.75)."""
        assert bergstraesser_factor(index) == pytest.approx(factor, abs=5e-5)
        assert bergstraesser_factor(index) == pytest.approx((index + 0.5) / (index - 0.75))
        assert 1.0 < direct_shear_factor(index) < bergstraesser_factor(index)

    def test_strength_of_music_wire(self) -> None:
        """Shigley, Example 10-2 (transcription): S_ut = 201 000 / d^0.145 psi, d in inches."""
        for inches in (0.063, 0.080, 0.095):
            assert tensile_strength("music", inches * INCH_MM) == pytest.approx(
                201_000 / inches**0.145 * PSI_MPA, rel=2.5e-3
            )

    def test_thicker_than_the_table_the_last_strength_stays(self) -> None:
        assert tensile_strength("chrome_silicon", 12.0) == tensile_strength("chrome_silicon", 9.5)
        assert tensile_strength("unknown", 5.0) == tensile_strength("chrome_silicon", 5.0)
        assert GUIDE_SHARE == (0.65, 0.75)


class TestBuckling:
    def test_a_steel_spring_between_parallel_seats_is_stable_up_to_5_26_diameters(self) -> None:
        """Shigley, section 10-5 and Table of Example 10-2 (transcription): (L0)cr = 5.26 D, of 2.63 rounded."""
        shigley = YOUNG_MPA * 11.5 / 30.0  # the book's 30 and 11.5 Mpsi give 2.63 D / alpha
        for coil in (12.2, 31.0):
            assert buckling_compression(5.24 * coil, coil, shigley) == math.inf
            assert buckling_compression(5.28 * coil, coil, shigley) < 5.28 * coil

    @pytest.mark.parametrize(("free", "coil"), [(250.0, 32.0), (230.0, 40.0), (400.0, 30.0)])
    def test_the_compression_solves_the_slenderness_condition(self, free: float, coil: float) -> None:
        """By a root of the same condition, written as the slenderness that a compression bears (Shigley, eq. 10-10)."""
        shear = 79_500.0
        c1, c2 = YOUNG_MPA / (2 * (YOUNG_MPA - shear)), 2 * math.pi**2 * (YOUNG_MPA - shear) / (2 * shear + YOUNG_MPA)
        slender = 0.5 * free / coil

        def short(squeezed: float) -> float:
            return (1 - squeezed / (free * c1)) ** 2 - (1 - c2 / slender**2)

        found = brentq(short, 0.0, free * c1)
        assert buckling_compression(free, coil, shear) == pytest.approx(found)
