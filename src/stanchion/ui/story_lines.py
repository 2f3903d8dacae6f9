"""A machine's story as lines of styled text: rows of the list, a row in full, and plots over the same rows."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from textual.content import Content

from stanchion.base.text import clean
from stanchion.bench.story_reading import Story
from stanchion.job.model import ENDS, State
from stanchion.job.spec import Kind
from stanchion.planning.machine_story import Point, StoryRow, lap_points, sag_points, sag_target, used_points
from stanchion.report.story import BY_NAME, row_lines
from stanchion.store.machines import Unreadable
from stanchion.ui import present
from stanchion.ui.plot import series
from stanchion.ui.space import cut
from stanchion.units.known_units import Units
from stanchion.units.quantity import show, unit_name

MUTED = "$text-muted"
LABEL = 11
"""Columns for a name beside what it names."""
WIDE = 110
"""Columns from which venue and what was changed have a column each."""
REMAINING = 0
# column, head, columns it takes (REMAINING: all that are left), width of the terminal from which it is shown
NARROW: tuple[tuple[str, str, int, int], ...] = (
    ("when", "date, run", 15, 0),
    ("gist", "venue, changed", REMAINING, 0),
    ("front_rider_sag", "sag F", 9, 0),
    ("rear_rider_sag", "R", 9, 0),
    ("front_used", "used F", 8, 70),
    ("rear_used", "R", 7, 70),
    ("best_lap", "best", 7, 50),
)
LAYOUT: tuple[tuple[str, str, int, int], ...] = (
    ("when", "date, run", 15, 0),
    ("venue", "venue, session", 15, 0),
    ("rider", "rider", 10, 0),
    ("front_spring", "spring F", 10, 150),
    ("rear_spring", "R", 7, 150),
    ("front_installed", "inst. F", 10, 0),
    ("rear_installed", "R", 6, 0),
    ("front_adjuster", "adj. F", 8, 130),
    ("rear_adjuster", "R", 5, 130),
    ("front_static_sag", "static F", 9, 150),
    ("rear_static_sag", "R", 9, 150),
    ("front_rider_sag", "rider F", 9, 0),
    ("rear_rider_sag", "R", 9, 0),
    ("front_used", "used F", 8, 0),
    ("rear_used", "R", 7, 0),
    ("best_lap", "best", 7, 0),
    ("changed", "changed", REMAINING, 0),
)


def line(row: StoryRow, units: Units, terminal: int, room: int, *, marked: bool) -> Content:
    """A row in the list.

    Args:
        row: the row.
        units: units of its figures.
        terminal: columns of the terminal, which decide what is shown.
        room: columns there are.
        marked: whether it is the one to compare with.
    """
    text = Content.styled("►" if marked else " ", "$primary bold")
    cells = ((BY_NAME[name].cell(row, units), width) for name, _, width in _columns(terminal, room - 1))
    text += Content("".join(_cut(cell, width - 1).ljust(width) for cell, width in cells))
    return text.stylize("bold") if row.at is None else text


def identity(row: StoryRow) -> str:
    """What identifies a row in the list."""
    return f"{'job' if row.at is None else row.at}:{row.file}"


def _columns(terminal: int, room: int) -> list[tuple[str, str, int]]:
    """Column, head and width of what is shown on a terminal, in so many columns."""
    layout = [column for column in (LAYOUT if terminal >= WIDE else NARROW) if terminal >= column[3]]
    rest = max(8, room - sum(columns for _, _, columns, _ in layout))
    return [(name, head, columns or rest) for name, head, columns, _ in layout]


def heads(terminal: int, room: int) -> str:
    """The names of the columns."""
    names = "".join(head.ljust(columns) for _, head, columns in _columns(terminal, room - 1))
    return f" {names.rstrip()}"


def _cut(text: str, room: int) -> str:
    return text if len(text) <= room else text[: room - 1] + "…"


def title(story: Story, shown: int, units: Units) -> str:
    """Whose story it is, how many rows of it are shown, and what is missing."""
    machine = clean(story.machine, 60) or "a machine without a name: only this job is shown"
    parts = [f" STORY of {machine}: {shown} of {len(story.rows)} rows, {unit_name(Kind.LENGTH, units)}"]
    if not story.rows and story.read == story.of:
        parts = [f" STORY of {machine}: no job of it is in the jobs folder"]
    if story.read < story.of:
        parts.append(f"STOPPED at {story.read} of {story.of} files")
    if story.unreadable:
        parts.append(f"{len(story.unreadable)} UNREADABLE below")
    return " · ".join(parts)


def unreadable_line(one: Unreadable, width: int) -> Content:
    """The line of a file that cannot be read."""
    return Content.styled(_cut(clean(f" UNREADABLE {one.name}", 200), width), "$fault bold")


def row_contents(row: StoryRow, units: Units, width: int) -> Iterator[Content]:
    """Everything about a row, wrapped to so many columns."""
    of = row.job.job
    about = [row.day.isoformat(), *(clean(part, 60) for part in (of.venue, row.session, of.rider) if part)]
    if row.run is not None and row.at is not None:
        about.insert(0, f"RUN {row.at + 1} {clean(row.run.time, 20)}".rstrip())
    for part in textwrap.wrap(" · ".join(about), width):
        yield Content.styled(part, "$primary bold")
    for name, words in row_lines(row, units):
        wrapped = textwrap.wrap(words, width - LABEL) or [""]
        for at, part in enumerate(wrapped):
            yield Content.styled((name if at == 0 else "").ljust(LABEL), MUTED) + Content(part)


PLOT_LABEL, WIDE_PLOT_LABEL = 13, 21
"""Columns for the words beside a plot; from this width name and range fit in one line."""
WIDE_PLOT = 48
"""Columns from which static sag has plots of its own, where two lines each are left for all."""
LEAST = 6
"""Columns below which a plot says nothing."""
Plot = tuple[str, Sequence[Point], tuple[float, float] | None, Kind]


def plot_lines(rows: Sequence[StoryRow], units: Units, width: int, height: int, *, plain: bool) -> Iterator[Content]:
    """Plots below each other, as high as there is room for.

    Args:
        rows: in time order; a place in a plot is a row of the table.
        units: units of the figures beside the plots.
        width: columns there are.
        height: lines there are.
        plain: in ASCII.
    """
    all_of_them = _plots(rows, with_static=True)
    wide = width >= WIDE_PLOT and height >= 2 * len(all_of_them)
    plots, label = (all_of_them, WIDE_PLOT_LABEL) if wide else (_plots(rows, with_static=False), PLOT_LABEL)
    each = max(1, height // len(plots))
    across = max(LEAST, width - label - 1)
    for name, points, band, kind in plots:
        spread = _range(points, kind, units)
        beside = [f"{name} {spread}"] if wide else [name, spread]
        if band is not None:
            beside.append(f"aim {present.band(band, units)}")
        drawn = series([(point.row, point.value) for point in points], len(rows), across, each, band, plain=plain)
        for at, line in enumerate(drawn):
            words = cut(beside[at] if at < len(beside) else "", label - 1).ljust(label)
            yield Content.styled(words, "$primary" if at == 0 else MUTED) + Content.styled(line, "$figure bold")


def _plots(rows: Sequence[StoryRow], *, with_static: bool) -> list[Plot]:
    """Name, points, target and kind of each plot, in order."""
    states: tuple[State, ...] = ("rider", "static") if with_static else ("rider",)
    sags: list[Plot] = [
        (
            f"{state} {end[0].upper()}" if with_static else f"sag {end}",
            sag_points(rows, end, state),
            sag_target(rows, end, state),
            Kind.LENGTH,
        )
        for end in ENDS
        for state in states
    ]
    return [
        *sags,
        ("fork used", used_points(rows, "front"), None, Kind.SHARE),
        ("shock used", used_points(rows, "rear"), None, Kind.SHARE),
        ("best lap", lap_points(rows), None, Kind.TIME),
    ]


def _range(points: Sequence[Point], kind: Kind, units: Units) -> str:
    """Lowest to highest; one where they read alike."""
    if not points:
        return "–"
    values = [point.value for point in points]
    if kind is Kind.SHARE:
        ends = [f"{value:.0f}" for value in (min(values), max(values))]
        return "–".join(dict.fromkeys(ends)) + " %"
    ends = [show(value, kind, units).split(" ")[0] for value in (min(values), max(values))]
    if kind is Kind.TIME:
        return ends[0]
    return "–".join(dict.fromkeys(ends))
