"""Whether a sag lies in, below or above its target, or so near an edge of it that its readings cannot tell."""

from __future__ import annotations

from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.judgement.results.assessment import Band
from stanchion.judgement.results.codes import SagVerdict


def verdict_of(sag_mm: float | None, target: Band | None, expanded_mm: float) -> SagVerdict:
    """The verdict on a sag by its target and expanded uncertainty; "" where it or its target is not known."""
    if sag_mm is None or target is None:
        return ""
    if near_edge(sag_mm, target, expanded_mm):
        return "borderline"
    if target[0] - SLACK <= sag_mm <= target[1] + SLACK:
        return "in"
    return "below" if sag_mm < target[0] else "above"


def near_edge(sag_mm: float, target: Band, expanded_mm: float) -> bool:
    """Whether a sag lies nearer to an edge of its target than its expanded uncertainty, inside or outside."""
    return min(abs(sag_mm - edge_mm) for edge_mm in target) < expanded_mm - SLACK
