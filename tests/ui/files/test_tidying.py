"""A moment after the start what a killed run left half-written is gone, and nothing else is."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from complete_job import complete_job
from driving import app_on
from stanchion.store.temporary import STALE_S, _machine
from timing import eventually

OLD = 1_700_000_000


def dead() -> int:
    """The number of a process that is no more."""
    gone = subprocess.Popen([sys.executable, "-c", ""])
    gone.wait()
    return gone.pid


async def test_what_a_killed_run_left_goes_a_moment_after_the_start(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("stanchion.ui.app.TIDY_AFTER_S", 0.05)
    app = app_on(tmp_path, complete_job())
    (job,) = (tmp_path / "jobs").glob("*.toml")
    ours = f".stanchion-{_machine()}-{dead()}-0123abcd.part"
    history = tmp_path / "state" / "history" / "some-job"
    history.mkdir(parents=True)
    left = [tmp_path / "jobs" / ours, history / ours]
    strange = [
        tmp_path / "jobs" / ".other.part",
        tmp_path / "jobs" / f".stanchion-{_machine()}-{os.getpid()}-0123abcd.part",
    ]
    for path in (*left, *strange):
        path.write_bytes(b"half")
        os.utime(path, (OLD - STALE_S, OLD - STALE_S))
    async with app.run_test() as pilot:
        await eventually(pilot, lambda: not any(path.exists() for path in left))
    assert all(path.exists() for path in (job, *strange))
