"""The words for what upkeep tells."""

from __future__ import annotations

from stanchion.wording.words import Words

UPKEEP: dict[str, Words] = {
    "hours_run_backwards": Words(
        "Hour meter runs backwards",
        "{where}: {then:count} h then and {now:count} h on the meter now, which cannot be. Correct one of them.",
    ),
    "torques_open": Words(
        "Torques not done yet",
        "Torques still to do ({count:count}): {names:text}. Before a run tighten to the manual's values and tick them.",
    ),
    "motion_ratio_stale": Words(
        "Motion ratio from before a change",
        "Shock: {changed:text} changed since the motion ratio was measured. Measure the linkage again; the same value "
        "may be confirmed under Upkeep.",
    ),
    "geometry_stale": Words(
        "Geometry from before a change",
        "Geometry: {changed:text} changed since it was measured. Measure rake, wheelbase[ and {tyres:text}] again; the "
        "same values may be confirmed under Upkeep.",
    ),
    "wheelbase_differs": Words(
        "Wheelbase as set is not the one measured",
        "Upkeep: wheelbase {set_mm:length} as set, {measured_mm:length} in the geometry, on which rake and trail rest. "
        "Measure the geometry again in one state.",
    ),
}
