"""The words for findings on upkeep, and for what was changed of chain and tyres."""

from __future__ import annotations

from collections.abc import Sequence

from stanchion.wording.american import worded
from stanchion.wording.finding_tables import UpkeepWords, Words

UPKEEP: UpkeepWords = {
    "hours_run_backwards": Words(
        "Hour meter runs backwards",
        "{where}: done at {then:count} h, but the hour meter now shows only {now:count} h. Correct one of them.",
    ),
    "torques_open": Words(
        "Torques not done yet",
        "Torques still to do ({count:count}): {names:names}. Tighten each to the manual's value and tick it before "
        "a run.",
    ),
    "motion_ratio_stale": Words(
        "Motion ratio from before a change",
        "Shock: {changed:chain_and_tyres} changed since the motion ratio was measured. Measure the linkage again; if "
        "the value is the same, confirm it under Upkeep.",
    ),
    "geometry_stale": Words(
        "Geometry from before a change",
        "Geometry: {changed:chain_and_tyres} changed since it was measured. Measure rake, wheelbase[ and "
        "{tyres_text:words}] again; if the values are the same, confirm them under Upkeep.",
    ),
    "set_length_stale": Words(
        "Set length read with another spacer",
        "{where}: set length was read with a spacer stack of {then_mm:length}, now {now_mm:length}"
        "[, which makes installed preload {preload_mm:length}]. Measure it again: until then preload follows the "
        "stack.",
    ),
    "wheelbase_differs": Words(
        "Wheelbase as set is not the one measured",
        "Upkeep: wheelbase is {set_mm:length} as set, but the geometry was measured at {measured_mm:length}. "
        "Measure the whole geometry again in one state.",
    ),
}

CHAIN_AND_TYRES: dict[str, str] = {
    "gearing": "gearing",
    "axle_mark": "axle mark",
    "front_tyre": "front tyre",
    "rear_tyre": "rear tyre",
}
"""What was changed of chain and tyres."""


def chain_and_tyres(changed: Sequence[str]) -> str:
    """What was changed, by name; both tyres in one word.

    >>> chain_and_tyres(("gearing", "front_tyre", "rear_tyre"))
    'gearing, tyres'
    """
    names = [CHAIN_AND_TYRES[code] for code in changed]
    if "front_tyre" in changed and "rear_tyre" in changed:
        names = [*(CHAIN_AND_TYRES[code] for code in changed if "tyre" not in code), "tyres"]
    return worded(", ".join(names))
