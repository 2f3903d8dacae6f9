"""Parts of the sentences that advise on the sags of one end. phrases.py explains the braces."""

from __future__ import annotations

AT = "{where}[ ({predicted_text:words})][ ({rider_by_load_text:words})]: "
SAGS = (
    AT + "[rider sag {rider_mm:length}][{rider_topped_out_text:words}]"
    "[, static {static_mm:length}][ {static_by_load_text:words}][, {static_topped_out_text:words}]. "
)
TURN_SAGS = (
    SAGS
    + "[{band_low_text:words}: {recheck_text:words}. ][{band_high_text:words}: {recheck_text:words}. ]"
    + "[{stands_low_text:words}: {recheck_text:words}. ][{stands_high_text:words}: {recheck_text:words}. ]"
)
TURN = (
    "{preload_mm:settable} of preload[ ({turns:turns} {turned_way:text})]"
    "[ (left {left_turns:turns}, right {right_turns:turns} {turned_way:text})]"
)
EXPECT = (
    "expect [rider {rider_after_mm:length}][{rider_after_topped_out_text:words}]"
    "[, static {static_after_mm:length}][, {static_after_topped_out_text:words}][ ({held_text:words})]"
    "[ ({near_edge_text:words})]."
)
AND_TURNED = (
    "[ and turn the adjuster {preload_mm:settable} {turned_way:text}][ ({turns:turns})]"
    "[ (left {left_turns:turns}, right {right_turns:turns})]"
)
SPACER = (
    "{spacer_change_mm:length}[ (to {new_spacer_mm:length})]"
    "[ (left to {left_spacer_mm:length}, right to {right_spacer_mm:length})]" + AND_TURNED
)

INSTALLED = (
    "[ {each_text:words}][ with {new_installed_mm:length} installed]"
    "[ with {new_installed_low_mm:length} and {new_installed_high_mm:length} installed]"
    "[ with {new_preload_mm:length} preload]"
    "[, adjuster {new_turns:turns} in][, adjuster {new_added_mm:length} in]"
    "[, {new_fully_out_text:words}][, {new_fully_in_text:words}]"
    "[; {then_text:words}][ rider {rider_after_mm:length}][ {rider_after_topped_out_text:words}]"
    "[, static {static_after_mm:length}][, {static_after_topped_out_text:words}][ ({held_text:words})]"
    "[ ({near_edge_text:words})]"
)
LENGTH = " {length_low_mm~length_high_mm:length} {length_way:text} and turn the adjuster {length_turned:text} as much"
_OTHER_LENGTH = "[ To bring installed preload into its band, take one" + LENGTH + ".]"
RATE = (
    "[, about {new_rate_n_per_mm:rate}]" + INSTALLED + ".[ No other rate comes closer: {stays_out_text:words}]"
    "[ No rate can be named: {rate_problem_text:words}.]"
    "[ To know which rate, enter {rate_needs:labels}.][ {replaces_both_text:words}][ {band_out_text:words}]"
    + _OTHER_LENGTH
)
AGAIN = "[ {again_text:words}]"
_TO_TELL = "[ By these readings {to_tell_text:words}]"
STAYS_OUT = "[ The adjuster alone comes no closer: {stays_out_text:words}]" + _TO_TELL
_NO_BAND = (
    "[ Installed preload is then {then_installed_mm:length}; this use has no band for it.][ {no_band_text:words}]"
)
AGAIN_SPACER = (
    _NO_BAND + "[ Preload alone comes no closer: {stays_out_text:words}]" + _TO_TELL + "[ {again_spacer_text:words}]"
)
_NO_RATE = (
    "No spring rate brings both sags fully into target: that needs {way} preload than the adjuster and the band allow."
)
MORE, LESS = (_NO_RATE.replace("{way}", way) for way in ("more", "less"))
BETWEEN = (
    "Only a rate of {low_n_per_mm~high_n_per_mm:rate} brings both sags fully into target, and that lies "
    "between the usual steps."
)
_FIRST = " First check weights, lengths[, {through_linkage_text:words}], the top-out spring and the targets."
NEEDS_MORE, NEEDS_LESS = (SAGS + words + _FIRST for words in (MORE, LESS))
NOT_SOLD = SAGS + BETWEEN
AS_IT_IS = " Neither another spring nor a change of preload gets much closer: leave both as they are."
_NO_NEARER = " No other spring gets much closer: "
TURNED = (
    _NO_NEARER
    + "turn the adjuster {preload_mm:settable} {turned_way:text}[ ({turns:turns})]; "
    + EXPECT
    + "[ {unread_text:words}]"
)
SPACED = _NO_NEARER + "make the spacer {spacer_way:text} by " + SPACER + "; " + EXPECT + "[ {unread_text:words}]"
NEAREST = " A {way:text} spring comes closest, about {rate_n_per_mm:rate}" + INSTALLED + ".[ {hides_text:words}]"

SET_AIR = (
    "Set [{main_chamber_text:words} ]{pressure_bar:pressure}[ left and {right_bar:pressure} right]"
    "[ at {at_c:temperature}]"
    " (now {now_bar:pressure}); expect rider {rider_after_mm:length}[, static {static_after_mm:length}]"
    "[ ({held_text:words})][ ({near_edge_text:words})].[ No pressure comes closer: {stays_out_text:words}]"
    "[ {static_stays_out_text:words}]"
)

CHECK = "Check label, friction, lengths and scales; until they agree, no other spring is advised."
