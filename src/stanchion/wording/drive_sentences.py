"""The words for findings on swingarm and chain."""

from __future__ import annotations

from stanchion.wording.finding_tables import DriveWords, Words

DRIVE: DriveWords = {
    "chain_odd": Words(
        "Chain with an odd number of links",
        "{where}: {links:count} links. Inner and outer links take turns, so their number is even: count them again. A "
        "cranked link is a weak one.",
    ),
    "chain_short": Words(
        "Chain too short for the sprockets",
        "{where}: {links:count} links round {front_teeth:count} and {rear_teeth:count} teeth are too few[: the "
        "chain is taut with the sprockets {reaches_mm:length} apart]. By tape they are at least {apart_mm:length} "
        "apart. Count links and teeth and measure again, or fit a longer chain.",
    ),
    "chain_by_slot": Words(
        "Room ahead of the axle not entered",
        "{where}: {links:count} links round {front_teeth:count} and {rear_teeth:count} teeth are taut with the "
        "sprockets {reaches_mm:length} apart; by tape they are {apart_mm:length} apart. Whether the axle can go so far "
        "forward cannot be told: enter how far it can go forward in its slots.",
    ),
    "chain_long": Words(
        "Chain too long for the slots",
        "{where}: {links:count} links round {front_teeth:count} and {rear_teeth:count} teeth are taut with the "
        "sprockets {reaches_mm:length} apart. By tape they reach {apart_mm:length} with the axle fully back: the chain "
        "stays slack. Fit a shorter chain or larger sprockets; or count links and teeth and measure again.",
    ),
    "arm_impossible": Words(
        "Swingarm does not reach its axle",
        "Swingarm: {length_mm:length} long, its pivot {pivot_mm:length} and its axle {axle_mm:length} above the "
        "ground. It is too short for that: measure all three again.",
    ),
    "arm_angles_differ": Words(
        "Angles of the swingarm do not agree",
        "Swingarm: {gauge_deg:angle} below horizontal by the gauge, {heights_deg:angle} by the heights of pivot and "
        "axle. The heights are used: measure again, or empty what is wrong.",
    ),
    "swingarm_stale": Words(
        "Swingarm from before a change",
        "Swingarm: {changed:chain_and_tyres} changed since it was measured. Measure it again; if the values are the "
        "same, confirm them under Upkeep.",
    ),
}
"""Findings on swingarm and chain."""
