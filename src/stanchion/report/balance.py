"""Weights, centre of mass and the machine on the brakes: as lines of a report, and as plain data."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from stanchion.job.model import STATES, Job
from stanchion.judgement.predict.balance import balance_figures
from stanchion.judgement.predict.brakes import brakes_figures
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.balance import BrakesFigures, WheelWeights
from stanchion.judgement.results.figures import Figure
from stanchion.report.json_data import JsonData
from stanchion.report.lines import named_line
from stanchion.units.known_units import Units
from stanchion.wording.balance_sentences import (
    BRAKES_ROWS,
    Named,
    brakes_lines,
    brakes_notes,
    weight_lines,
)

_WEIGHTS = ("front_kg", "rear_kg", "total_kg", "front_share_pct", "ahead_mm", "ahead_expanded_mm")
_HEIGHT = ("height_mm", "height_expanded_mm", "lifted_deg")
_ON_BRAKES = ("front_kg", *(name for _, name, _ in BRAKES_ROWS))


def balance_rows(job: Job, assessment: Assessment, units: Units) -> Iterator[Named]:
    """Every line on balance and braking, the last of them without a name; none where no weight is known.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        units: units to show.
    """
    figures = balance_figures(job, assessment)
    if not any(weights.total_kg.known for weights in figures.states.values()):
        return
    for state in STATES:
        yield from weight_lines(figures.states[state], state, units)
    brakes = brakes_figures(job, assessment)
    yield from brakes_lines(job, brakes, units)
    yield from (("", note) for note in brakes_notes(brakes, figures.states["rider"], units))


def balance_lines(job: Job, assessment: Assessment, units: Units) -> Iterator[str]:
    """The same as a section of printed text, after an empty line."""
    rows = list(balance_rows(job, assessment, units))
    if rows:
        yield from ("", "Balance, and on the brakes")
    yield from (named_line(name, text) if name else f"  {text}" for name, text in rows)


def balance_json(data: JsonData, job: Job, assessment: Assessment) -> dict[str, Any]:
    """Weights and centre of mass by state, and the machine on the brakes; see JSON in DEVELOPERS.md."""
    figures, brakes = balance_figures(job, assessment), brakes_figures(job, assessment)
    return {
        "balance": {state: _weights(data, f"balance.{state}", figures.states[state]) for state in STATES},
        "brakes": {
            "braking_g": data.plain("brakes.braking_g", brakes.braking_g),
            **{name: data.of(f"brakes.{name}", getattr(brakes, name), _ON_BRAKES) for name in ("slow", "fast")},
            **_by_height(data, brakes),
            "left_out": list(brakes.omitted),
        },
    }


def _by_height(data: JsonData, brakes: BrakesFigures) -> dict[str, Any]:
    """The slow figures with the centre of mass as low and as high as it may lie, where that is known."""
    if brakes.by_height is None:
        return {}
    both = zip(("lower", "higher"), brakes.by_height, strict=True)
    return {name: data.of(f"brakes.{name}", of, _ON_BRAKES) for name, of in both}


def _weights(data: JsonData, at: str, of: WheelWeights) -> dict[str, Any]:
    source = data.code(f"{at}.height_from", of.height_from, Figure(0.0), "not_lifted")
    return {**data.of(at, of, _WEIGHTS), **data.of(at, of, _HEIGHT), "height_from": source}
