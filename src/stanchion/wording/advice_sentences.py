"""The words for the advice on the sags of one end. phrases.py explains the braces."""

from __future__ import annotations

from typing import cast

from stanchion.wording.finding_tables import AdviceWords, Words

_AT = "{where}[ ({predicted_text:text})]: "
_SAGS = (
    _AT + "[rider sag {rider_mm:length}][{rider_topped_out_text:text}]"
    "[, static {static_mm:length}][ {static_by_load_text:text}][, {static_topped_out_text:text}]. "
)
_TURN_SAGS = _SAGS + "[{band_low_text:text} ][{band_high_text:text} ]"
_TURN = "{preload_mm:length}[ ({turns:turns} {turned_way:text})]"
_EXPECT = (
    "expect [rider {rider_after_mm:length}][{rider_after_topped_out_text:text}]"
    "[, static {static_after_mm:length}][, {static_after_topped_out_text:text}]."
)
_AND_TURNED = "[ and {preload_mm:length} {turned_way:text} at the adjuster]"
_SPACER = "{spacer_change_mm:length}[ (to {new_spacer_mm:length})]" + _AND_TURNED

_AGAIN = "[ {again_text:text}]"
_AGAIN_SPACER = "[ {again_spacer_text:text}]"
_NO_SPRING = (
    _SAGS
    + "No spring rate brings both sags fully into target: that needs {way} preload than adjuster and band allow. First "
    "check weights, lengths[, {through_linkage_text:text}], top-out spring and targets."
)
_NEEDS_MORE, _NEEDS_LESS = (_NO_SPRING.replace("{way}", way) for way in ("more", "less"))
_NOT_SOLD = (
    _SAGS
    + "Only a rate of {low_n_per_mm:rate} to {high_n_per_mm:rate} brings both sags fully into target, and that lies "
    "between the usual steps."
)
_AS_IT_IS = " Neither another spring nor more or less preload comes much nearer: leave both as they are."
_NO_NEARER = " No other spring comes much nearer: "
_TURNED = (
    _NO_NEARER
    + "turn the adjuster {preload_mm:length} {turned_way:text}[ ({turns:turns})]; "
    + _EXPECT
    + "[ {unread_text:text}]"
)
_SPACED = _NO_NEARER + "make the spacer {spacer_way:text} by " + _SPACER + "; " + _EXPECT + "[ {unread_text:text}]"
_NEAREST = " A {way:text} spring comes nearest, about {rate_n_per_mm:rate}[; {hides_text:text}]."

AT_EDGE: dict[str, str] = {
    "static": "Static sag is",
    "rider": "Rider sag is",
    "both": "Both are",
}
"""Which sag of an end is too near the edge of its target."""

