"""Notes on a venue are a key away from the job, and saved without asking."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from complete_job import complete_job
from driving import USUAL, WIDE, app_on, on_disk, said, shown, typed, workspace_in
from judgement_jobs import FULL, codes, judged, put
from stanchion.job.model import Job
from stanchion.job.returning import returning, setup_of
from stanchion.job.venue import VenueNotes
from stanchion.store.venues import load_venues, save_notes, venues_file
from stanchion.ui.app import StanchionApp
from stanchion.ui.screens.side_by_side import CompareScreen
from stanchion.ui.screens.venue import VenueScreen
from timing import at_rest, eventually

VENUE = complete_job().job.venue


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_notes_are_written_as_they_are_typed_and_shown_to_the_next_job(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    app = app_on(tmp_path, complete_job(), "machine")
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+r")
        await eventually(pilot, lambda: isinstance(app.screen, VenueScreen))
        await at_rest(pilot)
        await typed(pilot, "patched tarmac\nbraking into 3\n320\n")
        await at_rest(pilot)
        await pilot.press("escape")
        await at_rest(pilot)
        notes = load_venues(app.workspace.places).of(VENUE)
        assert (notes.surface, notes.bumps, notes.altitude_m) == ("patched tarmac", "braking into 3", 320.0)
        await eventually(pilot, lambda: "VENUE NOTES" in shown(app))
        await pilot.press("ctrl+r")
        await eventually(pilot, lambda: "braking into 3" in shown(app))
        await eventually(pilot, lambda: "1:32.4" in shown(app))
        assert "RIDDEN BEST HERE" in shown(app)


async def test_the_setup_ridden_best_there_becomes_the_work_list(tmp_path: Path) -> None:
    best = complete_job()
    best = replace(best, runs=(replace(best.runs[0], best_lap_s=80.0),), changes=())
    now = replace(put(best, rear__rebound__now=9.0), runs=())
    workspace = workspace_in(tmp_path)
    workspace.create(best)
    workspace.close()
    app = app_on(tmp_path, now, "machine")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+r")
        await eventually(pilot, lambda: "1:20.0" in shown(app))
        await pilot.press("f7")
        await at_rest(pilot)
        assert app.shown.name_of == "worklist"
        assert "Shock rebound: 3 clicks out (from 9 to 12 clicks)" in shown(app)
        assert on_disk(app).returning is not None


async def with_a_better_run_elsewhere(tmp_path: Path, now: Job) -> StanchionApp:
    best = complete_job()
    best = replace(best, runs=(replace(best.runs[0], best_lap_s=80.0),), changes=())
    workspace = workspace_in(tmp_path)
    workspace.create(best)
    workspace.close()
    return app_on(tmp_path, now, "machine")


async def test_an_unfinished_work_list_is_replaced_only_after_asking(tmp_path: Path) -> None:
    job = replace(put(complete_job(), rear__rebound__now=9.0), runs=())
    listed = setup_of(put(job, rear__rebound__now=11.0))
    job = replace(job, returning=returning(job, listed, job="", run=None, title="two clicks out"))
    assert "work_list_open" in codes(judged(job)), "the job has a list that is not finished"
    app = await with_a_better_run_elsewhere(tmp_path, job)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+r")
        await eventually(pilot, lambda: "1:20.0" in shown(app))
        before = on_disk(app).returning
        await pilot.press("f7")
        await eventually(pilot, lambda: "The work list is not finished" in shown(app))
        await pilot.press("escape")
        await at_rest(pilot)
        assert isinstance(app.screen, VenueScreen)
        assert on_disk(app).returning == before
        await pilot.press("f7", "down", "enter")
        await at_rest(pilot)
        assert app.shown.name_of == "worklist"
        replaced = on_disk(app).returning
        assert replaced is not None
        assert replaced != before


async def test_the_present_setup_is_compared_with_the_best_run_by_one_key(tmp_path: Path) -> None:
    job = replace(put(complete_job(), rear__rebound__now=9.0), runs=(), returning=None)
    app = await with_a_better_run_elsewhere(tmp_path, job)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+r")
        await eventually(pilot, lambda: "1:20.0" in shown(app))
        await pilot.press("ctrl+k")
        await eventually(pilot, lambda: isinstance(app.screen, CompareScreen))
        await at_rest(pilot)
        (line,) = [one for one in shown(app).split("\n") if "Shock rebound" in one]
        assert "12" in line
        assert "9" in line
        await pilot.press("escape")
        await at_rest(pilot)
        assert isinstance(app.screen, VenueScreen)


async def test_without_a_venue_there_is_nothing_to_note(tmp_path: Path) -> None:
    app = app_on(tmp_path, put(complete_job(), job__venue=""), "machine")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+r")
        await at_rest(pilot)
        assert "Enter the venue first" in said(app)


async def test_a_spoilt_file_is_named_and_left_alone(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "machine")
    path = venues_file(app.workspace.places)
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text("venue = 3", "utf-8")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+r")
        await eventually(pilot, lambda: "Correct it or delete it" in " ".join(shown(app).split()))
        await typed(pilot, "wet\n")
        await pilot.press("escape")
        await at_rest(pilot)
        assert path.read_text("utf-8") == "venue = 3"


async def test_what_is_typed_is_undone(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "machine")
    places = app.workspace.places
    save_notes(VenueNotes(name=VENUE), VenueNotes(name=VENUE, surface="wet"), places)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+r")
        await eventually(pilot, lambda: isinstance(app.screen, VenueScreen))
        await at_rest(pilot)
        await typed(pilot, "dry\n")
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        await pilot.press("escape")
        await at_rest(pilot)
        assert load_venues(places).of(VENUE).surface == "wet"


@pytest.mark.parametrize(("has", "words"), [(None, "this job has none"), (0.0, "this job has 0"), (350.0, "")])
async def test_the_altitude_noted_is_offered_to_a_job_without_one(
    tmp_path: Path, has: float | None, words: str
) -> None:
    app = app_on(tmp_path, put(FULL, job__venue=VENUE, job__altitude_m=has), "machine")
    save_notes(VenueNotes(name=VENUE), VenueNotes(name=VENUE, surface="new", altitude_m=320.0), app.workspace.places)
    async with app.run_test(size=WIDE) as pilot:
        await eventually(pilot, lambda: "VENUE NOTES" in shown(app))
        assert (f"Altitude 320 m; {words}" in shown(app)) == bool(words)
