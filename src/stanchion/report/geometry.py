"""Steering geometry, as text and as plain data."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import GeometryFigures
from stanchion.judgement.results.figures import Figure
from stanchion.report.lines import NAME, figure_line
from stanchion.units.known_units import Units
from stanchion.units.quantity import show
from stanchion.wording.geometry_sentences import GEOMETRY_STATES, SAG_FROM

_STEERING: tuple[tuple[str, str, Kind], ...] = (
    ("Rake", "rake_deg", Kind.ANGLE),
    ("Trail", "trail_mm", Kind.LENGTH),
    ("Normal trail", "normal_trail_mm", Kind.LENGTH),
    ("Wheelbase", "wheelbase_mm", Kind.LENGTH),
)
_SINCE: tuple[tuple[str, str, Kind], ...] = (
    ("Front has risen", "front_rise_mm", Kind.LENGTH),
    ("Rear has risen", "rear_rise_mm", Kind.LENGTH),
)


def geometry_lines(figures: GeometryFigures, units: Units) -> Iterator[str]:
    """The state, each figure now with its baseline beside it, and how far each end has risen since."""
    yield "Geometry"
    if not figures.entered:
        yield from figure_line("Rake, trail", figures.trail_mm, Kind.LENGTH, units)
        return
    yield f"  {'State':<{NAME}} {_state(figures)}"
    yield f"  {'Baseline measured':<{NAME}} {GEOMETRY_STATES[figures.baseline_state]}"
    for name, attribute, kind in _STEERING:
        then: Figure = getattr(figures.baseline, attribute)
        after = f"  (baseline {show(then.value, kind, units)})" if then.value is not None else ""
        yield from figure_line(name, getattr(figures, attribute), kind, units, after)
    for name, attribute, kind in _SINCE:
        yield from figure_line(name, getattr(figures, attribute), kind, units)


def _state(figures: GeometryFigures) -> str:
    front, rear = SAG_FROM[figures.front_from], SAG_FROM[figures.rear_from]
    sags = front if front == rear else f"{front} at the front, {rear} at the rear"
    return f"{GEOMETRY_STATES[figures.state]}, {sags}"