ADVICE: AdviceWords = {
    "find_friction": Words(
        "Stiction: no advice on springs",
        "{where}: stiction is at fault, so there is no advice on springs. Find the friction, then measure again.",
    ),
    "measure_again_swapped": Words(
        "Readings swapped: no advice on springs",
        "{where}: readings are swapped, so there is no advice on springs. Put them right or measure again.",
    ),
    "measure_again_impossible": Words(
        "Readings impossible: no advice",
        "{where}: the readings cannot be right, so there is no advice on springs. Measure again, alone "
        "and with the rider.",
    ),
    "measure_again_changed": Words(
        "Sag read before a change: measure again",
        "{where}: preload or springs were changed after it was read: no advice until it is measured "
        "again, alone and with the rider.",
    ),
    "inputs_doubted": Words(
        "Entered values and sag disagree",
        "{where}: measured {captured_mm:length}, but springs and loads give {predicted_mm:length}. Check rate, lengths "
        "and weights; there is no advice until they agree.",
    ),
    "pair_suits": Words(
        "Springs and preload suit",
        _AT + "rider sag {rider_mm:length}[ and static {static_mm:length}][ {static_by_load_text:text}] in target: "
        "springs and preload suit.",
    ),
    "pair_suits_recheck": Words(
        "Sags right, installed preload not",
        _AT + "sags are in target, but installed preload {installed_mm:length} is out of band. Recheck the lengths and "
        "where the adjuster was when you read them.",
    ),
    "pair_suits_over_limit": Words(
        "Sags right, preload over limit",
        _AT + "sags are in target, but installed preload {installed_mm:length} is over its limit. Recheck lengths; if "
        "confirmed, fit a stiffer spring with less preload." + _AGAIN,
    ),
    "over_limit_shorter_spacer": Words(
        "Sags right, preload over limit",
        _AT + "sags are in target, but installed preload {installed_mm:length} is over its limit. Recheck lengths; if "
        "confirmed, make the spacer shorter by " + _SPACER + ".",
    ),
    "pair_borderline": Words(
        "Sag at the edge of its target",
        _SAGS + "{at_edge_text:text} too near the edge of target to tell: repeat the readings three times before any "
        "change.",
    ),
    "pair_down_only": Words(
        "Only pushed-down readings: not judged",
        _SAGS + "Without lifted readings sag reads too large by half the stiction, which is not known: take lifted "
        "readings as well.",
    ),
    "pair_close": Words(
        "Sag close to its target",
        _SAGS + "That is so close to target that turning the adjuster gains nothing: leave it.",
    ),
    "too_soft_or_top_out": Words(
        "Spring too soft, or a top-out spring",
        _AT + "rider sag is in target, static sag is small: the spring is too soft and preload holds it up, unless a "
        "top-out spring keeps it small. Find out which.",
    ),
    "top_out_hides_static": Words(
        "Static sag small: top-out spring",
        _AT + "rider sag {rider_mm:length} in target; static sag is small because of the top-out spring. The "
        "springs can stay.",
    ),
    "add_preload": Words("Add preload", _TURN_SAGS + "Add preload " + _TURN + "; " + _EXPECT),
    "add_preload_measure_again": Words(
        "Add preload, measure again", _TURN_SAGS + "Add preload " + _TURN + "; " + _EXPECT + " Measure again."
    ),
    "add_preload_headroom_unknown": Words(
        "Add preload; headroom not known",
        _TURN_SAGS + "Add preload " + _TURN + ". Headroom is not known: enter the adjuster's position and range.",
    ),
    "add_preload_amount_unknown": Words(
        "Add preload; how much is not known",
        _TURN_SAGS + "Add preload. Enter spring rates, adjuster and motion ratio to know how much.",
    ),
    "less_preload": Words("Less preload", _TURN_SAGS + "Take off preload " + _TURN + "; " + _EXPECT),
    "less_preload_measure_again": Words(
        "Less preload, measure again", _TURN_SAGS + "Take off preload " + _TURN + "; " + _EXPECT + " Measure again."
    ),
    "less_preload_headroom_unknown": Words(
        "Less preload; headroom not known",
        _TURN_SAGS + "Take off preload " + _TURN + ". Headroom is not known: enter the adjuster's position and range.",
    ),
    "less_preload_amount_unknown": Words(
        "Less preload; how much is not known",
        _TURN_SAGS + "Take off preload. Enter spring rates, adjuster and motion ratio to know how much.",
    ),
    "longer_spacer": Words(
        "Longer spacer", _SAGS + "Make the spacer longer by " + _SPACER + "; " + _EXPECT + _AGAIN_SPACER
    ),
    "longer_spacer_unchecked": Words(
        "Longer spacer, if the band allows",
        _SAGS
        + "Make the spacer longer by "
        + _SPACER
        + " if installed preload stays in band: enter the lengths, or see the manual."
        + _AGAIN_SPACER,
    ),
    "shorter_spacer": Words(
        "Shorter spacer", _SAGS + "Make the spacer shorter by " + _SPACER + "; " + _EXPECT + _AGAIN_SPACER
    ),
    "shorter_spacer_unchecked": Words(
        "Shorter spacer, if the band allows",
        _SAGS
        + "Make the spacer shorter by "
        + _SPACER
        + " if installed preload stays in band: enter the lengths, or see the "
        "manual." + _AGAIN_SPACER,
    ),
    "too_soft": Words(
        "Spring too soft",
        _SAGS
        + "They are further apart than the targets allow: the spring is too soft. Fit a stiffer one; preload would "
        "only hide it." + _AGAIN,
    ),
    "too_soft_held_up": Words(
        "Too soft, held up by preload",
        _SAGS + "The spring is too soft and preload holds it up: fit a stiffer spring with less preload." + _AGAIN,
    ),
    "stiffer_at_limit": Words(
        "Preload at its limit: stiffer spring",
        _SAGS
        + "Installed preload {installed_mm:length} is at its limit. Fit a stiffer spring, never a longer spacer."
        + _AGAIN,
    ),
    "stiffer_no_room": Words(
        "No preload left: stiffer spring",
        _SAGS
        + "This needs more preload than adjuster[ ({left_mm:length} left)] and band allow: fit a stiffer spring."
        + _AGAIN,
    ),
    "too_stiff": Words(
        "Spring too stiff",
        _SAGS + "They are closer together than the targets allow: the spring is too stiff. Fit a softer one." + _AGAIN,
    ),
    "too_stiff_little_preload": Words(
        "Too stiff, with little preload",
        _SAGS + "The spring is too stiff and has little preload: fit a softer spring with more preload." + _AGAIN,
    ),
    "too_stiff_contradicted": Words(
        "Sags and installed preload disagree",
        _AT + "by the sags the spring is too stiff with little preload, but installed preload {installed_mm:length} is "
        "at its limit. Recheck lengths and readings.",
    ),
    "softer_no_room": Words(
        "Preload cannot go lower: softer spring",
        _SAGS
        + "This needs less preload than adjuster[ ({left_mm:length} left)] and band allow: fit a softer spring."
        + _AGAIN,
    ),
    "no_spring_needs_more": Words(
        "No spring brings both sags into target",
        _NEEDS_MORE + _AS_IT_IS,
    ),
    "no_spring_needs_less": Words(
        "No spring brings both sags into target",
        _NEEDS_LESS + _AS_IT_IS,
    ),
    "no_spring_sold": Words("Right spring rate between usual steps", _NOT_SOLD + _AS_IT_IS),
}

