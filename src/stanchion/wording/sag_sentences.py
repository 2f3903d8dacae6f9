"""The words for findings on sag readings, and on the sags of both ends together."""

from __future__ import annotations

from stanchion.wording.finding_tables import SagWords, Words

SAGS: SagWords = {
    "sag_low": Words(
        "Sag below target",
        "{where} {sag_mm:length} is {low_mm-sag_mm:length} below its target {low_mm~high_mm:band}. Judge by "
        "both sags together.",
    ),
    "sag_high": Words(
        "Sag above target",
        "{where} {sag_mm:length} is {sag_mm-high_mm:length} above its target {low_mm~high_mm:band}. Judge by "
        "both sags together.",
    ),
    "sag_borderline": Words(
        "Sag borderline",
        "{where} {sag_mm:length} (± {expanded_mm:length}) is too near the edge of its target, "
        "{low_mm~high_mm:band}, to judge. Measure again to be sure.",
    ),
    "stiction_note": Words(
        "Stiction higher than usual",
        "{where}: stiction {stiction_mm:length} is above {limit_mm:short}. Check alignment, seals and bearings when "
        "you can.",
    ),
    "stiction_fault": Words(
        "Too much stiction",
        "{where}: stiction {stiction_mm:length} is above {limit_mm:short}. Find the friction (alignment, seals, "
        "bearings), then measure again.",
    ),
    "readings_swapped": Words(
        "Readings swapped",
        "{where}: the lifted reading, {up_mm:length}, is shorter than the pushed-down one, {down_mm:length}. Swap the "
        "two, or measure again.",
    ),
    "travel_readings_swapped": Words(
        "Readings swapped",
        "{where}: the lifted reading, {up_mm:length}, is more travel than the pushed-down one, {down_mm:length}. Swap "
        "the two, or measure again.",
    ),
    "repeat_far_off": Words(
        "One repeat far from the others",
        "{where}: {path:field} was read {count:count} times, up to {apart_mm:length} apart; {odd_mm:length} is "
        "furthest from the rest. Read it again, or delete it.",
    ),
    "reading_beyond_hanging": Words(
        "Reading longer than L1",
        "{where}: reading {reading_mm:length} is longer than L1 {hanging_mm:length}, which gives negative sag. Measure "
        "L1 and this state again.",
    ),
    "rider_above_static": Words(
        "Less sag with the rider than without",
        "{where} {rider_mm:length} is less than static sag {static_mm:length}: the readings are mixed up or wrong. "
        "Measure again, alone and with the rider.",
    ),
    "sag_beyond_travel": Words(
        "Sag beyond full travel",
        "{where} {sag_mm:length} is more than the full travel {travel_mm:length}. Check the readings and the travel.",
    ),
    "topped_out": Words(
        "Topped out",
        "{where}: when lifted, it is within 2 mm of full extension: it is topped out, so its sag says little "
        "about preload.",
    ),
    "down_only": Words(
        "Only pushed-down readings",
        "{where}: with only pushed-down readings sag reads too large by half the stiction, which is not known. "
        "Take lifted readings too if you can.",
    ),
    "travel_not_as_meant": Words(
        "Targets are for a different travel",
        "{where}: travel is {travel_mm:length}, but the {profile:text} targets are meant for "
        "{low_mm~high_mm:band}. Use a profile of your own.",
    ),
    "both_ends_sag_much": Words(
        "Both ends sag too much: rider's weight?",
        "Front and rear sag too much with the rider, probably because of the rider's weight. Fit stiffer springs "
        "at both ends.",
    ),
    "both_ends_sag_little": Words(
        "Both ends sag too little: light rider?",
        "Front and rear sag too little with the rider, probably because of the rider's weight. Fit softer "
        "springs at both ends.",
    ),
    "ends_opposite_nose_low": Words(
        "Front low, rear high: nose down",
        "Front sits {front_off_mm:length} low, rear {rear_off_mm:length} high: nose down. Correct the {worse:text} "
        "first (that corrects {off_mm:length} of it), then measure both ends.",
    ),
    "ends_opposite_nose_high": Words(
        "Front high, rear low: nose up",
        "Front sits {front_off_mm:length} high, rear {rear_off_mm:length} low: nose up. Correct the {worse:text} "
        "first (that corrects {off_mm:length} of it), then measure both ends.",
    ),
}

SAG_VARIANTS: dict[str, Words] = {
    "sag_low.top_out": Words(
        "Sag below target: top-out spring",
        "{where} {sag_mm:length} is {low_mm-sag_mm:length} below its target {low_mm~high_mm:band}, but that "
        "is meant for a machine without a top-out spring.",
    ),
    "sag_high.top_out": Words(
        "Sag above target: top-out spring",
        "{where} {sag_mm:length} is {sag_mm-high_mm:length} above its target {low_mm~high_mm:band}, but that "
        "is meant for a machine without a top-out spring.",
    ),
    "sag_borderline.single": Words(
        "Sag borderline: repeat the readings",
        "{where} {sag_mm:length} (± {expanded_mm:length}, each reading taken once) is too near the edge of its target, "
        "{low_mm~high_mm:band}, to judge. Repeat each reading three times.",
    ),
    "sag_borderline.repeated": Words(
        "Sag borderline",
        "{where} {sag_mm:length} (± {expanded_mm:length}) is too near the edge of its target, "
        "{low_mm~high_mm:band}, to judge by the repeats taken.",
    ),
}
"""Words that take the place of a finding's own: see finding_words.py."""
