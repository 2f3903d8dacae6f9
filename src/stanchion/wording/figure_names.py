"""The one name of each figure on balance, on the brakes and on the gas: every screen, check and the sheet take it from
here. Whether the machine brakes or drives is said by the heading above, never by another name."""

from __future__ import annotations

ON_THE_BRAKES, ON_THE_GAS = "On the brakes", "On the gas"
"""Headings above the figures."""
FIGURE_NAMES: dict[str, str] = {
    "fork_used_mm": "Fork travel used",
    "fork_left_mm": "Fork travel left",
    "rear_used_mm": "Rear travel used",
    "front_kg": "Front load",
    "rear_kg": "Rear load",
    "front_share_pct": "On front, %",
    "ahead_mm": "Centre ahead",
    "height_mm": "Centre up",
    "rake_deg": "Rake",
    "trail_mm": "Trail",
    "wheelbase_mm": "Wheelbase",
    "braking_g": "Braking",
    "ridden_g": "Braking as ridden",
    "fork_ends_g": "Fork at its end",
    "rear_lifts_g": "Rear wheel lifts",
    "acceleration_g": "Acceleration",
    "anti_squat_pct": "Anti-squat at sag",
    "anti_squat_there_pct": "Anti-squat on gas",
    "arm_deg": "Swingarm down",
    "chain_deg": "Chain up",
    "rear_rises_mm": "Rear rises",
    "fork_extends_mm": "Fork extends",
    "front_lifts_g": "Front wheel lifts",
    "motion_ratio": "Motion ratio",
}
"""Names by the field of the figure, at most 17 columns."""
