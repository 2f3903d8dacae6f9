"""What `stanchion check` prints of one job, for a person."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from itertools import chain

from stanchion.base.text import clean
from stanchion.job.model import ENDS, SIDES, STATES, End, Job
from stanchion.job.spec import Kind
from stanchion.judgement.criteria.profiles import Profiles
from stanchion.judgement.results.assessment import Assessment, EndSagFigures, StateFigures
from stanchion.judgement.sag.own_reading import noted_readings
from stanchion.report.balance import balance_lines
from stanchion.report.changes_judged import TITLE as JUDGED
from stanchion.report.changes_judged import changes_judged
from stanchion.report.check_prediction import geometry_lines, prediction_lines
from stanchion.report.check_springs import (
    band_words,
    change_over_lines,
    coil_lines,
    linkage_lines,
    one_rate_lines,
    spring_lines,
)
from stanchion.report.dampers import damper_lines
from stanchion.report.damping import compared_with, damping_text
from stanchion.report.gas import gas_section
from stanchion.report.lines import WIDTH, figure_line
from stanchion.report.linkage import linkage_text
from stanchion.report.runs import run_lines, upkeep_lines
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import show
from stanchion.wording.finding_words import SINGLE_READINGS, caution, sentence
from stanchion.wording.study_sentences import noted_lines
from stanchion.wording.verdicts import SAG_VERDICTS, STATE_WORDS, severity_word


def as_text(
    name: str,
    job: Job,
    assessment: Assessment,
    units: Units = METRIC,
    *,
    width: int | None = None,
    profiles: Profiles | None = None,
    previous: Job | None = None,
) -> str:
    """The figures with their units, the findings worst first, the cautions, and whose judgement comes first.

    Args:
        name: the file's name, as it heads the text.
        job: the job.
        assessment: what assess() gave for it.
        units: units to show.
        width: columns there are; None: 100 or so, and no figure is broken over lines.
        profiles: bands and targets; None: those that came with the program.
        previous: the job it was carried from; None: not known.

    Returns:
        Lines without a newline at the end; safe to print whatever the file holds.
    """
    lines = _lines(name, job, assessment, units, width or WIDTH, profiles=profiles, previous=previous)
    return "\n".join(lines if width is None else (part for line in lines for part in _folded(line, width)))


def _folded(line: str, width: int) -> list[str]:
    """A line that is too long for the terminal in several, further in than it begins."""
    if len(line) <= width:
        return [line]
    indent = " " * (len(line) - len(line.lstrip()) + 4)
    return textwrap.wrap(line, width, subsequent_indent=indent, break_on_hyphens=False)


def _lines(
    name: str,
    job: Job,
    assessment: Assessment,
    units: Units,
    width: int,
    *,
    profiles: Profiles | None,
    previous: Job | None,
) -> Iterator[str]:
    yield clean(name)
    about = (job.job.machine, job.job.rider, job.job.venue, job.job.date.isoformat(), f"set up for {job.job.use}")
    yield "  " + clean(", ".join(part for part in about if part))
    if job.job.sample:
        yield "  An invented sample: not a setting to copy."
    for side in SIDES if job.front.split else SIDES[:1]:
        yield ""
        yield f"Fork, {side}" if job.front.split else "Fork, both legs alike"
        yield from spring_lines(assessment.front.leg(side), units)
        yield from change_over_lines(assessment, side, units)
        yield from coil_lines(assessment.springs.left if side == "left" else assessment.springs.right, units)
    yield ""
    yield "Fork"
    yield from figure_line("Combined fork rate", assessment.front.rate_n_per_mm, Kind.RATE, units, ", springs alone")
    yield from figure_line("Mean rate of a leg", assessment.front.mean_rate_n_per_mm, Kind.RATE, units)
    yield from one_rate_lines(job, assessment, "front", units)
    rear = assessment.rear
    yield ""
    yield "Shock"
    yield from spring_lines(rear.spring, units)
    yield from change_over_lines(assessment, "rear", units)
    yield from one_rate_lines(job, assessment, "rear", units)
    yield from coil_lines(assessment.springs.rear, units)
    yield from linkage_lines(rear, units)
    for end in ENDS:
        yield ""
        yield from _sag_lines(end, assessment.sag.end(end), units)
    yield from _readings_lines(job, assessment, units)
    if job.runs:
        yield ""
        yield "Runs"
        yield from run_lines(job, assessment, units)
    yield from _judged_lines(job, units)
    upkeep = list(upkeep_lines(job.upkeep, assessment.upkeep, units))
    if upkeep:
        yield ""
        yield "Upkeep"
        yield from upkeep
    yield ""
    yield from prediction_lines(assessment, units, job)
    yield ""
    yield from geometry_lines(assessment.geometry, units)
    yield from chain(balance_lines(job, assessment, units, profiles), linkage_text(job, assessment, units))
    yield from chain(gas_section(job, assessment, units), damper_lines(job, units))
    yield from damping_text(job, assessment, units, compared_with(job, previous, profiles))
    yield ""
    yield "Findings, worst first" if assessment.findings else "Nothing found to warn about"
    for finding in assessment.findings:
        head = f"{severity_word(finding.severity).upper():<8} "
        yield from textwrap.wrap(
            head + clean(sentence(finding, units)), width, initial_indent="  ", subsequent_indent=" " * 11
        )
    yield ""
    yield "Cautions"
    yield from (f"  {caution(code)}" for code in assessment.cautions)


def _judged_lines(job: Job, units: Units) -> Iterator[str]:
    """Changes judged by riding, where there are any."""
    rows = list(changes_judged(job, units))
    if rows:
        yield from ("", JUDGED)
        yield from (f"  {name} {words}" for name, words in rows)


def _readings_lines(job: Job, assessment: Assessment, units: Units) -> Iterator[str]:
    """How well the readings of sag repeat: what is assumed, and by whose study."""
    if any(state.single_readings and state.uncertainty_mm.known for state in _states(assessment)):
        yield f"  {SINGLE_READINGS}"
    yield from (f"  {line}" for line in noted_lines(job.repeatability, noted_readings(job.repeatability), units))


def _sag_lines(end: End, figures: EndSagFigures, units: Units) -> Iterator[str]:
    yield f"{end.capitalize()} sag"
    for state in STATES:
        of_state = figures.state(state)
        sag = of_state.shown_mm
        notes = band_words(of_state.target, units, "target", of_state.target_source)
        if sag.known:
            notes += "".join(f", {note}" for note in _sag_notes(of_state, units))
        yield from figure_line(STATE_WORDS[state].capitalize(), sag, Kind.LENGTH, units, notes)
    if figures.projected_static_mm.known and figures.rider.target is not None:
        middle = show(sum(figures.rider.target) / 2.0, Kind.LENGTH, units)
        after = f" when rider sag is at mid target, {middle}, springs as they are"
        yield from figure_line("Static to expect", figures.projected_static_mm, Kind.LENGTH, units, after)


def _sag_notes(state: StateFigures, units: Units) -> Iterator[str]:
    if state.verdict_now in ("below", "above"):
        yield SAG_VERDICTS[state.verdict_now].upper()
    elif state.verdict_now not in ("", "topped_out"):
        yield SAG_VERDICTS[state.verdict_now]
    if state.expanded_mm.value is not None and state.coverage.value is not None:
        spread = show(state.expanded_mm.value, Kind.LENGTH, units)
        yield f"± {spread} (about 95 %, coverage factor {state.coverage.value:.2f})"
    if state.stiction_mm.value is not None:
        yield f"stiction {show(state.stiction_mm.value, Kind.LENGTH, units)}"
    if state.topped_out:
        yield SAG_VERDICTS["topped_out"]
    if state.down_only and state.verdict_now != "down_only":
        yield SAG_VERDICTS["down_only"]


def _states(assessment: Assessment) -> Iterator[StateFigures]:
    for end in ENDS:
        for state in STATES:
            yield assessment.sag.end(end).state(state)
