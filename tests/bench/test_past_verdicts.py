"""What helped before is read from the files of this machine only, each once, and can be stopped."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

import pytest

from driving import workspace_in
from judgement_jobs import FULL, put
from stanchion.bench import past_verdicts as reading
from stanchion.bench.past_verdicts import PastVerdicts
from stanchion.job.codec import Loaded, dumps, loads
from stanchion.job.model import Job, Run
from stanchion.store.library import Library

START = put(FULL, rear__rebound__now=10.0)
THEN = put(START, rear__rebound__now=12.0)


def ridden(machine: str, verdict: str) -> Job:
    runs = (
        Run(time="9:00", front=START.front, rear=START.rear),
        Run(time="9:40", verdict=verdict, front=THEN.front, rear=THEN.rear),
    )
    return replace(THEN, job=replace(THEN.job, machine=machine), runs=runs)


@pytest.fixture
def library(tmp_path: Path) -> Library:
    where = workspace_in(tmp_path).places
    where.jobs.mkdir(parents=True)
    jobs = {
        "a": ridden("Grey Mule", "better"),
        "b": ridden(" grey MULE", "worse"),
        "c": ridden("Grey Mule", "not_said"),
        "d": ridden("Red Heron", "better"),
    }
    for name, job in jobs.items():
        (where.jobs / f"{name}.toml").write_bytes(dumps(job))
    return workspace_in(tmp_path).library


def test_only_the_files_of_the_machine_are_read_and_only_those_with_a_verdict_whole(
    library: Library, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole: list[int] = []

    def counted(data: bytes) -> Loaded:
        whole.append(len(data))
        return loads(data)

    monkeypatch.setattr(reading, "loads", counted)
    past = PastVerdicts(library)
    found = past.of_machine("Grey Mule", "a.toml", instead={})
    assert sorted((one.file, one.verdict) for one in found.verdicts) == [("a.toml", "better"), ("b.toml", "worse")]
    assert len(whole) == 2
    assert past.of_machine("Grey Mule", "a.toml", instead={}) == found
    assert len(whole) == 2, "what a file gave is kept"


def test_a_file_that_was_written_again_is_read_again(library: Library) -> None:
    past = PastVerdicts(library)
    past.of_machine("Grey Mule", "a.toml", instead={})
    path = library.places.jobs / "a.toml"
    path.write_bytes(dumps(ridden("Grey Mule", "same")))
    os.utime(path, ns=(1, path.stat().st_mtime_ns + 5_000_000_000))
    found = past.of_machine("Grey Mule", "a.toml", instead={})
    assert sorted(one.verdict for one in found.verdicts) == ["same", "worse"]


def test_the_open_job_counts_as_it_is_now(library: Library) -> None:
    found = PastVerdicts(library).of_machine("Grey Mule", "a.toml", instead={"a.toml": ridden("Grey Mule", "worse")})
    assert [one.verdict for one in found.verdicts] == ["worse", "worse"]
    elsewhere = {"/stick/z.toml": ridden("Grey Mule", "same")}
    found = PastVerdicts(library).of_machine("Grey Mule", "/stick/z.toml", instead=elsewhere)
    assert sorted(one.verdict for one in found.verdicts) == ["better", "same", "worse"], "of another folder as well"


def test_a_damaged_file_is_counted_and_the_rest_is_read(library: Library) -> None:
    (library.places.jobs / "b.toml").write_bytes(b"format = 2\n[job]\nmachine = 'Grey Mule'\nverdict = ")
    found = PastVerdicts(library).of_machine("Grey Mule", "a.toml", instead={})
    assert (len(found.verdicts), found.unreadable) == (1, 1)


def test_reading_stops_between_two_files(library: Library) -> None:
    read: list[int] = []
    found = PastVerdicts(library).of_machine(
        "Grey Mule",
        "a.toml",
        instead={},
        progress=lambda what, done, of: read.append(done),
        cancelled=lambda: bool(read),
    )
    assert found.stopped
    assert len(found.verdicts) < 2
