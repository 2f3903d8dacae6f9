"""Two laptops change one job, merge, and change it again: each merge goes by the last state that both have in common."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from textual.pilot import Pilot

from driving import WIDE, a_job, app_on, bench, on_disk, shown, typed, workspace_in
from stanchion.bench.settling import beside_copy
from stanchion.bench.workspace import Workspace
from stanchion.ui.app import StanchionApp
from stanchion.ui.screens.side_by_side import COMMON, MergeScreen
from timing import at_rest, eventually

BASE = a_job(("front.fork_height_mm", 6.0), ("rear.rebound.now", 12.0))


def on_the_other_laptop(other: Workspace, name: str, **rebound: float) -> bytes:
    """What the job's file holds after somebody there opened it, changed the rebound, and closed it."""
    other.open(name)
    session = other.session
    assert session is not None
    assert not session.put(("rear", "rebound", "now"), rebound["to"])
    other.close()
    return (other.places.jobs / name).read_bytes()


async def until(pilot: Pilot[int], true: Callable[[], bool]) -> None:
    await eventually(pilot, true, lambda: shown(pilot.app))  # type: ignore[arg-type]


async def merged_by_keys(pilot: Pilot[int], app: StanchionApp, copy: Path) -> str:
    """Merge with a copy, in which nothing is left to choose; what the screen said before."""
    app.merging.look_for_copies()
    await until(pilot, lambda: bool(app.copies))
    await pilot.press("escape", "g")
    await at_rest(pilot)
    await pilot.press("down", "enter")
    await until(pilot, lambda: isinstance(app.screen, MergeScreen))
    await at_rest(pilot)
    said = " ".join(shown(app).split())
    await pilot.press("enter")
    await until(pilot, lambda: not copy.exists() and not app.copies)
    await at_rest(pilot)
    return said


async def test_what_one_side_changed_since_the_last_merge_asks_nobody(tmp_path: Path) -> None:
    app, other = app_on(tmp_path / "mine", BASE), workspace_in(tmp_path / "theirs")
    (path,) = app.workspace.places.jobs.glob("*.toml")
    other.places.jobs.mkdir(parents=True)
    (other.places.jobs / path.name).write_bytes(path.read_bytes())
    copy = path.with_name(f"{path.stem} (1).toml")
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await at_rest(pilot)
        bench(app).go_to(("front", "fork_height_mm"))
        await typed(pilot, "4\n")
        on_disk(app)
        copy.write_bytes(on_the_other_laptop(other, path.name, to=9.0))
        assert COMMON in await merged_by_keys(pilot, app, copy)
        job = on_disk(app)
        assert (job.front.fork_height_mm, job.rear.rebound.now) == (4.0, 9.0)

        # the other laptop goes on from its own file, which knows nothing of this merge
        bench(app).go_to(("front", "fork_height_mm"))
        await typed(pilot, "5\n")
        on_disk(app)
        copy.write_bytes(on_the_other_laptop(other, path.name, to=7.0))
        beside = beside_copy(app.workspace, copy.name)
        assert {choice.path: choice.changed for choice in beside.merging.choices} == {
            ("front", "fork_height_mm"): "left",
            ("rear", "rebound", "now"): "right",
        }
        assert COMMON in await merged_by_keys(pilot, app, copy)
        job = on_disk(app)
        assert (job.front.fork_height_mm, job.rear.rebound.now) == (5.0, 7.0)

        # now it takes the merged file, and both change the same field
        (other.places.jobs / path.name).write_bytes(path.read_bytes())
        bench(app).go_to(("rear", "rebound", "now"))
        app.session.put(("rear", "rebound", "now"), 5.0)  # type: ignore[union-attr]
        on_disk(app)
        copy.write_bytes(on_the_other_laptop(other, path.name, to=6.0))
        beside = beside_copy(app.workspace, copy.name)
        assert [choice.changed for choice in beside.merging.choices] == ["both"]
        assert beside.merging.base_is_common
