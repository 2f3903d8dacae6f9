"""How hard the wire of a spring works, what such wire bears, and when an unguided spring buckles."""

from __future__ import annotations

import math

from stanchion.mechanics.limits import finite, not_negative, positive
from stanchion.mechanics.spring import spring_index

YOUNG_MPA = 206_000.0
"""Modulus of elasticity of spring steel [MPa] (EN 10270-1 and -2, from memory)."""
GUIDE_SHARE = (0.65, 0.75)
"""Stress that a spring set in making may bear, as shares of the tensile strength of its wire, with the factor of direct
shear: hardened and tempered steel (Shigley's Mechanical Engineering Design, Table 10-6, from memory)."""
PARALLEL_SEATS = 0.5
"""End factor of a spring between two flat, parallel seats (EN 13906-1; Shigley, Table 10-2)."""


def bergstraesser_factor(index: float) -> float:
    """How much higher the stress is at the inside of the coil than torsion alone makes it, by Bergsträsser.

    .. math:: K_B = (4 C + 2) / (4 C - 3)

    Args:
        index: spring index C, above 1.

    Returns:
        Factor, dimensionless.

    Raises:
        OutOfRange: index not above 1.

    Source:
        Shigley's Mechanical Engineering Design, eq. (10-5); the k of EN 13906-1, (w + 0.5) / (w - 0.75), is the same.

    >>> round(bergstraesser_factor(10.8), 3)
    1.124
    """
    positive("spring index less 1", index - 1.0)
    return (4.0 * index + 2.0) / (4.0 * index - 3.0)


def direct_shear_factor(index: float) -> float:
    """The factor of a spring set in making, whose curvature no longer counts.

    .. math:: K_s = (2 C + 1) / (2 C)

    Args:
        index: spring index C, above 0.

    Returns:
        Factor, dimensionless.

    Raises:
        OutOfRange: index not above 0.

    Source:
        Shigley's Mechanical Engineering Design, eq. (10-3).

    >>> direct_shear_factor(5.0)
    1.1
    """
    return (2.0 * positive("spring index", index) + 1.0) / (2.0 * index)


def torsion_stress(
    shear_modulus_mpa: float, wire_mm: float, mean_coil_mm: float, active: float, squeezed_mm: float
) -> float:
    """Shear stress in the wire by torsion alone, at a compression; a factor for the coil's curvature comes to it.

    .. math:: \\tau = G d s / (\\pi n D^2) = 8 F D / (\\pi d^3)

    Args:
        shear_modulus_mpa: shear modulus G of the wire [MPa], > 0.
        wire_mm: wire diameter d [mm], > 0.
        mean_coil_mm: mean coil diameter D [mm], more than d.
        active: active coils n, > 0.
        squeezed_mm: compression s from the free length [mm], >= 0.

    Returns:
        Stress [MPa].

    Raises:
        OutOfRange: an argument outside its range.

    Source:
        EN 13906-1:2013 and Shigley, eq. (10-2), with the force of spring_rate.

    >>> round(torsion_stress(81_370.0, 10.0, 80.0, 8.0, 52.526569), 2)
    265.72
    """
    spring_index(mean_coil_mm, wire_mm)
    strain = wire_mm * not_negative("compression of the spring", squeezed_mm)
    return (
        positive("shear modulus", shear_modulus_mpa)
        * strain
        / (math.pi * positive("active coils", active) * mean_coil_mm**2)
    )


_STRENGTHS = {
    "music": (2211.0, 0.145, 6.5),
    "oil_tempered": (1855.0, 0.187, 12.7),
    "hard_drawn": (1783.0, 0.190, 12.7),
    "chrome_vanadium": (2005.0, 0.168, 11.1),
    "chrome_silicon": (1974.0, 0.108, 9.5),
    "stainless": (1867.0, 0.146, 2.5),
}
"""Constants A [MPa mm^m] and m, and the thickest wire they were given for [mm]."""
_AS = {"en_10270_1": "music"}
"""The strongest wire of Shigley's that another one is taken for."""
STRONGEST = "chrome_silicon"
"""What wire of an unknown kind is taken for at most, and the wires of EN 10270-2."""


def tensile_strength(kind: str, wire_mm: float) -> float:
    """About the tensile strength of a kind of wire.

    .. math:: R_m = A / d^m

    Thicker than the table goes, its last strength is taken, which is a little too much.

    Args:
        kind: key of the wire; one without constants of its own counts as the strongest it can be.
        wire_mm: wire diameter d [mm], > 0.

    Returns:
        Strength [MPa].

    Raises:
        OutOfRange: diameter not above 0.

    Source:
        Shigley's Mechanical Engineering Design, Table 10-4 (from memory; music wire, 201 kpsi at 1 inch, confirmed by a
        transcription of its Ex. 10-2).

    >>> round(tensile_strength("chrome_silicon", 4.6))
    1674
    """
    constant, power, thickest = _STRENGTHS[_AS.get(kind, kind if kind in _STRENGTHS else STRONGEST)]
    return constant / float(min(positive("wire diameter", wire_mm), thickest) ** power)


def buckling_compression(free_mm: float, mean_coil_mm: float, shear_modulus_mpa: float) -> float:
    """Compression at which a spring between parallel seats, guided by nothing else, buckles.

    .. math:: s_k = L_0 \\frac{0.5}{1 - G/E}
        \\left(1 - \\sqrt{1 - \\frac{1 - G/E}{0.5 + G/E} \\left(\\frac{\\pi D}{\\nu L_0}\\right)^2}\\right)

    Args:
        free_mm: free length L_0 [mm], > 0.
        mean_coil_mm: mean coil diameter D [mm], > 0.
        shear_modulus_mpa: shear modulus G [MPa], > 0 and below that of elasticity.

    Returns:
        Compression [mm]; infinite where it is too short ever to buckle.

    Raises:
        OutOfRange: an argument outside its range.

    Source:
        EN 13906-1:2013, 9.14 (number of the clause from memory), with the end factor 0.5; Shigley's Mechanical
        Engineering Design, eq. (10-10), is the same.

    >>> buckling_compression(160.0, 62.0, 79_500.0), round(buckling_compression(250.0, 32.0, 79_500.0), 1)
    (inf, 52.4)
    """
    ratio = positive("shear modulus", shear_modulus_mpa) / YOUNG_MPA
    positive("modulus of elasticity less shear modulus", 1.0 - ratio)
    slender = (
        math.pi * positive("mean coil diameter", mean_coil_mm) / (PARALLEL_SEATS * positive("free length", free_mm))
    )
    inside = 1.0 - (1.0 - ratio) / (0.5 + ratio) * slender**2
    if inside < 0.0:
        return math.inf
    return finite("free length", free_mm) * 0.5 / (1.0 - ratio) * (1.0 - math.sqrt(inside))
