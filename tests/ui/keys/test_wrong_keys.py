"""A key pressed by mistake destroys nothing: what it did is undone with one key, or it asks first."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest
from textual.pilot import Pilot

import make_samples
from complete_job import complete_job
from driving import USUAL, app_on, bench, on_disk, typed
from stanchion.job.model import Job
from stanchion.ui.app import StanchionApp
from stanchion.ui.core import PARTS
from stanchion.ui.keys import KEYS, Key
from stanchion.ui.screens.job_screen import JobScreen
from timing import at_rest

LEAVES = {"quit", "jobs", "job.forward", "job.new", "job.copy", "job.sheet", "screen.story"}
"""Commands that leave the job as it is for another, for a list, or for good."""
OWN: dict[str, list[Key]] = {part: [key for key in KEYS if key.on == part] for part in PARTS}
EVERYWHERE = [key for key in KEYS if not key.on and key.id not in LEAVES and key.id not in ("undo", "redo")]
PRESSED = ("a", "5", "plus", "minus", "space", "slash", "delete", "ctrl+x")


def same(app: StanchionApp, job: Job) -> bool:
    """Whether the open job is this, and nothing waits to be read."""
    assert app.session is not None
    return app.session.job == job and not any(draft.reason for draft in app.session.drafts.values())


async def back(pilot: Pilot[int], app: StanchionApp, screen: str) -> None:
    """Out of whatever was opened, as somebody gets out who did not mean it, and to the screen again."""
    for _ in range(4):
        if isinstance(app.screen, JobScreen) and len(app.screen_stack) == 1:
            break
        await pilot.press("escape")
        await at_rest(pilot)
    if app.current_mode != screen:
        app.action_go(screen)
        await at_rest(pilot)
    assert isinstance(app.screen, JobScreen)


async def taken_back(pilot: Pilot[int], app: StanchionApp, before: Job, words: str) -> None:
    """One undo where something was changed, and none where nothing was."""
    if not same(app, before):
        await pilot.press("ctrl+z")
        await at_rest(pilot)
    assert same(app, before), words


@pytest.mark.parametrize("screen", PARTS)
async def test_every_command_of_a_screen_and_any_other_key_is_taken_back_with_one_key(
    tmp_path: Path, screen: str
) -> None:
    app = app_on(tmp_path, complete_job(), screen)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        before = on_disk(app)
        for by_letter in (False, True):
            await each_taken_back(pilot, app, before, screen, OWN[screen], by_letter=by_letter)
            assert on_disk(app) == before
        for pressed in PRESSED:
            await pilot.press(pressed)
            await back(pilot, app, screen)
            await taken_back(pilot, app, before, pressed)
        assert on_disk(app) == before


@pytest.mark.parametrize("by_letter", [False, True])
async def test_every_command_that_holds_everywhere_is_undone_with_one_key(tmp_path: Path, *, by_letter: bool) -> None:
    app = app_on(tmp_path, complete_job(), "front")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        before = on_disk(app)
        await each_taken_back(pilot, app, before, "front", EVERYWHERE, by_letter=by_letter)
        assert on_disk(app) == before


async def each_taken_back(
    pilot: Pilot[int], app: StanchionApp, before: Job, screen: str, keys: Sequence[Key], *, by_letter: bool
) -> None:
    """Give each of these commands, and take back what it did."""
    for key in keys:
        pressed = way(key, by_letter=by_letter)
        if pressed:
            await pilot.press(*pressed)
            await at_rest(pilot)
            await back(pilot, app, screen)
            await taken_back(pilot, app, before, key.id)


def way(key: Key, *, by_letter: bool) -> tuple[str, ...]:
    """The keys to press: the direct one, or Esc and the letter; none where there is no such way."""
    if by_letter:
        return ("escape", key.letter) if key.letter else ()
    return (key.keys.split(",")[0],) if key.keys else ()


async def test_commands_that_go_to_another_job_leave_this_one_as_it_is(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "front")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        before, name = on_disk(app), app.workspace.open_name
        file = app.workspace.places.jobs / name
        written = file.read_bytes()
        for key in (key for key in KEYS if key.id in LEAVES - {"quit"}):
            for pressed in (way(key, by_letter=False), way(key, by_letter=True)):
                if pressed:
                    await pilot.press(*pressed)
                    await at_rest(pilot)
                    assert file.read_bytes() == written, key.id
                    for _ in range(3):
                        await pilot.press("escape")
                    app.workspace.open(name)
                    app.action_go("front")
                    await at_rest(pilot)
        assert on_disk(app) == before


async def test_space_on_a_number_leaves_it_as_it_is(tmp_path: Path) -> None:
    app = app_on(tmp_path, make_samples.well_set(), "rear")
    async with app.run_test(size=USUAL) as pilot:
        bench(app).go_to(("rear", "stroke_mm"))
        await at_rest(pilot)
        await pilot.press("space")
        await at_rest(pilot)
        assert bench(app).session is not None
        assert on_disk(app).rear.stroke_mm == 64.0
        await typed(pilot, " 65\n")
        await at_rest(pilot)
        assert on_disk(app).rear.stroke_mm == 65.0
