"""The part of the hand-over sheet that says how the machine was found."""

from __future__ import annotations

from stanchion.job.edit import value_at
from stanchion.job.found import found_path, positions
from stanchion.job.model import ENDS, STATES, Job, Path, Sag
from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.sag.sag_figures import sag_read
from stanchion.report.lines import NONE, figure, recorded_text
from stanchion.report.sheet_shape import Table
from stanchion.units.known_units import Units
from stanchion.units.quantity import show
from stanchion.wording.adjuster_words import setting_name, unit_counted
from stanchion.wording.american import worded
from stanchion.wording.positions import bare
from stanchion.wording.verdicts import STATE_WORDS


def found_table(job: Job, assessment: Assessment, units: Units) -> Table | None:
    """Tyre pressures, heights, adjusters and sag as they were found, beside the present ones; None: not recorded."""
    found = job.found
    if found is None or found.on is None:
        return None
    rows = [
        *(
            (worded(f"{end.capitalize()} tyre, cold"), (recorded_text(bar, Kind.PRESSURE, units), NONE))
            for end, bar in zip(ENDS, (found.front_cold_bar, found.rear_cold_bar), strict=True)
        ),
        *((setting_name(job, path), _both(job, path, units)) for path in positions(job)),
    ]
    for end in ENDS:
        for state in STATES:
            then = sag_read(found.sag or Sag(), end, state)
            now = assessment.sag.end(end).state(state).sag_mm
            cells = (figure(then, Kind.LENGTH, units), figure(now, Kind.LENGTH, units))
            rows.append((f"{end.capitalize()} sag, {STATE_WORDS[state]}", cells))
    filled = tuple(row for row in rows if row[1][0] != NONE)
    return Table(f"As found, {found.on.isoformat()}", ("as found", "now"), filled) if filled else None


def _both(job: Job, path: Path, units: Units) -> tuple[str, str]:
    return _position(job, found_path(path), units), _position(job, path, units)


def _position(job: Job, path: Path, units: Units) -> str:
    """A position with what it counts; a height as a length."""
    value: float | None = value_at(job, path)
    if value is None:
        return NONE
    if path[-1] != "now":
        return show(value, Kind.LENGTH, units)
    return f"{bare(value)} {unit_counted(job, path)}"
