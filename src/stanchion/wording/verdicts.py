"""The words for verdicts, severities, and the two states in which sag is measured."""

from __future__ import annotations

from typing import TypedDict

from stanchion.job.model import State
from stanchion.judgement.results.codes import SagVerdictNow
from stanchion.judgement.results.findings import Severity

PreloadVerdictWords = TypedDict(
    "PreloadVerdictWords",
    {
        "": str,
        "loose": str,
        "low": str,
        "in": str,
        "near_limit": str,
        "borderline": str,
        "high": str,
        "over_limit": str,
    },
)
SagVerdictWords = TypedDict(
    "SagVerdictWords",
    {
        "": str,
        "below": str,
        "in": str,
        "borderline": str,
        "above": str,
        "down_only": str,
        "topped_out": str,
        "friction": str,
        "doubtful": str,
        "stale": str,
    },
)


class SpringVerdictWords(TypedDict):
    """Of springs that could be fitted."""

    suits: str
    in_doubt: str
    suits_near_end: str
    suits_bind_unknown: str
    suits_near_end_bind_unknown: str
    sags_in: str
    turn_in: str
    turn_out: str
    sags_in_turned_in: str
    sags_in_turned_out: str
    nearer_in: str
    nearer_out: str
    close: str
    at_edge: str
    recheck: str
    other_spacer: str
    borderline: str
    low: str
    high: str
    check_fit: str
    check_length: str
    too_soft: str
    too_stiff: str
    sags_stay_out: str
    loose: str
    over_limit: str
    coil_bind: str
    too_long: str


SEVERITIES: dict[Severity, str] = {Severity.NOTE: "note", Severity.WARNING: "warning", Severity.FAULT: "fault"}

STATE_WORDS: dict[State, str] = {"static": "machine alone", "rider": "rider aboard"}
"""The states in which sag is measured."""

PRELOAD_VERDICTS: PreloadVerdictWords = {
    "": "",
    "loose": "loose",
    "low": "low",
    "in": "in band",
    "near_limit": "near limit",
    "borderline": "borderline",
    "high": "high",
    "over_limit": "over limit",
}
"""Where installed preload lies."""

SAG_VERDICTS: SagVerdictWords = {
    "": "",
    "below": "below",
    "borderline": "borderline",
    "in": "in target",
    "above": "above",
    "down_only": "down only",
    "topped_out": "topped out",
    "friction": "friction",
    "doubtful": "in doubt",
    "stale": "old",
}
"""Where sag lies, or why it is not judged."""
IN_TARGET_BRIEF = "ok"
"""Sag in target, where there is little room or the target is beside it."""
BORDERLINE_BRIEF = "edge?"
"""Borderline sag beside its target, where there is no room for the word."""
PREDICTED_BRIEF = "pred."
"""Predicted, where there is no room for the word."""
TOPPED_OUT_BRIEF = "topped"
"""Topped out, below a column of the prediction."""

SPRING_VERDICTS: SpringVerdictWords = {
    "suits": "suits",
    "in_doubt": "values in doubt",
    "suits_near_end": "suits, adjuster near end",
    "suits_bind_unknown": "suits, bind not checked",
    "suits_near_end_bind_unknown": "suits near end, bind?",
    "sags_in": "sags in target, no band",
    "turn_in": "suits once turned in",
    "turn_out": "suits once turned out",
    "sags_in_turned_in": "sags in once turned in",
    "sags_in_turned_out": "sags in once turned out",
    "nearer_in": "nearer once turned in",
    "nearer_out": "nearer once turned out",
    "close": "close to its targets",
    "at_edge": "at the edge: leave it",
    "recheck": "recheck its lengths",
    "other_spacer": "needs another spacer",
    "borderline": "borderline",
    "low": "preload below its band",
    "high": "preload above its band",
    "check_fit": "check fit",
    "check_length": "its length does not suit",
    "too_soft": "too soft",
    "too_stiff": "too stiff",
    "sags_stay_out": "sags stay out of target",
    "loose": "loose at full extension",
    "over_limit": "preload over the limit",
    "coil_bind": "coils bind",
    "too_long": "too long: no spacer left",
}
"""The verdicts on a spring that could be fitted; at most 24 characters, which is the room at eighty columns."""


def sag_verdict_alone(verdict: SagVerdictNow) -> str:
    """A verdict on sag for a line of prose without its target.

    >>> sag_verdict_alone("below"), sag_verdict_alone("topped_out")
    ('below target', 'topped out')
    """
    if verdict == "in":
        return IN_TARGET_BRIEF
    return SAG_VERDICTS[verdict] + (" target" if verdict in ("below", "above") else "")


def severity_word(severity: Severity | None) -> str:
    """The word for a severity; empty where there is none."""
    return "" if severity is None else SEVERITIES[severity]
