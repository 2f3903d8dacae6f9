"""What a closed screen drew is let go of with it: nothing of it stays in memory."""

from __future__ import annotations

import gc
from pathlib import Path

import pytest
from textual.screen import Screen
from textual.widget import Widget

from complete_job import complete_job
from driving import USUAL, app_on
from textual_private import StylesCache, line_cache_of

pytestmark = pytest.mark.usefixtures("every_frame")

OPENED = ("f1", "f6", "ctrl+n", "escape")
"""Help, the warnings, a new job, the strip of commands: each closed again by Esc."""


def alive() -> tuple[list[Screen[object]], list[StylesCache], list[Widget]]:
    """What there is of each kind once everything unreachable has been collected, also what was put aside at a rest."""
    gc.unfreeze()
    gc.collect()
    found = gc.get_objects()
    kinds = (Screen, StylesCache, Widget)
    screens, caches, widgets = ([one for one in found if isinstance(one, kind)] for kind in kinds)
    return screens, caches, widgets  # type: ignore[return-value]


async def test_closed_screens_leave_neither_widgets_nor_lines(tmp_path: Path) -> None:
    of_other_tests, _, _ = alive()
    app = app_on(tmp_path, complete_job())
    async with app.run_test(size=USUAL) as pilot:
        await pilot.pause()
        for key in OPENED:
            first = {id(one) for one in alive()[1]}
            for _ in range(4):
                await pilot.press(key)
                assert len(app.screen_stack) == 2, f"{key} opened nothing: this would test nothing"
                await pilot.press("escape")
                await pilot.pause()
            screens, caches, widgets = alive()
            assert [one for one in screens if one is not app.screen and one not in of_other_tests] == [], key
            drawn = [one for one in caches if id(one) not in first]
            assert len(drawn) <= len([one for one in widgets if id(line_cache_of(one)) not in first]), key
            del screens, caches, widgets, drawn
    gc.collect()
    gc.freeze()  # as after collecting the tests: the next ones do not look through all of it again and again
