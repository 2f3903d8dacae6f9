"""The current field in one line: its full name, and its value as it was read, or that it cannot be read."""

from __future__ import annotations

import contextlib

from textual.content import Content

from stanchion.base.errors import BadQuantity
from stanchion.bench.session import Session
from stanchion.job.correction import Reread
from stanchion.job.edit import spec_at, value_at
from stanchion.job.model import Path, Spring
from stanchion.job.spec import Day, Flag, Kind, Number
from stanchion.judgement.ends.coil_data import coil_data
from stanchion.judgement.ends.spring_law import unmarked_rate
from stanchion.ui.form_lines import value_if_empty
from stanchion.ui.space import cut
from stanchion.ui.widgets.cells import long
from stanchion.units.known_units import Units
from stanchion.units.quantity import readback, show, unit_name
from stanchion.units.spans import show_span
from stanchion.wording.american import worded
from stanchion.wording.finding_words import choice_word, field_label, label
from stanchion.wording.positions import unit_word
from stanchion.wording.wires import WIRES

MEANINGS = {
    ("read_at", "stop"): "on the damper's mechanical stop",
    ("read_at", "touching"): "drawn out until the top-out spring just touches",
    ("read_at", "assembled"): "main spring pushing against the top-out spring",
    ("counting", "turns"): "turns in from fully out",
    ("counting", "clicks"): "clicks in from fully out",
    ("counting", "rings"): "rings showing: more showing means less preload",
    ("counting", "mm"): "mm showing, as read at both ends",
    ("counting", "none"): "no preload adjuster",
}
"""What a chosen word does, by the field and the word."""
CHANGES = "Space changes it"


def field_line(session: Session, path: Path, unit: str, width: int, *, lines: int = 1) -> Content:
    """The line for a field; where there is no room for all of it, the name is cut and not the value.

    Args:
        session: the open job.
        path: the field.
        unit: the unit after its cell on the sheet, for a number that has no unit of its own.
        width: columns there are.
        lines: lines of so many columns there are.
    """
    draft, spec = session.drafts.get(path), spec_at(path)
    name = f" {label(path, both_legs=not session.job.front.split)}"
    room = width if lines < 2 else lines * width - width // 4  # lines are broken between words
    if draft is not None and draft.reason:
        return _unread(session, path, unit, room)
    if session.options(path) or isinstance(spec, Flag):
        return _chosen(session, path, name, room)
    if long(session, path):
        hint = "   Enter opens it"
        return _styled(cut(name, room - len(hint))) + Content.styled(hint, "$text-muted")
    if not isinstance(spec, Number | Day):
        return _styled(cut(name, room))
    value = _value(session, path, unit, typed=draft is None)
    if draft is not None and not draft.text.strip():
        value = "empty"  # of a list, where it goes once it is left
    if len(name) + len(value) + 2 > room:
        name = f" {field_label(path)}"
    return _styled(f"{cut(name, room - len(value) - 2)}: ") + Content.styled(value, "$figure bold")


def asked_line(session: Session, asked: Reread, key: str, width: int) -> Content:
    """The question whether a number was read wrongly or belongs to another part, and the key that answers it.

    Args:
        session: the open job.
        asked: the number.
        key: the key that says it was measured wrong.
        width: columns there are.
    """
    spec = spec_at(asked.path)
    kind = spec.kind if isinstance(spec, Number) else Kind.LENGTH
    old, new = show(asked.old, kind, session.units).split(" ")[0], show(asked.new, kind, session.units)
    tail = f": {old} → {new}. {key} if {old} was wrong; otherwise {_else(asked)}"
    if len(tail) > width - len("Spacer") - 1:
        tail = f" → {new}. {key} if {old} was wrong"
    return _styled(cut(f" {field_label(asked.path)}", max(0, width - len(tail)))) + Content.styled(tail, "$warn bold")


def asked_words(session: Session, asked: Reread, key: str) -> str:
    """The same question as a sentence for the guide, which shows it beside the next reading."""
    spec = spec_at(asked.path)
    kind = spec.kind if isinstance(spec, Number) else Kind.LENGTH
    old, new = show(asked.old, kind, session.units).split(" ")[0], show(asked.new, kind, session.units)
    name = field_label(asked.path).strip()
    return f"{name} {old} → {new}. {key} if {old} was wrong; otherwise {_else(asked)}."


