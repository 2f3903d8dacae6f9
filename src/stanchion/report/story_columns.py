"""The story of machines as a terminal of any width shows it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from stanchion.planning.machine_story import StoryRow
from stanchion.report.story import TABLE
from stanchion.units.known_units import Units

_FIRST_TO_GO = (
    ("file",),
    ("front_used_pct", "rear_used_pct"),
    ("front_static_sag", "rear_static_sag"),
    ("time",),
    ("front_installed", "rear_installed"),
    ("rider",),
    ("front_spring", "rear_spring"),
    ("venue",),
    ("front_adjuster", "rear_adjuster"),
    ("front_used", "rear_used"),
    ("best_lap",),
    ("front_rider_sag", "rear_rider_sag"),
)
"""What is left out where there is no room, first what is missed least."""
_CHANGED = "changed"
_LEAST_CHANGED = 24
"""Columns there are at least for what was changed, which goes over several lines."""
_GAP = "  "


def story_in(rows: list[StoryRow], units: Units, width: int) -> Iterator[str]:
    """The rows as lines that fit the terminal, under heads of several lines; what has no room is named at the end.

    Args:
        rows: the rows.
        units: units to show; rates and lengths stand without them.
        width: columns there are.
    """
    cells = {column.name: [column.cell(row, units) for row in rows] for column in TABLE}
    rooms = {name: max(map(len, [*of, *name.split("_")])) for name, of in cells.items() if name != _CHANGED}
    gone: list[str] = []
    for names in ((), *_FIRST_TO_GO):
        gone += names
        for name in names:
            del rooms[name]
        if sum(rooms.values()) + len(_GAP) * len(rooms) + _LEAST_CHANGED <= width:
            break
    left = max(_LEAST_CHANGED, width - sum(rooms.values()) - len(_GAP) * len(rooms))
    shown = [column.name for column in TABLE if column.name in rooms]
    heads = [name.split("_") for name in shown]
    for line in range(deepest := max(map(len, heads))):
        words = [head[line - deepest + len(head)] if line >= deepest - len(head) else "" for head in heads]
        last = _CHANGED if line == deepest - 1 else ""
        yield _line([*words, last], [*(rooms[name] for name in shown), 0])
    for at in range(len(rows)):
        changed = textwrap.wrap(cells[_CHANGED][at], left, break_on_hyphens=False) or [""]
        for number, part in enumerate(changed):
            known = [cells[name][at] if number == 0 else "" for name in shown]
            yield _line([*known, part], [*(rooms[name] for name in shown), 0])
    if gone:
        left_out = f"No room here for {', '.join(gone)}. A wider window has it, and so has --tabs."
        yield from textwrap.wrap(left_out, width)


def _line(cells: list[str], rooms: list[int]) -> str:
    return _GAP.join(cell.ljust(room) for cell, room in zip(cells, rooms, strict=True)).rstrip()
