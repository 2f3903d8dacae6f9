"""Runs are logged while the rider talks, by keys alone."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from complete_job import complete_job
from driving import USUAL, WIDE, app_on, bench, on_disk, said, shown, typed
from stanchion.job.codec import loads
from stanchion.job.model import Job
from stanchion.store.samples import samples
from stanchion.ui.app import StanchionApp
from timing import at_rest


def after(count: int) -> Job:
    """A job after so many runs, each with a marker, a lap and a time of its own."""
    job = complete_job()
    runs = tuple(
        replace(job.runs[0], time=f"{9 + n}:00", front_marker_mm=100.0 + n, best_lap_s=90.0 - n / 10, said="")
        for n in range(count)
    )
    return replace(job, runs=runs)


def logging(folder: Path, job: Job) -> StanchionApp:
    app = app_on(folder, job, "runs")
    app.now = lambda: dt.datetime(2026, 5, 31, 14, 5)
    return app


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_a_run_is_logged_with_time_and_settings_filled_in(tmp_path: Path, size: tuple[int, int]) -> None:
    app = app_on(tmp_path, replace(complete_job(), runs=()), "runs")
    app.now = lambda: dt.datetime(2026, 5, 31, 14, 5)
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        assert "NO RUN YET" in shown(app)
        await pilot.press("f7")
        await at_rest(pilot)
        await typed(pilot, "112")
        await typed(pilot, "\n44\n1.32.4")
        job = on_disk(app)
        assert (job.runs[0].time, job.runs[0].front_marker_mm, job.runs[0].rear_marker_mm) == ("14:05", 112, 44)
        assert job.runs[0].best_lap_s == 92.4
        assert job.runs[0].front == job.front
        text = shown(app)
        assert "RUN 1, TRAVEL USED" in text
        assert "112 of" in text


async def test_what_was_changed_since_the_run_before_is_shown_in_words(tmp_path: Path) -> None:
    app = app_on(tmp_path, replace(complete_job(), runs=()), "runs")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        await pilot.press("f3")
        await at_rest(pilot)
        bench(app).go_to(("front", "left", "rebound", "now"))
        await pilot.press("plus", "plus")
        await pilot.press("ctrl+l")
        await at_rest(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        assert "Fork left rebound 2 clicks out" in shown(app)


async def test_a_logged_run_is_taken_back_with_undo(tmp_path: Path) -> None:
    app = app_on(tmp_path, replace(complete_job(), runs=()), "runs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        assert len(on_disk(app).runs) == 1
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        assert on_disk(app).runs == ()
        assert "NO RUN YET" in shown(app)


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_a_usual_run_is_some_forty_keys_of_the_number_pad_in_the_order_they_are_called_out(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    """Markers, lap, hot and cold pressures, air and ground; what was not read is passed over with Enter."""
    app = logging(tmp_path, after(2))
    keys = "112\n44\n1.32.4\n2.35\n1.8\n2.1\n1.5\n\n\n\n\n22\n34\n"
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        await pilot.press("f7")
        await typed(pilot, keys)
        await typed(pilot, "Dives, then pushes wide.")
        await at_rest(pilot)
        await pilot.press("escape")
        await at_rest(pilot)
        await typed(pilot, "8")
        run = on_disk(app).runs[2]
        assert (run.front_marker_mm, run.rear_marker_mm, run.best_lap_s) == (112, 44, 92.4)
        assert (run.front_hot_bar, run.rear_hot_bar, run.front_cold_bar, run.rear_cold_bar) == (2.35, 1.8, 2.1, 1.5)
        assert (run.front_hot_c, run.rear_hot_c, run.front_cold_c, run.rear_cold_c) == (None, None, None, None)
        assert (run.air_c, run.ground_c, run.laps) == (22, 34, 8)
        assert run.said == "Dives, then pushes wide."
        assert 1 + len(keys) <= 45  # 15 s at three keys a second


async def test_the_riders_words_and_the_numbers_never_wait_for_each_other(tmp_path: Path) -> None:
    app = logging(tmp_path, after(1))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f7")
        await typed(pilot, "abc")  # no number, and it stands in nobody's way
        await pilot.press("ctrl+a")
        await at_rest(pilot)
        await typed(pilot, "Hops\n")  # fits no complaint
        await at_rest(pilot)
        await typed(pilot, " under power.")
        await pilot.press("escape")
        await at_rest(pilot)
        assert bench(app).sheet.at == ("runs", 1, "front_marker_mm")
        await pilot.press("enter")
        await typed(pilot, "41")
        run = on_disk(app).runs[1]
        assert (run.said, run.front_marker_mm, run.rear_marker_mm) == ("Hops under power.", None, 41)
        assert app.session is not None
        assert app.session.drafts[("runs", 1, "front_marker_mm")].text == "abc"


async def test_only_what_the_markers_count_from_and_the_session_of_the_day_are_carried_from_the_run_before(
    tmp_path: Path,
) -> None:
    job = after(1)
    job = replace(job, runs=(replace(job.runs[0], marker_from="static"),))
    app = logging(tmp_path, job)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        run = on_disk(app).runs[1]
        assert (run.time, run.marker_from, run.front, run.rear) == ("14:05", "static", job.front, job.rear)
        own = replace(type(run)(), date=dt.date(2026, 5, 31), session="Practice 1", time="14:05", marker_from="static")
        assert run == replace(own, front=job.front, rear=job.rear)


async def test_twelve_runs_show_in_eighty_columns_the_latest_in_hand_and_the_older_a_key_away(tmp_path: Path) -> None:
    app = logging(tmp_path, after(12))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        text = shown(app)
        assert "RUN 12 OF 12" in text
        assert "›12" in text
        assert "1:28.9 █" in text
        await pilot.press("pagedown", "pagedown")
        await at_rest(pilot)
        assert "RUN 10 OF 12" in shown(app)
        assert "›10" in shown(app)
        for _ in range(9):
            await pilot.press("pagedown")
        await at_rest(pilot)
        text = shown(app)
        assert "RUN 1 OF 12" in text
        assert "› 1" in text
        assert "newer, PgUp" in text
        await pilot.press("f7")
        await typed(pilot, "99")
        assert on_disk(app).runs[12].front_marker_mm == 99
        assert "RUN 13 OF 13" in shown(app)


async def test_a_run_is_deleted_once_that_is_confirmed_and_undo_brings_it_back(tmp_path: Path) -> None:
    app = logging(tmp_path, after(3))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("pagedown", "ctrl+d")
        await at_rest(pilot)
        assert "Delete run 2, begun at 10:00?" in shown(app)
        await pilot.press("escape")
        await at_rest(pilot)
        assert len(on_disk(app).runs) == 3
        await pilot.press("ctrl+d")
        await at_rest(pilot)
        await pilot.press("down", "enter")
        await at_rest(pilot)
        assert [run.time for run in on_disk(app).runs] == ["9:00", "11:00"]
        await pilot.press("ctrl+z")
        assert [run.time for run in on_disk(app).runs] == ["9:00", "10:00", "11:00"]


async def test_a_run_logged_before_the_screw_was_turned_takes_the_settings_as_they_are_now(tmp_path: Path) -> None:
    app = logging(tmp_path, after(1))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f7", "f3")
        await at_rest(pilot)
        bench(app).go_to(("front", "left", "rebound", "now"))
        await pilot.press("plus", "ctrl+l")
        await at_rest(pilot)
        assert "CHANGED SINCE THIS RUN" in shown(app)
        job = on_disk(app)
        assert job.runs[1].front != job.front
        await pilot.press("ctrl+r")
        await at_rest(pilot)
        job = on_disk(app)
        assert job.runs[1].front == job.front
        assert job.runs[0].front != job.front
        assert "Fork left rebound 1 click out" in shown(app)
        await pilot.press("pagedown", "ctrl+r")
        await at_rest(pilot)
        assert "Run 1 is not the latest" in shown(app)
        await pilot.press("escape")
        assert on_disk(app).runs[0].front != job.front


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_beside_the_pressures_stands_what_to_set_cold(tmp_path: Path, size: tuple[int, int]) -> None:
    """The first run: (2.3 + 1.01325) (2.0 + 1.01325) / (2.3 + 1.01325) - 1.01325 = 2.00; wanted is 2.3, read is 2.3."""
    app = logging(tmp_path, after(1))
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        bench(app).go_to(("runs", 0, "front_hot_bar"))
        await at_rest(pilot)
        text = shown(app)
        assert "SET COLD FOR HOT WANTED, by run 1" in text
        assert "As cold as then           2.00" in text
        assert "Tyre at 30 °C" in text
        assert "sea-level air" in text
        await pilot.press("f7")
        bench(app).go_to(("runs", 1, "air_c"))
        await typed(pilot, "9")
        await at_rest(pilot)
        assert "Now at 9 °C               1.90" in shown(app)  # 3.01325 · 282.15 / 292.15 - 1.01325


@pytest.mark.parametrize(("size", "pages"), [((80, 24), 2), ((60, 18), 4), ((60, 16), 4), ((120, 40), 1)])
async def test_every_line_on_tyres_travel_and_changes_is_shown_page_by_page(
    tmp_path: Path, size: tuple[int, int], pages: int
) -> None:
    """The pressure to set for a cold tyre, and both ends' travel, whichever field is current."""
    soft = next(loads(one.data).job for one in samples() if one.name == "soft_springs")
    for field in ("front_hot_bar", "laps"):
        app = logging(tmp_path / field, soft)
        async with app.run_test(size=size) as pilot:
            await at_rest(pilot)
            bench(app).go_to(("runs", 1, field))
            await at_rest(pilot)
            seen = shown(app)
            for _ in range(pages - 1 if field == "front_hot_bar" or size[0] >= 80 else 0):
                await pilot.press("ctrl+down")
                await at_rest(pilot)
                seen += shown(app)
            wanted = {"FORK  118 of 120 mm, 2 left", "SHOCK 46 of 64 mm, 18 left"}
            if field == "front_hot_bar" or size[0] >= 80:
                wanted |= {"2.06", "~1.94", "~2.14", "~1.53"}  # as cold as then, at 10 and at 30 °C
            assert {words for words in wanted if words not in seen} == set()
            for _ in range(pages + 1):  # beyond the first page it stays
                await pilot.press("ctrl+up")
            await at_rest(pilot)
            assert ("^Down" in shown(app)) is (pages > 1)


