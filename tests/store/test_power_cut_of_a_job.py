"""Making, saving, deleting and bringing back a job, with the power cut after every single call."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from stanchion.base.errors import BadFile
from stanchion.job.codec import loads
from stanchion.job.model import Job
from stanchion.store.jobfile import JobFile
from stanchion.store.library import Library
from stanchion.store.paths import Places
from store.conftest import judge
from store.recording import Recording, Tree

if sys.platform == "win32":
    pytest.skip("Windows flushes no folders", allow_module_level=True)


def edited(job: Job, notes: str) -> Job:
    return replace(job, job=replace(job.job, notes=f"{notes} {'x' * 1900}"))


def notes_in(tree: Tree, *folders: str) -> list[str]:
    """What the job files of these folders hold; one that is not whole gives "corrupt"."""
    found = []
    for name, data in tree.items():
        if name.startswith(folders) and name.endswith(".toml"):
            try:
                loaded = loads(data)
            except BadFile:
                found.append("corrupt")
            else:
                found.append("corrupt" if loaded.edited_by_hand else loaded.job.job.notes.split(" ")[0])
    return found


class Bench:
    """What must be found after a cut, and how often that was asked."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.disk = Recording(root)
        places = Places(root / "jobs", root / "config", root / "state", root / "cache")
        self.library = Library(places, judge, disk=self.disk)
        self.required: list[set[str]] = []
        """Of each set, one at least must be found among the jobs, or where jobs are kept."""
        self.where: tuple[str, ...] = ("jobs",)
        self.kept: set[str] = set()
        """These must be found among the earlier states."""
        self.cuts = 0
        self.corrupt = 0
        self.lost: list[object] = []
        self.disk.after_each = self.look

    def look(self) -> None:
        for tree in self.disk.after_a_cut():
            self.cuts += 1
            everywhere = notes_in(tree, "jobs", "state")
            self.corrupt += everywhere.count("corrupt")
            here = notes_in(tree, *self.where)
            self.lost += [one for one in self.required if not one & set(here)]
            self.lost += [one for one in self.kept if one not in notes_in(tree, "state/history")]

    def during(self, step: Callable[[], object], required: list[set[str]], afterwards: list[set[str]]) -> None:
        """Do a step, with what must be found at every moment of it, and what once it has said that it is done."""
        self.required = required
        step()
        self.required = afterwards
        self.look()


@pytest.mark.long
def test_at_every_moment_every_job_is_whole_and_every_saved_edit_there(tmp_path: Path, job: Job) -> None:
    bench = Bench(tmp_path)
    library = bench.library
    made: list[JobFile] = []
    bench.during(lambda: made.append(JobFile(library, library.create(edited(job, "a")))), [], [{"a"}])
    file = made[0]
    bench.during(lambda: file.save(edited(job, "b")), [{"a", "b"}], [{"b"}])
    bench.kept = {"a"}
    bench.during(lambda: file.save(edited(job, "c")), [{"b", "c"}], [{"c"}])
    bench.during(lambda: file.keep(edited(job, "c"), "before-bringing-back"), [{"c"}], [{"c"}])
    bench.kept = {"a", "c"}
    bench.during(lambda: file.save(edited(job, "a")), [{"c", "a"}], [{"a"}])
    bench.during(lambda: file.overwrite(edited(job, "d")), [{"a", "d"}], [{"d"}])
    bench.during(lambda: file.spill(edited(job, "e")), [{"d"}], [{"d"}])
    assert "e" in notes_in(next(iter(bench.disk.after_a_cut())), "state/unsaved")
    path = file.path
    bench.during(lambda: file.copy(edited(job, "e"), another_job=True), [{"d"}], [{"d"}, {"e"}])
    bench.where = ("jobs", "state/bin")
    bench.during(lambda: library.delete(path), [{"d"}, {"e"}], [{"d"}, {"e"}])
    bench.during(lambda: library.restore(library.bin.list()[0]), [{"d"}, {"e"}], [{"d"}, {"e"}])
    bench.where = ("jobs",)
    bench.look()
    bench.disk.end()
    assert (bench.corrupt, bench.lost) == (0, [])
    assert bench.cuts > 150
    print(f"{bench.cuts} states after a cut: 0 corrupt, 0 saved edits lost")


@pytest.mark.parametrize("lazy", ["sync", "sync_folder"])
def test_the_model_catches_a_disk_that_does_not_flush(
    tmp_path: Path, job: Job, lazy: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench = Bench(tmp_path)
    made = JobFile(bench.library, bench.library.create(edited(job, "a")))
    monkeypatch.setattr(bench.disk, lazy, lambda fd: None)
    bench.during(lambda: made.save(edited(job, "b")), [{"a", "b"}], [{"b"}])
    bench.disk.end()
    assert bench.corrupt > 0 if lazy == "sync" else bench.lost
