"""What `stanchion check` prints of one job, for a person."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from stanchion.base.text import clean
from stanchion.job.model import ENDS, SIDES, STATES, End, Job, Side
from stanchion.job.spec import Kind
from stanchion.judgement.criteria.thresholds import NOT_SHOWN_MM
from stanchion.judgement.results.assessment import (
    Assessment,
    Band,
    CoilFigures,
    EndSagFigures,
    GeometryFigures,
    PreloadFigures,
    RearFigures,
    StateFigures,
)
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.predicted import PredictedEnd
from stanchion.planning.on_travel import on_travel
from stanchion.planning.one_rate import one_rate
from stanchion.report.balance import balance_lines
from stanchion.report.check_forces import air_lines, full_travel_lines
from stanchion.report.lines import WIDTH, figure_line, named_line, plus_minus
from stanchion.report.runs import run_lines, upkeep_lines
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import MINUS, show, show_difference
from stanchion.units.spans import show_span
from stanchion.wording.american import worded
from stanchion.wording.finding_words import SINGLE_READINGS, caution, reason, sentence
from stanchion.wording.oil_sentences import oil_lines
from stanchion.wording.positions import turns_or_clicks
from stanchion.wording.prediction_sentences import (
    GEOMETRY_STATES,
    SAG_FROM,
    in_use_words,
    omitted_words,
    shock_gas_words,
    softer_or_stiffer,
)
from stanchion.wording.target_words import own_note
from stanchion.wording.verdicts import SAG_VERDICTS, STATE_WORDS, severity_word

_SPRING: tuple[tuple[str, str, Kind], ...] = (
    ("Installed preload", "installed_preload_mm", Kind.LENGTH),
    ("Adjuster range", "adjuster_range_mm", Kind.LENGTH),
    ("Per turn", "mm_per_turn", Kind.LENGTH),
    ("Preload now", "preload_now_mm", Kind.LENGTH),
    ("Preload fully in", "greatest_preload_mm", Kind.LENGTH),
    ("Force now", "preload_force_n", Kind.FORCE),
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
        yield from _change_over_lines(assessment, side, units)
        yield from coil_lines(assessment.springs.left if side == "left" else assessment.springs.right, units)
    yield ""
    yield "Fork"
    yield from figure_line("Combined fork rate", assessment.front.rate_n_per_mm, Kind.RATE, units, ", springs alone")
    yield from figure_line("Mean rate of a leg", assessment.front.mean_rate_n_per_mm, Kind.RATE, units)
    yield from _one_rate_lines(job, assessment, "front", units)
    rear = assessment.rear
    yield ""
    yield "Shock"
    yield from _spring_lines(rear.spring, units)
    yield from _change_over_lines(assessment, "rear", units)
    yield from _one_rate_lines(job, assessment, "rear", units)
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
    upkeep = list(upkeep_lines(job.upkeep, assessment.upkeep, units))
    if upkeep:
        yield ""
        yield "Upkeep"
        yield from upkeep
    yield ""
    yield from prediction_lines(assessment, units, job)
    yield ""
    yield from geometry_lines(assessment.geometry, units)
    yield from balance_lines(job, assessment, units)
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
    gas = shock_gas_words(rear.gas_force_n, rear.gas_full_n, reason(rear.gas_full_n), units, carried=rear.gas_carried)
    if gas:
        yield named_line("Gas force", clean(gas))
    doubt = plus_minus(rear.motion_ratio_uncertainty, Kind.RATIO, units)
    yield from figure_line("Motion ratio", rear.motion_ratio, Kind.RATIO, units, doubt)
    doubt = plus_minus(rear.wheel_rate_uncertainty_n_per_mm, Kind.RATE, units)
    at = f" at {show(rear.at_travel_mm, Kind.LENGTH, units)} of wheel travel"
    yield from figure_line("Vertical wheel rate", rear.wheel_rate_n_per_mm, Kind.RATE, units, doubt + at)
    if rear.smooth is not None:
        doubt = plus_minus(rear.smooth.motion_ratio_uncertainty, Kind.RATIO, units)
        yield from figure_line("Ratio, smooth curve", rear.smooth.motion_ratio, Kind.RATIO, units, doubt)
        doubt = plus_minus(rear.smooth.wheel_rate_uncertainty_n_per_mm, Kind.RATE, units)
        yield from figure_line("Rate, smooth curve", rear.smooth.wheel_rate_n_per_mm, Kind.RATE, units, doubt + at)


def _spring_lines(figures: PreloadFigures, units: Units) -> Iterator[str]:
    if not figures.has_spring:
        yield "  sprung by air" if figures.by_air else "  no spring in this leg"
        return
    for name, attribute, kind in _SPRING:
        band = _band(figures.band, units, "band", figures.band_source) if attribute == "installed_preload_mm" else ""
        fine = attribute == "preload_now_mm"
        shown = "One click" if figures.turned_in == "clicks" and attribute == "mm_per_turn" else name
        yield from figure_line(shown, getattr(figures, attribute), kind, units, band, settable=fine)
    for name, in_mm, in_turns in _HEADROOM:
        turns: Figure = getattr(figures, in_turns)
        also = f", {turns_or_clicks(turns.value, figures.turned_in)}" if turns.value is not None else ""
        yield from figure_line(name, getattr(figures, in_mm), Kind.LENGTH, units, also, settable=True)


def _change_over_lines(assessment: Assessment, place: Side | End, units: Units) -> Iterator[str]:
    """Where two springs change over, and what is left between the coils of each at full travel."""
    for one in assessment.change_overs:
        if one.place != place:
            continue
        rates = (figure.value for figure in (one.before_n_per_mm, one.after_n_per_mm))
        then = ", then ".join(show(rate, Kind.RATE, units) for rate in rates if rate is not None)
        if one.at_mm.value is not None and one.at_mm.value < -NOT_SHOWN_MM:
            before = show(-one.at_mm.value, Kind.LENGTH, units)
            yield named_line("Change-over at", f"{before} before travel begins, by preload alone: {then}")
        else:
            yield from figure_line("Change-over at", one.at_mm, Kind.LENGTH, units, f" of travel: {then}")
        for name, figure in (("Main at full", one.main_left_mm), ("Second at full", one.second_left_mm)):
            if figure.known:
                yield from _left_line(name, figure, units, " left between its coils", ", as set now")


def _left_line(name: str, figure: Figure, units: Units, left: str, after: str) -> Iterator[str]:
    """What is left between coils at full travel, or how far before it they bind."""
    if figure.value is not None and figure.value < -NOT_SHOWN_MM:
        yield named_line(name, f"nothing: coils would bind {show(-figure.value, Kind.LENGTH, units)} before it{after}")
    else:
        yield from figure_line(name, figure, Kind.LENGTH, units, left + after)


def _one_rate_lines(job: Job, assessment: Assessment, end: End, units: Units) -> Iterator[str]:
    """One rate in place of springs whose rate changes: what each of both rates gives."""
    of = one_rate(job, assessment, end)
    if isinstance(of, Figure):
        return
    for name, column in (("One rate, same sag", of.same_sag), ("One rate, same full", of.same_full)):
        given = (("rider sag", column.rider_mm, Kind.LENGTH), ("at full travel", column.full_n, Kind.FORCE))
        known = (
            f"{word} {show(figure.value, kind, units)}" for word, figure, kind in given if figure.value is not None
        )
        yield from figure_line(name, column.rate_n_per_mm, Kind.RATE, units, ": " + ", ".join(known))
        apart, at = column.most_apart_n.value, column.most_apart_mm.value
        if apart and at is not None:
            there = f"{show(abs(apart), Kind.FORCE, units)} {softer_or_stiffer(apart)} than the springs fitted"
            yield named_line("  furthest apart", f"at {show(at, Kind.LENGTH, units)} of travel: {there}")


def _sag_lines(end: End, figures: EndSagFigures, units: Units) -> Iterator[str]:
    yield f"{end.capitalize()} sag"
    for state in STATES:
        of_state = figures.state(state)
        sag = of_state.shown_mm
        notes = _band(of_state.target, units, "target", of_state.target_source)
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


def _band(band: Band | None, units: Units, word: str, source: str | None) -> str:
    if band is None:
        return ""
    return f"  ({word} {show_span(*band, Kind.LENGTH, units)}{own_note(source)})"


def _states(assessment: Assessment) -> Iterator[StateFigures]:
    for end in ENDS:
        for state in STATES:
            yield assessment.sag.end(end).state(state)


def coil_lines(figures: CoilFigures, units: Units) -> Iterator[str]:
    """Rates and solid length of one spring; nothing where neither coils nor a tester were recorded."""
    calculated, measured = figures.rate_calculated_n_per_mm, figures.rate_measured_n_per_mm
    if calculated.known:
        between = figures.rate_calculated_range if calculated.estimate else None
        kinds = f", {show_span(*between, Kind.RATE, units)} by kind of wire" if between else ""
        yield from figure_line("Rate by coils", calculated, Kind.RATE, units, kinds)
    stress, share = figures.stress_mpa.value, figures.stress_share.value
    if stress is not None and share is not None:
        yield f"  {'Wire at full travel':20} {stress:.0f} MPa (Bergsträsser), {100 * share:.0f} % of its strength"
    if measured.known:
        off = figures.rate_measured_uncertainty_n_per_mm.value
        spread = f", standard uncertainty {show(off, Kind.RATE, units)}" if off is not None else ""
        yield from figure_line("Rate by tester", measured, Kind.RATE, units, spread)
    if figures.solid_length_mm.known:
        yield from figure_line("Solid length", figures.solid_length_mm, Kind.LENGTH, units)
        required = figures.required_clearance_mm.value
        least = f"  (EN 13906-1: {show(required, Kind.LENGTH, units)})" if required is not None else ""
        yield from _left_line("Left at full travel", figures.clearance_now_mm, units, "", ", as set now")
        yield from _left_line("  adjuster fully in", figures.coil_bind_clearance_mm, units, "", least)


def prediction_lines(assessment: Assessment, units: Units, job: Job | None = None) -> Iterator[str]:
    """A section for each end; of a job also its oil, and where its stops begin."""
    for end in ENDS:
        if end != ENDS[0]:
            yield ""
        yield from _end_lines(end, assessment.predicted.end(end), assessment.sag.end(end), units)
        if job is not None:
            yield from _stop_lines(job, assessment, end, units)
    oil = assessment.predicted.front.oil
    if job is not None and oil is not None and job.front.left.air_gap_mm is not None:
        yield ""
        yield "Fork oil"
        for line in oil_lines(job.front, oil, units):
            yield from textwrap.wrap(line, WIDTH, initial_indent="  ", subsequent_indent="    ")


def _stop_lines(job: Job, assessment: Assessment, end: End, units: Units) -> Iterator[str]:
    """Where bump rubber and hydraulic stop begin, as travel of the leg or of the shock shaft."""
    places = on_travel(job, assessment, end)
    along = " of travel" if end == "front" else " of shock travel"
    for name, begins in (
        (worded("Bump rubber from"), places.rubber_from_mm),
        ("Hydraulic stop from", places.hydraulic_from_mm),
    ):
        if begins.known:
            yield from figure_line(name, begins, Kind.LENGTH, units, along)


def _end_lines(end: End, p: PredictedEnd, captured: EndSagFigures, units: Units) -> Iterator[str]:
    yield f"{end.capitalize()}, predicted"
    for state in STATES:
        of_state = p.state(state)
        also = ""
        taken, sag = captured.state(state).sag_mm.value, of_state.sag_mm.value
        if of_state.difference_mm.known and taken is not None and sag is not None:
            off = show_difference(taken, sag, Kind.LENGTH, units)
            also = f", measured {off.removeprefix(MINUS)} {'less' if off.startswith(MINUS) else 'more'}"
        if p.doubted:
            also = f" ({SAG_VERDICTS['doubtful']}){also}"
        yield from figure_line(STATE_WORDS[state].capitalize(), of_state.sag_mm, Kind.LENGTH, units, also)
    if p.incomplete:
        yield named_line("Leaves out", omitted_words(p.omitted))
    if p.target is not None:
        words = clean(sentence(p.target, units), 400)
        yield from textwrap.wrap(words, WIDTH, initial_indent="  ", subsequent_indent="  ")
    rate = p.working_rate
    if rate.rate_n_per_mm.value is not None:
        ranks = ""
        if rate.predicted_n_per_mm.value is not None:
            ranks = f", calculated {show(rate.predicted_n_per_mm.value, Kind.RATE, units)}"
        yield from figure_line("Measured rate", rate.rate_n_per_mm, Kind.RATE, units, ranks)
    yield from full_travel_lines(p.full_travel, units)
    if p.air is not None:
        yield from air_lines(p.air, units)
    for one in p.air_in_use:
        for line in in_use_words(one, units):
            yield named_line("Air in use", line)


_STEERING: tuple[tuple[str, str, Kind], ...] = (
    ("Rake", "rake_deg", Kind.ANGLE),
    ("Trail", "trail_mm", Kind.LENGTH),
    ("Normal trail", "normal_trail_mm", Kind.LENGTH),
    ("Wheelbase", "wheelbase_mm", Kind.LENGTH),
)
_SINCE: tuple[tuple[str, str, Kind], ...] = (
    ("Front rise", "front_rise_mm", Kind.LENGTH),
    ("Rear rise", "rear_rise_mm", Kind.LENGTH),
)


def geometry_lines(figures: GeometryFigures, units: Units) -> Iterator[str]:
    """The state, each figure now with its baseline beside it, and how far each end has risen since."""
    yield "Geometry"
    if not figures.entered:
        yield from figure_line("Rake, trail", figures.trail_mm, Kind.LENGTH, units)
        return
    yield named_line("State", _state(figures))
    yield named_line("Baseline measured", GEOMETRY_STATES[figures.baseline_state])
    for name, attribute, kind in _STEERING:
        then: Figure = getattr(figures.baseline, attribute)
        after = f"  (baseline {show(then.value, kind, units)})" if then.value is not None else ""
        yield from figure_line(name, getattr(figures, attribute), kind, units, after)
    for name, attribute, kind in _SINCE:
        yield from figure_line(name, getattr(figures, attribute), kind, units)


def _state(figures: GeometryFigures) -> str:
    front, rear = SAG_FROM[figures.front_from], SAG_FROM[figures.rear_from]
    sags = front if front == rear else f"{front} at the front, {rear} at the rear"
    return f"{GEOMETRY_STATES[figures.state]}, {sags}"
