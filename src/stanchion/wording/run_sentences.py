"""The words for findings on runs and tyres."""

from __future__ import annotations

from stanchion.wording.finding_tables import RunWords, Words

_LEFT = "{path:label}: {left_mm:short} of {available_mm:short} travel left"
_RUBBER = "[, {into_mm:length} {stop_text:words}]"
_DAMPING = "[ ({clicks:counted} left)]"
_SHOCK_DAMPING = "[, low-speed {low:counted} left][, high-speed {high:counted} left]"
_CHAMBER = (
    "[{outer_room_text:words} ]make the air chamber smaller (spacers or oil in it, by its manual)"
    "[, or the {gap_leg:text} leg's air gap {step_mm:short} smaller]"
)
_SOFTER_ASKED = "The sags ask for a softer spring or less preload: put them right first. If it still comes so deep, "
_LESS_AIR_ASKED = "The sags ask for less pressure: put them right first. If it still comes so deep, "
_NO_SPRING = "No other spring is advised until what is in doubt at this end is put right."
_NO_MORE = "Bottoms, little or no preload to add"
_SINCE = "[ {changed_since_text:words}][ {rider_since_text:words}]"

RUNS: RunWords = {
    "marker_beyond_travel": Words(
        "Marker beyond full travel",
        "{path:label}: {used_mm:length} of travel used, but there is only {available_mm:length}. Check the reading, "
        "what it counts from, and the travel.",
    ),
    "marker_below_sag": Words(
        "Marker short of rider sag",
        "{path:label}: {used_mm:length} of travel used is less than rider sag there, {rider_mm:length}. Check what the "
        "marker counts from, and that it cannot slip.",
    ),
    "bottoms_adjuster_in": Words(
        "Bottoms with the adjuster at its end",
        f"{_LEFT}{_RUBBER}, with the adjuster at or near fully in: the spring is too soft. Fit a stiffer one.{_SINCE}",
    ),
    "bottoms_add_preload": Words(
        "Bottoms, and rider sag is too large",
        f"{_LEFT}{_RUBBER}, and rider sag is too large: add preload first[ (the adjuster has "
        f"{{headroom_mm:length}} to add)].{_SINCE}",
    ),
    "bottoms_sag_unknown": Words(
        "Near full travel: measure rider sag",
        f"{_LEFT}{_RUBBER}. Measure rider sag[ again ({{sag_outdated_text:words}})]: if it is too large, add "
        f"preload; if it is right, try {{remedy_text:words}}.{_SINCE}",
    ),
    "bottoms_air_gap": Words(
        "Near full travel: smaller air gap",
        f"{_LEFT}{_RUBBER}. Make the air gap {{step_mm:short}} smaller, then add compression{_DAMPING}; "
        f"fit stiffer springs last."
        f"{_SINCE}",
    ),
    "bottoms_air_gap_least": Words(
        "Near full travel, air gap at its least",
        f"{_LEFT}{_RUBBER}, and the air gap can go no smaller: fit stiffer springs.{_SINCE}",
    ),
    "bottoms_damping": Words(
        "Near full travel: compression damping",
        f"{_LEFT}{_RUBBER}. Add compression{_SHOCK_DAMPING}; fit a stiffer spring last.{_SINCE}",
    ),
    "bottoms_damping_closed": Words(
        "Near full travel, compression closed",
        f"{_LEFT}{_RUBBER}, and compression damping is fully closed: fit a stiffer spring.{_SINCE}",
    ),
    "travel_kept_back": Words(
        "Travel never used",
        "{path:label}: {left_mm:short} of travel never used though sag is right. If braking was hard, make the air "
        f"gap larger or reduce compression{_DAMPING}; do not fit softer springs.{_SINCE}",
    ),
    "tyre_hot_below_cold": Words(
        "Hot tyre pressure below cold",
        "{path:label}: {hot_bar:pressure} hot is less than {cold_bar:pressure} cold. Check whether the two are "
        "swapped, and check the tyre for a leak.",
    ),
    "tyre_hot_off": Words(
        "Hot tyre pressure not as wanted",
        "{path:label}: {hot_bar:pressure} hot, {wanted_bar:pressure} wanted[: set {set_bar:pressure} cold at the same "
        "temperatures].",
    ),
}

STOPS: dict[str, str] = {"rubber": "into the bump rubber", "hydraulic": "into the hydraulic stop"}
"""What the end of the travel was met by: what was met last."""
NO_MORE: dict[str, str] = {
    "adjuster": "the adjuster at or near fully in",
    "band": "little or no room for more preload",
}
"""What leaves little or no preload to add."""
REMEDIES: dict[str, str] = {
    "air_gap": "a smaller air gap",
    "compression": "compression damping",
    "chamber": "a smaller air chamber",
}
"""What to try instead of more preload where rider sag is right."""

