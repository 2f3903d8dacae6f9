"""The words for findings on both legs of the fork, and on the linkage."""

from __future__ import annotations

from stanchion.wording.finding_tables import ForkWords, LinkageWords, Words

_SHUT_IN = "[ {shut_in_tyres_text:words}][ {shut_in_air_spring_text:words}][ {shut_in_air_gap_text:words}]"
SHUT_IN: dict[str, str] = {
    "shut_in_tyres": "Set the tyres by the gauge again.",
    "shut_in_air_spring": "Check the air spring's pressure here, and enter what you set.",
    "shut_in_air_gap": 'Bleed the fork, then empty the field "Altitude when closed".',
}
"""What to do about air that was shut in elsewhere."""

SET_ALIKE = (
    "[; set {apart_text:words}][, {alike_turns:turns} in from fully out][, {alike_out_text:words}]"
    "[, {alike_in_text:words}]"
)
"""What is done with adjusters that stand apart, after the spacers."""

FORK: ForkWords = {
    "rates_differ": Words(
        "Mixed springs",
        "Fork: {left:rate} left, {right:rate} right: mixed springs with a mean rate of {mean_n_per_mm:rate}. This is "
        "allowed if installed preload is the same in both.",
    ),
    "installed_preload_differs": Words(
        "Installed preload differs between legs",
        "Fork: installed preload {left_mm:length} left, {right_mm:length} right. Match them with the spacer["
        ": {match_left_mm:length} left, {match_right_mm:length} right]" + SET_ALIKE + "; if they are meant to differ, "
        "enter that.",
    ),
    "preload_now_differs": Words(
        "Preload differs between legs",
        "Fork: preload now {left_mm:length} left, {right_mm:length} right. Set the adjusters alike[, "
        "{alike_turns:turns} in from fully out][, {alike_out_text:words}][, {alike_in_text:words}]; if they are meant "
        "to differ, enter that.",
    ),
    "compression_differs": Words(
        "Compression differs between legs",
        "Fork: compression {left:counted} left, {right:counted} right. Set them alike, or enter that the dampers are "
        "split.",
    ),
    "high_speed_compression_differs": Words(
        "High-speed clicks differ between legs",
        "Fork: high-speed compression {left:counted} left, {right:counted} right. Set them alike, or enter "
        "that the dampers are split.",
    ),
    "rebound_differs": Words(
        "Rebound differs between legs",
        "Fork: rebound {left:counted} left, {right:counted} right. Set them alike, or enter that the dampers are "
        "split.",
    ),
    "clicker_beyond_range": Words(
        "Damper setting beyond its range",
        "{where}: {path:field} {now:counted}, but the whole range is {total:count}. Count both again from closed.",
    ),
    "clicker_closed": Words(
        "Damping fully closed",
        "{where}: {path:field} is fully closed: no more can be added. Do not force it.",
    ),
    "fork_without_spring": Words(
        "Fork without a spring",
        "Fork: no leg has a spring. Enter which leg has one, or that the fork is sprung by air.",
    ),
    "air_over_most": Words(
        "Pressure above the highest allowed",
        "{where}: {pressure_bar:pressure} is above the highest allowed, {most_bar:pressure}. Release air "
        "before anything else, then recheck the gauge.",
    ),
    "air_compared_only": Words(
        "Air recorded and compared only",
        "{where}: without bore and chamber sizes the sags of this air cannot be predicted. Its pressures and sags "
        "are recorded and compared.",
    ),
    "barometer_off": Words(
        "Barometer and altitude disagree",
        "The barometer reads {barometer_hpa:barometer}; {by_altitude_hpa:barometer} is usual at {altitude_m:altitude}. "
        "Enter what it reads at the venue, not reduced to sea level, or leave it empty.",
    ),
    "outside_unknown": Words(
        "Altitude of this venue not recorded",
        "Pressures were set at an air pressure of {there_hpa:barometer}, and the figures take it to be the same here. "
        "Enter the altitude of this venue: gauges read differently at another altitude.",
    ),
    "gauges_read_more": Words(
        "Gauges read more here",
        "Closed air reads {by_bar:pressure} more here ({here_hpa:barometer}) than where it was shut in "
        "({there_hpa:barometer})." + _SHUT_IN,
    ),
    "gauges_read_less": Words(
        "Gauges read less here",
        "Closed air reads {by_bar:pressure} less here ({here_hpa:barometer}) than where it was shut in "
        "({there_hpa:barometer})." + _SHUT_IN,
    ),
    "top_out_legs_taken": Words(
        "Enter which legs have a top-out spring",
        "Fork: the top-out spring is assumed to be in the leg with the main spring. Enter which legs have one.",
    ),
    "top_out_reads_lower": Words(
        "Top-out spring: sag reads lower",
        "{where}: sag reads lower[ by about {unloaded_mm:length}] than the targets assume[; {share:share} of added "
        "preload shows in it].[ To know by how much, enter: {needs:labels}.]",
    ),
    "solids_fill_air": Words(
        "Solids fill the air space",
        "{where}: solids of {solids_ml:count} ml do not fit in an air space of {space_ml:count} ml. Recheck both: "
        "the trapped air depends on them.",
    ),
}

