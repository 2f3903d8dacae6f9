"""Words for why a figure is absent, by the code of the problem."""

from __future__ import annotations

from stanchion.base.errors import BadQuantity
from stanchion.job.edit import spec_at
from stanchion.job.model import Path
from stanchion.job.spec import Kind, Number
from stanchion.units.quantity import parse
from stanchion.wording.damper_reasons import DAMPER_PROBLEMS, DamperProblemWords

_RATIO: Path = ("rear", "motion_ratio")
_ANY_RATIO = Number(Kind.RATIO, 0.0, 1000.0, 0.01)


class ProblemWords(DamperProblemWords):
    """Why recorded values give no figure."""

    out_of_range: str
    sag_changed: str
    no_spring: str
    one_spring: str
    rate_changes: str
    rate_is_one: str
    end_to_end_one_rate: str
    change_over_beyond: str
    beyond_tester: str
    no_stack: str
    no_adjuster: str
    adjuster_beyond_range: str
    adjuster_reading_unlikely: str
    adjuster_ends_equal: str
    set_lengths_order: str
    set_length_read_fully_in: str
    readings_swapped: str
    down_only: str
    single_reading: str
    topped_out: str
    stands_topped_out: str
    rider_topped_out: str
    rider_bottomed: str
    on_top_out: str
    no_rate_gives_it: str
    no_usual_rate_suits: str
    no_rate_needs_more: str
    no_rate_needs_less: str
    friction_first: str
    no_spacer_short_enough: str
    adjuster_range_unknown: str
    adjuster_turn_unknown: str
    adjuster_position_unknown: str
    tester_one_length: str
    tester_two_readings: str
    tester_falls: str
    tester_bends: str
    no_figure: str
    not_lifted: str
    loads_by_share: str
    lift_not_blocked: str
    height_doubted: str
    rear_lifts: str
    rear_lifts_first: str
    rear_stays_down: str
    front_lifts: str
    front_stays_down: str
    arm_reaches_not: str
    not_settled: str
    fork_at_end: str
    bumps_or_reading: str
    no_gap_leaves_it: str
    no_rate_leaves_it: str
    no_pressure_leaves_it: str
    no_band: str
    between_stops: str
    nothing_found: str
    no_advice: str
    no_target: str
    linkage_pairs: str
    linkage_ratio: str
    points_impossible: str
    points_stop: str
    no_link: str
    no_bump_rubber: str
    no_hydraulic_stop: str
    gas_no_room: str
    no_rod: str
    no_gap_gives_it: str
    springs_give_more: str
    guided_by_tube: str
    never_buckles: str
    no_run: str
    machine_share: str
    rider_share: str
    fork_without_spring: str
    packers_fill_travel: str
    air_sprung: str
    rate_by_air: str
    air_chamber_short: str
    without_air: str
    air_no_room: str
    no_air_in_shock: str
    target_out_of_reach: str
    inputs_doubted: str
    loads_doubted: str
    adjusters_differ: str
    readings_doubtful: str
    beyond_measured: str
    one_ratio: str
    force_falls: str
    spring_not_reached: str
    program_fault: str


