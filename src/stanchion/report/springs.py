"""What wire, coils and a spring tester give, as text and as plain data."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import CoilFigures
from stanchion.report.lines import figure_line
from stanchion.units.known_units import Units
from stanchion.units.quantity import show


def coil_lines(figures: CoilFigures, units: Units) -> Iterator[str]:
    """What can be told of one spring; nothing where neither coils nor a tester were recorded."""
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
