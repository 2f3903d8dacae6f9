"""Keys where there is nothing for them to do: no job open, a job that must not be written, nothing to take back."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from complete_job import complete_job
from driving import TODAY, USUAL, WIDE, app_on, shown, workspace_in
from judgement_jobs import put
from stanchion.job.codec import dumps
from stanchion.job.model import Job, Torque
from stanchion.planning.work_targets import begin, targets_of
from stanchion.ui.app import StanchionApp
from stanchion.ui.keys import KEYS
from stanchion.ui.screens.dialogs import Question
from stanchion.ui.screens.jobs import JobsScreen
from timing import at_rest

REFUSED = "READ ONLY"


async def test_with_no_job_open_no_key_does_harm_and_the_list_stays(tmp_path: Path) -> None:
    """Every direct key of the program, and every letter after Esc, on an empty folder."""
    app = app_on(tmp_path)
    keys = sorted({one for key in KEYS for one in key.keys.split(",") if one} - {"ctrl+q"})
    letters = sorted({key.letter for key in KEYS if key.letter} - {"q"})
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        for key in (*keys, *letters):
            await pilot.press(*(("escape", key) if key in letters else (key,)))
            await pilot.pause()
            if not isinstance(app.screen, JobsScreen):  # help, a new job, the bin
                await pilot.press("escape")
                await pilot.pause()
            assert isinstance(app.screen, JobsScreen), key
        assert (app.session, list((tmp_path / "jobs").glob("*"))) == (None, [])


# --- a job that must not be written ------------------------------------------------------------------------------------


def read_only(folder: Path, job: Job, screen: str) -> StanchionApp:
    """The program on a job whose file is marked read-only."""
    workspace = workspace_in(folder)
    workspace.create(job)
    workspace.remember(screen)
    workspace.close()
    (path,) = (folder / "jobs").glob("*.toml")
    path.chmod(0o444)
    return StanchionApp(workspace_in(folder), today=lambda: TODAY)


def under_way() -> Job:
    """A job with two runs, torques, other gearing than the readings are from, and a work list in hand."""
    job = complete_job()
    runs = (job.runs[0], job.runs[0])
    torques = (Torque(what="axle nut"), Torque(what="top yoke"))
    job = replace(job, runs=runs, upkeep=replace(job.upkeep, torques=torques, front_teeth=14.0))
    goal = put(job, front__fork_height_mm=2.0, rear__rebound__now=3.0)
    target = next(targets_of(goal, "then.toml", job.job.machine))
    return replace(job, returning=begin(job, target, "then"))


REFUSED_KEYS = (
    ("front", ("plus",)),
    ("front", ("9",)),
    ("runs", ("f7",)),
    ("runs", ("ctrl+r",)),
    ("runs", ("ctrl+d", "down", "enter")),
    ("runs", ("ctrl+a", "d", "enter")),
    ("upkeep", ("f7",)),
    ("upkeep", ("ctrl+end", "up", "ctrl+d")),
    ("upkeep", ("ctrl+r", "down", "enter")),
    ("worklist", ("space",)),
    ("worklist", ("f7",)),
    ("trial", ("plus", "f7")),
    ("springs", ("enter", "f7")),
)
"""A screen, and keys that would change the job there."""


async def test_a_job_that_must_not_be_written_is_not_changed_and_that_is_said(tmp_path: Path) -> None:
    app = read_only(tmp_path, under_way(), "front")
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await at_rest(pilot)
        assert app.session is not None
        before = app.session.job
        for screen, keys in REFUSED_KEYS:
            app.action_go(screen)
            app.clear_notifications()
            await at_rest(pilot)
            assert app.current_mode == screen
            assert "cannot be changed" not in " ".join(shown(app).split()), (screen, keys)
            for key in keys:
                await pilot.press(key)
                await at_rest(pilot)
            assert app.session.job == before, (screen, keys)
            assert "cannot be changed" in " ".join(shown(app).split()), (screen, keys)
            assert not isinstance(app.screen, Question), (screen, keys)
            assert dumps(before) == next((tmp_path / "jobs").glob("*.toml")).read_bytes(), (screen, keys)
            await pilot.press("ctrl+z")  # takes away the text that was refused