async def test_a_narrow_screen_without_a_run_says_how_to_log_one(tmp_path: Path) -> None:
    app = app_on(tmp_path, replace(complete_job(), runs=()), "runs")
    async with app.run_test(size=(60, 18)) as pilot:
        await at_rest(pilot)
        assert "F7 logs one: the time and the settings" in shown(app)


async def test_paging_beyond_the_latest_and_the_first_run_says_so_and_stays(tmp_path: Path) -> None:
    app = logging(tmp_path, after(2))
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("pageup")
        await at_rest(pilot)
        assert "This is the latest run." in shown(app)
        await pilot.press("pagedown")
        await at_rest(pilot)
        assert bench(app).sheet.at == ("runs", 0, "front_marker_mm")
        await pilot.press("pagedown")
        await at_rest(pilot)
        assert "This is the first run." in shown(app)
        assert bench(app).sheet.at == ("runs", 0, "front_marker_mm")


async def test_an_older_run_takes_the_settings_of_the_job_only_when_that_is_meant(tmp_path: Path) -> None:
    job = after(2)
    stiffer = replace(job.front, fork_height_mm=1.0)
    app = logging(tmp_path, replace(job, front=stiffer))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("pagedown")
        for answer, ridden in ((["enter"], job.runs[0].front), (["down", "enter"], stiffer)):
            await pilot.press("ctrl+r")
            await at_rest(pilot)
            assert "Run 1 is not the latest" in shown(app)
            await pilot.press(*answer)
            await at_rest(pilot)
            assert on_disk(app).runs[0].front == ridden
        assert on_disk(app).runs[1].front == job.runs[1].front


