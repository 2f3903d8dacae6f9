"""The marks of earlier states in a job's file."""

from __future__ import annotations

from stanchion.job.codec import dumps, loads
from stanchion.job.lineage import MOST, joined, read, written
from stanchion.job.model import Job

MARKS = tuple(f"{n:012x}" for n in range(MOST + 5))


def test_a_file_holds_them_beside_its_end_and_keeps_the_newest() -> None:
    lineage = joined(MARKS)
    assert lineage == MARKS[5:]
    data = dumps(Job(), lineage)
    loaded = loads(data)
    assert (loaded.follows, loaded.job, loaded.edited_by_hand) == (lineage, Job(), False)
    assert dumps(loaded.job, loaded.follows) == data


def test_anything_else_under_that_key_is_kept_as_a_key_that_is_not_known() -> None:
    data = dumps(Job(), MARKS[:1]).replace(MARKS[0].encode(), b"not a mark")
    loaded = loads(data)
    assert loaded.follows == ()
    assert loaded.job.unknown == ((("end", "follows"), "not a mark"),)
    assert read(written(MARKS)) is None  # more than a file holds
