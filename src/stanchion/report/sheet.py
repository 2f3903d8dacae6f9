"""The hand-over sheet: what rider or crew need of a job on one page. See sheet_text.py and sheet_html.py for how it is
set."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stanchion.base.text import clean, clean_lines
from stanchion.job.diff import differences
from stanchion.job.model import ENDS, SIDES, STATES, Job, Path
from stanchion.job.runs import as_ridden, changes_before
from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.findings import Severity
from stanchion.report.runs import torque_words, upkeep_rows
from stanchion.report.sheet_shape import Gauge, Line, Mark, SagBar, Section, Sheet, Travel
from stanchion.report.sheet_tables import (
    band,
    fork_facts,
    geometry_table,
    headroom,
    sag_table,
    setup_table,
    shock_facts,
    state_name,
)
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import show, unit_name
from stanchion.wording.caution_sentences import condensed
from stanchion.wording.changes import changes_in_words
from stanchion.wording.finding_words import sentence
from stanchion.wording.prediction_sentences import without_words
from stanchion.wording.verdicts import severity_word

CLOSING = (
    "The manufacturer's manual, local rules and a qualified technician's judgement come before any number here. "
    "The program computes; it does not approve a machine as safe."
)
NO_WARNINGS = "None in what is entered."
NO_CHANGES = "Nothing in the setup."
_LONGEST = 400
_OF_THE_SETUP = ("front", "rear", "upkeep", "weights", "geometry")
_OF_THE_OCCASION: tuple[Path, ...] = (("job", "rider"), ("job", "use"), ("job", "rider_mass_kg"))


def make_sheet(job: Job, assessment: Assessment, previous: Job | None = None, units: Units = METRIC) -> Sheet:
    """The sheet of a job.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        previous: the job it was carried from; what was changed since is taken against it.
        units: units to show.
    """
    geometry = geometry_table(assessment, units)
    facts = (fork_facts(job, units), shock_facts(job, assessment, units))
    sections = (
        _changed(job, previous, units),
        _prediction(assessment),
        _latest_run(job, assessment, units),
        _upkeep(job, assessment, units),
        _notes(job),
    )
    return Sheet(
        title=clean(job.job.machine) or "unnamed machine",
        about=tuple(_about(job, units)),
        sample=job.job.sample,
        warnings=_warnings(job, assessment, units),
        setup=setup_table(job, assessment, units),
        facts=tuple(table for table in facts if table.rows),
        sag=sag_table(assessment, units),
        geometry=geometry,
        sections=tuple(section for section in sections if section.lines),
        cautions=condensed(assessment.cautions),
        travels=tuple(_travels(job, assessment, units)),
        bars=tuple(_sag_bars(assessment, units)),
        gauges=tuple(_gauges(job, assessment, units)),
    )


def _about(job: Job, units: Units) -> Iterator[tuple[str, str]]:
    of = job.job
    mass = "" if of.rider_mass_kg is None else f"{show(of.rider_mass_kg, Kind.MASS, units)} in full gear"
    for name, value in (
        ("Rider", ", ".join(part for part in (of.rider, mass) if part)),
        ("Venue", of.venue),
        ("Date", of.date.isoformat()),
        ("Set up for", of.use),
        ("Fuel", job.sag.fuel),
    ):
        if value:
            yield name, clean(value)


def _warnings(job: Job, assessment: Assessment, units: Units) -> Section:
    """Torques still open first, since what has no room on the page is left off at the end."""
    lines: list[Line] = []
    for finding in assessment.findings:
        word = severity_word(finding.severity).upper()
        if finding.code == "torques_open":
            names = "; ".join(torque_words(torque, units) for torque in job.upkeep.torques if not torque.done)
            lines.insert(0, Line(word, clean(f"Torques still to do before a run: {names}.", _LONGEST)))
        elif finding.severity > Severity.NOTE:
            lines.append(Line(word, clean(sentence(finding, units), _LONGEST)))
    return Section("Warnings still open", tuple(lines) or (Line("", NO_WARNINGS),))


def _changed(job: Job, previous: Job | None, units: Units) -> Section:
    """What differs from the job before, apart from the readings of the day; the bench's own data of a spring last."""
    origin = job.job.carried_from
    if previous is None:
        lines = [f"Carried forward from {clean(origin)}, which is not at hand to compare with."] if origin else []
        return Section("Changed", tuple(Line("", line) for line in lines))
    found = [
        difference
        for difference in differences(previous, job)
        if difference.path in _OF_THE_OCCASION
        or (difference.path[0] in _OF_THE_SETUP and difference.path[:2] != ("upkeep", "torques"))
    ]
    found.sort(key=lambda difference: "coils" in difference.path)
    changes = [clean(words, _LONGEST) for words in changes_in_words(found, job, units)] or [NO_CHANGES]
    return Section(f"Changed since {previous.job.date.isoformat()}", tuple(Line("", line) for line in changes))


