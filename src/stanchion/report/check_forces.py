"""What `stanchion check` prints of forces at full travel, and of air."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.job.model import STATES
from stanchion.job.spec import Kind
from stanchion.judgement.results.predicted import STROKES, AirFigures, FullTravelFigures
from stanchion.report.lines import named_line
from stanchion.units.known_units import Units
from stanchion.units.quantity import show
from stanchion.units.spans import show_span
from stanchion.wording.prediction_sentences import OUTSIDE_FROM, air_changes, parts_words
from stanchion.wording.verdicts import STATE_WORDS


def full_travel_lines(figures: FullTravelFigures, units: Units) -> Iterator[str]:
    """The force of a slow and of a fast stroke, and what it consists of."""
    name = "At full travel"
    for stroke in STROKES:
        force = figures.slow_n if stroke == "slow" else figures.fast_n
        if force.value is not None:
            words = parts_words(figures, stroke, units)
            yield named_line(name, f"{stroke} {show(force.value, Kind.FORCE, units)}{f' ({words})' if words else ''}")
            name = ""


def air_lines(air: AirFigures, units: Units) -> Iterator[str]:
    """What pressure, temperature and height change at both sags and at full travel, and the force of a fast stroke."""
    rates = [(state, air.state(state).rate_n_per_mm.value) for state in STATES]
    known = [f"{STATE_WORDS[state]} {show(rate, Kind.RATE, units)}" for state, rate in rates if rate is not None]
    if known:
        yield named_line("Rate at the sags", ", ".join(known))
    for name, attribute in air_changes(air, units):
        figures = [(state, getattr(air.state(state), f"{attribute}_mm").value) for state in STATES]
        known = [f"{STATE_WORDS[state]} {show(mm, Kind.LENGTH, units)}" for state, mm in figures if mm is not None]
        at_full = getattr(air.full, f"{attribute}_n").value
        if at_full is not None:
            known.append(f"at full travel {show(at_full, Kind.FORCE, units)}")
        yield named_line(name, ", ".join(known))
    outside = show(air.outside_hpa.value or 0.0, Kind.BAROMETER, units)
    yield named_line("Air outside", f"{outside}{OUTSIDE_FROM[air.outside_from]}")
    forces = [figure.value for figure in (air.fast_n, air.fast_least_n, air.fast_most_n)]
    if all(force is not None for force in forces):
        fast, least, most = (force or 0.0 for force in forces)
        between = show_span(least, most, Kind.FORCE, units)
        fast_n = show(fast, Kind.FORCE, units)
        yield named_line("Fast, most likely", f"{fast_n} (n = 1.3); {between} by how much heat the air loses")
