"""The names of the fields of weights, balance, geometry and linkage."""

from __future__ import annotations

from stanchion.job.model import Path

# By the last steps of a path. At most 22 characters: so wide is the column.
CHASSIS_LABELS: dict[Path, str] = {
    ("rider_mass_kg",): "Rider in full gear",
    ("machine_kg",): "Machine mass",
    ("front_share_pct",): "Share on front wheel",
    ("rider_front_share_pct",): "Rider share, front",
    ("front_unsprung_kg",): "Unsprung, front",
    ("rear_unsprung_kg",): "Unsprung, rear",
    ("front_alone_kg",): "Front scale, alone",
    ("rear_alone_kg",): "Rear scale, alone",
    ("front_aboard_kg",): "Front scale, rider",
    ("rear_aboard_kg",): "Rear scale, rider",
    ("aboard_rider_kg",): "Rider on the scales",
    ("aboard_rider_at",): "Scales with that rider",
    ("balance", "braking_g"): "Braking to look at",
    ("balance", "height_alone_mm"): "Height, machine alone",
    ("balance", "height_aboard_mm"): "Height, rider aboard",
    ("balance", "blocked"): "Suspension blocked",
    ("lifts", "raised_mm"): "Front wheel raised by",
    ("lifts", "alone_kg"): "Front scale, alone",
    ("lifts", "aboard_kg"): "Front scale, rider",
    ("damping", "front_rates_n_per_mm"): "Fork rebound suits",
    ("damping", "rear_rates_n_per_mm"): "Shock rebound suits",
    ("rake_deg",): "Rake",
    ("offset_mm",): "Fork offset",
    ("wheelbase_mm",): "Wheelbase",
    ("front_radius_mm",): "Front tyre radius",
    ("rear_radius_mm",): "Rear tyre radius",
    ("measured",): "Geometry measured",
    ("front_sag_mm",): "Front sag then",
    ("rear_sag_mm",): "Rear sag then",
    ("geometry", "fork_height_mm"): "Fork height then",
    ("geometry", "length_adjuster_mm"): "Length adjuster then",
    ("wheel_travel_mm",): "Wheel travel",
    ("motion_ratio",): "Motion ratio",
    ("linkage", "wheel_mm"): "Wheel travel of a pair",
    ("linkage", "shock_mm"): "Shock travel of a pair",
    ("linkage",): "Linkage pairs",
}
