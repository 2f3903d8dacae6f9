"""A job says that its machine has been set otherwise since, in a newer job."""

from __future__ import annotations

import datetime as dt
import os
from dataclasses import replace
from pathlib import Path

from driving import a_job, workspace_in
from judgement_jobs import put
from stanchion.bench.newer_setup import newer_setup
from stanchion.job.model import Job

FIRST = a_job(("rear.rebound.now", 12.0), ("front.left.rebound.now", 9.0))


def folder_with(folder: Path, *jobs: Job) -> list[str]:
    """Job files, each written a second after the one before."""
    workspace = workspace_in(folder)
    names = []
    for at, job in enumerate(jobs):
        workspace.create(job)
        assert workspace.flush()
        names.append(workspace.open_name)
        path = workspace.places.jobs / workspace.open_name
        os.utime(path, (1_780_000_000 + at, 1_780_000_000 + at))
    workspace.close()
    return names


def of_rider(job: Job, rider: str, days: int = 0) -> Job:
    return replace(job, job=replace(job.job, rider=rider, date=job.job.date + dt.timedelta(days)))


def test_another_rider_s_job_of_the_same_day_that_was_written_later_is_newer(tmp_path: Path) -> None:
    names = folder_with(tmp_path, FIRST, put(of_rider(FIRST, "C. D."), rear__rebound__now=8.0))
    found = newer_setup(workspace_in(tmp_path).library, names[0], FIRST)
    assert found is not None
    assert (found.name, found.occasion.rider, found.differences) == (names[1], "C. D.", 1)


def test_the_newest_of_several_counts(tmp_path: Path) -> None:
    later = put(of_rider(FIRST, "C. D.", 7), rear__rebound__now=8.0)
    between = put(of_rider(FIRST, "E. F.", 3), rear__rebound__now=10.0)
    names = folder_with(tmp_path, FIRST, later, between)
    found = newer_setup(workspace_in(tmp_path).library, names[0], FIRST)
    assert found is not None
    assert found.name == names[1]


def test_nothing_is_said_of_the_newest_job_of_the_same_setup_or_of_another_machine(tmp_path: Path) -> None:
    newest = put(of_rider(FIRST, "C. D.", 7), rear__rebound__now=8.0)
    names = folder_with(tmp_path / "a", FIRST, newest)
    assert newer_setup(workspace_in(tmp_path / "a").library, names[1], newest) is None
    names = folder_with(tmp_path / "b", FIRST, of_rider(FIRST, "C. D.", 7))
    assert newer_setup(workspace_in(tmp_path / "b").library, names[0], FIRST) is None
    names = folder_with(tmp_path / "c", FIRST, replace(newest, job=replace(newest.job, machine="Red Heron")))
    assert newer_setup(workspace_in(tmp_path / "c").library, names[0], FIRST) is None


def test_looking_stops_when_asked(tmp_path: Path) -> None:
    names = folder_with(tmp_path, FIRST, put(of_rider(FIRST, "C. D."), rear__rebound__now=8.0))
    assert newer_setup(workspace_in(tmp_path).library, names[0], FIRST, lambda: True) is None
