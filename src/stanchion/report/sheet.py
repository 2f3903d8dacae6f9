"""The hand-over sheet of a job, in the order a rider and a crew read it. sheet_text.py and sheet_html.py lay it out."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping

from stanchion import __version__
from stanchion.base.record import EMPTY
from stanchion.base.text import clean, clean_lines
from stanchion.job.diff import differences
from stanchion.job.model import ENDS, SIDES, STATES, Balance, Job, Path
from stanchion.job.spec import Kind
from stanchion.judgement.criteria.profiles import Profiles, load_profiles
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.findings import DOUBTS, Finding, Severity
from stanchion.planning.braking_of_runs import braking_to_look_at
from stanchion.planning.how_sure import HowSure
from stanchion.report.balance import balance_parts
from stanchion.report.changes_judged import TITLE as JUDGED
from stanchion.report.changes_judged import changes_judged
from stanchion.report.dampers import damper_parts
from stanchion.report.damping import TITLE as DAMPING
from stanchion.report.damping import compared_with, damping_since
from stanchion.report.gas import gas_part
from stanchion.report.lines import outside_words
from stanchion.report.linkage import TITLE, linkage_rows, ratio_curve
from stanchion.report.runs import torque_words, upkeep_rows
from stanchion.report.sheet_cells import band, headroom, state_name
from stanchion.report.sheet_curves import force_curves
from stanchion.report.sheet_found import found_table
from stanchion.report.sheet_runs import pressure_table, rider_words, run_table, settings_ridden
from stanchion.report.sheet_shape import (
    Drawings,
    Gauge,
    Line,
    Mark,
    SagBar,
    Section,
    Sheet,
    SheetPart,
    Table,
)
from stanchion.report.sheet_tables import (
    fork_facts,
    geometry_table,
    load_table,
    sag_table,
    settings_table,
    shock_facts,
    spring_table,
)
from stanchion.report.side_view import length_mark, side_view, travels
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import show
from stanchion.wording.american import worded
from stanchion.wording.caution_sentences import condensed
from stanchion.wording.changes import changes_in_words
from stanchion.wording.finding_words import sentence
from stanchion.wording.how_sure_words import HOW_SURE, sure_lines
from stanchion.wording.prediction_sentences import omitted_words
from stanchion.wording.target_words import own_rows
from stanchion.wording.verdicts import severity_word

CLOSING = (
    "The manufacturer's manual, local rules and a qualified technician's judgement come before any number here. "
    "The program computes; it does not approve a machine as safe."
)
NOT_READY, NOTHING_AGAINST = "Not ready to ride", "Before riding"
NO_FAULT = "No fault and no open torque in what is entered. Now check the machine itself."
NO_CHANGES = "Nothing in the setup."
_LONGEST = 400
_OF_THE_SETUP = ("front", "rear", "upkeep", "weights", "geometry", "swingarm", "drive", "targets")
_OF_THE_OCCASION: tuple[Path, ...] = (("job", "rider"), ("job", "use"), ("job", "rider_mass_kg"))


def make_sheet(
    job: Job,
    assessment: Assessment,
    previous: Job | None = None,
    units: Units = METRIC,
    written: dt.datetime | None = None,
    *,
    before: Assessment | None = None,
    profiles: Profiles | None = None,
    sure: Mapping[str, HowSure] = EMPTY,
) -> Sheet:
    """The sheet of a job.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        previous: the job it was carried from; what was changed since is taken against it.
        units: units to show.
        written: local time to put on it; None: none.
        before: what assess() gave for the previous job; None: its force curves are not drawn.
        profiles: bands and targets; None: those that came with the program.
        sure: how sure each figure is, by its path in `check --json`; empty: the sheet does not say.
    """
    parts: tuple[SheetPart | None, ...] = (
        _advice(assessment, units),
        _changed(job, previous, units),
        settings_table(job, units),
        found_table(job, assessment, units),
        pressure_table(job, assessment, units),
        run_table(job, assessment, units),
        Section(JUDGED, tuple(Line(*one) for one in changes_judged(job, units))),
        settings_ridden(job, units),
        rider_words(job),
        sag_table(assessment, units),
        _own_targets(assessment),
        _left_out(assessment),
        Drawings(
            machine=side_view(job, assessment, units, braking=braking_to_look_at(job, profiles or load_profiles())),
            travels=tuple(travels(job, assessment, units)),
            bars=tuple(_sag_bars(assessment, units)),
            gauges=tuple(_gauges(job, assessment, units)),
            curves=tuple(force_curves(job, assessment, previous, before, units)),
            ratio=ratio_curve(job, assessment, units),
        ),
        geometry_table(assessment, units),
        load_table(job, units),
        spring_table(job, assessment, units),
        fork_facts(job, assessment, units),
        shock_facts(job, assessment, units),
        Table(HOW_SURE, (), tuple((name, (text,)) for name, text in sure_lines(sure, units, split=job.front.split))),
        *_balance(job, assessment, units, profiles),
        Section(TITLE, tuple(Line(name, text) for name, text in linkage_rows(job, assessment, units))),
        *damper_parts(job, units),
        Section(
            DAMPING,
            tuple(Line(*one) for one in damping_since(job, assessment, compared_with(job, previous, profiles, before))),
        ),
        gas_part(job, assessment, units),
        _upkeep(job, assessment, units),
        _notes(job),
        Section("Attached files", tuple(Line("", clean(one.path)) for one in job.attached)),
    )
    return Sheet(
        title=clean(job.job.machine) or "unnamed machine",
        about=tuple(_about(job, units)),
        sample=job.job.sample,
        ready=_ready(job, assessment, units),
        parts=tuple(part for part in parts if part is not None and not _is_empty(part)),
        cautions=condensed(assessment.cautions),
        written=", ".join(
            part for part in (f"{written:%Y-%m-%d %H:%M}" if written else "", f"stanchion {__version__}") if part
        ),
    )


def _is_empty(part: SheetPart) -> bool:
    match part:
        case Table():
            return not part.rows
        case Section():
            return not part.lines
        case Drawings():
            return not (part.machine or part.travels or part.bars or part.gauges or part.curves or part.ratio)


def _about(job: Job, units: Units) -> Iterator[tuple[str, str]]:
    of = job.job
    mass = "" if of.rider_mass_kg is None else f"{show(of.rider_mass_kg, Kind.MASS, units)} in full gear"
    for name, value in (
        ("Rider", ", ".join(part for part in (of.rider, mass) if part)),
        ("Venue", of.venue),
        ("Altitude", outside_words(of.outside, units)),
        ("Date", of.date.isoformat()),
        ("Session", of.session),
        ("Set up for", of.use),
        ("Fuel", job.sag.fuel),
    ):
        if value:
            yield name, clean(value)


def _ready(job: Job, assessment: Assessment, units: Units) -> Section:
    """Faults and open torques, or that there are none. It never says that the machine is ready."""
    lines = [_line(finding, units) for finding in assessment.findings if finding.severity is Severity.FAULT]
    lines += [Line("TORQUE", f"[ ] {torque_words(torque, units)}") for torque in job.upkeep.torques if not torque.done]
    if not lines:
        return Section(NOTHING_AGAINST, (Line("", NO_FAULT),))
    return Section(NOT_READY, tuple(lines))


def _line(finding: Finding, units: Units) -> Line:
    return Line(severity_word(finding.severity).upper(), clean(sentence(finding, units), _LONGEST))


def _at_an_edge(finding: Finding, assessment: Assessment) -> bool:
    """Whether a sag or preload is at an edge, and the advice for that end does not say so itself."""
    ways = _SAID_BY_ADVICE.get(finding.code)
    if ways is None:
        return False
    advice = assessment.sag.end("rear" if "rear" in finding.where[:2] else "front").advice
    return advice is None or advice.code not in ways


_SAID_BY_ADVICE: Mapping[str, tuple[str, ...]] = {
    "sag_borderline": ("pair_borderline", "pair_edge_recheck"),
    "preload_near_limit": ("stiffer_at_limit",),
}
"""Notes on an edge, with the codes of advice that say the same."""


def _advice(assessment: Assessment, units: Units) -> Section:
    """The warnings, worst first; whether or not they are warnings, what the sags of each end call for, what casts doubt
    on it, that a top-out spring makes them read lower, and which sag or preload is at an edge."""
    advice = [assessment.sag.end(end).advice for end in ENDS]
    said = DOUBTS | {"top_out_reads_lower", "scale_corrected"}
    noted = [finding for finding in assessment.findings if finding in advice or finding.code in said]
    noted += [finding for finding in assessment.findings if _at_an_edge(finding, assessment)]
    findings = [
        finding
        for finding in assessment.findings
        if finding.code != "torques_open"
        and (finding.severity is Severity.WARNING or (finding.severity is Severity.NOTE and finding in noted))
    ]
    return Section("Warnings and advice", tuple(_line(finding, units) for finding in findings))


def _balance(job: Job, assessment: Assessment, units: Units, profiles: Profiles | None) -> Iterator[Section]:
    """Weights, centre of mass and the machine on the brakes, where anything is recorded for it."""
    parts = balance_parts(job, assessment, units, profiles) if job.balance != Balance() else ()
    for title, rows in parts:
        yield Section(title, tuple(Line(name.strip(), text) for name, text in rows))


def _own_targets(assessment: Assessment) -> Section:
    """Which targets and bands are not those of the profile, and where they are from."""
    return Section("Own targets", tuple(Line("", f"{name}: {source}") for name, source in own_rows(assessment)))


def _changed(job: Job, previous: Job | None, units: Units) -> Section:
    """What differs from the job before, apart from readings of the day and bases; the bench's data of a spring last."""
    origin = job.job.carried_from
    if previous is None:
        lines = (
            [f"Carried forward from {clean(origin)}, which is missing or unreadable: nothing is compared."]
            if origin
            else []
        )
        return Section("Changed", tuple(Line("", line) for line in lines))
    found = [
        difference
        for difference in differences(previous, job)
        if difference.path in _OF_THE_OCCASION
        or (
            difference.path[0] in _OF_THE_SETUP
            and difference.path[:2] != ("upkeep", "torques")
            and difference.path[-1] != "base"
        )
    ]
    found.sort(key=lambda difference: "coils" in difference.path)
    changes = [clean(words, _LONGEST) for words in changes_in_words(found, job, units)] or [NO_CHANGES]
    return Section(f"Changed since {previous.job.date.isoformat()}", tuple(Line("", line) for line in changes))


