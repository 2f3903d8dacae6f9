"""What a prediction is without, and what to look at first where a measured figure is not as predicted."""

from __future__ import annotations

from typing import Literal

LeftOut = Literal[
    "rake",
    "unsprung_front",
    "unsprung_rear",
    "travel_front",
    "travel_rear",
    "top_out",
    "air",
    "air_diameter",
    "solids",
    "gas",
    "stop",
]
"""What a prediction is without, because it was not entered."""
Hint = Literal["estimate", "friction", "label", "without"]
"""What to look at first where a measured figure is not as predicted."""
