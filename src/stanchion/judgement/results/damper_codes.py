"""Codes for why a damper sheet gives no figure."""

from __future__ import annotations

from typing import Literal

DamperProblem = Literal[
    "no_damper_sheet",
    "speed_not_measured",
    "stroke_not_measured",
    "position_not_measured",
    "one_position",
    "not_in_click_map",
    "single_force_readings",
    "fork_has_no_gas",
    "one_stroke",
    "not_slow_enough",
    "mean_below_zero",
    "few_speeds",
]
