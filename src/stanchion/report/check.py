"""What `stanchion check` prints of one job: text for a person, or plain data for another program."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from stanchion.base.text import clean
from stanchion.job.model import ENDS, SIDES, STATES, End, Job, Upkeep
from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import (
    Assessment,
    Band,
    EndSagFigures,
    PreloadFigures,
    RearFigures,
    StateFigures,
)
from stanchion.judgement.results.figures import Figure
from stanchion.report.check_figures import coil_lines, geometry_lines, prediction_lines
from stanchion.report.lines import WIDTH, figure_line, plus_minus
from stanchion.report.runs import run_lines
from stanchion.report.upkeep import upkeep_lines
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import show
from stanchion.wording.finding_words import SINGLE_READINGS, caution, sentence
from stanchion.wording.verdicts import SAG_VERDICTS, STATE_WORDS, severity_word

_SPRING: tuple[tuple[str, str, Kind], ...] = (
    ("Installed preload", "installed_preload_mm", Kind.LENGTH),
    ("Adjuster range", "adjuster_range_mm", Kind.LENGTH),
    ("One turn", "mm_per_turn", Kind.LENGTH),
    ("Preload now", "preload_now_mm", Kind.LENGTH),
    ("Preload fully in", "greatest_preload_mm", Kind.LENGTH),
    ("Preload force", "preload_force_n", Kind.FORCE),
)
_HEADROOM = (
    ("Headroom out", "headroom_out_mm", "headroom_out_turns"),
    ("Headroom in", "headroom_in_mm", "headroom_in_turns"),
)


# --- text ---------------------------------------------------------------------------------------------------------


def as_text(name: str, job: Job, assessment: Assessment, units: Units = METRIC, *, width: int | None = None) -> str:
    """The figures with their units, the findings worst first, the cautions, and whose judgement comes first.

    Args:
        name: the file's name, as it heads the text.
        job: the job.
        assessment: what assess() gave for it.
        units: units to show.
        width: columns there are; None: 100 or so, and no figure is broken over lines.

    Returns:
        Lines without a newline at the end; safe to print whatever the file holds.
    """
    lines = _lines(name, job, assessment, units, width or WIDTH)
    return "\n".join(lines if width is None else (part for line in lines for part in _folded(line, width)))


def _folded(line: str, width: int) -> list[str]:
    """A line that is too long for the terminal in several, further in than it begins."""
    if len(line) <= width:
        return [line]
    indent = " " * (len(line) - len(line.lstrip()) + 4)
    return textwrap.wrap(line, width, subsequent_indent=indent, break_on_hyphens=False)


def _lines(name: str, job: Job, assessment: Assessment, units: Units, width: int) -> Iterator[str]:
    yield clean(name)
    about = (job.job.machine, job.job.rider, job.job.venue, job.job.date.isoformat(), f"set up for {job.job.use}")
    yield "  " + clean(", ".join(part for part in about if part))
    if job.job.sample:
        yield "  An invented sample: not a setting to copy."
    for side in SIDES if job.front.split else SIDES[:1]:
        yield ""
        yield f"Fork, {side}" if job.front.split else "Fork, both legs alike"
        yield from _spring_lines(assessment.front.leg(side), units)
        yield from coil_lines(assessment.springs.left if side == "left" else assessment.springs.right, units)
    yield ""
    yield "Fork"
    yield from figure_line("Rate at the axle", assessment.front.rate_n_per_mm, Kind.RATE, units)
    yield from figure_line("Mean rate of a leg", assessment.front.mean_rate_n_per_mm, Kind.RATE, units)
    rear = assessment.rear
    yield ""
    yield "Shock"
    yield from _spring_lines(rear.spring, units)
    yield from coil_lines(assessment.springs.rear, units)
    yield from _linkage_lines(rear, units)
    for end in ENDS:
        yield ""
        yield from _sag_lines(end, assessment.sag.end(end), units)
    if any(state.single_readings and state.uncertainty_mm.known for state in _states(assessment)):
        yield f"  {SINGLE_READINGS}"
    if job.runs:
        yield ""
        yield "Runs"
        yield from run_lines(job, assessment, units)
    if job.upkeep != Upkeep():
        yield ""
        yield "Upkeep"
        yield from upkeep_lines(job.upkeep, assessment.upkeep, units)
    yield ""
    yield from prediction_lines(assessment, units)
    yield ""
    yield from geometry_lines(assessment.geometry, units)
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


def _linkage_lines(rear: RearFigures, units: Units) -> Iterator[str]:
    doubt = plus_minus(rear.motion_ratio_uncertainty, Kind.RATIO, units)
    yield from figure_line("Motion ratio", rear.motion_ratio, Kind.RATIO, units, doubt)
    doubt = plus_minus(rear.wheel_rate_uncertainty_n_per_mm, Kind.RATE, units)
    at = f" at {show(rear.at_travel_mm, Kind.LENGTH, units)} of wheel travel"
    yield from figure_line("Wheel rate", rear.wheel_rate_n_per_mm, Kind.RATE, units, doubt + at)
    if rear.smooth is not None:
        doubt = plus_minus(rear.smooth.motion_ratio_uncertainty, Kind.RATIO, units)
        yield from figure_line("Ratio, smooth curve", rear.smooth.motion_ratio, Kind.RATIO, units, doubt)
        doubt = plus_minus(rear.smooth.wheel_rate_uncertainty_n_per_mm, Kind.RATE, units)
        yield from figure_line("Rate, smooth curve", rear.smooth.wheel_rate_n_per_mm, Kind.RATE, units, doubt + at)


def _spring_lines(figures: PreloadFigures, units: Units) -> Iterator[str]:
    if not figures.has_spring:
        yield "  no spring in this leg"
        return
    for name, attribute, kind in _SPRING:
        band = _band(figures.band, units, "band") if attribute == "installed_preload_mm" else ""
        yield from figure_line(name, getattr(figures, attribute), kind, units, band)
    for name, in_mm, in_turns in _HEADROOM:
        turns: Figure = getattr(figures, in_turns)
        also = f", {show(turns.value, Kind.TURNS, units)}" if turns.value is not None else ""
        yield from figure_line(name, getattr(figures, in_mm), Kind.LENGTH, units, also)


def _sag_lines(end: End, figures: EndSagFigures, units: Units) -> Iterator[str]:
    yield f"{end.capitalize()} sag"
    for state in STATES:
        of_state = figures.state(state)
        sag = of_state.shown_mm
        notes = _band(of_state.target, units, "target")
        if sag.known:
            notes += "".join(f", {note}" for note in _sag_notes(of_state, units))
        yield from figure_line(STATE_WORDS[state].capitalize(), sag, Kind.LENGTH, units, notes)
    if figures.projected_static_mm.known:
        yield from figure_line("Projected static", figures.projected_static_mm, Kind.LENGTH, units)


def _sag_notes(state: StateFigures, units: Units) -> Iterator[str]:
    if state.verdict == "borderline" and not state.changed:
        yield SAG_VERDICTS["borderline"]
    if state.expanded_mm.value is not None and state.coverage.value is not None:
        spread = show(state.expanded_mm.value, Kind.LENGTH, units)
        yield f"± {spread} (about 95 %, coverage factor {state.coverage.value:.2f})"
    if state.stiction_mm.value is not None:
        yield f"stiction {show(state.stiction_mm.value, Kind.LENGTH, units)}"
    if state.topped_out:
        yield SAG_VERDICTS["topped_out"]
    if state.down_only:
        yield "pushed down only"


def _band(band: Band | None, units: Units, word: str) -> str:
    if band is None:
        return ""
    low, high = (show(limit, Kind.LENGTH, units) for limit in band)
    return f"  ({word} {low.partition(' ')[0]} to {high})"


def _states(assessment: Assessment) -> Iterator[StateFigures]:
    for end in ENDS:
        for state in STATES:
            yield assessment.sag.end(end).state(state)
