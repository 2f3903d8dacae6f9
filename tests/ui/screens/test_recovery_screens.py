"""What was changed or deleted by mistake comes back, by keys alone, also after a restart."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest
from textual.pilot import Pilot

from driving import TODAY, USUAL, WIDE, a_job, app_on, bench, on_disk, said, shown, typed, workspace_in
from stanchion.bench.settling import go_on_in_copy, save_as_copy
from stanchion.job.codec import loads
from stanchion.job.model import Job
from stanchion.job.spec import Rate
from stanchion.store.library import encoded
from stanchion.ui.app import StanchionApp
from timing import at_rest

RATE = ("front", "left", "spring", "rate_n_per_mm")


def rate(job: Job) -> Rate | None:
    return job.front.left.spring.rate_n_per_mm


def worked_on(folder: Path) -> None:
    """A job of an earlier session, saved with 9.0 at its start and 9.5 at its end."""
    workspace = workspace_in(folder)
    workspace.create(a_job(("front.left.spring.rate_n_per_mm", 9.0)))
    workspace.close()
    (path,) = workspace.places.jobs.iterdir()
    session = workspace.open(path.name)
    assert not session.put(RATE, 9.5)
    workspace.remember("front")
    assert workspace.close()


async def settle(pilot: Pilot[int]) -> None:
    await pilot.app.workers.wait_for_complete()
    await at_rest(pilot)


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_an_earlier_state_is_listed_in_words_and_brought_back_with_a_key_and_undone(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    worked_on(tmp_path)
    app = StanchionApp(workspace_in(tmp_path), today=lambda: TODAY)
    async with app.run_test(size=size, notifications=True) as pilot:
        await at_rest(pilot)
        bench(app)
        await pilot.press("ctrl+e")  # while a field is in hand
        await settle(pilot)
        text = shown(app)
        assert "start of a session" in text
        assert "1 change" in text
        assert "BRINGING IT BACK CHANGES" in text
        assert "Fork spring rate 9.50 N/mm" in text
        await pilot.press("enter")
        await settle(pilot)
        assert rate(on_disk(app)) == 9.0
        assert "before bringing back" in shown(app)
        await pilot.press("ctrl+z")
        await settle(pilot)
        assert rate(on_disk(app)) == 9.5
    after = StanchionApp(workspace_in(tmp_path), today=lambda: TODAY)  # another day: both states are there still
    async with after.run_test(size=size, notifications=True) as pilot:
        await settle(pilot)
        text = shown(after)
        assert "before bringing back" in text
        assert "start of a session" in text
        await pilot.press("down", "f7")
        await settle(pilot)
        assert rate(on_disk(after)) == 9.0


async def test_the_digit_after_escape_leads_there_and_an_empty_list_says_when_it_fills(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("escape", "4")
        await settle(pilot)
        assert "No earlier state is kept yet" in shown(app)
        await pilot.press("f7", "enter")
        assert app.session is not None


async def test_a_job_open_read_only_is_not_changed_by_an_earlier_state(tmp_path: Path) -> None:
    worked_on(tmp_path)
    (path,) = (tmp_path / "jobs").iterdir()
    path.chmod(0o444)
    app = StanchionApp(workspace_in(tmp_path), today=lambda: TODAY)
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await pilot.press("ctrl+e")
        await settle(pilot)
        await pilot.press("enter")
        await settle(pilot)
        assert "open read-only" in shown(app)
        assert app.session is not None
        assert rate(app.session.job) == 9.5


async def test_nothing_is_brought_back_while_the_present_state_cannot_be_kept(tmp_path: Path) -> None:
    worked_on(tmp_path)
    app = StanchionApp(workspace_in(tmp_path), today=lambda: TODAY)
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await pilot.press("ctrl+e")
        await settle(pilot)
        (folder,) = app.workspace.places.history.iterdir()
        folder.rename(folder.with_suffix(".aside"))
        folder.write_bytes(b"in the way")
        await pilot.press("enter")
        await settle(pilot)
        assert "Nothing was brought back" in shown(app)
        assert app.session is not None
        assert rate(app.session.job) == 9.5


# --- a damaged job -----------------------------------------------------------------------------------------------------


async def test_the_newest_whole_state_of_a_damaged_job_is_offered_and_the_damaged_file_stays(tmp_path: Path) -> None:
    worked_on(tmp_path)
    (path,) = (tmp_path / "jobs").iterdir()
    damaged = path.read_bytes()[:200]
    path.write_bytes(damaged)
    app = StanchionApp(workspace_in(tmp_path), today=lambda: TODAY)
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await settle(pilot)
        assert "UNREADABLE" in shown(app)
        await pilot.press("enter")
        await at_rest(pilot)
        assert "cut short" in shown(app)
        assert "newest whole state" in shown(app)
        await pilot.press("down", "enter")
        await settle(pilot)
        assert app.session is not None
        assert rate(app.session.job) == 9.0
        assert app.workspace.open_name != path.name
    assert path.read_bytes() == damaged


# --- the bin -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_a_job_deleted_by_mistake_comes_back_from_the_bin(tmp_path: Path, size: tuple[int, int]) -> None:
    workspace = workspace_in(tmp_path)
    made = [workspace.library.create(a_job(machine=name)) for name in ("Grey Mule", "Quince")]
    app = StanchionApp(workspace_in(tmp_path), today=lambda: TODAY)
    async with app.run_test(size=size, notifications=True) as pilot:
        await settle(pilot)
        await pilot.press("ctrl+d", "down", "enter")
        await settle(pilot)
        gone = [one for one in made if not one.path.exists()]
        assert len(gone) == 1
        await pilot.press("f7")
        await at_rest(pilot)
        assert gone[0].path.name in shown(app)
        await pilot.press("enter")
        await settle(pilot)
        assert gone[0].path.read_bytes() == gone[0].data
        await pilot.press("f7")
        await at_rest(pilot)
        assert "The bin is empty." in shown(app)


async def test_the_bin_is_emptied_only_after_a_question(tmp_path: Path) -> None:
    workspace = workspace_in(tmp_path)
    workspace.library.delete(workspace.library.create(a_job()).path)
    app = StanchionApp(workspace_in(tmp_path), today=lambda: TODAY)
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await settle(pilot)  # with no job left the screen offers the bin too
        assert "F7 the bin" in shown(app)
        await pilot.press("f7", "ctrl+d")
        await at_rest(pilot)
        assert "1 deleted job will be gone for good" in shown(app)
        await pilot.press("enter")  # the first answer keeps them
        await settle(pilot)
        assert len(app.workspace.library.bin.list()) == 1
        await pilot.press("f7", "ctrl+d", "down", "enter")
        await settle(pilot)
        assert app.workspace.library.bin.list() == ()


# --- what was typed and could not be read -------------------------------------------------------------------------------


@pytest.mark.parametrize("way", ["quit", "another job"])
async def test_text_that_cannot_be_read_is_there_again_when_the_job_is_reopened(tmp_path: Path, way: str) -> None:
    app = app_on(tmp_path, a_job())
    other = app.workspace.library.create(a_job(machine="Quince"))
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await at_rest(pilot)
        name = app.workspace.open_name
        await typed(pilot, "9.5.3")
        assert app.session is not None
        assert [draft.text for draft in app.session.drafts.values()] == ["9.5.3"]
        if way == "another job":
            app.jobs.open(other.path.name)
            await settle(pilot)
            assert app.session.drafts == {}
            app.jobs.open(name)
            await settle(pilot)
            assert [draft.text for draft in app.session.drafts.values()] == ["9.5.3"]
    again = StanchionApp(workspace_in(tmp_path), today=lambda: TODAY)
    async with again.run_test(size=WIDE, notifications=True) as pilot:
        await settle(pilot)
        assert again.session is not None
        assert [(path, draft.text) for path, draft in again.session.drafts.items()] == [(RATE, "9.5.3")]
        assert again.session.drafts[RATE].reason
        text = shown(again)
        assert "9.5.3" in text
        assert "1 value typed before could not be read" in " ".join(text.split())
        field = bench(again)
        field.sheet.go(RATE)
        field.sheet.take_focus()
        await pilot.press("ctrl+z")
        assert again.session.drafts == {}
    third = workspace_in(tmp_path)
    assert third.open(name).drafts == {}


def test_a_new_job_under_an_old_name_has_none_of_the_old_drafts(tmp_path: Path) -> None:
    workspace = workspace_in(tmp_path)
    session = workspace.create(a_job())
    name = workspace.open_name
    session.type(RATE, "9.5.3")
    workspace.close()
    (tmp_path / "jobs" / name).unlink()
    again = workspace_in(tmp_path)
    assert again.create(a_job()).drafts == {}
    assert again.open_name == name
    again.close()
    assert workspace_in(tmp_path).open(name).drafts == {}


def test_drafts_go_along_with_a_copy(tmp_path: Path) -> None:
    workspace = workspace_in(tmp_path)
    session = workspace.create(a_job())
    session.type(RATE, "9.5.3")
    assert workspace.current is not None
    save_as_copy(workspace.current)
    go_on_in_copy(workspace, workspace.current)
    name = workspace.open_name
    workspace.close()
    assert [draft.text for draft in workspace_in(tmp_path).open(name).drafts.values()] == ["9.5.3"]


def test_the_job_on_disk_has_the_last_good_value_all_the_while(tmp_path: Path) -> None:
    workspace = workspace_in(tmp_path)
    session = workspace.create(a_job(("front.left.spring.rate_n_per_mm", 9.0)))
    session.type(RATE, "9.5.3")
    workspace.close()
    (path,) = (tmp_path / "jobs").iterdir()
    assert path.read_bytes() == encoded(loads(path.read_bytes()).job)
    assert rate(loads(path.read_bytes()).job) == 9.0


async def test_an_earlier_state_that_is_damaged_says_so_and_is_not_brought_back(tmp_path: Path) -> None:
    worked_on(tmp_path)
    (kept,) = [
        path
        for path in (tmp_path / "state").rglob("*.toml")
        if path.is_relative_to(workspace_in(tmp_path).places.history)
    ]
    kept.write_bytes(kept.read_bytes()[:100])
    app = StanchionApp(workspace_in(tmp_path), today=lambda: TODAY)
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await pilot.press("ctrl+e")
        await settle(pilot)
        text = " ".join(shown(app).split())
        assert "not whole" in text
        assert "This state cannot be brought back" in text
        await pilot.press("enter")
        await settle(pilot)
        assert "This state cannot be brought back" in said(app)
        assert rate(on_disk(app)) == 9.5


async def test_what_cannot_be_brought_back_from_the_bin_or_destroyed_stays_and_says_why(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    workspace = workspace_in(tmp_path)
    workspace.library.delete(workspace.library.create(a_job()).path)
    app = StanchionApp(workspace_in(tmp_path), today=lambda: TODAY)

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(errno.EACCES, "no")

    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await settle(pilot)
        jobs = tmp_path / "jobs"
        jobs.rename(tmp_path / "aside")
        jobs.write_bytes(b"in the way")
        await pilot.press("f7", "enter")
        await settle(pilot)
        assert "was not brought back" in said(app)
        monkeypatch.setattr(type(app.workspace.library.bin.disk), "unlink", refuse)
        await pilot.press("f7", "ctrl+d", "down", "enter")
        await settle(pilot)
        assert "is still in the bin" in said(app)
        assert len(app.workspace.library.bin.list()) == 1


async def test_the_bin_is_left_as_it_is_with_esc(tmp_path: Path) -> None:
    workspace = workspace_in(tmp_path)
    workspace.library.delete(workspace.library.create(a_job()).path)
    app = StanchionApp(workspace_in(tmp_path), today=lambda: TODAY)
    async with app.run_test(size=USUAL) as pilot:
        await settle(pilot)
        await pilot.press("f7", "escape")
        await settle(pilot)
        assert len(app.workspace.library.bin.list()) == 1
        await pilot.press("f7", "ctrl+d", "escape")
        await settle(pilot)
        assert len(app.workspace.library.bin.list()) == 1


async def test_an_empty_bin_has_nothing_to_empty(tmp_path: Path) -> None:
    app = StanchionApp(workspace_in(tmp_path), today=lambda: TODAY)
    async with app.run_test(size=USUAL) as pilot:
        await settle(pilot)
        await pilot.press("f7", "ctrl+d", "enter")
        await at_rest(pilot)
        assert "The bin is empty." in shown(app)


async def test_the_program_is_left_from_the_bin_too(tmp_path: Path) -> None:
    app = StanchionApp(workspace_in(tmp_path), today=lambda: TODAY)
    async with app.run_test(size=USUAL) as pilot:
        await settle(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        await pilot.press("ctrl+q")
        await at_rest(pilot)
    assert app.return_code == 0
