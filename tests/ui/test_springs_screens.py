"""Choosing springs and keeping the van's stock, by keys alone."""

from __future__ import annotations

from pathlib import Path

from complete_job import complete_job
from desks import USUAL, app_on, desk_in, on_disk, shown, typed
from stanchion.ui.screens.springs import SpringsScreen
from stanchion.ui.screens.stock import StockScreen
from stanchion.ui.screens.trial import TrialScreen


async def test_springs_are_ranked_and_one_key_tries_them_beside_what_is_fitted(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "springs")
    async with app.run_test(size=USUAL) as pilot:
        await pilot.pause(0.5)
        assert isinstance(app.screen, SpringsScreen)
        text = shown(app)
        assert "is needed for rider sag" in text
        assert "standard steps" in text
        before = on_disk(app)
        choice = app.desk.choose("front")
        await pilot.press("enter")
        await pilot.pause(0.5)
        assert isinstance(app.screen, TrialScreen)
        assert app.trial is not None
        tried = app.trial.copy.job.front.left.spring.rate_n_per_mm
        assert tried == choice.options[0].fittings[0].spring.rate_n_per_mm
        assert on_disk(app) == before
        await pilot.press("f7")
        await pilot.pause(0.3)
        assert on_disk(app).front.left.spring.rate_n_per_mm == tried


async def test_the_stock_is_typed_in_kept_and_used(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "springs")
    async with app.run_test(size=USUAL) as pilot:
        await pilot.pause(0.5)
        await pilot.press("f7")
        await pilot.pause(0.3)
        assert isinstance(app.screen, StockScreen)
        await pilot.press("tab")
        for value in ("9", "250", "2"):
            await typed(pilot, value)
            await pilot.press("tab")
        await pilot.press("escape")
        await pilot.pause(0.5)
        assert "springs of the stock" in shown(app)
        assert "9.00" in shown(app)
    again = desk_in(tmp_path)
    assert [(row.rate_n_per_mm, row.free_length_mm, row.count) for row in again.stock.stock.rows] == [(9, 250, 2)]


async def test_a_spring_taken_away_comes_back_with_undo_and_the_job_is_not_touched(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "springs")
    async with app.run_test(size=USUAL) as pilot:
        await pilot.pause(0.5)
        before = on_disk(app)
        await pilot.press("f7")
        await pilot.pause(0.3)
        await pilot.press("tab")
        await typed(pilot, "9.25")
        await pilot.press("tab", "f8")
        assert "9.25" not in shown(app)
        await pilot.press("ctrl+z")
        await pilot.pause(0.2)
        assert "9.25" in shown(app)
        await pilot.press("escape")
        assert on_disk(app) == before


async def test_a_count_that_is_not_whole_is_refused_with_the_reason(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "springs")
    async with app.run_test(size=USUAL) as pilot:
        await pilot.pause(0.5)
        await pilot.press("f7")
        await pilot.pause(0.3)
        await pilot.press("tab", "tab", "tab")
        await typed(pilot, "1.5")
        await pilot.pause(0.2)
        assert "whole number" in shown(app)
