"""The words for findings on wire, coils and spring testers."""

from __future__ import annotations

from stanchion.wording.finding_tables import ChangeOverWords, CoilWords, Words

_MAY_TOUCH = (
    "{where}: {left_mm:length} (± {expanded_mm:length}) left between the coils at full travel[, adjuster fully in "
    "({fully_in_mm:short} preload)][, at {now_mm:short} preload]: they may touch. "
)

COILS: CoilWords = {
    "coil_bind": Words(
        "Coils bind before full travel",
        "{where}: coils[ {second_first_text:words}] bind {short_mm:length} before full travel[, adjuster fully in "
        "({fully_in_mm:short} preload)][, at {now_mm:short} preload]. Do not ride: fit another spring.",
    ),
    "coil_bind_at_the_end": Words(
        "Coils touch at full travel",
        "{where}: nothing is left between the coils at full travel[, adjuster fully in ({fully_in_mm:short} "
        "preload)][, at {now_mm:short} preload]. Do not ride: fit another spring.",
    ),
    "coil_bind_near": Words(
        "Coils nearly bind at full travel",
        "{where}: {left_mm:length} left between the coils at full travel[, adjuster fully in ({fully_in_mm:short} "
        "preload)][, at {now_mm:short} preload][; ± {expanded_mm:length}, so they may touch]; at least "
        "{least_mm:short} is needed. Fit another spring.",
    ),
    "coil_bind_further_in": Words(
        "Coils would bind further in",
        "{where}: {left_mm:length} left between the coils at full travel as set now, {fully_in_left_mm:length} with "
        "the adjuster fully in: turn it in by {spare_mm:length} at most.",
    ),
    "coils_may_touch": Words(
        "Coils may touch at full travel",
        _MAY_TOUCH + "Measure {reading:field} again before it is ridden.",
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
    "progressive_spring": Words(
        "Progressive: rate estimated by its label",
        "{where}: the rate is taken to rise evenly from {start:rate} to {end:rate}[ over {over_mm:length}], an "
        "estimate[: {static:rate} at static sag][, {rider:rate} at rider sag][, {full:rate} at full travel]. Judge by "
        "measured sag.",
    ),
    "measured_curve": Words(
        "Progressive by the spring tester",
        "{where}: on the tester the rate goes from {first:rate} to {last:rate}, so the curve of its readings is "
        "used[: {static:rate} at static sag][, {rider:rate} at rider sag][, {full:rate} at full travel].",
    ),
    "tester_ends_early": Words(
        "Tester's pairs end before full travel",
        "{where}: the last pair is at {over_mm:length} of compression, but [static sag takes the spring to "
        "{static:length}, ][rider sag takes the spring to {rider:length}, ][the load with the rider takes the spring "
        "{further:text}, ][full travel takes the spring to {full:length}, ]and its force beyond the last pair is not "
        "known. Press it further.",
    ),
    "rate_by_tester": Words(
        "No rate entered: the tester's is used",
        "{where}: no rate is entered, so {measured:rate}[ ± {uncertainty:rate}] by the spring tester is used.",
    ),
    "tester_pair_off": Words(
        "One tester reading is out of line",
        "{where}: pair {number:count} of the spring tester is {off_n:force} out of line with the others. Read it "
        "again.",
    ),
    "top_out_by_bench": Words(
        "Top-out spring from bench readings",
        "{where}: the bench readings give {rate:rate} over {over_mm:length}; they fill in what is not entered.",
    ),
    "top_out_bench_disordered": Words(
        "Top-out readings cannot be right",
        "{where}: the forces do not fall as the leg or shaft comes off its stop. Read travel and force again.",
    ),
    "top_out_bench_differs": Words(
        "Top-out rate and bench disagree",
        "{where}: {label:rate} is entered, but the bench readings give {rate:rate} over {over_mm:length}. Empty the "
        "field to use those.",
    ),
    "stop_disordered": Words(
        "Readings of the rubber cannot be right",
        "{where}: the force does not rise as the rubber is pressed further. Read both again.",
    ),
    "stop_beyond_travel": Words(
        "Rubber touches beyond the travel",
        "{where}: the rubber is entered as touching at {touches_mm:length}, but the travel is only "
        "{travel_mm:length}. Count from full extension.",
    ),
    "wire_stress_high": Words(
        "Wire highly stressed at full travel",
        "{where}: at full travel the wire is stressed to {share:share} of its strength ({stress:count} MPa by "
        "Bergsträsser). A guide for springs that were set when made is {low:share} to {high:share} (Shigley, Table "
        "10-6). Watch the free length: the spring may settle.",
    ),
    "spring_may_buckle": Words(
        "Shock spring may buckle",
        "{where}: at full travel the spring is compressed by {pressed_mm:length}; by EN 13906-1 it may buckle from "
        "{buckles_mm:length} on, unless the body or a sleeve guides it. Look for rub marks.",
    ),
    "second_lengths": Words(
        "Lengths of two springs contradict",
        "{where}: by the lengths entered, one of the two springs has no travel. Measure both again, each by itself "
        "and solid, and both with what is between them.",
    ),
    "rate_by_coils": Words(
        "No rate entered: calculated from coils",
        "{where}: no rate is entered, so {calculated:rate}[ ({low~high:rate} by kind of wire)] is used, an "
        "estimate calculated from wire and coils. Put the spring on a tester to be sure.",
    ),
}

_CHANGES = "{where}: the rate changes from {before:rate} to {after:rate} at {at_mm:length} of travel"
_MOVES = (
    "[ One turn in brings it {nearer_per_turn_mm:length} earlier][ One click in brings it {per_click_mm:length} "
    "earlier][; a stop that closes 1 mm later puts it {stop_mm:length} later][; a gap 1 mm larger puts it "
    "{gap_mm:length} later][; a softer spring with 1 mm more to coil bind puts it {coils_mm:length} later]."
)

CHANGE_OVER: ChangeOverWords = {
    "change_over": Words("Where the springs change over", _CHANGES + "[, of {full_mm:length} in all]." + _MOVES),
    "change_over_in_preload": Words(
        "Springs changed over by preload alone",
        "{where}: preload alone takes the springs past their change-over, so {after:rate} works over the whole travel.",
    ),
    "change_over_below_static": Words(
        "Springs change over before the sags",
        _CHANGES + ", before static sag {static_mm:length}: {after:rate} works at both sags." + _MOVES,
    ),
    "change_over_between_sags": Words(
        "Springs change over between the sags",
        _CHANGES + ", between static sag {static_mm:length} and rider sag {rider_mm:length}, where the rider feels "
        "it. To take it outside them[, close the stop about {stop_sooner_mm:length} sooner or {stop_later_mm:length} "
        "later][, make the gap about {gap_sooner_mm:length} smaller or {gap_later_mm:length} larger][, fit a softer "
        "spring with about {coils_sooner_mm:length} less or {coils_later_mm:length} more to coil bind]. Preload does "
        "not do it: both sags move with it.",
    ),
    "change_over_beyond_rider": Words(
        "Springs change over after the sags",
        _CHANGES + ", after rider sag {rider_mm:length}[, of {full_mm:length} in all]: {before:rate} works at both "
        "sags." + _MOVES,
    ),
    "change_over_never": Words(
        "Two springs that never change over",
        "{where}: {before:rate} works over the whole travel[: the change-over is {left_mm:length} beyond full "
        "travel]." + _MOVES,
    ),
}

COIL_VARIANTS: dict[str, Words] = {
    "coils_may_touch.solid": Words(
        "Coils may touch at full travel",
        _MAY_TOUCH + "In a press or a spring tester, close the spring until its coils touch, and enter that length as "
        "solid length, before it is ridden.",
    ),
    "coil_bind.rear": Words(
        "Shock coils bind before full travel",
        "{where}: the spring can be compressed by {usable_mm:length}[ (then the coils "
        "{second_first_text:words} touch)], no more than stroke {travel_mm:length} plus preload "
        "{preload_mm:length}. Do not ride: fit another spring.",
    ),
}
"""Words that take the place of a finding's own: see finding_words.py."""
