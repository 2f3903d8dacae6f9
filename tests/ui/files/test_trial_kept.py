"""A trial in hand outlives quitting and other jobs, and every screen says that there is one."""

from __future__ import annotations

from pathlib import Path

from driving import TODAY, USUAL, a_job, all_taken, app_on, said, shown, typed, workspace_in
from stanchion.bench.workspace import Workspace
from stanchion.ui.app import StanchionApp
from stanchion.ui.core import PARTS
from timing import at_rest

HEIGHT = ("front", "fork_height_mm")


def again(tmp_path: Path) -> tuple[StanchionApp, Workspace]:
    workspace = workspace_in(tmp_path)
    return StanchionApp(workspace, today=lambda: TODAY), workspace


async def test_a_trial_is_kept_over_quitting_and_over_another_job_and_the_bar_says_so(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(("front.fork_height_mm", 4.0)), "trial")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert app.trial is not None
        app.jump(HEIGHT)
        await pilot.press("f3")
        await at_rest(pilot)
        assert "trial in hand" not in shown(app)
        await pilot.press("ctrl+t")
        await at_rest(pilot)
        app.shown.go_to(HEIGHT)
        await typed(pilot, "7")
        await pilot.press("enter")
        await all_taken(app)
        assert "tried, not saved" in shown(app)
        for part in PARTS:
            app.action_go(part)
            await at_rest(pilot)
            assert ("trial in hand, saved" in shown(app)) == (part != "trial"), part
        await pilot.press("f9")
        await at_rest(pilot)
        assert "trial in hand" in shown(app)
        await pilot.press("escape", "ctrl+q")
    app, workspace = again(tmp_path)
    first = workspace.preferences.last_place().job
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert "A trial is in hand: 1 change is tried and not part of the job yet." in said(app)
        assert "trial in hand" in shown(app)
        assert workspace.session is not None
        assert workspace.session.job.front.fork_height_mm == 4
        await pilot.press("f8", "f8")
        await at_rest(pilot)
        assert f"The trial on '{first}' stays with that job" in said(app)
        assert "trial in hand" not in shown(app)
        workspace.open(first)
        app.refresh_screens()
        await at_rest(pilot)
        assert "trial in hand" in shown(app)
        await pilot.press("ctrl+t", "f7")
        await all_taken(app)
        assert workspace.session is not None
        assert workspace.session.job.front.fork_height_mm == 7
        assert "trial in hand" not in shown(app)
        await pilot.press("ctrl+q")
    _, workspace = again(tmp_path)
    workspace.open(first)
    assert not workspace.trial_in_hand
    assert workspace.close()


async def test_commands_work_while_the_warnings_are_open_and_undo_says_what_it_has_done(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(("front.fork_height_mm", 4.0)), "front")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        app.jump(HEIGHT)
        await typed(pilot, "7")
        await pilot.press("enter", "f6")
        await all_taken(app)
        assert "Warnings, worst first" in shown(app)
        await pilot.press("f6")
        await all_taken(app)
        assert "Warnings, worst first" not in shown(app)
        await pilot.press("f6", "f5")
        await all_taken(app)
        assert app.current_mode == "sag"
        assert "Warnings, worst first" not in shown(app)
        await pilot.press("f6", "ctrl+z")
        await all_taken(app)
        assert app.session is not None
        assert app.session.job.front.fork_height_mm == 4
        assert "Undo: Fork height 7.0 mm → 4.0 mm (−3.0 mm)." in said(app)
        await pilot.press("f1", "ctrl+y")
        await all_taken(app)
        assert app.session.job.front.fork_height_mm == 7
        await pilot.press("f6", "escape", "z")
        await all_taken(app)
