"""Words for choosing the columns of a dynamometer's file."""

from __future__ import annotations

from collections.abc import Mapping

COLUMN_WORDS: Mapping[str, str] = {
    "speed": "the speed",
    "force": "the force",
    "rebound_force": "the force in rebound",
    "position": "the adjuster's position",
    "stroke": "the stroke",
    "temperature": "the temperature",
}
"""What a column is chosen for, in the middle of a sentence."""
SIGN_WORDS = "the other sign of the speed in rebound, or other signs of the force"
