"""The words for findings on installed preload, spring lengths and preload adjusters."""

from __future__ import annotations

from stanchion.wording.finding_tables import AdjusterWords, LengthWords, PreloadWords, Words

_OUT_OF_BAND = "[ ({preload_mm:length} installed, band {low_mm~high_mm:numbers})]"
_BETWEEN_LEGS = (
    "Fork: the {short:text} spring is {difference_mm:length} shorter than the {long:text} one"
    + _OUT_OF_BAND
    + ". Match them, or "
)
_SINCE_LAST_TIME = (
    "{where}: free length {new_mm:length}, last time {old_mm:length}" + _OUT_OF_BAND + ". Fit the same length, or "
)

PRELOAD: PreloadWords = {
    "spring_loose": Words(
        "Spring loose",
        "{where}: installed preload is {preload_mm:length}[, {now_mm:settable} now], so the spring is loose. Check "
        "whether free and set length are swapped; if not, fit a longer spacer.",
    ),
    "loose_fully_out": Words(
        "Spring loose with adjuster fully out",
        "{where}: the spring would be loose with the adjuster fully out (installed preload {preload_mm:length}, "
        "now {now_mm:settable}). Fit a longer spacer.",
    ),
    "spring_may_come_loose": Words(
        "Spring can come loose when extended",
        "{where}: installed preload {preload_mm:length} is under {loose_below_mm:short}: the spring can come loose. "
        "Fit a longer spring[, or keep the collar {keep_in_mm:length} in from fully out].",
    ),
    "preload_by_manual": Words(
        "Installed preload: go by the manual",
        "{where}: installed preload is {preload_mm:length}. This use has no band for it: go by the manufacturer's "
        "manual.",
    ),
    "preload_low": Words(
        "Installed preload low",
        "{where}: installed preload {preload_mm:length} is below the band {low_mm~high_mm:band}. Make the "
        "spacer longer by {low_mm-preload_mm:length} or more.",
    ),
    "preload_near_limit": Words(
        "Installed preload near its limit",
        "{where}: installed preload {preload_mm:length} is {nearness_text:words} the limit of {limit_mm:short}. "
        "Do not fit a longer spacer; if more is needed, fit a stiffer spring.",
    ),
    "preload_borderline": Words(
        "Installed preload borderline",
        "{where}: installed preload {preload_mm:length} (± {expanded_mm:length}) is too near {edge_mm:short} to tell "
        "whether it is {way:words} it. Measure free and set length again, with a caliper.",
    ),
    "preload_high": Words(
        "Installed preload high",
        "{where}: installed preload {preload_mm:length} is above the band {low_mm~high_mm:band}. Make the "
        "spacer shorter by {preload_mm-high_mm:length}, or fit a stiffer spring.",
    ),
    "preload_over_limit": Words(
        "Preload over limit",
        "{where}: installed preload {preload_mm:length} is over the limit of {limit_mm:short}. Recheck the lengths; if "
        "they are right, change the spring.",
    ),
}

