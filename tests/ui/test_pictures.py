"""The main screens against stored pictures, so that a change of look is always seen.

A picture is what stands on the screen, then where which style begins. STANCHION_NEW_PICTURES=1 stores what is shown
now; look at the difference before it is committed.
"""

from __future__ import annotations

import datetime as dt
import os
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from driving import USUAL, WIDE, workspace_in
from stanchion.store.samples import samples
from stanchion.store.settings import save_settings
from stanchion.ui.app import StanchionApp
from textual_private import drawn
from timing import at_rest

STORED = Path(__file__).parent / "pictures"
SAMPLE = "soft_springs"
NOW = dt.datetime(2026, 5, 31, 12, 0)
SCREENS = (
    ("machine", ("f2",)),
    ("front", ("f3",)),
    ("rear", ("f4",)),
    ("sag", ("f5",)),
    ("guide", ("ctrl+r", "slash")),
    ("adjusters", ("escape", "ctrl+x")),
    ("damping", ("ctrl+d",)),
    ("dampers", ("ctrl+r",)),
    ("import", ("f7",)),
    ("linkage", ("escape", "f4", "f7")),
    ("predict", ("ctrl+p",)),
    ("balance", ("f7",)),
    ("gas", ("ctrl+d",)),
    ("trial", ("ctrl+t",)),
    ("springs", ("ctrl+g",)),
    ("runs", ("ctrl+l",)),
    ("upkeep", ("ctrl+u",)),
    ("story", ("ctrl+f",)),
    ("warnings", ("f3", "f6")),
    ("commands", ("escape", "escape")),
    ("jobs", ("escape", "f9")),
    ("complaint", ("escape", "ctrl+l", "ctrl+a")),
    ("what_to_try", ("d", "i", "v", "enter")),
)
"""Name of the picture, and the keys that lead to it from the one before."""


def picture_of(app: StanchionApp) -> str:
    """What stands on the screen, and below it the styles of each line by column."""
    lines, styles = [], []
    for y, strip in enumerate(drawn(app)):
        text, runs, before = "", [], None
        for segment in strip:
            style = str(segment.style)
            if style != before:
                runs.append(f"{len(text)} {style}")
                before = style
            text += segment.text
        lines.append(text.rstrip())
        styles.append(f"{y}: {'; '.join(runs)}")
    return _without_the_time("\n".join([*lines, "", *styles, ""]))


def _without_the_time(picture: str) -> str:
    return re.sub(r"saved \d\d:\d\d:\d\d", "saved --:--:--", picture)


async def pictures(folder: Path, theme: str, size: tuple[int, int]) -> dict[str, str]:
    """Every picture in one theme and size."""
    workspace = workspace_in(folder)
    save_settings(replace(workspace.preferences.settings, theme=theme), workspace.places)
    workspace.create_from(next(one.data for one in samples() if one.name == SAMPLE))
    workspace.remember("machine")
    workspace.close()
    app = StanchionApp(workspace_in(folder), today=NOW.date)
    app.now = lambda: NOW
    taken: dict[str, str] = {}
    async with app.run_test(size=size) as pilot:
        for name, keys in SCREENS:
            await pilot.press(*keys)
            taken[name] = await _settled(pilot, app)
    return taken


async def _settled(pilot: Pilot[int], app: StanchionApp) -> str:
    """The picture once it no longer changes; a blinking cursor is held still."""
    await app.workers.wait_for_complete()
    assert app.workspace.flush()
    before = ""
    for _ in range(50):
        for entry in app.screen.query(Input):
            entry.cursor_blink = False
        await at_rest(pilot)
        now = picture_of(app)
        if now == before:
            return now
        before = now
    raise AssertionError(f"never still:\n{before}")


def files(theme: str, size: tuple[int, int]) -> Iterator[tuple[str, Path]]:
    for name, _ in SCREENS:
        yield name, STORED / f"{name}-{size[0]}x{size[1]}-{theme}.txt"


@pytest.mark.parametrize("size", [USUAL, WIDE], ids=["80x24", "120x40"])
@pytest.mark.parametrize("theme", ["daylight", "night"])
async def test_every_screen_looks_as_it_did(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, theme: str, size: tuple[int, int]
) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("COLORTERM", "truecolor")
    monkeypatch.setenv("LC_ALL", "C.UTF-8")
    taken = await pictures(tmp_path, theme, size)
    if os.environ.get("STANCHION_NEW_PICTURES"):
        STORED.mkdir(exist_ok=True)
        for name, file in files(theme, size):
            file.write_text(taken[name], "utf-8")
    other = []
    for name, file in files(theme, size):
        stored = file.read_text("utf-8") if file.exists() else ""
        differ = [(a, b) for a, b in zip(stored.splitlines(), taken[name].splitlines(), strict=False) if a != b]
        if stored != taken[name]:
            first = "\n  was ".join(["", *(f"{a!r}\n  is  {b!r}" for a, b in differ[:3])])
            other.append(f"{file.name}: {len(differ)} lines differ{first}")
    assert not other, "\n".join([*other, "STANCHION_NEW_PICTURES=1 stores what is shown now"])