ADVICE_VARIANTS: dict[str, Words] = {
    "no_spring_needs_more.turns": Words(
        "No spring brings both sags into target",
        _NEEDS_MORE + _TURNED,
    ),
    "no_spring_needs_more.spacer": Words(
        "No spring brings both sags into target",
        _NEEDS_MORE + _SPACED,
    ),
    "no_spring_needs_more.spring": Words(
        "No spring suits; another comes nearer",
        _NEEDS_MORE + _NEAREST,
    ),
    "no_spring_needs_less.turns": Words(
        "No spring brings both sags into target",
        _NEEDS_LESS + _TURNED,
    ),
    "no_spring_needs_less.spacer": Words(
        "No spring brings both sags into target",
        _NEEDS_LESS + _SPACED,
    ),
    "no_spring_needs_less.spring": Words(
        "No spring suits; another comes nearer",
        _NEEDS_LESS + _NEAREST,
    ),
    "no_spring_sold.turns": Words("Right spring rate between usual steps", _NOT_SOLD + _TURNED),
    "no_spring_sold.spacer": Words("Right spring rate between usual steps", _NOT_SOLD + _SPACED),
    "no_spring_sold.spring": Words("Between usual steps; another is nearer", _NOT_SOLD + _NEAREST),
}
"""Words used instead of those of a code, by the work that the advice asks for."""
ADVICE_VARIANTS |= {
    f"{code}.out_of_band": Words("Installed preload out of band, then turn", cast(Words, words).sentence)
    for code, words in ADVICE.items()
    if code.startswith(("add_preload", "less_preload"))
}

PREDICTED = "predicted"
"""Follows the part of the job where advice rests on predicted sag."""

FLAGS = {
    "rider_topped_out": "rider topped out",
    "static_topped_out": "static topped out",
    "rider_after_topped_out": "rider topped out",
    "static_after_topped_out": "static topped out",
    "static_by_load": "(predicted)",
    "again": "Measure again before buying one.",
    "unread": "Measure again.",
    "again_spacer": "Measure again before cutting one.",
    "band_low": "Installed preload is below its band: recheck lengths and spacer first.",
    "band_high": "Installed preload is above its band: recheck lengths and spacer first.",
    "through_linkage": "motion ratio",
    "hides": "preload would only hide it",
    "sag_outdated": "preload or springs were changed",
    "changed_since": "Changed since: ride again to judge.",
    "tyres": "tyre radius",
}
"""Words for values that are True; the first four stand in place of a sag."""
