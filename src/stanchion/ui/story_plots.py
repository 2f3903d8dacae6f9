"""The plots beside a machine's story: sags with their targets, travel used and best laps, over the same rows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from textual.content import Content

from stanchion.job.model import ENDS, State
from stanchion.job.spec import Kind
from stanchion.planning.machine_story import Point, StoryRow, lap_points, sag_points, sag_target, used_points
from stanchion.ui import present
from stanchion.ui.plot import series
from stanchion.units.known_units import Units
from stanchion.units.quantity import show

LABEL, WIDE_LABEL = 13, 21
"""Columns for the words beside a plot; from this width name and range fit in one line."""
WIDE = 48
"""Columns from which static sag has plots of its own, where two lines each are left for all."""
MUTED = "$text-muted"
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
    wide = width >= WIDE and height >= 2 * len(all_of_them)
    plots, label = (all_of_them, WIDE_LABEL) if wide else (_plots(rows, with_static=False), LABEL)
    each = max(1, height // len(plots))
    across = max(LEAST, width - label - 1)
    for name, points, band, kind in plots:
        spread = _range(points, kind, units)
        beside = [f"{name} {spread}"] if wide else [name, spread]
        if band is not None:
            beside.append(f"aim {present.band(band, units)}")
        drawn = series([(point.row, point.value) for point in points], len(rows), across, each, band, plain=plain)
        for at, line in enumerate(drawn):
            words = present.cut(beside[at] if at < len(beside) else "", label - 1).ljust(label)
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
