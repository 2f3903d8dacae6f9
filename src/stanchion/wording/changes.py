"""Changes of a job in words: how many turns, clicks or mm, and which way."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from stanchion.base.text import one_line
from stanchion.job.diff import SPLIT, Difference, differences
from stanchion.job.edit import spec_at
from stanchion.job.ends import STEPS
from stanchion.job.found import AT as FOUND
from stanchion.job.measured import SAG_NOTES, UPKEEP_NOTES
from stanchion.job.model import Adjuster, Clicker, Front, Job, Path, Returning, Side
from stanchion.job.spec import Choice, Flag, Kind, Many, Number, Rows
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import MINUS, show, show_difference
from stanchion.wording.choice_words import choice_word
from stanchion.wording.labels import field_label, label, uncapitalised
from stanchion.wording.positions import DAMPERS, FROM_CLOSED, bare, counted, showing

LONGEST_TEXT = 60
STEP_NAMES = 2
"""Changes named of one step of undo, at most."""
MOST_ROWS_NAMED = 2
"""Rows of a list named by their number, at most."""
_COUNTED = ("counting", "unit")
"""Fields that give the unit of the position beside them."""
_IDENTITY = (("job", "id"), ("job", "carried_id"))
"""Fields that identify files; no person changes them."""


def changes_in_words(
    changes: Iterable[Difference], job: Job, units: Units = METRIC, *, both: bool = False
) -> tuple[str, ...]:
    """All changes, a line each; one that both legs share appears once.

    Args:
        changes: as job.diff finds them.
        job: the job after the changes.
        units: units to show.
        both: give both positions, not only how far an adjuster was turned.
    """
    found = [change for change in changes if not _not_by_user(change)]
    recounted = {change.path[:-1] for change in found if change.path[-1] in _COUNTED}
    by_path = {change.path: change for change in found}
    lines = []
    for change in found:
        twin = by_path.get(_other_leg(change.path))
        alike = twin is not None and (twin.old, twin.new) == (change.old, change.new)
        if alike and change.path[1] == "right":
            continue
        plainly = change.path[:-1] in recounted
        lines.append(_one_change(change, job, units, both_legs=alike, plainly=plainly, both=both))
    return tuple(lines)


def _not_by_user(change: Difference) -> bool:
    """Whether the program made a change by itself: a first note of what was fitted, a work list, an identity."""
    if change.path[:2] in UPKEEP_NOTES:
        return None in (change.old, change.new) or "" in (change.old, change.new)
    if change.path[:1] == ("sag",) and change.path[-1] in (*SAG_NOTES, "hanging_holds"):
        return True
    return change.path in _IDENTITY or change.path[0] in ("returning", "changes")


def step_in_words(before: Job, now: Job, units: Units = METRIC) -> str:
    """What undo or redo has changed, with both values; empty if nothing differs.

    >>> from stanchion.job.edit import Edit, apply
    >>> step_in_words(Job(), apply(Job(), Edit(("front", "fork_height_mm"), 6.0)))
    'Fork height none → 6.0 mm'
    """
    lines = changes_in_words(differences(before, now), now, units, both=True)
    more = len(lines) - STEP_NAMES
    return "; ".join(lines[:STEP_NAMES]) + (f"; and {more} more" if more > 0 else "")


def _one_change(change: Difference, job: Job, units: Units, *, both_legs: bool, plainly: bool, both: bool) -> str:
    path = change.path
    if path == FOUND:
        return f"As found: {'deleted' if change.new is None else 'changed' if change.old else 'recorded'}"
    if path == SPLIT:
        return "Fork: legs entered separately" if change.old is None else "Fork: legs entered as one"
    where = _where(path, job, both_legs=both_legs)
    if path[-1] == "now" and where and not plainly:
        turned = _turned(change, job, both=both)
        if turned:
            return f"{where} {DAMPERS.get(str(path[-2]), 'preload')} {turned}"
    return f"{_named(path, where)} {_from_to(change, units)}"


def setting_change(change: Difference, job: Job, units: Units = METRIC) -> str:
    """How a position or a height was changed, without its name: which way and how far.

    >>> from stanchion.job.edit import Edit, apply
    >>> one = apply(Job(), Edit(("rear", "rebound", "now"), 8.0))
    >>> setting_change(Difference(("rear", "rebound", "now"), 10.0, 8.0), one)
    '2 clicks in'
    >>> setting_change(Difference(("front", "fork_height_mm"), 6.0, 8.0), one)
    '+2.0 mm'
    >>> setting_change(Difference(("rear", "collar", "now"), 6.0, 1.25), one)
    '4.75 turns out'
    """
    part = _part(job, change.path)
    if isinstance(part, Adjuster) and part.counting in STEPS and None not in (change.old, change.new):
        by = _apart(change.new, change.old)
        return f"{counted(abs(by), part.counting)} {_way(by)}"
    turned = _turned(change, job, both=False).partition(" (")[0] if change.path[-1] == "now" else ""
    if turned:
        return turned
    spec = spec_at(change.path)
    kind = spec.kind if isinstance(spec, Number) else Kind.COUNT
    more = show_difference(max(change.old, change.new), min(change.old, change.new), kind, units)
    return f"{'+' if change.new > change.old else '−'}{more}"


def _turned(change: Difference, job: Job, *, both: bool) -> str:
    """How far an adjuster or a damper was turned, and which way; empty where the path is of neither."""
    part = _part(job, change.path)
    if isinstance(part, Adjuster) and part.counting != "none":
        return _preload(change, part, is_collar=change.path[0] == "rear", both=both)
    return _clicks(change, part, both=both) if isinstance(part, Clicker) else ""


# --- which way ----------------------------------------------------------------------------------------------------


def _preload(change: Difference, adjuster: Adjuster, *, is_collar: bool, both: bool) -> str:
    """How far an adjuster was turned; more is more preload."""
    unit = adjuster.counting
    old, new = change.old, change.new
    if old is None:
        return f"{counted(new, unit)}{showing(unit)}, not recorded before"
    if new is None:
        return f"no longer recorded (was {counted(old, unit)}{showing(unit)})"
    if unit in STEPS:
        more = _apart(new, old)
        by = f"{counted(abs(more), unit)} {_way(more)}"
        return f"{bare(old)} → {counted(new, unit)} ({by})" if both else by
    read = f"{bare(old)} → {counted(new, unit)}{showing(unit)}"
    out, fully_in = adjuster.reading_out, adjuster.reading_in
    if out is not None and fully_in is not None and out != fully_in:
        more = _apart(new, old) * (1 if fully_in > out else -1)
    elif is_collar:  # exposed thread may be read from either side
        return read
    else:
        more = _apart(old, new)
    return f"{counted(abs(more), unit)} {_way(more, unit)} ({read})"


def _clicks(change: Difference, clicker: Clicker, *, both: bool) -> str:
    """How far a damper was turned; it counts from closed, so more is further out."""
    old, new = change.old, change.new
    if old is None:
        return f"{counted(new, clicker.unit)} {FROM_CLOSED}, not recorded before"
    if new is None:
        return f"no longer recorded (was {counted(old, clicker.unit)} {FROM_CLOSED})"
    by = f"{counted(abs(_apart(new, old)), clicker.unit)} {'out' if new > old else 'in'}"
    return f"{bare(old)} → {counted(new, clicker.unit)} {FROM_CLOSED} ({by})" if both else by


def _apart(one: float, other: float) -> float:
    """How much more one position is than another, as both are shown."""
    return float(show_difference(one, other, Kind.COUNT).replace(MINUS, "-"))


def _way(more: float, unit: str = "") -> str:
    """Which way preload was changed: in is more."""
    if unit == "mm":
        return "more" if more > 0 else "less"
    return "in" if more > 0 else "out"


# --- everything else ----------------------------------------------------------------------------------------------


def _from_to(change: Difference, units: Units) -> str:
    spec = spec_at(change.path)
    old, new = change.old, change.new
    if isinstance(spec, Rows):
        return _rows_words(old, new)
    by = ""
    both = isinstance(old, float) and isinstance(new, float)  # of two rates it takes both ends to say how they differ
    if isinstance(spec, Number) and both:
        more = show_difference(max(old, new), min(old, new), spec.kind, units)
        if float(more.partition(" ")[0].rstrip("°")):  # otherwise the two read the same
            by = f" ({'+' if new > old else '−'}{more})"
    return f"{value_words(change.path, old, units)} → {value_words(change.path, new, units)}{by}"


def _rows_words(old: tuple[Any, ...], new: tuple[Any, ...]) -> str:
    """What became of the rows of a list.

    >>> _rows_words(("a", "b", "c"), ("a", "c")), _rows_words(("a",), ("a", "b")), _rows_words(("a",), ("b",))
    ('number 2 removed', 'number 2 added', 'changed')
    """
    for fewer, more, word in ((new, old, "removed"), (old, new, "added")):
        apart = _missing_rows(fewer, more)
        if 0 < len(apart) <= MOST_ROWS_NAMED:
            return f"number {' and '.join(str(at + 1) for at in apart)} {word}"
    return f"changed, {len(old)} → {len(new)} rows" if len(old) != len(new) else "changed"


def _missing_rows(fewer: tuple[Any, ...], more: tuple[Any, ...]) -> list[int]:
    """Which rows of a list are missing from a shorter one that has all the others; none if it has not."""
    left, apart = list(fewer), []
    for at, row in enumerate(more):
        if left and left[0] == row:
            left.pop(0)
        else:
            apart.append(at)
    return [] if left else apart


def value_words(path: Path, value: Any, units: Units = METRIC) -> str:
    """The value of one field as it is shown; lists of rows by how many there are."""
    spec = spec_at(path)
    if value is None or value in ("", ()):
        return "none"
    if isinstance(spec, Rows):
        return f"{len(value)} row{'s' if len(value) != 1 else ''}"
    if isinstance(spec, Number):
        return show(value, spec.kind, units)
    if isinstance(spec, Choice | Flag):
        return choice_word(path, value)
    if isinstance(spec, Many):
        return ", ".join(show(one, spec.item.kind, units) for one in value)
    if isinstance(value, Returning):
        return one_line(value.title, LONGEST_TEXT) or "begun"
    return one_line(str(value), LONGEST_TEXT)


# --- names --------------------------------------------------------------------------------------------------------


def _where(path: Path, job: Job, *, both_legs: bool) -> str:
    """Fork, one leg of it, or shock; empty for everything else."""
    if path[0] == "rear":
        return "Shock"
    if path[0] != "front":
        return ""
    one_leg = path[1] in ("left", "right") and job.front.split and not both_legs
    return f"Fork {path[1]}" if one_leg else "Fork"


def _named(path: Path, where: str) -> str:
    if not where:
        return label(path)
    field = field_label(path)
    if field.lower().startswith(where.lower()):
        return field
    return f"{where} {uncapitalised(field)}"


def _part(job: Job, path: Path) -> Any:
    """The adjuster or damper that a position belongs to."""
    node: Any = job
    for step in path[:-1]:
        side: Side = "right"
        node = node.leg(side) if isinstance(node, Front) and step == side else getattr(node, str(step))
    return node


def _other_leg(path: Path) -> Path:
    """The same field of the other leg; empty where the field is not in a leg."""
    if len(path) > 2 and path[0] == "front" and path[1] in ("left", "right"):
        return ("front", "right" if path[1] == "left" else "left", *path[2:])
    return ()
