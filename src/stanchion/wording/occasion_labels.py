"""The names of the fields that say who, where and when, what was found and what is wanted, and of attached files."""

from __future__ import annotations

from stanchion.job.model import Path

# By the last steps of a path. At most 22 characters: so wide is the column.
OCCASION_LABELS: dict[Path, str] = {
    ("found", "on"): "Taken on",
    ("found", "front_cold_bar"): "Front tyre, cold",
    ("found", "rear_cold_bar"): "Rear tyre, cold",
    ("returning", "job"): "Returned to, job",
    ("returning", "run"): "Returned to, run",
    ("returning", "title"): "Returned to",
    ("machine",): "Machine",
    ("rider",): "Rider",
    ("venue",): "Venue",
    ("date",): "Date",
    ("session",): "Session",
    ("use",): "Set up for",
    ("carried_from",): "Carried from",
    ("carried_id",): "Id of earlier job",
    ("job", "id"): "Id of the job",
    ("sample",): "Invented sample",
    ("notes",): "Notes",
    ("static_low_mm",): "Static sag at least",
    ("static_high_mm",): "Static sag at most",
    ("rider_low_mm",): "Rider sag at least",
    ("rider_high_mm",): "Rider sag at most",
    ("preload_low_mm",): "Preload at least",
    ("preload_high_mm",): "Preload at most",
    ("attached", "path"): "File",
    ("source",): "Source of targets",
    ("fuel",): "Fuel aboard",
}
