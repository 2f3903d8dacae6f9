"""Findings, absent figures and cautions in words, the same on screen, sheet and check.

Every finding has a headline without numbers, and a sentence: what is wrong, where, and what to do, in about 150
characters. phrases.py explains the braces.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypedDict

from stanchion.judgement.results.codes import Caution
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.findings import Finding
from stanchion.units.known_units import METRIC, Units
from stanchion.wording.advice_sentences import ADVICE, ADVICE_VARIANTS, AT_EDGE, FLAGS, PREDICTED
from stanchion.wording.caution_sentences import BRIEF, CAUTIONS
from stanchion.wording.finding_tables import FindingWords, GeneralWords, Words
from stanchion.wording.fork_sentences import FORK, LINKAGE
from stanchion.wording.labels import choice_word, field_label, home_label, label, part_label, uncapitalised
from stanchion.wording.phrases import fill
from stanchion.wording.prediction_sentences import GEOMETRY, HINTS, PREDICTION
from stanchion.wording.preload_sentences import ADJUSTERS, LENGTH_VARIANTS, LENGTHS, PRELOAD, PRELOAD_VARIANTS
from stanchion.wording.reasons import PROBLEMS
from stanchion.wording.run_sentences import REMEDIES, RUNS
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
"""Words used instead of a finding's own, by its code and variant: "preload_low.rear"."""


__all__ = [
    "SINGLE_READINGS",
    "caution",
    "choice_word",
    "field_label",
    "headline",
    "headline_with_part",
    "label",
    "part_label",
    "reason",
    "sentence",
]

SINGLE_READINGS = "A reading taken only once is assumed to have a standard uncertainty of 1 mm: repeat it to know."


CODED: dict[str, Mapping[str, object]] = {"at_edge": AT_EDGE, "hint": HINTS, "part": NOT_JUDGED, "remedy": REMEDIES}
"""Words for values that are codes, by the name of the value."""


def sentence(finding: Finding, units: Units = METRIC) -> str:
    """What is wrong, where, and what to do; safe to show whatever text the file contains.

    >>> from stanchion.judgement.results.findings import Severity
    >>> sentence(Finding("adjuster_nearly_in", Severity.NOTE, ("front", "left"), {"turns": 0.5}))
    'Fork, left: the preload adjuster has only 0.5 turns left towards more preload.'
    """
    values = finding.values
    both_legs = values.get("both_legs") is True
    filled_in: dict[str, object] = {"path": finding.where, **values}
    if values.get("predicted") is True:
        filled_in["predicted_text"] = PREDICTED
    for name, words in FLAGS.items():
        if values.get(name) is True:
            filled_in[f"{name}_text"] = words
    for name, table in CODED.items():
        if name in values:
            filled_in[f"{name}_text"] = table[str(values[name])]
    where = part_label(finding.where, both_legs=both_legs)
    return fill(_words(finding).sentence, filled_in, units, where)


def headline(finding: Finding) -> str:
    """A finding in at most 40 characters, without numbers."""
    return _words(finding).headline


def headline_with_part(finding: Finding) -> str:
    """A headline with the part of the job it is about, for places without the sentence.

    >>> from stanchion.judgement.results.findings import Severity
    >>> headline_with_part(Finding("pair_suits", Severity.NOTE, ("sag", "rear"), {}))
    'Rear sag: springs and preload suit'
    >>> headline_with_part(Finding("sag_low", Severity.WARNING, ("sag", "front", "rider"), {}))
    'Front rider sag below target'
    """
    part, words = part_label(finding.where, both_legs=finding.values.get("both_legs") is True), headline(finding)
    if finding.where[:1] in ((), ("job",)) or words.startswith(part.partition(",")[0]):
        return words
    if part.endswith(" sag") and words.startswith("Sag "):
        return part + words.removeprefix("Sag")
    return f"{part}: {uncapitalised(words)}"


def reason(figure: Figure) -> str:
    """Why a figure is absent; empty for one that is known.

    >>> reason(Figure(needs=(("front", "left", "spring", "set_length_in_mm"),)))
    'needs set length fully in'
    """
    if figure.known:
        return ""
    if figure.problem:
        return PROBLEMS[figure.problem]
    parts = {home_label(path) for path in figure.needs}
    name = field_label if len(parts) < 2 else label
    names = list(dict.fromkeys(uncapitalised(name(path)).replace(", ", " ") for path in figure.needs))
    if not names:
        return "not computed"
    return "needs " + (names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}")


def caution(code: Caution, *, brief: bool = False) -> str:
    """The words of a caution; the brief ones fit one line of eighty columns."""
    return BRIEF.get(code, CAUTIONS[code]) if brief else CAUTIONS[code]


def _words(finding: Finding) -> Words:
    """The words of a finding: those of a variant that its values select, else those of its code."""
    code, values = finding.code, finding.values
    for holds, variant in (
        (values.get("band_low") is True or values.get("band_high") is True, "out_of_band"),
        (True, values.get("work")),
        (values.get("as_it_stands") is True, "stands"),
        (values.get("by_sag") is True, "by_sag"),
        (values.get("turned_in") == "clicks", "clicks"),
        (finding.where[:1] == ("rear",), "rear"),
        (values.get("band_full") is True, "band_full"),
        (values.get("spacer_mm") is None, "without"),
    ):
        if holds and f"{code}.{variant}" in VARIANTS:
            return VARIANTS[f"{code}.{variant}"]
    return FINDINGS[code]
