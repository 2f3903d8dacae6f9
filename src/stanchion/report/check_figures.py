"""Sections of the printed check: coils, prediction and geometry."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from stanchion.base.text import clean
from stanchion.job.model import ENDS, STATES, End
from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import Assessment, CoilFigures, EndSagFigures, GeometryFigures
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.predicted import FullTravelFigures, PredictedEnd
from stanchion.report.lines import WIDTH, figure_line, named
from stanchion.units.known_units import Units
from stanchion.units.quantity import show, show_difference
from stanchion.wording.finding_words import sentence
from stanchion.wording.geometry_sentences import GEOMETRY_STATES, SAG_FROM
from stanchion.wording.prediction_sentences import without_words
from stanchion.wording.verdicts import STATE_WORDS


def coil_lines(figures: CoilFigures, units: Units) -> Iterator[str]:
    """Rates and solid length of one spring; nothing where neither coils nor a tester were recorded."""
    calculated, measured = figures.rate_calculated_n_per_mm, figures.rate_measured_n_per_mm
    if calculated.known:
        between = figures.rate_calculated_range if calculated.estimate else None
        low, high = (show(limit, Kind.RATE, units) for limit in between or (0.0, 0.0))
        kinds = f", {low.partition(' ')[0]} to {high} by kind of wire" if between else ""
        yield from figure_line("Rate by coils", calculated, Kind.RATE, units, kinds)
    if measured.known:
        off = figures.rate_measured_uncertainty_n_per_mm.value
        spread = f", standard uncertainty {show(off, Kind.RATE, units)}" if off is not None else ""
        yield from figure_line("Rate by tester", measured, Kind.RATE, units, spread)
    if figures.solid_length_mm.known:
        yield from figure_line("Solid length", figures.solid_length_mm, Kind.LENGTH, units)
        required = figures.required_clearance_mm.value
        least = f"  (EN 13906-1: {show(required, Kind.LENGTH, units)})" if required is not None else ""
        yield from figure_line("Left at full travel", figures.coil_bind_clearance_mm, Kind.LENGTH, units, least)


_FULL_TRAVEL = (
    ("slow_n", "pressed slowly"),
    ("fast_n", "pressed fast"),
    ("slow_air_n", "air, slowly"),
    ("fast_air_n", "air, fast"),
)


def prediction_lines(assessment: Assessment, units: Units) -> Iterator[str]:
    """A section for each end."""
    for end in ENDS:
        if end != ENDS[0]:
            yield ""
        yield from _end_lines(end, assessment.predicted.end(end), assessment.sag.end(end), units)


def _end_lines(end: End, p: PredictedEnd, captured: EndSagFigures, units: Units) -> Iterator[str]:
    yield f"{end.capitalize()}, predicted"
    for state in STATES:
        of_state = p.state(state)
        also = ""
        taken, sag = captured.state(state).sag_mm.value, of_state.sag_mm.value
        if of_state.difference_mm.known and taken is not None and sag is not None:
            off = show_difference(taken, sag, Kind.LENGTH, units)
            also = f", measured {off.removeprefix('-')} {'less' if off.startswith('-') else 'more'}"
        yield from figure_line(STATE_WORDS[state].capitalize(), of_state.sag_mm, Kind.LENGTH, units, also)
    if p.without and any(p.state(state).sag_mm.known for state in STATES):
        yield named("Without", without_words(p.without))
    if p.target is not None:
        words = clean(sentence(p.target, units), 400)
        yield from textwrap.wrap(words, WIDTH, initial_indent="  ", subsequent_indent="  ")
    rate = p.working_rate
    if rate.rate_n_per_mm.value is not None:
        ranks = ""
        if rate.predicted_n_per_mm.value is not None:
            ranks = f", springs give {show(rate.predicted_n_per_mm.value, Kind.RATE, units)}"
        yield from figure_line("Working rate", rate.rate_n_per_mm, Kind.RATE, units, ranks)
    if p.full_travel.slow_n.value is not None:
        parts = _full_travel_parts(p.full_travel, units)
        yield named("At full travel", ", ".join(parts))


def _full_travel_parts(figures: FullTravelFigures, units: Units) -> Iterator[str]:
    for name, words in _FULL_TRAVEL:
        figure: Figure = getattr(figures, name)
        if figure.value is not None:
            yield f"{show(figure.value, Kind.FORCE, units)} {words}"


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
    yield named("State", _state(figures))
    yield named("Baseline measured", GEOMETRY_STATES[figures.baseline_state])
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
