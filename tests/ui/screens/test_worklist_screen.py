"""The machine is brought back to an earlier setup, by keys alone, and an interrupted list is found again."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from complete_job import complete_job
from driving import USUAL, WIDE, app_on, bench, burst, on_disk, said, shown, typed, workspace_in
from judgement_jobs import put
from stanchion.job.model import Job
from stanchion.ui.app import StanchionApp
from stanchion.ui.screens.worklist import WorkListScreen
from timing import at_rest, eventually

NOW = replace(complete_job(), runs=(), found=None)
THEN = put(
    NOW,
    job__date=dt.date(2026, 5, 1),
    job__venue="Old Ring (invented)",
    front__left__adjuster__now=6.0,
    front__fork_height_mm=4.0,
    rear__rebound__now=9.0,
)


def app_with(folder: Path, now: Job = NOW, screen: str = "front") -> StanchionApp:
    workspace = workspace_in(folder)
    workspace.create(THEN)
    workspace.create(replace(THEN, job=replace(THEN.job, machine="Another machine", date=dt.date(2026, 5, 20))))
    workspace.close()
    return app_on(folder, now, screen)


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_from_a_field_in_hand_to_the_last_tick(tmp_path: Path, size: tuple[int, int]) -> None:
    app = app_with(tmp_path)
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        bench(app).go_to(("front", "left", "rebound", "now"))
        await pilot.press("ctrl+w")
        await at_rest(pilot)
        assert isinstance(app.screen, WorkListScreen)
        text = shown(app)
        assert text.index("This machine") < text.index("Lantern 600 (inv", text.index("This machine"))
        assert text.index("Other machines") < text.index("Another machine")
        await pilot.press("enter")
        await at_rest(pilot)
        assert "3 differ" in shown(app)
        await pilot.press("enter")
        await at_rest(pilot)
        text = shown(app)
        assert "0 of 3 done" in text
        assert "[ ] Fork height: tube edge 2.0 mm lower at top yoke (from 6.0 to 4.0 mm)" in text
        assert "[ ] Left preload: 2 turns in (from 4 to 6 turns)" in text
        assert "[ ] Shock rebound: 3 clicks in (from 12 to 9 clicks)" in text
        assert "After raising stanchions" not in text  # the tubes go down
        await pilot.press("enter")
        await at_rest(pilot)
        assert "[x] Fork height" in shown(app)
        assert on_disk(app).front.fork_height_mm == 4.0
        await pilot.press("space")
        await at_rest(pilot)
        assert on_disk(app).front.left.adjuster.now == 6.0
        await pilot.press("space")
        await at_rest(pilot)
        text = shown(app)
        assert "3 of 3 done" in text
        assert "Measure the front sags again" in text
        await pilot.press("enter", "space")  # a key too many takes nothing back
        assert on_disk(app).rear.rebound.now == 9.0
        await pilot.press("f7")
        await at_rest(pilot)
        assert on_disk(app).returning is None
        assert "which setup is" in shown(app)
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        assert "3 of 3 done" in shown(app)


async def test_a_list_of_which_some_is_done_is_put_away_only_once_that_is_confirmed(tmp_path: Path) -> None:
    app = app_with(tmp_path)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+w")
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        await pilot.press("space")
        await at_rest(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        text = " ".join(shown(app).split())
        assert "2 of 3 not done" in text
        assert "Left preload" in text
        await pilot.press("enter")
        await at_rest(pilot)
        assert on_disk(app).returning is not None
        await pilot.press("f7")
        await at_rest(pilot)
        await pilot.press("down", "enter")
        await at_rest(pilot)
        assert on_disk(app).returning is None


async def test_a_tick_is_taken_back_with_space_and_with_undo(tmp_path: Path) -> None:
    app = app_with(tmp_path)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("escape", "3")
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        await pilot.press("space")
        await at_rest(pilot)
        assert on_disk(app).front.fork_height_mm == 4.0
        await pilot.press("up", "space")
        await at_rest(pilot)
        assert on_disk(app).front.fork_height_mm == 6.0
        assert "0 of 3 done" in shown(app)
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        assert on_disk(app).front.fork_height_mm == 4.0
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        assert on_disk(app).front.fork_height_mm == 6.0


async def test_a_list_that_was_interrupted_is_there_with_what_is_left_even_without_the_other_file(
    tmp_path: Path,
) -> None:
    app = app_with(tmp_path, screen="worklist")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        await pilot.press("space")
        await at_rest(pilot)
        name = app.workspace.open_name
        on_disk(app)
    for path in (tmp_path / "jobs").glob("*.toml"):
        if path.name != name:
            path.unlink()
    again = StanchionApp(workspace_in(tmp_path))
    async with again.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        text = shown(again)
        assert "1 of 3 done   BACK TO 2026-05-01 Old Ring (invented), as the job stands" in text
        assert "[x] Fork height" in text
        assert "[ ] Left preload" in text


async def test_a_value_typed_on_its_own_screen_ticks_the_item(tmp_path: Path) -> None:
    app = app_with(tmp_path, screen="worklist")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        await pilot.press("f3")
        await at_rest(pilot)
        bench(app).go_to(("front", "left", "adjuster", "now"))
        await pilot.press("6", "ctrl+w")
        await at_rest(pilot)
        assert "[x] Left preload" in shown(app)


async def test_runs_are_offered_the_latest_first_and_the_best_lap_is_named(tmp_path: Path) -> None:
    first, second = complete_job().runs
    slower = replace(second, best_lap_s=93.0)
    app = app_on(tmp_path, replace(NOW, runs=(first, slower), front=slower.front or NOW.front), "worklist")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        text = shown(app)
        assert text.index("run 2, 11:05, best 1:33.0 (the latest)") < text.index("run 1, 10:20, best 1:32.4")
        assert "(the one before, best lap of all)" in text
        await pilot.press("enter")
        await at_rest(pilot)
        assert app.session is not None
        assert app.session.job.returning is None  # it is set as on that run: nothing to do
        await pilot.press("down", "enter")
        await at_rest(pilot)
        assert "Fork height: tube edge 1.0 mm higher at top yoke (from 5.0 to 6.0 mm)" in shown(app)


async def test_a_new_list_is_begun_at_its_first_item_and_named_by_what_stays_true(tmp_path: Path) -> None:
    """Chosen from far down among what is offered, it is still worked through in the order of the work."""
    first = complete_job().runs[0]
    again = replace(first, time="12:00", best_lap_s=99.0)
    runs = (replace(first, best_lap_s=90.0), *[again] * 6)
    now = put(NOW, front__left__air_gap_mm=99.0, front__fork_height_mm=1.0, rear__rebound__now=1.0)
    app = app_on(tmp_path, replace(now, runs=runs), "worklist")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press(*["down"] * 6, "enter")
        await at_rest(pilot)
        text = shown(app)
        assert "BACK TO run 1, 10:20, best 1:30.0" in text
        assert "best lap of all" not in text
        assert isinstance(app.screen, WorkListScreen)
        item = app.screen._current_line()
        assert getattr(item, "kind", "") == "air_gap", item


async def test_the_setup_of_another_machine_is_asked_about_first(tmp_path: Path) -> None:
    app = app_with(tmp_path, screen="worklist")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("down", "enter")
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        assert "This is the setup of another machine" in shown(app)
        assert app.session is not None
        await pilot.press("enter")
        await at_rest(pilot)
        assert app.session.job.returning is None
        await pilot.press("enter")
        await at_rest(pilot)
        await pilot.press("down", "enter")
        await at_rest(pilot)
        assert "BACK TO Another machine, 2026-05-20" in shown(app)


async def test_what_this_machine_was_set_to_at_this_venue_is_offered_first_the_newest_on_top(tmp_path: Path) -> None:
    workspace = workspace_in(tmp_path)
    for day, venue in ((3, "Here"), (5, "HERE "), (9, "Elsewhere")):
        workspace.create(replace(THEN, job=replace(THEN.job, venue=venue, date=dt.date(2026, 4, day))))
    workspace.create(replace(THEN, job=replace(THEN.job, venue="Here", machine="Another", date=dt.date(2026, 4, 20))))
    workspace.close()
    app = app_on(tmp_path, replace(NOW, job=replace(NOW.job, venue="Here")), "worklist")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        offered = shown(app)
        here, elsewhere, others = "This machine at this venue", "This machine elsewhere", "Other machines"
        lines = (here, "2026-04-05", "2026-04-03", elsewhere, "2026-04-09", others, "2026-04-20")
        assert sorted(lines, key=offered.index) == list(lines)


async def test_letters_narrow_the_jobs_offered(tmp_path: Path) -> None:
    app = app_with(tmp_path, screen="worklist")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("a", "n", "o", "t")
        await at_rest(pilot)
        text = shown(app)
        assert "Another machine" in text
        assert "Old Ring (inv" in text
        assert text.count("2026-05-01") == 0
        await pilot.press("backspace", "backspace", "backspace", "backspace")
        await at_rest(pilot)
        assert shown(app).count("2026-05-01") == 1
        await pilot.press("a", "n", "o", "t")
        assert app.session is not None
        other = next(
            row.name for row in app.workspace.library.rows(judged=False) if row.name != app.workspace.open_name
        )
        app.jobs.open(other)
        await pilot.press("ctrl+w")
        await at_rest(pilot)
        assert "Filter" not in shown(app)
        assert "none found" not in shown(app)


async def test_what_cannot_be_set_as_it_was_cannot_be_ticked_and_says_what_to_do(tmp_path: Path) -> None:
    now = put(NOW, rear__rebound__total=24.0)
    app = app_on(tmp_path, now, "worklist")
    workspace = workspace_in(tmp_path)
    workspace.create(put(THEN, rear__rebound__now=30.0, rear__rebound__total=32.0))
    workspace.close()
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        assert "[!] Shock rebound: 18 clicks out" in shown(app)
        await pilot.press("down", "down", "space")
        await at_rest(pilot)
        assert "The range recorded ends at 24 clicks" in shown(app)
        assert on_disk(app).rear.rebound.now == 12.0


async def test_at_80_columns_the_foot_says_how_an_item_is_ticked(tmp_path: Path) -> None:
    app = app_with(tmp_path)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+w")
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        foot = shown(app).splitlines()[-1]
        assert "Space or Enter ticks" in foot
        assert "Esc all keys" in foot


async def test_enter_on_what_is_done_takes_nothing_back_and_says_which_key_does(tmp_path: Path) -> None:
    app = app_with(tmp_path, screen="worklist")
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        await pilot.press("space", "up", "enter")
        await at_rest(pilot)
        assert "Space undoes it" in said(app)
        assert on_disk(app).front.fork_height_mm == 4.0


async def test_a_filter_takes_blanks_and_another_job_s_runs_are_left_with_backspace(tmp_path: Path) -> None:
    app = app_with(tmp_path, screen="worklist")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("space", "backspace")  # there is nothing to part or to take away yet
        await typed(pilot, "another machine")
        await at_rest(pilot)
        text = shown(app)
        assert "Filter: another machine" in text
        assert "2026-05-20" in text
        await pilot.press("enter")
        await at_rest(pilot)
        assert "as the job stands" in shown(app)
        await typed(pilot, "xyz")  # runs of one job are not filtered
        await pilot.press("backspace")
        await at_rest(pilot)
        assert "Other machines" in shown(app)


async def test_a_filter_that_comes_all_at_once_has_its_blanks_and_letters_in_order(tmp_path: Path) -> None:
    app = app_with(tmp_path, screen="worklist")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        burst(app, "a n o t h e r x backspace space m a c h i n e")
        await eventually(pilot, lambda: "Filter: another machine" in shown(app), lambda: shown(app))


async def test_a_job_that_was_damaged_meanwhile_is_not_returned_to_and_says_why(tmp_path: Path) -> None:
    app = app_with(tmp_path, screen="worklist")
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await at_rest(pilot)
        for path in (tmp_path / "jobs").glob("*.toml"):
            if path.name != app.workspace.open_name:
                path.write_bytes(path.read_bytes()[:100])
        await pilot.press("enter")
        await at_rest(pilot)
        assert "cut short" in said(app)
        assert "which setup is the machine to return to" in shown(app)


async def test_a_setup_that_is_as_the_machine_stands_makes_no_list(tmp_path: Path) -> None:
    workspace = workspace_in(tmp_path)
    workspace.create(replace(NOW, job=replace(NOW.job, date=dt.date(2026, 5, 1))))
    workspace.close()
    app = app_on(tmp_path, NOW, "worklist")
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        assert "nothing differs" in shown(app)
        await pilot.press("enter")
        await at_rest(pilot)
        assert "Nothing differs from" in said(app)
        assert on_disk(app).returning is None


async def test_what_was_not_recorded_then_is_said_where_nothing_else_differs(tmp_path: Path) -> None:
    workspace = workspace_in(tmp_path)
    partial = put(NOW, front__left__compression__now=None)
    workspace.create(replace(partial, job=replace(NOW.job, date=dt.date(2026, 5, 1))))
    workspace.close()
    app = app_on(tmp_path, NOW, "worklist")
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        assert "nothing differs, 1 not recorded then" in shown(app)
        await pilot.press("enter")
        await at_rest(pilot)
        assert "Not recorded then, so left as it is: fork, left: compression now." in " ".join(said(app).split())
        assert "nothing to do" not in said(app)


async def test_what_was_not_recorded_then_is_named_at_the_end(tmp_path: Path) -> None:
    workspace = workspace_in(tmp_path)
    workspace.create(put(THEN, front__left__compression__now=None, rear__low_speed_compression__now=None))
    workspace.close()
    app = app_on(tmp_path, NOW, "worklist")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        assert "not recorded" in " ".join(shown(app).split()).lower()


async def test_jobs_that_cannot_be_listed_leave_the_runs_of_this_one_to_return_to(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job())
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await at_rest(pilot)
        app.workspace.library.listing.folder = tmp_path / "jobs" / app.workspace.open_name  # no folder at all
        await pilot.press("ctrl+w")
        await at_rest(pilot)
        assert "The jobs folder" in said(app)
        assert "run 2, " in shown(app)
