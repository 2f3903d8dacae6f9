"""The words for findings on wire, coils and spring testers."""

from __future__ import annotations

from stanchion.wording.finding_tables import CoilWords, Words

COILS: CoilWords = {
    "coil_bind": Words(
        "Coils bind before full travel",
        "{where}: coils bind {short_mm:length} before full travel[, adjuster fully in ({fully_in_mm:short} preload)][, "
        "at {now_mm:short} preload]. Do not ride: fit another spring.",
    ),
    "coil_bind_at_the_end": Words(
        "Coils touch at full travel",
        "{where}: nothing is left between the coils at full travel[, adjuster fully in ({fully_in_mm:short} "
        "preload)][, at {now_mm:short} preload]. Do not ride: fit another spring.",
    ),
    "coil_bind_near": Words(
        "Coils nearly bind at full travel",
        "{where}: {left_mm:length} left between the coils at full travel[, adjuster fully in ({fully_in_mm:short} "
        "preload)][, at {now_mm:short} preload]; at least {least_mm:short} is needed. Fit another spring.",
    ),
    "coil_bind_further_in": Words(
        "Coils would bind further in",
        "{where}: {left_mm:length} left between the coils at full travel as set now, {fully_in_left_mm:length} with "
        "the adjuster fully in: turn it in by {spare_mm:length} at most.",
    ),
    "coil_gaps_small": Words(
        "Coil clearance under the standard",
        "{where}: {left_mm:length} left between the coils at full travel[, adjuster fully in ({fully_in_mm:short} "
        "preload)][, at {now_mm:short} preload]; EN 13906-1 asks for {required_mm:length}.",
    ),
    "coil_gaps_small_when_ridden": Words(
        "Coil clearance small for fast movement",
        "{where}: {left_mm:length} left between the coils at full travel; for fast movement EN 13906-1 asks for "
        "{required_mm:length}. Add no preload.",
    ),
    "solid_not_shorter": Words(
        "Solid length not below free length",
        "{where}: solid length {solid_mm:length} is not below free length {free_mm:length}, which is impossible. Check "
        "coils, wire and lengths.",
    ),
    "solid_length_unlikely": Words(
        "Solid length and coils disagree",
        "{where}: solid length {measured_mm:length}, but coils times wire come to {coils_mm:length}. Measure again: "
        "coil bind is judged by it.",
    ),
    "too_few_coils": Words(
        "Too few coils for the free length",
        "{where}: {count:count} coils over {free_mm:length} make a pitch of {coil_mm:length}, too steep for a coil "
        "diameter of {mean_mm:length}. Count all coils again.",
    ),
    "label_and_tester_differ": Words(
        "Label and spring tester disagree",
        "{where}: label {label:rate}, spring tester {measured:rate}[ ± {uncertainty:rate}]: {share:share} apart. Enter "
        "the measured rate if the tester is right.",
    ),
    "label_and_coils_differ": Words(
        "Label and coils disagree",
        "{where}: label {label:rate}, by wire and coils {calculated:rate}: {share:share} apart. Measure wire and coils "
        "again, or put the spring on a spring tester.",
    ),
    "tester_and_coils_differ": Words(
        "Spring tester and coils disagree",
        "{where}: spring tester {measured:rate}, by wire and coils {calculated:rate}: {share:share} apart. Measure "
        "wire and coils again, and check the tester.",
    ),
    "tester_disordered": Words(
        "Tester readings cannot be right",
        "{where}: the tester readings do not rise as the spring is pressed shorter. Read lengths and forces again.",
    ),
}

COIL_VARIANTS: dict[str, Words] = {
    "coil_bind.rear": Words(
        "Shock coils bind before full travel",
        "{where}: the spring can be compressed by {usable_mm:length}, no more than stroke {travel_mm:length} plus "
        "preload {preload_mm:length}. Do not ride: fit another spring.",
    ),
}
"""Words that take the place of a finding's own: see finding_words.py."""
