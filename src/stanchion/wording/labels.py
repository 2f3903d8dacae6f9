"""The names of the fields and parts of a job."""

from __future__ import annotations

from stanchion.job.measured import SAG_NOTES
from stanchion.job.model import End, Path
from stanchion.wording.american import worded

_PARTS: dict[Path, str] = {
    (): "Job",
    ("job",): "Job",
    ("front",): "Fork",
    ("front", "left"): "Fork, left",
    ("front", "right"): "Fork, right",
    ("front", "top_out"): "Fork, top-out spring",
    ("rear",): "Shock",
    ("rear", "top_out"): "Shock, top-out spring",
    ("weights",): "Weights",
    ("runs",): "Run",
    ("found",): "As found",
    ("found", "front"): "As found, fork",
    ("found", "rear"): "As found, shock",
    ("found", "sag"): "As found, sag",
    ("returning",): "Work list",
    ("geometry",): "Geometry",
    ("upkeep",): "Upkeep",
    ("upkeep", "fork_oil"): "Upkeep, fork oil",
    ("upkeep", "fork_seals"): "Upkeep, fork seals",
    ("upkeep", "shock"): "Upkeep, shock",
    ("upkeep", "torques"): "Upkeep, torques",
    ("upkeep", "ratio_with"): "Motion ratio measured with",
    ("upkeep", "geometry_with"): "Geometry measured with",
    ("upkeep", "set_lengths_with"): "Set length read with",
    ("attached",): "Attached files",
    ("balance",): "Balance",
    ("balance", "lifts"): "Balance, front lifted",
    ("targets",): "Own targets",
    ("targets", "front"): "Own targets, front",
    ("targets", "rear"): "Own targets, rear",
    ("sag",): "Sag",
    ("sag", "front"): "Front sag",
    ("sag", "rear"): "Rear sag",
    ("sag", "front", "static"): "Front static sag",
    ("sag", "front", "rider"): "Front rider sag",
    ("sag", "rear", "static"): "Rear static sag",
    ("sag", "rear", "rider"): "Rear rider sag",
}
END_NAMES: dict[End, str] = {"front": "fork", "rear": "shock"}
_BOTH_LEGS = "Fork, both legs"

