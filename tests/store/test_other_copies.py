"""The other copies of one job are those that the list of the whole folder names, found without keeping the whole folder in memory."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from driving import a_job
from stanchion.job.codec import dumps
from stanchion.job.model import Job
from stanchion.store.disk import Disk
from stanchion.store.library import Library
from stanchion.store.listing import copies_in
from stanchion.store.other_copies import OtherCopies
from stanchion.store.paths import Places

ADDED = ("", " (1)", " (2)", " - Copy", "-2", ".sync-conflict-20260531-101500-ABCDEFG", " (A. Venn's conflicted copy)")
OLD_NS = 1_700_000_000 * 10**9


class Counting(Disk):
    """Counts the files that are opened."""

    opened = 0

    def open(self, path: Path, flags: int, mode: int = 0o600) -> int:
        """A descriptor of the file."""
        self.opened += 1
        return super().open(path, flags, mode)


def put(folder: Path, name: str, job: Job | None, at: int = 0) -> None:
    """A file that was settled long ago; None: one that cannot be read."""
    (folder / name).write_bytes(dumps(job) if job is not None else b"<<<<<<< mine\n")
    os.utime(folder / name, ns=(OLD_NS + at, OLD_NS + at))


def one(dice: Random) -> Job:
    """A job that may well be a copy of another: few machines, few ids, and often none."""
    job = a_job(machine=dice.choice(("Grey Mule", "Tin Hare")), rider=dice.choice(("B. T.", "A. V.")))
    return replace(job, job=replace(job.job, id=dice.choice(("", "", "x1", "x2", "x3"))))


@pytest.fixture
def places(tmp_path: Path) -> Places:
    found = Places(tmp_path / "jobs", tmp_path / "config", tmp_path / "state", tmp_path / "cache")
    found.jobs.mkdir()
    return found


@pytest.mark.parametrize("seed", range(40))
def test_they_are_those_of_the_list(places: Places, seed: int) -> None:
    dice = Random(seed)
    for at in range(dice.randrange(2, 14)):
        name = f"{dice.choice(('a', 'b'))}{dice.choice(ADDED)}.toml"
        put(places.jobs, name, one(dice) if dice.random() < 0.85 else None, at)
    rows = Library(places, lambda job, previous: ("", "")).rows()
    for row in rows:
        if row.problem:
            continue  # what cannot be read cannot be open
        finder = OtherCopies(places.jobs, row.name)
        assert finder.look() == copies_in(rows, row.name)
        assert finder.look() == copies_in(rows, row.name), "a second look"


def test_what_has_nothing_to_do_with_the_job_is_read_once(places: Places, monkeypatch: pytest.MonkeyPatch) -> None:
    disk = Counting()
    monkeypatch.setattr(disk, "now", lambda: 4e9)  # the time of the files' records cannot be set back
    mine = replace(a_job(), job=replace(a_job().job, id="x1"))
    put(places.jobs, "mine.toml", mine)
    for at in range(20):
        put(places.jobs, f"other-{at}.toml", a_job(rider=f"rider {at}"))
    finder = OtherCopies(places.jobs, "mine.toml", disk)
    assert finder.look() == []
    assert disk.opened == 22  # mine twice
    disk.opened = 0
    assert finder.look() == []
    assert disk.opened == 2
    put(places.jobs, "other-7.toml", replace(mine, job=replace(mine.job, rider="changed")), 9)
    assert finder.look() == ["other-7.toml"]
    put(places.jobs, "mine.toml", replace(mine, job=replace(mine.job, rider="rider 3")), 9)
    put(places.jobs, "mine (1).toml", replace(mine, job=replace(mine.job, rider="rider 3", id="")), 9)
    assert finder.look() == ["mine (1).toml", "other-7.toml"]


def test_a_look_that_was_given_up_goes_on_where_it_was(places: Places, monkeypatch: pytest.MonkeyPatch) -> None:
    disk = Counting()
    monkeypatch.setattr(disk, "now", lambda: 4e9)
    for at in range(30):
        put(places.jobs, f"other-{at}.toml", a_job(rider=f"rider {at}"))
    finder = OtherCopies(places.jobs, "other-0.toml", disk)
    for _ in range(3):
        disk.opened = 0
        assert finder.look(lambda: disk.opened > 9) is None
    disk.opened = 0
    assert finder.look() == []
    assert disk.opened < 12


def test_a_folder_that_is_gone_is_said(places: Places) -> None:
    with pytest.raises(OSError, match="No such file"):
        OtherCopies(places.jobs / "gone", "a.toml").look()
