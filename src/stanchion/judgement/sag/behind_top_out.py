"""What a top-out spring takes from a sag: targets are meant for a machine without one.

With it the wheel hangs further in, so that sag reads lower; where it still works in the state that is read, it also
holds the machine down. One balance of forces, with and without that spring, gives both.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from stanchion.job.model import STATES, State
from stanchion.judgement.criteria.thresholds import NOT_SHOWN_MM, SLACK
from stanchion.judgement.ends.end_model import EndModel, hangs_at
from stanchion.judgement.results.assessment import Band, SagFigures
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.results.predicted import Predicted


def takes_from_sag(model: EndModel) -> bool:
    """Whether a top-out spring is known to hold the hanging wheel off its stop."""
    hangs_mm = hangs_at(model).value
    return hangs_mm is not None and hangs_mm >= NOT_SHOWN_MM


def targets_behind(
    model: EndModel, sags_mm: Mapping[State, float | None], targets: Mapping[State, Band]
) -> dict[State, Band]:
    """The targets as that machine reads them, of each state whose sag a top-out spring may have taken out of its own.

    A sag that lies between both targets counts as in: by the tape it is out one way, by the springs the other way, and
    so nothing is asked of it.

    Args:
        model: the end.
        sags_mm: its sags as they are; None: not known.
        targets: the targets, meant for a machine without a top-out spring.
    """
    if not takes_from_sag(model):
        return {}
    behind: dict[State, Band] = {}
    for state, (low_mm, high_mm) in targets.items():
        sag_mm = sags_mm.get(state)
        if sag_mm is None or low_mm - SLACK <= sag_mm <= high_mm + SLACK:
            continue
        least_mm, most_mm = _as_read(model, low_mm), _as_read(model, high_mm)
        if sag_mm < low_mm and least_mm < low_mm:
            behind[state] = (least_mm, most_mm if sag_mm <= most_mm + SLACK else high_mm)
        elif sag_mm > high_mm and most_mm > high_mm:
            behind[state] = (least_mm if sag_mm >= least_mm - SLACK else low_mm, most_mm)
    return behind


def _as_read(model: EndModel, sag_mm: float) -> float:
    """The sag that reads so much without the top-out spring, as it reads with it: under the same load."""
    bare = model.without_top_out()
    load_n = bare.force(min(sag_mm, bare.full_travel_mm)) / bare.along(1.0)
    return max(0.0, model.sag_with(0.0, load_n))


def without_it(model: EndModel, loads_n: Mapping[State, float]) -> dict[State, float]:
    """What each state would read without the top-out spring [mm]."""
    bare = model.without_top_out()
    return {state: bare.sag_with(0.0, load_n) for state, load_n in loads_n.items()}


def noted_behind(finding: Finding, sag: SagFigures, predicted: Predicted) -> Finding:
    """The finding; a sag out of its target where a top-out spring makes it read so is a note, which says that.

    Args:
        finding: any finding.
        sag: the sags of both ends.
        predicted: not asked: only what is measured is out of its target.
    """
    del predicted
    if finding.code not in ("sag_low", "sag_high"):
        return finding
    _, end, state = finding.where
    of = sag.front if end == "front" else sag.rear
    hidden = of.advice is not None and of.advice.code in ("top_out_hides_static", "top_out_hides_sags")
    if (hidden and of.static_hidden and state == "static") or any(state == one and one in of.behind for one in STATES):
        return replace(finding, severity=Severity.NOTE, values={**finding.values, "top_out": True})
    return finding
