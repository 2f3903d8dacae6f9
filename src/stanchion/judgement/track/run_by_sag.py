"""What a run asks for beside what the sags of that end ask for: one voice, and the sags come first."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from stanchion.job.model import End
from stanchion.judgement.results.assessment import SagFigures
from stanchion.judgement.results.findings import Finding
from stanchion.judgement.results.predicted import Predicted
from stanchion.judgement.sag.sag_advice import NO_ADVICE, NO_ADVICE_BY_SAGS


def run_by_sag(finding: Finding, sag: SagFigures, predicted: Predicted) -> Finding:
    """The finding on a run with what the advice on the sags of its end, measured or predicted, makes of it.

    It is marked `by_sag` if it asks for work on springs or preload that the sags do not ask for, `against` if the sags
    ask for less where it would name a stiffer spring as the last thing to do, and `to_check` if it would name one where
    something must be put right before a spring is judged at all. Others come back as they are.
    """
    ways, names_stiffer = _WAYS_OF_RUN.get(finding.code), finding.code in _NAMES_STIFFER
    if ways is None and not names_stiffer:
        return finding
    end: End = "rear" if str(finding.where[-1]).startswith("rear") else "front"
    advices = (sag.end(end).advice, predicted.end(end).target)
    in_doubt = end_in_doubt(end, sag, predicted)
    asked = next((advice for advice in advices if advice is not None and advice.code not in NO_ADVICE_BY_SAGS), None)
    way = None if asked is None else asked.values.get("way")
    if names_stiffer and way in ("less", "softer"):
        return _marked(finding, "against")
    if in_doubt and (names_stiffer or finding.code == "bottoms_adjuster_in"):
        return finding if finding.values.get("air") is True else _marked(finding, "to_check")  # names no spring there
    if asked is None or names_stiffer:
        return finding
    return finding if ways is None or way in ways else _marked(finding, "by_sag")


def end_in_doubt(end: End, sag: SagFigures, predicted: Predicted) -> bool:
    """Whether something of an end must be put right before another spring or preload is advised there."""
    advices = (sag.end(end).advice, predicted.end(end).target)
    return predicted.end(end).to_check or any(one is not None and one.code in _DOUBTED for one in advices)


def _marked(finding: Finding, mark: str) -> Finding:
    return replace(finding, values={**finding.values, mark: True})


_WAYS_OF_RUN: Mapping[str, tuple[str, ...]] = {
    "bottoms_adjuster_in": ("more", "stiffer"),
    "bottoms_add_preload": ("more",),
    "travel_kept_back": ("", "more", "less", "stiffer"),
}
"""Findings on a run that name work on springs or preload, with the ways of the advice on the sags that agree."""
_NAMES_STIFFER = frozenset({"bottoms_air_gap", "bottoms_air_gap_least", "bottoms_damping", "bottoms_damping_closed"})
"""Findings on a run that name a stiffer spring as the last thing to do."""
_DOUBTED = NO_ADVICE - {"measure_again_changed"}
"""Advice that something must be put right first."""
