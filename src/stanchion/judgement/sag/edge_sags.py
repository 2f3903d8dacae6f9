"""What the advice says of sags too near an edge of their targets: which they are, and how they were read."""

from __future__ import annotations

from collections.abc import Mapping

from stanchion.job.model import State
from stanchion.judgement.results.assessment import Band, StateFigures
from stanchion.judgement.sag.borderline import near_edge
from stanchion.judgement.sag.targets import Aims, within
from stanchion.judgement.sag.working_rate import Captured


def outside(now_mm: Mapping[State, float | None], aims: Aims) -> set[State]:
    """The states whose sag is not within its target, by however little."""
    exactly = Aims(targets=aims.targets, slack_mm={})
    return {state for state in aims.targets if not within(now_mm[state], exactly, state)}


def at_edge(captured: Captured, now_mm: Mapping[State, float | None], aims: Aims) -> set[State]:
    """The states whose sag is too near an edge of its target, or just outside it."""
    near = {state for state, target in aims.targets.items() if _near_edge(captured.state(state).figures, target)}
    return near | outside(now_mm, aims)


def edge_values(captured: Captured, now_mm: Mapping[State, float | None], aims: Aims) -> dict[str, object]:
    """What the sentence says of sags that are too near an edge: which, how well they are known, and whether a reading
    of theirs was taken only once."""
    states = at_edge(captured, now_mm, aims)
    read = [figures for state in states if _is_read(figures := captured.state(state).figures)]
    spreads = [figures.expanded_mm.value for figures in read if figures.expanded_mm.value is not None]
    return {
        "at_edge": "both" if len(states) > 1 else min(states),
        "single": any(figures.single_readings for figures in read) or None,
        "expanded_mm": max(spreads, default=None),
    }


def _near_edge(figures: StateFigures, target: Band) -> bool:
    """Whether a sag as it was read now lies too near an edge of what is wanted of it to be told from outside."""
    sag_mm, expanded_mm = figures.sag_mm.value, figures.expanded_mm.value
    if sag_mm is None or expanded_mm is None or not _is_read(figures):
        return False
    return near_edge(sag_mm, target, expanded_mm)


def _is_read(figures: StateFigures) -> bool:
    return figures.sag_mm.known and not figures.changed and not figures.topped_out
