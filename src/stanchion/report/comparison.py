"""Two states of machines side by side: only what differs, both values, and the difference in its own unit."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator
from dataclasses import replace

from stanchion.base.record import record
from stanchion.base.text import clean, clean_lines
from stanchion.job.diff import Difference, differences
from stanchion.job.model import ENDS, SIDES, STATES, Run
from stanchion.job.spec import Kind, Part, specs_of
from stanchion.judgement.results.figures import Figure
from stanchion.planning.machine_story import StoryRow
from stanchion.report.lines import NONE
from stanchion.report.story import title
from stanchion.units.known_units import Units
from stanchion.units.quantity import show, show_difference, show_settable, show_settable_difference
from stanchion.wording.changes import changes_in_words
from stanchion.wording.complaint_labels import rider_words
from stanchion.wording.labels import END_NAMES

SAME = "They do not differ."
_NOT_KNOWN = "not known"
_LONGEST = 300


@record
class Comparison:
    """What differs between two rows."""

    one: str
    other: str
    """What is compared, in a few words."""
    sections: tuple[tuple[str, tuple[str, ...]], ...]
    """Heading and lines; only those that have any."""
    said: tuple[str, str] | None
    """What the rider said of two runs, where it is not the same; may be of several lines."""

    @property
    def same(self) -> bool:
        """Whether nothing differs."""
        return not self.sections and self.said is None


def compared(one: StoryRow, other: StoryRow, units: Units) -> Comparison:
    """Where one row differs from another.

    Args:
        one: the row to start from: a job as recorded, or a run.
        other: the row to compare it with.
        units: units to show.
    """
    sections = (
        ("Run", tuple(_run_lines(one, other, units))),
        ("Figures", tuple(_figure_lines(one, other, units))),
        ("Recorded", _recorded_lines(one, other, units)),
    )
    spoken = None
    said = [rider_words(row.run) for row in (one, other) if row.run is not None]
    if len(said) == len((one, other)) and said[0] != said[1]:
        spoken = clean_lines(said[0]), clean_lines(said[1])
    return Comparison(title(one), title(other), tuple(part for part in sections if part[1]), spoken)


def comparison_lines(comparison: Comparison, width: int) -> Iterator[tuple[str, str]]:
    """The comparison as lines, each with what it is: "head" or "line".

    Args:
        comparison: what differs.
        width: columns there are; what the rider said stands in two columns of half of it.
    """
    if comparison.same:
        yield "line", SAME
        return
    for head, lines in comparison.sections:
        yield "head", head.upper()
        for line in lines:
            for part in textwrap.wrap(line, width, subsequent_indent="  ") or [""]:
                yield "line", part
    if comparison.said is not None:
        yield "head", "THE RIDER SAID"
        yield from (("line", line) for line in side_by_side(comparison.said, width))


def side_by_side(texts: tuple[str, str], width: int) -> Iterator[str]:
    """Two texts in two columns.

    Args:
        texts: each of one line or several.
        width: columns for both, with three between them.

    >>> list(side_by_side(("pushes wide", ""), 25))
    ['pushes wide | –']
    """
    half = max(8, (width - 3) // 2)
    columns = [
        [part for line in text.split("\n") for part in textwrap.wrap(line, half) or [""]] if text else [NONE]
        for text in texts
    ]
    for at in range(max(map(len, columns))):
        left, right = (column[at] if at < len(column) else "" for column in columns)
        yield f"{left:<{half}} | {right}".rstrip()


# --- what differs -------------------------------------------------------------------------------------------------


def _recorded_lines(one: StoryRow, other: StoryRow, units: Units) -> tuple[str, ...]:
    """Everything recorded but the runs; of the job, and of the settings as ridden."""
    found = differences(replace(one.job, runs=()), replace(other.job, runs=()))
    found = tuple(change for change in found if not _shown_as_sag(change, one, other))
    return tuple(clean(line, _LONGEST) for line in changes_in_words(found, other.job, units, both=True))


def _shown_as_sag(change: Difference, one: StoryRow, other: StoryRow) -> bool:
    """Whether a reading is among the figures already, as the sag it gave."""
    path = change.path
    if path[0] != "sag" or path[-1] not in ("hanging_mm", "down_mm", "up_mm"):
        return False
    ends = [row.assessment.sag.end("front" if path[1] == "front" else "rear") for row in (one, other)]
    return any(end.static.sag_mm.known or end.rider.sag_mm.known for end in ends)


def _run_lines(one: StoryRow, other: StoryRow, units: Units) -> Iterator[str]:
    """What was recorded of two runs; of whole occasions, how many runs there are and the best lap."""
    if (one.run is None) != (other.run is None):
        return  # a run and a whole job have only their settings in common
    yield from _line("Best lap", one.best_lap_s, other.best_lap_s, lambda s: show(s, Kind.TIME, units), _seconds)
    if one.run is None and other.run is None:
        runs = float(len(one.job.runs)), float(len(other.job.runs))
        yield from _line("Runs", *runs, lambda n: f"{n:.0f}", lambda a, b: f"{a - b:.0f}")
    for end in ENDS:
        used = [of.used_mm.value if (of := row.deepest(end)) is not None else None for row in (one, other)]
        if one.run is None or other.run is None or one.run.marker_from != other.run.marker_from:
            yield from _length(f"{END_NAMES[end].capitalize()} travel used", used[0], used[1], units)
        shares = [of.share_used.value if (of := row.deepest(end)) is not None else None for row in (one, other)]
        yield from _line(f"{END_NAMES[end].capitalize()} share used", shares[0], shares[1], _percent, _points)
    if one.run is not None and other.run is not None:
        at = other.at or 0
        found = [
            Difference(("runs", at, name), before, after)
            for name in _RECORDED
            if (before := getattr(one.run, name)) != (after := getattr(other.run, name))
        ]
        for line in changes_in_words(found, other.job, units):
            words = clean(line.removeprefix("Run: "), _LONGEST)
            yield words[:1].upper() + words[1:]


_SHOWN_APART = ("best_lap_s", "said", "complaints", "time", "date", "session")
_RECORDED = tuple(
    name for name, spec in specs_of(Run).items() if name not in _SHOWN_APART and not isinstance(spec, Part)
)


def _figure_lines(one: StoryRow, other: StoryRow, units: Units) -> Iterator[str]:
    """What follows from what is recorded: preloads and sags."""
    for name, figures in _preloads(one, other):
        yield from _length(name, figures[0].value, figures[1].value, units, settable=True)
    for end in ENDS:
        for state in STATES:
            sags = [row.assessment.sag.end(end).state(state).sag_mm.value for row in (one, other)]
            yield from _length(f"{end.capitalize()} {state} sag", sags[0], sags[1], units)


def _preloads(one: StoryRow, other: StoryRow) -> Iterator[tuple[str, tuple[Figure, Figure]]]:
    rows = (one, other)
    split = any(row.job.front.split for row in rows)
    for of, words in (("installed_preload_mm", "installed preload"), ("preload_now_mm", "preload now")):
        for side in SIDES if split else SIDES[:1]:
            first, second = (getattr(row.assessment.front.leg(side), of) for row in rows)
            yield f"Fork {side + ' ' if split else ''}{words}", (first, second)
        first, second = (getattr(row.assessment.rear.spring, of) for row in rows)
        yield f"Shock {words}", (first, second)


# --- one line -----------------------------------------------------------------------------------------------------


def _length(
    name: str, one: float | None, other: float | None, units: Units, *, settable: bool = False
) -> Iterator[str]:
    if settable:
        return _line(
            name,
            one,
            other,
            lambda mm: show_settable(mm, Kind.LENGTH, units),
            lambda more, less: show_settable_difference(more, less, units),
        )
    return _line(
        name,
        one,
        other,
        lambda mm: show(mm, Kind.LENGTH, units),
        lambda more, less: show_difference(more, less, Kind.LENGTH, units),
    )


def _line(
    name: str,
    one: float | None,
    other: float | None,
    words: Callable[[float], str],
    difference: Callable[[float, float], str],
) -> Iterator[str]:
    """One line where the two read differently; none where both are unknown."""
    before, after = (_NOT_KNOWN if value is None else words(value) for value in (one, other))
    if before == after:
        return
    by = ""
    if one is not None and other is not None:
        by = f" ({'+' if other > one else '−'}{difference(max(one, other), min(one, other))})"
    yield f"{name} {before} → {after}{by}"


def _seconds(more: float, less: float) -> str:
    return f"{show_difference(more, less, Kind.TIME)} s"


def _percent(share: float) -> str:
    return f"{share * 100:.0f} %"


def _points(more: float, less: float) -> str:
    points = round(more * 100) - round(less * 100)
    return f"{points} {'point' if points == 1 else 'points'}"
