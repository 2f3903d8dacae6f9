"""The words for what the rider reported that is a matter of safety."""

from __future__ import annotations

from stanchion.wording.finding_tables import SafetyWords, Words

_RUN = "Reported on run {run:count}: "
_PLACE = "[, {place_text:words}]"
_BEFORE = " before it is ridden again."

SAFETY: SafetyWords = {
    "safety_reported": Words(
        "Reported: inspect before it is ridden",
        _RUN + "a matter of safety" + _PLACE + ". Inspect the machine" + _BEFORE,
    )
}
"""The words for these findings."""
SAFETY_VARIANTS: dict[str, Words] = {
    "safety_reported.shakes": Words(
        "Shakes: inspect before it is ridden",
        _RUN + "it shakes" + _PLACE + ". Inspect steering head, wheels and their bearings, tyres, axles and steering "
        "damper" + _BEFORE,
    ),
    "safety_reported.brake": Words(
        "Brake wrong: inspect before it is ridden",
        _RUN + "the brake is wrong" + _PLACE + ". Inspect lever, fluid, pads, discs and caliper bolts" + _BEFORE,
    ),
    "safety_reported.bearing": Words(
        "Bearing has play: inspect first",
        _RUN
        + "a bearing has play"
        + _PLACE
        + ". Inspect steering head, wheel, swingarm and linkage bearings"
        + _BEFORE,
    ),
    "safety_reported.loose": Words(
        "Something loose: inspect first",
        _RUN
        + "something is loose"
        + _PLACE
        + ". Inspect axles, clamps, shock and caliper bolts and bodywork"
        + _BEFORE,
    ),
}
"""The same by what was reported."""
