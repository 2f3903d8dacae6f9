"""The list of jobs beyond filtering: what stands in the way is said, and nothing happens that was not answered."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest
from textual.pilot import Pilot

from driving import TODAY, USUAL, WIDE, a_job, app_on, on_disk, said, shown, typed, workspace_in
from stanchion.bench.workspace import Workspace
from stanchion.job.codec import dumps
from stanchion.job.edit import Edit, apply
from stanchion.ui.app import StanchionApp
from stanchion.ui.commands import machine_set_since
from stanchion.ui.screens.dialogs import CommandStrip, Question
from stanchion.ui.screens.jobs import JobsScreen
from stanchion.ui.screens.new_job import NewJobScreen
from timing import at_rest, eventually

NEWER = b"format = 99\n"


def jobs_in(folder: Path) -> list[str]:
    return sorted(path.name for path in (folder / "jobs").glob("*.toml"))


def words(app: StanchionApp) -> str:
    """What is shown, as running text."""
    return " ".join(shown(app).split())


async def on_the_list(pilot: Pilot[int]) -> None:
    await at_rest(pilot)
    await pilot.press("f9")
    await at_rest(pilot)


def two_jobs(folder: Path) -> StanchionApp:
    """The program with Grey Mule open and Red Heron in the list."""
    app_on(folder, a_job(("front.left.spring.rate_n_per_mm", 9.0), machine="Red Heron")).workspace.close()
    return app_on(folder, a_job(machine="Grey Mule"))


def copied(folder: Path) -> StanchionApp:
    """The program with a job open of which a sync tool left another copy."""
    app = app_on(folder, a_job(machine="Grey Mule"))
    (path,) = (folder / "jobs").glob("*.toml")
    (folder / "jobs" / f"{path.stem} (1).toml").write_bytes(path.read_bytes())
    return app


async def test_the_open_job_is_gone_back_to_where_it_was_left(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "rear")
    async with app.run_test(size=USUAL) as pilot:
        await on_the_list(pilot)
        before = app.session
        await pilot.press("enter")
        await at_rest(pilot)
        assert (app.current_mode, app.session) == ("rear", before)
        await on_the_list(pilot)
        await typed(pilot, "mule")
        await pilot.press("escape")  # takes the filter away first
        await at_rest(pilot)
        assert isinstance(app.screen, JobsScreen)
        await pilot.press("escape")
        await at_rest(pilot)
        assert (app.current_mode, app.session) == ("rear", before)


async def test_with_no_job_open_esc_on_the_list_shows_every_command(tmp_path: Path) -> None:
    app = app_on(tmp_path)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("escape")
        await at_rest(pilot)
        assert isinstance(app.screen, CommandStrip)


async def test_with_nothing_that_fits_the_filter_no_key_opens_or_deletes_anything(tmp_path: Path) -> None:
    app = two_jobs(tmp_path)
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await on_the_list(pilot)
        await typed(pilot, "nothing is called so")
        for key in ("down", "pageup", "enter", "ctrl+d", "ctrl+k", "f8", "ctrl+f"):
            await pilot.press(key)
            await at_rest(pilot)
            assert isinstance(app.screen, JobsScreen), key
        assert len(jobs_in(tmp_path)) == 2


async def test_a_sample_is_begun_from_an_empty_list(tmp_path: Path) -> None:
    app = app_on(tmp_path)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("down", "enter")
        await at_rest(pilot)
        assert app.session is not None
        assert app.session.job.job.sample
        assert jobs_in(tmp_path) == [app.workspace.open_name]


async def test_a_new_job_that_was_not_meant_is_left_with_esc(tmp_path: Path) -> None:
    app = app_on(tmp_path)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+n")
        await at_rest(pilot)
        await typed(pilot, "Grey")
        await pilot.press("escape")
        await at_rest(pilot)
        assert isinstance(app.screen, JobsScreen)
        assert jobs_in(tmp_path) == []


async def test_a_new_job_is_begun_at_once_but_not_with_a_date_that_cannot_be_read(tmp_path: Path) -> None:
    app = app_on(tmp_path)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+n")
        await at_rest(pilot)
        await typed(pilot, "Grey Mule")
        while app.focused is not None and isinstance(app.screen, NewJobScreen):
            sheet = app.screen.query_one("FormSheet")
            if sheet.at == ("job", "date"):  # type: ignore[attr-defined]
                break
            await pilot.press("down")
        await typed(pilot, "31.2.2026")
        await pilot.press("ctrl+n")
        await at_rest(pilot)
        assert isinstance(app.screen, NewJobScreen)
        for _ in "31.2.2026":
            await pilot.press("backspace")
        await typed(pilot, "1.2.2026")
        await pilot.press("ctrl+n")
        await at_rest(pilot)
        assert on_disk(app).job.date.isoformat() == "2026-02-01"


async def test_a_list_that_cannot_be_read_says_why(tmp_path: Path) -> None:
    (tmp_path / "jobs").write_bytes(b"a file where the folder should be")
    app = StanchionApp(workspace_in(tmp_path), today=lambda: TODAY)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert "The jobs folder cannot be read: there is a file where its folder should be. Move it away" in words(
            app
        ), shown(app)


async def test_edits_that_lie_elsewhere_are_told_beside_a_list_that_cannot_be_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("STANCHION_HOME", str(tmp_path))
    (tmp_path / "jobs").write_bytes(b"a file where the folder should be")
    workspace = workspace_in(tmp_path)
    workspace.create(a_job())
    assert not workspace.close()
    kept = workspace.library.unsaved()
    assert len(kept) == 1
    app = StanchionApp(Workspace.at(None), today=lambda: TODAY)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert "The jobs folder cannot be read" in words(app)
        assert "Edits that could not be saved last time" in words(app)
        assert "copy the file into the jobs folder to open it." in words(app)


# --- comparing, carrying forward ---------------------------------------------------------------------------------------


async def test_a_job_that_cannot_be_read_is_not_compared_and_the_reason_is_said(tmp_path: Path) -> None:
    app = two_jobs(tmp_path)
    heron = next((tmp_path / "jobs").glob("*heron*"))
    heron.write_bytes(heron.read_bytes()[:150])
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await on_the_list(pilot)
        await typed(pilot, "heron")
        await pilot.press("ctrl+k")
        await at_rest(pilot)
        assert "cut short" in said(app)
        assert isinstance(app.screen, JobsScreen)


async def test_without_an_open_job_comparing_says_what_to_do_first(tmp_path: Path) -> None:
    app_on(tmp_path).workspace.library.create(a_job(machine="Red Heron"))
    app = app_on(tmp_path)
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+k")
        await at_rest(pilot)
        assert "Open a job first" in said(app)


async def test_a_job_carried_forward_today_and_still_empty_is_not_carried_again(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("f8", "f8")
        await at_rest(pilot)
        assert len(jobs_in(tmp_path)) == 2
        await pilot.press("f8")
        await at_rest(pilot)
        assert len(jobs_in(tmp_path)) == 2
        assert "begun today from the one before and has no readings yet" in said(app)
        await pilot.press("f3", "f8")
        await typed(pilot, "142\n")  # it leads to the readings, which are what is wanted then
        assert app.session is not None
        assert app.session.job.sag.front.hanging_mm == (142.0,)


async def test_another_rider_does_not_get_the_weighings_of_the_last_one(tmp_path: Path) -> None:
    weighed = [(f"weights.{end}_{state}_kg", 130.0) for end in ("front", "rear") for state in ("alone", "aboard")]
    weighed += [("weights.front_aboard_kg", 166.0), ("weights.rear_aboard_kg", 184.0)]
    app = app_on(tmp_path, a_job(("job.rider", "A. Rider"), ("job.rider_mass_kg", 90.0), *weighed))
    cleared = "The scales with the rider aboard are cleared: weigh the new rider."
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await at_rest(pilot)
        first = app.workspace.open_name
        await pilot.press("f8", "f8")
        await at_rest(pilot)
        assert app.session is not None
        assert cleared not in said(app)
        assert app.session.job.weights.front_aboard_kg == 166.0  # the same rider
        app.jobs.carry_forward(first or "")
        await at_rest(pilot)
        await pilot.press("down", "down", "down")
        await typed(pilot, "N. N.\n")
        await pilot.press("f8", "f8")  # the weight is asked about first
        await at_rest(pilot)
        assert cleared in said(app)
        weights = app.session.job.weights
        assert (weights.front_aboard_kg, weights.rear_aboard_kg) == (None, None)
        assert (weights.front_alone_kg, weights.rear_alone_kg) == (130.0, 130.0)
        assert weights.rider_front_share_pct is None
        app.jobs.carry_forward(first or "")
        await at_rest(pilot)
        await pilot.press("down", "down", "down")
        await typed(pilot, "N. N.\n68\n")
        await pilot.press("f8")
        await at_rest(pilot)
        assert "the last rider's share on the front, 40 %" in said(app)
        assert app.session.job.weights.rider_front_share_pct == 40.0


async def test_the_weight_of_another_rider_is_asked_about_before_the_next_job_begins(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(("job.rider", "A. Rider"), ("job.rider_mass_kg", 76.0)))
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        first = app.workspace.open_name
        await pilot.press("f8", "down", "down", "down")
        await typed(pilot, "N. N.\n")
        assert "76.0 kg is the last rider's: type the new weight." in shown(app)  # as the cursor comes to it
        await pilot.press("up")
        assert "is the last rider's" not in shown(app)
        await pilot.press("f8")
        await at_rest(pilot)
        assert app.workspace.open_name == first
        assert "76.0 kg is the last rider's: type the new weight, or F8 keeps it." in shown(app)
        await typed(pilot, "68")  # it leads to the weight
        assert "is the last rider's" not in shown(app)
        await pilot.press("f8")
        await at_rest(pilot)
        assert app.session is not None
        assert (app.session.job.job.rider, app.session.job.job.rider_mass_kg) == ("N. N.", 68.0)
        app.jobs.carry_forward(first or "")
        await at_rest(pilot)
        await pilot.press("down", "down", "down")
        await typed(pilot, "a. rider\n")  # spelt otherwise
        await pilot.press("f8")
        await at_rest(pilot)
        assert app.session.job.job.rider == "a. rider"


async def test_a_damaged_job_is_not_carried_forward_and_the_open_one_stays(tmp_path: Path) -> None:
    app = two_jobs(tmp_path)
    heron = next((tmp_path / "jobs").glob("*heron*"))
    heron.write_bytes(heron.read_bytes()[:150])
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await on_the_list(pilot)
        before = app.workspace.open_name
        await typed(pilot, "heron")
        await pilot.press("f8")
        await at_rest(pilot)
        assert isinstance(app.screen, Question)
        assert "This job cannot be opened" in words(app)
        await pilot.press("enter")
        await at_rest(pilot)
        assert app.workspace.open_name == before
        assert len(jobs_in(tmp_path)) == 2


# --- another copy of a job ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("keys", "left", "opened"),
    [
        (["escape"], 2, "2026-05-31-grey-mule-b-t.toml"),
        (["down", "enter"], 2, "2026-05-31-grey-mule-b-t (1).toml"),
        (["down", "down", "enter", "down", "enter"], 1, "2026-05-31-grey-mule-b-t.toml"),
        (["down", "down", "enter", "enter"], 2, "2026-05-31-grey-mule-b-t.toml"),
    ],
)
async def test_a_copy_is_left_opened_or_moved_to_the_bin_as_it_is_answered(
    tmp_path: Path, keys: list[str], left: int, opened: str
) -> None:
    app = copied(tmp_path)
    async with app.run_test(size=USUAL) as pilot:
        await on_the_list(pilot)
        await pilot.press("down", "enter")
        await at_rest(pilot)
        assert isinstance(app.screen, Question)
        for key in keys:
            await pilot.press(key)
            await at_rest(pilot)
        assert (len(jobs_in(tmp_path)), app.workspace.open_name) == (left, opened)


async def test_a_copy_offered_for_merging_may_be_left_for_later(tmp_path: Path) -> None:
    app = copied(tmp_path)
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await eventually(pilot, lambda: bool(app.copies))  # they are looked for a moment after the start
        await at_rest(pilot)
        await pilot.press("escape", "g")
        await at_rest(pilot)
        assert isinstance(app.screen, Question)
        await pilot.press("enter")
        await at_rest(pilot)
        assert app.screen.id is None or not isinstance(app.screen, Question)
        assert len(jobs_in(tmp_path)) == 2


# --- what cannot be done is said ---------------------------------------------------------------------------------------


async def test_no_copy_is_made_of_a_job_that_a_later_version_wrote(tmp_path: Path) -> None:
    data = dumps(a_job()).replace(b"format = 2\n", NEWER, 1)
    (tmp_path / "jobs").mkdir()
    (tmp_path / "jobs" / "later.toml").write_bytes(data)
    app = StanchionApp(workspace_in(tmp_path), today=lambda: TODAY)
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        assert app.workspace.newer
        await pilot.press("escape", "v")
        await at_rest(pilot)
        assert "A later version wrote this job" in said(app)
        assert jobs_in(tmp_path) == ["later.toml"]
        assert (tmp_path / "jobs" / "later.toml").read_bytes() == data


async def test_a_sheet_that_cannot_be_written_is_said(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await at_rest(pilot)
        (tmp_path / "jobs" / "sheets").write_bytes(b"in the way")
        await pilot.press("ctrl+o")
        await at_rest(pilot)
        assert "sheets" in said(app)
        assert (tmp_path / "jobs" / "sheets").read_bytes() == b"in the way"


async def test_there_is_nothing_to_settle_in_a_file_nobody_else_touched(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("escape", "g")
        await at_rest(pilot)
        assert "there is nothing to settle" in said(app)


@pytest.mark.parametrize(("key", "screen"), [("ctrl+e", "earlier"), ("ctrl+u", "upkeep"), ("ctrl+w", "worklist")])
async def test_a_key_of_the_program_leads_on_from_the_filter_too(tmp_path: Path, key: str, screen: str) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        await on_the_list(pilot)
        await typed(pilot, "mule")
        await pilot.press(key)
        await at_rest(pilot)
        assert app.current_mode == screen


async def test_a_job_whose_machine_was_set_otherwise_since_says_so_when_it_is_opened(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(machine_set_since, "LOOK_AFTER_S", 0.01)
    older = a_job(("rear.rebound.now", 12.0))
    app_on(tmp_path, older).workspace.close()
    newer = replace(older, job=replace(older.job, rider="C. D.", date=older.job.date + dt.timedelta(7)))
    app = app_on(tmp_path, apply(newer, Edit(("rear", "rebound", "now"), 8.0)))
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await on_the_list(pilot)
        await typed(pilot, "B. T.")
        await pilot.press("enter")
        await eventually(pilot, lambda: "set up differently since: 2026-06-07, C. D." in said(app))
        assert "1 thing differs." in said(app)
        assert "choose this one under ^W" in said(app)
        await on_the_list(pilot)
        await typed(pilot, "C. D.")
        await pilot.press("enter")  # the newest one itself
        await at_rest(pilot)
        assert "set otherwise" not in said(app)
