"""Runs and upkeep as text."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.base.text import clean
from stanchion.job.model import ENDS, End, Job, Run, Service, Torque, Upkeep
from stanchion.job.runs import as_ridden, changes_before
from stanchion.job.spec import Kind
from stanchion.judgement import unjudged
from stanchion.judgement.results.assessment import Assessment, UpkeepFigures
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.parts import Parts
from stanchion.judgement.results.ridden import RunFigures, TyreFigures
from stanchion.judgement.track.run_figures import run_figures
from stanchion.report.lines import NONE, named_line, recorded_text
from stanchion.units.known_units import Units
from stanchion.units.quantity import show
from stanchion.wording.american import worded
from stanchion.wording.changes import changes_in_words
from stanchion.wording.complaint_labels import complaints_words
from stanchion.wording.labels import END_NAMES
from stanchion.wording.ridden_words import began_words


def run_lines(job: Job, assessment: Assessment, units: Units) -> Iterator[str]:
    """A line or two for each run: lap, travel used, what was changed before it."""
    for at, run in enumerate(job.runs):
        figures = figures_of_run(job, at, assessment)
        parts = [began_words(job, run) or "no time"]
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
        if run.complaints:
            yield f"        rider: {complaints_words(run.complaints)}"
        for change in changes_in_words(changes_before(job, at), as_ridden(job, run), units):
            yield f"        {clean(change, 120)}"


def _tyre_line(run: Run, figures: TyreFigures, end: End, units: Units) -> Iterator[str]:
    """Cold, hot and wanted pressure of one tyre, where any of it is known."""
    parts = []
    for name, value in (
        ("cold", getattr(run, f"{end}_cold_bar")),
        ("hot", getattr(run, f"{end}_hot_bar")),
        ("hot by the gas law", figures.expected_hot_bar.value),
        ("to set cold for the hot pressure wanted", figures.cold_to_set_bar.value),
    ):
        if value is not None:
            parts.append(f"{show(value, Kind.PRESSURE, units)} {name}")
    if parts:
        yield f"        {end} {worded('tyre')} {', '.join(parts)}"


def figures_of_run(job: Job, at: int, assessment: Assessment) -> RunFigures:
    """What a run tells; absent, with that as the reason, where the program fails at it."""
    return Parts().judged("runs", unjudged.RUN, run_figures, job, at, assessment.marker_references)


SERVICES = (("Fork oil", "fork_oil"), ("Fork seals", "fork_seals"), ("Shock", "shock"))


def upkeep_lines(upkeep: Upkeep, figures: UpkeepFigures, units: Units) -> Iterator[str]:
    """A line for each thing that was recorded."""
    for name, value in upkeep_rows(upkeep, figures, units):
        if value:
            yield named_line(name, value)
    for torque in upkeep.torques:
        yield f"  {'[x]' if torque.done else '[ ]'} {torque_words(torque, units)}"


def upkeep_rows(upkeep: Upkeep, figures: UpkeepFigures, units: Units) -> Iterator[tuple[str, str]]:
    """What was recorded by its name, torques apart; an empty text for what was not."""
    yield "Hour meter", _hours(upkeep.machine_hours)
    for name, attribute in SERVICES:
        yield name, _service(getattr(upkeep, attribute), getattr(figures, f"{attribute}_hours"))
    teeth = [upkeep.front_teeth, upkeep.rear_teeth]
    if any(count is not None for count in teeth):
        ratio = figures.gear_ratio.value
        shown = " / ".join(NONE if count is None else f"{count:g}" for count in teeth)
        yield "Sprockets", shown + (f" ({ratio:.2f})" if ratio is not None else "")
    yield "Axle mark", recorded_text(upkeep.axle_mark_mm, Kind.LENGTH, units, "")
    yield "Wheelbase as set", recorded_text(upkeep.wheelbase_mm, Kind.LENGTH, units, "")
    for name, tyre, wanted in (
        ("Front tyre", upkeep.front_tyre, upkeep.front_wanted_bar),
        ("Rear tyre", upkeep.rear_tyre, upkeep.rear_wanted_bar),
    ):
        hot = f"{show(wanted, Kind.PRESSURE, units)} wanted hot" if wanted is not None else ""
        yield worded(name), ", ".join(part for part in (clean(tyre), hot) if part)


def _hours(hours: float | None) -> str:
    return "" if hours is None else f"{show(hours, Kind.COUNT)} h"


def _service(service: Service, since: Figure) -> str:
    parts = [
        service.on.isoformat() if service.on else "",
        f"at {_hours(service.at_hours)}" if service.at_hours is not None else "",
    ]
    if since.value is not None:
        parts.append(f"{show(since.value, Kind.COUNT)} h ago")
    return ", ".join(part for part in parts if part)


def torque_words(torque: Torque, units: Units) -> str:
    """A fastener, its torque, and who saw to it."""
    value = recorded_text(torque.torque_nm, Kind.TORQUE, units, "")
    return ", ".join(part for part in (clean(torque.what) or "unnamed", value, clean(torque.initials)) if part)
