"""The hand-over sheet: what rider or crew need of a job on one page. Tables and paragraphs here; see sheet_text.py and
sheet_html.py for how they are set."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from stanchion.job.diff import SPLIT, Difference, differences
from stanchion.job.edit import spec_at
from stanchion.job.model import ENDS, SIDES, STATES, Clicker, End, Job, Leg, State
from stanchion.job.spec import Choice, Flag, Kind, Number
from stanchion.judgement.assessment import Assessment, Band, PreloadFigures
from stanchion.judgement.figures import Figure
from stanchion.judgement.findings import Severity
from stanchion.judgement.geometry_sentences import STATES as STATE_WORDS
from stanchion.judgement.sags import NO_TARGET
from stanchion.judgement.wording import caution, choice_word, label, sentence
from stanchion.quantity import METRIC, Units, show
from stanchion.text import clean, clean_lines

VERDICTS = {
    "": "",
    "loose": "loose",
    "low": "low",
    "in": "in band",
    "near_limit": "near limit",
    "high": "high",
    "over_limit": "over limit",
    "below": "below",
    "above": "above",
}
NONE = "–"
CLOSING = (
    "The manufacturer's manual, local rules and a qualified technician's judgement come before any number here. "
    "The program computes; it does not approve a machine as safe."
)
HANDED_OVER = ("after_work_torque", "after_work_brakes", "after_work_chain")
"""The cautions for whoever takes the machine over."""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of values below heads."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True)
class Paragraphs:
    """A heading and some lines."""

    title: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SagBar:
    """One sag against its target, for a drawing."""

    name: str
    sag_mm: float
    target: Band


@dataclass(frozen=True, slots=True)
class Sheet:
    """A job as it is handed over. Every text in it is safe to show."""

    title: str
    about: str
    sample: bool
    tables: tuple[Table, ...]
    warnings: tuple[tuple[str, str], ...]
    """Severity as a word, and the sentence."""
    changes: tuple[str, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
    bars: tuple[SagBar, ...]
    travels: tuple[tuple[str, float, tuple[tuple[str, float], ...]], ...]
    """Name, full travel [mm], and marks on it."""


def make_sheet(job: Job, assessment: Assessment, previous: Job | None = None, units: Units = METRIC) -> Sheet:
    """The sheet of a job.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        previous: the job it was carried from; what was changed since is told against it.
        units: units to show.
    """
    of = job.job
    open_findings = [finding for finding in assessment.findings if finding.severity > Severity.NOTE]
    tables = [_fork(job, assessment, units), _shock(job, assessment, units), _sags(assessment, units)]
    geometry = _geometry(assessment, units)
    return Sheet(
        title=clean(of.machine or "unnamed machine"),
        about=clean(
            ", ".join(part for part in (of.rider, of.venue, of.date.isoformat(), f"set up for {of.use}") if part)
        ),
        sample=of.sample,
        tables=tuple(tables + ([geometry] if geometry else [])),
        warnings=tuple((f.severity.word.upper(), clean(sentence(f, units), 400)) for f in open_findings),
        changes=tuple(_changes(job, previous, units)) if previous is not None else (),
        notes=tuple(line for line in clean_lines(of.notes).split("\n") if line.strip()),
        cautions=tuple(caution(code) for code in assessment.cautions if code in HANDED_OVER),
        bars=tuple(_bars(assessment)),
        travels=tuple(_travels(job, assessment)),
    )


# --- tables -------------------------------------------------------------------------------------------------------


def _fork(job: Job, a: Assessment, units: Units) -> Table:
    sides = SIDES if job.front.split else SIDES[:1]
    legs = [(job.front.leg(side), a.front.leg(side)) for side in sides]
    heads = tuple(sides) if job.front.split else ("both legs",)
    rows = [
        ("Spring", [_spring(leg.spring.rate_n_per_mm, leg.spring.free_length_mm, units, f) for leg, f in legs]),
        ("Spacer stack", [_stack(leg, f, units) for leg, f in legs]),
        *_preload_rows([f for _, f in legs], units),
        ("Compression, from closed", [_clicks(leg.compression) for leg, _ in legs]),
        ("Rebound, from closed", [_clicks(leg.rebound) for leg, _ in legs]),
        ("Air gap", [_recorded(leg.air_gap_mm, Kind.LENGTH, units) for leg, _ in legs]),
    ]
    once = [
        ("Fork height", _recorded(job.front.fork_height_mm, Kind.LENGTH, units)),
        ("Oil", clean(job.front.oil) or NONE),
    ]
    rows += [(name, [value] + [""] * (len(legs) - 1)) for name, value in once]
    return Table("Fork", heads, tuple((name, tuple(values)) for name, values in rows))


def _shock(job: Job, a: Assessment, units: Units) -> Table:
    rear, f = job.rear, a.rear.spring
    rows: list[tuple[str, list[str]]] = [
        ("Spring", [_spring(rear.spring.rate_n_per_mm, rear.spring.free_length_mm, units, f)]),
        *_preload_rows([f], units),
        ("Low-speed compression", [_clicks(rear.low_speed_compression)]),
        ("High-speed compression", [_clicks(rear.high_speed_compression)]),
        ("Rebound, from closed", [_clicks(rear.rebound)]),
        ("Length adjuster", [_recorded(rear.length_adjuster_mm, Kind.LENGTH, units)]),
        ("Wheel rate", [_figure(a.rear.wheel_rate_n_per_mm, Kind.RATE, units)]),
    ]
    return Table("Shock", ("now",), tuple((name, tuple(values)) for name, values in rows))


def _preload_rows(figures: list[PreloadFigures], units: Units) -> Iterator[tuple[str, list[str]]]:
    def installed(f: PreloadFigures) -> str:
        value = _figure(f.installed_preload_mm, Kind.LENGTH, units)
        return f"{value}, {VERDICTS[f.verdict]}" if f.verdict else value

    def left(mm: Figure, turns: Figure) -> str:
        both = [_figure(mm, Kind.LENGTH, units), _figure(turns, Kind.TURNS, units)]
        return ", ".join(text for text in both if text != NONE) or NONE

    yield "Installed preload", [installed(f) for f in figures]
    yield "Preload now", [_figure(f.preload_now_mm, Kind.LENGTH, units) for f in figures]
    yield "Adjuster left to out", [left(f.headroom_out_mm, f.headroom_out_turns) for f in figures]
    yield "Adjuster left to in", [left(f.headroom_in_mm, f.headroom_in_turns) for f in figures]


def _sags(a: Assessment, units: Units) -> Table:
    rows = []
    for end in ENDS:
        for state in STATES:
            of = a.sag.end(end).state(state)
            predicted = a.predicted.end(end).state(state).sag_mm
            cells = (
                _figure(of.sag_mm, Kind.LENGTH, units),
                _band(of.target, units),
                {"in": "in target"}.get(of.verdict, VERDICTS[of.verdict]) or NONE,
                ("about " if predicted.estimate else "") + _figure(predicted, Kind.LENGTH, units),
            )
            rows.append((_state_name(end, state), cells))
    return Table("Sag", ("captured", "target", "verdict", "predicted"), tuple(rows))


def _geometry(a: Assessment, units: Units) -> Table | None:
    g = a.geometry
    if not g.rake_deg.known:
        return None
    rows = (
        ("Rake", g.rake_deg, g.baseline.rake_deg, Kind.ANGLE),
        ("Trail", g.trail_mm, g.baseline.trail_mm, Kind.LENGTH),
        ("Wheelbase", g.wheelbase_mm, g.baseline.wheelbase_mm, Kind.LENGTH),
    )
    heads = (f"now, {STATE_WORDS[g.state]}", f"measured, {STATE_WORDS[g.baseline_state]}")
    cells = ((name, (_figure(now, kind, units), _figure(base, kind, units))) for name, now, base, kind in rows)
    return Table("Geometry", heads, tuple(cells))


# --- what was changed, and what is drawn --------------------------------------------------------------------------


def _changes(job: Job, previous: Job, units: Units) -> Iterator[str]:
    """What differs from the job before, apart from who, when and the readings of the day."""
    for difference in differences(previous, job):
        part = difference.path[0]
        if part in ("front", "rear") and difference.path != SPLIT:
            yield f"{label(difference.path, both_legs=not job.front.split)}: {_told(difference, units)}"


def _told(difference: Difference, units: Units) -> str:
    return f"{_value(difference, difference.old, units)} → {_value(difference, difference.new, units)}"


def _value(difference: Difference, value: Any, units: Units) -> str:
    spec = spec_at(difference.path)
    if value is None or value in ("", ()):
        return "none"
    if isinstance(spec, Number):
        return show(value, spec.kind, units)
    if isinstance(spec, Choice | Flag):
        return choice_word(difference.path, value)
    if isinstance(value, tuple):
        return (
            f"{len(value)} entries"
            if not all(isinstance(v, float) for v in value)
            else ", ".join(map("{:g}".format, value))
        )
    return clean(str(value), 60)


def _bars(a: Assessment) -> Iterator[SagBar]:
    for end in ENDS:
        for state in STATES:
            of = a.sag.end(end).state(state)
            if of.sag_mm.value is not None and of.target != NO_TARGET:
                yield SagBar(_state_name(end, state), of.sag_mm.value, of.target)


def _travels(job: Job, a: Assessment) -> Iterator[tuple[str, float, tuple[tuple[str, float], ...]]]:
    for end, name, full in (("front", "Fork", job.front.travel_mm), ("rear", "Rear wheel", job.rear.wheel_travel_mm)):
        sags = [(state, a.sag.end(end).state(state).sag_mm.value) for state in STATES]  # type: ignore[arg-type]
        marks = tuple((state, sag) for state, sag in sags if sag is not None)
        if full is not None and marks:
            yield name, full, marks


# --- cells --------------------------------------------------------------------------------------------------------


def _figure(figure: Figure, kind: Kind, units: Units) -> str:
    return NONE if figure.value is None else show(figure.value, kind, units)


def _recorded(value: float | None, kind: Kind, units: Units) -> str:
    return NONE if value is None else show(value, kind, units)


def _spring(rate: float | None, free_mm: float | None, units: Units, figures: PreloadFigures) -> str:
    if not figures.has_spring:
        return "no spring"
    return f"{_recorded(rate, Kind.RATE, units)}, free {_recorded(free_mm, Kind.LENGTH, units)}"


def _stack(leg: Leg, figures: PreloadFigures, units: Units) -> str:
    pieces = [leg.stack.spacer_mm, *leg.stack.washers_mm, *leg.stack.seats_mm]
    known = [f"{piece:g}" for piece in pieces if piece is not None]
    total = _figure(figures.stack_mm, Kind.LENGTH, units)
    return f"{' + '.join(known)} = {total}" if len(known) > 1 and total != NONE else total


def _clicks(clicker: Clicker) -> str:
    if clicker.now is None:
        return NONE
    of = f" of {clicker.total:g}" if clicker.total is not None else ""
    return f"{clicker.now:g}{of} {clicker.unit}"


def _band(band: Band, units: Units) -> str:
    if band == NO_TARGET:
        return NONE
    low, high = (show(limit, Kind.LENGTH, units) for limit in band)
    return f"{low.partition(' ')[0]}–{high}"


def _state_name(end: End, state: State) -> str:
    return f"{end.capitalize()} {'machine alone' if state == 'static' else 'rider aboard'}"
