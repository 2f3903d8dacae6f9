"""Prediction, working rate, full travel and geometry as lines of styled text."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from textual.content import Content

from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.job.model import ENDS, STATES, End
from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.predicted import PredictedEnd
from stanchion.planning.on_travel import predicted_curve
from stanchion.ui import present
from stanchion.ui.plot import PlotMark, curve, scale
from stanchion.units.known_units import Units
from stanchion.units.quantity import show, show_difference, unit_name
from stanchion.wording.finding_words import reason, sentence
from stanchion.wording.prediction_sentences import GEOMETRY_STATES, geometry_state, not_as_predicted, omitted_words
from stanchion.wording.verdicts import SAG_VERDICTS

MUTED = "$text-muted"
NAME, CELL = 13, 8
LETTERS = {
    "static_captured": "S",
    "rider_captured": "R",
    "static_predicted": "s",
    "rider_predicted": "r",
    "marker": "M",
}


def predicted_lines(a: Assessment, units: Units, width: int) -> list[Content]:
    """Everything on the left of the prediction screen."""
    return [
        *_sags(a, units, width),
        *_targets(a, units, width),
        *_rates(a, units),
        *_full_travel(a, units),
        *_coils(a, units),
        *_geometry(a, units),
    ]


def _sags(a: Assessment, units: Units, width: int) -> Iterator[Content]:
    unit = unit_name(Kind.LENGTH, units)
    yield _head(f"SAG, {unit}", "front", "", "rear", "")
    yield _head("", *(word for _ in ENDS for word in ("static", "rider")))
    ends = [(a.predicted.end(end), a.sag.end(end)) for end in ENDS]
    predicted = [p.state(state).sag_mm for p, _ in ends for state in STATES]
    captured = [s.state(state).sag_mm for _, s in ends for state in STATES]
    yield _row("Predicted", predicted, Kind.LENGTH, units)
    yield _row("Measured", captured, Kind.LENGTH, units)
    old = [s.state(state).is_old for _, s in ends for state in STATES]
    if any(old):
        yield Content(" " * NAME + "".join((SAG_VERDICTS["stale"] if one else "").rjust(CELL) for one in old))
    yield _row(
        "Difference",
        [p.state(state).difference_mm for p, _ in ends for state in STATES],
        Kind.LENGTH,
        units,
        apart=tuple(zip(captured, predicted, strict=True)),
    )
    for doubt in a.findings:
        if doubt.code == "sag_not_as_predicted":
            yield from (Content.styled(line.plain, "$warn") for line in _wrapped(not_as_predicted(doubt), width))


def _targets(a: Assessment, units: Units, width: int) -> Iterator[Content]:
    yield _head("BOTH SAGS INTO THEIR TARGETS")
    for end in ENDS:
        p = a.predicted.end(end)
        if p.target is not None:
            yield from _wrapped(sentence(p.target, units), width)
        else:
            yield Content.styled(f"{end.capitalize()}: {clean(reason(p.turns_for_target))}", MUTED)
        yield from (Content.styled(line.plain, MUTED) for line in _wrapped(rests_on(end, p), width))


def rests_on(end: End, p: PredictedEnd) -> str:
    """What the prediction of an end omits, and whether it depends on an estimate."""
    parts = []
    if p.incomplete:
        parts.append(f"figures are without {omitted_words(p.omitted)}")
    if p.estimate:
        parts.append("loads are estimated from mass and share")
    return f"{end.capitalize()}: {'; '.join(parts)}." if parts else ""


def _rates(a: Assessment, units: Units) -> Iterator[Content]:
    unit = unit_name(Kind.RATE, units)
    rates = [a.predicted.end(end).working_rate for end in ENDS]
    if not any(rate.rate_n_per_mm.known for rate in rates):
        return
    yield _head(f"RATE, {unit}", "front", "", "rear")
    rows = (
        ("Measured", [rate.rate_n_per_mm for rate in rates]),
        ("±", [rate.expanded_n_per_mm for rate in rates]),
        ("Calculated", [rate.predicted_n_per_mm for rate in rates]),
    )
    for name, figures in rows:
        yield _row(name, [figures[0], Figure(), figures[1]], Kind.RATE, units, gap=1)


def _full_travel(a: Assessment, units: Units) -> Iterator[Content]:
    f = a.predicted.front.full_travel
    if not f.slow_n.known:
        return
    unit = unit_name(Kind.FORCE, units)
    yield _head(f"AT FULL, {unit}", "all", "air", "gap −5", "gap +5")
    yield _row("Fork, slow", [f.slow_n, f.slow_air_n, f.smaller_gap_slow_n, f.larger_gap_slow_n], Kind.FORCE, units)
    yield _row("Fork, fast", [f.fast_n, f.fast_air_n, f.smaller_gap_fast_n, f.larger_gap_fast_n], Kind.FORCE, units)
    rear = a.predicted.rear.full_travel
    if rear.slow_n.known:
        yield _row("Rear wheel", [rear.slow_n], Kind.FORCE, units)


def _coils(a: Assessment, units: Units) -> Iterator[Content]:
    springs = (a.springs.left, a.springs.right, a.springs.rear)
    rows = (
        ("By coils", "rate_calculated_n_per_mm", Kind.RATE),
        ("By tester", "rate_measured_n_per_mm", Kind.RATE),
        ("Solid length", "solid_length_mm", Kind.LENGTH),
        ("Left at full", "coil_bind_clearance_mm", Kind.LENGTH),
        ("Gaps wanted", "required_clearance_mm", Kind.LENGTH),
    )
    known = [row for row in rows if any(getattr(spring, row[1]).known for spring in springs)]
    if known:
        yield _head("COILS", "left", "right", "rear")
        for name, attribute, kind in known:
            figures = [getattr(spring, attribute) for spring in springs]
            yield _row(name, figures, kind, units) + Content.styled(f" {unit_name(kind, units)}", MUTED)


def _geometry(a: Assessment, units: Units) -> Iterator[Content]:
    g = a.geometry
    if not g.entered:
        yield Content.styled("Geometry: enter rake, offset, wheelbase and tyre radii (Machine).", MUTED)
        return
    yield _head("GEOMETRY", "now", "base")
    rows = (
        ("Rake", g.rake_deg, g.baseline.rake_deg, Kind.ANGLE),
        ("Trail", g.trail_mm, g.baseline.trail_mm, Kind.LENGTH),
        ("Normal trail", g.normal_trail_mm, g.baseline.normal_trail_mm, Kind.LENGTH),
        ("Wheelbase", g.wheelbase_mm, g.baseline.wheelbase_mm, Kind.LENGTH),
    )
    for name, now, base, kind in rows:
        yield _row(name, [now, base], kind, units) + Content.styled(f" {unit_name(kind, units)}", MUTED)
    if g.rake_deg.known:
        yield Content.styled(f"now: {geometry_state(g)}; base: measured {GEOMETRY_STATES[g.baseline_state]}", MUTED)
    else:
        yield Content.styled(clean(reason(g.rake_deg)), MUTED)


def picture_lines(session: Session, end: End, width: int, height: int, *, plain: bool) -> list[Content]:
    """Force against travel with the sags on it, and the travel to scale."""
    job, a, units = session.job, session.assessment, session.units
    title = "FORCE ALONG THE FORK" if end == "front" else "FORCE AT THE REAR WHEEL"
    lines = [Content.styled(title, "$primary bold")]
    drawn = predicted_curve(job, a, end, max(2, width))
    if drawn is None or width < 8 or height < 8:
        p = a.predicted.end(end)
        explanation = reason(p.rider.sag_mm) or reason(p.full_travel.slow_n) or "needs more room"
        return [*lines, Content.styled(clean(explanation), MUTED)]
    rows = max(3, height - 7)
    most = show(drawn.points[-1][1], Kind.FORCE, units)
    lines.append(Content.styled(f"{most} at full travel", MUTED))
    lines += [Content.styled(line, "$figure") for line in curve(drawn.points, width, rows, plain=plain)]
    marks = [PlotMark(LETTERS[code], at) for code, at in drawn.marks]
    lines.append(Content(scale(marks, drawn.points[-1][0], width)))
    full = show(drawn.points[-1][0], Kind.LENGTH, units)
    lines.append(Content.styled("0".ljust(width - len(full)) + full, MUTED))
    old = [LETTERS[f"{state}_captured"] for state in STATES if a.sag.end(end).state(state).is_old]
    mark = f": {' '.join(old)} {SAG_VERDICTS['stale']}" if old else ""
    lines.append(Content.styled(f"S static R rider, measured{mark}", MUTED))
    lines.append(Content.styled("s r predicted, M deepest run", MUTED))
    return lines


def _head(name: str, *columns: str) -> Content:
    cells = "".join(column.rjust(CELL) for column in columns)
    return Content.styled(name.ljust(NAME), "$primary bold") + Content.styled(cells, "$primary")


def _row(
    name: str,
    figures: list[Figure],
    kind: Kind,
    units: Units,
    gap: int | None = None,
    *,
    apart: Sequence[tuple[Figure, Figure]] = (),
) -> Content:
    """A row of figures; with `apart` each is the difference of two that are shown."""
    line = Content.styled(name.ljust(NAME), MUTED)
    for at, figure in enumerate(figures):
        text = " " * CELL if at == gap else present.number(figure, kind, units, CELL)
        if apart and figure.known:
            one, other = (of.value or 0.0 for of in apart[at])
            text = show_difference(one, other, kind, units).split(" ")[0]
        line += Content.styled(text.rstrip("°").rjust(CELL), "$figure bold")
        if figure.estimate and figure.known:
            line += Content.styled("~", MUTED)
    return line


def _wrapped(text: str, width: int) -> list[Content]:
    return [Content(line) for line in textwrap.wrap(clean(text, 500), max(20, width - 1))]
