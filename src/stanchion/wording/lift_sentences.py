"""The words for findings on readings with the front lifted."""

from __future__ import annotations

from stanchion.wording.finding_tables import BalanceWords, CalibrationWords, Words

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

_HIGH = "[{high_kg:mass} high][{low_kg:mass} low] at {read_kg:mass}"
_SCALE = "{scale:label}[ ({called:text})]"
_ON = "[, calibrated {on:text}] with known masses of {from_kg~to_kg:mass}"
CALIBRATION: CalibrationWords = {
    "scale_corrected": Words(
        "Scale readings are corrected",
        f"{_SCALE} reads {_HIGH}: corrected to {{corrected_kg:mass}}{_ON}. Figures count with corrected readings; the "
        "field keeps what was read.",
    ),
    "scale_off": Words(
        "Scale is far off",
        f"{_SCALE} reads {_HIGH}: corrected to {{corrected_kg:mass}}{_ON}. Set its zero on level ground and calibrate "
        "it again, or have it adjusted.",
    ),
    "scale_calibration_doubted": Words(
        "Calibration cannot be right: not used",
        f"{_SCALE} would read {_HIGH}{_ON}. No scale is that far off, so its readings are not corrected. Check known "
        "masses and unit, and calibrate again.",
    ),
    "scale_calibration_short": Words(
        "Calibration incomplete: not used",
        f"{_SCALE}: its readings are not corrected. Calibrate it with at least {{count:count}} different known masses.",
    ),
    "scale_calibration_old": Words(
        "Calibration is more than a year old",
        f"{_SCALE}: its calibration of {{on:text}} is more than a year old. Check it with known masses.",
    ),
}
"""The words for findings on the calibration of scales."""
