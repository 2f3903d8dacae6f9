"""Prediction, working rate, full travel and geometry as lines of styled text."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from dataclasses import replace

from textual.content import Content

from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.job.model import ENDS, STATES, End, Front, Job
from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import Assessment, StateFigures
from stanchion.judgement.results.figures import Figure, derive
from stanchion.judgement.results.predicted import PredictedEnd
from stanchion.judgement.results.side import Standing
from stanchion.planning.on_travel import force_changed, on_travel, predicted_curve, with_gap
from stanchion.report.sheet_shape import SideView
from stanchion.ui.figure_rows import CELL, MUTED, NAME, head, row, wrapped
from stanchion.ui.force_lines import air_lines, full_travel_lines, shock_gas_lines
from stanchion.ui.plot import PlotMark, curve, over, scale
from stanchion.units.known_units import Units
from stanchion.units.quantity import show, unit_name
from stanchion.wording.american import worded
from stanchion.wording.finding_words import reason, sentence
from stanchion.wording.labels import uncapitalised
from stanchion.wording.oil_sentences import oil_lines
from stanchion.wording.prediction_sentences import (
    GEOMETRY_STATES,
    geometry_state,
    not_as_predicted,
    omitted_words,
)
from stanchion.wording.side_sentences import SIDE_NEEDS
from stanchion.wording.target_words import own_sag_targets
from stanchion.wording.verdicts import SAG_VERDICTS, TOPPED_OUT_BRIEF

LEAST_CURVE = 13
"""Lines that the force curve keeps beside another drawing."""
WITH_MACHINE = LEAST_CURVE + 15
"""Lines from which there is room for the machine too."""
LETTERS = {
    "static_captured": "S",
    "rider_captured": "R",
    "static_predicted": "s",
    "rider_predicted": "r",
    "marker": "M",
    "change_over": "C",
    "rubber": "B",
    "hydraulic": "H",
}


def predicted_lines(a: Assessment, units: Units, width: int, job: Job | None = None) -> list[Content]:
    """Everything on the left of the prediction screen."""
    return [
        *_sags(a, units, width),
        *_targets(a, units, width),
        *_rates(a, units),
        *full_travel_lines(a, units, width),
        *shock_gas_lines(a, units, width),
        *_oil(None if job is None else job.front, a, units, width),
        *(line for end in ENDS for line in air_lines(a, units, end, width)),
        *_change_overs(a, units),
        *_stops(job, a, units),
        *_coils(a, units),
        *_geometry(a, units),
    ]


def _sags(a: Assessment, units: Units, width: int) -> Iterator[Content]:
    unit = unit_name(Kind.LENGTH, units)
    yield head(f"SAG, {unit}", "front", "", "rear", "")
    yield head("", *(word for _ in ENDS for word in ("static", "rider")))
    ends = [(a.predicted.end(end), a.sag.end(end)) for end in ENDS]
    predicted = [p.state(state).sag_mm for p, _ in ends for state in STATES]
    captured = [s.state(state).shown_mm for _, s in ends for state in STATES]
    yield row("Predicted", predicted, Kind.LENGTH, units)
    if any(p.doubted for p, _ in ends):
        words = "".join(_doubt(p).rjust(2 * CELL) for p, _ in ends)
        yield Content.styled(" " * NAME + words, "$warn")
    yield row("Measured", captured, Kind.LENGTH, units)
    marks = [_mark(s.state(state)) for _, s in ends for state in STATES]
    if any(marks):
        yield Content(" " * NAME + "".join(mark.rjust(CELL) for mark in marks))
    yield row(
        "Difference",
        [p.state(state).difference_mm for p, _ in ends for state in STATES],
        Kind.LENGTH,
        units,
        apart=tuple(zip(captured, predicted, strict=True)),
    )
    for doubt in a.findings:
        if doubt.code == "sag_not_as_predicted":
            yield from wrapped(not_as_predicted(doubt), width, "$warn")


def _doubt(p: PredictedEnd) -> str:
    """What stands below both predicted sags of an end that are in doubt."""
    known = sum(p.state(state).sag_mm.known for state in STATES)
    return f"{'both ' if known > 1 else ''}{SAG_VERDICTS['doubtful']}" if p.doubted and known else ""


def _mark(state: StateFigures) -> str:
    """What stands below a measured sag that is not the present one, or none at all."""
    if state.is_old:
        return SAG_VERDICTS["stale"]
    return TOPPED_OUT_BRIEF if state.topped_out and state.sag_mm.known else ""


def _targets(a: Assessment, units: Units, width: int) -> Iterator[Content]:
    yield head("BOTH SAGS INTO THEIR TARGETS")
    for end in ENDS:
        p = a.predicted.end(end)
        if p.target is not None:
            yield from wrapped(sentence(p.target, units), width)
        else:
            yield Content.styled(f"{end.capitalize()}: {clean(reason(p.turns_for_target))}", MUTED)
        own = own_sag_targets(a.sag.end(end))
        notes = (rests_on(end, p), f"{end.capitalize()}: {uncapitalised(own)}." if own else "")
        yield from (line for note in notes for line in wrapped(note, width, MUTED))


def rests_on(end: End, p: PredictedEnd) -> str:
    """What the prediction of an end omits, and whether it depends on an estimate."""
    parts = []
    if p.incomplete:
        parts.append(f"the figures leave out {omitted_words(p.omitted)}")
    if any(p.state(state).load_n.estimate for state in STATES):
        parts.append("loads are estimated from mass and share")
    elif p.estimate:
        parts.append("loads are estimated by the sags read before the change")
    return f"{end.capitalize()}: {'; '.join(parts)}." if parts else ""


def _rates(a: Assessment, units: Units) -> Iterator[Content]:
    unit = unit_name(Kind.RATE, units)
    rates = [a.predicted.end(end).working_rate for end in ENDS]
    if not any(rate.rate_n_per_mm.known for rate in rates):
        return
    yield head(f"RATE, {unit}", "front", "", "rear")
    rows = (
        ("Measured", [rate.rate_n_per_mm for rate in rates]),
        ("±", [rate.expanded_n_per_mm for rate in rates]),
        ("Calculated", [rate.predicted_n_per_mm for rate in rates]),
    )
    for name, figures in rows:
        yield row(name, [figures[0], Figure(), figures[1]], Kind.RATE, units, gap=1)


def _oil(front: Front | None, a: Assessment, units: Units, width: int) -> Iterator[Content]:
    oil = a.predicted.front.oil
    if oil is not None and front is not None and front.left.air_gap_mm is not None:
        yield head("OIL")
        for line in oil_lines(front, oil, units):
            yield from wrapped(line, width)


def _change_overs(a: Assessment, units: Units) -> Iterator[Content]:
    """Where two springs change over, beside both sags and full travel."""
    if not a.change_overs:
        return
    yield head(f"CHANGES, {unit_name(Kind.LENGTH, units)}", "at", "static", "rider", "full")
    split = any(one.place == "right" for one in a.change_overs)
    for one in a.change_overs:
        name = "Shock" if one.place == "rear" else f"Fork {one.place}" if split else "Fork"
        figures = [one.at_mm, one.static_mm, one.rider_mm, one.full_mm]
        yield row(name, figures, Kind.LENGTH, units)
        rates = (figure.value for figure in (one.before_n_per_mm, one.after_n_per_mm))
        then = ", then ".join(show(rate, Kind.RATE, units) for rate in rates if rate is not None)
        yield Content.styled(" " * NAME + then, MUTED)


def _stops(job: Job | None, a: Assessment, units: Units) -> Iterator[Content]:
    """Where bump rubber and hydraulic stop begin along the leg and the shaft, beside the end of the travel; the drawing
    of the force has the rear ones at the wheel, and says so."""
    ends = {} if job is None else {end: on_travel(job, a, end) for end in ENDS}
    known = {end: on for end, on in ends.items() if on.rubber_from_mm.known or on.hydraulic_from_mm.known}
    if known:
        yield head(f"STOPS, {unit_name(Kind.LENGTH, units)}", "rubber", "hydr.", "full")
    for end, on in known.items():
        figures = [on.rubber_from_mm, on.hydraulic_from_mm, on.full_mm]
        yield row("Fork" if end == "front" else "Shock shaft", figures, Kind.LENGTH, units)


def _coils(a: Assessment, units: Units) -> Iterator[Content]:
    springs = (a.springs.left, a.springs.right, a.springs.rear)
    rows = (
        ("By coils", "rate_calculated_n_per_mm", Kind.RATE),
        ("By tester", "rate_measured_n_per_mm", Kind.RATE),
        ("Solid length", "solid_length_mm", Kind.LENGTH),
        ("Left as set", "clearance_now_mm", Kind.LENGTH),
        ("Left fully in", "coil_bind_clearance_mm", Kind.LENGTH),
        ("Gaps wanted", "required_clearance_mm", Kind.LENGTH),
    )
    known = [row for row in rows if any(getattr(spring, row[1]).known for spring in springs)]
    if known:
        yield head("COILS", "left", "right", "rear")
        for name, attribute, kind in known:
            figures = [getattr(spring, attribute) for spring in springs]
            yield row(name, figures, kind, units) + Content.styled(f" {unit_name(kind, units)}", MUTED)
    if any(spring.stress_share.known for spring in springs):
        shares = [derive(lambda share: 100.0 * share, spring.stress_share) for spring in springs]
        yield row("Wire works at", shares, Kind.SHARE, units) + Content.styled(" %", MUTED)


def _geometry(a: Assessment, units: Units) -> Iterator[Content]:
    g = a.geometry
    if not g.entered:
        yield Content.styled(worded("Geometry: enter rake, offset, wheelbase and tyre radii (Machine)."), MUTED)
        return
    yield head("GEOMETRY", "now", "base")
    rows = (
        ("Rake", g.rake_deg, g.baseline.rake_deg, Kind.ANGLE),
        ("Trail", g.trail_mm, g.baseline.trail_mm, Kind.LENGTH),
        ("Normal trail", g.normal_trail_mm, g.baseline.normal_trail_mm, Kind.LENGTH),
        ("Wheelbase", g.wheelbase_mm, g.baseline.wheelbase_mm, Kind.LENGTH),
    )
    for name, now, base, kind in rows:
        yield row(name, [now, base], kind, units) + Content.styled(f" {unit_name(kind, units)}", MUTED)
    if g.rake_deg.known:
        yield Content.styled(f"now: {geometry_state(g)}; base: measured {GEOMETRY_STATES[g.baseline_state]}", MUTED)
    else:
        yield Content.styled(clean(reason(g.rake_deg)), MUTED)


def picture_lines(session: Session, end: End, width: int, height: int, *, plain: bool) -> list[Content]:
    """Force against travel with the sags on it, and the travel to scale; below, where there is room, the machine.

    Where the job before had another force, its curve is drawn in grey.

    Args:
        session: the open job.
        end: which end.
        width: columns there are.
        height: lines there are.
        plain: in ASCII, for a terminal that has no braille.
    """
    job, a, units = session.job, session.assessment, session.units
    below: list[Content] = []
    if height >= WITH_MACHINE:
        from stanchion.report.side_view import side_view  # noqa: PLC0415 - only tall screens have room for it
        from stanchion.ui.side_drawing import side_lines  # noqa: PLC0415

        view = side_view(job, a, units, riding=())
        below = side_lines(view, width, height - LEAST_CURVE, plain=plain) if view is not None else []
        height -= len(below)
    title = "FORCE ALONG THE FORK" if end == "front" else "FORCE AT THE REAR WHEEL"
    lines = [Content.styled(title, "$primary bold")]
    drawn = predicted_curve(job, a, end, max(2, width))
    if drawn is None or width < 8 or height < 8:
        p = a.predicted.end(end)
        explanation = reason(p.rider.sag_mm) or reason(p.full_travel.slow_n) or "needs more room"
        return [*lines, Content.styled(clean(explanation), MUTED), *below]
    count = max(2, width)
    previous, before = session.previous, session.assessment_before
    other_gap = job.front.gap_compared_mm if end == "front" else None
    if other_gap is not None:
        then = predicted_curve(replace(job, front=with_gap(job.front, other_gap)), a, end, count)
    else:
        then = predicted_curve(previous, before, end, count) if previous is not None and before is not None else None
    old_curve = then.points if then is not None and force_changed(drawn, then) else ()
    meets = {"change_over": "C\u00a0change-over", "rubber": "B\u00a0rubber", "hydraulic": "H\u00a0hydraulic"}
    begins = ", ".join(dict.fromkeys(meets[name] for name, _ in drawn.marks if name in meets))
    met = [line.replace("\u00a0", " ") for line in textwrap.wrap(begins, width)]
    rows = max(3, height - 7 - bool(old_curve) - len(met))
    most = show(drawn.points[-1][1], Kind.FORCE, units)
    reached = "at full travel" if not _binds(a, end) else "if coils did not bind"
    if not drawn.whole:
        reached = "where the tester's pairs end"
    lines.append(Content.styled(f"{most} {reached}", MUTED))
    now = curve(drawn.points, width, rows, plain=plain, beside=old_curve)
    grey = curve(old_curve, width, rows, plain=plain, beside=drawn.points) if old_curve else [""] * rows
    lines += [over(one, other) for one, other in zip(now, grey, strict=True)]
    marks = [PlotMark(LETTERS[code], at) for code, at in drawn.marks]
    lines.append(Content(scale(marks, drawn.points[-1][0], width)))
    full = show(drawn.points[-1][0], Kind.LENGTH, units) + (" at the wheel" if end == "rear" else "")
    lines.append(Content.styled("0".ljust(width - len(full)) + full, MUTED))
    old = [LETTERS[f"{state}_captured"] for state in STATES if a.sag.end(end).state(state).is_old]
    mark = f": {' '.join(old)} {SAG_VERDICTS['stale']}" if old else ""
    lines.append(Content.styled(f"S static R rider, measured{mark}", MUTED))
    lines.append(Content.styled("s r predicted, M deepest run", MUTED))
    lines += [Content.styled(line, MUTED) for line in met]
    if old_curve:
        force = show(old_curve[-1][1], Kind.FORCE, units)
        whose = previous.job.date.isoformat() if previous is not None else ""
        if other_gap is not None:
            whose = f"gap {show(other_gap, Kind.LENGTH, units)}"
        lines.append(Content.styled(f"{worded('grey')}: {whose}, {force}", MUTED))
    return [*lines, *below]


def _binds(a: Assessment, end: End) -> bool:
    """Whether coils touch before full travel, as set now."""
    springs = (a.springs.left, a.springs.right) if end == "front" else (a.springs.rear,)
    return any((spring.clearance_now_mm.value or 0.0) < 0.0 for spring in springs)


def machine_lines(view: SideView | None, state: Standing, width: int, height: int, *, plain: bool) -> list[Content]:
    """The machine from the side in one state, and the numbers of all states.

    Args:
        view: what is known of it; None: not enough to draw it.
        state: the state.
        width: columns there are.
        height: lines there are.
        plain: in ASCII, for a terminal that has no braille.
    """
    from stanchion.ui.side_drawing import side_lines  # noqa: PLC0415 - read when it is asked for

    if view is None:
        return [Content.styled("FROM THE SIDE", "$primary bold"), *wrapped(SIDE_NEEDS, width, MUTED)]
    return side_lines(view, width, height, plain=plain, state=state, whole=True)