RUN_VARIANTS: dict[str, Words] = {
    "bottoms_adjuster_in.by_sag": Words(
        "Bottoms with the adjuster at its end",
        f"{_LEFT}{_RUBBER}, with the adjuster at or near fully in. By the sags no stiffer spring is needed: try "
        f"{{remedy_text:words}} first.{_SINCE}",
    ),
    "bottoms_adjuster_in.to_check": Words(
        _NO_MORE,
        f"{_LEFT}{_RUBBER}, with {{no_more_text:words}}. {_NO_SPRING}{_SINCE}",
    ),
    "bottoms_adjuster_in.stands": Words(
        _NO_MORE,
        f"{_LEFT}{_RUBBER}, with {{no_more_text:words}}: the spring is too soft. Fit a stiffer one.{_SINCE}",
    ),
    "bottoms_adjuster_in.stands_by_sag": Words(
        _NO_MORE,
        f"{_LEFT}{_RUBBER}, with {{no_more_text:words}}. By the sags no stiffer spring is needed: try "
        f"{{remedy_text:words}} first.{_SINCE}",
    ),
    "bottoms_air_gap.to_check": Words(
        "Near full travel: smaller air gap",
        f"{_LEFT}{_RUBBER}. Make the air gap {{step_mm:short}} smaller, then add compression{_DAMPING}. "
        f"{_NO_SPRING}{_SINCE}",
    ),
    "bottoms_air_gap_least.to_check": Words(
        "Near full travel, air gap at its least",
        f"{_LEFT}{_RUBBER}, and the air gap can go no smaller. {_NO_SPRING}{_SINCE}",
    ),
    "bottoms_damping.to_check": Words(
        "Near full travel: compression damping",
        f"{_LEFT}{_RUBBER}. Add compression{_SHOCK_DAMPING}. {_NO_SPRING}{_SINCE}",
    ),
    "bottoms_damping_closed.to_check": Words(
        "Near full travel, compression closed",
        f"{_LEFT}{_RUBBER}, and compression damping is fully closed. {_NO_SPRING}{_SINCE}",
    ),
    "bottoms_add_preload.by_sag": Words(
        "Bottoms, and rider sag is too large",
        f"{_LEFT}{_RUBBER}, and rider sag is too large: put the sags right first.{_SINCE}",
    ),
    "bottoms_add_preload.air": Words(
        "Bottoms, and rider sag is too large",
        f"{_LEFT}{_RUBBER}, and rider sag is too large: add pressure first.{_SINCE}",
    ),
    "bottoms_sag_unknown.air": Words(
        "Near full travel: measure rider sag",
        f"{_LEFT}{_RUBBER}. Measure rider sag[ again ({{sag_outdated_text:words}})]: if it is too large, add "
        f"pressure; if it is right, try {{remedy_text:words}}.{_SINCE}",
    ),
    "bottoms_air_gap.against": Words(
        "Near full travel, though sag is small",
        f"{_LEFT}{_RUBBER}. {_SOFTER_ASKED}make the air gap {{step_mm:short}} smaller, add compression{_DAMPING} or "
        f"fit longer bump rubbers.{_SINCE}",
    ),
    "bottoms_air_gap_least.against": Words(
        "Near full travel, though sag is small",
        f"{_LEFT}{_RUBBER}, and the air gap can go no smaller. {_SOFTER_ASKED}add compression{_DAMPING} or fit longer "
        f"bump rubbers.{_SINCE}",
    ),
    "bottoms_damping.against": Words(
        "Near full travel, though sag is small",
        f"{_LEFT}{_RUBBER}. {_SOFTER_ASKED}add compression{_SHOCK_DAMPING}, or fit a longer bump rubber.{_SINCE}",
    ),
    "bottoms_damping_closed.against": Words(
        "Near full travel, though sag is small",
        f"{_LEFT}{_RUBBER}, and compression damping is fully closed. {_SOFTER_ASKED}fit a longer bump rubber.{_SINCE}",
    ),
    "bottoms_air_gap.air": Words(
        "Near full travel: smaller air chamber",
        f"{_LEFT}{_RUBBER}. Leave the pressure to the sags: {_CHAMBER}, then add compression{_DAMPING}.{_SINCE}",
    ),
    "bottoms_air_gap.air_against": Words(
        "Near full travel, though sag is small",
        f"{_LEFT}{_RUBBER}. {_LESS_AIR_ASKED}{_CHAMBER}, then add compression{_DAMPING}.{_SINCE}",
    ),
    "bottoms_damping.air": Words(
        "Near full travel: compression damping",
        f"{_LEFT}{_RUBBER}. Leave the pressure to the sags: add compression{_SHOCK_DAMPING}, then {_CHAMBER}.{_SINCE}",
    ),
    "bottoms_damping.air_against": Words(
        "Near full travel, though sag is small",
        f"{_LEFT}{_RUBBER}. {_LESS_AIR_ASKED}add compression{_SHOCK_DAMPING}, then {_CHAMBER}.{_SINCE}",
    ),
    "bottoms_damping_closed.air": Words(
        "Near full travel, compression closed",
        f"{_LEFT}{_RUBBER}, and compression damping is fully closed. Leave the pressure to the sags: "
        f"{_CHAMBER}.{_SINCE}",
    ),
    "bottoms_damping_closed.air_against": Words(
        "Near full travel, though sag is small",
        f"{_LEFT}{_RUBBER}, and compression damping is fully closed. {_LESS_AIR_ASKED}{_CHAMBER}.{_SINCE}",
    ),
    "travel_kept_back.air": Words(
        "Travel never used",
        "{path:label}: {left_mm:short} of travel never used though sag is right. If braking was hard, make the air "
        f"chamber larger or reduce compression{_DAMPING}; leave the pressure as it is.{_SINCE}",
    ),
    "travel_kept_back.air_by_sag": Words(
        "Travel never used",
        "{path:label}: {left_mm:short} of travel never used. Put the sags right first; if hard "
        f"braking still leaves it, make the air chamber larger or reduce compression{_DAMPING}.{_SINCE}",
    ),
    "travel_kept_back.by_sag": Words(
        "Travel never used",
        "{path:label}: {left_mm:short} of travel never used. Put the sags right first; if hard "
        f"braking still leaves it, make the air gap larger or reduce compression{_DAMPING}.{_SINCE}",
    ),
}
"""Words that take the place of a finding's own: see finding_words.py."""
