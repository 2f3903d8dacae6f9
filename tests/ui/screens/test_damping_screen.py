"""Frequency and damping: reached from Adjusters by keys, beside the job before and the best lap, nothing cut."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import make_samples
from driving import USUAL, WIDE, a_job, app_on, bench, on_disk, said, shown, typed, workspace_in
from judgement_jobs import put
from stanchion.job.model import Damping, Job, Run
from stanchion.ui.app import StanchionApp
from stanchion.ui.screens.damping import DampingScreen
from textual_private import drawn
from timing import at_rest

WELL_SET = make_samples.well_set()


def row(app: StanchionApp, name: str, which: int = 0) -> list[str]:
    """The cells of the row of that name: of the front (0), or of the rear (1)."""
    lines = [line for line in shown(app).splitlines() if line.strip().startswith(name)]
    return lines[which].strip().removeprefix(name).split()


def carried_on(folder: Path, before: Job, **changes: object) -> StanchionApp:
    """The program on a job that was carried from another and then changed."""
    workspace = workspace_in(folder)
    workspace.create(before)
    workspace.create(workspace.carried(workspace.open_name, make_samples.SATURDAY))
    assert workspace.session is not None
    for name, value in changes.items():
        assert not workspace.session.put(tuple(name.split("__")), value)
    workspace.remember("adjusters")
    workspace.close()
    return StanchionApp(workspace_in(folder), today=lambda: make_samples.SATURDAY)


async def test_both_ends_are_shown_with_what_they_rest_on(tmp_path: Path) -> None:
    app = app_on(tmp_path, WELL_SET, "adjusters")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+d")
        await at_rest(pilot)
        assert isinstance(app.screen, DampingScreen)
        assert row(app, "Wheel rate, N/mm", 1) == ["20.00"]
        assert row(app, "Sprung mass, kg", 1) == ["108.0"]
        assert row(app, "Frequency, Hz", 1) == ["2.17"]
        assert row(app, "Frequency front to rear") == ["1.12"]
        assert "By springs and masses alone" in shown(app)


async def test_a_stiffer_spring_is_compared_with_the_job_it_was_carried_from(tmp_path: Path) -> None:
    app = carried_on(tmp_path, WELL_SET, front__left__spring__rate_n_per_mm=10.5)
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        await pilot.press("escape", "d")
        await at_rest(pilot)
        assert isinstance(app.screen, DampingScreen)
        assert "2026-05-16" in shown(app)
        now, then = map(float, row(app, "Wheel rate, N/mm"))
        assert now > then
        text = " ".join(shown(app).split())
        # sqrt(27.8 / 25.4) by the wheel rates, the air's part of them unchanged
        assert f"front about {100 * ((now / then) ** 0.5 - 1):.0f} % more rebound damping" in text
        assert "rear the same rebound damping" in text


async def test_rebound_that_was_left_is_confirmed_by_a_key_and_not_confirmed_by_undo(tmp_path: Path) -> None:
    app = carried_on(tmp_path, WELL_SET, front__left__spring__rate_n_per_mm=12.0)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+d")
        await at_rest(pilot)
        assert "12.00 N/mm is fitted, in the job before 9.50 N/mm" in " ".join(shown(app).split())
        await pilot.press("f7")
        await at_rest(pilot)
        assert on_disk(app).damping == Damping(front_rates_n_per_mm=(12.0, 12.0))
        assert "Rebound of fork is right as it stands" in said(app)
        assert "rebound still stands" not in shown(app)
        await pilot.press("f7")
        await at_rest(pilot)
        assert "nothing to confirm" in said(app)
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        assert on_disk(app).damping == Damping()


async def test_without_earlier_springs_to_compare_with_it_says_so(tmp_path: Path) -> None:
    app = app_on(tmp_path, put(WELL_SET, front__left__spring__rate_n_per_mm=10.5), "damping")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        assert "No earlier run, state as found or job before has other springs to compare with" in said(app)


async def test_the_best_lap_has_a_column_where_it_was_set_otherwise(tmp_path: Path) -> None:
    softer = put(WELL_SET, rear__spring__rate_n_per_mm=70.0)
    runs = (
        Run(best_lap_s=61.0, front=WELL_SET.front, rear=WELL_SET.rear),
        Run(best_lap_s=60.2, front=softer.front, rear=softer.rear),
    )
    for job, there in ((replace(WELL_SET, runs=runs), True), (replace(softer, runs=runs), False)):
        app = app_on(tmp_path / str(there), job, "damping")
        async with app.run_test(size=WIDE) as pilot:
            await at_rest(pilot)
            assert ("run 2" in shown(app)) is there
            if there:
                assert "in run 2, the best lap" in shown(app)
                assert float(row(app, "Wheel rate, N/mm", 1)[0]) == 20.0


async def test_it_says_what_is_missing_and_follows_what_is_entered(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "adjusters")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+d")
        await at_rest(pilot)
        assert "Front: needs left fork leg" in shown(app)
        await pilot.press("f2")
        await at_rest(pilot)
        bench(app).go_to(("weights", "rear_aboard_kg"))
        await typed(pilot, "123\n")
        bench(app).go_to(("weights", "rear_unsprung_kg"))
        await typed(pilot, "15\n")
        await at_rest(pilot)
        await pilot.press("ctrl+x", "ctrl+d")
        await at_rest(pilot)
        assert row(app, "Sprung mass, kg", 1) == ["108.0"]


async def test_three_columns_fit_the_smallest_window(tmp_path: Path) -> None:
    softer = put(WELL_SET, rear__spring__rate_n_per_mm=70.0)
    runs = (Run(best_lap_s=60.2, front=softer.front, rear=softer.rear),)
    app = carried_on(tmp_path, WELL_SET)
    async with app.run_test(size=(60, 16)) as pilot:
        await at_rest(pilot)
        assert app.session is not None
        app.session.put(("runs",), runs)
        await pilot.press("ctrl+d")
        await at_rest(pilot)
        lines = ["".join(segment.text for segment in strip).rstrip() for strip in drawn(app)]
        head = next(line for line in lines if "FRONT, AT RIDER SAG" in line)
        assert head.split()[-4:] == ["now", "2026-05-16", "run", "1"]


async def test_the_list_of_springs_says_what_rebound_the_current_ones_want(tmp_path: Path) -> None:
    app = app_on(tmp_path, make_samples.soft_springs(), "springs")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        await pilot.press("home")
        await at_rest(pilot)
        assert "10.25" in shown(app)
        assert "about 12 % more rebound damping" in shown(app)  # sqrt(10.25 / 8) = 1.132 but for the fork's air
        await pilot.press("end")  # the springs fitted now
        await at_rest(pilot)
        assert "rebound damping" not in shown(app)
