"""The names of the fields of sag, and of what was so when it was read."""

from __future__ import annotations

from stanchion.job.model import Path

# By the last steps of a path. At most 22 characters: so wide is the column.
SAG_LABELS: dict[Path, str] = {
    ("pressures_bar",): "Pressures when read",
    ("second_springs",): "2nd spring when read",
    ("gauge",): "Gauge reads",
    ("hanging_holds",): "L1 holds",
    ("hanging_mm",): "L1, wheel hanging",
    ("static", "down_mm"): "Static, pushed down",
    ("static", "up_mm"): "Static, lifted up",
    ("rider", "down_mm"): "Rider, pushed down",
    ("rider", "up_mm"): "Rider, lifted up",
    ("preload_at",): "Preload when read",
    ("rates_n_per_mm",): "Springs when read",
    ("stacks_mm",): "Stacks when read",
    ("free_lengths_mm",): "Free lengths when read",
    ("set_lengths_mm",): "Set lengths when read",
    ("set_lengths_in_mm",): "Lengths in, when read",
    ("air_gaps_mm",): "Air gaps when read",
    ("linkage_mm",): "Linkage when read",
    ("motion_ratios",): "Ratio when read",
    ("riders_kg",): "Rider when read",
    ("left_mm",): "Stack, left leg",
    ("right_mm",): "Stack, right leg",
    ("repeatability", "by"): "Own readings, whose",
    ("alone_mm",): "Own, alone",
    ("alone_freedom",): "Freedom, alone",
    ("alone_on",): "Study, alone",
    ("aboard_mm",): "Own, rider aboard",
    ("aboard_freedom",): "Freedom, rider aboard",
    ("aboard_on",): "Study, rider aboard",
    ("bench_mm",): "Own, spring lengths",
    ("bench_freedom",): "Freedom, lengths",
    ("bench_on",): "Study, spring lengths",
    ("tape_resolution_mm",): "Tape division",
}
