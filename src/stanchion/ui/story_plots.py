"""The plots beside a machine's story: rider sag with its target, travel used and best laps, over the same rows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from textual.content import Content

from stanchion.job.spec import Kind
from stanchion.judgement.story import Point, StoryRow, lap_points, sag_points, sag_target, used_points
from stanchion.quantity import Units, show
from stanchion.ui import present
from stanchion.ui.plot import series

LABEL = 13
MUTED = "$text-muted"
LEAST = 6
"""Columns below which a plot says nothing."""


def plot_lines(rows: Sequence[StoryRow], units: Units, width: int, height: int, *, plain: bool) -> Iterator[Content]:
    """Five plots below each other, as high as there is room for.

    Args:
        rows: in time order; a place in a plot is a row of the table.
        units: units of the figures beside the plots.
        width: columns there are.
        height: lines there are.
        plain: in ASCII.
    """
    front, rear = sag_target(rows, "front"), sag_target(rows, "rear")
    plots = (
        ("sag front", sag_points(rows, "front"), front, Kind.LENGTH),
        ("sag rear", sag_points(rows, "rear"), rear, Kind.LENGTH),
        ("fork used", used_points(rows, "front"), None, Kind.SHARE),
        ("shock used", used_points(rows, "rear"), None, Kind.SHARE),
        ("best lap", lap_points(rows), None, Kind.TIME),
    )
    each = max(1, height // len(plots))
    across = max(LEAST, width - LABEL - 1)
    for name, points, band, kind in plots:
        beside = [name, _range(points, kind, units)]
        if band is not None:
            beside.append(f"aim {present.band(band, units)}")
        drawn = series([(point.row, point.value) for point in points], len(rows), across, each, band, plain=plain)
        for at, line in enumerate(drawn):
            words = (beside[at] if at < len(beside) else "")[: LABEL - 1].ljust(LABEL)
            yield Content.styled(words, "$primary" if at == 0 else MUTED) + Content.styled(line, "$figure bold")


def _range(points: Sequence[Point], kind: Kind, units: Units) -> str:
    """Lowest to highest; one where they read alike."""
    if not points:
        return "–"
    values = [point.value for point in points]
    if kind is Kind.SHARE:
        told = [f"{value:.0f}" for value in (min(values), max(values))]
        return "–".join(dict.fromkeys(told)) + " %"
    told = [show(value, kind, units).split(" ")[0] for value in (min(values), max(values))]
    if kind is Kind.TIME:
        return told[0]
    return "–".join(dict.fromkeys(told))