# By the last steps of a path, the longest that fits first. At most 22 characters: so wide is the column.
_FIELDS: dict[Path, str] = {
    ("found", "on"): "Taken on",
    ("found", "front_cold_bar"): "Front tyre, cold",
    ("found", "rear_cold_bar"): "Rear tyre, cold",
    ("returning", "job"): "Returned to, job",
    ("returning", "run"): "Returned to, run",
    ("returning", "title"): "Returned to",
    ("machine",): "Machine",
    ("rider",): "Rider",
    ("venue",): "Venue",
    ("air", "in_use_c"): "Temperature in use",
    ("air", "wanted_bar"): "Pressure wanted in use",
    ("set_in", "altitude_m"): "Altitude when set",
    ("set_in", "barometer_hpa"): "Barometer when set",
    ("gas_set_in", "altitude_m"): "Gas set at altitude",
    ("gas_set_in", "barometer_hpa"): "Gas set at barometer",
    ("gas_set_in",): "Where its gas was set",
    ("closed_in", "altitude_m"): "Altitude when closed",
    ("closed_in", "barometer_hpa"): "Barometer when closed",
    ("altitude_m",): "Altitude",
    ("barometer_hpa",): "Barometer",
    ("set_in",): "Where it was set",
    ("closed_in",): "Where it was closed",
    ("date",): "Date",
    ("session",): "Session",
    ("use",): "Set up for",
    ("rider_mass_kg",): "Rider in full gear",
    ("coils", "wire_mm"): "Wire diameter",
    ("coils", "outer_mm"): "Coil outside diameter",
    ("coils", "total_coils"): "Coils in total",
    ("coils", "ends"): "Spring ends",
    ("coils", "wire"): "Kind of wire",
    ("coils", "solid_length_mm"): "Solid length, measured",
    ("tester", "length_mm"): "Tester length",
    ("tester", "force_n"): "Tester force",
    ("tester",): "Tester readings",
    ("bleed", "at_mm"): "Bled at compression",
    ("bleed", "pressure_bar"): "Bled at pressure",
    ("bleed", "temperature_c"): "Bled at temperature",
    ("solids_ml",): "Solids in air space",
    ("packers_mm",): "Packers",
    ("bump_rubber_mm",): "Bump rubber",
    ("stops", "touches_mm"): "Rubber touches at",
    ("stops", "rate_n_per_mm"): "Rubber's rate",
    ("stops", "hydraulic_mm"): "Hydraulic stop",
    ("stops", "pairs"): "Rubber, pairs",
    ("pairs", "squeezed_mm"): "Rubber pressed by",
    ("pairs", "force_n"): "Rubber's force there",
    ("gas_volume_ml",): "Gas volume",
    ("gas_set_at_c",): "Gas set at",
    ("rear", "temperature_c"): "Shock temperature now",
    ("temperature_c",): "Fork temperature now",
    ("machine_kg",): "Machine mass",
    ("front_share_pct",): "Share on front wheel",
    ("rider_front_share_pct",): "Rider share, front",
    ("front_unsprung_kg",): "Unsprung, front",
    ("rear_unsprung_kg",): "Unsprung, rear",
    ("front_alone_kg",): "Front scale, alone",
    ("rear_alone_kg",): "Rear scale, alone",
    ("front_aboard_kg",): "Front scale, rider",
    ("rear_aboard_kg",): "Rear scale, rider",
    ("aboard_rider_kg",): "Rider on the scales",
    ("aboard_rider_at",): "Scales with that rider",
    ("balance", "braking_g"): "Braking to look at",
    ("balance", "height_alone_mm"): "Height, machine alone",
    ("balance", "height_aboard_mm"): "Height, rider aboard",
    ("balance", "blocked"): "Suspension blocked",
    ("lifts", "raised_mm"): "Front wheel raised by",
    ("lifts", "alone_kg"): "Front scale, alone",
    ("lifts", "aboard_kg"): "Front scale, rider",
    ("time",): "Began at",
    ("front_marker_mm",): "Fork marker",
    ("rear_marker_mm",): "Shock shaft marker",
    ("marker_from",): "Markers count from",
    ("best_lap_s",): "Best lap",
    ("laps",): "Laps ridden",
    ("front_cold_bar",): "Front tyre, cold",
    ("front_hot_bar",): "Front tyre, hot",
    ("rear_cold_bar",): "Rear tyre, cold",
    ("rear_hot_bar",): "Rear tyre, hot",
    ("front_cold_c",): "Front tyre, cold temp.",
    ("front_hot_c",): "Front tyre, hot temp.",
    ("rear_cold_c",): "Rear tyre, cold temp.",
    ("rear_hot_c",): "Rear tyre, hot temp.",
    ("machine_hours",): "Hour meter now",
    ("fork_oil", "on"): "Fork oil changed on",
    ("fork_oil", "at_hours"): "Fork oil at hours",
    ("fork_seals", "on"): "Fork seals changed on",
    ("fork_seals", "at_hours"): "Fork seals at hours",
    ("shock", "on"): "Shock serviced on",
    ("shock", "at_hours"): "Shock at hours",
    ("front_teeth",): "Front sprocket",
    ("rear_teeth",): "Rear sprocket",
    ("axle_mark_mm",): "Axle mark",
    ("upkeep", "wheelbase_mm"): "Wheelbase as set",
    ("front_tyre",): "Front tyre",
    ("rear_tyre",): "Rear tyre",
    ("front_wanted_bar",): "Front tyre, hot wanted",
    ("rear_wanted_bar",): "Rear tyre, hot wanted",
    ("torques", "what"): "To be tightened",
    ("torques", "torque_nm"): "Torque",
    ("torques", "done"): "Tightened",
    ("torques", "initials"): "By (initials)",
    ("air_c",): "Air",
    ("ground_c",): "Ground",
    ("said",): "Rider said",
    ("rake_deg",): "Rake",
    ("offset_mm",): "Fork offset",
    ("wheelbase_mm",): "Wheelbase",
    ("front_radius_mm",): "Front tyre radius",
    ("rear_radius_mm",): "Rear tyre radius",
    ("measured",): "Geometry measured",
    ("front_sag_mm",): "Front sag then",
    ("rear_sag_mm",): "Rear sag then",
    ("geometry", "fork_height_mm"): "Fork height then",
    ("geometry", "length_adjuster_mm"): "Length adjuster then",
    ("carried_from",): "Carried from",
    ("carried_id",): "Id of earlier job",
    ("job", "id"): "Id of the job",
    ("sample",): "Invented sample",
    ("notes",): "Notes",
    ("air", "fitted"): "Sprung by air",
    ("air", "pressure_bar"): "Air pressure",
    ("air", "set_at_c"): "Pressure set at",
    ("air", "most_bar"): "Highest allowed",
    ("air", "bore_mm"): "Bore, main chamber",
    ("air", "length_mm"): "Chamber length",
    ("air", "volume_ml"): "Chamber volume",
    ("air", "balance"): "Balance chamber",
    ("air", "port_mm"): "Port at travel",
    ("air", "balance_bar"): "Balance pressure",
    ("air", "rod_mm"): "Rod diameter",
    ("air", "balance_length_mm"): "Balance length",
    ("air", "balance_ml"): "Balance volume",
    ("air", "outer"): "Outer chamber",
    ("air", "outer_bar"): "Outer pressure",
    ("air", "outer_most_bar"): "Outer highest",
    ("air", "outer_bore_mm"): "Outer bore",
    ("air", "outer_tube_mm"): "Tube in it",
    ("air", "outer_length_mm"): "Outer length",
    ("air", "outer_ml"): "Outer volume",
    ("air",): "Air spring",
    ("pressures_bar",): "Pressures when read",
    ("second_springs",): "2nd spring when read",
    ("second", "arranged"): "Second spring",
    ("second", "rate_n_per_mm"): "Second spring rate",
    ("second", "free_length_mm"): "Second, free length",
    ("second", "solid_length_mm"): "Second, solid length",
    ("second", "divider_mm"): "Divider length",
    ("second", "stop_mm"): "Travel to the stop",
    ("second", "gap_mm"): "Gap to second spring",
    ("spring_fitted",): "Spring fitted",
    ("rate_n_per_mm",): "Spring rate",
    ("free_length_mm",): "Free length",
    ("set_length_mm",): "Set length",
    ("set_length_at",): "Set length read at",
    ("set_length_in_mm",): "Set length, fully in",
    ("read_at",): "Set length read on",
    ("adjuster", "counting"): "Adjuster counted in",
    ("adjuster", "total_turns"): "Adjuster turns, total",
    ("adjuster", "total_clicks"): "Adjuster clicks, total",
    ("adjuster", "click_mm"): "Preload per click",
    ("adjuster", "pitch_mm"): "Adjuster thread pitch",
    ("adjuster", "reading_out"): "Reading, fully out",
    ("adjuster", "reading_in"): "Reading, fully in",
    ("adjuster", "now"): "Adjuster now",
    ("adjuster", "base"): "Adjuster base",
    ("collar", "counting"): "Collar counted in",
    ("collar", "total_turns"): "Collar turns, total",
    ("collar", "total_clicks"): "Collar clicks, total",
    ("collar", "click_mm"): "Preload per click",
    ("collar", "pitch_mm"): "Collar thread pitch",
    ("collar", "reading_out"): "Reading, fully out",
    ("collar", "reading_in"): "Reading, fully in",
    ("collar", "now"): "Collar now",
    ("collar", "base"): "Collar base",
    ("spacer_mm",): "Spacer",
    ("washers_mm",): "Washer",
    ("seats_mm",): "Spring seat",
    ("compression", "now"): "Compression now",
    ("compression", "total"): "Compression range",
    ("compression", "unit"): "Compression in",
    ("compression", "base"): "Compression base",
    ("rebound", "now"): "Rebound now",
    ("rebound", "total"): "Rebound range",
    ("rebound", "unit"): "Rebound in",
    ("rebound", "base"): "Rebound base",
    ("low_speed_compression", "now"): "Low-speed comp. now",
    ("low_speed_compression", "total"): "Low-speed comp. range",
    ("low_speed_compression", "unit"): "Low-speed comp. in",
    ("low_speed_compression", "base"): "Low-speed comp. base",
    ("high_speed_compression", "now"): "High-speed comp. now",
    ("high_speed_compression", "total"): "High-speed comp. range",
    ("high_speed_compression", "unit"): "High-speed comp. in",
    ("high_speed_compression", "base"): "High-speed comp. base",
    ("air_gap_mm",): "Air gap",
    ("air_gap_least_mm",): "Air gap, least allowed",
    ("oil_volume_ml",): "Oil volume",
    ("oil",): "Oil",
    ("preload_difference_meant",): "Unequal preload meant",
    ("dampers_split",): "Dampers split",
    ("front", "travel_mm"): "Fork travel",
    ("fork_height_mm",): "Fork height",
    ("stanchion_outer_mm",): "Stanchion outside dia.",
    ("stanchion_inner_mm",): "Stanchion inside dia.",
    ("top_out", "fitted"): "Top-out spring fitted",
    ("top_out", "rate_n_per_mm"): "Top-out spring rate",
    ("top_out", "works_over_mm"): "Top-out works over",
    ("bench", "travel_mm"): "Travel from the stop",
    ("bench", "force_n"): "Top-out force there",
    ("bench",): "Top-out on the bench",
    ("damper_rod_mm",): "Damper rod diameter",
    ("gap_compared_mm",): "Air gap to compare",
    ("reserve_wanted_n",): "Reserve wanted at full",
    ("left_wanted_mm",): "Travel wanted left",
    ("top_out_legs",): "Top-out spring in",
    ("stroke_mm",): "Shock stroke",
    ("eye_to_eye_mm",): "Eye to eye, extended",
    ("length_adjuster_mm",): "Length adjuster",
    ("shaft_mm",): "Shaft diameter",
    ("gas_pressure_bar",): "Gas pressure",
    ("wheel_travel_mm",): "Wheel travel",
    ("motion_ratio",): "Motion ratio",
    ("linkage", "wheel_mm"): "Wheel travel of a pair",
    ("linkage", "shock_mm"): "Shock travel of a pair",
    ("linkage",): "Linkage pairs",
    ("gauge",): "Gauge reads",
    ("hanging_holds",): "L1 holds",
    ("hanging_mm",): "L1, wheel hanging",
    ("static", "down_mm"): "Static, pushed down",
    ("static", "up_mm"): "Static, lifted up",
    ("rider", "down_mm"): "Rider, pushed down",
    ("rider", "up_mm"): "Rider, lifted up",
    ("preload_at",): "Preload when read",
    ("rates_n_per_mm",): "Springs when read",
    ("stacks_mm",): "Stacks when read",
    ("free_lengths_mm",): "Free lengths when read",
    ("set_lengths_mm",): "Set lengths when read",
    ("set_lengths_in_mm",): "Lengths in, when read",
    ("air_gaps_mm",): "Air gaps when read",
    ("linkage_mm",): "Linkage when read",
    ("motion_ratios",): "Ratio when read",
    ("riders_kg",): "Rider when read",
    ("left_mm",): "Stack, left leg",
    ("right_mm",): "Stack, right leg",
    ("static_low_mm",): "Static sag at least",
    ("static_high_mm",): "Static sag at most",
    ("rider_low_mm",): "Rider sag at least",
    ("rider_high_mm",): "Rider sag at most",
    ("preload_low_mm",): "Preload at least",
    ("preload_high_mm",): "Preload at most",
    ("attached", "path"): "File",
    ("source",): "Source of targets",
    ("tape_resolution_mm",): "Tape division",
    ("fuel",): "Fuel aboard",
}


