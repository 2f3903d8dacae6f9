"""Two copies of one job are noticed, set side by side and merged by keys; nothing is lost on the way."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from textual.events import Key
from textual.pilot import Pilot

from driving import USUAL, WIDE, a_job, app_on, bench, on_disk, said, shown, typed
from stanchion.bench.settling import keep_before
from stanchion.bench.workspace import Workspace
from stanchion.job.codec import dumps, loads
from stanchion.job.edit import Edit, apply
from stanchion.job.model import Job, Run
from stanchion.store.library import Opened
from stanchion.ui.app import StanchionApp
from stanchion.ui.commands.merging import Merging
from stanchion.ui.screens.side_by_side import MergeScreen
from timing import at_rest, eventually

BASE = a_job(("front.left.rebound.now", 10.0), ("front.fork_height_mm", 6.0), ("rear.rebound.now", 12.0))


async def until(pilot: Pilot[int], true: Callable[[], bool]) -> None:
    await eventually(pilot, true, lambda: shown(pilot.app))  # type: ignore[arg-type]


def files(app: StanchionApp) -> set[str]:
    return {path.name for path in app.workspace.places.jobs.glob("*.toml")}


def flat(app: StanchionApp) -> str:
    return " ".join(shown(app).split())


def earlier(app: StanchionApp) -> list[Job]:
    return [loads(path.read_bytes()).job for path in app.workspace.places.history.rglob("*.toml")]


def in_bin(app: StanchionApp) -> list[bytes]:
    return [path.read_bytes() for path in app.workspace.places.bin.glob("*")]


def changed(job: Job, *edits: tuple[str, object]) -> Job:
    for path, value in edits:
        job = apply(job, Edit(tuple(path.split(".")), value))
    return job


def with_copy(tmp_path: Path, *edits: tuple[str, object], name: str = " (1)") -> StanchionApp:
    """The program as it opens on a job beside which another laptop's copy lies."""
    app = app_on(tmp_path, BASE)
    (path,) = app.workspace.places.jobs.glob("*.toml")
    path.with_name(f"{path.stem}{name}.toml").write_bytes(dumps(changed(loads(path.read_bytes()).job, *edits)))
    return app


