"""The words for findings on readings with the front lifted."""

from __future__ import annotations

from stanchion.wording.finding_tables import BalanceWords, Words

_STATE = "{where}, {weighed_in_text:words}: "
BALANCE: BalanceWords = {
    "lift_reads_more": Words(
        "Front heavier when lifted",
        f"{_STATE}lifted by {{raised_mm:short}}, the front reads {{front_kg:mass}}, and {{level_kg:mass}} level. It "
        "has to read less when lifted. Check both readings; until then there is no height from them.",
    ),
    "lift_height_unlikely": Words(
        "Height of centre of mass unlikely",
        f"{_STATE}{{front_kg:mass}} on the front, lifted by {{raised_mm:short}} ({{level_kg:mass}} level), puts the "
        "centre of mass {height_mm:length} up; usual is {low_mm~high_mm:band}. Check scales, block and radii.",
    ),
    "lift_off_line": Words(
        "One lifted reading does not fit",
        f"{_STATE}lifted by {{raised_mm:short}}, the front reads {{front_kg:mass}}; by the other readings it would be "
        "{expected_kg:mass}. Read it again; until then there is no height from them.",
    ),
    "level_off_line": Words(
        "Level reading does not fit the lifted",
        "{path:label} reads {front_kg:mass} level; by the readings with the front lifted it would be "
        "{expected_kg:mass}. Read it again; until then there is no height from them.",
    ),
    "lifts_scatter": Words(
        "Lifted readings do not agree",
        f"{_STATE}the readings scatter so much that the height is only known to ± {{doubt_mm:length}}. Read each "
        "again, and at one more height.",
    ),
    "lift_too_low": Words(
        "Front not lifted far enough",
        f"{_STATE}lifted by only {{lifted_deg:angle}}, the height is only known to ± {{doubt_mm:length}}. Lift the "
        "front by 250 mm or more.",
    ),
}
"""Findings on readings with the front lifted."""
