"""From what the rider says to the next change in a few keys, and never to a setting where safety is in question."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest
from textual.widgets import OptionList

import make_samples
from driving import USUAL, WIDE, all_taken, app_on, burst, on_disk, said, shown, typed
from judgement_jobs import put
from stanchion.job.complaint import Complaint
from stanchion.job.model import Job, Run
from stanchion.job.runs import new_run
from stanchion.ui.screens.complaint_dialog import ComplaintDialog
from stanchion.ui.screens.what_to_try import WhatToTryScreen
from timing import at_rest, eventually

WELL = replace(make_samples.well_set(), runs=())
DIVES = Complaint(where="straight_braking", what="dives")
HARSH = Complaint(where="bumps", what="harsh")


def ridden(*complaints: Complaint, job: Job = WELL) -> Job:
    return replace(job, runs=(replace(new_run(job, "9:40"), complaints=complaints),))


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_from_a_logged_run_to_the_first_change_in_six_keys(tmp_path: Path, size: tuple[int, int]) -> None:
    app = app_on(tmp_path, WELL, "runs")
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        pressed = ["ctrl+a", "d", "i", "v", "enter"]
        await pilot.press(*pressed)
        await at_rest(pilot)
        assert len(pressed) <= 6
        assert isinstance(app.screen, WhatToTryScreen)
        text = shown(app)
        assert "Run 1: dives, braking straight" in text
        assert "1 Fork compression 2 clicks in" in text
        assert "harsh" in text  # what says that it went too far: the bar is on the first change
        assert on_disk(app).runs[0].complaints == (DIVES,)


async def test_keys_that_come_at_once_choose_the_same(tmp_path: Path) -> None:
    app = app_on(tmp_path, ridden(), "runs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        burst(app, "ctrl+a s q u enter")
        await all_taken(app)
        await at_rest(pilot)
        assert on_disk(app).runs[0].complaints == (Complaint(where="exit", what="squats"),)


async def test_enter_puts_a_change_on_the_work_list_with_its_complaint(tmp_path: Path) -> None:
    app = app_on(tmp_path, ridden(DIVES, HARSH), "runs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+s")
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        assert app.shown.name_of == "worklist"
        job = on_disk(app)
        assert [one.complaints for one in job.changes] == [(DIVES,)]
        assert job.returning is not None
        assert job.front.left.compression.now == 12.0  # until it is done and ticked


async def test_f7_puts_a_change_into_a_trial_and_leaves_the_job_alone(tmp_path: Path) -> None:
    app = app_on(tmp_path, ridden(DIVES), "runs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+s")
        await at_rest(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        assert app.shown.name_of == "trial"
        assert app.trial is not None
        (change,) = app.trial.changes
        assert (change.path, change.new) == (("front", "left", "compression", "now"), 10.0)
        assert on_disk(app).front.left.compression.now == 12.0
        await pilot.press("ctrl+l", "ctrl+s")
        await at_rest(pilot)
        await pilot.press("down", "f7")
        await at_rest(pilot)
        assert app.shown.name_of == "what_to_try"
        assert "one change at a time" in said(app)


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_what_helped_before_stands_beside_the_change(tmp_path: Path, size: tuple[int, int]) -> None:
    now = ridden(DIVES)
    firmer = put(now, front__left__compression__now=10.0)
    after = replace(new_run(firmer, "10:20"), verdict="better")
    before = replace(now, job=replace(now.job, date=dt.date(2026, 5, 2)), runs=(*now.runs, after))
    app = app_on(tmp_path, before, "runs")
    app.workspace.create(now)
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+s")
        await at_rest(pilot)
        await eventually(pilot, lambda: "Better 1 of 1 here" in " ".join(shown(app).split()))
        if size == WIDE:
            assert "better 1 of 1 here" in shown(app)


async def test_what_was_found_worse_here_says_so_and_stands_last(tmp_path: Path) -> None:
    now = ridden(DIVES)
    firmer = put(now, front__left__compression__now=10.0)
    after = replace(new_run(firmer, "10:20"), verdict="worse")
    before = replace(now, job=replace(now.job, date=dt.date(2026, 5, 2)), runs=(*now.runs, after))
    app = app_on(tmp_path, before, "runs")
    app.workspace.create(now)
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+s")
        await at_rest(pilot)
        await eventually(pilot, lambda: "worse 1 of 1 here" in shown(app))
        lines = [str(one.prompt) for one in app.shown.query_one("#try-list", OptionList).options]
        changes = [line for line in lines if line[:1].isdigit()]
        assert len(changes) > 1
        assert [("worse" in line) for line in changes] == [False] * (len(changes) - 1) + [True]


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_what_else_helped_before_is_listed_below_the_changes_suggested(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    now = ridden(DIVES)
    wider = put(now, front__fork_height_mm=(now.front.fork_height_mm or 0.0) + 3.0)
    after = replace(new_run(wider, "10:20"), verdict="better")
    before = replace(now, job=replace(now.job, date=dt.date(2026, 5, 2)), runs=(*now.runs, after))
    app = app_on(tmp_path, before, "runs")
    app.workspace.create(now)
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+s")
        await at_rest(pilot)
        await eventually(pilot, lambda: app.shown.query_one("#try-list", OptionList).option_count > 0)
        await pilot.press("end")
        await eventually(pilot, lambda: "ALSO HELPED BEFORE" in shown(app))
        (line,) = [one for one in shown(app).split("\n") if "better 1 of 1 here" in one]
        assert "ork height" in line


async def test_a_matter_of_safety_gives_an_inspection(tmp_path: Path) -> None:
    app = app_on(tmp_path, ridden(), "runs")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+a", *"bearing", "enter")
        await at_rest(pilot)
        text = shown(app)
        assert "INSPECT" in text
        assert "no setting is offered" in text
        assert "THEN CHANGE ONE" not in text
        await pilot.press("end", "enter")
        await at_rest(pilot)
        assert app.trial is None or not app.trial.tried


async def test_several_complaints_stand_together_and_one_can_be_taken_out(tmp_path: Path) -> None:
    app = app_on(tmp_path, ridden(DIVES), "runs")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+s", "ctrl+a")
        await at_rest(pilot)
        await typed(pilot, "harsh bumps\n")
        await at_rest(pilot)
        assert on_disk(app).runs[0].complaints == (DIVES, HARSH)
        assert "dives, braking straight; harsh, over bumps" in shown(app)
        await pilot.press("ctrl+d")
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        assert on_disk(app).runs[0].complaints == (HARSH,)
        await pilot.press("ctrl+d")
        await at_rest(pilot)
        assert on_disk(app).runs[0].complaints == ()
        await pilot.press("ctrl+d")
        assert "no complaint" in said(app)


async def test_enter_leads_to_the_reading_that_is_missing(tmp_path: Path) -> None:
    job = put(WELL, front__left__compression__now=None)
    app = app_on(tmp_path, ridden(DIVES, job=job), "runs")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+s")
        await at_rest(pilot)
        assert "not recorded" in shown(app)
        await pilot.press("end", "enter")
        await at_rest(pilot)
        assert app.shown.current_field == ("front", "left", "compression", "now")


async def test_without_a_run_nothing_is_asked(tmp_path: Path) -> None:
    app = app_on(tmp_path, WELL, "runs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+a")
        await at_rest(pilot)
        assert not isinstance(app.screen, ComplaintDialog)
        assert "No run is logged yet" in said(app)
        await pilot.press("ctrl+s")
        await at_rest(pilot)
        assert "No run is logged yet" in shown(app)


async def test_a_row_of_the_users_that_cannot_be_used_is_said_with_its_line(tmp_path: Path) -> None:
    (tmp_path / "config").mkdir(parents=True)
    (tmp_path / "config" / "riders_words.toml").write_text('[mine]\nwhat = "dives"\nwhere = ["pit"]\n', "utf-8")
    app = app_on(tmp_path, ridden(DIVES), "runs")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+s")
        await at_rest(pilot)
        assert "line 3, mine" in said(app)
        assert "1 Fork compression 2 clicks in" in shown(app)


async def test_the_complaints_stand_beside_the_run(tmp_path: Path) -> None:
    app = app_on(tmp_path, ridden(DIVES), "runs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert "dives, braking straight" in shown(app)
    assert Run().complaints == ()
