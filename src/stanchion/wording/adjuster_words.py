"""One adjuster or height in words: its name, where it stands and what that counts from, and what a change went with."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from stanchion.base.text import one_line
from stanchion.job.edit import spec_at, value_at
from stanchion.job.ends import Adjuster, Clicker
from stanchion.job.model import Job, Path, Run
from stanchion.job.runs import as_ridden
from stanchion.job.spec import Kind, Number
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import show, show_difference, unit_name
from stanchion.wording.changes import changes_in_words, setting_change
from stanchion.wording.complaint_labels import rider_words
from stanchion.wording.labels import field_label, uncapitalised
from stanchion.wording.positions import DAMPERS, FROM_CLOSED, bare, counted, showing

if TYPE_CHECKING:
    from stanchion.planning.adjuster_history import LastChange

OUT, IN = "out", "in"
LONGEST_WORDS = 400


def unit_counted(job: Job, path: Path) -> str:
    """The unit of a position, and which way it counts: dampers out from closed, preload in from fully out.

    Args:
        job: the job.
        path: where the position is.

    >>> unit_counted(Job(), ("rear", "rebound", "now")), unit_counted(Job(), ("rear", "collar", "now"))
    ('clicks out', 'turns in')
    """
    if path[-2] in DAMPERS:
        return f"{value_at(job, (*path[:-1], 'unit'))} {OUT}"
    unit = str(value_at(job, (*path[:-1], "counting")))
    return f"{unit}{showing(unit) or f' {IN}'}"


def at_end_words(job: Job, path: Path) -> str:
    """What is said when a number is to step beyond the end of its range.

    >>> at_end_words(Job(), ("rear", "rebound", "now"))
    'This number goes no further.'
    """
    part = value_at(job, path[:-1])
    now = value_at(job, path)
    if now is None or not isinstance(part, Adjuster | Clicker) or now not in part.ends:
        return "This number goes no further."
    if isinstance(part, Adjuster) and not part.from_out:
        return "The adjuster is at the end of its range: it goes no further."
    inwards = (now == 0) is isinstance(part, Clicker)
    return f"The adjuster is fully {IN if inwards else OUT}: it goes no further."


def kind_of(path: Path) -> Kind:
    """What a position is: a number of turns, clicks and the like, a length or a pressure.

    >>> kind_of(("front", "fork_height_mm")), kind_of(("front", "left", "air", "pressure_bar"))
    (<Kind.LENGTH: 'length'>, <Kind.PRESSURE: 'pressure'>)
    """
    spec = spec_at(path)
    return spec.kind if isinstance(spec, Number) else Kind.COUNT


def setting_name(job: Job, path: Path) -> str:
    """The name of an adjuster, a height or a pressure.

    >>> setting_name(Job(), ("rear", "rebound", "now")), setting_name(Job(), ("front", "fork_height_mm"))
    ('Shock rebound', 'Fork height')
    """
    if path[-1] != "now":
        name = field_label(path)
        if path[0] == "front" and path[-2] != "air":
            return name
        return f"{_part_name(job, path)} {uncapitalised(name)}"
    return f"{_part_name(job, path)} {DAMPERS.get(str(path[-2]), 'preload')}"


def _part_name(job: Job, path: Path) -> str:
    return "Shock" if path[0] == "rear" else f"Fork {path[1]}" if job.front.split else "Fork"


def position_words(job: Job, path: Path, units: Units = METRIC, *, briefly: bool = False) -> str:
    """Where an adjuster or a height stands, its range, and what it counts from, which a brief spelling omits.

    >>> from stanchion.job.edit import Edit, apply
    >>> position_words(apply(Job(), Edit(("rear", "rebound", "now"), 8.0)), ("rear", "rebound", "now"))
    '8 clicks out from closed'
    """
    now = value_at(job, path)
    if path[-1] != "now":
        shown = "not recorded" if now is None else show(now, kind_of(path), units)
        most = value_at(job, (*path[:-1], "most_bar")) if path[-1] == "pressure_bar" else None
        return (
            shown if most is None or briefly else f"{shown}; the highest allowed is {show(most, Kind.PRESSURE, units)}"
        )
    part = value_at(job, path[:-1])
    damper = path[-2] in DAMPERS
    unit = str(part.unit if damper else part.counting)
    total = part.total
    of = f" of {bare(total)}" if total is not None and not showing(unit) else ""
    way, since = (OUT, f" {FROM_CLOSED}") if damper else ("showing", "") if showing(unit) else (IN, " from fully out")
    if now is None and briefly:
        return "not recorded"
    counts = way if briefly else f"{way}{since}"
    return f"not recorded; {unit} {counts}" if now is None else f"{_of(now, of, unit)} {counts}"


def _of(now: float, of: str, unit: str) -> str:
    return f"{bare(now)}{of} {unit}" if of else counted(now, unit)


def lap_difference(before: float | None, after: float | None) -> str:
    """How much slower (+) or faster (−) a lap was; empty where one of them is not known.

    >>> lap_difference(73.2, 73.9), lap_difference(73.9, 73.2), lap_difference(73.2, 73.2)
    ('+0.7 s', '−0.7 s', '±0 s')
    """
    if before is None or after is None:
        return ""
    by = show_difference(max(before, after), min(before, after), Kind.TIME)
    sign = "+" if after > before else "−"
    return f"{sign}{by} s" if float(by) else "±0 s"


def change_in_row(job: Job, last: LastChange, units: Units = METRIC) -> str:
    """The same for a line among those of other adjusters: a lap that other changes share in is not put down to one.

    Args:
        job: the job.
        last: the change.
        units: units to show.
    """
    if not last.others:
        return change_in_brief(job, last, units)
    return f"{setting_change(last.change, as_ridden(job, job.runs[last.run]), units)} + others"


def change_in_brief(job: Job, last: LastChange, units: Units = METRIC) -> str:
    """What was turned and what the lap did; instead of that the number of the run after it where no lap is known.

    Args:
        job: the job.
        last: the change.
        units: units to show.
    """
    before, after = job.runs[last.run - 1], job.runs[last.run]
    lap = lap_difference(before.best_lap_s, after.best_lap_s) or f"run {last.run + 1}"
    return f"{setting_change(last.change, as_ridden(job, after), units)}, {lap}"


def change_in_full(job: Job, last: LastChange, used: Iterable[str], units: Units = METRIC) -> list[str]:
    """What was turned before a run and what else was changed; then lap, travel and the rider's words, a sentence each.

    Args:
        job: the job.
        last: the change.
        used: for each end its name, and travel used before and after without the unit.
        units: units to show.
    """
    run, change = last.run, last.change
    before, after = job.runs[run - 1], job.runs[run]
    ridden = as_ridden(job, after)
    also = changes_in_words(last.others, ridden, units)
    alone = f"and {len(also)} more change{'s' if len(also) > 1 else ''}" if also else "nothing else"
    parts = [f"Run {run + 1}: {setting_change(change, ridden, units)}, {alone}.", *_laps(before, after)]
    travel = ", ".join(used)
    if travel:
        parts.append(f"Travel: {travel} {unit_name(Kind.LENGTH, units)}.")
    if said := rider_words(after):
        parts.append(f"Rider: {one_line(said, LONGEST_WORDS)}")
    return parts


def _laps(before: Run, after: Run) -> list[str]:
    one, other = (None if run.best_lap_s is None else show(run.best_lap_s, Kind.TIME) for run in (before, after))
    difference = lap_difference(before.best_lap_s, after.best_lap_s)
    return [f"Lap {one} → {other} ({difference})."] if difference else []
