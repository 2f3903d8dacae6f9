"""The words for findings on installed preload."""

from __future__ import annotations

from stanchion.wording.finding_tables import PreloadWords, Words

PRELOAD: PreloadWords = {
    "spring_loose": Words(
        "Spring loose",
        "{where}: installed preload is {preload_mm:length}[, {now_mm:length} now], so the spring is loose. Recheck "
        "free and set length (swapped?); fit a longer spacer.",
    ),
    "loose_fully_out": Words(
        "Spring loose if adjuster fully out",
        "{where}: installed preload is {preload_mm:length}: fully out the spring would be loose; preload now is "
        "{now_mm:length}. Fit a longer spacer.",
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
        "{where}: installed preload {preload_mm:length} is below the band {low_mm:bare}–{high_mm:short}. Fit a longer "
        "spacer, by {low_mm-preload_mm:length} or more.",
    ),
    "preload_near_limit": Words(
        "Installed preload near its limit",
        "{where}: installed preload {preload_mm:length} is close to the limit of {limit_mm:short}. Do not fit a longer "
        "spacer; if more is needed, fit a stiffer spring.",
    ),
    "preload_high": Words(
        "Installed preload high",
        "{where}: installed preload {preload_mm:length} is above the band {low_mm:bare}–{high_mm:short}. Fit a shorter "
        "spacer, by {preload_mm-high_mm:length}, or a stiffer spring.",
    ),
    "preload_over_limit": Words(
        "Preload over limit",
        "{where}: installed preload {preload_mm:length} is over the limit of {limit_mm:short}. Recheck the lengths; if "
        "right, the spring must change.",
    ),
}

PRELOAD_VARIANTS: dict[str, Words] = {
    "spring_loose.rear": Words(
        "Shock spring loose",
        "{where}: installed preload is {preload_mm:length}[, {now_mm:length} now], so the spring is loose. Recheck "
        "both lengths (swapped?); fit a longer spring.",
    ),
    "spring_loose.stands": Words(
        "Shock spring loose",
        "{where}: preload is {preload_mm:length} with the collar as it is now, so the spring is loose. Recheck both "
        "lengths (swapped?); turn the collar in or fit a longer spring.",
    ),
    "loose_fully_out.by_sag": Words(
        "Spring loose if adjuster fully out",
        "{where}: installed preload is {preload_mm:length}: fully out the spring would be loose; preload now is "
        "{now_mm:length}. Recheck the lengths; then go by the sags.",
    ),
    "loose_fully_out.rear": Words(
        "Spring loose if collar fully out",
        "{where}: installed preload is {preload_mm:length}: fully out the spring could come loose; preload now is "
        "{now_mm:length}[. Keep the collar at least {keep_in_mm:length} in from fully out].",
    ),
    "spring_may_come_loose.stands": Words(
        "Spring can come loose when extended",
        "{where}: preload with the collar as it is now, {preload_mm:length}, is under {loose_below_mm:short}: the "
        "spring can come loose. Turn the collar {keep_in_mm:length} in, or fit a longer spring.",
    ),
    "preload_low.stands": Words(
        "Preload low",
        "{where}: preload with the collar as it is now, {preload_mm:length}, is below the band "
        "{low_mm:bare}–{high_mm:short}. Go by the sags; do not reduce preload further.",
    ),
    "preload_low.rear": Words(
        "Installed preload low",
        "{where}: installed preload {preload_mm:length} is below the band {low_mm:bare}–{high_mm:short}. Fit a longer "
        "spring[, or keep the collar {keep_in_mm:length} in from fully out].",
    ),
    "preload_low.by_sag": Words(
        "Installed preload low",
        "{where}: installed preload {preload_mm:length} is below the band {low_mm:bare}–{high_mm:short}. Recheck the "
        "lengths; then go by the sags.",
    ),
    "preload_near_limit.stands": Words(
        "Preload near its limit",
        "{where}: preload with the collar as it is now, {preload_mm:length}, is close to the limit of "
        "{limit_mm:short}. If more is needed, fit a stiffer spring.",
    ),
    "preload_near_limit.by_sag": Words(
        "Installed preload near its limit",
        "{where}: installed preload {preload_mm:length} is close to the limit of {limit_mm:short}. Go by the sags.",
    ),
    "preload_high.stands": Words(
        "Preload high",
        "{where}: preload with the collar as it is now, {preload_mm:length}, is above the band "
        "{low_mm:bare}–{high_mm:short}. Recheck both lengths; if right, turn it out or fit a stiffer spring.",
    ),
    "preload_high.rear": Words(
        "Installed preload high",
        "{where}: installed preload {preload_mm:length}, collar fully out, is above the band "
        "{low_mm:bare}–{high_mm:short}. Recheck both lengths; if right, fit a shorter or stiffer spring.",
    ),
    "preload_high.by_sag": Words(
        "Installed preload high",
        "{where}: installed preload {preload_mm:length} is above the band {low_mm:bare}–{high_mm:short}. Recheck the "
        "lengths; then go by the sags.",
    ),
    "preload_over_limit.stands": Words(
        "Preload over limit",
        "{where}: preload with the collar as it is now, {preload_mm:length}, is over the limit of {limit_mm:short}. "
        "Recheck both lengths; if right, turn it out or fit a stiffer spring.",
    ),
    "preload_over_limit.by_sag": Words(
        "Preload over limit",
        "{where}: installed preload {preload_mm:length} is over the limit of {limit_mm:short}. Recheck the lengths; "
        "then go by the sags.",
    ),
}
"""Words that take the place of a finding's own: see finding_words.py."""
