"""The words for what loads and springs predict: findings on loads, on predicted sag and on the working rate."""

from __future__ import annotations

from stanchion.judgement.words import Words

PREDICTION: dict[str, Words] = {
    # --- loads --------------------------------------------------------------------------------------------------
    "scales_disagree_machine": Words(
        "Scales and machine's mass disagree",
        "Weights: the scales give {scales_kg:mass} for the machine alone, entered is {entered_kg:mass}. Weigh again; "
        "the scales are used.",
    ),
    "scales_disagree_rider": Words(
        "Scales and rider's mass disagree",
        "Weights: the scales give {scales_kg:mass} for the rider, entered is {entered_kg:mass}. Weigh again, in full "
        "gear; the scales are used.",
    ),
    "scales_disagree_aboard": Words(
        "Scales and masses disagree",
        "Weights: the scales give {scales_kg:mass} with the rider aboard, the masses {entered_kg:mass}. Weigh again; "
        "the scales are used.",
    ),
    "scales_swapped": Words(
        "Scale reads no more with the rider",
        "{path:label}: {aboard_kg:mass} with the rider aboard, {alone_kg:mass} alone. Swap the two readings or weigh "
        "again.",
    ),
    # --- predicted sag ------------------------------------------------------------------------------------------
    "predicted_bottoms": Words(
        "Springs predicted to bottom",
        "{path:label}: the load presses these springs to full travel. Recheck rate, preload and loads; fit stiffer "
        "springs before it is ridden.",
    ),
    "predicted_tops_out": Words(
        "Predicted to top out",
        "{path:label}: preload holds more than the load, so the suspension stays topped out. Less preload, or check "
        "the loads.",
    ),
    "predicted_twice": Words(
        "Linkage balances at two places",
        "{path:label}: the motion ratio falls so fast that two places balance the load. Measure the pairs again.",
    ),
    "sag_not_as_predicted": Words(
        "Sag not as predicted",
        "{path:label}: captured {captured_mm:length}, springs and loads give {predicted_mm:length}. {hint_text:text}",
    ),
    "bled_beyond_travel": Words(
        "Bled beyond full travel",
        "{path:label}: the fork was bled at more compression than it has travel. Correct it; the figures are without "
        "air.",
    ),
    "air_no_room": Words(
        "No room for air at full travel",
        "{path:label}: air gap and solids leave no air at full travel. Recheck both; the figures are without air.",
    ),
    # --- the target ---------------------------------------------------------------------------------------------
    "target_met": Words(
        "Rider sag at its target",
        "{end:text}: rider sag {now_mm:length} is at the middle of its target, {middle_mm:length}.[ {shift_text:text}]",
    ),
    "target_within": Words(
        "Rider sag within its target",
        "{end:text}: rider sag {now_mm:length} is within its target, {low_mm:short} to {high_mm:short}[; {mm:length} "
        "{by:text} preload would centre it][, {turns:turns} {way_turned:text}].[ "
        "{shift_text:text}]",
    ),
    "target_more": Words(
        "More preload for the target",
        "{end:text}: for rider sag {middle_mm:length} (now {now_mm:length}): {mm:length} more preload[, {turns:turns} "
        "in].[ {shift_text:text}]",
    ),
    "target_less": Words(
        "Less preload for the target",
        "{end:text}: for rider sag {middle_mm:length} (now {now_mm:length}): {mm:length} less preload[, {turns:turns} "
        "out].[ {shift_text:text}]",
    ),
    "target_loose": Words(
        "Target would loosen the spring",
        "{end:text}: {mm:length} less preload gives the target, but leaves {preload_mm:length}: the spring can come "
        "loose. Softer spring, more preload.",
    ),
    "target_at_limit": Words(
        "Installed preload is at its limit",
        "{end:text}: rider sag {middle_mm:length} needs {mm:length} more preload[, {turns:turns} in], but installed "
        "is at its limit of {limit_mm:short}. Stiffer spring.",
    ),
    "target_longer_spacer": Words(
        "Target needs a longer spacer",
        "{end:text}: rider sag {middle_mm:length} needs {mm:length} more preload[; the adjuster has "
        "{left_mm:length}]. Spacer longer by {spacer_change_mm:length}.",
    ),
    "target_shorter_spacer": Words(
        "Target needs a shorter spacer",
        "{end:text}: rider sag {middle_mm:length} needs {mm:length} less preload[; the adjuster has "
        "{left_mm:length}]. Spacer shorter by {spacer_change_mm:length}.",
    ),
    "target_stiffer": Words(
        "Target needs a stiffer spring",
        "{end:text}: preload alone does not bring rider sag from {now_mm:length} to {middle_mm:length}[: fully in "
        "gives {at_end_mm:length}]. Stiffer spring.",
    ),
    "target_softer": Words(
        "Target needs a softer spring",
        "{end:text}: preload alone does not bring rider sag from {now_mm:length} to {middle_mm:length}[: fully out "
        "gives {at_end_mm:length}]. Softer spring.",
    ),
    # --- the working rate ---------------------------------------------------------------------------------------
    "working_rate_high": Words(
        "Working rate above the springs' rate",
        "{path:label}: the sags work at {working:rate}, the springs give {predicted:rate} ({share:share} off). "
        "{hint_text:text}",
    ),
    "working_rate_low": Words(
        "Working rate below the springs' rate",
        "{path:label}: the sags work at {working:rate}, the springs give {predicted:rate} ({share:share} off). "
        "{hint_text:text}",
    ),
}

HINTS = {
    "estimate": "Weigh it: loads are estimates.",
    "friction": "Find the friction first.",
    "label": "Check label, friction, lengths, scales.",
    "without": "Enter what the prediction is without.",
}
"""What a captured sag or rate that is not as predicted points to; at most 40 characters."""

SHIFTED = "Corrected by the captured sag."
"""That the model was shifted to what the tape showed."""

WITHOUT = {
    "rake": "rake",
    "unsprung_front": "unsprung mass",
    "unsprung_rear": "unsprung mass",
    "travel_front": "full travel",
    "travel_rear": "full travel",
    "top_out": "top-out spring",
    "air": "trapped air",
    "solids": "solids in the air space",
    "gas": "gas force",
}
"""What a prediction leaves out because it was not entered."""


def without_words(codes: tuple[str, ...]) -> str:
    """What is left out, as a list in words.

    >>> without_words(("rake", "air"))
    'rake and trapped air'
    """
    names = list(dict.fromkeys(WITHOUT[code] for code in codes))
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}" if names else "nothing"