async def test_the_last_run_deleted_leaves_a_sheet_that_says_how_to_log_one(tmp_path: Path) -> None:
    app = logging(tmp_path, after(1))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+d")
        await at_rest(pilot)
        await pilot.press("down", "enter")
        await at_rest(pilot)
        assert on_disk(app).runs == ()
        assert "NO RUN YET" in shown(app)


async def test_f7_pressed_once_too_often_logs_no_second_run_and_no_key_goes_astray(tmp_path: Path) -> None:
    app = logging(tmp_path, after(1))
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("f7", "f7")
        assert "Run 2 is still empty" in said(app)
        await typed(pilot, "112\n44\n")
        assert [run.front_marker_mm for run in on_disk(app).runs] == [100, 112]
        await pilot.press("f7")  # now there is
        await at_rest(pilot)
        assert len(on_disk(app).runs) == 3
        await pilot.press("f3")
        await at_rest(pilot)
        bench(app).go_to(("front", "fork_height_mm"))
        await pilot.press("plus", "ctrl+l")
        await at_rest(pilot)
        await pilot.press("f7")  # another setting makes another run of it, whatever was read of the one before
        await at_rest(pilot)
        assert len(on_disk(app).runs) == 4


async def test_a_lap_typed_without_its_colon_is_asked_about_and_not_taken_for_seconds(tmp_path: Path) -> None:
    app = logging(tmp_path, after(1))
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        bench(app).go_to(("runs", 0, "best_lap_s"))
        await typed(pilot, "131.9")
        await at_rest(pilot)
        assert "minutes or seconds? Type 1:31.9 (or 1.31.9) or, for seconds, 131.9 s" in shown(app)
        assert on_disk(app).runs[0].best_lap_s == 90.0
        await typed(pilot, " s")
        await at_rest(pilot)
        assert on_disk(app).runs[0].best_lap_s == 131.9
        assert "2:11.9" in shown(app)


