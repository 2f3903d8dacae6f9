"""Thousands of jobs, with forty that are read slowly: how far it is, Esc, going on, and what comes first meanwhile."""

from __future__ import annotations

import re
import threading
from pathlib import Path

from textual.pilot import Pilot

from driving import USUAL, WIDE, a_job, app_on, shown, typed
from stanchion.ui.app import StanchionApp
from stanchion.ui.screens.jobs import JobsScreen
from timing import at_rest, eventually


class Slow:
    """Reads so many jobs at once, and for each more takes its time until it is told to go on.

    Args:
        reader: what reads.
        way: by which of its methods: "_glance" at the heads, "_read" or "open" of the whole files.
        at_once: how many.
    """

    def __init__(self, reader: object, way: str, at_once: int) -> None:
        self.go_on = threading.Event()
        self.read = 0
        reading = getattr(reader, way)

        def slowly(*arguments: object, **options: object) -> object:
            self.read += 1
            if self.read > at_once:
                self.go_on.wait(1.0)  # forty of them outlast a test on any machine, and one can be waited for
            return reading(*arguments, **options)

        setattr(reader, way, slowly)


def slow(folder: Path, way: str, at_once: int = 5) -> tuple[StanchionApp, Slow]:
    """The program on forty jobs that are read slowly."""
    app = app_on(folder)
    for number in range(40):
        app.workspace.library.create(a_job(machine=f"Machine {number:02}"))
    return app, Slow(app.workspace.library.listing, way, at_once)


async def until(pilot: Pilot[int], app: StanchionApp, word: str) -> None:
    await eventually(pilot, lambda: word in shown(app), lambda: f"{word!r}\n{shown(app)}")


async def test_a_long_first_reading_tells_how_far_it_is_and_esc_shows_what_was_read(tmp_path: Path) -> None:
    app, work = slow(tmp_path, "_glance")
    async with app.run_test(size=USUAL) as pilot:
        await until(pilot, app, "of 40 read, Esc stops")
        assert "no jobs here yet" not in shown(app)
        await pilot.press("escape")
        await until(pilot, app, "STOPPED at")
        text = " ".join(shown(app).split())
        assert "of 40 read: F9 goes on" in text
        assert re.search(r"Machine \d\d", text), "what was read is shown; a folder gives its files in any order"
        work.go_on.set()
        await pilot.press("f9")
        await until(pilot, app, "40 of 40")
        await pilot.app.workers.wait_for_complete()
        await at_rest(pilot)
        assert "STOPPED" not in shown(app)
        assert "reading …" not in shown(app)


async def test_while_jobs_are_judged_the_list_is_filtered_and_stopped_and_the_verdicts_had_stand(
    tmp_path: Path,
) -> None:
    app, work = slow(tmp_path, "_read")
    async with app.run_test(size=WIDE) as pilot:
        await until(pilot, app, "of 40 judged, Esc stops")
        await typed(pilot, "machine 39")
        await until(pilot, app, "1 of 40")
        await pilot.press("escape")  # stops; the filter stays
        await until(pilot, app, "STOPPED at")
        assert "1 of 40" in shown(app)
        await pilot.press("escape")
        await until(pilot, app, "40 of 40")
        assert "reading …" in shown(app)
        assert isinstance(app.screen, JobsScreen)
        assert 0 < sum(row.judged for row in app.screen.rows) < 40
        work.go_on.set()


async def test_what_is_done_meanwhile_comes_first_and_the_list_is_read_on_afterwards(tmp_path: Path) -> None:
    app, work = slow(tmp_path, "_read")
    async with app.run_test(size=USUAL) as pilot:
        await until(pilot, app, "of 40 judged, Esc stops")
        await pilot.press("enter")
        await at_rest(pilot)
        assert app.session is not None
        await app.workers.wait_for_complete()  # nothing reads on behind the open job
        assert work.read < 40
        work.go_on.set()
        await pilot.press("f9")
        await until(pilot, app, "40 of 40")
        await app.workers.wait_for_complete()
        await at_rest(pilot)
        assert "reading …" not in shown(app)


async def test_leaving_the_program_does_not_wait_for_the_list(tmp_path: Path) -> None:
    app, work = slow(tmp_path, "_glance")
    async with app.run_test(size=USUAL) as pilot:
        await until(pilot, app, "of 40 read, Esc stops")
        await pilot.press("ctrl+q")
        await at_rest(pilot)
    assert work.read < 40


async def test_the_jobs_to_return_to_are_counted_while_they_are_read(tmp_path: Path) -> None:
    app, work = slow(tmp_path, "_glance")
    app.workspace.create(a_job(machine="Grey Mule"))
    app.workspace.remember("worklist")
    async with app.run_test(size=USUAL) as pilot:
        await pilot.press("f3", "ctrl+w")
        await until(pilot, app, "of 41 jobs read …")
        assert "none logged yet" in shown(app)
        await pilot.press("f3")  # leaving it stops that
        await app.workers.wait_for_complete()
        assert work.read < 40
        work.go_on.set()
        await pilot.press("ctrl+w")
        await until(pilot, app, "Machine 39")


def slow_story(folder: Path) -> tuple[StanchionApp, Slow]:
    """The program on forty occasions of one machine whose files are read slowly."""
    app = app_on(folder, a_job(machine="Grey Mule"))
    for number in range(39):
        app.workspace.library.create(a_job(machine="Grey Mule", rider=f"Rider {number}"))
    return app, Slow(app.workspace.library, "open", 3)


async def test_leaving_the_program_does_not_wait_for_a_story(tmp_path: Path) -> None:
    app, work = slow_story(tmp_path)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+f")
        await until(pilot, app, "of 40 files read …")
        await pilot.press("ctrl+q")
        await at_rest(pilot)
    assert work.read < 40


async def test_another_machine_asked_for_meanwhile_is_the_one_that_is_told(tmp_path: Path) -> None:
    app, work = slow_story(tmp_path)
    app.workspace.library.create(a_job(machine="Red Heron"))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+f")
        await until(pilot, app, "of 40 files read …")
        await pilot.press("f9")
        await until(pilot, app, "41 of 41")
        await typed(pilot, "heron")
        await pilot.press("ctrl+f")
        await until(pilot, app, "STORY of Red Heron: 1 of 1 rows")
        work.go_on.set()
        await app.workers.wait_for_complete()
        await at_rest(pilot)
        assert "STORY of Red Heron: 1 of 1 rows" in shown(app)
