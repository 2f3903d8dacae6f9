"""A whole weekend with one sample machine, key by key: what the README tells of and its pictures show.

The machine, the readings and the laps are invented.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import AsyncIterator
from dataclasses import dataclass
from pathlib import Path

from textual.pilot import Pilot
from textual.widgets import Input

from driving import shown, workspace_in
from stanchion.store.samples import samples
from stanchion.ui.app import StanchionApp
from timing import at_rest, eventually

SAMPLE = "soft_springs"
SIZE = (100, 34)
SATURDAY = dt.datetime(2026, 5, 16, 14, 0)
LATER = dt.datetime(2026, 5, 16, 15, 20)
NEXT_WEEKEND = dt.datetime(2026, 5, 23, 9, 0)


@dataclass(frozen=True)
class Stop:
    """Keys, and the name of the picture of what they lead to; none where it is only on the way."""

    keys: tuple[str, ...]
    picture: str = ""
    at: dt.datetime = SATURDAY


def typed(text: str) -> tuple[str, ...]:
    """The keys that type a text; a bar is Enter."""
    names = {" ": "space", ".": "full_stop", "|": "enter"}
    return tuple(names.get(letter, letter) for letter in text)


STOPS = (
    Stop(("f3",), "front"),
    Stop(("f5",), "sag"),
    Stop(("f3", "ctrl+g")),
    Stop(("enter",), "trial"),
    Stop(("ctrl+down",)),
    Stop(("f7", "f5", "ctrl+r"), "guide"),
    Stop(typed("124|129||") + typed("|106|111|")),
    Stop(("escape", "ctrl+p"), "predict"),
    Stop(("ctrl+x", "ctrl+d"), "damping"),
    Stop(("ctrl+x", "ctrl+home", *("down",) * 4, *("minus",) * 3)),
    Stop(("ctrl+l", "f7", *typed("106|47|1.13.2|"))),
    Stop(("ctrl+p", "f7")),
    Stop(("f7",), "balance"),
    Stop(("ctrl+p", "tab", "tab", "tab"), "side"),
    Stop(("ctrl+x", "ctrl+end", "minus", "minus")),
    Stop(("ctrl+l", "f7", *typed("105|52|1.13.9|")), "runs", LATER),
    Stop(("ctrl+w", "down", "enter"), "worklist"),
    Stop(("space",)),
    Stop(("ctrl+o",)),
    Stop(("f9", "f8", "f8"), at=NEXT_WEEKEND),
)


async def tour(folder: Path) -> AsyncIterator[tuple[Stop, StanchionApp]]:
    """The program at each stop."""
    workspace = workspace_in(folder)
    workspace.create_from(next(one.data for one in samples() if one.name == SAMPLE))
    workspace.remember("machine")
    workspace.close()
    clock = [SATURDAY]
    app = StanchionApp(workspace_in(folder), today=lambda: clock[0].date())  # noqa: PLW0108 - the clock goes on
    app.now = lambda: clock[0]
    async with app.run_test(size=SIZE) as pilot:
        await at_rest(pilot)
        for stop in STOPS:
            clock[0] = stop.at
            if app.session is not None:
                app.session.clock = app.now
            for key in stop.keys:
                await pilot.press(key)
            await settled(pilot, app)
            yield stop, app


async def settled(pilot: Pilot[int], app: StanchionApp) -> None:
    """Until nothing moves any more, and all is saved."""
    await at_rest(pilot)
    await app.workers.wait_for_complete()
    await eventually(pilot, lambda: "saving" not in shown(app).partition("\n")[0])
    for entry in app.screen.query(Input):
        entry.cursor_blink = False
    await at_rest(pilot)
