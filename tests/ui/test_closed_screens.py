"""What a closed screen drew is let go of with it: nothing of it stays in memory."""

from __future__ import annotations

import gc
from pathlib import Path
from typing import TypeVar

import pytest
from textual._styles_cache import StylesCache
from textual.screen import Screen
from textual.widget import Widget

from complete_job import complete_job
from driving import USUAL, app_on

T = TypeVar("T")
OPENED = ("f1", "f6", "ctrl+n", "escape")
"""Help, the warnings, a new job, the strip of commands: each closed again by Esc."""


def alive(kind: type[T]) -> list[T]:
    """What there is of a kind once everything unreachable has been collected, also what was put aside at a rest."""
    gc.unfreeze()
    gc.collect()
    return [one for one in gc.get_objects() if isinstance(one, kind)]


@pytest.mark.parametrize("key", OPENED)
async def test_closed_screens_leave_neither_widgets_nor_lines(tmp_path: Path, key: str) -> None:
    of_other_tests = alive(Screen)
    app = app_on(tmp_path, complete_job())
    async with app.run_test(size=USUAL) as pilot:
        await pilot.pause()
        first = {id(one) for one in alive(StylesCache)}
        for _ in range(4):
            await pilot.press(key)
            assert len(app.screen_stack) == 2, "the key opened nothing: this would test nothing"
            await pilot.press("escape")
            await pilot.pause()
        assert [one for one in alive(Screen) if one is not app.screen and one not in of_other_tests] == []
        drawn = [one for one in alive(StylesCache) if id(one) not in first]
        assert len(drawn) <= len([one for one in alive(Widget) if id(one._styles_cache) not in first])
