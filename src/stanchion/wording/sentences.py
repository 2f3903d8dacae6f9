"""The words for every finding but the advice on springs: a headline without numbers, and a sentence.

A sentence says what is wrong, where, and what to do, in about 150 characters. phrases.py explains the braces.
"""

from __future__ import annotations

from stanchion.wording.geometry_sentences import GEOMETRY
from stanchion.wording.prediction_sentences import PREDICTION
from stanchion.wording.run_sentences import RUNS
from stanchion.wording.sag_sentences import SAGS
from stanchion.wording.spring_sentences import SPRINGS
from stanchion.wording.upkeep_sentences import UPKEEP
from stanchion.wording.words import Words
from stanchion.wording.work_sentences import WORK

NOT_JUDGED = {
    "front": "Fork",
    "rear": "Shock",
    "springs": "Springs by their coils",
    "sag": "Sag",
    "prediction": "Prediction",
    "geometry": "Geometry",
    "runs": "Runs",
    "upkeep": "Upkeep",
    "work_list": "Work list",
    "checks": "Checks of what is entered",
    "cautions": "Cautions",
}
"""The parts of judging, by name."""

FINDINGS: dict[str, Words] = {
    # --- the program itself -------------------------------------------------------------------------------------
    "part_not_judged": Words(
        "Not judged: a fault of the program",
        "{part_text:text}: not judged, by a fault of the program: please report it. What you entered is kept, and "
        "all else stands.",
    ),
    # --- installed preload --------------------------------------------------------------------------------------
    "spring_loose": Words(
        "Spring loose",
        "{where}: installed preload is {preload_mm:length}[, {now_mm:length} as it stands], so the spring is loose. "
        "Recheck free and set length (swapped?); fit a longer spacer.",
    ),
    "spring_loose.rear": Words(
        "Shock spring loose",
        "{where}: installed preload is {preload_mm:length}[, {now_mm:length} as it stands], so the spring is loose. "
        "Recheck both lengths (swapped?); fit a longer spring.",
    ),
    "spring_loose.stands": Words(
        "Shock spring loose",
        "{where}: preload is {preload_mm:length} as the collar stands, so the spring is loose. Recheck both lengths "
        "(swapped?); turn the collar in or fit a longer spring.",
    ),
    "loose_fully_out": Words(
        "Spring loose if adjuster fully out",
        "{where}: installed preload is {preload_mm:length}: fully out the spring would be loose; now it has "
        "{now_mm:length}. Fit a longer spacer.",
    ),
    "loose_fully_out.by_sag": Words(
        "Spring loose if adjuster fully out",
        "{where}: installed preload is {preload_mm:length}: fully out the spring would be loose; now it has "
        "{now_mm:length}. Recheck the lengths; then go by the sags.",
    ),
    "loose_fully_out.rear": Words(
        "Spring loose if collar fully out",
        "{where}: installed preload is {preload_mm:length}: fully out the spring could come loose; now it has "
        "{now_mm:length}[. Keep the collar {keep_in_mm:length} or more in from fully out].",
    ),
    "spring_may_come_loose": Words(
        "Spring can come loose when extended",
        "{where}: installed preload {preload_mm:length} is under {loose_below_mm:short}: the spring can come loose. "
        "Longer spring[, or keep the collar {keep_in_mm:length} in from fully out].",
    ),
    "preload_by_manual": Words(
        "Installed preload: go by the manual",
        "{where}: installed preload is {preload_mm:length}. This use has no band for it: go by the manufacturer's "
        "manual.",
    ),
    "spring_may_come_loose.stands": Words(
        "Spring can come loose when extended",
        "{where}: preload as the collar stands, {preload_mm:length}, is under {loose_below_mm:short}: the spring can "
        "come loose. Turn the collar {keep_in_mm:length} in, or fit a longer spring.",
    ),
    "preload_low.stands": Words(
        "Preload low",
        "{where}: preload as the collar stands, {preload_mm:length}, is below the band {low_mm:bare}–{high_mm:short}. "
        "Go by the sags; no less preload than this.",
    ),
    "preload_high.stands": Words(
        "Preload high",
        "{where}: preload as the collar stands, {preload_mm:length}, is above the band {low_mm:bare}–{high_mm:short}. "
        "Recheck both lengths; if right, turn out or fit a stiffer spring.",
    ),
    "preload_over_limit.stands": Words(
        "Preload over limit",
        "{where}: preload as the collar stands, {preload_mm:length}, is over the limit of {limit_mm:short}. Recheck "
        "both lengths; if right, turn out or fit a stiffer spring.",
    ),
    "preload_near_limit.stands": Words(
        "Preload near its limit",
        "{where}: preload as the collar stands, {preload_mm:length}, is close to the limit of {limit_mm:short}. More "
        "needed means a stiffer spring.",
    ),
    "preload_low": Words(
        "Installed preload low",
        "{where}: installed preload {preload_mm:length} is below the band {low_mm:bare}–{high_mm:short}. Longer "
        "spacer by {low_mm-preload_mm:length} or more.",
    ),
    "preload_low.rear": Words(
        "Installed preload low",
        "{where}: installed preload {preload_mm:length} is below the band {low_mm:bare}–{high_mm:short}. Longer "
        "spring[, or keep the collar {keep_in_mm:length} in from fully out].",
    ),
    "preload_near_limit": Words(
        "Installed preload near its limit",
        "{where}: installed preload {preload_mm:length} is close to the limit of {limit_mm:short}. Fit no longer "
        "spacer; more needed means a stiffer spring.",
    ),
    "preload_high": Words(
        "Installed preload high",
        "{where}: installed preload {preload_mm:length} is above the band {low_mm:bare}–{high_mm:short}. Shorter "
        "spacer by {preload_mm-high_mm:length}, or a stiffer spring.",
    ),
    "preload_high.rear": Words(
        "Installed preload high",
        "{where}: installed preload {preload_mm:length}, collar fully out, is above the band {low_mm:bare}–"
        "{high_mm:short}. Recheck both lengths; shorter or stiffer spring.",
    ),
    "preload_over_limit": Words(
        "Preload over limit",
        "{where}: installed preload {preload_mm:length} is over the limit of {limit_mm:short}. Recheck the lengths; "
        "if right, the spring must change.",
    ),
    "preload_low.by_sag": Words(
        "Installed preload low",
        "{where}: installed preload {preload_mm:length} is below the band {low_mm:bare}–{high_mm:short}. Recheck the "
        "lengths; then go by the sags.",
    ),
    "preload_high.by_sag": Words(
        "Installed preload high",
        "{where}: installed preload {preload_mm:length} is above the band {low_mm:bare}–{high_mm:short}. Recheck the "
        "lengths; then go by the sags.",
    ),
    "preload_near_limit.by_sag": Words(
        "Installed preload near its limit",
        "{where}: installed preload {preload_mm:length} is close to the limit of {limit_mm:short}. Go by the sags.",
    ),
    "preload_over_limit.by_sag": Words(
        "Preload over limit",
        "{where}: installed preload {preload_mm:length} is over the limit of {limit_mm:short}. Recheck the lengths; "
        "then go by the sags.",
    ),
    # --- lengths ------------------------------------------------------------------------------------------------
    "set_lengths_order": Words(
        "Set lengths in the wrong order",
        "{where}: set length fully in {set_in_mm:length} is longer than the other, {set_mm:length}. Swap them or "
        "measure again.",
    ),
    "set_length_read_fully_in": Words(
        "Both set lengths read fully in",
        "{where}: both set lengths were read with the adjuster fully in, which gives no range. Read one fully out.",
    ),
    "set_longer_than_free": Words(
        "Set length longer than free length",
        "{where}: set length {set_mm:length} is longer than free length {free_mm:length}: the spring would be loose. "
        "Measure both again.",
    ),
    "free_lengths_differ": Words(
        "Spring lengths differ between legs",
        "Fork: the {short:text} spring is {difference_mm:length} shorter than the {long:text} one. Match them, or give "
        "it a spacer of {spacer_mm:length}.",
    ),
    "free_lengths_differ.without": Words(
        "Spring lengths differ between legs",
        "Fork: the {short:text} spring is {difference_mm:length} shorter than the {long:text} one. Match them, or make "
        "its spacer {difference_mm:length} longer.",
    ),
    "free_lengths_made_up": Words(
        "Spring lengths differ between legs",
        "Fork: the {short:text} spring is {difference_mm:length} shorter than the {long:text} one; its spacer of "
        "{spacer_mm:length} makes up for it.",
    ),
    "length_made_up": Words(
        "Spring of another length than last time",
        "{where}: free length {new_mm:length}, last time {old_mm:length}; the spacer of {spacer_mm:length} makes up "
        "for it.",
    ),
    "shorter_than_before": Words(
        "Spring shorter than in the last job",
        "{where}: free length {new_mm:length}, last time {old_mm:length}. Fit the same length, or a spacer "
        "{old_mm-new_mm:length} longer[: {spacer_mm:length}].",
    ),
    "longer_than_before": Words(
        "Spring longer than in the last job",
        "{where}: free length {new_mm:length}, last time {old_mm:length}. Fit the same length, or a spacer "
        "{new_mm-old_mm:length} shorter[: {spacer_mm:length}].",
    ),
    "shorter_than_before.rear": Words(
        "Spring shorter than in the last job",
        "{where}: free length {new_mm:length}, last time {old_mm:length}. Fit the same length, or set the collar "
        "{old_mm-new_mm:length} further in.",
    ),
    "longer_than_before.rear": Words(
        "Spring longer than in the last job",
        "{where}: free length {new_mm:length}, last time {old_mm:length}. Fit the same length, or set the collar "
        "{new_mm-old_mm:length} further out.",
    ),
    "previous_absent": Words(
        "Earlier job not to hand",
        "Job: it was carried from {name:text}, which is not here or not readable: springs cannot be compared.",
    ),
    "range_read_assembled": Words(
        "Range read against the top-out spring",
        "{where}: set lengths read against the top-out spring make the range look a little small. Enter the "
        "top-out spring, or read on the stop.",
    ),
    "read_off_the_stop": Words(
        "Set length read off the stop",
        "{where}: set length read {point_mm:length} off the stop: installed {preload_mm:length} there, "
        "{at_stop_mm:length} on the stop. Bands are for the fork extended, as it was read[; true range "
        "{range_mm:length}].",
    ),
    # --- adjusters ----------------------------------------------------------------------------------------------
    "adjuster_fully_in": Words(
        "Adjuster fully in",
        "{where}: the preload adjuster is fully in: no more preload to be had there. Do not force it: more takes a "
        "longer spacer or a stiffer spring.",
    ),
    "adjuster_fully_out": Words(
        "Adjuster fully out",
        "{where}: the preload adjuster is fully out: no less preload to be had there. Do not force it: less takes a "
        "shorter spacer or a softer spring.",
    ),
    "adjuster_fully_in.rear": Words(
        "Collar fully in",
        "{where}: the collar is fully in: no more preload to be had there. Do not force it: more takes a stiffer "
        "spring.",
    ),
    "adjuster_fully_out.rear": Words(
        "Collar fully out",
        "{where}: the collar is fully out: no less preload to be had there. Do not force it: less takes a softer "
        "spring.",
    ),
    "adjuster_nearly_in": Words(
        "Adjuster nearly fully in", "{where}: the preload adjuster has only {turns:turns} left towards more preload."
    ),
    "adjuster_nearly_out": Words(
        "Adjuster nearly fully out", "{where}: the preload adjuster has only {turns:turns} left towards less preload."
    ),
    "adjuster_beyond_range": Words(
        "Adjuster reading beyond its range",
        "{where}: the adjuster is entered as {reading:count}, but goes from {least:count} to {most:count}. "
        "Count again.",
    ),
    "set_length_at_beyond_range": Words(
        "Set length read beyond the range",
        "{where}: set length read at {reading:count}, but the adjuster goes from {least:count} to {most:count}. "
        "Correct the position.",
    ),
    "adjuster_ends_equal": Words(
        "Adjuster reads the same at both ends",
        "{where}: the adjuster reads {reading:count} fully out and fully in. Read it again at both ends.",
    ),
    "adjuster_readings_order": Words(
        "Adjuster readings in the wrong order",
        "{where}: fully in shows {fully_in:count}, fully out {out:count}; more showing is less preload. Swap the "
        "readings or read again.",
    ),
    "pitch_disagrees": Words(
        "Thread pitch and set lengths disagree",
        "{where}: range {lengths_mm:length} by set lengths, {thread_mm:length} by thread and turns. Measure the set "
        "lengths and count the turns again.",
    ),
    "pitch_and_range_disagree": Words(
        "Thread pitch and range disagree",
        "{where}: range {range_mm:length} as read in mm, {thread_mm:length} by thread and turns. Check the pitch and "
        "count the turns again.",
    ),
    "range_disagrees": Words(
        "Adjuster range and set lengths disagree",
        "{where}: range {lengths_mm:length} by set lengths, {thread_mm:length} by mm showing. Measure both again.",
    ),
    # --- left against right, dampers ----------------------------------------------------------------------------
    "rates_differ": Words(
        "Mixed springs",
        "Fork: {left:rate} left, {right:rate} right: mixed springs, called {mean_n_per_mm:rate} by their mean. Legal "
        "if free lengths match.",
    ),
    "installed_preload_differs": Words(
        "Installed preload differs between legs",
        "Fork: installed preload {left_mm:length} left, {right_mm:length} right. Even it out with the spacer, or mark "
        "it as meant.",
    ),
    "preload_now_differs": Words(
        "Preload differs between legs",
        "Fork: preload now {left_mm:length} left, {right_mm:length} right. Set the adjusters alike, or mark it as "
        "meant.",
    ),
    "compression_differs": Words(
        "Compression differs between legs",
        "Fork: compression {left:counted} left, {right:counted} right. Set them alike, or mark the dampers as split.",
    ),
    "rebound_differs": Words(
        "Rebound differs between legs",
        "Fork: rebound {left:counted} left, {right:counted} right. Set them alike, or mark the dampers as split.",
    ),
    "clicker_beyond_range": Words(
        "Damper setting beyond its range",
        "{where}: {path:field} {now:counted}, but the whole range is {total:count}. Count both again from fully in.",
    ),
    "fork_without_spring": Words(
        "Fork without a spring",
        "Fork: no leg has a spring. A fork sprung by air is not computed here; otherwise mark which leg has "
        "its spring.",
    ),
    "top_out_legs_taken": Words(
        "Which legs have the top-out spring",
        "Fork: the top-out spring is taken to be in the leg with the spring. Say which legs have it.",
    ),
    "top_out_reads_lower": Words(
        "Top-out spring: sag reads lower",
        "{where}: sag reads lower[ by about {unloaded_mm:length}] than the targets mean[; {share:share}"
        " of added preload shows in it].[ By how much waits for: {needs:labels}.]",
    ),
    # --- linkage ------------------------------------------------------------------------------------------------
    "linkage_pairs": Words(
        "Linkage pairs in disorder",
        "Shock: the linkage pairs do not rise: more wheel travel must give more shock travel, from 0 and 0. Swapped? "
        "Measure them again.",
    ),
    "linkage_ratio": Words(
        "Linkage pairs cannot be right",
        "Shock: the linkage pairs give a motion ratio that cannot be. Check wheel and shock travel of each pair.",
    ),
    "linkage_beyond_measured": Words(
        "Beyond the measured linkage",
        "Shock: sag {travel_mm:length} lies beyond what was measured of the linkage, {covered_mm:length}. Measure "
        "pairs further into the travel.",
    ),
    "linkage_goes_on": Words(
        "Last linkage pair short of full travel",
        "Shock: the last linkage pair, {last_mm:length}, is a little short of the end of travel, {end_mm:length}: the "
        "curve goes straight on.",
    ),
    "wheel_rate_uncertain": Words(
        "Wheel rate uncertain",
        "Shock: the linkage pairs leave the wheel rate uncertain, {rate:rate} ± {uncertainty:rate}. Measure more "
        "pairs, further apart, or read them finer.",
    ),
    "linkage_not_smooth": Words(
        "Linkage pairs on no smooth curve",
        "Shock: the linkage pairs lie on no smooth curve, most of all that at {wheel_mm:length}, {off_mm:length} off: "
        "read it again. The wheel rate is not to be relied on.",
    ),
    "gas_unknown": Words(
        "Wheel rate without gas force",
        "Shock: the wheel rate is without gas force, which is not known. Enter gas pressure and shaft diameter.",
    ),
    "wheel_rate_negative": Words(
        "Wheel rate not positive",
        "Shock: by these linkage pairs the wheel rate is not above zero, which cannot be. Measure the pairs again.",
    ),
    # --- the rest -----------------------------------------------------------------------------------------------
    "unknown_use": Words(
        "Unknown use: judged as track",
        "Job: there is no profile '{use:text}'; it is judged as {fallback:text}. Choose one of {names:text}.",
    ),
    "implausible": Words(
        "Value unlikely: check the unit",
        "{path:label} {value:mixed} is outside the usual {low:mixed_bare}–{high:mixed_short}: check number and unit[; "
        "{typed:count} {unit:text} would be {meant:mixed}].",
    ),
    "missing": Words("Readings missing", "{where}: to be measured next: {needs:labels}."),
    **SAGS,
    **GEOMETRY,
    **PREDICTION,
    **SPRINGS,
    **RUNS,
    **UPKEEP,
    **WORK,
}
