"""The worked pages by keys alone: F1, Enter, a page, its exercise on a copy, solved on the usual screens."""

from __future__ import annotations

from pathlib import Path

import pytest

from driving import USUAL, WIDE, a_job, app_on, on_disk, shown, typed
from stanchion.bench.exercise import exercise_job
from stanchion.report.lesson_figures import CODES
from stanchion.ui.screens.job_screen import EXERCISE
from stanchion.ui.screens.lessons import LessonList, LessonScreen
from timing import at_rest, eventually


def said(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_an_exercise_is_begun_from_the_help_and_solved(tmp_path: Path, size: tuple[int, int]) -> None:
    app = app_on(tmp_path, a_job(), "front")
    before = app.workspace.open_name
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        await pilot.press("f1")
        await eventually(pilot, lambda: "Enter: worked pages" in shown(app))
        await pilot.press("enter")
        await eventually(pilot, lambda: isinstance(app.screen, LessonList))
        await eventually(pilot, lambda: "Anti-squat" in shown(app))
        await pilot.press(*["down"] * 3, "enter")
        await eventually(pilot, lambda: isinstance(app.screen, LessonScreen))
        await eventually(pilot, lambda: "WHAT IS DECIDED" in shown(app))
        await pilot.press("enter")
        await eventually(pilot, lambda: "Exercise: Air gap" in shown(app))
        await pilot.press("space")
        await eventually(pilot, lambda: "2 of 3 reached" in said(shown(app)))
        app.jump(("front", "left", "air_gap_mm"))
        await typed(pilot, "100")
        await pilot.press("enter")
        await eventually(pilot, lambda: "solved. All 3 reached" in said(shown(app)))
        assert on_disk(app).job.sample
        await pilot.press("ctrl+z")
        await eventually(pilot, lambda: "2 of 3 reached" in said(shown(app)))
    assert (app.workspace.places.jobs / before).exists()  # the job that was open stays


def test_the_screens_know_an_exercise_by_the_name_of_its_machine() -> None:
    assert all(exercise_job(code).job.machine.startswith(EXERCISE) for code in CODES)


async def test_a_page_that_is_left_begins_nothing(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "front")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f1", "enter", "enter")
        await eventually(pilot, lambda: isinstance(app.screen, LessonScreen))
        await pilot.press("escape")
        await eventually(pilot, lambda: not isinstance(app.screen, LessonScreen))
        assert len(list(app.workspace.places.jobs.glob("*.toml"))) == 1
        assert "Exercise" not in shown(app)