async def at_the_merge(pilot: Pilot[int], app: StanchionApp) -> None:
    await until(pilot, lambda: bool(app.copies))
    await pilot.press("escape", "g")
    await at_rest(pilot)
    await pilot.press("down", "enter")
    await until(pilot, lambda: isinstance(app.screen, MergeScreen))
    await at_rest(pilot)


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_the_open_job_says_that_another_copy_exists(tmp_path: Path, size: tuple[int, int]) -> None:
    app = with_copy(tmp_path, ("rear.rebound.now", 9.0))
    async with app.run_test(size=size) as pilot:
        await until(pilot, lambda: bool(app.copies))
        await at_rest(pilot)
        assert "Another copy of this job exists" in shown(app)


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_only_what_differs_is_shown_and_the_copy_goes_to_the_bin_once_merged(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    app = with_copy(tmp_path, ("rear.rebound.now", 9.0), ("front.fork_height_mm", 3.0))
    (copy,) = app.workspace.places.jobs.glob("*(1).toml")
    before = copy.read_bytes()
    async with app.run_test(size=size) as pilot:
        await at_the_merge(pilot, app)
        text = shown(app)
        assert "mine: 6.0 mm" in text
        assert "the copy: 3.0 mm" in text
        assert "mine: 12" in text
        assert "the copy: 9" in text
        assert "Left rebound" not in text
        assert "fork, left" not in text.lower()
        assert "No common earlier state is known" in text
        await pilot.press("enter")
        await at_rest(pilot)
        assert "2 fields wait for Left or Right" in flat(app)
        await pilot.press("right", "down", "left", "enter")
        await until(pilot, lambda: not copy.exists())
        await until(pilot, lambda: not app.copies)
        job = on_disk(app)
        assert (job.front.fork_height_mm, job.rear.rebound.now) == (3.0, 12.0)
        assert in_bin(app) == [before]
        assert any(state.front.fork_height_mm == 6.0 for state in earlier(app))
        await pilot.press("ctrl+z")
        assert on_disk(app).front.fork_height_mm == 6.0


async def test_what_the_earlier_states_tell_is_chosen_beforehand(tmp_path: Path) -> None:
    app = with_copy(tmp_path, ("rear.rebound.now", 9.0))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        bench(app).go_to(("front", "fork_height_mm"))
        await typed(pilot, "4")
        on_disk(app)
        await at_the_merge(pilot, app)
        text = shown(app)
        assert "changed in mine" in text
        assert "changed in the copy" in text
        assert "? " not in text
        await pilot.press("enter")
        await until(pilot, lambda: bool(in_bin(app)))
        job = on_disk(app)
        assert (job.front.fork_height_mm, job.rear.rebound.now) == (4.0, 9.0)


async def test_what_both_changed_must_be_chosen_first(tmp_path: Path) -> None:
    app = with_copy(tmp_path, ("front.fork_height_mm", 3.0))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        bench(app).go_to(("front", "fork_height_mm"))
        await typed(pilot, "4")
        on_disk(app)
        await at_the_merge(pilot, app)
        assert "changed in both" in shown(app)
        await pilot.press("enter")
        await at_rest(pilot)
        assert isinstance(app.screen, MergeScreen)
        assert "One field waits for Left or Right" in shown(app)
        await pilot.press("r", "enter")
        await until(pilot, lambda: bool(in_bin(app)))
        assert on_disk(app).front.fork_height_mm == 3.0


async def test_keys_faster_than_the_screen_stay_in_their_order(tmp_path: Path) -> None:
    app = with_copy(tmp_path, ("rear.rebound.now", 9.0), ("front.fork_height_mm", 3.0))
    async with app.run_test(size=USUAL) as pilot:
        await at_the_merge(pilot, app)
        for key in ("right", "down", "left", "up", "left", "down", "right"):
            app.post_message(Key(key, None))
        await at_rest(pilot)
        text = shown(app)
        assert "● mine: 6.0 mm" in text
        assert "● the copy: 9" in text


async def test_esc_changes_nothing(tmp_path: Path) -> None:
    app = with_copy(tmp_path, ("front.fork_height_mm", 3.0))
    held = {path.name: path.read_bytes() for path in app.workspace.places.jobs.glob("*.toml")}
    async with app.run_test(size=USUAL) as pilot:
        await at_the_merge(pilot, app)
        await pilot.press("r", "escape")
        await at_rest(pilot)
        assert {path.name: path.read_bytes() for path in app.workspace.places.jobs.glob("*.toml")} == held
        assert on_disk(app).front.fork_height_mm == 6.0


async def test_a_copy_changed_while_it_is_looked_at_stays(tmp_path: Path) -> None:
    app = with_copy(tmp_path, ("front.fork_height_mm", 3.0))
    (copy,) = app.workspace.places.jobs.glob("*(1).toml")
    async with app.run_test(size=USUAL) as pilot:
        await at_the_merge(pilot, app)
        later = dumps(changed(loads(copy.read_bytes()).job, ("front.fork_height_mm", 1.0)))
        copy.write_bytes(later)
        await pilot.press("r", "enter")
        await until(pilot, lambda: on_disk(app).front.fork_height_mm == 3.0)
        await at_rest(pilot)
        assert copy.read_bytes() == later
        assert "was changed meanwhile and stays" in said(app)


async def test_runs_of_both_are_kept(tmp_path: Path) -> None:
    app = with_copy(tmp_path, ("runs", (Run(time="10:00"),)))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert app.session is not None
        assert not app.session.put(("runs",), (Run(time="09:00"),))
        await at_the_merge(pilot, app)
        assert "2 in the merged job" in shown(app), shown(app)
        await pilot.press("enter")
        await until(pilot, lambda: bool(in_bin(app)))
        assert [run.time for run in on_disk(app).runs] == ["09:00", "10:00"]


async def test_the_list_shows_a_copy_below_its_job_and_offers_to_merge(tmp_path: Path) -> None:
    app = with_copy(tmp_path, ("front.fork_height_mm", 3.0), name=".sync-conflict-20260531-101500-ABCDEFG")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f9")
        await until(pilot, lambda: "  COPY " in shown(app))
        await pilot.press("down")
        await at_rest(pilot)
        assert "another copy of 2026-05-31-grey-mule" in flat(app)
        await pilot.press("enter")
        await at_rest(pilot)
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, MergeScreen))
        await at_rest(pilot)
        await pilot.press("r", "enter")
        await until(pilot, lambda: len(files(app)) == 1)
        assert on_disk(app).front.fork_height_mm == 3.0


