"""The names of the fields of runs, tyres and upkeep."""

from __future__ import annotations

from stanchion.job.model import Path

# By the last steps of a path. At most 22 characters: so wide is the column.
RUN_LABELS: dict[Path, str] = {
    ("time",): "Began at",
    ("front_marker_mm",): "Fork marker",
    ("rear_marker_mm",): "Shock shaft marker",
    ("marker_from",): "Markers count from",
    ("best_lap_s",): "Best lap",
    ("laps",): "Laps ridden",
    ("front_cold_bar",): "Front tyre, cold",
    ("front_hot_bar",): "Front tyre, hot",
    ("rear_cold_bar",): "Rear tyre, cold",
    ("rear_hot_bar",): "Rear tyre, hot",
    ("front_cold_c",): "Front tyre, cold temp.",
    ("front_hot_c",): "Front tyre, hot temp.",
    ("rear_cold_c",): "Rear tyre, cold temp.",
    ("rear_hot_c",): "Rear tyre, hot temp.",
    ("machine_hours",): "Hour meter now",
    ("fork_oil", "on"): "Fork oil changed on",
    ("fork_oil", "at_hours"): "Fork oil at hours",
    ("fork_seals", "on"): "Fork seals changed on",
    ("fork_seals", "at_hours"): "Fork seals at hours",
    ("shock", "on"): "Shock serviced on",
    ("shock", "at_hours"): "Shock at hours",
    ("front_teeth",): "Front sprocket",
    ("rear_teeth",): "Rear sprocket",
    ("axle_mark_mm",): "Axle mark",
    ("upkeep", "wheelbase_mm"): "Wheelbase as set",
    ("front_tyre",): "Front tyre",
    ("rear_tyre",): "Rear tyre",
    ("front_wanted_bar",): "Front tyre, hot wanted",
    ("rear_wanted_bar",): "Rear tyre, hot wanted",
    ("torques", "what"): "To be tightened",
    ("torques", "torque_nm"): "Torque",
    ("torques", "done"): "Tightened",
    ("torques", "initials"): "By (initials)",
    ("air_c",): "Air",
    ("ground_c",): "Ground",
    ("said",): "Rider said",
}
