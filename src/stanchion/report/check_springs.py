"""Springs, preload and linkage in the text that `check` prints."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.base.text import clean
from stanchion.job.model import End, Job, Side
from stanchion.job.spec import Kind
from stanchion.judgement.criteria.thresholds import NOT_SHOWN_MM
from stanchion.judgement.results.assessment import Assessment, Band, CoilFigures, PreloadFigures, RearFigures
from stanchion.judgement.results.figures import Figure
from stanchion.planning.one_rate import one_rate
from stanchion.report.lines import figure_line, named_line, plus_minus
from stanchion.units.known_units import Units
from stanchion.units.quantity import show
from stanchion.units.spans import show_span
from stanchion.wording.finding_words import reason
from stanchion.wording.positions import turns_or_clicks
from stanchion.wording.prediction_sentences import shock_gas_words, softer_or_stiffer
from stanchion.wording.target_words import own_note

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


def linkage_lines(rear: RearFigures, units: Units) -> Iterator[str]:
    """Gas force, motion ratio and rate at the wheel, each with its uncertainty where it is known."""
    gas = shock_gas_words(rear.gas_force_n, rear.gas_full_n, reason(rear.gas_full_n), units, carried=rear.gas_carried)
    if gas:
        yield named_line("Gas force", clean(gas))
    doubt = plus_minus(rear.motion_ratio_uncertainty, Kind.RATIO, units)
    yield from figure_line("Motion ratio", rear.motion_ratio, Kind.RATIO, units, doubt)
    doubt = plus_minus(rear.wheel_rate_uncertainty_n_per_mm, Kind.RATE, units)
    doubt = f"{doubt} by the linkage pairs" if doubt else ""
    at = f" at {show(rear.at_travel_mm, Kind.LENGTH, units)} of wheel travel"
    yield from figure_line("Vertical wheel rate", rear.wheel_rate_n_per_mm, Kind.RATE, units, doubt + at)
    if rear.smooth is not None:
        doubt = plus_minus(rear.smooth.motion_ratio_uncertainty, Kind.RATIO, units)
        yield from figure_line("Ratio, smooth curve", rear.smooth.motion_ratio, Kind.RATIO, units, doubt)
        doubt = plus_minus(rear.smooth.wheel_rate_uncertainty_n_per_mm, Kind.RATE, units)
        yield from figure_line("Rate, smooth curve", rear.smooth.wheel_rate_n_per_mm, Kind.RATE, units, doubt + at)


def spring_lines(figures: PreloadFigures, units: Units) -> Iterator[str]:
    """Preload, range and headroom of one spring."""
    if not figures.has_spring:
        yield "  sprung by air" if figures.by_air else "  no spring in this leg"
        return
    for name, attribute, kind in _SPRING:
        band = ""
        if attribute == "installed_preload_mm":
            doubt = "" if figures.unsure_mm is None else f" ± {show(figures.unsure_mm, Kind.LENGTH, units)}"
            band = doubt + band_words(figures.band, units, "band", figures.band_source)
        fine = attribute == "preload_now_mm"
        shown = "One click" if figures.turned_in == "clicks" and attribute == "mm_per_turn" else name
        yield from figure_line(shown, getattr(figures, attribute), kind, units, band, settable=fine)
    for name, in_mm, in_turns in _HEADROOM:
        turns: Figure = getattr(figures, in_turns)
        also = f", {turns_or_clicks(turns.value, figures.turned_in)}" if turns.value is not None else ""
        yield from figure_line(name, getattr(figures, in_mm), Kind.LENGTH, units, also, settable=True)


def change_over_lines(assessment: Assessment, place: Side | End, units: Units) -> Iterator[str]:
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


def one_rate_lines(job: Job, assessment: Assessment, end: End, units: Units) -> Iterator[str]:
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


def band_words(band: Band | None, units: Units, word: str, source: str | None) -> str:
    """A band or target in brackets after its figure, and whether it is an own one; nothing where there is none."""
    if band is None:
        return ""
    return f"  ({word} {show_span(*band, Kind.LENGTH, units)}{own_note(source)})"


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
