"""The names of the fields of changes that are judged by riding."""

from __future__ import annotations

from stanchion.job.model import Path

PROOF_LABELS: dict[Path, str] = {
    ("verdict",): "Rider's verdict",
    ("made_on",): "Day made",
    ("made_at",): "Time made",
    ("at_once",): "Changes at once",
    ("moves", "path"): "Setting",
    ("moves", "was"): "Before",
    ("moves", "becomes"): "After",
    ("expected", "front_static_mm"): "Front static, expected",
    ("expected", "front_rider_mm"): "Front rider, expected",
    ("expected", "rear_static_mm"): "Rear static, expected",
    ("expected", "rear_rider_mm"): "Rear rider, expected",
    ("expected", "fork_brakes_mm"): "On brakes, expected",
    ("expected", "trail_mm"): "Trail, expected",
}