def _else(asked: Reread) -> str:
    """What is so where it was not measured wrong."""
    return {"rider_mass_kg": "it is another rider", "air_gap_mm": "it was changed"}.get(
        str(asked.path[-1]), "a part was changed"
    )


def _styled(name: str) -> Content:
    return Content.styled(name, "$primary bold")


def _unread(session: Session, path: Path, unit: str, room: int) -> Content:
    """The value that the job keeps while the text cannot be read; the reason is among the warnings."""
    kept = _value(session, path, unit, typed=False) or "what it had"
    tail = f": ✖ not read; the job keeps: {kept}"
    if len(tail) + len(field_label(path)) + 1 > room:
        tail = f": ✖ kept: {kept}"
    return Content.styled(f"{cut(f' {field_label(path)}', room - len(tail))}{tail}", "$fault bold")


def _chosen(session: Session, path: Path, name: str, width: int) -> Content:
    """The chosen word, what it does, and how to change it; without room for all, the last is left out first."""
    value = value_at(session.job, path)
    meaning = worded(
        MEANINGS.get((str(path[-1]), str(value))) or (WIRES.get(str(value), "") if path[-1] == "wire" else "")
    )
    word = choice_word(path, value)
    short = name if session.job.front.split else f" {field_label(path)}"
    for shown, parts in ((name, (meaning, CHANGES)), (short, (meaning, CHANGES)), (short, (meaning or CHANGES,))):
        hint = " · ".join(part for part in parts if part)
        if len(f"{shown}: {word}   {hint}") <= width:
            break
    name_width = width - len(word) - 2
    line = _styled(f"{cut(shown, name_width)}: ") + Content.styled(word, "$figure bold")
    room = width - line.cell_length - 3
    return (
        line + Content.styled(f"   {cut(hint, room)}", "$text-muted")
        if room >= len(CHANGES) or len(hint) <= room
        else line
    )


def _value(session: Session, path: Path, unit: str, *, typed: bool) -> str:
    """The value in the job, with its unit; where it was just typed, also how it was read."""
    value, spec = value_at(session.job, path), spec_at(path)
    if isinstance(spec, Day):
        return value.strftime("%A, %d %B %Y") if value else ""
    if not isinstance(spec, Number):
        return ""
    if value is None and path[-2:] == ("spring", "rate_n_per_mm"):
        return f"empty{_calculated(value_at(session.job, path[:-1]), session.units)}"
    if value is None:
        taken = value_if_empty(path, session.units)
        return f"empty, taken as {'fully out' if taken == 'out' else taken}" if taken else "empty"
    said = show(value, spec.kind, session.units)
    if typed:
        # At the end of its range a value shown rounded in another unit can be one that could not be typed.
        with contextlib.suppress(BadQuantity):
            said = readback(session.text_of(path), spec, session.units)
    oil = session.assessment.predicted.front.oil if path[-1] == "air_gap_mm" else None
    if oil is not None:
        from stanchion.wording.oil_sentences import step_words  # noqa: PLC0415 - not needed to start

        return f"{said}; {step_words(oil, session.units)}"
    if unit_name(spec.kind, session.units) or not unit or ":" in said:
        return said
    counted, gap, way = unit.partition(" ")
    return f"{said} {unit_word(value, counted)}{gap}{way}"


def _calculated(spring: Spring, units: Units) -> str:
    """What is taken for a rate that is not entered, and between what it may lie; nothing where it is not known."""
    found = unmarked_rate(spring, ())
    if found.value is None:
        return ""
    low, high = coil_data(spring.coils, ()).rate_range or (0.0, 0.0)
    if not found.estimate:
        return f"; by the tester {show(found.value, Kind.RATE, units)}"
    between = f", {show_span(low, high, Kind.RATE, units)}" if high > low else ""
    return f"; by caliper ~{show(found.value, Kind.RATE, units)}{between}"
