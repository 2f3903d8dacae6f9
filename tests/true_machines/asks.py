"""What work a finding asks for, read from what it carries; where it carries nothing, from its words."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import cast

from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.wording.finding_words import sentence

OPPOSITE = {"more": "less", "less": "more", "stiffer": "softer", "softer": "stiffer"}
NUMBERS = ("preload_mm", "turns", "spacer_change_mm", "rate_n_per_mm")


@dataclass(frozen=True)
class Ask:
    """The work one sentence asks for."""

    work: str
    """"none", "turns", "spacer", "spring", "measure" or "inputs"."""
    way: str
    """"more", "less", "stiffer", "softer", or "" where the work has none."""
    finding: Finding

    @property
    def numbers(self) -> dict[str, float]:
        """The numbers it gives, without sign."""
        finding_values = self.finding.values
        found = {name: cast("float | None", finding_values.get(name)) for name in NUMBERS}
        if found["preload_mm"] is None and self.work == "turns":
            found["preload_mm"] = cast("float | None", finding_values.get("mm"))
        return {name: abs(value) for name, value in found.items() if value is not None}

    @property
    def predicted(self) -> bool:
        """Whether it says that it rests on what is predicted and not on what was measured."""
        return "predict" in self.words.lower()

    @property
    def words(self) -> str:
        """What the reader reads."""
        return sentence(self.finding)


_BEFORE: dict[str, tuple[str, str]] = {}
"""Findings that carry no work yet, by code."""
for _work, _way, _codes in (
    ("none", "", "pair_suits top_out_hides_static top_out_hides_sags top_out_brings_in target_met target_within"),
    ("measure", "", "pair_suits_recheck too_soft_or_top_out too_stiff_contradicted find_friction"),
    ("measure", "", "measure_again_swapped measure_again_impossible measure_again_changed"),
    ("spring", "stiffer", "pair_suits_over_limit too_soft_held_up too_soft too_soft_projected stiffer_at_limit"),
    ("spring", "stiffer", "stiffer_no_room target_at_limit target_stiffer both_ends_sag_much"),
    ("spring", "softer", "too_stiff_little_preload too_stiff too_stiff_projected softer_no_room both_ends_sag_little"),
    ("spring", "softer", "target_softer target_loose"),
    ("turns", "more", "add_preload add_preload_then_static add_preload_into_target add_preload_headroom_unknown"),
    ("turns", "more", "target_more"),
    ("turns", "less", "less_preload less_preload_into_target less_preload_measure_again"),
    ("turns", "less", "less_preload_headroom_unknown target_less"),
    ("spacer", "more", "longer_spacer longer_spacer_unchecked target_longer_spacer"),
    ("spacer", "less", "shorter_spacer shorter_spacer_unchecked target_shorter_spacer"),
    ("inputs", "", "sag_not_as_predicted working_rate_high working_rate_low scales_swapped"),
    ("inputs", "", "scales_disagree_machine scales_disagree_rider scales_disagree_aboard"),
    ("inputs", "", "scales_contradict_machine scales_contradict_rider scales_contradict_aboard"),
):
    _BEFORE |= dict.fromkeys(_codes.split(), (_work, _way))

BAND = frozenset({"preload_low", "preload_high", "preload_over_limit", "spring_loose", "spring_may_come_loose"})
"""Findings on installed preload by itself, before anything is said of sag."""


def ask_of(finding: Finding) -> Ask | None:
    """What a finding asks for; None where it is about something else."""
    work = finding.values.get("work")
    if isinstance(work, str):
        if work == "none" and "recheck" in sentence(finding).lower():
            work = "measure"
        return Ask(work, str(finding.values.get("way") or ""), finding)
    if finding.code in ("predicted_bottoms", "predicted_tops_out"):
        ways = said(sentence(finding))
        if not ways:
            return None
        return Ask("spring" if ways & {"stiffer", "softer"} else "turns", min(ways), finding)
    if finding.code in _BEFORE:
        work, way = _BEFORE[finding.code]
        if (
            finding.code == "sag_not_as_predicted"
            and finding.severity is Severity.NOTE
            and _hint(finding) == "friction"
        ):
            return None
        return Ask(work, way, finding)
    return None


def _hint(finding: Finding) -> str:
    return str(finding.values.get("hint", ""))


def ends_of(finding: Finding) -> tuple[str, ...]:
    """The ends a finding speaks of."""
    named = [end for end in ("front", "rear") if end in finding.where[:2]]
    return tuple(named) or ("front", "rear")


def asks_at(assessment: Assessment, end: str) -> list[Ask]:
    """Everything asked for at one end: by the findings, by the advice on the sags, and by the target."""
    found: list[Finding] = [one for one in assessment.findings if end in ends_of(one)]
    for extra in (advice_at(assessment, end), target_at(assessment, end)):
        if extra is not None and extra not in found:
            found.append(extra)
    return [ask for ask in map(ask_of, found) if ask is not None]


def advice_at(assessment: Assessment, end: str) -> Finding | None:
    """The advice on the pair of sags."""
    return assessment.sag.end(end).advice  # type: ignore[arg-type]


def target_at(assessment: Assessment, end: str) -> Finding | None:
    """How the target is reached."""
    return assessment.predicted.end(end).target  # type: ignore[arg-type]


# --- the words ----------------------------------------------------------------------------------------------------

_SAID = (
    ("stiffer", r"\bstiffer\b|\btoo soft\b|springs? (is|are) too soft"),
    ("softer", r"\bsofter\b|\btoo stiff\b"),
    ("more", r"\bmore preload\b|\badd (the )?preload\b|\blonger spacer\b|\bspacer longer\b|\badd\b.{0,30}\bpreload\b"),
    ("less", r"\bless preload\b|\bshorter spacer\b|\bspacer shorter\b|\btake off\b"),
)
_NOT_ASKED = re.compile(
    r"do not force it:[^.]*\.|it takes [^.;]*?preload than [^:.]*:|towards (more|less) preload|can (add|take off) no more|never [^.:]*[:.]|do not fit a longer[^.]*\.|more preload would only[^.]*\.|if more is needed[^.]*\."
    r"|needs? [^.;:]*(more|less) preload[^.;:]*[;.,:]|for rider sag [^:]*:|more preload needed,|if [^.;]*;? ?the spring is[^.]*\.",
    re.IGNORECASE,
)


def said(words: str) -> frozenset[str]:
    """Which ways a sentence tells the reader to go: "stiffer", "softer", "more", "less".

    >>> sorted(said("Fork: the spring is too soft and preload holds it up: fit a stiffer spring with less preload."))
    ['less', 'stiffer']
    >>> sorted(said("Fork: adjuster fully in. Do not force it: more preload needs a longer spacer or a stiffer spring."))
    []
    """
    left = _NOT_ASKED.sub(" ", words)
    return frozenset(way for way, pattern in _SAID if re.search(pattern, left, re.IGNORECASE))
