"""A file that somebody else changed while it was open: every answer to what is to become of it, and none yet."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual import events
from textual.pilot import Pilot

from driving import USUAL, WIDE, a_job, app_on, on_disk, said, shown, workspace_in
from stanchion.job.codec import dumps, loads
from stanchion.job.model import Job
from stanchion.job.spec import Rate
from stanchion.ui.app import StanchionApp
from stanchion.ui.screens.dialogs import Question
from timing import at_rest, eventually


def rate(job: Job) -> Rate | None:
    return job.front.left.spring.rate_n_per_mm


async def asked(pilot: Pilot[int], app: StanchionApp) -> Path:
    """The file was changed by somebody else, a value was put in here, and it is asked what to do."""
    await at_rest(pilot)
    path = app.workspace.places.jobs / app.workspace.open_name
    path.write_bytes(path.read_bytes().replace(b"Gravel Loop", b"Other Place"))
    app.post_message(events.Paste("9.5"))  # at once: the question may come after the first key
    await eventually(pilot, lambda: isinstance(app.screen, Question), lambda: shown(app))
    await at_rest(pilot)
    return path


async def settled(pilot: Pilot[int]) -> None:
    await at_rest(pilot)
    await pilot.app.workers.wait_for_complete()
    await at_rest(pilot)


async def test_not_now_leaves_both_and_the_question_comes_back_with_its_key(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        path = await asked(pilot, app)
        theirs = path.read_bytes()
        await pilot.press("enter")
        await settled(pilot)
        assert "CHANGED ON DISK" in shown(app)
        assert path.read_bytes() == theirs
        await pilot.press("escape", "g")
        await at_rest(pilot)
        assert isinstance(app.screen, Question)
        await pilot.press("escape")
        await settled(pilot)
        assert path.read_bytes() == theirs


async def test_mine_is_written_and_theirs_is_kept_as_an_earlier_state(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        path = await asked(pilot, app)
        await pilot.press("down", "enter")
        await settled(pilot)
        job = on_disk(app)
        assert (rate(job), job.job.venue) == (9.5, "Gravel Loop")
        kept = [loads(one.read_bytes()).job for one in app.workspace.places.history.rglob("*.toml")]
        assert "Other Place" in [one.job.venue for one in kept]
        assert path.name == app.workspace.open_name


async def test_a_copy_takes_mine_and_theirs_stays(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        path = await asked(pilot, app)
        theirs = path.read_bytes()
        await pilot.press("down", "down", "down", "down", "enter")
        await settled(pilot)
        assert app.workspace.open_name != path.name
        assert rate(on_disk(app)) == 9.5
        assert path.read_bytes() == theirs


async def test_theirs_that_cannot_be_read_is_said_and_mine_is_kept(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        path = await asked(pilot, app)
        path.write_bytes(path.read_bytes()[:120])
        await pilot.press("down", "down", "enter")
        await settled(pilot)
        assert "cut short" in said(app)
        assert app.session is not None
        assert rate(app.session.job) == 9.5


# --- beginning ---------------------------------------------------------------------------------------------------------


async def test_a_sample_named_on_the_command_line_is_begun_as_a_job_of_its_own(tmp_path: Path) -> None:
    app = StanchionApp(workspace_in(tmp_path), sample="well_set")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert app.session is not None
        assert app.session.job.job.sample
        assert app.current_mode == "front"


async def test_a_last_job_that_is_gone_is_said_on_the_list(tmp_path: Path) -> None:
    first = app_on(tmp_path, a_job())
    first.workspace.close()
    for path in (tmp_path / "jobs").glob("*.toml"):
        path.unlink()
    (tmp_path / "jobs" / "other.toml").write_bytes(dumps(a_job(machine="Red Heron")))
    app = app_on(tmp_path)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        text = " ".join(shown(app).split())
        assert "The last job could not be opened" in text
        assert "Red Heron" in text
        await pilot.press("down")
        await at_rest(pilot)
        assert "The last job" not in shown(app)


@pytest.mark.parametrize("letter", ["k", "i", "6", "7", "t"])
async def test_a_setting_that_cannot_be_remembered_holds_for_now_and_says_so(tmp_path: Path, letter: str) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await at_rest(pilot)
        before = (app.workspace.preferences.settings.units, app.theme)
        config = tmp_path / "config"
        for path in config.glob("*") if config.exists() else ():
            path.unlink()
        if config.exists():
            config.rmdir()
        config.write_bytes(b"in the way")
        await pilot.press("escape", letter)
        await at_rest(pilot)
        assert "The settings are not saved" in said(app)
        assert (app.workspace.preferences.settings.units, app.theme) != before


async def test_theirs_that_come_once_another_job_is_open_do_not_replace_that_job(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        before = app.workspace.current
        assert before is not None
        app.workspace.create(a_job(machine="Other"))
        app.saving._settled(before, a_job(machine="Theirs"), "")
        assert app.session is not None
        assert app.session.job.job.machine == "Other"
