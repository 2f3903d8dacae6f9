"""Findings, absent figures and cautions in words, the same on screen, sheet and check.

Every finding has a headline without numbers, and a sentence: what is wrong, where, and what to do, in about 150
characters. phrases.py explains the braces.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TypedDict

from stanchion.judgement.results.codes import Caution
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.findings import Finding
from stanchion.units.known_units import METRIC, Units
from stanchion.wording.advice_sentences import ADVICE
from stanchion.wording.advice_values import AT_EDGE, FLAGS, HELD, NEAR_EDGE, PERHAPS, PREDICTED, RECHECK, STAYS_OUT
from stanchion.wording.advice_variants import ADVICE_VARIANTS
from stanchion.wording.alike_sentences import ALIKE_VARIANTS
from stanchion.wording.american import worded
from stanchion.wording.caution_sentences import BRIEF, CAUTIONS
from stanchion.wording.choice_words import choice_word
from stanchion.wording.complaint_labels import WHERE_WORDS
from stanchion.wording.drive_sentences import DRIVE
from stanchion.wording.finding_tables import FindingWords, GeneralWords, Words
from stanchion.wording.fork_sentences import FORK, FORK_VARIANTS, LINKAGE, SHUT_IN
from stanchion.wording.labels import field_label, home_label, label, part_label, uncapitalised
from stanchion.wording.lift_sentences import BALANCE, CALIBRATION
from stanchion.wording.phrases import fill, listed
from stanchion.wording.points_sentences import POINTS, POINTS_VARIANTS
from stanchion.wording.prediction_sentences import GEOMETRY, GEOMETRY_STATES, HINTS, PREDICTION, SINCE, hint_words
from stanchion.wording.preload_sentences import ADJUSTERS, LENGTH_VARIANTS, LENGTHS, PRELOAD, PRELOAD_VARIANTS
from stanchion.wording.proof_sentences import PROOF
from stanchion.wording.reasons import PROBLEMS
from stanchion.wording.rebound_sentences import REBOUND, TURN, WITH_SPRING
from stanchion.wording.run_sentences import NO_MORE, REMEDIES, RUN_VARIANTS, RUNS, STOPS
from stanchion.wording.safety_sentences import SAFETY, SAFETY_VARIANTS
from stanchion.wording.sag_sentences import SAG_VARIANTS, SAGS
from stanchion.wording.second_out_sentences import SECOND_OUT_VARIANTS
from stanchion.wording.spring_sentences import CHANGE_OVER, COIL_VARIANTS, COILS
from stanchion.wording.upkeep_sentences import UPKEEP
from stanchion.wording.verdicts import STATE_WORDS
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
        "Not judged: a fault in the program",
        "{part_text:words}: not judged, because of a fault in the program: please report it. What you entered is "
        "kept, and everything else is judged.",
    ),
    "unknown_use": Words(
        "Unknown use: judged as track",
        "Job: there is no profile '{use:text}'; it is judged as {fallback:text}. Choose one of {names:text}.",
    ),
    "own_target_half": Words(
        "Own target is half entered",
        "{path:label} is missing. Until it is entered, the standard target applies.",
    ),
    "own_target_order": Words(
        "Own target is the wrong way round",
        "{path:label}, {low_mm:length}, is above the highest, {high_mm:length}. Correct one of them; until then the "
        "standard target applies.",
    ),
    "implausible": Words(
        "Value unlikely: check the unit",
        "{path:label} {value:mixed} is outside the usual {low~high:mixed}: check the number and "
        "the unit[; {typed:count} {unit:text} would be {meant:mixed}].",
    ),
    "missing": Words("Readings missing", "{where}: still to measure: {needs:labels}."),
    "previous_absent": Words(
        "Earlier job missing or unreadable",
        "Job: it was carried forward from {name:text}, which is missing or unreadable: springs cannot be compared.",
    ),
}

FINDINGS: FindingWords = {
    **GENERAL,
    **PRELOAD,
    **LENGTHS,
    **ADJUSTERS,
    **FORK,
    **LINKAGE,
    **POINTS,
    **COILS,
    **CHANGE_OVER,
    **SAGS,
    **ADVICE,
    **PREDICTION,
    **GEOMETRY,
    **BALANCE,
    **REBOUND,
    **RUNS,
    **UPKEEP,
    **DRIVE,
    **WORK,
    **PROOF,
    **SAFETY,
    **CALIBRATION,
}
VARIANTS: dict[str, Words] = {
    **PRELOAD_VARIANTS,
    **LENGTH_VARIANTS,
    **FORK_VARIANTS,
    **POINTS_VARIANTS,
    **COIL_VARIANTS,
    **SAG_VARIANTS,
    **ADVICE_VARIANTS,
    **SAFETY_VARIANTS,
    **ALIKE_VARIANTS,
    **SECOND_OUT_VARIANTS,
    **RUN_VARIANTS,
}
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
    "work_asked_for",
]

SINGLE_READINGS = "A reading taken only once is assumed to have a standard uncertainty of 1 mm: repeat it to know."


CODED: dict[str, Mapping[str, object]] = {
    "at_edge": AT_EDGE,
    "nearness": {"at": "at", "close": "close to"},
    "near_edge": NEAR_EDGE,
    "held": HELD,
    "stays_out": STAYS_OUT,
    "to_tell": STAYS_OUT,
    "hint": HINTS,
    "part": NOT_JUDGED,
    "recheck": RECHECK,
    "rate_problem": PROBLEMS,
    "remedy": REMEDIES,
    "no_more": NO_MORE,
    "stop": STOPS,
    "since": SINCE,
    "with_spring": WITH_SPRING,
    "place": {str(where): words for where, words in WHERE_WORDS.items()},
    "turn": TURN,
    "geometry_state": GEOMETRY_STATES,
    "weighed_in": {str(state): words for state, words in STATE_WORDS.items()},
}
"""Words for values that are codes, by the name of the value."""


def sentence(finding: Finding, units: Units = METRIC) -> str:
    """What is wrong, where, and what to do; safe to show whatever text the file contains.

    >>> from stanchion.judgement.results.findings import Severity
    >>> sentence(Finding("adjuster_nearly_in", Severity.NOTE, ("front", "left"), {"turns": 0.5}))
    'Fork, left: the preload adjuster has only 0.5 turns left towards more preload.'
    """
    return _filled(finding, _words(finding).sentence, units)


def work_asked_for(finding: Finding, units: Units = METRIC) -> str:
    """The part of the sentence of an advice that says what to do; empty of any other finding.

    >>> from stanchion.judgement.results.findings import Severity
    >>> values = {"rider_mm": 47.3, "static_mm": 22.7, "new_rate_n_per_mm": 10.25}
    >>> work_asked_for(Finding("too_soft", Severity.WARNING, ("sag", "front"), values))
    'Fit a stiffer one, about 10.25 N/mm.'
    """
    if finding.code not in ADVICE:
        return ""
    words = _words(finding).sentence
    begins = _WORK_BEGINS.search(words)
    if begins is None:
        return ""
    work = _filled(finding, words[begins.start() :], units)
    return work[:1].upper() + work[1:]


_WORK_BEGINS = re.compile(
    r"\b(?:do not fit|[Ff]it a|[Mm]ake the|Add|Take off|Set|[Tt]urn the|First check|A \{way:text\} spring)\b"
)
"""Where the part begins that says what to do, in the words of an advice before they are filled in."""


def _filled(finding: Finding, template: str, units: Units) -> str:
    values = finding.values
    both_legs = values.get("both_legs") is True
    filled_in: dict[str, object] = {"path": finding.where, **values}
    if values.get("predicted") is True:
        filled_in["predicted_text"] = worded(PREDICTED)
    for name, words in {**FLAGS, **SHUT_IN, **(PERHAPS if values.get("perhaps") else {})}.items():
        if values.get(name) is True:
            filled_in[f"{name}_text"] = worded(words)
    for name, table in CODED.items():
        if values.get(name) is not None:
            filled_in[f"{name}_text"] = worded(str(table[str(values[name])]))
    if values.get("left_out"):
        filled_in["hint_text"] = worded(hint_words(values))
    where = part_label(finding.where, both_legs=both_legs)
    return fill(template, filled_in, units, where)


def headline(finding: Finding) -> str:
    """A finding in at most 40 characters, without numbers."""
    return worded(_words(finding).headline)


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


_LEGS = {"fork left": "left fork leg", "fork right": "right fork leg"}
"""A leg as it is called where "fork left" would read as travel that is left."""


def reason(figure: Figure) -> str:
    """Why a figure is absent; empty for one that is known.

    >>> reason(Figure(needs=(("front", "left", "spring", "set_length_in_mm"),)))
    'needs set length fully in'
    >>> reason(Figure(needs=(("rear", "stroke_mm"), ("rear", "motion_ratio"), ("weights", "rear_alone_kg"))))
    'needs shock: shock stroke and motion ratio; weights: rear scale alone'
    >>> reason(Figure(needs=(("front", "left", "spring", "set_length_in_mm"), ("rear", "stroke_mm"))))
    'needs left fork leg: set length fully in; shock: shock stroke'
    """
    if figure.known:
        return ""
    if figure.problem:
        return worded(PROBLEMS[figure.problem])
    if not figure.needs:
        return "not computed"
    parts: dict[str, dict[str, None]] = {}
    for path in figure.needs:
        part = uncapitalised(home_label(path)).replace(", ", " ")
        part = _LEGS.get(part, part)
        parts.setdefault(part, {})[uncapitalised(field_label(path)).replace(", ", " ")] = None
    if len(parts) == 1:
        return f"needs {listed(list(*parts.values()))}"
    return "needs " + "; ".join(f"{part}: {listed(list(names))}" for part, names in parts.items())


def caution(code: Caution, *, brief: bool = False) -> str:
    """The words of a caution; the brief ones fit one line of eighty columns."""
    return worded(BRIEF.get(code, CAUTIONS[code]) if brief else CAUTIONS[code])


def _words(finding: Finding) -> Words:
    """The words of a finding: those of a variant that its values select, else those of its code."""
    code, values = finding.code, finding.values
    for holds, variant in (
        (values.get("second_out") is True, "second_out"),
        (values.get("to_check") is True, "to_check"),
        (values.get("never") is True, f"{values.get('what')}_never"),
        (values.get("what") is not None, values.get("what")),
        (values.get("alike_mm") is not None, "alike"),
        (values.get("alike_mm") is not None, f"{values.get('work')}_alike"),
        (values.get("band_low") is True or values.get("band_high") is True, "out_of_band"),
        (values.get("stands_low") is True or values.get("stands_high") is True, "stands_out"),
        (values.get("rider_only") is True, "rider_only"),
        (values.get("at_edge") is not None, "at_edge"),
        (values.get("settled") is True and finding.where[:1] == ("rear",), "settled_rear"),
        (values.get("settled") is True, "settled"),
        (values.get("of_leg") is not None, "of_leg"),
        (values.get("match_both") is True, "both_legs"),
        (True, values.get("work")),
        (values.get("as_it_stands") is True and values.get("by_sag") is True, "stands_by_sag"),
        (values.get("as_it_stands") is True, "stands"),
        (values.get("predicted") is True, "predicted"),
        (values.get("single") is True, "single"),
        (values.get("repeated") is True and values.get("air") is True, "air_repeated"),
        (values.get("repeated") is True, "repeated"),
        (values.get("by_sag") is True and values.get("air") is True, "air_by_sag"),
        (values.get("by_sag") is True, "by_sag"),
        (values.get("against") is True and values.get("air") is True, "air_against"),
        (values.get("against") is True, "against"),
        (values.get("air") is True, "air"),
        (values.get("turned_in") == "clicks", "clicks"),
        (finding.where[:1] == ("rear",), "rear"),
        (values.get("band_full") is True, "band_full"),
        (values.get("one_adjuster") is True, "one_adjuster"),
        (values.get("top_out") is True, "top_out"),
        (values.get("spacer_mm") is None, "without"),
    ):
        if holds and f"{code}.{variant}" in VARIANTS:
            return VARIANTS[f"{code}.{variant}"]
    return FINDINGS[code]
