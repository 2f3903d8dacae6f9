from __future__ import annotations

import os
import random
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path

import pytest

from stanchion.job.model import Job
from stanchion.job.venue import VenueNotes
from stanchion.store.disk import Disk
from stanchion.store.library import Library
from stanchion.store.paths import Places
from stanchion.store.temporary import sweep
from stanchion.store.venues import load_venues, save_notes

KILLS = int(os.environ.get("STANCHION_KILLS", "30"))
SAVER = Path(__file__).with_name("saver.py")
NOTES_SAVER = Path(__file__).with_name("notes_saver.py")


class Later(Disk):
    """Two minutes on."""

    def now(self) -> float:
        return super().now() + 120


@pytest.mark.long
def test_killed_at_any_moment_the_job_is_whole_and_no_acknowledged_edit_is_lost(
    library: Library, job: Job, tmp_path: Path
) -> None:
    made = library.create(replace(job, job=replace(job.job, notes="0 ")))
    chance = random.Random(20260531)
    saved = 0
    for _ in range(KILLS):
        saver = subprocess.Popen(
            [sys.executable, str(SAVER), str(tmp_path), made.path.name], stdout=subprocess.PIPE, text=True
        )
        assert saver.stdout is not None
        first = saver.stdout.readline()
        time.sleep(chance.random() * 0.03)
        saver.kill()
        said = [first, *saver.stdout.read().splitlines(keepends=True)]
        saver.stdout.close()
        saver.wait()
        acknowledged = [int(line) for line in said if line.endswith("\n")]
        assert acknowledged, "the saver never saved"
        opened = library.open(made.path)
        number, filling = opened.job.job.notes.split(" ")
        assert not opened.edited_by_hand
        assert filling == "x" * (int(number) * 37 % 1500)
        assert acknowledged[-1] <= int(number) <= acknowledged[-1] + 1
        saved = int(number)
    assert saved > KILLS
    folders = [library.places.jobs, *library.places.history.iterdir()]
    for folder in folders:
        sweep(folder, Later())
        assert [one.name for one in folder.iterdir() if not one.name.endswith(".toml")] == []


@pytest.mark.long
def test_killed_at_any_moment_the_notes_on_venues_are_whole_and_no_acknowledged_one_is_lost(
    places: Places, tmp_path: Path
) -> None:
    venue = "Gravel Loop"
    save_notes(VenueNotes(name="Lake Ring"), VenueNotes(name="Lake Ring", surface="new tarmac"), places)
    chance = random.Random(20260531)
    saved = 0
    for _ in range(KILLS):
        saver = subprocess.Popen(
            [sys.executable, str(NOTES_SAVER), str(tmp_path), venue], stdout=subprocess.PIPE, text=True
        )
        assert saver.stdout is not None
        first = saver.stdout.readline()
        time.sleep(chance.random() * 0.03)
        saver.kill()
        said = [first, *saver.stdout.read().splitlines(keepends=True)]
        saver.stdout.close()
        saver.wait()
        acknowledged = [int(line) for line in said if line.endswith("\n")]
        assert acknowledged, "the saver never saved"
        found = load_venues(places)
        assert not found.problem
        number, filling = found.of(venue).surface.split(" ")
        assert filling == "x" * (int(number) * 7 % 70)
        assert acknowledged[-1] <= int(number) <= acknowledged[-1] + 1
        assert found.of("Lake Ring").surface == "new tarmac"
        saved = int(number)
    assert saved > KILLS
    sweep(places.config, Later())
    assert [one.name for one in places.config.iterdir() if not one.name.endswith(".toml")] == []