def field_label(path: Path) -> str:
    """The short name of a field, without its part.

    >>> field_label(("front", "left", "spring", "set_length_in_mm"))
    'Set length, fully in'
    """
    return worded(field_name(path))


def field_name(path: Path) -> str:
    """The short name of a field as the table has it, whatever words are chosen."""
    names = tuple(step for step in path if isinstance(step, str))
    for start in range(max(0, len(names) - 2), len(names)):
        found = _FIELDS.get(names[start:])
        if found is not None:
            return found
    return _PARTS.get(names) or (names[-1].replace("_", " ").capitalize() if names else "Job")


_READINGS = {"hanging_mm": "L1", "down_mm": "down", "up_mm": "up"}


def reading_word(path: Path) -> str:
    """A sag reading in one word, for places where its end and state are plain.

    >>> reading_word(("sag", "front", "static", "down_mm", 0)), reading_word(("front", "travel_mm"))
    ('down', 'fork travel')
    """
    names = [step for step in path if isinstance(step, str)]
    return _READINGS.get(names[-1]) or uncapitalised(field_label(path))


_OF_ADJUSTERS = ("Adjuster ", "Collar ")
_SHORT_FIELDS = {"Set length, fully in": "set fully in", "Preload per click": "mm per click"}


def short_field_label(path: Path) -> str:
    """A field in as few words as still name it, for narrow places below the name of its part.

    >>> short_field_label(("rear", "spring", "collar", "pitch_mm"))
    'thread pitch'
    """
    words = field_label(path)
    for part in _OF_ADJUSTERS:
        words = words.removeprefix(part) if words != f"{part}now" else words
    return _SHORT_FIELDS.get(words) or uncapitalised(words)


