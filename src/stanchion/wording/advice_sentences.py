"""The words for the advice on the sags of one end. phrases.py explains the braces."""

from __future__ import annotations

from typing import cast

from stanchion.wording.finding_tables import AdviceWords, Words
from stanchion.wording.fork_sentences import SET_ALIKE

_AT = "{where}[ ({predicted_text:words})][ ({rider_by_load_text:words})]: "
SAGS = (
    _AT + "[rider sag {rider_mm:length}][{rider_topped_out_text:words}]"
    "[, static {static_mm:length}][ {static_by_load_text:words}][, {static_topped_out_text:words}]. "
)
_TURN_SAGS = (
    SAGS
    + "[{band_low_text:words}: {recheck_text:words}. ][{band_high_text:words}: {recheck_text:words}. ]"
    + "[{stands_low_text:words}: {recheck_text:words}. ][{stands_high_text:words}: {recheck_text:words}. ]"
)
TURN = (
    "{preload_mm:settable} of preload[ ({turns:turns} {turned_way:text})]"
    "[ (left {left_turns:turns}, right {right_turns:turns} {turned_way:text})]"
)
_EXPECT = (
    "expect [rider {rider_after_mm:length}][{rider_after_topped_out_text:words}]"
    "[, static {static_after_mm:length}][, {static_after_topped_out_text:words}][ ({held_text:words})]"
    "[ ({near_edge_text:words})]."
)
AND_TURNED = (
    "[ and turn the adjuster {preload_mm:settable} {turned_way:text}][ ({turns:turns})]"
    "[ (left {left_turns:turns}, right {right_turns:turns})]"
)
_SPACER = (
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
_LENGTH = " {length_low_mm~length_high_mm:length} {length_way:text} and turn the adjuster {length_turned:text} as much"
_OTHER_LENGTH = "[ To bring installed preload into its band, take one" + _LENGTH + ".]"
_RATE = (
    "[, about {new_rate_n_per_mm:rate}]" + INSTALLED + ".[ No other rate comes closer: {stays_out_text:words}]"
    "[ No rate can be named: {rate_problem_text:words}.]"
    "[ To know which rate, enter {rate_needs:labels}.][ {replaces_both_text:words}][ {band_out_text:words}]"
    + _OTHER_LENGTH
)
_AGAIN = "[ {again_text:words}]"
_TO_TELL = "[ By these readings {to_tell_text:words}]"
_STAYS_OUT = "[ The adjuster alone comes no closer: {stays_out_text:words}]" + _TO_TELL
_NO_BAND = (
    "[ Installed preload is then {then_installed_mm:length}; this use has no band for it.][ {no_band_text:words}]"
)
_AGAIN_SPACER = (
    _NO_BAND + "[ Preload alone comes no closer: {stays_out_text:words}]" + _TO_TELL + "[ {again_spacer_text:words}]"
)
_NO_RATE = (
    "No spring rate brings both sags fully into target: that needs {way} preload than the adjuster and the band allow."
)
_MORE, _LESS = (_NO_RATE.replace("{way}", way) for way in ("more", "less"))
_BETWEEN = (
    "Only a rate of {low_n_per_mm~high_n_per_mm:rate} brings both sags fully into target, and that lies "
    "between the usual steps."
)
_FIRST = " First check weights, lengths[, {through_linkage_text:words}], the top-out spring and the targets."
_NEEDS_MORE, _NEEDS_LESS = (SAGS + words + _FIRST for words in (_MORE, _LESS))
_NOT_SOLD = SAGS + _BETWEEN
_AS_IT_IS = " Neither another spring nor a change of preload gets much closer: leave both as they are."
_NO_NEARER = " No other spring gets much closer: "
_TURNED = (
    _NO_NEARER
    + "turn the adjuster {preload_mm:settable} {turned_way:text}[ ({turns:turns})]; "
    + _EXPECT
    + "[ {unread_text:words}]"
)
_SPACED = _NO_NEARER + "make the spacer {spacer_way:text} by " + _SPACER + "; " + _EXPECT + "[ {unread_text:words}]"
_NEAREST = " A {way:text} spring comes closest, about {rate_n_per_mm:rate}" + INSTALLED + ".[ {hides_text:words}]"

_SET_AIR = (
    "Set [{main_chamber_text:words} ]{pressure_bar:pressure}[ left and {right_bar:pressure} right]"
    "[ at {at_c:temperature}]"
    " (now {now_bar:pressure}); expect rider {rider_after_mm:length}[, static {static_after_mm:length}]"
    "[ ({held_text:words})][ ({near_edge_text:words})].[ No pressure comes closer: {stays_out_text:words}]"
    "[ {static_stays_out_text:words}]"
)

_CHECK = "Check label, friction, lengths and scales; until they agree, no other spring is advised."

ADVICE: AdviceWords = {
    "find_friction": Words(
        "Too much stiction: no spring advice",
        "{where}: there is too much stiction for advice on springs. Find the friction, then measure again.",
    ),
    "measure_again_swapped": Words(
        "Readings swapped: no advice on springs",
        "{where}: the readings are swapped, so there is no advice on springs. Swap them or measure again.",
    ),
    "measure_again_impossible": Words(
        "Readings impossible: no advice",
        "{where}: the readings cannot be right, so there is no advice on springs. Measure again, alone "
        "and with the rider.",
    ),
    "measure_again_changed": Words(
        "Sag read before a change: measure again",
        "{where} was read before a change of {changed:sag_changes}. Measure it again, alone and with the rider[; "
        "{by_prediction_text:words}][; {no_advice_text:words}].",
    ),
    "inputs_doubted": Words(
        "Entered values and sag disagree",
        "{where}: measured {captured_mm:length}, but springs and loads predict {predicted_mm:length}. Check rate, "
        "lengths and weights; there is no advice until they agree.",
    ),
    "loads_doubted": Words(
        "Weights contradict: no prediction",
        "{where}: scales and masses contradict each other, so the predicted sags are in doubt and give no advice. "
        "Correct the mass or weigh again.",
    ),
    "check_before_spring": Words(
        "Entered values and sag disagree: check",
        "{where}: measured {captured_mm:length}, but springs and loads give {predicted_mm:length}. " + _CHECK,
    ),
    "pair_suits": Words(
        "Springs and preload suit",
        _AT + "rider sag {rider_mm:length} is in target[, and so is static, {static_mm:length}][ "
        "{static_by_load_text:words}]: springs and preload suit.",
    ),
    "pair_suits_recheck": Words(
        "Sags right, installed preload not",
        _AT + "both suit, but installed preload {installed_mm:length} is out of band. Recheck the "
        "lengths[, {recheck_adjuster_text:words}][, or fit {by_spring_text:words}][, or fit {by_spacer_text:words}]"
        "[" + _LENGTH + "].",
    ),
    "pair_edge_recheck": Words(
        "Sag at the edge, preload out of band",
        SAGS + "{at_edge_text:words} to judge[ (± {expanded_mm:length})], and installed preload "
        "{installed_mm:length} is out of band. Recheck the lengths, and where the adjuster was, then repeat each "
        "reading three times.",
    ),
    "lengths_first": Words(
        "Spring length first",
        SAGS + "First put the length of the spring right, then measure these sags again.",
    ),
    "pair_suits_over_limit": Words(
        "Sags right, preload over limit",
        _AT + "both sags are in target, but installed preload {installed_mm:length} is over its limit. If the "
        "lengths are right, fit a stiffer spring with less preload" + _RATE + _AGAIN,
    ),
    "over_limit_shorter_spacer": Words(
        "Preload over limit: shorter spacer",
        _AT + "[{at_edge_text:words} to judge. ]{installed_mm:length} installed "
        "is over its limit. If the lengths are right, make the spacer shorter by " + _SPACER + "; " + _EXPECT,
    ),
    "pair_borderline": Words(
        "Sag at the edge of its target",
        SAGS + "{at_edge_text:words} to judge[ (± {expanded_mm:length})]: measure again before any change.",
    ),
    "pair_down_only": Words(
        "Only pushed-down readings: not judged",
        SAGS + "Without lifted readings, sag reads too large by half the stiction, which is not known: take lifted "
        "readings as well.",
    ),
    "pair_close": Words(
        "Sag close to its target",
        SAGS + "That is so close to the target that turning the adjuster gains nothing: leave it.",
    ),
    "pair_nearest": Words(
        "No other spring comes nearer",
        SAGS + "No spring in the range comes nearer to the targets, and no change of preload gets much closer: leave "
        "both as they are.",
    ),
    "too_soft_or_top_out": Words(
        "Spring too soft, or a top-out spring",
        _AT + "rider sag is in target, but static sag is small. Either the spring is too soft and preload holds it "
        "up, or a top-out spring keeps static sag small: find out which.",
    ),
    "top_out_hides_static": Words(
        "Static sag small: top-out spring",
        _AT + "rider sag {rider_mm:length} is in target; static sag is small because of the top-out spring. Leave "
        "the springs as they are.",
    ),
    "top_out_hides_sags": Words(
        "Top-out spring changes how sag reads",
        SAGS + "The top-out spring changes how sag reads: without it[, rider {rider_bare_mm:length}]"
        "[, static {static_bare_mm:length}]. Leave springs and preload as they are; the manual may give targets for "
        "this machine.",
    ),
    "add_preload": Words("Add preload", _TURN_SAGS + "Add " + TURN + "; " + _EXPECT + _STAYS_OUT),
    "add_preload_measure_again": Words(
        "Add preload, then measure again",
        _TURN_SAGS + "Add " + TURN + "; " + _EXPECT + _STAYS_OUT + " Measure again.",
    ),
    "add_preload_headroom_unknown": Words(
        "Add preload; headroom not known",
        _TURN_SAGS + "Add " + TURN + ". Headroom is not known: enter the adjuster's position and range.",
    ),
    "add_preload_amount_unknown": Words(
        "Add preload; how much is not known",
        _TURN_SAGS + "Add preload. Enter spring rates, adjuster and motion ratio to know how much.",
    ),
    "less_preload": Words("Less preload", _TURN_SAGS + "Take off " + TURN + "; " + _EXPECT + _STAYS_OUT),
    "less_preload_measure_again": Words(
        "Less preload, then measure again",
        _TURN_SAGS + "Take off " + TURN + "; " + _EXPECT + _STAYS_OUT + " Measure again.",
    ),
    "less_preload_headroom_unknown": Words(
        "Less preload; headroom not known",
        _TURN_SAGS + "Take off " + TURN + ". Headroom is not known: enter the adjuster's position and range.",
    ),
    "less_preload_amount_unknown": Words(
        "Less preload; how much is not known",
        _TURN_SAGS + "Take off preload. Enter spring rates, adjuster and motion ratio to know how much.",
    ),
    "longer_spacer": Words(
        "Longer spacer", SAGS + "Make the spacer longer by " + _SPACER + "; " + _EXPECT + _AGAIN_SPACER
    ),
    "longer_spacer_unchecked": Words(
        "Longer spacer if the band allows",
        SAGS
        + "Make the spacer longer by "
        + _SPACER
        + " if installed preload stays in its band: enter the lengths, or see the manual."
        + _AGAIN_SPACER,
    ),
    "shorter_spacer": Words(
        "Shorter spacer", SAGS + "Make the spacer shorter by " + _SPACER + "; " + _EXPECT + _AGAIN_SPACER
    ),
    "shorter_spacer_unchecked": Words(
        "Shorter spacer if the band allows",
        SAGS
        + "Make the spacer shorter by "
        + _SPACER
        + " if installed preload stays in its band: enter the lengths, or see the manual."
        + _AGAIN_SPACER,
    ),
    "too_soft": Words(
        "Spring too soft",
        SAGS
        + "They are further apart than the targets allow: the spring is too soft, and preload would only hide it. Fit "
        "a stiffer one" + _RATE + _AGAIN,
    ),
    "too_soft_held_up": Words(
        "Too soft, held up by preload",
        SAGS
        + "The spring is too soft and preload holds it up: fit a stiffer spring with less preload"
        + _RATE
        + _AGAIN,
    ),
    "stiffer_at_limit": Words(
        "Preload at its limit: stiffer spring",
        SAGS
        + "Installed preload {installed_mm:length} is at its limit: do not fit a longer spacer but a stiffer spring"
        + _RATE
        + _AGAIN,
    ),
    "stiffer_no_room": Words(
        "More preload not enough: stiffer spring",
        SAGS
        + "This needs more preload than the adjuster[ ({left_mm:length} to add)] and the band allow: fit a stiffer "
        "spring" + _RATE + _AGAIN,
    ),
    "too_stiff": Words(
        "Spring too stiff",
        SAGS
        + "They are closer together than the targets allow: the spring is too stiff. Fit a softer one"
        + _RATE
        + _AGAIN,
    ),
    "too_stiff_little_preload": Words(
        "Too stiff, with little preload",
        SAGS + "The spring is too stiff and has little preload: fit a softer spring with more preload" + _RATE + _AGAIN,
    ),
    "too_stiff_contradicted": Words(
        "Sags and installed preload disagree",
        _AT + "by the sags the spring is too stiff with little preload, but installed preload {installed_mm:length} "
        "is at its limit. Recheck the lengths and the readings.",
    ),
    "softer_no_room": Words(
        "Less preload not enough: softer spring",
        SAGS
        + "This needs less preload than the adjuster[ ({left_mm:length} to take off)] and the band allow: fit a softer "
        "spring" + _RATE + _AGAIN,
    ),
    "no_spring_needs_more": Words("No spring brings both sags into target", _NEEDS_MORE + _AS_IT_IS),
    "no_spring_needs_less": Words("No spring brings both sags into target", _NEEDS_LESS + _AS_IT_IS),
    "no_spring_sold": Words("Right spring rate between usual steps", _NOT_SOLD + _AS_IT_IS),
    "air_suits": Words(
        "Pressure suits",
        _AT + "rider sag {rider_mm:length} is in target[, and so is static, {static_mm:length}]: the pressure suits.",
    ),
    "air_add": Words("Add air", SAGS + _SET_AIR),
    "air_release": Words("Release air", SAGS + _SET_AIR),
    "air_add_unknown": Words(
        "Add air; how much is not known",
        SAGS + "Add air in small steps and measure again. To know the pressure, enter the bore, chambers and travel.",
    ),
    "air_release_unknown": Words(
        "Release air; how much is not known",
        SAGS
        + "Release air in small steps and measure again. To know the pressure, enter the bore, chambers and travel.",
    ),
    "air_static_out": Words(
        "Main pressure cannot set static sag",
        SAGS + "No pressure in the main chamber brings both sags into target: see the manual on the balance chamber.",
    ),
    "air_at_most": Words(
        "Needs more pressure than allowed",
        SAGS + "This needs more pressure than the manufacturer allows[ ({most_bar:pressure})]: check weights and "
        "chambers, and see the manual.",
    ),
    "air_at_least": Words(
        "Sag too small even without pressure",
        SAGS + "Releasing all the air is not enough: check weights, chambers and the other leg's spring.",
    ),
}

ADVICE_VARIANTS: dict[str, Words] = {
    "measure_again_changed.rider_only": Words(
        "Rider changed: measure again",
        "{where}: rider sag was read before the rider was changed. Measure it again with this rider aboard[; "
        "{by_prediction_text:words}][; {no_advice_text:words}].",
    ),
    "check_before_spring.rate": Words(
        "Measured and calculated rate disagree",
        "{where}: the measured rate is {working:rate}, the calculated rate {predicted:rate}. " + _CHECK,
    ),
    "check_before_spring.loads": Words(
        "Weights contradict: no spring advised",
        "{where}: scales and masses contradict each other. Correct the mass or weigh again before a spring is changed.",
    ),
    "pair_borderline.predicted": Words("Sag at edge: measure", SAGS + "{at_edge_text:words} to judge: measure first."),
    "pair_borderline.single": Words(
        "Sag at edge of target: repeat readings",
        SAGS + "{at_edge_text:words} to judge by readings taken only once[ (± {expanded_mm:length})]: repeat each "
        "reading three times before any change.",
    ),
    "pair_borderline.repeated": Words(
        "Sag at the edge of its target: leave it",
        SAGS + "{at_edge_text:words} for repeated readings to tell[ (± {expanded_mm:length})]: springs and preload "
        "suit as they are.",
    ),
    "pair_borderline.air_repeated": Words(
        "Sag at the edge of its target: leave it",
        SAGS + "{at_edge_text:words} for repeated readings to tell[ (± {expanded_mm:length})]: leave the pressure as "
        "it is.",
    ),
    "pair_suits_over_limit.at_edge": Words(
        "Preload over limit, sag at the edge",
        SAGS + "{at_edge_text:words} to judge, and installed preload {installed_mm:length} is over its limit. If the "
        "lengths are right, fit a stiffer spring with less preload" + _RATE + _AGAIN,
    ),
    "pair_suits_recheck.stands": Words(
        "Sags right, preload out of band",
        _AT + "both sags are in target, but preload with the collar as it is now, {installed_mm:length}, is out of "
        "band. Recheck both lengths; if they are right, go by the sags.",
    ),
    "pair_edge_recheck.stands": Words(
        "Sag at the edge, preload out of band",
        SAGS + "{at_edge_text:words} to judge[ (± {expanded_mm:length})], and preload with the collar as it is now, "
        "{installed_mm:length}, is out of band. Recheck both lengths; if they are right, go by the sags.",
    ),
    "pair_edge_recheck.repeated": Words(
        "Sag at the edge, preload out of band",
        SAGS + "{at_edge_text:words} for repeated readings to tell[ (± {expanded_mm:length})], and installed "
        "preload {installed_mm:length} is out of band. Recheck the lengths, and where the adjuster was.",
    ),
    "lengths_first.of_leg": Words(
        "Spacer of one leg first",
        SAGS + "First recheck the lengths of the {of_leg:text} leg; if they are right, make its spacer "
        "{match_way:text} by {match_mm:length}[, to {match_spacer_mm:length}]" + SET_ALIKE + ". Then measure these "
        "sags again.",
    ),
    "lengths_first.both_legs": Words(
        "Spacers alike first",
        SAGS + "First match installed preload with the spacer[: {match_left_mm:length} left, {match_right_mm:length} "
        "right]" + SET_ALIKE + ". Then measure these sags again.",
    ),
    "no_spring_needs_more.turns": Words("No spring brings both sags into target", _NEEDS_MORE + _TURNED),
    "no_spring_needs_more.spacer": Words("No spring brings both sags into target", _NEEDS_MORE + _SPACED),
    "no_spring_needs_more.spring": Words("No spring suits; another comes closer", _NEEDS_MORE + _NEAREST),
    "no_spring_needs_less.turns": Words("No spring brings both sags into target", _NEEDS_LESS + _TURNED),
    "no_spring_needs_less.spacer": Words("No spring brings both sags into target", _NEEDS_LESS + _SPACED),
    "no_spring_needs_less.spring": Words("No spring suits; another comes closer", _NEEDS_LESS + _NEAREST),
    "no_spring_sold.turns": Words("Right spring rate between usual steps", _NOT_SOLD + _TURNED),
    "no_spring_sold.spacer": Words("Right spring rate between usual steps", _NOT_SOLD + _SPACED),
    "no_spring_sold.spring": Words("Between usual steps; another is closer", _NOT_SOLD + _NEAREST),
}
"""Words used instead of those of a code, by the work that the advice asks for."""
ADVICE_VARIANTS |= {
    f"{code}.{variant}": Words(headline, cast(Words, words).sentence)
    for code, words in ADVICE.items()
    for begins, side in (("add_preload", "below"), ("less_preload", "above"))
    for variant, headline in (
        ("out_of_band", "Installed preload out of band, then turn"),
        ("stands_out", f"Preload {side} its band: turn the collar"),
    )
    if code.startswith(begins)
}
ADVICE_VARIANTS |= {
    f"{code}.out_of_band": Words("Preload out of band; no rate suits both", _TURN_SAGS + words + _TURNED)
    for code, words in (
        ("no_spring_needs_more", _MORE),
        ("no_spring_needs_less", _LESS),
        ("no_spring_sold", _BETWEEN),
    )
}
