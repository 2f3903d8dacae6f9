"""Runs, as text and as plain data."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from stanchion.base.text import clean
from stanchion.job.model import ENDS, End, Job, Run
from stanchion.job.runs import as_ridden, changes_before
from stanchion.job.spec import Kind
from stanchion.judgement import unjudged
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.parts import Parts
from stanchion.judgement.results.ridden import EndUsed, RunFigures, TyreFigures
from stanchion.judgement.track.run_figures import run_figures
from stanchion.units.known_units import Units
from stanchion.units.quantity import show
from stanchion.wording.changes import changes_in_words

RECORDED = (
    "time",
    "best_lap_s",
    "laps",
    "front_marker_mm",
    "rear_marker_mm",
    "marker_from",
    "front_cold_bar",
    "front_hot_bar",
    "rear_cold_bar",
    "rear_hot_bar",
    "front_cold_c",
    "front_hot_c",
    "rear_cold_c",
    "rear_hot_c",
    "air_c",
    "ground_c",
    "said",
)

USED = ("used_mm", "available_mm", "left_mm", "share_used", "on_rubber_mm")
TYRE = ("expected_hot_bar", "cold_to_set_bar", "hot_less_wanted_bar")


def run_lines(job: Job, assessment: Assessment, units: Units) -> Iterator[str]:
    """A line or two for each run: lap, travel used, what was changed before it."""
    for at, run in enumerate(job.runs):
        figures = _figures(job, at, assessment)
        parts = [clean(run.time) or "no time"]
        if run.best_lap_s is not None:
            parts.append(f"best {show(run.best_lap_s, Kind.TIME, units)}")
        for end, name in (("front", "fork"), ("rear", "shock")):
            of = figures.front if end == "front" else figures.rear
            if of.used_mm.value is not None and of.available_mm.value is not None:
                used, full = (show(f.value or 0.0, Kind.LENGTH, units) for f in (of.used_mm, of.available_mm))
                parts.append(f"{name} {used} of {full}")
        yield f"  {at + 1:<3} {', '.join(parts)}"
        for end in ENDS:
            yield from _tyre_line(run, figures.tyre(end), end, units)
        for change in changes_in_words(changes_before(job, at), as_ridden(job, run), units):
            yield f"        {clean(change, 120)}"


def _tyre_line(run: Run, figures: TyreFigures, end: End, units: Units) -> Iterator[str]:
    """Cold, hot and wanted pressure of one tyre, where any of it is known."""
    told = []
    for name, value in (
        ("cold", getattr(run, f"{end}_cold_bar")),
        ("hot", getattr(run, f"{end}_hot_bar")),
        ("by the gas law hot", figures.expected_hot_bar.value),
        ("to set cold for the wanted hot", figures.cold_to_set_bar.value),
    ):
        if value is not None:
            told.append(f"{show(value, Kind.PRESSURE, units)} {name}")
    if told:
        yield f"        {end} tyre {', '.join(told)}"


def runs_data(job: Job, assessment: Assessment, value: Callable[[str, Figure], float | None]) -> list[dict[str, Any]]:
    """Each run as plain data: what was recorded, travel used and left, and what was changed since the run before.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        value: gives the number of a figure, and notes under its path why there is none.
    """
    told = []
    for at, run in enumerate(job.runs):
        figures = _figures(job, at, assessment)
        ends = {end: _end_data(f"runs.{at}.{end}", figures.end(end), value) for end in ENDS}
        tyres = {
            f"{end}_tyre": {
                name: value(f"runs.{at}.{end}_tyre.{name}", getattr(figures.tyre(end), name)) for name in TYRE
            }
            for end in ENDS
        }
        changes = list(changes_in_words(changes_before(job, at), as_ridden(job, run)))
        recorded: dict[str, Any] = {name: getattr(run, name) for name in RECORDED}
        told.append(recorded | ends | tyres | {"changed": changes})
    return told


def _end_data(at: str, of: EndUsed, value: Callable[[str, Figure], float | None]) -> dict[str, Any]:
    data: dict[str, Any] = {name: value(f"{at}.{name}", getattr(of, name)) for name in USED}
    return data | {"verdict": of.verdict or None}


def _figures(job: Job, at: int, assessment: Assessment) -> RunFigures:
    """What a run tells; absent, with that as the reason, where the program fails at it."""
    return Parts().judged("runs", unjudged.RUN, run_figures, job, at, assessment.behind)