PRELOAD_VARIANTS: dict[str, Words] = {
    "spring_loose.rear": Words(
        "Shock spring loose",
        "{where}: installed preload is {preload_mm:length}[, {now_mm:settable} now], so the spring is loose. Check "
        "whether free and set length are swapped; if not, fit a longer spring.",
    ),
    "spring_loose.stands": Words(
        "Shock spring loose",
        "{where}: preload is {preload_mm:length} with the collar as it is now, so the spring is loose. Recheck both "
        "lengths, then turn the collar in or fit a longer spring.",
    ),
    "loose_fully_out.by_sag": Words(
        "Spring loose with adjuster fully out",
        "{where}: the spring would be loose with the adjuster fully out (installed preload {preload_mm:length}, "
        "now {now_mm:settable}). Recheck the lengths, then go by the sags.",
    ),
    "loose_fully_out.rear": Words(
        "Spring loose with collar fully out",
        "{where}: the spring could come loose with the collar fully out (installed preload {preload_mm:length}, "
        "now {now_mm:settable})[. Keep the collar at least {keep_in_mm:length} in from fully out].",
    ),
    "spring_may_come_loose.stands": Words(
        "Spring can come loose when extended",
        "{where}: preload with the collar as it is now, {preload_mm:length}, is under {loose_below_mm:short}: the "
        "spring can come loose. Turn the collar {keep_in_mm:length} in, or fit a longer spring.",
    ),
    "preload_low.stands": Words(
        "Preload low",
        "{where}: preload with the collar as it is now, {preload_mm:length}, is below the band "
        "{low_mm~high_mm:band}. Go by the sags; do not reduce preload further.",
    ),
    "preload_low.rear": Words(
        "Installed preload low",
        "{where}: installed preload {preload_mm:length} is below the band {low_mm~high_mm:band}. Fit a longer "
        "spring[, or keep the collar {keep_in_mm:length} in from fully out].",
    ),
    "preload_low.by_sag": Words(
        "Installed preload low",
        "{where}: installed preload {preload_mm:length} is below the band {low_mm~high_mm:band}. Recheck the "
        "lengths, then go by the sags.",
    ),
    "preload_near_limit.stands": Words(
        "Preload near its limit",
        "{where}: preload with the collar as it is now, {preload_mm:length}, is {nearness_text:words} the limit of "
        "{limit_mm:short}. If more is needed, fit a stiffer spring.",
    ),
    "preload_near_limit.by_sag": Words(
        "Installed preload near its limit",
        "{where}: installed preload {preload_mm:length} is {nearness_text:words} the limit of {limit_mm:short}. "
        "Go by the sags.",
    ),
    "preload_borderline.stands": Words(
        "Preload borderline",
        "{where}: preload with the collar as it is now, {preload_mm:length} (± {expanded_mm:length}), is too near "
        "{edge_mm:short} to tell whether it is {way:words} it. Measure both lengths again, with a caliper.",
    ),
    "preload_high.stands": Words(
        "Preload high",
        "{where}: preload with the collar as it is now, {preload_mm:length}, is above the band "
        "{low_mm~high_mm:band}. Recheck both lengths, then turn the collar out or fit a stiffer spring.",
    ),
    "preload_high.rear": Words(
        "Installed preload high",
        "{where}: installed preload {preload_mm:length}, collar fully out, is above the band "
        "{low_mm~high_mm:band}. Recheck both lengths, then fit a shorter or stiffer spring.",
    ),
    "preload_high.by_sag": Words(
        "Installed preload high",
        "{where}: installed preload {preload_mm:length} is above the band {low_mm~high_mm:band}. Recheck the "
        "lengths, then go by the sags.",
    ),
    "preload_over_limit.stands": Words(
        "Preload over limit",
        "{where}: preload with the collar as it is now, {preload_mm:length}, is over the limit of {limit_mm:short}. "
        "Recheck both lengths, then turn the collar out or fit a stiffer spring.",
    ),
    "preload_high.stands_by_sag": Words(
        "Preload high",
        "{where}: preload with the collar as it is now, {preload_mm:length}, is above the band "
        "{low_mm~high_mm:band}. Recheck both lengths, then go by the sags.",
    ),
    "preload_over_limit.stands_by_sag": Words(
        "Preload over limit",
        "{where}: preload with the collar as it is now, {preload_mm:length}, is over the limit of "
        "{limit_mm:short}. Recheck both lengths, then go by the sags.",
    ),
    "preload_over_limit.by_sag": Words(
        "Preload over limit",
        "{where}: installed preload {preload_mm:length} is over the limit of {limit_mm:short}. Recheck the lengths; "
        "then go by the sags.",
    ),
}
"""Words that take the place of a finding's own: see finding_words.py."""


