"""Ten frequent tasks by keys alone, from whatever screen the technician is on: how many keys each takes.

What each took before is counted on the program of commit 00654fc, before there was a screen of adjusters: its screens
were driven by the fewest keys they had for it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

import pytest
from textual.pilot import Pilot

from driving import USUAL, app_on, bench, on_disk, shown
from judgement_jobs import put
from stanchion.job.codec import loads
from stanchion.job.model import Path as Field
from stanchion.job.model import SagEnd
from stanchion.store.samples import samples
from stanchion.ui.app import StanchionApp
from timing import at_rest, eventually
from tour import typed

pytestmark = pytest.mark.usefixtures("every_frame")

SAMPLE = replace(next(loads(one.data).job for one in samples() if one.name == "soft_springs"), runs=())
START = put(SAMPLE, sag__front=SagEnd(), sag__rear=SagEnd(), job__sample=False)


@dataclass(frozen=True)
class Task:
    """What a technician wants, and the keys for it, which begin on the work list."""

    name: str
    keys: tuple[str, ...]
    """A text is typed; the name of a key is pressed."""
    count: int
    """All of them, with each letter and digit typed."""
    before: int | None
    """What it took before; None: the program could not do it."""
    done: Callable[[StanchionApp], bool]
    field: tuple[str, Field] | None = None
    """Where there is a longer way: screen and field of the form it goes along."""

    @property
    def presses(self) -> list[str]:
        """Every key by itself."""
        return [key for one in self.keys for key in (typed(one[1:]) if one.startswith("'") else (one,))]


def holds(**values: object) -> Callable[[StanchionApp], bool]:
    """The job has these values at paths written with __ for the dots."""

    def done(app: StanchionApp) -> bool:
        return put(on_disk(app), **values) == on_disk(app)

    return done


def shows(*texts: str) -> Callable[[StanchionApp], bool]:
    return lambda app: all(text in shown(app) for text in texts)


def sag_read(app: StanchionApp) -> bool:
    ends = (on_disk(app).sag.front, on_disk(app).sag.rear)
    states = [(end.static.down_mm, end.static.up_mm, end.rider.down_mm, end.rider.up_mm) for end in ends]
    return states == [((124.0,), (129.0,), (106.5,), (112.0,)), ((603.0,), (605.0,), (583.0,), (585.0,))]


def logged(app: StanchionApp) -> bool:
    run = on_disk(app).runs[-1]
    return (run.front_marker_mm, run.rear_marker_mm, run.best_lap_s) == (106.0, 47.0, 73.2)


def pressures(app: StanchionApp) -> bool:
    run = on_disk(app).runs[-1]
    return (run.front_hot_bar, run.rear_hot_bar, run.front_cold_bar, run.rear_cold_bar) == (2.4, 1.8, 2.1, 1.9)


def begun(**about: object) -> Callable[[StanchionApp], bool]:
    def done(app: StanchionApp) -> bool:
        job = on_disk(app)
        return not job.runs and all(getattr(job.job, name) == value for name, value in about.items())

    return done


def printed(app: StanchionApp) -> bool:
    return bool(list(app.workspace.places.sheets.glob("*.txt")))


SAGS = "'142|612|124|129|603|605|106.5|112|583|585|"
TASKS = (
    Task("rear rebound in by 2 clicks", ("ctrl+x", "ctrl+end", "minus", "minus"), 4, 29, holds(rear__rebound__now=8.0),
         ("f4", ("rear", "rebound", "now"))),
    Task("shock preload by a turn", ("ctrl+x", "ctrl+home", "pagedown", "'4"), 4, 10, holds(rear__collar__now=4.0),
         ("f4", ("rear", "collar", "now"))),
    Task("fork compression in by a click", ("ctrl+x", "ctrl+home", "down", "down", "minus"), 5, 18,
         holds(front__left__compression__now=11.0), ("f3", ("front", "left", "compression", "now"))),
    Task("a run: travel used at both ends, and the lap", ("ctrl+l", "f7", "'106|47|1.13.2"), 15, 15, logged),
    Task("its tyre pressures, hot and cold", ("ctrl+l", "enter", "'2.4|1.8|2.1|1.9"), 17, 17, pressures),
    Task("sag of both ends, ten readings", ("f5", "ctrl+r", SAGS), 44, 44, sag_read),
    Task("a turn more on trial, and its sags", ("ctrl+t", "'7"), 2, 2, shows("1 changed", "Rider sag")),
    Task("print the sheet", ("escape", "8"), 2, None, printed),
    Task("a spring of the list on trial", ("ctrl+g", "enter"), 2, 2, shows("Spring rate", "changed")),
    Task("the next job, elsewhere, in another session and for another rider",
         ("f8", "'Lake Ring", "down", "down", "'FP1", "down", "'N. N.|82", "f8"), 25, None,
         begun(venue="Lake Ring", session="FP1", rider="N. N.", rider_mass_kg=82.0)),
)  # fmt: skip


async def test_ten_frequent_tasks_take_so_many_keys(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))  # no printer is asked
    app = app_on(tmp_path / "home", START, "worklist")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        long_ways = {task.name: await long_way(pilot, app, task) for task in TASKS if task.field is not None}
        for task in TASKS:
            await pilot.press("ctrl+w")  # the work list, far from all of them
            await at_rest(pilot)
            for key in task.presses:
                await pilot.press(key)
            await at_rest(pilot)
            await app.workers.wait_for_complete()
            await eventually(pilot, partial(task.done, app), partial(told, app, task))
            assert len(task.presses) == task.count, task.name
            if task.field is not None:
                assert 2 * task.count <= long_ways[task.name], task.name


def test_no_task_takes_more_keys_than_before_and_settings_take_less_than_half() -> None:
    assert len(TASKS) == 10
    for task in TASKS:
        assert task.before is None or task.count <= task.before, task.name
        if task.field is not None:
            assert task.before is not None
            assert 2 * task.count < task.before, task.name


def told(app: StanchionApp, task: Task) -> str:
    return f"{task.name}\n{shown(app)}"


async def long_way(pilot: Pilot[int], app: StanchionApp, task: Task) -> int:
    """The keys that the same takes along the form of its end: the screen, each field on the way, and the change."""
    assert task.field is not None
    screen, field = task.field
    await pilot.press(screen, "ctrl+home")
    await at_rest(pilot)
    grid, at, fields = bench(app).sheet.grid, bench(app).sheet.at, 0
    while at != field:
        assert at is not None
        at = grid.down(at, 1)
        fields += 1
    return 1 + fields + sum(key in ("minus", "4") for key in task.presses)