PROBLEMS: ProblemWords = {
    "out_of_range": "the values do not fit together",
    "sag_changed": "sag was read before a change of springs, preload, oil, linkage or rider",
    "no_spring": "this leg has no spring",
    "one_spring": "one leg has a spring, so there is no mean",
    "rate_changes": "it changes over the travel",
    "rate_is_one": "the springs have one rate",
    "end_to_end_one_rate": "two springs end to end are computed from one rate of each; put both together on a tester",
    "beyond_tester": "the spring tester's pairs end before that: press the spring further",
    "change_over_beyond": "the springs do not change over within the travel",
    "no_stack": "a shock has no spacer stack",
    "no_adjuster": "there is no adjuster",
    "adjuster_beyond_range": "the adjuster reading lies beyond its range",
    "adjuster_reading_unlikely": "no adjuster counts so far: check its reading",
    "adjuster_ends_equal": "the adjuster reads the same at both ends",
    "set_lengths_order": "set length fully in is longer than fully out",
    "set_length_read_fully_in": "both set lengths were read fully in",
    "readings_swapped": "the readings are swapped",
    "down_only": "only pushed-down readings were taken",
    "single_reading": "one reading each: repeat to see the spread",
    "topped_out": "static sag is topped out",
    "stands_topped_out": "topped out",
    "rider_topped_out": "topped out with the rider aboard",
    "rider_bottomed": "at full travel with the rider aboard",
    "on_top_out": "static sag is, or would be, on the top-out spring",
    "no_rate_gives_it": "no spring gives that sag at that preload",
    "no_usual_rate_suits": "with every usual step the spring would be loose or over its limit",
    "no_rate_needs_more": "no rate brings both sags into target: that needs more preload than there is room for",
    "no_rate_needs_less": "no rate brings both sags into target: that needs less preload than there is room for",
    "friction_first": "there is too much stiction: see the sag screen",
    "no_spacer_short_enough": "the spring is too long: no spacer is short enough",
    "adjuster_range_unknown": "the adjuster's range is not known",
    "adjuster_turn_unknown": "what a turn of the adjuster gives is not known",
    "adjuster_position_unknown": "the adjuster's position is not known, or the legs differ",
    "tester_one_length": "the spring tester was read at one length only",
    "tester_two_readings": "two tester readings give no uncertainty",
    "tester_bends": "the tester readings lie on a curve: no single rate fits them",
    "tester_falls": "the tester readings do not rise as the spring is pressed",
    "no_figure": "there is no such figure",
    "not_lifted": "not measured: lift the front wheel on to a block and weigh",
    "loads_by_share": "not weighed: the weights are estimated from shares",
    "lift_not_blocked": "lifting counts only with the suspension blocked: block it, weigh again, enter that it was",
    "height_doubted": "the height of the centre of mass is in doubt: see the warning on it",
    "rear_lifts": "the rear wheel is off the ground by then",
    "rear_lifts_first": "the rear wheel lifts first",
    "rear_stays_down": "not below 3 g",
    "front_lifts": "the front wheel is off the ground by then",
    "front_stays_down": "not below 3 g",
    "arm_reaches_not": "the swingarm does not reach there: check its length and the heights of pivot and axle",
    "not_settled": "the travels do not settle: check springs, linkage and weights",
    "fork_at_end": "its marker is at the end as near as it can be read: braking was at least what brings it there",
    "bumps_or_reading": "deeper than braking alone brings it: bumps, or a reading",
    "no_gap_leaves_it": "no air gap that may be set leaves that",
    "no_rate_leaves_it": "no rate near this one leaves that",
    "no_pressure_leaves_it": "no pressure up to the highest allowed leaves that",
    "no_band": "the profile has no band for it",
    "between_stops": "it settles between its stops",
    "nothing_found": "nothing found to warn about",
    "no_advice": "needs both sags, each with a target",
    "no_target": "the profile has no target for it",
    "linkage_pairs": "the linkage pairs do not rise",
    "linkage_ratio": "the linkage pairs give an impossible motion ratio",
    "points_impossible": "the points of the linkage do not fit together",
    "points_stop": "the linkage does not move so far by its points",
    "no_link": "the shock stands straight between swingarm and frame: there is no link",
    "no_bump_rubber": "no bump rubber is recorded",
    "no_hydraulic_stop": "no hydraulic stop is recorded",
    "gas_no_room": "the shaft would fill the gas volume: check it",
    "no_rod": "no damper rod is recorded",
    "no_gap_gives_it": "no air gap gives that: it needs other springs",
    "springs_give_more": "the springs alone give more, whatever the air gap",
    "guided_by_tube": "the fork's tube guides it",
    "never_buckles": "it is too short to buckle",
    "no_run": "no run is logged yet",
    "machine_share": "needs the machine's share on the front (sport 50–52 %, off-road 46–49) or scales",
    "rider_share": "needs the rider's share on the front (track 45–50 %, road 33–45, off-road 30–38) or scales",
    "fork_without_spring": "the fork has no spring",
    "packers_fill_travel": "the packers leave no travel",
    "air_sprung": "it is sprung by air",
    "rate_by_air": "sprung by air: see the rate at the sags",
    "air_chamber_short": "the chamber is too small for full travel",
    "without_air": "the trapped air is not known",
    "air_no_room": "that air gap leaves no air at full travel",
    "no_air_in_shock": "a shock has no trapped air",
    "target_out_of_reach": "no preload within reach brings both sags into target",
    "inputs_doubted": "what was entered and the measured sag cannot both be right",
    "loads_doubted": "scales and masses contradict each other",
    "adjusters_differ": "the legs' adjusters differ",
    "readings_doubtful": "the sag readings cannot be right, or are from before a change",
    "beyond_measured": "beyond the linkage travel that was measured",
    "one_ratio": "one motion ratio was entered, and no pairs",
    "force_falls": "the force falls there as the wheel moves up",
    "spring_not_reached": "the spring is loose there and carries nothing",
    "program_fault": "fault in the program, please report",
    **DAMPER_PROBLEMS,
}
"""Why recorded values give no figure."""


def refusal_words(path: Path, text: str, reason: str) -> str:
    """Why a text typed into a field is refused; of a motion ratio the wrong way round, also what it is the other way.

    >>> refusal_words(("rear", "motion_ratio"), "2.1", "2.1 is outside 0.1 to 2; check the number")
    '2.1 is outside 0.1 to 2; enter shock travel divided by wheel travel: the other way round it is 0.476'
    """
    spec = spec_at(path)
    if path != _RATIO or not isinstance(spec, Number):
        return reason
    try:
        ratio = parse(text, _ANY_RATIO)
    except BadQuantity:
        return reason
    if ratio <= spec.high or not spec.low <= 1.0 / ratio <= spec.high:
        return reason
    outside = reason.partition(";")[0]
    return f"{outside}; enter shock travel divided by wheel travel: the other way round it is {1.0 / ratio:.3g}"
