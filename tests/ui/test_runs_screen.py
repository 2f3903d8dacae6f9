"""Runs are logged while the rider talks, by keys alone."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from complete_job import complete_job
from desks import USUAL, WIDE, app_on, bench, on_disk, shown, typed


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_a_run_is_logged_with_time_and_settings_filled_in(tmp_path: Path, size: tuple[int, int]) -> None:
    app = app_on(tmp_path, replace(complete_job(), runs=()), "runs")
    app.now = lambda: dt.datetime(2026, 5, 31, 14, 5)
    async with app.run_test(size=size) as pilot:
        await pilot.pause(0.5)
        assert "NO RUN YET" in shown(app)
        await pilot.press("f7")
        await pilot.pause(0.3)
        await typed(pilot, "112")
        await pilot.press("tab")
        await typed(pilot, "44")
        await pilot.press("enter", "enter")
        await typed(pilot, "1:32.4")
        job = on_disk(app)
        assert (job.runs[0].time, job.runs[0].front_marker_mm, job.runs[0].rear_marker_mm) == ("14:05", 112, 44)
        assert job.runs[0].best_lap_s == 92.4
        assert job.runs[0].front == job.front
        text = shown(app)
        assert "RUN 1, TRAVEL USED" in text
        assert "112.0 of" in text


async def test_what_was_changed_since_the_run_before_is_shown_in_words(tmp_path: Path) -> None:
    app = app_on(tmp_path, replace(complete_job(), runs=()), "runs")
    async with app.run_test(size=WIDE) as pilot:
        await pilot.pause(0.5)
        await pilot.press("f7")
        await pilot.pause(0.3)
        await pilot.press("f3")
        await pilot.pause(0.3)
        bench(app).go_to(("front", "left", "rebound", "now"))
        await pilot.press("plus", "plus")
        await pilot.press("ctrl+l")
        await pilot.pause(0.3)
        await pilot.press("f7")
        await pilot.pause(0.3)
        assert "Fork left rebound 2 clicks out" in shown(app)


async def test_a_logged_run_is_taken_back_with_undo(tmp_path: Path) -> None:
    app = app_on(tmp_path, replace(complete_job(), runs=()), "runs")
    async with app.run_test(size=USUAL) as pilot:
        await pilot.pause(0.5)
        await pilot.press("f7")
        await pilot.pause(0.3)
        assert len(on_disk(app).runs) == 1
        await pilot.press("ctrl+z")
        await pilot.pause(0.2)
        assert on_disk(app).runs == ()
        assert "NO RUN YET" in shown(app)
