"""The words for the advice on a pair of sags. phrases.py explains the braces."""

from __future__ import annotations

from stanchion.judgement.words import Words

_SIZE = "{preload_mm:length}[ ({turns:turns})]"
_SPACER = "{spacer_change_mm:length}[ (to {new_spacer_mm:length})]"
_SPREAD = "[{within_spread_text:text}]"

ADVICE_WORDS: dict[str, Words] = {
    "pair_suits": Words(
        "Springs and preload suit", "{where}: rider and static sag are in target: springs and preload suit."
    ),
    "pair_suits_recheck": Words(
        "Sags right, installed preload not",
        "{where}: both sags are in target, yet installed preload {installed_mm:length} is out of band. Recheck the "
        "lengths and where they were read.",
    ),
    "pair_suits_over_limit": Words(
        "Sags right, preload over limit",
        "{where}: sags in target, installed preload {installed_mm:length} over its limit. Recheck lengths; if "
        "confirmed: stiffer spring, less preload.",
    ),
    "too_soft_held_up": Words(
        "Too soft, held up by preload",
        "{where}: rider sag in target, static too small: too soft, held up by preload. Stiffer spring, less preload.",
    ),
    "too_soft_or_top_out": Words(
        "Too soft, or a top-out spring",
        "{where}: rider sag in target, static small: too soft and held up by preload, unless a top-out spring does it. "
        "Find out which.",
    ),
    "top_out_hides_static": Words(
        "Static held down by the top-out spring",
        "{where}: rider sag in target; static is small, but rider − static {difference_mm:length} is not large: the "
        "top-out spring does it. Springs can stay.",
    ),
    "too_stiff_little_preload": Words(
        "Too stiff, with little preload",
        "{where}: rider sag in target, static too large: too stiff, with little preload. Softer spring, more preload.",
    ),
    "too_stiff_contradicted": Words(
        "Sags and installed preload disagree",
        "{where}: the sags say too stiff with little preload, but installed preload {installed_mm:length} is at its "
        "limit. Recheck lengths and readings.",
    ),
    "too_soft": Words(
        "Spring too soft",
        "{where}: rider sag too large, static too small: too soft. Stiffer spring; more preload would only hide it.",
    ),
    "too_soft_projected": Words(
        "Spring too soft",
        "{where}: with rider sag put right by preload, static would be {projected_mm:length}, too small: too soft. "
        "Stiffer spring.",
    ),
    "stiffer_at_limit": Words(
        "Preload at its limit: stiffer spring",
        "{where}: more preload needed, but installed {installed_mm:length} is at its limit. Never a longer spacer: "
        "stiffer spring.",
    ),
    "stiffer_no_room": Words(
        "Adjuster at its end: stiffer spring",
        "{where}: needs more preload than adjuster[ ({left_mm:length} left)] and band allow. Stiffer spring.",
    ),
    "add_preload": Words(
        "Add preload",
        "{where}: sags too much; static would come to {projected_mm:length}. Add preload " + _SIZE + "." + _SPREAD,
    ),
    "add_preload_then_static": Words(
        "Add preload, then look at static",
        "{where}: add preload "
        + _SIZE
        + " and measure again; if static stays too large the spring is too stiff."
        + _SPREAD,
    ),
    "add_preload_into_target": Words(
        "Add what preload is left",
        "{where}: sags too much. Add the "
        + _SIZE
        + " the adjuster has left: that brings it into target; measure again."
        + _SPREAD,
    ),
    "less_preload_into_target": Words(
        "Take off what preload is left",
        "{where}: sags too little. Take off the " + _SIZE + " the adjuster has left: that brings it into target; "
        "measure again." + _SPREAD,
    ),
    "add_preload_headroom_unknown": Words(
        "Add preload; headroom not known",
        "{where}: add preload[ {preload_mm:length}][ ({turns:turns})]. Headroom not known: adjuster position or range "
        "not entered." + _SPREAD,
    ),
    "longer_spacer": Words(
        "Adjuster at its end: longer spacer",
        "{where}: needs {need_mm:length} more preload, the adjuster has {left_mm:length}: longer spacer by "
        + _SPACER
        + "[ and {preload_mm:length} at the adjuster].",
    ),
    "longer_spacer_unchecked": Words(
        "Adjuster at its end: longer spacer?",
        "{where}: the adjuster cannot give it. Longer spacer[ by {spacer_change_mm:length}] only if installed preload "
        "stays in band: enter the lengths.",
    ),
    "too_stiff": Words("Spring too stiff", "{where}: rider sag too small, static too large: too stiff. Softer spring."),
    "too_stiff_projected": Words(
        "Spring too stiff",
        "{where}: with rider sag put right by less preload, static would be {projected_mm:length}, out of target: too "
        "stiff. Softer spring.",
    ),
    "softer_no_room": Words(
        "Adjuster at its end: softer spring",
        "{where}: needs less preload than adjuster[ ({left_mm:length} left)] and band allow. Softer spring.",
    ),
    "less_preload": Words(
        "Less preload",
        "{where}: sags too little; static would come to {projected_mm:length}. Less preload by "
        + _SIZE
        + "."
        + _SPREAD,
    ),
    "less_preload_measure_again": Words(
        "Less preload, measure again",
        "{where}: rider and static sag too small. Less preload by " + _SIZE + ", then measure again." + _SPREAD,
    ),
    "less_preload_headroom_unknown": Words(
        "Less preload; headroom not known",
        "{where}: less preload[ by {preload_mm:length}][ ({turns:turns})], measure again. Headroom not known: adjuster "
        "position or range not entered." + _SPREAD,
    ),
    "shorter_spacer": Words(
        "Adjuster at its end: shorter spacer",
        "{where}: needs {need_mm:length} less preload, the adjuster has {left_mm:length}: shorter spacer by "
        + _SPACER
        + "[ and {preload_mm:length} at the adjuster].",
    ),
    "shorter_spacer_unchecked": Words(
        "Adjuster at its end: shorter spacer?",
        "{where}: the adjuster cannot give it. Shorter spacer[ by {spacer_change_mm:length}] only if installed preload "
        "stays in band: enter the lengths.",
    ),
    "find_friction": Words(
        "Stiction: no advice on springs",
        "{where}: stiction at fault: no advice on springs. Find the friction, then measure again.",
    ),
    "measure_again_swapped": Words(
        "Readings swapped: no advice on springs",
        "{where}: readings swapped: no advice on springs. Put them right or measure again.",
    ),
    "measure_again_impossible": Words(
        "Readings impossible: no advice",
        "{where}: the readings cannot be right: no advice on springs. Measure both states again.",
    ),
    "measure_again_changed": Words(
        "Sag from before a change: measure again",
        "{where}: preload or springs changed since it was read: no advice on springs. Measure both states again.",
    ),
}
"""By the codes of pair.py."""

WITHIN_SPREAD = " Within measuring spread: repeat first."
