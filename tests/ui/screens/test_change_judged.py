"""One change, made on the machine and ridden: the rider says better, same or worse, by keys alone."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from complete_job import complete_job
from driving import USUAL, WIDE, app_on, bench, on_disk, said, shown
from stanchion.job.complaint import Complaint
from stanchion.job.model import Job
from stanchion.ui.app import StanchionApp
from stanchion.ui.screens.runs import RunsScreen
from stanchion.ui.screens.worklist import WorkListScreen
from timing import at_rest

WIDE_EXIT = Complaint(where="exit", what="runs_wide")


def ridden_once() -> Job:
    job = complete_job()
    run = replace(job.runs[0], front=job.front, rear=job.rear, complaints=(WIDE_EXIT,), time="13:00")
    return replace(job, runs=(run,), changes=())


def app_with(folder: Path, job: Job, screen: str) -> StanchionApp:
    app = app_on(folder, job, screen)
    app.now = lambda: dt.datetime(2026, 5, 31, 14, 5)
    return app


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_from_a_trial_to_the_work_list_to_the_verdict(tmp_path: Path, size: tuple[int, int]) -> None:
    app = app_with(tmp_path, ridden_once(), "trial")
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        assert app.session is not None
        app.session.clock = app.now
        bench(app).go_to(("rear", "collar", "now"))
        await pilot.press("plus", "plus")
        await pilot.press("ctrl+a")
        await at_rest(pilot)
        assert isinstance(app.screen, WorkListScreen)
        assert "[ ] Shock preload: 0.5 turns in (from 2 to 2.5 turns)" in shown(app)
        assert "CHANGE Shock preload 2 → 2.5 turns" in shown(app)
        assert on_disk(app).changes[0].made_on is None
        await pilot.press("space")
        await at_rest(pilot)
        job = on_disk(app)
        assert job.rear.collar.now == 2.5
        assert (job.changes[0].made_at, job.changes[0].complaints) == ("14:05", (WIDE_EXIT,))
        assert job.changes[0].expected.rear_rider_mm is not None
        await pilot.press("ctrl+l")
        await at_rest(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        job = on_disk(app)
        assert job.changes == ()
        assert job.runs[1].change is not None
        assert job.runs[1].change.complaints == (WIDE_EXIT,)
        assert "Run 2: better, same or worse? ^K" in shown(app)
        await pilot.press("ctrl+k")
        await at_rest(pilot)
        text = shown(app)
        assert "Shock preload 2 → 2.5 turns" in text
        assert "For: runs wide, corner exit" in text
        assert "rear rider sag" in text
        assert "Fork used: 104.0 mm → –" in text
        await pilot.press("b")
        await at_rest(pilot)
        assert on_disk(app).runs[1].verdict == "better"
        assert "Run 2: better than the run before" in said(app)
        assert "better, same or worse?" not in shown(app)
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        assert on_disk(app).runs[1].verdict == "not_said"


async def test_the_verdict_can_be_given_later_changed_and_deleted(tmp_path: Path) -> None:
    job = ridden_once()
    second = replace(job.runs[0], time="13:30", rear=replace(job.rear, rebound=replace(job.rear.rebound, now=14.0)))
    app = app_with(tmp_path, replace(job, runs=(*job.runs, second), rear=second.rear or job.rear), "runs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        for key, verdict in (("1", "better"), ("2", "same"), ("s", "same")):
            await pilot.press("ctrl+k", key)
            await at_rest(pilot)
            assert on_disk(app).runs[1].verdict == verdict
        await pilot.press("ctrl+k", "up", "enter")
        await at_rest(pilot)
        assert on_disk(app).runs[1].verdict == "not_said"


async def test_worse_is_offered_to_be_taken_back_on_the_work_list(tmp_path: Path) -> None:
    job = ridden_once()
    second = replace(job.runs[0], time="13:30", rear=replace(job.rear, rebound=replace(job.rear.rebound, now=14.0)))
    app = app_with(tmp_path, replace(job, runs=(*job.runs, second), rear=second.rear or job.rear), "runs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+k", "w")
        await at_rest(pilot)
        assert "Take the change back?" in shown(app)
        await pilot.press("down", "enter")
        await at_rest(pilot)
        assert isinstance(app.screen, WorkListScreen)
        assert "Shock rebound: 2 clicks in (from 14 to 12 clicks)" in shown(app)
        await pilot.press("space")
        await at_rest(pilot)
        job = on_disk(app)
        assert (job.rear.rebound.now, job.runs[1].verdict) == (12.0, "worse")


async def test_an_applied_trial_is_a_change_made_at_once(tmp_path: Path) -> None:
    app = app_with(tmp_path, ridden_once(), "trial")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        bench(app).go_to(("rear", "collar", "now"))
        await pilot.press("plus", "f7")
        await at_rest(pilot)
        job = on_disk(app)
        assert (job.changes[0].made_at, job.changes[0].moves[0].path) == ("14:05", "rear.collar.now")
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        assert on_disk(app).changes == (), "undo takes the record back with the change"


async def test_without_a_run_before_nothing_is_to_be_judged(tmp_path: Path) -> None:
    app = app_with(tmp_path, replace(ridden_once(), runs=()), "trial")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        bench(app).go_to(("rear", "collar", "now"))
        await pilot.press("plus", "f7")
        await at_rest(pilot)
        assert on_disk(app).changes == ()
        await pilot.press("ctrl+l")
        await at_rest(pilot)
        assert isinstance(app.screen, RunsScreen)
        await pilot.press("f7")
        await at_rest(pilot)
        await pilot.press("ctrl+k")
        await at_rest(pilot)
        assert "This is the first run" in said(app)


async def test_a_second_change_before_the_run_is_warned_about_and_not_refused(tmp_path: Path) -> None:
    app = app_with(tmp_path, ridden_once(), "trial")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        bench(app).go_to(("rear", "collar", "now"))
        await pilot.press("plus", "f7")
        await at_rest(pilot)
        assert app.session is not None
        assert "changed_together" not in {one.code for one in app.session.assessment.findings}
        bench(app).go_to(("front", "fork_height_mm"))
        await pilot.press("plus", "f7")
        await at_rest(pilot)
        assert len(on_disk(app).changes) == 2
        assert "changed_together" in {one.code for one in app.session.assessment.findings}


async def test_a_list_that_is_not_finished_is_not_thrown_away_unasked(tmp_path: Path) -> None:
    app = app_with(tmp_path, ridden_once(), "trial")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        bench(app).go_to(("rear", "collar", "now"))
        await pilot.press("plus", "ctrl+a")
        await at_rest(pilot)
        before = on_disk(app).returning
        await pilot.press("ctrl+t", "plus", "ctrl+a")
        await at_rest(pilot)
        assert "The work list is not finished" in shown(app)
        await pilot.press("enter")
        await at_rest(pilot)
        assert on_disk(app).returning == before


async def test_after_escape_a_capital_letter_asks_as_well(tmp_path: Path) -> None:
    """For keyboards that hide the direct key: every small letter and digit has another command here."""
    app = app_with(tmp_path, ridden_once(), "runs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("escape")
        await at_rest(pilot)
        assert "Better or worse?" in shown(app)
        await pilot.press("V")
        await at_rest(pilot)
        assert "This is the first run" in said(app)
