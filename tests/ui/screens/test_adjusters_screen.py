"""All adjusters on one screen, driven by keys."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from air_jobs import AIR, air_job, with_air
from complete_job import complete_job
from driving import USUAL, a_job, app_on, bench, on_disk, said, shown, typed
from judgement_jobs import FULL, put, split
from stanchion.job.model import Clicker, Job, Leg, Run
from timing import at_rest

REBOUND = ("rear", "rebound", "now")
AT_BASE = put(
    split(FULL),
    front__left__compression=Clicker(now=12.0, total=24.0, base=11.0),
    front__right__compression=Clicker(now=12.0, total=24.0),
    rear__rebound=Clicker(now=10.0, total=12.0),
)


def ridden() -> Job:
    """Run 2 with the shock's rebound two clicks further in and half a second faster, and something else changed."""
    first = Run(
        best_lap_s=74.6,
        front_marker_mm=101.0,
        rear_marker_mm=41.0,
        said="Kicks.",
        front=replace(AT_BASE.front, fork_height_mm=4.0),  # a height first read later would be no change
        rear=AT_BASE.rear,
    )
    rear = replace(AT_BASE.rear, rebound=Clicker(now=8.0, total=12.0))
    second = replace(first, best_lap_s=74.1, rear_marker_mm=43.0, said="Calmer.", rear=rear)
    second = replace(second, front=replace(AT_BASE.front, fork_height_mm=5.0))
    third = replace(second, best_lap_s=74.0)
    job = put(AT_BASE, front__travel_mm=120.0, rear__stroke_mm=60.0)
    return replace(job, rear=replace(job.rear, rebound=rear.rebound), runs=(first, second, third))


async def test_the_shock_s_rebound_is_four_keys_away_and_all_others_follow_by_enter(tmp_path: Path) -> None:
    app = app_on(tmp_path, ridden(), "machine")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+x", "ctrl+end", "plus", "plus")
        await at_rest(pilot)
        assert on_disk(app).rear.rebound.now == 10.0
        assert "SHOCK REBOUND 10 of 12 clicks out from closed" in shown(app)
        assert "Since run 3: 2 clicks out, not ridden yet." in shown(app)
        await pilot.press("plus", "plus", "plus")
        await at_rest(pilot)
        assert on_disk(app).rear.rebound.now == 12.0
        assert "The adjuster is fully out: it goes no further." in said(app)
        await typed(pilot, "13")  # beyond the range it is said, as on the screen of the shock
        await at_rest(pilot)
        assert "FAULT Shock: rebound now 13 clicks, but the whole range is 12" in " ".join(shown(app).split())
        await pilot.press("ctrl+z", "ctrl+z")
        await at_rest(pilot)
        assert on_disk(app).rear.rebound.now == 8.0
        row = next(line for line in shown(app).splitlines() if line.startswith("›Rebound"))
        assert row.split() == ["›Rebound", "8", "12", "10", "clicks", "out", "8", "2", "clicks", "in", "+", "others"]
        assert shown(app).count(" run 1 ") == 1  # no base was set at the shock: its column is of the first run
        assert "Run 2: 2 clicks in, and 1 more change. Lap 1:14.6 → 1:14.1 " in shown(app)
        assert "(−0.5 s). Travel: fork 101 → 101 of 120, shock 41 → 43 of 60 mm." in shown(app)
        await pilot.press("escape", "5", "ctrl+home")  # both legs have lines of their own
        await typed(pilot, "3\n3.25\n")
        assert [leg.adjuster.now for leg in (on_disk(app).front.left, on_disk(app).front.leg("right"))] == [3.0, 3.25]
        assert bench(app).sheet.at == ("front", "fork_height_mm")
        await pilot.press("up", "plus", "down", "down", "minus", "enter", "minus")  # a quarter turn, and a click each
        await at_rest(pilot)
        right = on_disk(app).front.leg("right")
        assert (right.adjuster.now, on_disk(app).front.left.compression.now, right.compression.now) == (3.5, 11.0, 11.0)


async def test_the_base_is_typed_or_taken_from_what_is_set_now_and_is_nothing_that_was_turned(tmp_path: Path) -> None:
    app = app_on(tmp_path, ridden(), "adjusters")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        bench(app).go_to(("front", "left", "compression", "base"))
        await typed(pilot, "9")
        await at_rest(pilot)
        heads = [line.split()[3:5] for line in shown(app).splitlines() if line.startswith(("FORK  ", "SHOCK  "))]
        assert heads == [["base", "ridden"], ["run", "1"]]
        assert " (4) " in next(line for line in shown(app).splitlines() if "Fork height" in line)
        assert (
            "3 clicks out from base" in shown(app).partition("FORK LEFT COMPRESSION 12 of 24 clicks out from closed")[2]
        )
        await pilot.press("f7")
        await at_rest(pilot)
        job = on_disk(app)
        assert (job.front.left.compression.base, job.rear.rebound.base, job.rear.collar.base) == (12.0, 8.0, 2.0)
        await pilot.press("ctrl+z", "ctrl+l")
        await at_rest(pilot)
        assert on_disk(app).front.left.compression.base == 9.0
        assert "base" not in shown(app).partition("CHANGED SINCE THIS RUN")[2].partition("\n")[0]
        await pilot.press("ctrl+x")
        bench(app).go_to(REBOUND)
        await typed(pilot, "15")
        await pilot.press("f6", "enter")  # the field of the worst warning is on this screen, so it stays
        await at_rest(pilot)
        assert (bench(app).name_of, bench(app).sheet.at) == ("adjusters", REBOUND)


