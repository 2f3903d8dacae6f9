"""Shear modulus of spring wire, by kind. State the value used and its source beside any rate worked out with it."""

from __future__ import annotations

import math

from stanchion.base.record import record
from stanchion.mechanics.limits import positive

_SHIGLEY = "R. G. Budynas & J. K. Nisbett, Shigley's Mechanical Engineering Design, Table 10-5 (from a transcription)"


@record
class Wire:
    """A kind of spring wire."""

    key: str
    steps: tuple[tuple[float, float], ...]
    """Up to which wire diameter [mm] which shear modulus holds [MPa], thinnest first."""
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
