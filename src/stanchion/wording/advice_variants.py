"""The words for advice where its code alone does not say which work it asks for. phrases.py explains the braces."""

from __future__ import annotations

from typing import cast

from stanchion.wording.advice_phrases import (
    AGAIN,
    AT,
    BETWEEN,
    CHECK,
    LESS,
    MORE,
    NEAREST,
    NEEDS_LESS,
    NEEDS_MORE,
    NOT_SOLD,
    RATE,
    SAGS,
    SPACED,
    TURN_SAGS,
    TURNED,
)
from stanchion.wording.advice_sentences import ADVICE
from stanchion.wording.finding_tables import Words
from stanchion.wording.fork_sentences import SET_ALIKE

ADVICE_VARIANTS: dict[str, Words] = {
    "pair_suits.to_check": Words(
        "Sags in target; entered values disagree",
        AT + "rider sag {rider_mm:length} is in target[, and so is static, {static_mm:length}]: leave springs and "
        "preload as they are until what disagrees is checked.",
    ),
    "measure_again_changed.rider_only": Words(
        "Rider changed: measure again",
        "{where}: rider sag was read before the rider was changed. Measure it again with this rider aboard[; "
        "{by_prediction_text:words}][; {no_advice_text:words}].",
    ),
    "check_before_spring.rate": Words(
        "Measured and calculated rate disagree",
        "{where}: the measured rate is {working:rate}, the calculated rate {predicted:rate}. " + CHECK,
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
        SAGS + "{at_edge_text:words} for repeated readings to tell[ (± {expanded_mm:length})]: leave springs and "
        "preload. A finer tape or more repeats would tell.",
    ),
    "pair_borderline.air_repeated": Words(
        "Sag at the edge of its target: leave it",
        SAGS + "{at_edge_text:words} for repeated readings to tell[ (± {expanded_mm:length})]: leave the pressure as "
        "it is. A finer tape or more repeats would tell.",
    ),
    "pair_suits_over_limit.at_edge": Words(
        "Preload over limit, sag at the edge",
        SAGS + "{at_edge_text:words} to judge, and installed preload {installed_mm:length} is over its limit. If the "
        "lengths are right, fit a stiffer spring with less preload" + RATE + AGAIN,
    ),
    "pair_suits_recheck.stands": Words(
        "Sags right, preload out of band",
        AT + "both sags are in target, but preload with the collar as it is now, {installed_mm:length}, is"
        "[ {perhaps:words}] out of band. Recheck both lengths; if they are right, go by the sags.",
    ),
    "pair_edge_recheck.stands": Words(
        "Sag at the edge, preload out of band",
        SAGS + "{at_edge_text:words} to judge[ (± {expanded_mm:length})], and preload with the collar as it is now, "
        "{installed_mm:length}, is[ {perhaps:words}] out of band. Recheck both lengths; if they are right, go by the "
        "sags.",
    ),
    "pair_edge_recheck.repeated": Words(
        "Sag at the edge, preload out of band",
        SAGS + "{at_edge_text:words} for repeated readings to tell[ (± {expanded_mm:length})], and installed "
        "preload {installed_mm:length} is[ {perhaps:words}] out of band. Recheck the lengths, and where the adjuster "
        "was.",
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
    "no_spring_needs_more.turns": Words("No spring brings both sags into target", NEEDS_MORE + TURNED),
    "no_spring_needs_more.spacer": Words("No spring brings both sags into target", NEEDS_MORE + SPACED),
    "no_spring_needs_more.spring": Words("No spring suits; another comes closer", NEEDS_MORE + NEAREST),
    "no_spring_needs_less.turns": Words("No spring brings both sags into target", NEEDS_LESS + TURNED),
    "no_spring_needs_less.spacer": Words("No spring brings both sags into target", NEEDS_LESS + SPACED),
    "no_spring_needs_less.spring": Words("No spring suits; another comes closer", NEEDS_LESS + NEAREST),
    "no_spring_sold.turns": Words("Right spring rate between usual steps", NOT_SOLD + TURNED),
    "no_spring_sold.spacer": Words("Right spring rate between usual steps", NOT_SOLD + SPACED),
    "no_spring_sold.spring": Words("Between usual steps; another is closer", NOT_SOLD + NEAREST),
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
    f"{code}.out_of_band": Words("Preload out of band; no rate suits both", TURN_SAGS + words + TURNED)
    for code, words in (
        ("no_spring_needs_more", MORE),
        ("no_spring_needs_less", LESS),
        ("no_spring_sold", BETWEEN),
    )
}
