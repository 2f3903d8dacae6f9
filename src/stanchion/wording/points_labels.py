"""The names of the fields of the points of a linkage."""

from __future__ import annotations

from stanchion.job.model import Path

POINT_NAMES = {
    "pivot": "Swingarm pivot",
    "axle": "Rear axle",
    "rocker": "Rocker centre",
    "link_end": "Link on rocker",
    "link_far": "Link far end",
    "shock_moved": "Shock moved end",
    "shock_held": "Shock held end",
}
"""The points by name."""
_CELLS = {
    "forward_mm": "ahead",
    "up_mm": "up",
    "from_pivot_mm": "pivot",
    "from_axle_mm": "axle",
    "side": "side",
    "right_px": "right",
    "down_px": "down",
}
# By the last steps of a path. At most 22 characters: so wide is the column.
POINTS_LABELS: dict[Path, str] = {
    ("points",): "Linkage points",
    ("points", "used"): "Motion ratio from",
    ("points", "layout"): "Linkage layout",
    ("points", "read_by"): "Points read by",
    ("points", "held_on"): "Shock held on",
    ("points", "axle_below_mm"): "Axle below pivot",
    ("link_mm",): "Length of the link",
    **{("points", point): name for point, name in POINT_NAMES.items()},
    **{(point, cell): f"{name}, {word}" for point, name in POINT_NAMES.items() for cell, word in _CELLS.items()},
}
