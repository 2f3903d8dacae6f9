"""What loads and springs predict, as text and as plain data."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator
from typing import Any

from stanchion.base.text import clean
from stanchion.job.model import ENDS, STATES, End
from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import Assessment, EndSagFigures
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.predicted import FullTravelFigures, Predicted, PredictedEnd
from stanchion.report.json_nulls import word
from stanchion.report.lines import figure_line
from stanchion.units.known_units import Units
from stanchion.units.quantity import show, show_difference
from stanchion.wording.finding_words import reason, sentence
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


def prediction_data(predicted: Predicted, value: Callable[[str, Figure], float | None]) -> dict[str, Any]:
    """The tables `predicted`, `working_rate` and `full_travel` as plain data.

    Args:
        predicted: both ends.
        value: gives the number of a figure, and notes under its path why there is none.
    """
    ends = {end: predicted.end(end) for end in ENDS}
    rates = {end: ends[end].working_rate for end in ENDS}
    return {
        "predicted": {end: _end_data(f"predicted.{end}", ends[end], value) for end in ENDS},
        "working_rate": {
            **{end: value(f"working_rate.{end}", rates[end].rate_n_per_mm) for end in ENDS},
            **{
                f"{end}_uncertainty": value(f"working_rate.{end}_uncertainty", rates[end].uncertainty_n_per_mm)
                for end in ENDS
            },
            **{f"{end}_expanded": value(f"working_rate.{end}_expanded", rates[end].expanded_n_per_mm) for end in ENDS},
            **{
                f"{end}_by_springs": value(f"working_rate.{end}_by_springs", rates[end].predicted_n_per_mm)
                for end in ENDS
            },
        },
        "full_travel": {
            end: {
                name: value(f"full_travel.{end}.{name}", getattr(ends[end].full_travel, name))
                for name in (*(name for name, _ in _FULL_TRAVEL), "reserve_n")
            }
            for end in ENDS
        },
    }


def _end_data(at: str, p: PredictedEnd, value: Callable[[str, Figure], float | None]) -> dict[str, Any]:
    states: dict[str, Any] = {
        state: {
            "sag_mm": value(f"{at}.{state}.sag_mm", p.state(state).sag_mm),
            "load_n": value(f"{at}.{state}.load_n", p.state(state).load_n),
            "difference_mm": value(f"{at}.{state}.difference_mm", p.state(state).difference_mm),
            "limit": word(p.state(state).limit, f"{at}.{state}.limit", p.state(state).sag_mm, "between_stops", value),
            "preload_case": word(
                p.state(state).preload_case, f"{at}.{state}.preload_case", p.state(state).travel_mm, "no_figure", value
            ),
        }
        for state in STATES
    }
    return {
        **states,
        "rider_minus_static_mm": value(f"{at}.rider_minus_static_mm", p.rider_minus_static_mm),
        "turns_for_target": value(f"{at}.turns_for_target", p.turns_for_target),
        "mm_for_target": value(f"{at}.mm_for_target", p.mm_for_target),
        "target": clean(sentence(p.target), 400) if p.target is not None else reason(p.turns_for_target) or None,
        "without": list(p.without),
        "estimate": p.estimate,
    }
