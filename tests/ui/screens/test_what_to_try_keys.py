"""The keys of what to try: numbers, words of what before words of where, and what a line without a field says."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import make_samples
from driving import USUAL, app_on, on_disk, said, shown
from judgement_jobs import put
from stanchion.job.complaint import Complaint
from stanchion.job.model import Job
from stanchion.job.runs import new_run
from timing import at_rest

WELL = replace(make_samples.well_set(), runs=())
DIVES = Complaint(where="straight_braking", what="dives")


def ridden(*complaints: Complaint, job: Job = WELL) -> Job:
    return replace(job, runs=(replace(new_run(job, "9:40"), complaints=complaints),))


async def test_what_the_machine_does_is_found_before_where(tmp_path: Path) -> None:
    app = app_on(tmp_path, ridden(), "runs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+a", *"turn", "enter")
        await at_rest(pilot)
        assert [one.what for one in on_disk(app).runs[0].complaints] == ["will_not_turn"]


async def test_the_bar_begins_at_the_first_change_with_the_checks_still_shown(tmp_path: Path) -> None:
    app = app_on(tmp_path, ridden(DIVES), "runs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+s")
        await at_rest(pilot)
        text = shown(app)
        assert "CHECK FIRST" in text
        assert "1 Fork compression 2 clicks in" in text
        assert "Slows the dive" in text
        await pilot.press("2")
        await at_rest(pilot)
        assert "Holds the fork up" in shown(app)


async def test_enter_on_a_line_without_a_field_says_why(tmp_path: Path) -> None:
    job = put(WELL, front__left__adjuster__counting="none")
    app = app_on(tmp_path, ridden(DIVES, job=job), "runs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+s", "end", "enter")
        await at_rest(pilot)
        assert app.shown.name_of == "what_to_try"
        assert "leave springs and preload" in said(app)


async def test_without_a_complaint_it_says_the_key_that_enters_one(tmp_path: Path) -> None:
    app = app_on(tmp_path, ridden(), "runs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+s")
        await at_rest(pilot)
        assert "^A enters what the rider says." in shown(app)
        assert "Enter: work list" not in shown(app)


async def test_a_machine_without_settings_says_to_enter_them(tmp_path: Path) -> None:
    app = app_on(tmp_path, ridden(DIVES, job=Job()), "runs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+s")
        await at_rest(pilot)
        assert "No setting is recorded" in shown(app)
