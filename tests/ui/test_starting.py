"""The order in which a screen is built: the same on every Python."""

from __future__ import annotations

from pathlib import Path

import pytest

from driving import USUAL, a_job, app_on
from stanchion.ui.screens.all_screens import SCREENS, make_screen
from stanchion.ui.screens.app_screen import AppScreen

JOB = a_job(("front.travel_mm", 120.0))


@pytest.fixture
def composed(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, bool]]:
    """Every screen that is composed, and whether it was the one in hand then."""
    seen: list[tuple[str, bool]] = []
    compose = AppScreen._compose

    async def watched(self: AppScreen[object]) -> None:
        seen.append((type(self).__name__, self.app.screen_stack[-1:] == [self]))
        await compose(self)

    monkeypatch.setattr(AppScreen, "_compose", watched)
    return seen


@pytest.mark.parametrize("part", ["machine", "front", "rear", "sag", "adjusters", "predict", "trial", "runs", "upkeep"])
async def test_the_first_screen_is_in_hand_before_anything_of_it_is_built(
    tmp_path: Path, composed: list[tuple[str, bool]], part: str
) -> None:
    app = app_on(tmp_path, JOB, part)
    async with app.run_test(size=USUAL):
        assert app.current_mode == part
    assert len(composed) == 1
    assert all(current for _, current in composed)


async def test_an_empty_folder_begins_with_the_list(tmp_path: Path, composed: list[tuple[str, bool]]) -> None:
    app = app_on(tmp_path)
    async with app.run_test(size=USUAL):
        assert app.current_mode == "jobs"
    assert composed == [("JobsScreen", True)]


async def test_every_screen_gone_to_is_in_hand_before_anything_of_it_is_built(
    tmp_path: Path, composed: list[tuple[str, bool]]
) -> None:
    app = app_on(tmp_path, JOB, "machine")
    async with app.run_test(size=USUAL) as pilot:
        await pilot.press("f1", "escape", "escape", "escape", "f3", "f5", "f9", "f4", "ctrl+n")
    names = [name for name, _ in composed]
    assert {"MachineScreen", "HelpScreen", "CommandStrip", "FrontScreen", "SagScreen", "JobsScreen"} <= set(names)
    assert all(current for _, current in composed)


async def test_every_screen_of_the_program_waits_so(tmp_path: Path) -> None:
    app = app_on(tmp_path, JOB)
    for name in SCREENS:
        assert isinstance(make_screen(name, app, app.jobs, app.story), AppScreen)
