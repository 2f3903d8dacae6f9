"""A helical compression spring from wire and coils: rate, solid length, coil bind; shear modulus by kind of wire."""

from __future__ import annotations

import math
from enum import StrEnum

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.limits import finite, not_negative, positive

DYNAMIC_GAP_FACTOR = 1.5
"""EN 13906-1 asks for so many times the static sum of minimum gaps under dynamic load (cold coiled springs)."""


class Ends(StrEnum):
    """How the ends of a spring are finished."""

    OPEN = "open"
    """Cut off and left as coiled (also called plain)."""
    OPEN_GROUND = "open_ground"
    """Open, ground flat."""
    CLOSED = "closed"
    """Last coils laid against their neighbours (also called squared)."""
    CLOSED_GROUND = "closed_ground"
    """Closed and ground flat, as fork and shock springs mostly are."""


_END_COILS = {Ends.OPEN: 0.0, Ends.OPEN_GROUND: 1.0, Ends.CLOSED: 2.0, Ends.CLOSED_GROUND: 2.0}
_SOLID_EXTRA_NOMINAL = {Ends.OPEN: 1.0, Ends.OPEN_GROUND: 0.0, Ends.CLOSED: 1.0, Ends.CLOSED_GROUND: 0.0}
_SOLID_EXTRA_LIMIT = {Ends.CLOSED: 1.5, Ends.CLOSED_GROUND: 0.0}


def mean_coil_diameter(outer_mm: float, wire_mm: float) -> float:
    """Mean coil diameter from what a caliper reads across the coils.

    .. math:: D = D_e - d

    Args:
        outer_mm: outer diameter of the coils [mm], more than twice the wire.
        wire_mm: wire diameter d [mm], > 0.

    Returns:
        D [mm].

    Raises:
        OutOfRange: wire not above 0, or coils too small for it.

    Source:
        Definition.

    >>> mean_coil_diameter(42.5, 4.5)
    38.0
    """
    if not outer_mm > 2.0 * positive("wire diameter", wire_mm):
        raise OutOfRange("outer coil diameter", outer_mm, f"more than twice the wire, {2.0 * wire_mm:g}")
    return finite("outer coil diameter", outer_mm) - wire_mm


def spring_index(mean_coil_mm: float, wire_mm: float) -> float:
    """Spring index.

    .. math:: C = D / d

    Args:
        mean_coil_mm: mean coil diameter D [mm], more than the wire.
        wire_mm: wire diameter d [mm], > 0.

    Returns:
        Index, dimensionless; 4 to 12 is usual.

    Raises:
        OutOfRange: wire not above 0, or D not above d.

    Source:
        R. G. Budynas & J. K. Nisbett, Shigley's Mechanical Engineering Design, eq. (10-1) and section 10-7.

    >>> round(spring_index(42.0, 7.0), 3)
    6.0
    """
    if not mean_coil_mm > positive("wire diameter", wire_mm):
        raise OutOfRange("mean coil diameter", mean_coil_mm, f"more than the wire diameter, {wire_mm:g}")
    return finite("mean coil diameter", mean_coil_mm) / wire_mm


def active_coils(total_coils: float, ends: Ends) -> float:
    """Number of active coils.

    .. math:: n = n_t - n_e

    Args:
        total_coils: all coils, counted from tip to tip, more than the dead ones.
        ends: how the ends are finished; closed ends take two coils, open ground ends one.

    Returns:
        Active coils n.

    Raises:
        OutOfRange: no coil left to work.

    Source:
        Shigley's Mechanical Engineering Design, Table 10-1.

    >>> active_coils(22.0, Ends.CLOSED_GROUND)
    20.0
    """
    return positive("active coils", finite("total coils", total_coils) - _END_COILS[ends])


def spring_rate(shear_modulus_mpa: float, wire_mm: float, mean_coil_mm: float, active: float) -> float:
    """Rate of a round-wire helical compression spring.

    .. math:: k = G d^4 / (8 D^3 n)

    Args:
        shear_modulus_mpa: shear modulus G of the wire [MPa], > 0; spring steel 77 200 to 81 500.
        wire_mm: wire diameter d [mm], > 0.
        mean_coil_mm: mean coil diameter D [mm], more than d.
        active: active coils n, > 0.

    Returns:
        Rate k [N/mm].

    Raises:
        OutOfRange: an argument is not above 0, or D not above d.

    Source:
        Shigley's Mechanical Engineering Design, eq. (10-9); EN 13906-1:2013 gives the same. Worked examples stand in
        tests/reference/.

    >>> round(spring_rate(81_370.0, 7.0, 42.0, 8.0), 4)
    41.203
    """
    spring_index(mean_coil_mm, wire_mm)
    stiffness = positive("shear modulus", shear_modulus_mpa) * wire_mm**4
    return stiffness / (8.0 * mean_coil_mm**3 * positive("active coils", active))


