"""Where attached files are, copies of them beside the job, and opening them with what the system has."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from stanchion.base.errors import NotOpened, NotSaved
from stanchion.bench.attached_files import completed, copy_beside, look_at, open_file
from stanchion.job.model import Attached, Job


def test_a_path_is_found_from_the_folder_of_the_job_and_from_where_the_program_was_started(tmp_path: Path) -> None:
    jobs, elsewhere = tmp_path / "jobs", tmp_path / "photos"
    for folder in (jobs, elsewhere):
        folder.mkdir()
    (elsewhere / "fork.jpg").write_bytes(b"x")
    (jobs / "dyno.csv").write_bytes(b"y")
    typed = ("dyno.csv", "fork.jpg", f"'{elsewhere / 'fork.jpg'}'", "gone.pdf")
    job = Job(attached=tuple(Attached(path=one) for one in typed))
    found = look_at(job, jobs / "job.toml", elsewhere)
    assert [(one.path, one.there, one.beside) for one in found] == [
        ("dyno.csv", True, True),
        ("../photos/fork.jpg", True, False),
        ("../photos/fork.jpg", True, False),
        ("gone.pdf", False, False),
    ]


def test_a_path_is_completed_as_far_as_only_one_name_can_be_meant(tmp_path: Path) -> None:
    jobs, elsewhere = tmp_path / "jobs", tmp_path / "photos"
    for folder in (jobs, elsewhere / "fork side"):
        folder.mkdir(parents=True)
    for name in ("fork side/left.jpg", "fork-1.jpg", "fork-2.jpg", ".hidden"):
        (elsewhere / name).write_bytes(b"x")
    (jobs / "dyno.csv").write_bytes(b"y")

    def whole(typed: str) -> str:
        return completed(typed, jobs, elsewhere)

    assert [whole(one) for one in ("d", "dyno.csv", "x", "fork", "fork-", "fork s", "fork side/", ".h")] == [
        *("dyno.csv", "", "", "", "", "fork side/", "fork side/left.jpg", ".hidden"),
    ]
    assert whole("../ph") == "../photos/"
    assert whole(f"{elsewhere}/fork-") == ""
    assert whole(f"'{elsewhere}/f") == f"{elsewhere}/fork"
    assert whole("/no/such/fol") == whole("~nobody-of-that-name/x") == ""


def test_a_copy_is_made_under_a_name_that_is_free(tmp_path: Path) -> None:
    photo = tmp_path / "fork.jpg"
    photo.write_bytes(bytes(range(256)) * 100)
    jobs = tmp_path / "jobs"
    assert copy_beside(photo, jobs, "job") == "files/job/fork.jpg"
    assert copy_beside(photo, jobs, "job") == "files/job/fork-2.jpg"
    assert (jobs / "files/job/fork-2.jpg").read_bytes() == photo.read_bytes()
    with pytest.raises(NotSaved, match="was not copied"):
        copy_beside(tmp_path / "gone.jpg", jobs, "job")


def opener(folder: Path, script: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A program of that name is the only opener there is."""
    folder.mkdir()
    name = folder / ("open" if sys.platform == "darwin" else "xdg-open")
    name.write_text(f"#!/bin/sh\n{script}\n")
    name.chmod(0o755)
    monkeypatch.setenv("PATH", f"{folder}")


@pytest.mark.skipif(sys.platform == "win32", reason="the opener is a shell script here")
def test_the_opener_is_given_the_whole_path_and_what_it_cannot_do_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    photo, taken = tmp_path / "-a photo.jpg", tmp_path / "taken"
    photo.write_bytes(b"x")
    monkeypatch.setenv("PATH", str(tmp_path / "nothing"))
    with pytest.raises(NotOpened, match=r"no command .*a photo\.jpg: open it from there"):
        open_file(photo)
    opener(tmp_path / "bin", f'echo "$1" > {taken}', monkeypatch)
    open_file(photo)
    assert taken.read_text().strip() == str(photo)
    opener(tmp_path / "bad", "exit 3", monkeypatch)
    with pytest.raises(NotOpened, match="status 3"):
        open_file(photo)
    program = tmp_path / "run.jpg"
    program.write_bytes(b"x")
    program.chmod(0o755)
    for refused in (program, tmp_path / "gone.jpg"):
        with pytest.raises(NotOpened, match=r"as a program|missing"):
            open_file(refused)
