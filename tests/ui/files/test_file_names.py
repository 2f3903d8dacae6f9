"""The file of a job follows who, what and when while the work goes on."""

from __future__ import annotations

from pathlib import Path

from driving import USUAL, a_job, app_on, said, typed, workspace_in
from stanchion.store.names import file_name
from timing import at_rest, eventually


async def test_the_file_follows_another_rider_when_the_next_job_is_begun_and_says_so(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(("job.rider", "A. Venn")), "machine")
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        before = app.workspace.open_name
        await pilot.press("down")
        await typed(pilot, "N. N.\n")
        assert app.session is not None
        about = app.session.job.job
        assert about.rider == "N. N."
        await pilot.press("f8")
        await eventually(pilot, lambda: f"The file is now called '{file_name(about)}'" in said(app))
        await pilot.press("f8")
        await at_rest(pilot)
        assert app.session.job.job.carried_from == file_name(about) != before
        assert not (app.workspace.places.jobs / before).exists()
        assert f"A new job with the setup of {file_name(about)}" in said(app)
        assert app.session.previous is not None  # the job it was carried from is found
        await pilot.press("f2")
        await at_rest(pilot)
        await pilot.press("down")
        await typed(pilot, "O. O.\n")
        ended = app.session.job.job
        await pilot.press("ctrl+q")
        await eventually(pilot, lambda: not app.is_running)
    assert workspace_in(tmp_path).last_place().job == file_name(ended)
