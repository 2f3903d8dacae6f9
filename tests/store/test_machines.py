"""The jobs of one machine are read out of a folder that holds others."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from stanchion.job.codec import dumps
from stanchion.store.library import Library, Opened
from stanchion.store.listing import JobRow, twins
from stanchion.store.machines import jobs_of, same_machine
from stanchion.store.paths import Places
from story_jobs import occasion, weekends


@pytest.fixture
def library(tmp_path: Path) -> Library:
    jobs = tmp_path / "jobs"
    jobs.mkdir()
    for name, job in weekends().items():
        (jobs / name).write_bytes(dumps(job))
    return Library(
        Places(jobs, tmp_path / "config", tmp_path / "state", tmp_path / "cache"), lambda job, before: ("", "")
    )


def of(machine: str, name: str = "") -> Callable[[list[JobRow]], list[JobRow]]:
    return lambda rows: same_machine(rows, machine, name)


def test_only_the_files_of_the_machine_are_read_whole(library: Library, monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[str] = []
    read = library.open

    def noted(path: Path) -> Opened:
        opened.append(path.name)
        return read(path)

    monkeypatch.setattr(library, "open", noted)
    found = jobs_of(library, of("grey mule"))
    assert sorted(name for name, _ in found.jobs) == ["a.toml", "b.toml", "c.toml"]
    assert sorted(opened) == ["a.toml", "b.toml", "c.toml"]
    assert (found.unreadable, found.of) == ((), 3)


def test_what_cannot_be_read_is_named(library: Library) -> None:
    jobs = library.places.jobs
    (jobs / "torn.toml").write_bytes(b"no = toml = here")
    whole = dumps(occasion(5))
    (jobs / "half.toml").write_bytes(whole[: whole.index(b"[rear]")] + b"x = [\n")  # its head can be read
    found = jobs_of(library, of("Grey Mule"))
    named = {one.name: one.certain for one in found.unreadable}
    assert named == {"torn.toml": False, "half.toml": True}
    assert len(found.jobs) == 3
    assert all(one.problem for one in found.unreadable)


def test_the_open_job_is_used_in_place_of_its_file(library: Library) -> None:
    held = occasion(3, front__left__adjuster__now=9.0)
    found = jobs_of(library, of("Grey Mule"), instead={"a.toml": held})
    assert dict(found.jobs)["a.toml"] is held


def test_stopped_it_gives_what_it_has_read(library: Library) -> None:
    done: list[int] = []
    found = jobs_of(
        library,
        of("Grey Mule"),
        progress=lambda what, one, _: done.append(one) if what == "read" else None,
        cancelled=lambda: len(done) == 2,
    )
    assert (len(found.jobs), found.of) == (2, 3)


def test_a_machine_without_a_name_is_no_other(library: Library) -> None:
    for name in ("u.toml", "v.toml"):
        (library.places.jobs / name).write_bytes(dumps(occasion(4, machine="")))
    assert [name for name, _ in jobs_of(library, of("", "u.toml")).jobs] == ["u.toml"]


def test_jobs_of_one_day_are_numbered_in_the_order_they_were_changed(library: Library, tmp_path: Path) -> None:
    day = occasion(3).job.date

    def row(name: str, at: int, machine: str = "Grey Mule", problem: str = "") -> JobRow:
        return JobRow(tmp_path, name, day, at, machine, "B. T.", "Gravel Loop", problem=problem)

    rows = [row("a", 30), row("b", 10, "grey  mule"), row("c", 20, "Red Heron"), row("d", 5, problem="torn")]
    assert twins(rows) == {"b": 1, "a": 2}


def test_a_copy_made_by_a_sync_tool_is_no_occasion_of_its_own(library: Library) -> None:
    jobs = library.places.jobs
    (jobs / "a.sync-conflict-20260517-101112-ABCDEFG.toml").write_bytes((jobs / "a.toml").read_bytes())
    found = jobs_of(library, of("grey mule"))
    assert sorted(name for name, _ in found.jobs) == ["a.toml", "b.toml", "c.toml"]
