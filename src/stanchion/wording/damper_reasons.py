"""Words for why a damper sheet gives no figure, by the code of the problem."""

from __future__ import annotations

from typing import TypedDict


class DamperProblemWords(TypedDict):
    """Why a damper sheet gives no figure."""

    no_damper_sheet: str
    speed_not_measured: str
    stroke_not_measured: str
    position_not_measured: str
    one_position: str
    not_in_click_map: str
    single_force_readings: str
    fork_has_no_gas: str
    one_stroke: str
    not_slow_enough: str
    mean_below_zero: str
    few_speeds: str


DAMPER_PROBLEMS: DamperProblemWords = {
    "no_damper_sheet": "there is no damper sheet of it",
    "speed_not_measured": "the damper was not measured at that speed",
    "stroke_not_measured": "the damper was not measured in that stroke",
    "position_not_measured": "the adjuster stands outside the positions that were measured",
    "one_position": "the damper was measured at one position only",
    "not_in_click_map": "no position measured gives that force",
    "single_force_readings": "single readings: measure the same setting twice to see the spread",
    "fork_has_no_gas": "a fork has no shock gas",
    "one_stroke": "only one stroke was measured: enter the gas force, or how it was taken out",
    "not_slow_enough": "the slowest speed of both strokes is too fast for their mean: enter the gas force read at "
    "standstill",
    "mean_below_zero": "rebound resists more than compression at the slowest speed, so their mean is not the gas: "
    "enter the gas force read at standstill",
    "few_speeds": "fewer than two speeds were measured there",
}
