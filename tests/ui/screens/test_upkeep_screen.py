"""What was done to the machine is written down, ticked and confirmed by keys alone."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from complete_job import complete_job
from driving import USUAL, WIDE, app_on, bench, on_disk, shown, typed, workspace_in
from stanchion.job.carry import identified
from stanchion.job.model import Job, Torque, Upkeep
from stanchion.ui.app import StanchionApp
from stanchion.ui.widgets.sheet import FormSheet
from timing import at_rest

SIZES = pytest.mark.parametrize("size", [USUAL, WIDE])


@SIZES
async def test_upkeep_is_one_key_away_from_a_field_in_hand(tmp_path: Path, size: tuple[int, int]) -> None:
    app = app_on(tmp_path, complete_job(), "front")
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        await typed(pilot, "9.5")
        await pilot.press("ctrl+u")
        await at_rest(pilot)
        assert bench(app).name_of == "upkeep"
        assert "HOURS SINCE" in shown(app)
        assert "11.5 h" in shown(app)
        await pilot.press("f3")
        await at_rest(pilot)
        await pilot.press("escape", "1")
        await at_rest(pilot)
        assert bench(app).name_of == "upkeep"


@SIZES
async def test_hours_services_chain_and_tyres_follow_one_another_with_enter(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    app = app_on(tmp_path, replace(complete_job(), upkeep=Upkeep()), "upkeep")
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        await typed(pilot, "42\n2.4.2026\n30\n\n\n2025-11-20\n22\n15\n44\n31\n1400\nslick\nrain\n2.3\n1.7\n")
        assert on_disk(app).upkeep == Upkeep(
            machine_hours=42.0,
            fork_oil=replace(Upkeep().fork_oil, on=dt.date(2026, 4, 2), at_hours=30.0),
            shock=replace(Upkeep().shock, on=dt.date(2025, 11, 20), at_hours=22.0),
            front_teeth=15.0,
            rear_teeth=44.0,
            axle_mark_mm=31.0,
            wheelbase_mm=1400.0,
            front_tyre="slick",
            rear_tyre="rain",
            front_wanted_bar=2.3,
            rear_wanted_bar=1.7,
        )
        assert "2.933" in shown(app)


@SIZES
async def test_torques_are_added_ticked_and_taken_away(tmp_path: Path, size: tuple[int, int]) -> None:
    named = (("axle nut", 100.0), ("top yoke", 23.0), ("pinch bolts", 21.0))
    rows = tuple(Torque(what=what, torque_nm=torque) for what, torque in named)
    app = app_on(tmp_path, replace(complete_job(), upkeep=Upkeep(torques=rows)), "upkeep")
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        await pilot.press("f7", "f7")
        await at_rest(pilot)
        assert [torque.done for torque in on_disk(app).upkeep.torques] == [True, True, False]
        assert "2 of 3 done" in shown(app)
        bench(app).go_to(("upkeep", "torques", 1, "what"))
        await pilot.press("ctrl+d")
        assert [torque.what for torque in on_disk(app).upkeep.torques] == ["axle nut", "pinch bolts"]
        await pilot.press("ctrl+z")
        assert [torque.what for torque in on_disk(app).upkeep.torques] == ["axle nut", "top yoke", "pinch bolts"]
        bench(app).go_to(("upkeep", "torques", 3, "what"))
        await typed(pilot, "sprocket nuts\n+\n45\nAV\n")
        assert on_disk(app).upkeep.torques[3] == Torque(what="sprocket nuts", torque_nm=45.0, done=True, initials="AV")
        assert bench(app).sheet.at == ("upkeep", "torques", 4, "what")


async def test_a_name_being_retyped_does_not_let_the_next_torque_move_up(tmp_path: Path) -> None:
    rows = (Torque(what="axle"), Torque(what="top yoke"))
    app = app_on(tmp_path, replace(complete_job(), upkeep=Upkeep(torques=rows)), "upkeep")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        bench(app).go_to(("upkeep", "torques", 0, "what"))
        await pilot.press("delete")
        await typed(pilot, "nut")
        assert [torque.what for torque in on_disk(app).upkeep.torques] == ["nut", "top yoke"]
        await pilot.press("up", "down", "delete", "down")
        assert [torque.what for torque in on_disk(app).upkeep.torques] == ["top yoke"]


def next_occasion(folder: Path) -> StanchionApp:
    """The program on a job carried forward from another."""
    workspace = workspace_in(folder)
    workspace.create(complete_job())
    workspace.flush()
    workspace.create(workspace.carried(workspace.open_name, dt.date(2026, 5, 31)))
    workspace.remember("upkeep")
    workspace.close()
    return StanchionApp(workspace_in(folder), today=lambda: dt.date(2026, 5, 31))


@SIZES
async def test_other_gearing_is_marked_beside_the_figures_until_measured_again(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    app = next_occasion(tmp_path)
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        bench(app).go_to(("upkeep", "front_teeth"))
        await typed(pilot, "16\n")
        await at_rest(pilot)
        assert "▲ Motion ratio: gearing" in shown(app)
        for key in ("f2", "f4"):
            await pilot.press(key)
            await at_rest(pilot)
            assert "▲ from before: gearing" in shown(app), key
        await pilot.press("ctrl+u")
        await at_rest(pilot)
        await pilot.press("ctrl+r")
        await at_rest(pilot)
        assert "What was measured again?" in shown(app)
        await pilot.press("down", "enter")
        await at_rest(pilot)
        assert "▲ Motion ratio" not in shown(app)
        assert "▲ Geometry: gearing" in shown(app)
        await pilot.press("f2")
        await at_rest(pilot)
        bench(app).go_to(("geometry", "wheelbase_mm"))
        await typed(pilot, "1400\n")
        await at_rest(pilot)
        assert "▲ from before" not in shown(app)  # the same value, entered anew, was measured again
        assert on_disk(app).upkeep.geometry_with.front_teeth == 16


async def test_done_and_initials_are_of_the_day_and_all_else_is_carried(tmp_path: Path) -> None:
    app = next_occasion(tmp_path)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert "0 of 3 done" in shown(app)
        assert "11.5 h" in shown(app)


async def test_nothing_stale_and_nothing_to_tick_is_said_in_words(tmp_path: Path) -> None:
    job: Job = replace(complete_job(), upkeep=Upkeep())
    app = app_on(tmp_path, job, "upkeep")
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        assert "No torque is listed yet" in shown(app)
        await pilot.press("ctrl+r", "ctrl+d")
        await at_rest(pilot)
        assert identified(on_disk(app), "") == job


@pytest.mark.parametrize(
    ("down", "ratio", "geometry"), [(0, False, False), (1, True, False), (2, False, True), (3, True, True)]
)
async def test_only_what_was_measured_again_is_taken_for_fresh(
    tmp_path: Path, down: int, ratio: bool, geometry: bool
) -> None:
    app = next_occasion(tmp_path)
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        bench(app).go_to(("upkeep", "front_teeth"))
        await typed(pilot, "16\n")
        await pilot.press("ctrl+r")
        await at_rest(pilot)
        await pilot.press(*["down"] * down, "enter")
        await at_rest(pilot)
        upkeep = on_disk(app).upkeep
        assert (upkeep.ratio_with.front_teeth == 16, upkeep.geometry_with.front_teeth == 16) == (ratio, geometry)


async def test_stale_geometry_alone_is_asked_about_alone(tmp_path: Path) -> None:
    job = complete_job()
    job = replace(job, rear=replace(job.rear, linkage=(), motion_ratio=None))
    app = app_on(tmp_path, replace(job, upkeep=replace(job.upkeep, front_teeth=14.0)), "upkeep")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+r")
        await at_rest(pilot)
        text = shown(app)
        assert "The geometry, and it is still as entered" in text
        assert "The motion ratio" not in text
        await pilot.press("down", "enter")
        await at_rest(pilot)
        assert on_disk(app).upkeep.geometry_with.front_teeth == 14


async def test_a_moved_axle_asks_about_the_swingarm_too(tmp_path: Path) -> None:
    job = complete_job()
    app = app_on(tmp_path, replace(job, upkeep=replace(job.upkeep, axle_mark_mm=35.0)), "upkeep")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        assert "▲ Swingarm: axle mark" in shown(app)
        await pilot.press("ctrl+r")
        await at_rest(pilot)
        assert "The swingarm, and it is still as entered" in shown(app)
        await pilot.press(*["down"] * 4, "enter")
        await at_rest(pilot)
        upkeep = on_disk(app).upkeep
        assert {one.axle_mark_mm for one in (upkeep.ratio_with, upkeep.geometry_with, upkeep.swingarm_with)} == {35.0}
        assert "▲ Swingarm" not in shown(app)


async def test_no_torque_is_deleted_from_another_field(tmp_path: Path) -> None:
    job = replace(complete_job(), upkeep=Upkeep(torques=(Torque(what="axle nut"),)))
    app = app_on(tmp_path, job, "upkeep")
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+d")
        await at_rest(pilot)
        assert "Go to the torque that is to be deleted first." in shown(app)
        assert len(on_disk(app).upkeep.torques) == 1


async def test_lines_that_go_before_the_last_of_them_was_brought_into_view_end_nothing(tmp_path: Path) -> None:
    """Over a slow line, the key that deletes a torque comes before the screen has scrolled to it."""
    torques = tuple(Torque(what=f"bolt {number}", torque_nm=20.0) for number in range(12))
    app = app_on(tmp_path, replace(complete_job(), upkeep=Upkeep(torques=torques)), "upkeep")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        sheet, session = app.screen.query_one(FormSheet), app.session
        assert session is not None
        sheet.action_edge(-1)
        assert sheet.at is not None
        assert "torques" in sheet.at
        assert not session.put(("upkeep", "torques"), ())
        sheet.refresh_lines()
        await at_rest(pilot)
        assert app.is_running
        assert not app.faulted
