"""What loads and springs predict, as text and as plain data."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from stanchion.base.text import clean
from stanchion.job.model import ENDS, STATES, End
from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import Assessment, EndSagFigures
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.predicted import FullTravelFigures, PredictedEnd
from stanchion.report.lines import figure_line
from stanchion.units.known_units import Units
from stanchion.units.quantity import show, show_difference
from stanchion.wording.finding_words import sentence
from stanchion.wording.prediction_sentences import without_words
from stanchion.wording.verdicts import STATE_WORDS

WIDTH = 100
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
        yield f"  {'Without':<20} {without_words(p.without)}"
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
        yield f"  {'At full travel':<20} {', '.join(parts)}"


def _full_travel_parts(figures: FullTravelFigures, units: Units) -> Iterator[str]:
    for name, words in _FULL_TRAVEL:
        figure: Figure = getattr(figures, name)
        if figure.value is not None:
            yield f"{show(figure.value, Kind.FORCE, units)} {words}"
