"""The names of the fields of swingarm and chain."""

from __future__ import annotations

from stanchion.job.model import Path

# By the last steps of a path. At most 22 characters: so wide is the column.
DRIVE_LABELS: dict[Path, str] = {
    ("pivot_to_axle_mm",): "Pivot to rear axle",
    ("pivot_up_mm",): "Pivot above ground",
    ("arm_down_deg",): "Swingarm down",
    ("sprocket_up_mm",): "Sprocket above ground",
    ("sprocket_ahead_mm",): "Front sprocket ahead",
    ("swingarm", "measured"): "Swingarm measured",
    ("swingarm", "fork_height_mm"): "Fork height then",
    ("swingarm", "length_adjuster_mm"): "Length adjuster then",
    ("drive", "chain"): "Chain size",
    ("drive", "links"): "Chain links",
    ("drive", "axle_forward_mm"): "Axle can go forward",
    ("drive", "axle_back_mm"): "Axle can go back",
    ("drive", "acceleration_g"): "Acceleration",
}
