"""The shape of the tables of words for findings: a key for each code of judgement/results/codes.py.

With these the type checker reports a code without words: a key is missing in a table, or does not exist. The
tables for verdicts, reasons and cautions are made in the same way, each beside its words.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from typing import TypedDict
else:
    TypedDict = dict  # a real one looks at each of its 300 keys while the first screen waits, and nobody asks it


class Words(NamedTuple):
    """The words of a finding."""

    headline: str
    """At most 40 characters, no numbers."""
    sentence: str
    """A template: phrases.py explains the braces."""


class GeneralWords(TypedDict):
    """Of findings on the job as a whole."""

    part_not_judged: Words
    unknown_use: Words
    own_target_half: Words
    own_target_order: Words
    implausible: Words
    missing: Words
    previous_absent: Words


class PreloadWords(TypedDict):
    """Of findings on installed preload."""

    spring_loose: Words
    loose_fully_out: Words
    spring_may_come_loose: Words
    preload_by_manual: Words
    preload_low: Words
    preload_near_limit: Words
    preload_borderline: Words
    preload_high: Words
    preload_over_limit: Words


class LengthWords(TypedDict):
    """Of findings on free and set lengths."""

    set_lengths_order: Words
    set_length_read_fully_in: Words
    set_longer_than_free: Words
    set_length_at_beyond_range: Words
    free_lengths_differ: Words
    free_lengths_made_up: Words
    length_made_up: Words
    shorter_than_before: Words
    longer_than_before: Words
    range_read_assembled: Words
    read_off_the_stop: Words


class AdjusterWords(TypedDict):
    """Of findings on preload adjusters."""

    adjuster_fully_in: Words
    adjuster_fully_out: Words
    adjuster_nearly_in: Words
    adjuster_nearly_out: Words
    adjuster_beyond_range: Words
    adjuster_ends_equal: Words
    adjuster_readings_order: Words
    adjuster_range_unlikely: Words
    pitch_disagrees: Words
    pitch_and_range_disagree: Words
    range_disagrees: Words


class ForkWords(TypedDict):
    """Of findings on both legs, dampers and top-out springs."""

    rates_differ: Words
    installed_preload_differs: Words
    preload_now_differs: Words
    compression_differs: Words
    high_speed_compression_differs: Words
    rebound_differs: Words
    clicker_beyond_range: Words
    clicker_closed: Words
    fork_without_spring: Words
    air_over_most: Words
    air_compared_only: Words
    barometer_off: Words
    outside_unknown: Words
    gauges_read_more: Words
    gauges_read_less: Words
    top_out_legs_taken: Words
    top_out_reads_lower: Words
    solids_fill_air: Words


class LinkageWords(TypedDict):
    """Of findings on the linkage and wheel rate."""

    linkage_pairs: Words
    linkage_ratio: Words
    linkage_beyond_measured: Words
    linkage_goes_on: Words
    linkage_not_smooth: Words
    wheel_rate_uncertain: Words
    wheel_rate_negative: Words
    gas_unknown: Words


class PointsWords(TypedDict):
    """Of findings on the points of a linkage."""

    points_impossible: Words
    points_stop: Words
    points_read_extended: Words
    points_and_pairs_differ: Words
    points_and_stroke_differ: Words
    points_and_arm_differ: Words


class CoilWords(TypedDict):
    """Of findings on wire, coils and spring testers."""

    coil_bind: Words
    coil_bind_at_the_end: Words
    coil_bind_near: Words
    coil_bind_further_in: Words
    coils_may_touch: Words
    coil_gaps_small: Words
    coil_gaps_small_when_ridden: Words
    solid_not_shorter: Words
    solid_length_unlikely: Words
    too_few_coils: Words
    label_and_tester_differ: Words
    label_and_coils_differ: Words
    tester_and_coils_differ: Words
    tester_disordered: Words
    progressive_spring: Words
    measured_curve: Words
    rate_by_tester: Words
    rate_by_coils: Words
    tester_pair_off: Words
    top_out_by_bench: Words
    top_out_bench_disordered: Words
    top_out_bench_differs: Words
    stop_disordered: Words
    stop_beyond_travel: Words
    wire_stress_high: Words
    spring_may_buckle: Words
    second_lengths: Words
    tester_ends_early: Words


class ChangeOverWords(TypedDict):
    """Of findings on where the rate of two springs changes."""

    change_over: Words
    change_over_in_preload: Words
    change_over_below_static: Words
    change_over_between_sags: Words
    change_over_beyond_rider: Words
    change_over_never: Words


class SagWords(TypedDict):
    """Of findings on sag readings and on both ends together."""

    sag_low: Words
    sag_high: Words
    sag_borderline: Words
    stiction_note: Words
    stiction_fault: Words
    readings_swapped: Words
    travel_readings_swapped: Words
    repeat_far_off: Words
    reading_beyond_hanging: Words
    rider_above_static: Words
    sag_beyond_travel: Words
    topped_out: Words
    down_only: Words
    travel_not_as_meant: Words
    both_ends_sag_much: Words
    both_ends_sag_little: Words
    ends_opposite_nose_low: Words
    ends_opposite_nose_high: Words


class AdviceWords(TypedDict):
    """Of advice on both sags of one end."""

    find_friction: Words
    measure_again_swapped: Words
    measure_again_impossible: Words
    measure_again_changed: Words
    inputs_doubted: Words
    loads_doubted: Words
    check_before_spring: Words
    pair_suits: Words
    pair_suits_recheck: Words
    pair_edge_recheck: Words
    lengths_first: Words
    pair_suits_over_limit: Words
    over_limit_shorter_spacer: Words
    pair_borderline: Words
    pair_down_only: Words
    pair_close: Words
    pair_nearest: Words
    too_soft_or_top_out: Words
    top_out_hides_static: Words
    top_out_hides_sags: Words
    top_out_brings_in: Words
    add_preload: Words
    add_preload_measure_again: Words
    add_preload_headroom_unknown: Words
    add_preload_amount_unknown: Words
    less_preload: Words
    less_preload_measure_again: Words
    less_preload_headroom_unknown: Words
    less_preload_amount_unknown: Words
    longer_spacer: Words
    longer_spacer_unchecked: Words
    shorter_spacer: Words
    shorter_spacer_unchecked: Words
    too_soft: Words
    too_soft_held_up: Words
    stiffer_at_limit: Words
    stiffer_no_room: Words
    too_stiff: Words
    too_stiff_little_preload: Words
    too_stiff_contradicted: Words
    softer_no_room: Words
    no_spring_needs_more: Words
    no_spring_needs_less: Words
    no_spring_sold: Words
    air_suits: Words
    air_add: Words
    air_release: Words
    air_add_unknown: Words
    air_release_unknown: Words
    air_static_out: Words
    air_at_most: Words
    air_at_least: Words


class PredictionWords(TypedDict):
    """Of findings on loads, predicted sag and the working rate."""

    scales_disagree_machine: Words
    scales_disagree_rider: Words
    scales_disagree_aboard: Words
    scales_contradict_machine: Words
    scales_contradict_rider: Words
    scales_contradict_aboard: Words
    scales_other_rider: Words
    scales_swapped: Words
    predicted_bottoms: Words
    predicted_tops_out: Words
    predicted_twice: Words
    sag_not_as_predicted: Words
    bled_beyond_travel: Words
    air_no_room: Words
    working_rate_high: Words
    working_rate_low: Words


class GeometryWords(TypedDict):
    """Of findings on steering geometry."""

    geometry_sag_when_extended: Words
    trail_not_positive: Words
    trail_less: Words


class BalanceWords(TypedDict):
    """Of findings on readings with the front lifted."""

    lift_reads_more: Words
    lift_height_unlikely: Words
    lift_off_line: Words
    level_off_line: Words
    lifts_scatter: Words
    lift_too_low: Words


class DampingWords(TypedDict):
    """Of findings on rebound left as it was with another spring, or turned the wrong way."""

    rebound_for_stiffer: Words
    rebound_for_softer: Words
    rebound_out_for_stiffer: Words
    rebound_in_for_softer: Words


class RunWords(TypedDict):
    """Of findings on runs and tyres."""

    marker_beyond_travel: Words
    marker_below_sag: Words
    bottoms_adjuster_in: Words
    bottoms_add_preload: Words
    bottoms_sag_unknown: Words
    bottoms_air_gap: Words
    bottoms_air_gap_least: Words
    bottoms_damping: Words
    bottoms_damping_closed: Words
    travel_kept_back: Words
    tyre_hot_below_cold: Words
    tyre_hot_off: Words


class UpkeepWords(TypedDict):
    """Of findings on upkeep."""

    hours_run_backwards: Words
    torques_open: Words
    motion_ratio_stale: Words
    geometry_stale: Words
    set_length_stale: Words
    wheelbase_differs: Words


class DriveWords(TypedDict):
    """Of findings on swingarm and chain."""

    chain_odd: Words
    chain_short: Words
    chain_by_slot: Words
    chain_long: Words
    arm_impossible: Words
    arm_angles_differ: Words
    swingarm_stale: Words


class WorkWords(TypedDict):
    """Of findings on a work list."""

    work_list_open: Words
    work_list_done: Words


class ProofWords(TypedDict):
    """Of findings on changes that are judged by riding."""

    changed_together: Words
    ridden_together: Words
    changed_before_verdict: Words


class SafetyWords(TypedDict):
    """Of findings on what the rider reported that is a matter of safety."""

    safety_reported: Words


class CalibrationWords(TypedDict):
    """Of findings on the calibration of scales."""

    scale_corrected: Words
    scale_off: Words
    scale_calibration_doubted: Words
    scale_calibration_short: Words
    scale_calibration_old: Words


class FindingWords(
    GeneralWords,
    PreloadWords,
    LengthWords,
    AdjusterWords,
    ForkWords,
    LinkageWords,
    PointsWords,
    CoilWords,
    ChangeOverWords,
    SagWords,
    AdviceWords,
    PredictionWords,
    GeometryWords,
    BalanceWords,
    DampingWords,
    RunWords,
    UpkeepWords,
    DriveWords,
    WorkWords,
    ProofWords,
    SafetyWords,
    CalibrationWords,
):
    """Of every finding."""
