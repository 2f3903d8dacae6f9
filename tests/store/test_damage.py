"""A job file cut anywhere, or with any bit flipped, is flagged, never opened as if whole, and never written over."""

from __future__ import annotations

import random
import re
from pathlib import Path

import pytest

from complete_job import complete_job
from stanchion.base.errors import BadFile
from stanchion.job.model import Job
from stanchion.store.jobfile import JobFile
from stanchion.store.library import Library, encoded
from stanchion.store.paths import Places
from store.conftest import judge

FLIPS = 5_000


def put_there(library: Library, data: bytes) -> Path:
    library.places.jobs.mkdir(exist_ok=True)
    path = library.places.jobs / "job.toml"
    path.write_bytes(data)
    return path


def test_every_prefix_of_a_job_file_is_refused_and_not_changed(library: Library, job: Job) -> None:
    whole = encoded(job)
    for end in range(len(whole) - 1):
        path = put_there(library, whole[:end])
        with pytest.raises(BadFile):
            library.open(path)
        assert path.read_bytes() == whole[:end]
    only_the_last_line_end_is_gone = library.open(put_there(library, whole[:-1]))
    assert only_the_last_line_end_is_gone.edited_by_hand
    assert only_the_last_line_end_is_gone.job == job
    assert library.open(put_there(library, whole)).job == job


@pytest.mark.long
def test_every_prefix_of_a_full_job_is_refused(library: Library) -> None:
    """After every table and the first line of every key, and anywhere: the same keys in a later run are cut alike."""
    whole = encoded(complete_job(2))
    chance = random.Random(4)
    begins: dict[bytes, int] = {}
    for line in re.finditer(rb"^(\[.*|[^=\n]*).*\n", whole[:-1], re.MULTILINE):
        begins.setdefault(line[1], line.end())
    for end in {*begins.values(), *chance.sample(range(len(whole)), 150)}:
        with pytest.raises(BadFile):
            library.open(put_there(library, whole[:end]))


@pytest.mark.long
def test_five_thousand_flipped_bits_are_refused_or_flagged_and_kept_before_anything_is_written(
    library: Library, job: Job
) -> None:
    whole = encoded(job)
    chance = random.Random(20260531)
    refused = flagged = kept = 0
    for number in range(FLIPS):
        at = chance.randrange(len(whole) * 8)
        data = bytearray(whole)
        data[at // 8] ^= 1 << at % 8
        path = put_there(library, bytes(data))
        try:
            opened = library.open(path)
        except BadFile:
            refused += 1
            assert path.read_bytes() == data
            continue
        flagged += 1
        assert opened.read_only or (opened.edited_by_hand and "damaged: check the values" in opened.note)
        if number % 10 == 0 and not opened.read_only:
            JobFile(library, opened).save(job)
            assert library.history.states(path)[0].path.read_bytes() == data
            kept += 1
    assert refused + flagged == FLIPS
    assert kept > 50
    print(f"{FLIPS} flips: {refused} refused, {flagged} opened and flagged, {kept} of these saved over after a copy")


@pytest.mark.parametrize("end", [0, 1, 40, -2])
def test_the_list_shows_a_damaged_job_with_the_reason_and_offers_its_newest_whole_state(
    places: Places, job: Job, end: int
) -> None:
    library = Library(places, judge)
    file = JobFile(library, library.create(job))
    file.save(complete_job(2))
    file.path.write_bytes(file.path.read_bytes()[:end])
    (row,) = library.rows()
    assert row.problem
    found = library.history.newest_good(file.path)
    assert found is not None
    assert found[1].job == job
