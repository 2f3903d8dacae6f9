"""Runs, as text and as plain data."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from stanchion.job.model import ENDS, Job
from stanchion.job.runs import as_ridden, changes_before
from stanchion.job.spec import Kind
from stanchion.judgement.assessment import Assessment
from stanchion.judgement.change_words import changes_in_words
from stanchion.judgement.figures import Figure
from stanchion.judgement.runs import run_figures
from stanchion.quantity import Units, show
from stanchion.text import clean

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
    "air_c",
    "ground_c",
    "said",
)


def run_lines(job: Job, assessment: Assessment, units: Units) -> Iterator[str]:
    """A line or two for each run: lap, travel used, what was changed before it."""
    for at, run in enumerate(job.runs):
        figures = run_figures(job, at, assessment.behind)
        parts = [clean(run.time) or "no time"]
        if run.best_lap_s is not None:
            parts.append(f"best {show(run.best_lap_s, Kind.TIME, units)}")
        for end, name in (("front", "fork"), ("rear", "shock")):
            of = figures.front if end == "front" else figures.rear
            if of.used_mm.value is not None and of.available_mm.value is not None:
                used, full = (show(f.value or 0.0, Kind.LENGTH, units) for f in (of.used_mm, of.available_mm))
                parts.append(f"{name} {used} of {full}")
        yield f"  {at + 1:<3} {', '.join(parts)}"
        for change in changes_in_words(changes_before(job, at), as_ridden(job, run), units):
            yield f"        {clean(change, 120)}"


def runs_data(job: Job, assessment: Assessment, value: Callable[[str, Figure], float | None]) -> list[dict[str, Any]]:
    """Each run as plain data: what was recorded, travel used and left, and what was changed since the run before.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        value: gives the number of a figure, and notes under its path why there is none.
    """
    told = []
    for at, run in enumerate(job.runs):
        figures = run_figures(job, at, assessment.behind)
        ends = {
            end: {
                name: value(f"runs.{at}.{end}.{name}", getattr(figures.end(end), name))
                for name in ("used_mm", "available_mm", "left_mm")
            }
            for end in ENDS
        }
        changes = list(changes_in_words(changes_before(job, at), as_ridden(job, run)))
        recorded: dict[str, Any] = {name: getattr(run, name) for name in RECORDED}
        told.append(recorded | ends | {"changed": changes})
    return told
