"""The name of every figure of `check --json` as the screens have it, by its dotted path."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache, partial

from stanchion.job.model import Path
from stanchion.wording.american import worded
from stanchion.wording.figure_names import FIGURE_NAMES as NAMES
from stanchion.wording.labels import label

_PLACES: dict[str, Mapping[str, str]] = {
    "scale": {"front": "front", "rear": "rear", "both": "shared"},
    "spring": {"front.left": "fork, left leg", "front.right": "fork, right leg", "rear": "shock"},
    "end": {"front": "front", "rear": "rear"},
    "End": {"front": "Front", "rear": "Rear"},
    "unit": {"front": "fork", "rear": "shock"},
    "state": {"static": "static", "rider": "rider"},
    "aboard": {"static": "alone", "rider": "with rider"},
    "stroke": {"slow": "slow stroke", "fast": "fast stroke"},
    "brakes": {
        "slow": "on the brakes, slow stroke",
        "fast": "on the brakes, fast stroke",
        "lower": "on the brakes, centre of mass lower",
        "higher": "on the brakes, centre of mass higher",
    },
    "part": {
        "coil": "coil spring",
        "trapped": "trapped air",
        "air_spring": "air spring",
        "gas": "gas",
        "rubber": "bump rubber",
    },
    "gap": {
        "compared": "as compared",
        "for_reserve": "for the reserve wanted",
        "for_left": "to leave what is wanted, fast stroke",
        "for_left_slow": "to leave what is wanted, slow stroke",
    },
    "one": {
        "fitted": "Springs as fitted",
        "same_sag": "One rate, alike when ridden",
        "same_full": "One rate, alike at the end",
    },
    "at": {"extended": "fully extended", "now": "now", "full": "at the end"},
    "work": {"fork_oil": "fork oil", "fork_seals": "fork seals", "shock": "shock"},
    "who": {"alone": "machine alone", "aboard": "rider aboard", "bench": "at the bench"},
    "edge": {"0": "from", "1": "to"},
}
"""What a place in a path is called in a name; any other place is a number in a list, counted from 1."""

_FIGURES: dict[str, str] = {
    "{spring}.installed_preload_mm": "Installed preload, {spring}",
    "{spring}.adjuster_range_mm": "Adjuster range, {spring}",
    "{spring}.mm_per_turn": "Preload per turn, {spring}",
    "{spring}.preload_now_mm": "Preload now, {spring}",
    "{spring}.greatest_preload_mm": "Preload fully in, {spring}",
    "{spring}.preload_force_n": "Force now, {spring}",
    "{spring}.headroom_out_mm": "Headroom out, {spring}",
    "{spring}.headroom_out_turns": "Headroom out, turns, {spring}",
    "{spring}.headroom_in_mm": "Headroom in, {spring}",
    "{spring}.headroom_in_turns": "Headroom in, turns, {spring}",
    "{spring}.band_mm": "Preload band, {spring}",
    "{spring}.band_mm.{edge}": "Preload band {edge}, {spring}",
    "{spring}.verdict": "Verdict on installed preload, {spring}",
    "{spring}.stack_mm": "Spacer stack, {spring}",
    "front.rate_n_per_mm": "Combined fork rate, both legs together",
    "front.mean_rate_n_per_mm": "Spring rate, mean of both legs",
    "rear.motion_ratio": "Motion ratio",
    "rear.motion_ratio_uncertainty": "Standard uncertainty of the motion ratio",
    "rear.wheel_rate_n_per_mm": "Wheel rate, rear",
    "rear.wheel_rate_uncertainty_n_per_mm": "Standard uncertainty of the wheel rate, rear",
    "rear.at_travel_mm": "Rear travel at which ratio and wheel rate hold",
    "rear.gas_force_n": "Gas force of the shock, extended",
    "rear.gas_full_n": "Gas force of the shock, full stroke",
    "rear.smooth.motion_ratio": "Motion ratio by a smooth curve",
    "rear.smooth.motion_ratio_uncertainty": "Standard uncertainty of that motion ratio by a smooth curve",
    "rear.smooth.wheel_rate_n_per_mm": "Wheel rate by a smooth curve, rear",
    "rear.smooth.wheel_rate_uncertainty_n_per_mm": "Standard uncertainty of that wheel rate by a smooth curve",
    "springs.{spring}.rate_calculated_n_per_mm": "Spring rate by coils, {spring}",
    "springs.{spring}.rate_calculated_range_n_per_mm": "Spring rate by coils, range, {spring}",
    "springs.{spring}.rate_calculated_range_n_per_mm.{edge}": "Spring rate by coils {edge}, {spring}",
    "springs.{spring}.rate_measured_n_per_mm": "Spring rate by tester, {spring}",
    "springs.{spring}.rate_measured_uncertainty_n_per_mm": "Standard uncertainty of the rate by tester, {spring}",
    "springs.{spring}.shear_modulus_mpa": "Shear modulus of the wire, {spring}",
    "springs.{spring}.shear_modulus_source": "Source of the shear modulus, {spring}",
    "springs.{spring}.active_coils": "Active coils, {spring}",
    "springs.{spring}.solid_length_mm": "Solid length, {spring}",
    "springs.{spring}.solid_length_from": "Source of the solid length, {spring}",
    "springs.{spring}.usable_travel_mm": "Usable travel of the spring, {spring}",
    "springs.{spring}.coil_bind_clearance_mm": "Coils apart at full travel, fully in, {spring}",
    "springs.{spring}.clearance_now_mm": "Coils apart at full travel, as set, {spring}",
    "springs.{spring}.required_clearance_mm": "Gaps wanted between the coils, {spring}",
    "springs.{spring}.stress_mpa": "Stress in the wire at full travel, {spring}",
    "springs.{spring}.stress_share": "Share of its strength that the wire works at, {spring}",
    "springs.{spring}.buckles_at_mm": "Spring buckles at, {spring}",
    "predicted.{end}.{state}.sag_mm": "Predicted {state} sag, {end}",
    "predicted.{end}.{state}.load_n": "Load for the predicted {state} sag, {end}",
    "predicted.{end}.{state}.difference_mm": "Measured less predicted {state} sag, {end}",
    "predicted.{end}.{state}.preload_case": "What the predicted {state} sag does with preload, {end}",
    "predicted.{end}.{state}.limit": "Limit of the predicted {state} sag, {end}",
    "predicted.{end}.rider_minus_static_mm": "Rider less static sag, predicted, {end}",
    "predicted.{end}.turns_for_target": "Both sags into their targets, turns, {end}",
    "predicted.{end}.mm_for_target": "Both sags into their targets, preload, {end}",
    "predicted.front.air.{state}.rate_n_per_mm": "Rate of the air at {state} sag",
    "predicted.front.air.{state}.tenth_bar_mm": "Change of {state} sag with 0.1 bar more",
    "predicted.front.air.{state}.warmer_mm": "Change of {state} sag 10 °C warmer",
    "predicted.front.air.{state}.higher_mm": "Change of {state} sag 1000 m higher",
    "predicted.front.air.full.tenth_bar_n": "Change of the force at full travel with 0.1 bar more",
    "predicted.front.air.full.warmer_n": "Change of the force at full travel 10 °C warmer",
    "predicted.front.air.full.higher_n": "Change of the force at full travel 1000 m higher",
    "predicted.front.air.outside_hpa": "Pressure outside",
    "predicted.front.air.fast_n": "Force at full travel, air fork, fast stroke",
    "predicted.front.air.fast_least_n": "Force at full travel, air fork, fast stroke, least",
    "predicted.front.air.fast_most_n": "Force at full travel, air fork, fast stroke, most",
    "working_rate.{end}": "Rate measured by both sags, {end}",
    "working_rate.{end}_uncertainty": "Standard uncertainty of the rate measured, {end}",
    "working_rate.{end}_expanded": "± of the rate measured, 95 %, {end}",
    "working_rate.{end}_by_springs": "Rate calculated from the springs, {end}",
    "full_travel.{end}.slow_n": "Force at full travel, slow stroke, {end}",
    "full_travel.{end}.fast_n": "Force at full travel, fast stroke, {end}",
    "full_travel.{end}.slow_air_n": "Air's part of the force at full travel, slow stroke, {end}",
    "full_travel.{end}.fast_air_n": "Air's part of the force at full travel, fast stroke, {end}",
    "full_travel.{end}.reserve_n": "Force at full travel beyond the load with rider, {end}",
    "full_travel.{end}.{stroke}_parts.{part}_n": "Force of the {part} at full travel, {stroke}, {end}",
    "oil": "Oil",
    "oil.ml_per_mm": "Oil for each mm of air gap, open tube",
    "oil.ml_per_mm_by_rod": "Oil for each mm of air gap, around the rod",
    "oil.{gap}.change_mm": "Air gap changes by, {gap}",
    "oil.{gap}.gap_mm": "Air gap, {gap}",
    "oil.{gap}.oil_ml": "Oil to add or take out, {gap}",
    "oil.{gap}.slow_n": "Force at full travel, air squeezed slowly, {gap}",
    "oil.{gap}.fast_n": "Force at full travel, air squeezed at once, {gap}",
    "stops.{end}.rubber_from_mm": "Bump rubber begins at, {unit}",
    "stops.{end}.hydraulic_from_mm": "Hydraulic stop begins at, {unit}",
    "change_over.{n}.at_mm": "Springs change over at, no. {n}",
    "change_over.{n}.static_mm": "From the change-over to static sag, no. {n}",
    "change_over.{n}.rider_mm": "From the change-over to rider sag, no. {n}",
    "change_over.{n}.full_mm": "From the change-over to full travel, no. {n}",
    "change_over.{n}.before_n_per_mm": "Rate before the change-over, no. {n}",
    "change_over.{n}.after_n_per_mm": "Rate after the change-over, no. {n}",
    "change_over.{n}.nearer_per_mm": "Change-over nearer for each mm of preload, no. {n}",
    "change_over.{n}.further_per_mm": "Change-over further for each mm of spacer, no. {n}",
    "change_over.{n}.main_left_mm": "Coils of the main spring apart at full travel, no. {n}",
    "change_over.{n}.second_left_mm": "Coils of the second spring apart at full travel, no. {n}",
    "geometry.rake_deg": "Rake",
    "geometry.trail_mm": "Trail",
    "geometry.normal_trail_mm": "Normal trail",
    "geometry.wheelbase_mm": "Wheelbase",
    "geometry.{end}_rise_mm": "{End} moved since the baseline",
    "geometry.pitch_deg": "Pitch since the baseline",
    "geometry.baseline.rake_deg": "Rake, baseline",
    "geometry.baseline.trail_mm": "Trail, baseline",
    "geometry.baseline.normal_trail_mm": "Normal trail, baseline",
    "geometry.baseline.wheelbase_mm": "Wheelbase, baseline",
    "sag.{end}.{state}.sag_mm": "Measured {state} sag, {end}",
    "sag.{end}.{state}.stiction_mm": "Stiction, {aboard}, {end}",
    "sag.{end}.{state}.uncertainty_mm": "Standard uncertainty of {state} sag, {end}",
    "sag.{end}.{state}.expanded_mm": "± of {state} sag, 95 %, {end}",
    "sag.{end}.{state}.coverage": "Coverage factor of {state} sag, {end}",
    "sag.{end}.{state}.spread_mm": "Largest spread of repeats, {aboard}, {end}",
    "sag.{end}.{state}.target_mm": "Target for {state} sag, {end}",
    "sag.{end}.{state}.target_mm.{edge}": "Target for {state} sag {edge}, {end}",
    "sag.{end}.{state}.verdict": "Verdict on {state} sag, {end}",
    "sag.{end}.projected_static_mm": "Static sag to expect with the rider's in mid-target, {end}",
    "sag.{end}.advice": "What both sags say, {end}",
    "balance.{state}.{end}_kg": "{End} load, {aboard}",
    "balance.{state}.total_kg": "Weight, {aboard}",
    "balance.{state}.front_share_pct": "On front, {aboard}",
    "balance.{state}.ahead_mm": "Centre ahead, {aboard}",
    "balance.{state}.ahead_expanded_mm": "± of the centre ahead, 95 %, {aboard}",
    "balance.{state}.height_mm": "Centre up, {aboard}",
    "balance.{state}.height_expanded_mm": "± of the centre up, 95 %, {aboard}",
    "balance.{state}.height_from": "Source of the centre up, {aboard}",
    "balance.{state}.lifted_deg": "Steepest lift of the front, {aboard}",
    "brakes.braking_g": "Braking looked at",
    "brakes.slow_g": "Braking as ridden, slow stroke",
    "brakes.fast_g": "Braking as ridden, fast stroke",
    **{
        f"brakes.{{brakes}}.{key}": f"{NAMES[key]}, {{brakes}}"
        for key in (
            "front_kg",
            "fork_used_mm",
            "fork_left_mm",
            "rear_kg",
            "rear_used_mm",
            "rake_deg",
            "trail_mm",
            "wheelbase_mm",
            "rear_lifts_g",
            "fork_ends_g",
        )
    },
    "travel_left.wanted_mm": "Travel left wanted on the brakes",
    "travel_left.{stroke}_g": "Braking at which travel left is looked at, {stroke}",
    "travel_left.left_mm": "Travel left on the brakes as set",
    "travel_left.ways.{n}.now": "To leave the travel wanted, way {n}: now",
    "travel_left.ways.{n}.then": "To leave the travel wanted, way {n}: then",
    "travel_left.ways.{n}.then_expanded": "To leave the travel wanted, way {n}: ± of then, 95 %",
    "travel_left.ways.{n}.left_mm": "To leave the travel wanted, way {n}: left then",
    "travel_left.ways.{n}.oil_ml": "To leave the travel wanted, way {n}: oil",
    "travel_left.ways.{n}.sags.{m}.now": "To leave the travel wanted, way {n}: sag {m} now",
    "travel_left.ways.{n}.sags.{m}.then": "To leave the travel wanted, way {n}: sag {m} then",
    "braking_of_runs.mean_g": "Braking as ridden, mean of the runs",
    "braking_of_runs.spread_g": "Braking as ridden, scatter of the runs",
    "braking_of_runs.runs.{n}.{stroke}_g": "Braking as ridden, run {n}, {stroke}",
    "linkage.{at}.wheel_mm": "Rear travel, {at}",
    "linkage.{at}.shock_mm": "Shock travel, {at}",
    "linkage.{at}.ratio": "Motion ratio by the points, {at}",
    "linkage.{at}.arm_deg": "Swingarm down, {at}",
    "linkage.{at}.back_mm": "Rear axle behind the pivot, {at}",
    "linkage.progression_pct": "Progression of the linkage",
    "linkage.link_mm": "Length of the pull link",
    "linkage.ratios.{n}.0": "Rear travel at point {n} of the curve",
    "linkage.ratios.{n}.1": "Motion ratio at point {n} of the curve",
    "linkage.pairs.{n}.wheel_mm": "Wheel travel, pair {n} as measured",
    "linkage.pairs.{n}.shock_mm": "Shock travel, pair {n} as measured",
    "linkage.pairs.{n}.by_points_mm": "Shock travel by the points at pair {n}",
    "damping.{end}.wheel_rate_n_per_mm": "Wheel rate at rider sag, {end}",
    "damping.{end}.sprung_kg": "Sprung mass, {end}",
    "damping.{end}.frequency_hz": "Frequency, {end}",
    "damping.{end}.critical_n_s_per_m": "Critical damping, {end}",
    "damping.front_to_rear": "Front to rear by frequency",
    "damping.{end}.ratios.{n}.wheel_mm_per_s": "Speed of the wheel for damping ratio {n}, {end}",
    "damping.{end}.ratios.{n}.ratio": "Damping ratio {n}, {end}",
    "damper_sheets.{n}.unread": "Lines not read of damper sheet {n}",
    "damper_sheets.{n}.stroke_mm": "Stroke of the test, damper sheet {n}",
    "damper_sheets.{n}.temperature_c": "Temperature of the test, damper sheet {n}",
    "damper_sheets.{n}.gas_n": "Gas force, damper sheet {n}",
    "damper_sheets.{n}.curves.{m}.position": "Adjuster position, damper sheet {n}, curve {m}",
    "damper_sheets.{n}.curves.{m}.low_n_s_per_m": "Damping at low speed, damper sheet {n}, curve {m}",
    "damper_sheets.{n}.curves.{m}.high_n_s_per_m": "Damping at high speed, damper sheet {n}, curve {m}",
    "damper_sheets.{n}.curves.{m}.points.{p}.0": "Speed, damper sheet {n}, curve {m}, point {p}",
    "damper_sheets.{n}.curves.{m}.points.{p}.1": "Force, damper sheet {n}, curve {m}, point {p}",
    "damper_sheets.{n}.curves.{m}.at.{p}.speed_mm_per_s": "Speed compared at, damper sheet {n}, curve {m}, row {p}",
    "damper_sheets.{n}.curves.{m}.at.{p}.force_n": "Force there, damper sheet {n}, curve {m}, row {p}",
    "damper_sheets.{n}.curves.{m}.at.{p}.damping_n_s_per_m": "Damping there, damper sheet {n}, curve {m}, row {p}",
    "damper_sheets.{n}.clicks.{m}.speed_mm_per_s": "Speed at which a click is compared, damper sheet {n}, row {m}",
    "damper_sheets.{n}.clicks.{m}.per_click_n": "Force for each click, damper sheet {n}, row {m}",
    **{
        f"gas.{key}": f"{NAMES[key]}, on the gas"
        for key in (
            "fork_used_mm",
            "fork_extends_mm",
            "rear_used_mm",
            "front_kg",
            "rear_kg",
            "rake_deg",
            "trail_mm",
            "wheelbase_mm",
            "front_lifts_g",
            "acceleration_g",
        )
    },
    "gas.anti_squat_there_pct": NAMES["anti_squat_there_pct"],
    "gas.rear_squats_mm": "Rear moves, on the gas",
    "gas.stands.anti_squat_pct": NAMES["anti_squat_pct"],
    "gas.stands.arm_deg": f"{NAMES['arm_deg']}, at sag",
    "gas.stands.chain_deg": f"{NAMES['chain_deg']}, at sag",
    "gas.stands.squat_deg": "Squat line, at sag",
    "gas.stands.transfer_deg": "Load transfer line, at sag",
    "gas.over_travel.{n}.rear_used_mm": "Rear travel at point {n} of the anti-squat curve",
    "gas.over_travel.{n}.anti_squat_pct": "Anti-squat at point {n} of the curve",
    "gas.effects.{n}.amount": "Size of change {n} to the drive",
    "gas.effects.{n}.axle_back_mm": "Axle goes, by change {n} to the drive",
    "gas.effects.{n}.anti_squat_pct": "Anti-squat, by change {n} to the drive",
    "gas.effects.{n}.rear_squats_mm": "Rear squats, by change {n} to the drive",
    "gas.effects.{n}.trail_mm": "Trail, by change {n} to the drive",
    "gas.effects.{n}.wheelbase_mm": "Wheelbase, by change {n} to the drive",
    "gas.chain.pitch_mm": "Pitch of the chain",
    "gas.chain.needed_links": "Links that the chain needs",
    "gas.chain.taut_back_mm": "Axle goes until the chain is taut",
    "gas.chain.axle_moves.{n}.teeth": "Teeth, choice {n} of sprockets",
    "gas.chain.axle_moves.{n}.back_mm": "Axle goes, choice {n} of sprockets",
    "gas.chain.axle_moves.{n}.links": "Links, choice {n} of sprockets",
    "gas.chain.axle_moves.{n}.fits": "Fits its slots, choice {n} of sprockets",
    "one_rate.{end}": "One rate in place of these springs, {end}",
    "one_rate.{end}.{one}.rate_n_per_mm": "{one}: for each spring, {end}",
    "one_rate.{end}.{one}.static_mm": "{one}: static sag, {end}",
    "one_rate.{end}.{one}.rider_mm": "{one}: rider sag, {end}",
    "one_rate.{end}.{one}.stiffness_n_per_mm": "{one}: stiffness there, {end}",
    "one_rate.{end}.{one}.full_n": "{one}: force at full travel, {end}",
    "one_rate.{end}.{one}.most_apart_n": "{one}: furthest apart, {end}",
    "one_rate.{end}.{one}.most_apart_mm": "{one}: furthest apart at a travel of, {end}",
    "runs.{n}.{end}.used_mm": "Travel used, {end}, run {n}",
    "runs.{n}.{end}.available_mm": "Travel there is, {end}, run {n}",
    "runs.{n}.{end}.left_mm": "Travel left, {end}, run {n}",
    "runs.{n}.{end}.share_used": "Share of the travel used, {end}, run {n}",
    "runs.{n}.{end}.on_rubber_mm": "On the bump rubber, {end}, run {n}",
    "runs.{n}.{end}.in_hydraulic_mm": "In the hydraulic stop, {end}, run {n}",
    "runs.{n}.{end}_tyre.expected_hot_bar": "Hot pressure to expect, {end} tyre, run {n}",
    "runs.{n}.{end}_tyre.cold_to_set_bar": "Cold pressure to set, {end} tyre, run {n}",
    "runs.{n}.{end}_tyre.hot_less_wanted_bar": "Hot less wanted pressure, {end} tyre, run {n}",
    "runs.{n}.change": "Change made before run {n}",
    "runs.{n}.change.expected.{end}_{state}_mm": "{End} {state} sag expected of the change, run {n}",
    "runs.{n}.change.expected.fork_brakes_mm": "Fork travel on the brakes expected of the change, run {n}",
    "runs.{n}.change.expected.trail_mm": "Trail expected of the change, run {n}",
    "upkeep.gear_ratio": "Gear ratio",
    "upkeep.{work}.hours_since": "Hours since, {work}",
    "upkeep.{work}.at_hours": "Hour meter at the last work, {work}",
    "upkeep.torques.{n}.torque_nm": "Torque {n}",
    "as_found": "As found",
    "as_found.positions.front.fork_height_mm": "As found: fork height",
    "as_found.{end}_cold_bar": "As found: cold pressure, {end} tyre",
    "as_found.sag.{end}.{state}_mm": "As found: {state} sag, {end}",
    "calibration.{scale}.masses.{n}.true_kg": "Known mass {n}, {scale} scale",
    "calibration.{scale}.masses.{n}.read_kg": "Reading under known mass {n}, {scale} scale",
    "repeatability.{who}_mm": "Scatter of own readings, {who}",
    "repeatability.{who}_freedom": "Degrees of freedom of own readings, {who}",
}
"""Name by path; a figure that was recorded and is given back as it is has the name of its field instead."""


@cache
def _patterns() -> tuple[tuple[re.Pattern[str], str], ...]:
    return tuple((re.compile(_as_pattern(path)), name) for path, name in _FIGURES.items())


def _as_pattern(path: str) -> str:
    """The path with each of its places as a group of a pattern."""
    known = {key: "|".join(map(re.escape, words)) for key, words in _PLACES.items()}
    parts = re.split(r"\{(\w+)\}", path)
    return "".join(
        f"(?P<{part}>{known.get(part, '[0-9]+')})" if at % 2 else re.escape(part) for at, part in enumerate(parts)
    )


_SAME = {"End": "end", "unit": "end", "aboard": "state"}
"""Other words for a place that is in the path already."""


def figure_title(figure: str) -> str | None:
    """The name of a figure; None: it has none.

    Args:
        figure: its dotted path in `check --json`.

    >>> figure_title("predicted.front.static.sag_mm"), figure_title("rear.headroom_in_mm")
    ('Predicted static sag, front', 'Headroom in, shock')
    >>> figure_title("runs.0.front_marker_mm"), figure_title("changes.1.made_on")
    ('Run 1: fork marker', 'Change 2: day made')
    """
    for pattern, name in _patterns():
        found = pattern.fullmatch(figure)
        if found is not None:
            return worded(re.sub(r"\{(\w+)\}", partial(_place, found), name))
    return _recorded(figure)


def _place(found: re.Match[str], of: re.Match[str]) -> str:
    """What stands for a place in a name, by what was found in the path."""
    place, own = of[1], found.groupdict()
    at = own.get(place) or own[_SAME[place]]
    return _PLACES[place][at] if place in _PLACES else str(int(at) + 1)


def _recorded(figure: str) -> str | None:
    """The name of the field whose recorded value a figure is."""
    before, path = ("As found: ", figure.removeprefix("as_found.positions.")) if "positions" in figure else ("", figure)
    steps: Path = tuple(int(step) if step.isdigit() else step for step in path.split("."))
    try:
        name = label(steps)
    except (KeyError, ValueError, IndexError):
        return None
    return before + (re.sub(r"^(Run|Change)\b", rf"\1 {steps[1] + 1}", name) if isinstance(steps[1], int) else name)


_SIGNS: tuple[tuple[str, str, str], ...] = (
    (r"predicted\.\w+\.turns_for_target", "in", "out"),
    (r"predicted\.\w+\.mm_for_target", "more", "less"),
    (r"predicted\.front\.air\.\w+\.(tenth_bar|warmer|higher)_(mm|n)", "more", "less"),
    (r"oil\.\w+\.change_mm", "longer", "shorter"),
    (r"oil\.\w+\.oil_ml", "in", "out"),
    (r"geometry\.\w+_rise_mm", "up", "down"),
    (r"geometry\.pitch_deg", "nose down", "nose up"),
    (r"gas\.rear_squats_mm", "down", "up"),
    (r"gas\.(effects|chain)\..*back_mm", "back", "forward"),
    (r"gas\.effects\.\d+\.wheelbase_mm", "longer", "shorter"),
    (r"gas\.effects\.\d+\.(anti_squat_pct|rear_squats_mm|trail_mm)", "more", "less"),
)
"""What a figure above and below 0 is, for those whose sign is a direction."""


def direction_words(figure: str) -> tuple[str, str] | None:
    """What a figure above 0 is and what one below 0 is, where its sign is a direction.

    >>> direction_words("predicted.front.turns_for_target"), direction_words("rear.headroom_in_mm")
    (('in', 'out'), None)
    """
    return next(((above, below) for path, above, below in _SIGNS if re.fullmatch(path, figure)), None)
