"""On a disk that fails the screen says in plain words that the job is not saved and why, and when it is again."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest
from textual.pilot import Pilot

from driving import TODAY, USUAL, WIDE, a_job, app_on, on_disk, shown, typed, workspace_in
from stanchion.job.codec import loads
from stanchion.store.disk import DISK, Disk, cause
from stanchion.store.library import Library
from stanchion.ui.app import StanchionApp
from store.faulty import ERRNOS, Faulty, error
from timing import at_rest, eventually

CONFLICTS = {errno.ENOENT, errno.EEXIST}
"""These can be the work of another program, and are then asked about."""


def app_on_disk(folder: Path, disk: Disk) -> StanchionApp:
    """The program on a job whose files go through this disk."""
    app_on(folder, a_job()).workspace.close()
    workspace = workspace_in(folder)
    workspace.library = Library(workspace.places, workspace.library.listing.judge, disk=disk)
    return StanchionApp(workspace, today=lambda: TODAY)


async def until(pilot: Pilot[int], app: StanchionApp, word: str) -> str:
    await eventually(pilot, lambda: word in shown(app), lambda: f"{word!r}\n{shown(app)}")
    return " ".join(shown(app).split())


@pytest.mark.parametrize("number", [one for one in ERRNOS if one not in CONFLICTS], ids=errno.errorcode.get)
async def test_the_screen_says_that_it_is_not_saved_and_why_and_when_it_is(tmp_path: Path, number: int) -> None:
    disk = Faulty(number, 10**9, for_good=True, only="write")
    app = app_on_disk(tmp_path, disk)
    async with app.run_test(size=USUAL if number % 2 else WIDE) as pilot:
        await at_rest(pilot)
        (path,) = app.workspace.places.jobs.glob("*.toml")
        before = path.read_bytes()
        disk.at, disk.calls = 1, 0
        await typed(pilot, "9.25")
        text = await until(pilot, app, "NOT SAVED")
        assert f"is not saved: {cause(error(number))}." in text
        assert "Your edits are kept" in text
        assert "9.25" in text
        assert path.read_bytes() == before
        disk.heal()
        await until(pilot, app, "saved ")
        assert "NOT SAVED" not in shown(app)
        assert "Your edits are kept" not in shown(app)
        assert on_disk(app).front.left.spring.rate_n_per_mm == 9.25


async def test_leaving_while_it_cannot_be_saved_asks_first_and_leaves_the_edits_in_the_safe_place(
    tmp_path: Path,
) -> None:
    app = app_on_disk(tmp_path, DISK)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        (path,) = app.workspace.places.jobs.glob("*.toml")
        path.chmod(0o444)
        await typed(pilot, "9.25")
        await until(pilot, app, "NOT SAVED")
        await pilot.press("ctrl+q")
        assert "Quit all the same" in await until(pilot, app, "could not be written")
        await pilot.press("down", "enter")
        await at_rest(pilot)
    assert app.return_code == 1
    (spilled,) = app.workspace.library.unsaved()
    assert loads(spilled.read_bytes()).job.front.left.spring.rate_n_per_mm == 9.25
