"""How finely a tape reads where nobody recorded it."""

from __future__ import annotations

TAPE_MM = 1.0
"""Smallest division taken where the tape's is not recorded (common practice, no published source)."""