def in_parallel(*rates_n_per_mm: float) -> float:
    """Rate of springs side by side, as the two legs of a fork.

    .. math:: k = \\sum k_i

    Args:
        rates_n_per_mm: rates [N/mm], each >= 0 (0: no spring there).

    Returns:
        Rate together [N/mm].

    Raises:
        OutOfRange: a rate is negative.

    Source:
        Forces add at one displacement.

    >>> in_parallel(9.0, 9.5)
    18.5
    """
    return sum(not_negative("spring rate", rate) for rate in rates_n_per_mm)


def in_series(*rates_n_per_mm: float) -> float:
    """Rate of springs end on end.

    .. math:: 1/k = \\sum 1/k_i

    Args:
        rates_n_per_mm: rates [N/mm], at least one, each > 0.

    Returns:
        Rate together [N/mm].

    Raises:
        OutOfRange: no rate, or one not above 0.

    Source:
        Displacements add under one force.

    >>> in_series(20.0, 20.0)
    10.0
    """
    if not rates_n_per_mm:
        raise OutOfRange("number of springs", 0, "1 or more")
    return 1.0 / sum(1.0 / positive("spring rate", rate) for rate in rates_n_per_mm)


def solid_length(total_coils: float, wire_mm: float, ends: Ends) -> float:
    """Length with all coils touching, nominal.

    .. math:: L_c = n_t d \\quad\\text{ground}, \\qquad L_c = (n_t + 1) d \\quad\\text{not ground}

    A measured solid length is better.

    Args:
        total_coils: all coils n_t, > 0.
        wire_mm: wire diameter d [mm], > 0.
        ends: how the ends are finished.

    Returns:
        Solid length [mm].

    Raises:
        OutOfRange: coils or wire not above 0.

    Source:
        Shigley's Mechanical Engineering Design, Table 10-1.

    >>> solid_length(22.0, 4.5, Ends.CLOSED_GROUND), solid_length(22.0, 4.5, Ends.CLOSED)
    (99.0, 103.5)
    """
    coils = positive("total coils", total_coils) + _SOLID_EXTRA_NOMINAL[ends]
    return coils * positive("wire diameter", wire_mm)


def longest_solid_length(total_coils: float, wire_mm: float, ends: Ends) -> float:
    """Longest solid length the standard allows a cold coiled spring.

    .. math:: L_c \\le n_t d \\quad\\text{closed, ground}, \\qquad L_c \\le (n_t + 1.5) d \\quad\\text{closed}

    Args:
        total_coils: all coils n_t, > 0.
        wire_mm: largest wire diameter d [mm], > 0.
        ends: how the ends are finished. The clause knows closed ends only; open ends give their nominal solid length.

    Returns:
        Solid length [mm].

    Raises:
        OutOfRange: coils or wire not above 0.

    Source:
        EN 13906-1:2013 (from published code that implements it; the standard's own text was not read).

    >>> longest_solid_length(22.0, 4.5, Ends.CLOSED)
    105.75
    """
    extra = _SOLID_EXTRA_LIMIT.get(ends, _SOLID_EXTRA_NOMINAL[ends])
    return (positive("total coils", total_coils) + extra) * positive("wire diameter", wire_mm)


def minimum_gaps(wire_mm: float, mean_coil_mm: float, active: float) -> float:
    """Sum of the gaps that should be left between the coils of a cold coiled spring under static load.

    .. math:: S_a = n (0.0015 D^2 / d + 0.1 d)

    Under dynamic load it is DYNAMIC_GAP_FACTOR times as much.

    Args:
        wire_mm: wire diameter d [mm], > 0.
        mean_coil_mm: mean coil diameter D [mm], more than d.
        active: active coils n, > 0.

    Returns:
        Sum of minimum gaps [mm].

    Raises:
        OutOfRange: an argument is not above 0, or D not above d.

    Source:
        EN 13906-1:2013 (from published code that implements it; the standard's own text was not read).

    >>> round(minimum_gaps(7.0, 42.0, 8.0), 3)
    8.624
    """
    spring_index(mean_coil_mm, wire_mm)
    return positive("active coils", active) * (0.0015 * mean_coil_mm**2 / wire_mm + 0.1 * wire_mm)


