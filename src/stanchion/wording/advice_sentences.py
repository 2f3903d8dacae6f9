"""The words for the advice on the sags of one end. phrases.py explains the braces."""

from __future__ import annotations

from stanchion.wording.advice_phrases import (
    AGAIN,
    AGAIN_SPACER,
    AS_IT_IS,
    AT,
    CHECK,
    EXPECT,
    LENGTH,
    NEEDS_LESS,
    NEEDS_MORE,
    NOT_SOLD,
    RATE,
    SAGS,
    SET_AIR,
    SPACER,
    STAYS_OUT,
    TURN,
    TURN_SAGS,
)
from stanchion.wording.finding_tables import AdviceWords, Words

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
        "{where}: measured {captured_mm:length}, but springs and loads give {predicted_mm:length}. " + CHECK,
    ),
    "pair_suits": Words(
        "Springs and preload suit",
        AT + "rider sag {rider_mm:length} is in target[, and so is static, {static_mm:length}][ "
        "{static_by_load_text:words}]: springs and preload suit.",
    ),
    "pair_suits_recheck": Words(
        "Sags right, installed preload not",
        AT + "both suit, but installed preload {installed_mm:length} is[ {perhaps:words}] out of band. Recheck the "
        "lengths[, {recheck_adjuster_text:words}][, or fit {by_spring_text:words}][, or fit {by_spacer_text:words}]"
        "[" + LENGTH + "].",
    ),
    "pair_edge_recheck": Words(
        "Sag at the edge, preload out of band",
        SAGS + "{at_edge_text:words} to judge[ (± {expanded_mm:length})], and installed preload "
        "{installed_mm:length} is[ {perhaps:words}] out of band. Recheck the lengths, and where the adjuster was, then "
        "repeat each reading three times.",
    ),
    "lengths_first": Words(
        "Spring length first",
        SAGS + "First put the length of the spring right, then measure these sags again.",
    ),
    "pair_suits_over_limit": Words(
        "Sags right, preload over limit",
        AT + "both sags are in target, but installed preload {installed_mm:length} is over its limit. If the "
        "lengths are right, fit a stiffer spring with less preload" + RATE + AGAIN,
    ),
    "over_limit_shorter_spacer": Words(
        "Preload over limit: shorter spacer",
        AT + "[{at_edge_text:words} to judge. ]{installed_mm:length} installed "
        "is over its limit. If the lengths are right, make the spacer shorter by " + SPACER + "; " + EXPECT,
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
        AT + "rider sag is in target, but static sag is small. Either the spring is too soft and preload holds it "
        "up, or a top-out spring keeps static sag small: find out which.",
    ),
    "top_out_hides_static": Words(
        "Static sag small: top-out spring",
        AT + "rider sag {rider_mm:length} is in target; static sag is small because of the top-out spring. Leave "
        "the springs as they are.",
    ),
    "top_out_brings_in": Words(
        "In target only by the top-out spring",
        SAGS + "That is in target only because of the top-out spring: without it[, rider {rider_bare_mm:length}]"
        "[, static {static_bare_mm:length}]. Leave springs and preload; go by the manual's targets for this machine, "
        "or else by the travel used.",
    ),
    "top_out_hides_sags": Words(
        "Top-out spring changes how sag reads",
        SAGS + "The top-out spring changes how sag reads: without it[, rider {rider_bare_mm:length}]"
        "[, static {static_bare_mm:length}]. Leave springs and preload as they are; the manual may give targets for "
        "this machine.",
    ),
    "add_preload": Words("Add preload", TURN_SAGS + "Add " + TURN + "; " + EXPECT + STAYS_OUT),
    "add_preload_measure_again": Words(
        "Add preload, then measure again",
        TURN_SAGS + "Add " + TURN + "; " + EXPECT + STAYS_OUT + " Measure again.",
    ),
    "add_preload_headroom_unknown": Words(
        "Add preload; headroom not known",
        TURN_SAGS + "Add " + TURN + ". Headroom is not known: enter the adjuster's position and range.",
    ),
    "add_preload_amount_unknown": Words(
        "Add preload; how much is not known",
        TURN_SAGS + "Add preload. Enter spring rates, adjuster and motion ratio to know how much.",
    ),
    "less_preload": Words("Less preload", TURN_SAGS + "Take off " + TURN + "; " + EXPECT + STAYS_OUT),
    "less_preload_measure_again": Words(
        "Less preload, then measure again",
        TURN_SAGS + "Take off " + TURN + "; " + EXPECT + STAYS_OUT + " Measure again.",
    ),
    "less_preload_headroom_unknown": Words(
        "Less preload; headroom not known",
        TURN_SAGS + "Take off " + TURN + ". Headroom is not known: enter the adjuster's position and range.",
    ),
    "less_preload_amount_unknown": Words(
        "Less preload; how much is not known",
        TURN_SAGS + "Take off preload. Enter spring rates, adjuster and motion ratio to know how much.",
    ),
    "longer_spacer": Words(
        "Longer spacer", SAGS + "Make the spacer longer by " + SPACER + "; " + EXPECT + AGAIN_SPACER
    ),
    "longer_spacer_unchecked": Words(
        "Longer spacer if the band allows",
        SAGS
        + "Make the spacer longer by "
        + SPACER
        + " if installed preload stays in its band: enter the lengths, or see the manual."
        + AGAIN_SPACER,
    ),
    "shorter_spacer": Words(
        "Shorter spacer", SAGS + "Make the spacer shorter by " + SPACER + "; " + EXPECT + AGAIN_SPACER
    ),
    "shorter_spacer_unchecked": Words(
        "Shorter spacer if the band allows",
        SAGS
        + "Make the spacer shorter by "
        + SPACER
        + " if installed preload stays in its band: enter the lengths, or see the manual."
        + AGAIN_SPACER,
    ),
    "too_soft": Words(
        "Spring too soft",
        SAGS
        + "They are further apart than the targets allow: the spring is too soft, and preload would only hide it. Fit "
        "a stiffer one" + RATE + AGAIN,
    ),
    "too_soft_held_up": Words(
        "Too soft, held up by preload",
        SAGS + "The spring is too soft and preload holds it up: fit a stiffer spring with less preload" + RATE + AGAIN,
    ),
    "stiffer_at_limit": Words(
        "Preload at its limit: stiffer spring",
        SAGS
        + "Installed preload {installed_mm:length} is at its limit: do not fit a longer spacer but a stiffer spring"
        + RATE
        + AGAIN,
    ),
    "stiffer_no_room": Words(
        "More preload not enough: stiffer spring",
        SAGS
        + "This needs more preload than the adjuster[ ({left_mm:length} to add)][ (fully {fully:text})] and the band "
        "allow: fit a stiffer spring" + RATE + AGAIN,
    ),
    "too_stiff": Words(
        "Spring too stiff",
        SAGS
        + "They are closer together than the targets allow: the spring is too stiff. Fit a softer one"
        + RATE
        + AGAIN,
    ),
    "too_stiff_little_preload": Words(
        "Too stiff, with little preload",
        SAGS + "The spring is too stiff and has little preload: fit a softer spring with more preload" + RATE + AGAIN,
    ),
    "too_stiff_contradicted": Words(
        "Sags and installed preload disagree",
        AT + "by the sags the spring is too stiff with little preload, but installed preload {installed_mm:length} "
        "is at its limit. Recheck the lengths and the readings.",
    ),
    "softer_no_room": Words(
        "Less preload not enough: softer spring",
        SAGS
        + "This needs less preload than the adjuster[ ({left_mm:length} to take off)][ (fully {fully:text})] and the "
        "band allow: fit a softer spring" + RATE + AGAIN,
    ),
    "no_spring_needs_more": Words("No spring brings both sags into target", NEEDS_MORE + AS_IT_IS),
    "no_spring_needs_less": Words("No spring brings both sags into target", NEEDS_LESS + AS_IT_IS),
    "no_spring_sold": Words("Right spring rate between usual steps", NOT_SOLD + AS_IT_IS),
    "air_suits": Words(
        "Pressure suits",
        AT + "rider sag {rider_mm:length} is in target[, and so is static, {static_mm:length}]: the pressure suits.",
    ),
    "air_add": Words("Add air", SAGS + SET_AIR),
    "air_release": Words("Release air", SAGS + SET_AIR),
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