def part_label(path: Path, *, both_legs: bool = False) -> str:
    """The part of a job that a path belongs to.

    >>> part_label(("sag", "rear", "static", "down_mm", 0)), part_label(("front", "left"), both_legs=True)
    ('Rear static sag', 'Fork, both legs')
    """
    if both_legs and path[:1] == ("front",):
        return _BOTH_LEGS
    for end in range(len(path), 0, -1):
        found = _PARTS.get(path[:end])
        if found is not None:
            return found
    return _PARTS[()]


def home_label(path: Path, *, both_legs: bool = False) -> str:
    """The part under which a field is entered; both states of sag are entered under their end."""
    return part_label(path[:2] if path[:1] == ("sag",) else path, both_legs=both_legs)


_OF_A_STATE = {(name,) for name in SAG_NOTES}
"""Fields of sag whose name does not say which state they belong to."""


def label(path: Path, *, both_legs: bool = False) -> str:
    """A field with its part.

    >>> label(("front", "left", "spring", "free_length_mm"))
    'Fork, left: free length'
    """
    names = tuple(step for step in path if isinstance(step, str))
    if names in _PARTS:
        return _PARTS[names]
    part = part_label(path) if names[-1:] in _OF_A_STATE else home_label(path, both_legs=both_legs)
    return f"{part}: {uncapitalised(field_label(path))}"


def uncapitalised(text: str) -> str:
    """The text with a small first letter, for the middle of a sentence.

    >>> uncapitalised("Free length"), uncapitalised("L1, wheel hanging")
    ('free length', 'L1, wheel hanging')
    """
    return text[:1].lower() + text[1:] if text[1:2].islower() else text
