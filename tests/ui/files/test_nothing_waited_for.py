"""On a disk that takes its time, a job is begun, opened or moved to the bin while the screen goes on."""

from __future__ import annotations

import asyncio
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from time import monotonic

import pytest

from driving import USUAL, a_job, app_on, on_disk, said, shown, typed
from stanchion.job.codec import loads
from stanchion.store import autosave
from stanchion.store.disk import Disk
from timing import HANGS_S, at_rest


class Flushes:
    """Lets flushes through, or holds them."""

    def __init__(self) -> None:
        self.free = threading.Event()
        self.free.set()
        self.held = 0

    def wait(self) -> None:
        if not self.free.is_set():
            self.held += 1
            assert self.free.wait(30)


@pytest.fixture
def flushes(monkeypatch: pytest.MonkeyPatch) -> Iterator[Flushes]:
    flushes = Flushes()
    for name in ("sync", "sync_folder"):
        real = getattr(Disk, name)

        def waited(disk: Disk, fd: int, real: Callable[[Disk, int], None] = real) -> None:
            flushes.wait()
            real(disk, fd)

        monkeypatch.setattr(Disk, name, waited)
    yield flushes
    flushes.free.set()


async def until(true: Callable[[], bool]) -> None:
    end = monotonic() + HANGS_S
    while not true():
        assert monotonic() < end, "it never came"
        await asyncio.sleep(0.01)


async def test_a_job_carried_forward_takes_what_is_typed_while_its_file_is_not_made_yet(
    tmp_path: Path, flushes: Flushes
) -> None:
    app = app_on(tmp_path, a_job(("front.travel_mm", 120.0)))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        first = app.workspace.open_name
        flushes.free.clear()
        await pilot.press("f8", "f8")
        await typed(pilot, "142")
        await pilot.press("enter")
        assert app.workspace.open_name != first
        assert app.session is not None
        assert app.session.job.sag.front.hanging_mm == (142.0,)
        await until(lambda: flushes.held > 0)
        assert not (app.workspace.places.jobs / app.workspace.open_name).exists()
        assert "saving" in shown(app)
        flushes.free.set()
        await until(lambda: "saved" in shown(app))
        assert on_disk(app).sag.front.hanging_mm == (142.0,)
        assert loads((app.workspace.places.jobs / first).read_bytes()).job.sag.front.hanging_mm == ()


async def test_a_job_carried_forward_on_its_sag_screen_shows_no_reading_of_the_old_one_and_takes_the_new(
    tmp_path: Path,
) -> None:
    read = a_job(("front.travel_mm", 120.0), ("sag.front.hanging_mm", (139.5,)), ("sag.front.static.down_mm", (121.5,)))
    app = app_on(tmp_path, read, "sag")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert "139.5" in shown(app)
        first = app.workspace.open_name
        await pilot.press("down", "f8", "f8")
        await at_rest(pilot)
        assert "139.5" not in shown(app)
        assert "121.5" not in shown(app)
        await typed(pilot, "142\n")
        assert "142" in shown(app)
        assert on_disk(app).sag.front.hanging_mm == (142.0,)
        assert loads((app.workspace.places.jobs / first).read_bytes()).job.sag == read.sag


async def test_a_job_is_opened_while_the_last_edit_of_the_one_before_is_still_written(
    tmp_path: Path, flushes: Flushes
) -> None:
    app_on(tmp_path, a_job(machine="Red Heron")).workspace.close()
    app = app_on(tmp_path, a_job(machine="Grey Mule"))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        first = app.workspace.open_name
        flushes.free.clear()
        await pilot.press("enter")
        await typed(pilot, "120\n")
        await until(lambda: flushes.held > 0)
        await pilot.press("f9")
        await at_rest(pilot)
        await typed(pilot, "heron\n")
        await until(lambda: app.workspace.open_name != first)
        assert app.session is not None
        assert app.session.job.job.machine == "Red Heron"
        flushes.free.set()
    changed = loads((tmp_path / "jobs" / first).read_bytes()).job
    assert changed != a_job(machine="Grey Mule")
    assert changed.job.machine == "Grey Mule"
    assert "NOT saved" not in said(app)


async def test_the_list_goes_on_while_a_job_is_moved_to_the_bin(tmp_path: Path, flushes: Flushes) -> None:
    app_on(tmp_path, a_job(machine="Red Heron")).workspace.close()
    app = app_on(tmp_path, a_job(machine="Grey Mule"))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f9")
        await at_rest(pilot)
        await typed(pilot, "heron")
        await pilot.press("ctrl+d")
        await at_rest(pilot)
        flushes.free.clear()
        await pilot.press("down", "enter")
        await until(lambda: flushes.held > 0)
        await pilot.press(*["backspace"] * 5)
        await typed(pilot, "mule")
        assert "mule" in shown(app)
        assert "is in the bin" not in said(app)
        flushes.free.set()
        await until(lambda: "is in the bin" in said(app))


async def test_a_job_that_was_left_and_cannot_be_written_is_told_of_over_the_one_in_hand(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(autosave, "FIRST_S", 60.0)  # it is left before its edit is due
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        first = app.workspace.open_name
        (app.workspace.places.jobs / first).write_bytes(b"# somebody else's\n")
        await pilot.press("enter")
        await typed(pilot, "120\n")
        await pilot.press("f8", "f8")
        await until(lambda: "NOT saved" in said(app))
        assert f"'{first}', which you left" in said(app)
        await pilot.press("ctrl+q")
        await at_rest(pilot)
        assert "which you left" in " ".join(shown(app).split())
    assert (app.workspace.places.jobs / first).read_bytes() == b"# somebody else's\n"
    assert len(app.workspace.library.unsaved()) == 1
