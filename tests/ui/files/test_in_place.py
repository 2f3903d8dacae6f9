"""The screen of a job opened by its path, and of a folder that is the jobs folder of this start only."""

from __future__ import annotations

from pathlib import Path

from driving import USUAL, a_job, said, shown, typed, workspace_in
from stanchion.bench.workspace import Workspace
from stanchion.job.codec import dumps, loads
from stanchion.store.paths import Places
from stanchion.ui.app import StanchionApp
from timing import at_rest


async def test_a_job_opened_by_its_path_says_so_and_where_the_next_one_goes(tmp_path: Path) -> None:
    path = tmp_path / "stick" / "mule.toml"
    path.parent.mkdir()
    path.write_bytes(dumps(a_job()))
    workspace = workspace_in(tmp_path)
    workspace.open_path(path)
    app = StanchionApp(workspace)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert f"Opened in place: {path}" in said(app)
        await pilot.press("f3")
        await at_rest(pilot)
        assert "mule.toml, saved in place · Grey Mule" in shown(app)
        await typed(pilot, "9.5")
        await pilot.press("enter")
        assert workspace.flush()
        assert loads(path.read_bytes()).job.front.left.spring.rate_n_per_mm == 9.5
        await pilot.press("f9")
        await at_rest(pilot)
        assert "no jobs here yet" in shown(app)
        await pilot.press("escape", "f8", "f8")
        await at_rest(pilot)
        assert "A new job with the setup of mule.toml." in said(app)
        assert "saved in place" not in shown(app)
        assert workspace.flush()
        assert len(list(workspace.places.jobs.glob("*.toml"))) == 1


async def test_a_folder_of_this_start_is_named_above_its_jobs(tmp_path: Path) -> None:
    folder = tmp_path / "stick"
    folder.mkdir()
    (folder / "mule.toml").write_bytes(dumps(a_job()))
    own = workspace_in(tmp_path).places
    workspace = Workspace(Places(folder, own.config, own.state, own.cache), remembers=False)
    app = StanchionApp(workspace)
    async with app.run_test(size=(160, 24)) as pilot:
        await at_rest(pilot)
        assert f"JOBS IN {folder}, newest first: 1 of 1" in shown(app)