def _left_out(assessment: Assessment) -> Section:
    """What the predicted sags on the sheet leave out."""
    lines = []
    for name, end in (("Fork", assessment.predicted.front), ("Shock", assessment.predicted.rear)):
        if end.omitted and any(end.state(state).sag_mm.known for state in STATES):
            lines.append(Line("", f"{name}: {omitted_words(end.omitted)}."))
    return Section("Predicted sag leaves out", tuple(lines))


def _upkeep(job: Job, assessment: Assessment, units: Units) -> Section:
    """Services, gearing and tyres in a line each, and the torques that were set; open ones head the sheet."""
    known = {name: value for name, value in upkeep_rows(job.upkeep, assessment.upkeep, units) if value}
    lines = [
        "; ".join(f"{name} {clean(known[name])}" for name in group if name in known)
        for group in (
            ("Hour meter", "Fork oil", "Fork seals", "Shock"),
            ("Sprockets", "Axle mark", "Wheelbase as set"),
            (worded("Front tyre"), worded("Rear tyre")),
        )
    ]
    words = "; ".join(torque_words(torque, units) for torque in job.upkeep.torques if torque.done)
    lines.append(f"Torques set: {words}" if words else "")
    return Section("Upkeep", tuple(Line("", line) for line in lines if line))


def _notes(job: Job) -> Section:
    lines = clean_lines(job.job.notes).split("\n")
    return Section("Notes", tuple(Line("", line.strip()) for line in lines if line.strip()))


# --- drawings ---------------------------------------------------------------------------------------------------------


def _sag_bars(a: Assessment, units: Units) -> Iterator[SagBar]:
    """Each measured sag that has a target."""
    for end in ENDS:
        for state in STATES:
            of = a.sag.end(end).state(state)
            if of.shown_mm.value is not None and of.target is not None:
                name = state_name(end, state)
                sag = length_mark(name, of.shown_mm.value, units, old=of.is_old)
                yield SagBar(name, sag, *of.target, band(of.target, units))


def _gauges(job: Job, a: Assessment, units: Units) -> Iterator[Gauge]:
    """Each preload adjuster whose room both ways is known."""
    legs = [(f"Fork {side}", a.front.leg(side)) for side in SIDES] if job.front.split else [("Fork", a.front.left)]
    for name, figures in [*legs, ("Shock", a.rear.spring)]:
        out, to_in = figures.headroom_out_mm.value, figures.headroom_in_mm.value
        if out is not None and to_in is not None and out + to_in > 0 and figures.has_spring:
            yield Gauge(
                name,
                Mark("out", out, headroom(figures, "out", units)),
                Mark("in", to_in, headroom(figures, "in", units)),
            )