FORK_VARIANTS: dict[str, Words] = {
    "installed_preload_differs.of_leg": Words(
        "Installed preload differs between legs",
        "Fork: installed preload {left_mm:length} left, {right_mm:length} right[ (band {low_mm~high_mm:numbers})]"
        "[; the {short:text} spring is {difference_mm:length} shorter]. "
        "Recheck the lengths; if they are right, make the {of_leg:text} spacer {match_way:text} by {match_mm:length}"
        "[, to {match_spacer_mm:length}]" + SET_ALIKE + ".",
    ),
    "preload_now_differs.one_adjuster": Words(
        "Preload differs between legs",
        "Fork: preload now {left_mm:length} left, {right_mm:length} right, and only one leg has an adjuster. If the "
        "fork is built like that, enter that preload is meant to differ.",
    ),
}
"""Words that take the place of a finding's own: see finding_words.py."""

LINKAGE: LinkageWords = {
    "linkage_pairs": Words(
        "Linkage pairs in disorder",
        "Shock: from each linkage pair to the next, wheel and shock travel must both grow, starting from 0. Check "
        "whether two are swapped, or measure them again.",
    ),
    "linkage_ratio": Words(
        "Linkage pairs cannot be right",
        "Shock: the linkage pairs give an impossible motion ratio. Check wheel and shock travel of each pair.",
    ),
    "linkage_beyond_measured": Words(
        "Sag beyond the measured linkage",
        "Shock: sag {travel_mm:length} is beyond the linkage travel that was measured, {covered_mm:length}. Measure "
        "pairs further into the travel.",
    ),
    "linkage_goes_on": Words(
        "Last linkage pair short of full travel",
        "Shock: the last linkage pair, {last_mm:length}, is short of full travel, {end_mm:length}; the curve goes on "
        "straight from there. Measure a pair there if you can.",
    ),
    "linkage_not_smooth": Words(
        "Linkage pairs not on a smooth curve",
        "Shock: the linkage pairs do not lie on a smooth curve; the pair at {wheel_mm:length} is furthest off, by "
        "{off_mm:length}: read it again. Do not rely on the wheel rate.",
    ),
    "wheel_rate_uncertain": Words(
        "Wheel rate uncertain",
        "Shock: the linkage pairs leave the wheel rate uncertain, {rate:rate} ± {uncertainty:rate}. Measure more "
        "pairs, further apart, or read them more finely.",
    ),
    "wheel_rate_negative": Words(
        "Wheel rate not positive",
        "Shock: these linkage pairs give a wheel rate of zero or less, which is impossible. Measure the pairs again.",
    ),
    "gas_unknown": Words(
        "Wheel rate without gas force",
        "Shock: the wheel rate leaves out the gas force, which is not known. Enter gas pressure and shaft diameter.",
    ),
}
