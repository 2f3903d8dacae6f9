"""Findings on preload and adjusters, marked where the advice on the sags speaks of the same thing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from stanchion.job.model import End
from stanchion.judgement.results.assessment import SagFigures
from stanchion.judgement.results.findings import Finding
from stanchion.judgement.results.predicted import Predicted
from stanchion.judgement.sag.sag_advice import NO_ADVICE, NO_ADVICE_BY_SAGS


def at_end_by_sag(finding: Finding, sag: SagFigures, predicted: Predicted) -> Finding:
    """The finding, marked `settled` if an adjuster is at its end where the advice on sag asks for no more that way."""
    if finding.code not in _ASK_FURTHER:
        return finding
    end: End = "rear" if finding.where[0] == "rear" else "front"
    advices = (sag.end(end).advice, predicted.end(end).target)
    asked = next((advice for advice in advices if advice is not None and advice.code not in NO_ADVICE), None)
    if asked is None or asked.code.startswith(_ASK_FURTHER[finding.code]):
        return finding
    if finding.values.get("band_full") is True and asked.code.startswith(_OTHER_SPRING[finding.code]):
        return finding
    return Finding(finding.code, finding.severity, finding.where, {**finding.values, "settled": True})


_ASK_FURTHER: Mapping[str, tuple[str, ...]] = {
    "adjuster_fully_in": ("add_preload", "longer_spacer", "stiffer", "no_spring_needs_more"),
    "adjuster_fully_out": ("less_preload", "shorter_spacer", "over_limit", "softer", "no_spring_needs_less"),
}
"""How the codes of advice begin that ask for more than an adjuster at its end can do."""
_OTHER_SPRING: Mapping[str, str] = {"adjuster_fully_in": "too_soft", "adjuster_fully_out": "too_stiff"}
"""The same for advice on another spring, where the finding names no spacer."""


def alike_by_sag(finding: Finding, sag: SagFigures, predicted: Predicted) -> Finding:
    """The finding that adjusters stand apart, with where both are to be set as the advice on the sags has it."""
    if finding.code != "preload_now_differs":
        return finding
    advices = (sag.front.advice, predicted.front.target)
    asked = next((advice for advice in advices if advice is not None and advice.code not in NO_ADVICE), None)
    where = {} if asked is None else {name: asked.values[name] for name in _SET_ALIKE if name in asked.values}
    return replace(finding, values={**finding.values, **where})


_SET_ALIKE = ("alike_turns", "alike_out", "alike_in", "turned_in")


def marked_by_sag(finding: Finding, sag: SagFigures, predicted: Predicted) -> Finding:
    """The finding, marked `by_sag` if it is on installed preload and there is advice on the sags of its end.

    That advice, measured or predicted, then says what to do, and the finding on preload does not. Sags that were read
    before preload was changed give no advice; predicted ones still do.
    """
    if finding.code not in _PRELOAD_IN_BAND or (finding.code == "loose_fully_out" and finding.where[0] == "rear"):
        return finding
    end: End = "rear" if finding.where[0] == "rear" else "front"
    advices = (sag.end(end).advice, predicted.end(end).target)
    if all(advice is None or advice.code in NO_ADVICE_BY_SAGS for advice in advices):
        return finding
    return Finding(finding.code, finding.severity, finding.where, {**finding.values, "by_sag": True})


_PRELOAD_IN_BAND = ("preload_low", "preload_high", "preload_near_limit", "preload_over_limit", "loose_fully_out")
