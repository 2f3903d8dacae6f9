"""Who, what, when and where, loads and geometry; and what of it a new job is asked."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.job.model import ENDS, Job, Path
from stanchion.job.spec import Kind
from stanchion.ui.form_lines import FormLine, Heading, most_of, row_of
from stanchion.units.known_units import Units
from stanchion.units.quantity import unit_name
from stanchion.wording.verdicts import STATE_WORDS

ALTITUDE: Path = ("job", "altitude_m")
BAROMETER: Path = ("job", "barometer_hpa")


def machine(job: Job, units: Units) -> tuple[FormLine, ...]:
    """Who, what, when, where; the loads on the springs; the geometry."""
    names = ("machine", "rider", "venue", "date", "use", "rider_mass_kg", "session")
    lines: list[FormLine] = [Heading("Job"), *(row_of(units, ("job", name)) for name in names)]
    lines += [row_of(units, path) for path in (ALTITUDE, BAROMETER, ("job", "notes"))]
    lines.append(Heading(f"Scale under wheel, {unit_name(Kind.MASS, units)}", ("front", "rear")))
    for state, word in (("alone", STATE_WORDS["static"]), ("aboard", STATE_WORDS["rider"])):
        cells = (("weights", f"front_{state}_kg"), ("weights", f"rear_{state}_kg"))
        lines.append(row_of(units, *cells, label=word.capitalize()))
    cells = (("weights", "front_unsprung_kg"), ("weights", "rear_unsprung_kg"))
    lines.append(row_of(units, *cells, label="Unsprung"))
    lines.append(Heading("Without scales"))
    lines += [row_of(units, ("weights", name)) for name in ("machine_kg", "front_share_pct", "rider_front_share_pct")]
    lines.append(Heading("Geometry"))
    measures = ("rake_deg", "offset_mm", "wheelbase_mm", "front_radius_mm", "rear_radius_mm", "measured")
    lines += [row_of(units, ("geometry", name)) for name in measures]
    if job.geometry.measured != "extended":
        lines += [row_of(units, ("geometry", name)) for name in ("front_sag_mm", "rear_sag_mm")]
    lines += [row_of(units, ("geometry", name)) for name in ("fork_height_mm", "length_adjuster_mm")]
    lines += _own_targets(units)
    lines.append(Heading("Attached files"))
    most = most_of(("attached",))
    lines += [row_of(units, ("attached", at, "path"), number=at + 1) for at in range(min(most, len(job.attached) + 1))]
    return tuple(lines)


def _own_targets(units: Units) -> Iterator[FormLine]:
    """Own targets: both ends beside each other, and where those of each end are from."""
    yield Heading(f"Own targets, {unit_name(Kind.LENGTH, units)}", ENDS)
    for name in ("static", "rider", "preload"):
        for limit in ("low", "high"):
            yield row_of(units, *(("targets", end, f"{name}_{limit}_mm") for end in ENDS))
    for end in ENDS:
        yield row_of(units, ("targets", end, "source"), label=f"Source, {end}")


def new_job(job: Job, units: Units) -> tuple[FormLine, ...]:
    """What names a new job."""
    del job
    return tuple(row_of(units, ("job", name)) for name in ("machine", "rider", "venue", "date", "use"))


def next_occasion(job: Job, units: Units) -> tuple[FormLine, ...]:
    """What changes from one occasion to the next: venue, date, session, rider and use; altitude last."""
    del job
    names = ("venue", "date", "session", "rider", "rider_mass_kg", "use")
    return tuple(row_of(units, path) for path in (*(("job", name) for name in names), ALTITUDE))
