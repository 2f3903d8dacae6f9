"""Force at full travel, shock gas and air springs as lines of styled text."""

from __future__ import annotations

from collections.abc import Iterator

from textual.content import Content

from stanchion.job.model import STATES, End
from stanchion.job.spec import Kind
from stanchion.judgement.criteria.thresholds import AIR_GAP_STEP_MM
from stanchion.judgement.results.assessment import Assessment
from stanchion.ui import present
from stanchion.ui.figure_rows import CELL, MUTED, head, row, wrapped
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import show, unit_name
from stanchion.wording.finding_words import reason
from stanchion.wording.labels import END_NAMES
from stanchion.wording.prediction_sentences import (
    OUTSIDE_FROM,
    air_changes,
    in_use_words,
    parts_words,
    shock_gas_words,
)


def full_travel_lines(a: Assessment, units: Units, width: int) -> Iterator[Content]:
    """The force at full travel, its parts, and what another air gap makes of it."""
    f = a.predicted.front.full_travel
    if not f.slow_n.known:
        return
    unit = unit_name(Kind.FORCE, units)
    step = f"{AIR_GAP_STEP_MM:g}" if units.lengths == METRIC.lengths else ".2"
    gaps = (f"gap −{step}", f"gap +{step}") if f.smaller_gap_slow_n.known or f.larger_gap_slow_n.known else ()
    yield head(f"AT FULL, {unit}", "all", "air", *gaps)
    for name, figures in (
        ("Fork, slow", [f.slow_n, f.slow_air_n, f.smaller_gap_slow_n, f.larger_gap_slow_n]),
        ("Fork, fast", [f.fast_n, f.fast_air_n, f.smaller_gap_fast_n, f.larger_gap_fast_n]),
    ):
        yield row(name, figures[: 2 + len(gaps)], Kind.FORCE, units)
    rear = a.predicted.rear.full_travel
    if rear.slow_n.known:
        yield row("Rear wheel", [rear.slow_n], Kind.FORCE, units)
    for name, of in (("Fork", f), ("Rear wheel", rear)):
        words = parts_words(of, "slow", units)
        yield from wrapped(f"{name}: {words}" if words else "", width, MUTED)


def shock_gas_lines(a: Assessment, units: Units, width: int) -> Iterator[Content]:
    """The force of the shock's gas."""
    words = shock_gas_words(
        a.rear.gas_force_n, a.rear.gas_full_n, reason(a.rear.gas_full_n), units, carried=a.rear.gas_carried
    )
    if words:
        yield from wrapped(f"Shock gas {words}.", width, MUTED)


def air_lines(a: Assessment, units: Units, end: End, width: int) -> Iterator[Content]:
    """An end sprung by air: its rate, what changes its sags and its force at full travel, and the pressure in use."""
    air = a.predicted.end(end).air
    for one in a.predicted.end(end).air_in_use:
        words = "; ".join(in_use_words(one, units))
        yield Content.styled(f"{END_NAMES[end]} air in use, {words}", MUTED) if words else Content("")
    if air is None:
        return
    yield head(f"AIR {END_NAMES[end].upper()}", *STATES, "at full")
    rates = [air.state(state).rate_n_per_mm for state in STATES]
    yield row(f"Rate, {unit_name(Kind.RATE, units)}", rates, Kind.RATE, units)
    for name, attribute in air_changes(air, units):
        changes = [getattr(air.state(state), f"{attribute}_mm") for state in STATES]
        at_full = present.number(getattr(air.full, f"{attribute}_n"), Kind.FORCE, units, CELL - 3)
        line = row(name, changes, Kind.LENGTH, units) + Content.styled(f" {unit_name(Kind.LENGTH, units)}", MUTED)
        yield line + Content.styled(at_full, "$figure bold") + Content.styled(f" {unit_name(Kind.FORCE, units)}", MUTED)
    outside = show(air.outside_hpa.value or 0.0, Kind.BAROMETER, units)
    words = f"Air outside {outside}{OUTSIDE_FROM[air.outside_from]}"
    yield from wrapped(words, width, MUTED)
    yield head(f"FAST, {unit_name(Kind.FORCE, units)}", "n 1.3", "n 1.2", "n 1.4")
    yield row("At full", [air.fast_n, air.fast_least_n, air.fast_most_n], Kind.FORCE, units)