async def test_an_empty_job_says_what_to_enter_and_small_windows_show_it_too(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "adjusters")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        text = " ".join(shown(app).split())
        assert "FORK PRELOAD not recorded; turns in from fully out" in text
        assert "Type where each stands now" in text
        await pilot.press("f7")
        await at_rest(pilot)
        assert on_disk(app).front == a_job().front
        await pilot.resize_terminal(60, 16)
        await pilot.press("down", "down")
        await typed(pilot, "12\n3\n")
        await at_rest(pilot)
        assert on_disk(app).front.left.compression.now == 12.0
        assert on_disk(app).front.left.high_speed_compression.now == 3.0
        assert "FORK REBOUND not recorded" in shown(app)


async def test_wide_windows_list_where_the_adjuster_was_in_each_run(tmp_path: Path) -> None:
    app = app_on(tmp_path, ridden(), "adjusters")
    async with app.run_test(size=(120, 40)) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+end")
        await at_rest(pilot)
        lines = [line.split() for line in shown(app).splitlines()]
        assert ["1", "1:14.6", "10", "101", "41"] in lines
        assert ["3", "1:14.0", "8", "101", "43"] in lines


async def test_a_job_with_every_field_and_no_run_shows_its_bases(tmp_path: Path) -> None:
    app = app_on(tmp_path, replace(complete_job(), runs=(), found=None), "adjusters")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        rows = [line.split() for line in shown(app).splitlines()]
        assert ["Rebound", "left", "10", "24", "11", "clicks", "out"] in rows
        assert "ridden" not in shown(app)


async def test_pressures_of_an_air_fork_are_set_and_followed_from_run_to_run(tmp_path: Path) -> None:
    job = replace(air_job(replace(AIR, balance="pressure", balance_bar=6.0)), found=None)
    softer = with_air(job, pressure_bar=7.9).front
    job = replace(job, runs=(Run(best_lap_s=74.6, front=softer), Run(best_lap_s=74.1, front=job.front)))
    app = app_on(tmp_path, job, "adjusters")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        rows = [line.split() for line in shown(app).splitlines()]
        assert ["›Air", "left", "8.3", "13", "7.90", "bar", "8.30", "+0.40", "bar,", "−0.5", "s"] in rows
        assert ["Balance", "air", "left", "6", "6.00", "bar", "6.00", "–"] in rows
        assert "FORK LEFT AIR PRESSURE 8.30 bar; the highest allowed is 13.00 bar" in shown(app)
        await pilot.press("plus")
        await at_rest(pilot)
        assert on_disk(app).front.left.air.pressure_bar == 8.4
        assert "Since run 2: +0.10 bar, not ridden yet." in shown(app)
        assert "Run 2: +0.40 bar, −0.5 s" in shown(app)
        await pilot.press("ctrl+z", "f7")  # a base is of adjusters that are counted
        await at_rest(pilot)
        assert on_disk(app).front == job.front
        await pilot.press("right")
        await typed(pilot, "8\n")
        await at_rest(pilot)
        assert "FAULT Fork, left: 8.30 bar is above the highest allowed, 8.00 bar." in shown(app)


@pytest.mark.parametrize("size", [USUAL, (60, 16)])
@pytest.mark.parametrize("lengths", ["mm", "in"])
async def test_no_line_about_an_adjuster_is_cut(tmp_path: Path, size: tuple[int, int], lengths: str) -> None:
    """Split legs have the longest names; without a position the line says what it is to be counted from."""
    job = replace(ridden(), runs=())
    app = app_on(tmp_path, replace(job, front=replace(job.front, right=Leg())), "adjusters")
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        await pilot.press(*(("escape", "i") if lengths == "in" else ()))
        for path in (
            ("front", "right", "high_speed_compression", "now"),
            ("front", "left", "compression", "now"),
            ("front", "fork_height_mm"),
        ):
            bench(app).go_to(path)
            await at_rest(pilot)
            text = shown(app)
            about = text[text.index("FORK ") :].partition("CAUTION")[0]
            assert "\N{HORIZONTAL ELLIPSIS}" not in about
            assert not [line for line in text.splitlines() if line.strip() == "."]
            assert "logs" not in text or "what a change did." in " ".join(text.split())
