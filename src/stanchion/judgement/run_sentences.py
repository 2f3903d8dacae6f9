"""The words for what runs tell."""

from __future__ import annotations

from stanchion.judgement.words import Words

RUNS: dict[str, Words] = {
    "marker_beyond_travel": Words(
        "Marker beyond full travel",
        "{path:label}: {used_mm:length} used of {available_mm:length} there is. Check the reading, what it counts "
        "from, and the travel.",
    ),
    "bottoms_adjuster_in": Words(
        "Bottoms with the adjuster fully in",
        "{path:label}: {left_mm:length} left of {available_mm:length} and the adjuster fully in: the spring is too "
        "soft.",
    ),
    "bottoms_add_preload": Words(
        "Bottoms, and rider sag is too large",
        "{path:label}: {left_mm:length} left of {available_mm:length}, rider sag too large: add preload first"
        "[ (the adjuster has {headroom_mm:length})].",
    ),
    "bottoms_air_gap": Words(
        "Near full travel: smaller air gap",
        "{path:label}: {left_mm:length} left of {available_mm:length}. Air gap 5 mm smaller; then compression damping; "
        "stiffer springs last.",
    ),
    "bottoms_damping": Words(
        "Near full travel: compression damping",
        "{path:label}: {left_mm:length} left of {available_mm:length}. More compression damping first; a stiffer "
        "spring last.",
    ),
    "travel_kept_back": Words(
        "Travel never used",
        "{path:label}: {left_mm:length} never used though sag is right. Braking hard? Larger air gap or less "
        "compression, not softer springs.",
    ),
}
