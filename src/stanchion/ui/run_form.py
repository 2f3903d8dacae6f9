"""The fields of one run, in the order they are asked for while the rider talks."""

from __future__ import annotations

from dataclasses import replace

from stanchion.job.model import Job
from stanchion.ui.forms import Heading, Line, Row, row_of
from stanchion.units.known_units import Units

ENDS = ("front", "rear")


def run_form(job: Job, units: Units, at: int) -> tuple[Line, ...]:
    """One run: markers, lap, pressures, temperatures, the rider's words; then what is seldom touched.

    Enter goes along these lines from the first to the last, across the two ends.

    Args:
        job: the job.
        units: display units.
        at: which run; -1: there is none yet.
    """
    if at < 0:
        return (Heading("No run yet"),)

    def one(name: str, label: str = "") -> Row:
        return row_of(units, ("runs", at, name), label=label)

    def both(label: str, name: str) -> Row:
        cells = (("runs", at, f"{end}_{name}") for end in ENDS)
        return replace(row_of(units, *cells, label=label), across=True)

    air = replace(row_of(units, ("runs", at, "air_c"), ("runs", at, "ground_c"), label="Air, ground"), across=True)
    wanted = (("upkeep", f"{end}_wanted_bar") for end in ENDS)
    return (
        Heading(f"Run {at + 1} of {len(job.runs)}", ENDS),
        both("Marker", "marker_mm"),
        one("best_lap_s"),
        both("Tyres, hot", "hot_bar"),
        both("Tyres, cold", "cold_bar"),
        both("Hot temp.", "hot_c"),
        both("Cold temp.", "cold_c"),
        air,
        one("said"),
        one("laps", "Laps"),
        one("time"),
        one("marker_from", "Marker from"),
        replace(row_of(units, *wanted, label="Hot wanted"), across=True),
    )