def _latest_run(job: Job, assessment: Assessment, units: Units) -> Section:
    """The latest run: lap, travel used, what was changed for it, and what the rider said."""
    if not job.runs:
        return Section("", ())
    at, run = len(job.runs) - 1, job.runs[-1]
    parts = [clean(run.time)]
    if run.best_lap_s is not None:
        parts.append(f"best lap {show(run.best_lap_s, Kind.TIME, units)}")
    for name, end in (("fork", "front"), ("shock", "rear")):
        of = assessment.run.end(end) if assessment.run is not None else None  # type: ignore[arg-type]
        if of is not None and of.used_mm.value is not None and of.available_mm.value is not None:
            used, full = (show(mm, Kind.LENGTH, units) for mm in (of.used_mm.value, of.available_mm.value))
            parts.append(f"{name} used {used} of {full}")
    changes = changes_in_words(changes_before(job, at), as_ridden(job, run), units)
    lines = [
        ", ".join(part for part in parts if part),
        _tyres(job, assessment, units),
        *(f"Changed before it: {clean(change, _LONGEST)}" for change in changes),
        *(f"Rider: {line.strip()}" for line in clean_lines(run.said).split("\n")),
    ]
    return Section(f"Latest run, no. {at + 1}", tuple(Line("", line) for line in lines if line not in ("", "Rider: ")))


def _tyres(job: Job, assessment: Assessment, units: Units) -> str:
    """Pressures of the latest run, and the cold ones to set for the hot ones that are wanted; front before rear.

    In one line of a printed page.
    """
    run, figures = job.runs[-1], assessment.run
    pressures = [(state, [getattr(run, f"{end}_{state}_bar") for end in ENDS]) for state in ("cold", "hot")]
    if figures is not None:
        to_set = [figures.tyre(end).cold_to_set_bar for end in ENDS]
        about = "about " if any(cold.estimate and cold.known for cold in to_set) else ""
        pressures.append((f"set cold for wanted {about}".rstrip(), [cold.value for cold in to_set]))
    parts = [f"{name} {_bars(bars, units)}" for name, bars in pressures if any(bar is not None for bar in bars)]
    return f"Tyres F/R, {unit_name(Kind.PRESSURE, units)}: {', '.join(parts)}" if parts else ""


def _bars(bars: Sequence[float | None], units: Units) -> str:
    return "/".join("–" if bar is None else show(bar, Kind.PRESSURE, units).split(" ")[0] for bar in bars)


def _prediction(assessment: Assessment) -> Section:
    """What the predicted sags on the sheet leave out."""
    lines = []
    for name, end in (("Fork", assessment.predicted.front), ("Shock", assessment.predicted.rear)):
        if end.without and any(end.state(state).sag_mm.known for state in STATES):
            lines.append(Line("", f"{name}: {without_words(end.without)}."))
    return Section("Predicted sag is without", tuple(lines))


def _upkeep(job: Job, assessment: Assessment, units: Units) -> Section:
    """Services, gearing and tyres in a line each, and the torques that were set; open ones stand with the warnings."""
    known = {name: value for name, value in upkeep_rows(job.upkeep, assessment.upkeep, units) if value}
    lines = [
        "; ".join(f"{name} {clean(known[name])}" for name in group if name in known)
        for group in (
            ("Hour meter", "Fork oil", "Fork seals", "Shock"),
            ("Sprockets", "Axle mark", "Wheelbase as set"),
            ("Front tyre", "Rear tyre"),
        )
    ]
    words = "; ".join(torque_words(torque, units) for torque in job.upkeep.torques if torque.done)
    lines.append(f"Torques set: {words}" if words else "")
    return Section("Upkeep", tuple(Line("", line) for line in lines if line))


def _notes(job: Job) -> Section:
    lines = clean_lines(job.job.notes).split("\n")
    return Section("Notes", tuple(Line("", line.strip()) for line in lines if line.strip()))


# --- drawings ---------------------------------------------------------------------------------------------------------


def _travels(job: Job, a: Assessment, units: Units) -> Iterator[Travel]:
    """The fork's travel and the rear wheel's, where they are known and there is a sag to show on them."""
    for end, name, full in (("front", "Fork", job.front.travel_mm), ("rear", "Rear wheel", job.rear.wheel_travel_mm)):
        sags = [(state, a.sag.end(end).state(state).shown_mm.value) for state in STATES]  # type: ignore[arg-type]
        marks = tuple(_mark(state, sag, units) for state, sag in sags if sag is not None)
        if full is not None and marks:
            yield Travel(name, _mark("full travel", full, units), marks)


def _sag_bars(a: Assessment, units: Units) -> Iterator[SagBar]:
    """Each captured sag that has a target."""
    for end in ENDS:
        for state in STATES:
            of = a.sag.end(end).state(state)
            if of.shown_mm.value is not None and of.target is not None:
                name = state_name(end, state)
                yield SagBar(name, _mark(name, of.shown_mm.value, units), *of.target, band(of.target, units))


def _gauges(job: Job, a: Assessment, units: Units) -> Iterator[Gauge]:
    """Each preload adjuster whose room both ways is known."""
    legs = [(f"Fork {side}", a.front.leg(side)) for side in SIDES] if job.front.split else [("Fork", a.front.left)]
    for name, figures in [*legs, ("Shock", a.rear.spring)]:
        out, to_in = figures.headroom_out_mm.value, figures.headroom_in_mm.value
        if out is not None and to_in is not None and out + to_in > 0 and figures.has_spring:
            yield Gauge(
                name,
                Mark("out", out, headroom(figures.headroom_out_mm, figures.headroom_out_turns, units)),
                Mark("in", to_in, headroom(figures.headroom_in_mm, figures.headroom_in_turns, units)),
            )


def _mark(name: str, mm: float, units: Units) -> Mark:
    return Mark(name, mm, show(mm, Kind.LENGTH, units))