async def test_a_run_undone_from_another_screen_is_not_drawn_when_the_window_changes(tmp_path: Path) -> None:
    app = logging(tmp_path, replace(complete_job(), runs=()))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        assert app.session is not None
        assert len(app.session.job.runs) == 1
        await pilot.press("f3")
        await at_rest(pilot)
        while app.session.job.runs:
            await pilot.press("ctrl+z")
        await pilot.resize_terminal(*WIDE)
        await at_rest(pilot)
        await pilot.press("ctrl+l")
        await at_rest(pilot)
        assert "NO RUN YET" in shown(app)


def long_after(minutes: int) -> dt.datetime:
    return dt.datetime(2026, 5, 31, 14, 5) + dt.timedelta(minutes=minutes)


async def test_a_run_after_a_change_asks_which_settings_it_was_ridden_with_and_one_key_answers(tmp_path: Path) -> None:
    """What is typed meanwhile goes into the run: the question takes no key."""
    app = logging(tmp_path, after(1))
    first = after(1).runs[0].front
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f3")
        await at_rest(pilot)
        bench(app).go_to(("front", "left", "rebound", "now"))
        await pilot.press("plus", "ctrl+l", "f7")
        await typed(pilot, "106")
        await at_rest(pilot)
        text = " ".join(shown(app).split())
        assert "Ridden as set now?" in text
        now = on_disk(app)
        assert (now.runs[1].front, now.runs[1].front_marker_mm) == (now.front, 106)
        assert now.runs[1].date == dt.date(2026, 5, 31)
        await pilot.press("ctrl+r")
        await at_rest(pilot)
        assert on_disk(app).runs[1].front == first
        assert "as before the last change (since then: Fork left rebound 1 click out" in said(app)
        assert "Ridden as set now?" not in shown(app)
        await pilot.press("ctrl+r")  # what run 1 was ridden with is the same, and not offered twice
        await at_rest(pilot)
        assert on_disk(app).runs[1].front == now.front
        await pilot.press("ctrl+z", "ctrl+z")
        await at_rest(pilot)
        assert on_disk(app).runs[1].front == now.front
        assert on_disk(app).front == now.front


async def test_a_run_that_began_before_the_last_change_asks_too_and_a_time_is_a_time(tmp_path: Path) -> None:
    app = logging(tmp_path, replace(after(0), found=None))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert app.session is not None
        app.session.clock = lambda: long_after(60)
        await pilot.press("f3")
        await at_rest(pilot)
        bench(app).go_to(("front", "left", "rebound", "now"))
        await pilot.press("plus")
        app.now = lambda: long_after(300)
        await pilot.press("ctrl+l", "f7")
        await at_rest(pilot)
        assert "Ridden as set now?" not in shown(app)  # it begins after the change
        bench(app).go_to(("runs", 0, "time"))
        await typed(pilot, "noon")
        await at_rest(pilot)
        assert "a time of day is typed as 09:40" in " ".join(shown(app).split())
        await pilot.press("ctrl+z")
        for text, kept in (("2561", "19:05"), ("9.40", "09:40"), ("0941", "09:41"), ("14:20", "14:20")):
            bench(app).go_to(("runs", 0, "laps"))
            bench(app).go_to(("runs", 0, "time"))
            await typed(pilot, text)
            await at_rest(pilot)
            assert on_disk(app).runs[0].time == kept
        assert "Ridden as set now? It began at 14:20" in " ".join(shown(app).split()), shown(app)
        await pilot.press("ctrl+r")
        await at_rest(pilot)
        assert on_disk(app).runs[0].front == after(0).front


async def test_the_session_asked_by_f8_goes_into_the_first_run_of_the_next_job(tmp_path: Path) -> None:
    job = after(1)
    app = logging(tmp_path, replace(job, runs=(replace(job.runs[0], session="Qualifying"),)))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f8")
        await at_rest(pilot)
        assert "Session Qualifying" in " ".join(shown(app).split())  # filled in from the last run
        await pilot.press("down", "down")
        await typed(pilot, "Race 1")
        await pilot.press("f8")
        await at_rest(pilot)
        assert on_disk(app).job.session == "Race 1"
        await pilot.press("ctrl+l", "f7")
        await at_rest(pilot)
        assert (on_disk(app).runs[0].session, on_disk(app).runs[0].date) == ("Race 1", dt.date(2026, 5, 31))
