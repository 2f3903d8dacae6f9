"""The words for steering geometry: findings on its baseline, and the states it is given in."""

from __future__ import annotations

from stanchion.wording.finding_tables import GeometryWords, Words
from stanchion.wording.verdicts import STATE_WORDS

GEOMETRY: GeometryWords = {
    "geometry_sag_when_extended": Words(
        "Sag entered for an extended machine",
        "{path:label} is {sag_mm:length}, but the geometry was measured extended, so the sag is ignored. Enter the "
        "state it was measured in.",
    ),
    "trail_not_positive": Words(
        "Trail not above zero",
        "Geometry: rake, offset and front tyre radius give a trail of {trail_mm:length}, which is impossible. Measure "
        "them again.",
    ),
}

GEOMETRY_STATES: dict[str, str] = {**{str(state): word for state, word in STATE_WORDS.items()}, "extended": "extended"}
"""The states in which geometry is given or was measured."""

SAG_FROM: dict[str, str] = {
    "captured": "by measured sag",
    "predicted": "by predicted sag",
    "extended": "no sag known",
}
"""Where the sags of that state come from."""
