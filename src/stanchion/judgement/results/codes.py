"""Every code that judging gives, as literals: findings, verdicts, cautions. wording/ has a text for each."""

from __future__ import annotations

from typing import Literal

# --- findings ---------------------------------------------------------------------------------------------------------

GeneralCode = Literal[
    "part_not_judged",
    "unknown_use",
    "own_target_half",
    "own_target_order",
    "implausible",
    "missing",
    "previous_absent",
]
PreloadCode = Literal[
    "spring_loose",
    "loose_fully_out",
    "spring_may_come_loose",
    "preload_by_manual",
    "preload_low",
    "preload_near_limit",
    "preload_borderline",
    "preload_high",
    "preload_over_limit",
]
LengthCode = Literal[
    "set_lengths_order",
    "set_length_read_fully_in",
    "set_longer_than_free",
    "set_length_at_beyond_range",
    "free_lengths_differ",
    "free_lengths_made_up",
    "length_made_up",
    "shorter_than_before",
    "longer_than_before",
    "range_read_assembled",
    "read_off_the_stop",
]
AdjusterCode = Literal[
    "adjuster_fully_in",
    "adjuster_fully_out",
    "adjuster_nearly_in",
    "adjuster_nearly_out",
    "adjuster_beyond_range",
    "adjuster_ends_equal",
    "adjuster_readings_order",
    "adjuster_range_unlikely",
    "pitch_disagrees",
    "pitch_and_range_disagree",
    "range_disagrees",
]
ForkCode = Literal[
    "rates_differ",
    "installed_preload_differs",
    "preload_now_differs",
    "compression_differs",
    "high_speed_compression_differs",
    "rebound_differs",
    "clicker_beyond_range",
    "clicker_closed",
    "fork_without_spring",
    "air_over_most",
    "air_compared_only",
    "barometer_off",
    "outside_unknown",
    "gauges_read_more",
    "gauges_read_less",
    "top_out_legs_taken",
    "top_out_reads_lower",
    "solids_fill_air",
]
LinkageCode = Literal[
    "linkage_pairs",
    "linkage_ratio",
    "linkage_beyond_measured",
    "linkage_goes_on",
    "linkage_not_smooth",
    "wheel_rate_uncertain",
    "wheel_rate_negative",
    "gas_unknown",
]
PointsCode = Literal[
    "points_impossible",
    "points_stop",
    "points_read_extended",
    "points_and_pairs_differ",
    "points_and_stroke_differ",
    "points_and_arm_differ",
]
CoilCode = Literal[
    "coil_bind",
    "coil_bind_at_the_end",
    "coil_bind_near",
    "coil_bind_further_in",
    "coils_may_touch",
    "coil_gaps_small",
    "coil_gaps_small_when_ridden",
    "solid_not_shorter",
    "solid_length_unlikely",
    "too_few_coils",
    "label_and_tester_differ",
    "label_and_coils_differ",
    "tester_and_coils_differ",
    "tester_disordered",
    "progressive_spring",
    "measured_curve",
    "rate_by_tester",
    "rate_by_coils",
    "tester_pair_off",
    "top_out_by_bench",
    "top_out_bench_disordered",
    "top_out_bench_differs",
    "stop_disordered",
    "stop_beyond_travel",
    "wire_stress_high",
    "spring_may_buckle",
    "second_lengths",
    "tester_ends_early",
]
ChangeOverCode = (
    Literal["change_over", "change_over_in_preload", "change_over_below_static", "change_over_between_sags"]
    | Literal["change_over_beyond_rider", "change_over_never"]
)
SagCode = Literal[
    "sag_low",
    "sag_high",
    "sag_borderline",
    "stiction_note",
    "stiction_fault",
    "readings_swapped",
    "travel_readings_swapped",
    "repeat_far_off",
    "reading_beyond_hanging",
    "rider_above_static",
    "sag_beyond_travel",
    "topped_out",
    "down_only",
    "travel_not_as_meant",
    "both_ends_sag_much",
    "both_ends_sag_little",
    "ends_opposite_nose_low",
    "ends_opposite_nose_high",
]
Advice = Literal[
    "find_friction",
    "measure_again_swapped",
    "measure_again_impossible",
    "measure_again_changed",
    "inputs_doubted",
    "loads_doubted",
    "check_before_spring",
    "pair_suits",
    "pair_suits_recheck",
    "pair_edge_recheck",
    "lengths_first",
    "pair_suits_over_limit",
    "over_limit_shorter_spacer",
    "pair_borderline",
    "pair_down_only",
    "pair_close",
    "pair_nearest",
    "too_soft_or_top_out",
    "top_out_hides_static",
    "top_out_hides_sags",
    "top_out_brings_in",
    "add_preload",
    "add_preload_measure_again",
    "add_preload_headroom_unknown",
    "add_preload_amount_unknown",
    "less_preload",
    "less_preload_measure_again",
    "less_preload_headroom_unknown",
    "less_preload_amount_unknown",
    "longer_spacer",
    "longer_spacer_unchecked",
    "shorter_spacer",
    "shorter_spacer_unchecked",
    "too_soft",
    "too_soft_held_up",
    "stiffer_at_limit",
    "stiffer_no_room",
    "too_stiff",
    "too_stiff_little_preload",
    "too_stiff_contradicted",
    "softer_no_room",
    "no_spring_needs_more",
    "no_spring_needs_less",
    "no_spring_sold",
    "air_suits",
    "air_add",
    "air_release",
    "air_add_unknown",
    "air_release_unknown",
    "air_static_out",
    "air_at_most",
    "air_at_least",
]
"""What to do about both sags of one end."""
ScaleCode = Literal[
    "scales_disagree_machine",
    "scales_disagree_rider",
    "scales_disagree_aboard",
    "scales_contradict_machine",
    "scales_contradict_rider",
    "scales_contradict_aboard",
    "scales_other_rider",
    "scales_swapped",
]
"""Scales against the masses entered, and against each other."""
PredictionCode = Literal[
    "predicted_bottoms",
    "predicted_tops_out",
    "predicted_twice",
    "sag_not_as_predicted",
    "bled_beyond_travel",
    "air_no_room",
    "working_rate_high",
    "working_rate_low",
]
DampingCode = Literal["rebound_for_stiffer", "rebound_for_softer", "rebound_out_for_stiffer", "rebound_in_for_softer"]
"""Rebound left as it was with another spring, or turned the wrong way."""
GeometryCode = Literal["geometry_sag_when_extended", "trail_not_positive", "trail_less"]
BalanceCode = Literal[
    "lift_reads_more",
    "lift_height_unlikely",
    "lift_off_line",
    "level_off_line",
    "lifts_scatter",
    "lift_too_low",
]
"""Readings with the front lifted that give no height."""
RunCode = Literal[
    "marker_beyond_travel",
    "marker_below_sag",
    "bottoms_adjuster_in",
    "bottoms_add_preload",
    "bottoms_sag_unknown",
    "bottoms_air_gap",
    "bottoms_air_gap_least",
    "bottoms_damping",
    "bottoms_damping_closed",
    "travel_kept_back",
    "tyre_hot_below_cold",
    "tyre_hot_off",
]
UpkeepCode = Literal[
    "hours_run_backwards",
    "torques_open",
    "motion_ratio_stale",
    "geometry_stale",
    "set_length_stale",
    "wheelbase_differs",
]
DriveCode = Literal[
    "chain_odd", "chain_short", "chain_by_slot", "chain_long", "arm_impossible", "arm_angles_differ", "swingarm_stale"
]
WorkCode = Literal["work_list_open", "work_list_done"]
ProofCode = Literal["changed_together", "ridden_together", "changed_before_verdict"]
"""Changes that are judged by riding."""
SafetyCode = Literal["safety_reported"]
"""What the rider reported that is a matter of safety."""
CalibrationCode = Literal[
    "scale_corrected", "scale_off", "scale_calibration_doubted", "scale_calibration_short", "scale_calibration_old"
]
"""Calibrated scales."""
FindingCode = (
    GeneralCode
    | PreloadCode
    | LengthCode
    | AdjusterCode
    | ForkCode
    | LinkageCode
    | PointsCode
    | CoilCode
    | ChangeOverCode
    | SagCode
    | Advice
    | ScaleCode
    | PredictionCode
    | GeometryCode
    | BalanceCode
    | DampingCode
    | RunCode
    | UpkeepCode
    | DriveCode
    | WorkCode
    | ProofCode
    | SafetyCode
    | CalibrationCode
)