def left_at_full_travel(free_mm: float, solid_mm: float, greatest_preload_mm: float, travel_mm: float) -> float:
    """Clearance between the coils at full travel, with the adjuster fully in.

    .. math:: L_f - L_c - (P_{max} + T)

    Args:
        free_mm: free length [mm], > 0.
        solid_mm: solid length [mm], > 0 and shorter than free_mm.
        greatest_preload_mm: preload with the adjuster fully in [mm]; negative where the spring is loose even so.
        travel_mm: full travel of this spring [mm], >= 0.

    Returns:
        Length left [mm]; negative where the coils bind before full travel.

    Raises:
        OutOfRange: a length is not above 0, or the solid length not shorter than the free length.

    Source:
        Definition.

    >>> left_at_full_travel(250.0, 99.0, 20.0, 120.0)
    11.0
    """
    if not positive("solid length", solid_mm) < positive("free length", free_mm):
        raise OutOfRange("solid length", solid_mm, f"shorter than the free length, {free_mm:g}")
    return free_mm - solid_mm - (finite("greatest preload", greatest_preload_mm) + not_negative("travel", travel_mm))


# --- wire -------------------------------------------------------------------------------------------------------------

_SHIGLEY = "R. G. Budynas & J. K. Nisbett, Shigley's Mechanical Engineering Design, Table 10-5 (from a transcription)"


@record
class Wire:
    """A kind of spring wire."""

    key: str
    steps: tuple[tuple[float, float], ...]
    """Pairs of largest wire diameter [mm] and shear modulus [MPa], thinnest first."""
    source: str


WIRES = (
    Wire("en_10270_1", ((math.inf, 81_500.0),), "EN 10270-1, patented cold drawn wire (the standard was not read)"),
    Wire("en_10270_2", ((math.inf, 79_500.0),), "EN 10270-2, oil hardened wire (from memory, to be confirmed)"),
    Wire("music", ((0.813, 82_700.0), (1.6, 81_700.0), (3.175, 81_000.0), (math.inf, 80_000.0)), _SHIGLEY),
    Wire("hard_drawn", ((0.813, 80_700.0), (1.6, 80_000.0), (3.175, 79_300.0), (math.inf, 78_600.0)), _SHIGLEY),
    Wire("oil_tempered", ((math.inf, 77_200.0),), _SHIGLEY),
    Wire("chrome_silicon", ((math.inf, 77_200.0),), _SHIGLEY),
    Wire("chrome_vanadium", ((math.inf, 77_200.0),), _SHIGLEY),
    Wire("stainless", ((math.inf, 69_000.0),), _SHIGLEY),
)
"""Kinds of wire for which a modulus is known."""
ORDINARY_MPA = (77_200.0, 79_500.0)
"""Shear modulus of the wire that suspension springs, painted or black, are mostly wound of: chrome-silicon or
oil-tempered, by ASTM A401 and A229 (Shigley, Table 10-5) and by EN 10270-2."""
ORDINARY_SOURCE = (
    "oil-tempered or chrome-silicon wire: 77 200 MPa (ASTM A229, A401: Shigley, Table 10-5) to 79 500 MPa (EN 10270-2)"
)
SPRING_STEEL_MPA = (77_200.0, 81_500.0)
"""Shear modulus of spring steel, from the lowest to the highest kind of wire that springs are mostly made of."""
SPRING_STEEL_SOURCE = "spring steel, 77 200 to 81 500 MPa by kind of wire (Shigley, Table 10-5; EN 10270-1)"


def shear_modulus(wire: Wire, wire_mm: float) -> float:
    """Shear modulus of a kind of wire at a diameter.

    Args:
        wire: the kind.
        wire_mm: wire diameter [mm], > 0.

    Returns:
        G [MPa].

    Raises:
        OutOfRange: diameter not above 0.

    Source:
        As the wire says.

    >>> shear_modulus(WIRES[2], 4.5)
    80000.0
    """
    positive("wire diameter", wire_mm)
    return next(modulus for up_to, modulus in wire.steps if wire_mm <= up_to)
