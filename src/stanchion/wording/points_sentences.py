"""The words for findings on the points of a linkage."""

from __future__ import annotations

from stanchion.wording.finding_tables import PointsWords, Words

_REREAD = "Read the points at it again, and the lengths of link and shock."
POINTS: PointsWords = {
    "points_impossible": Words(
        "Points of the linkage do not fit",
        "{path:label} does not fit the others: the lengths do not meet, or two points lie in one place. Read it again.",
    ),
    "points_stop": Words(
        "Link does not reach",
        "Shock: by the points, link and rocker lie in one line at {travel_mm:length} of wheel travel, and the link "
        f"reaches no further. {_REREAD}",
    ),
    "points_read_extended": Words(
        "Points taken as read at full extension",
        "Shock: the length eye to eye is not known, so the points count as read with the shock extended. Enter eye to "
        "eye, and they may be read in any position.",
    ),
    "points_and_pairs_differ": Words(
        "Points and pairs do not agree",
        "Shock: at {wheel_mm:length} of wheel travel the pair has {pair_mm:length} of shock travel, the points give "
        "{points_mm:length}. One of the two is wrong: measure that pair again, then the points.",
    ),
    "points_and_stroke_differ": Words(
        "Points, wheel travel and stroke differ",
        "Shock: by the points it gets {points_mm:length} shorter over {wheel_mm:length} of wheel travel; its stroke "
        "less packers is {stroke_mm:length}: {differ_mm:length} apart. Check wheel travel, stroke and eye to eye, then "
        "the points.",
    ),
    "points_and_arm_differ": Words(
        "Swingarm and linkage points do not agree",
        "Shock: with the wheel hanging, the swingarm is {points_deg:angle} below horizontal by the points, "
        "{measured_deg:angle} as it was measured: {differ_deg:angle} apart. Check eye to eye, the axle below the "
        "pivot, and the state in which geometry and swingarm were measured.",
    ),
}
POINTS_VARIANTS: dict[str, Words] = {
    "points_stop.link_never": Words(
        "Link does not reach",
        "Shock: by the points, the link does not fit between rocker and far end with the shock extended. " + _REREAD,
    ),
    "points_stop.shock": Words(
        "Shock does not get shorter",
        "Shock: by the points, it gets no shorter from {travel_mm:length} of wheel travel on. Read its two points "
        "again.",
    ),
    "points_stop.shock_never": Words(
        "Shock does not get shorter",
        "Shock: by the points, it gets longer as the wheel rises, or its length eye to eye is never reached. Read its "
        "two points and that length again.",
    ),
    "points_stop.arm": Words(
        "Swingarm does not move so far",
        "Shock: by the points, the swingarm stands vertical at {travel_mm:length} of wheel travel. Check its length, "
        "the axle's height and the wheel travel.",
    ),
    "points_stop.arm_never": Words(
        "Length eye to eye not reached",
        "Shock: by the points, the shock does not come to its length eye to eye in any position of the swingarm. Check "
        "that length, and read its two points again.",
    ),
}
"""Words that take the place of a finding's own: see finding_words.py."""