# --- verdicts ---------------------------------------------------------------------------------------------------------

PreloadVerdict = Literal["", "loose", "low", "in", "near_limit", "borderline", "high", "over_limit"]
"""Where installed preload lies in its band; "" where that is not known or there is no band."""
SagVerdict = Literal["", "below", "in", "borderline", "above", "down_only", "topped_out", "friction", "doubtful"]
"""Where a sag lies: "borderline" nearer to an edge of the target than the expanded uncertainty, on either side; not
judged where "down_only" (no lifted reading, so that it may be less by half the stiction), "topped_out", "friction"
(stiction at fault) or "doubtful" (readings swapped or impossible)."""
SagVerdictNow = SagVerdict | Literal["stale"]
"""The verdict as it counts now: "stale" where the sag was read before a change."""
TravelVerdict = Literal["", "beyond", "near_full", "used", "kept_back"]
"""How much of the travel a run used; "kept_back": more than a fifth never."""
NoMorePreload = Literal["", "adjuster", "band"]
"""What leaves little or no preload to add: an adjuster near fully in, or, at a collar whose ends were not counted, the
band for preload or coil bind."""

OptionVerdict = Literal[
    "suits",
    "in_doubt",
    "suits_near_end",
    "suits_bind_unknown",
    "suits_near_end_bind_unknown",
    "sags_in",
    "turn_in",
    "turn_out",
    "sags_in_turned_in",
    "sags_in_turned_out",
    "nearer_in",
    "nearer_out",
    "close",
    "at_edge",
    "recheck",
    "other_spacer",
    "borderline",
    "low",
    "high",
    "check_fit",
    "too_soft",
    "too_stiff",
    "sags_stay_out",
    "check_length",
    "over_limit",
    "loose",
    "too_long",
    "coil_bind",
]
"""What is to be said of springs that could be fitted."""

# --- the rest ---------------------------------------------------------------------------------------------------------

OutsideFrom = Literal["", "where_set", "sea_level"]
"""What the pressure outside is taken from: recorded, the same as where air or gas was set, or that at sea level."""

Caution = Literal[
    "fork_caps",
    "fork_air",
    "air_pump",
    "air_shock",
    "one_leg",
    "shock_spring",
    "shock_gas",
    "hot_shock",
    "lift_front",
    "chain_still",
    "support",
    "rider_steadied",
    "keep_clear",
    "adjuster_end",
    "bleed_extended",
    "fork_height",
    "used_oil",
    "oil_on_discs",
    "after_work_torque",
    "after_work_brakes",
    "after_work_chain",
    "before_riding",
    "road_machine",
    "judgement",
]
"""The cautions, in the order they are shown."""
