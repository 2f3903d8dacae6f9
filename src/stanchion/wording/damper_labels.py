"""The names of the fields of a damper sheet."""

from __future__ import annotations

from stanchion.job.model import Path

# By the last steps of a path. At most 22 characters: so wide is the column.
DAMPER_LABELS: dict[Path, str] = {
    ("damper",): "Damper measured",
    ("turned",): "Adjuster turned",
    ("file",): "Read from file",
    ("sha256",): "SHA-256 of the file",
    ("unread",): "Lines not read",
    ("damper_sheets", "stroke_mm"): "Stroke driven",
    ("damper_sheets", "temperature_c"): "Damper temperature",
    ("gas",): "Gas force",
    ("gas_n",): "Gas force, read",
    ("curves", "stroke"): "Which stroke",
    ("curves", "position"): "Adjuster position",
    ("speeds_mm_per_s",): "Shaft speeds",
    ("curves", "forces_n"): "Forces",
    ("spreads_n",): "Spread of readings",
}