async def test_a_file_changed_by_somebody_else_can_be_merged_field_by_field(tmp_path: Path) -> None:
    app = app_on(tmp_path, BASE)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        path = app.workspace.places.jobs / app.workspace.open_name
        theirs = changed(loads(path.read_bytes()).job, ("rear.rebound.now", 9.0))
        path.write_bytes(dumps(theirs))
        bench(app).go_to(("front", "fork_height_mm"))
        await typed(pilot, "4")
        await until(pilot, lambda: "Merge field by field" in shown(app))
        await pilot.press("down", "down", "down", "enter")
        await until(pilot, lambda: isinstance(app.screen, MergeScreen))
        await at_rest(pilot)
        text = shown(app)
        assert "changed in mine" in text
        assert "changed in theirs" in text
        await pilot.press("enter")
        await until(pilot, lambda: "Merged and saved" in said(app))
        job = on_disk(app)
        assert (job.front.fork_height_mm, job.rear.rebound.now) == (4.0, 9.0)
        kept = earlier(app)
        assert theirs in kept
        assert any((one.front.fork_height_mm, one.rear.rebound.now) == (4.0, 12.0) for one in kept)


async def test_text_of_a_copy_cannot_steer_the_screen(tmp_path: Path) -> None:
    app = with_copy(tmp_path, ("job.notes", "\x1b[31m[bold]x[/foo]"))
    async with app.run_test(size=USUAL) as pilot:
        await at_the_merge(pilot, app)
        assert "\x1b" not in shown(app)
        assert "[bold]x[/foo]" in shown(app)


async def test_a_copy_saved_on_purpose_is_a_job_of_its_own(tmp_path: Path) -> None:
    app = app_on(tmp_path, BASE)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("escape", "v")
        await until(pilot, lambda: len(files(app)) == 2)
        await at_rest(pilot)
        ids = {loads((app.workspace.places.jobs / name).read_bytes()).job.job.id for name in files(app)}
        assert len(ids) == 2
        assert "" not in ids
        app.merging.look_for_copies()
        await at_rest(pilot)
        assert app.copies == ()
        assert replace(on_disk(app).job, id="") == replace(BASE.job, id="")


async def test_nothing_is_merged_into_a_job_that_must_not_be_written(tmp_path: Path) -> None:
    app = with_copy(tmp_path, ("rear.rebound.now", 9.0))
    (path,) = [path for path in app.workspace.places.jobs.glob("*.toml") if "(1)" not in path.name]
    path.chmod(0o444)
    app = app_on(tmp_path)
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await until(pilot, lambda: bool(app.copies))
        await pilot.press("escape", "g")
        await at_rest(pilot)
        await pilot.press("down", "enter")
        await until(pilot, lambda: "nothing can be merged into it" in said(app))
        assert len(files(app)) == 2


async def test_a_job_changed_while_the_two_were_compared_is_not_merged(tmp_path: Path) -> None:
    app = with_copy(tmp_path, ("rear.rebound.now", 9.0))
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await at_the_merge(pilot, app)
        assert app.session is not None
        assert not app.session.put(("front", "fork_height_mm"), 3.0)  # as a hand on another window of it could
        await pilot.press("r", "enter")
        await until(pilot, lambda: "the job was changed meanwhile" in said(app))
        assert len(files(app)) == 2
        assert on_disk(app).front.fork_height_mm == 3.0


async def test_a_job_changed_while_its_earlier_state_is_kept_for_the_merge_is_not_merged(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The worker keeps the state before, and somebody types meanwhile."""
    app = with_copy(tmp_path, ("rear.rebound.now", 9.0))

    def kept_while_typing(workspace: Workspace, copy: Opened) -> None:
        keep_before(workspace, copy)
        assert app.session is not None
        assert not app.call_from_thread(app.session.put, ("front", "fork_height_mm"), 3.0)

    monkeypatch.setattr("stanchion.bench.settling.keep_before", kept_while_typing)
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await at_the_merge(pilot, app)
        await pilot.press("r", "enter")
        await until(pilot, lambda: "the job was changed meanwhile" in said(app))
        assert len(files(app)) == 2
        assert on_disk(app).front.fork_height_mm == 3.0
        assert on_disk(app).rear.rebound.now == 12.0


async def test_the_finder_of_copies_is_taken_on_by_the_thread_of_the_screen_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    takers: list[threading.Thread] = []
    known: dict[str, object] = {}

    def take(merging: Merging, finder: object) -> None:
        takers.append(threading.current_thread())
        known["finder"] = finder

    monkeypatch.setattr(Merging, "_finder", property(lambda merging: known["finder"], take), raising=False)
    app = with_copy(tmp_path)
    async with app.run_test(size=USUAL) as pilot:
        await until(pilot, lambda: bool(app.copies))
        assert known["finder"] is not None
        assert set(takers) == {threading.current_thread()}
