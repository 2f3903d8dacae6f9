"""Runs as text."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.base.text import clean
from stanchion.job.model import ENDS, End, Job, Run
from stanchion.job.runs import as_ridden, changes_before
from stanchion.job.spec import Kind
from stanchion.judgement import unjudged
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.parts import Parts
from stanchion.judgement.results.ridden import RunFigures, TyreFigures
from stanchion.judgement.track.run_figures import run_figures
from stanchion.units.known_units import Units
from stanchion.units.quantity import show
from stanchion.wording.changes import changes_in_words
from stanchion.wording.labels import END_NAMES


def run_lines(job: Job, assessment: Assessment, units: Units) -> Iterator[str]:
    """A line or two for each run: lap, travel used, what was changed before it."""
    for at, run in enumerate(job.runs):
        figures = figures_of_run(job, at, assessment)
        parts = [clean(run.time) or "no time"]
        if run.best_lap_s is not None:
            parts.append(f"best {show(run.best_lap_s, Kind.TIME, units)}")
        for end in ENDS:
            of = figures.end(end)
            if of.used_mm.value is not None and of.available_mm.value is not None:
                used, full = (show(f.value or 0.0, Kind.LENGTH, units) for f in (of.used_mm, of.available_mm))
                parts.append(f"{END_NAMES[end]} {used} of {full}")
        yield f"  {at + 1:<3} {', '.join(parts)}"
        for end in ENDS:
            yield from _tyre_line(run, figures.tyre(end), end, units)
        for change in changes_in_words(changes_before(job, at), as_ridden(job, run), units):
            yield f"        {clean(change, 120)}"


def _tyre_line(run: Run, figures: TyreFigures, end: End, units: Units) -> Iterator[str]:
    """Cold, hot and wanted pressure of one tyre, where any of it is known."""
    parts = []
    for name, value in (
        ("cold", getattr(run, f"{end}_cold_bar")),
        ("hot", getattr(run, f"{end}_hot_bar")),
        ("by the gas law hot", figures.expected_hot_bar.value),
        ("to set cold for the wanted hot", figures.cold_to_set_bar.value),
    ):
        if value is not None:
            parts.append(f"{show(value, Kind.PRESSURE, units)} {name}")
    if parts:
        yield f"        {end} tyre {', '.join(parts)}"


def figures_of_run(job: Job, at: int, assessment: Assessment) -> RunFigures:
    """What a run tells; absent, with that as the reason, where the program fails at it."""
    return Parts().judged("runs", unjudged.RUN, run_figures, job, at, assessment.marker_references)
