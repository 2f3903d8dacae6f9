"""The words for every finding: a headline without numbers, and a sentence.

A sentence says what is wrong, where, and what to do, in about 150 characters. phrases.py explains the braces.
"""

from __future__ import annotations

from typing import TypedDict

from stanchion.wording.advice_sentences import ADVICE, ADVICE_VARIANTS
from stanchion.wording.finding_tables import FindingWords, GeneralWords, Words
from stanchion.wording.fork_sentences import FORK, LINKAGE
from stanchion.wording.geometry_sentences import GEOMETRY
from stanchion.wording.length_sentences import ADJUSTERS, LENGTH_VARIANTS, LENGTHS
from stanchion.wording.prediction_sentences import PREDICTION
from stanchion.wording.preload_sentences import PRELOAD, PRELOAD_VARIANTS
from stanchion.wording.run_sentences import RUNS
from stanchion.wording.sag_sentences import SAGS
from stanchion.wording.spring_sentences import COIL_VARIANTS, COILS
from stanchion.wording.upkeep_sentences import UPKEEP
from stanchion.wording.work_sentences import WORK


class JudgedPartWords(TypedDict):
    """The parts of judging."""

    front: str
    rear: str
    springs: str
    sag: str
    prediction: str
    geometry: str
    runs: str
    upkeep: str
    work_list: str
    checks: str
    cautions: str


NOT_JUDGED: JudgedPartWords = {
    "front": "Fork",
    "rear": "Shock",
    "springs": "Springs by their coils",
    "sag": "Sag",
    "prediction": "Prediction",
    "geometry": "Geometry",
    "runs": "Runs",
    "upkeep": "Upkeep",
    "work_list": "Work list",
    "checks": "Checks of what is entered",
    "cautions": "Cautions",
}
"""The parts of judging, by name."""

GENERAL: GeneralWords = {
    "part_not_judged": Words(
        "Not judged: a fault of the program",
        "{part_text:text}: not judged, by a fault of the program: please report it. What you entered is kept, and "
        "everything else is judged.",
    ),
    "unknown_use": Words(
        "Unknown use: judged as track",
        "Job: there is no profile '{use:text}'; it is judged as {fallback:text}. Choose one of {names:text}.",
    ),
    "implausible": Words(
        "Value unlikely: check the unit",
        "{path:label} {value:mixed} is outside the usual {low:mixed_bare}–{high:mixed_short}: check number and unit[; "
        "{typed:count} {unit:text} would be {meant:mixed}].",
    ),
    "missing": Words("Readings missing", "{where}: measure next: {needs:labels}."),
    "previous_absent": Words(
        "Earlier job missing or unreadable",
        "Job: it was carried from {name:text}, which is missing or unreadable: springs cannot be compared.",
    ),
}

FINDINGS: FindingWords = {
    **GENERAL,
    **PRELOAD,
    **LENGTHS,
    **ADJUSTERS,
    **FORK,
    **LINKAGE,
    **COILS,
    **SAGS,
    **ADVICE,
    **PREDICTION,
    **GEOMETRY,
    **RUNS,
    **UPKEEP,
    **WORK,
}
VARIANTS: dict[str, Words] = {**PRELOAD_VARIANTS, **LENGTH_VARIANTS, **COIL_VARIANTS, **ADVICE_VARIANTS}
"""Words that take the place of a finding's own, by its code and what makes the difference: "preload_low.rear"."""
