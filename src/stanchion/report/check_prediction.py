"""Prediction and geometry in the text that `check` prints."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from stanchion.base.text import clean
from stanchion.job.model import ENDS, STATES, End, Job
from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import Assessment, EndSagFigures, GeometryFigures
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.predicted import PredictedEnd
from stanchion.planning.on_travel import on_travel
from stanchion.report.check_forces import air_lines, full_travel_lines
from stanchion.report.lines import WIDTH, figure_line, named_line
from stanchion.units.known_units import Units
from stanchion.units.quantity import MINUS, show, show_difference
from stanchion.wording.american import worded
from stanchion.wording.finding_words import sentence
from stanchion.wording.oil_sentences import oil_lines
from stanchion.wording.prediction_sentences import GEOMETRY_STATES, SAG_FROM, in_use_words, omitted_words
from stanchion.wording.verdicts import SAG_VERDICTS, STATE_WORDS


def prediction_lines(assessment: Assessment, units: Units, job: Job | None = None) -> Iterator[str]:
    """A section for each end; of a job also its oil, and where its stops begin."""
    for end in ENDS:
        if end != ENDS[0]:
            yield ""
        yield from _end_lines(end, assessment.predicted.end(end), assessment.sag.end(end), units)
        if job is not None:
            yield from _stop_lines(job, assessment, end, units)
    oil = assessment.predicted.front.oil
    if job is not None and oil is not None and job.front.left.air_gap_mm is not None:
        yield ""
        yield "Fork oil"
        for line in oil_lines(job.front, oil, units):
            yield from textwrap.wrap(line, WIDTH, initial_indent="  ", subsequent_indent="    ")


def _stop_lines(job: Job, assessment: Assessment, end: End, units: Units) -> Iterator[str]:
    """Where bump rubber and hydraulic stop begin, as travel of the leg or of the shock shaft."""
    places = on_travel(job, assessment, end)
    along = " of travel" if end == "front" else " of shock travel"
    for name, begins in (
        (worded("Bump rubber from"), places.rubber_from_mm),
        ("Hydraulic stop from", places.hydraulic_from_mm),
    ):
        if begins.known:
            yield from figure_line(name, begins, Kind.LENGTH, units, along)


def _end_lines(end: End, p: PredictedEnd, captured: EndSagFigures, units: Units) -> Iterator[str]:
    yield f"{end.capitalize()}, predicted"
    for state in STATES:
        of_state = p.state(state)
        also = ""
        taken, sag = captured.state(state).sag_mm.value, of_state.sag_mm.value
        if of_state.difference_mm.known and taken is not None and sag is not None:
            off = show_difference(taken, sag, Kind.LENGTH, units)
            also = f", measured {off.removeprefix(MINUS)} {'less' if off.startswith(MINUS) else 'more'}"
        if p.doubted:
            also = f" ({SAG_VERDICTS['doubtful']}){also}"
        yield from figure_line(STATE_WORDS[state].capitalize(), of_state.sag_mm, Kind.LENGTH, units, also)
    if p.incomplete:
        yield named_line("Leaves out", omitted_words(p.omitted))
    if p.target is not None:
        words = clean(sentence(p.target, units), 400)
        yield from textwrap.wrap(words, WIDTH, initial_indent="  ", subsequent_indent="  ")
    rate = p.working_rate
    if rate.rate_n_per_mm.value is not None:
        ranks = ""
        if rate.predicted_n_per_mm.value is not None:
            ranks = f", calculated {show(rate.predicted_n_per_mm.value, Kind.RATE, units)}"
        yield from figure_line("Measured rate", rate.rate_n_per_mm, Kind.RATE, units, ranks)
    yield from full_travel_lines(p.full_travel, units)
    if p.air is not None:
        yield from air_lines(p.air, units)
    for one in p.air_in_use:
        for line in in_use_words(one, units):
            yield named_line("Air in use", line)


_STEERING: tuple[tuple[str, str, Kind], ...] = (
    ("Rake", "rake_deg", Kind.ANGLE),
    ("Trail", "trail_mm", Kind.LENGTH),
    ("Normal trail", "normal_trail_mm", Kind.LENGTH),
    ("Wheelbase", "wheelbase_mm", Kind.LENGTH),
)
_SINCE: tuple[tuple[str, str, Kind], ...] = (
    ("Front rise", "front_rise_mm", Kind.LENGTH),
    ("Rear rise", "rear_rise_mm", Kind.LENGTH),
)


def geometry_lines(figures: GeometryFigures, units: Units) -> Iterator[str]:
    """The state, each figure now with its baseline beside it, and how far each end has risen since."""
    yield "Geometry"
    if not figures.entered:
        yield from figure_line("Rake, trail", figures.trail_mm, Kind.LENGTH, units)
        return
    yield named_line("State", _state(figures))
    yield named_line("Baseline measured", GEOMETRY_STATES[figures.baseline_state])
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
