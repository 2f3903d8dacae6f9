"""What wire, coils and a spring tester give, as text and as plain data."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import CoilFigures, SpringsFigures
from stanchion.judgement.results.figures import Figure
from stanchion.report.json_nulls import word
from stanchion.report.lines import figure_line
from stanchion.units.known_units import Units
from stanchion.units.quantity import show

_FIGURES = (
    "rate_calculated_n_per_mm",
    "rate_measured_n_per_mm",
    "rate_measured_uncertainty_n_per_mm",
    "shear_modulus_mpa",
    "active_coils",
    "solid_length_mm",
    "usable_travel_mm",
    "coil_bind_clearance_mm",
    "clearance_now_mm",
    "required_clearance_mm",
)


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


def springs_data(figures: SpringsFigures, value: Callable[[str, Figure], float | None]) -> dict[str, Any]:
    """The figures of every spring as plain data.

    Args:
        figures: the springs.
        value: gives the number of a figure, and notes under its path why there is none.
    """

    def spring(at: str, one: CoilFigures) -> dict[str, Any]:
        between = one.rate_calculated_range
        return {
            **{name: value(f"springs.{at}.{name}", getattr(one, name)) for name in _FIGURES},
            "rate_calculated_range_n_per_mm": list(between)
            if between
            else value(f"springs.{at}.rate_calculated_range_n_per_mm", one.rate_calculated_n_per_mm),
            "wire_assumed": one.shear_modulus_mpa.estimate,
            "shear_modulus_source": word(
                one.shear_modulus_source,
                f"springs.{at}.shear_modulus_source",
                one.shear_modulus_mpa,
                "no_figure",
                value,
            ),
            "solid_length_from": word(
                one.solid_length_from, f"springs.{at}.solid_length_from", one.solid_length_mm, "no_figure", value
            ),
        }

    return {
        "front": {"left": spring("front.left", figures.left), "right": spring("front.right", figures.right)},
        "rear": spring("rear", figures.rear),
    }