LENGTHS: LengthWords = {
    "set_lengths_order": Words(
        "Set lengths in the wrong order",
        "{where}: set length fully in {set_in_mm:length} is longer than fully out, {set_mm:length}. Swap them or "
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
    "set_length_at_beyond_range": Words(
        "Set length read beyond the range",
        "{where}: set length was read at {reading:count}, but the adjuster goes from {least:count} to {most:count}. "
        "Correct the position.",
    ),
    "free_lengths_differ": Words(
        "Spring lengths differ between legs",
        _BETWEEN_LEGS + "give the shorter one a spacer of {spacer_mm:length}.",
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
        _SINCE_LAST_TIME + "make the spacer longer by {old_mm-new_mm:length}[, to {spacer_mm:length}].",
    ),
    "longer_than_before": Words(
        "Spring longer than in the last job",
        _SINCE_LAST_TIME + "make the spacer shorter by {new_mm-old_mm:length}[, to {spacer_mm:length}].",
    ),
    "range_read_assembled": Words(
        "Range read against the top-out spring",
        "{where}: set lengths read against the top-out spring[ of the {in_leg:text} leg] make the range look a little "
        "small. Enter the top-out spring, or read on the stop.",
    ),
    "read_off_the_stop": Words(
        "Set length read off the stop",
        "{where}: set length was read {point_mm:length} off the stop[ in the {in_leg:text} leg, which alone has a "
        "top-out spring]: installed preload is {preload_mm:length} there "
        "and {at_stop_mm:length} on the stop. The band applies to the fork as it was read[; the true "
        "range is {range_mm:length}].",
    ),
}

ADJUSTERS: AdjusterWords = {
    "adjuster_fully_in": Words(
        "Adjuster fully in",
        "{where}: the preload adjuster is fully in and can add no more. Do not force it: more preload needs a longer "
        "spacer or a stiffer spring.",
    ),
    "adjuster_fully_out": Words(
        "Adjuster fully out",
        "{where}: the preload adjuster is fully out and can take off no more. Do not force it: less preload needs a "
        "shorter spacer or a softer spring.",
    ),
    "adjuster_nearly_in": Words(
        "Adjuster nearly fully in",
        "{where}: the preload adjuster has only[ {turns:turns}][ {left_mm:length}] left towards more preload.",
    ),
    "adjuster_nearly_out": Words(
        "Adjuster nearly fully out",
        "{where}: the preload adjuster has only[ {turns:turns}][ {left_mm:length}] left towards less preload.",
    ),
    "adjuster_beyond_range": Words(
        "Adjuster reading beyond its range",
        "{where}: the adjuster is entered as {reading:count}, but goes from {least:count} to {most:count}. Count "
        "again.",
    ),
    "adjuster_ends_equal": Words(
        "Adjuster reads the same at both ends",
        "{where}: the adjuster reads {reading:count} fully out and fully in. Read it again at both ends.",
    ),
    "adjuster_readings_order": Words(
        "Adjuster readings in the wrong order",
        "{where}: fully in shows {fully_in:count}, fully out {out:count}; more showing means less preload. Swap the "
        "readings or read again.",
    ),
    "adjuster_range_unlikely": Words(
        "Adjuster range unlikely",
        "{where}: pitch times turns comes to {range_mm:length}; no adjuster adds more than {most_mm:short}. Check "
        "pitch and turns.",
    ),
    "pitch_disagrees": Words(
        "Thread pitch and set lengths disagree",
        "{where}: the range is {lengths_mm:length} by set lengths, {thread_mm:length} by thread and turns. Measure the "
        "set lengths and count the turns again.",
    ),
    "pitch_and_range_disagree": Words(
        "Thread pitch and range disagree",
        "{where}: the range is {range_mm:length} as read in mm, {thread_mm:length} by thread and turns. Check the "
        "pitch and count the turns again.",
    ),
    "range_disagrees": Words(
        "Adjuster range and set lengths disagree",
        "{where}: the range is {lengths_mm:length} by set lengths, {thread_mm:length} by mm showing. Measure both "
        "again.",
    ),
}

LENGTH_VARIANTS: dict[str, Words] = {
    "adjuster_range_unlikely.clicks": Words(
        "Adjuster range unlikely",
        "{where}: all clicks together come to {range_mm:length}; no adjuster adds more than {most_mm:short}. Check "
        "the preload per click and the count.",
    ),
    "pitch_disagrees.clicks": Words(
        "Clicks and set lengths disagree",
        "{where}: range {lengths_mm:length} by set lengths, {thread_mm:length} by clicks. Measure the set lengths and "
        "count the clicks again.",
    ),
    "free_lengths_differ.without": Words(
        "Spring lengths differ between legs",
        _BETWEEN_LEGS + "make its spacer {difference_mm:length} longer.",
    ),
    "shorter_than_before.rear": Words(
        "Spring shorter than in the last job",
        _SINCE_LAST_TIME + "set the collar {old_mm-new_mm:length} further in.",
    ),
    "longer_than_before.rear": Words(
        "Spring longer than in the last job",
        _SINCE_LAST_TIME + "set the collar {new_mm-old_mm:length} further out.",
    ),
    "adjuster_fully_in.band_full": Words(
        "Adjuster fully in",
        "{where}: the preload adjuster is fully in and can add no more. Do not force it: at this installed "
        "preload only a stiffer spring carries more.",
    ),
    "adjuster_fully_out.band_full": Words(
        "Adjuster fully out",
        "{where}: the preload adjuster is fully out and can take off no more. Do not force it: at this installed "
        "preload only a softer spring gives more sag.",
    ),
    "free_lengths_differ.to_check": Words(
        "Spring lengths may differ between legs",
        "Fork: the {short:text} spring is {difference_mm:length} (± {expanded_mm:length}) shorter than the {long:text} "
        "one" + _OUT_OF_BAND + ". Stand both side by side and measure the difference by caliper. If it stays, match "
        "them[, or give the shorter one a spacer of {then_mm:length}].",
    ),
    "free_lengths_differ.band_full": Words(
        "Spring lengths differ between legs",
        "Fork: the {short:text} spring is {difference_mm:length} shorter than the {long:text} one. Match them: a "
        "spacer would take installed preload out of its band.",
    ),
    "shorter_than_before.band_full": Words(
        "Spring shorter than in the last job",
        "{where}: free length {new_mm:length}, last time {old_mm:length}. Fit the same length: a spacer for it would "
        "take installed preload out of its band.",
    ),
    "longer_than_before.band_full": Words(
        "Spring longer than in the last job",
        "{where}: free length {new_mm:length}, last time {old_mm:length}. Fit the same length: a spacer for it would "
        "take installed preload out of its band.",
    ),
    "adjuster_fully_in.settled": Words(
        "Adjuster fully in", "{where}: the preload adjuster is fully in: nothing more can be added. Do not force it."
    ),
    "adjuster_fully_out.settled": Words(
        "Adjuster fully out",
        "{where}: the preload adjuster is fully out: nothing more can be taken off. Do not force it.",
    ),
    "adjuster_fully_in.settled_rear": Words(
        "Collar fully in", "{where}: the collar is fully in: nothing more can be added. Do not force it."
    ),
    "adjuster_fully_out.settled_rear": Words(
        "Collar fully out", "{where}: the collar is fully out: nothing more can be taken off. Do not force it."
    ),
    "adjuster_fully_in.rear": Words(
        "Collar fully in",
        "{where}: the collar is fully in and can add no more. Do not force it: more preload needs a stiffer spring.",
    ),
    "adjuster_fully_out.rear": Words(
        "Collar fully out",
        "{where}: the collar is fully out and can take off no more. Do not force it: less preload needs a softer "
        "spring.",
    ),
}
"""Words that take the place of a finding's own: see finding_words.py."""
