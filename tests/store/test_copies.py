"""Other copies of a job are noticed by what is inside them, and by their names only where nothing better is there."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from stanchion.job.codec import dumps
from stanchion.job.model import Job
from stanchion.store.copies import CopyCandidate, copies
from stanchion.store.jobfile import JobFile
from stanchion.store.library import Library
from stanchion.store.listing import copies_in

WHO = ("Grey Mule", "A. Venn", "2026-05-31", "")
STEM = "2026-05-31-grey-mule-a-venn"
LEFT_BY_TOOLS = [
    f"{STEM}.sync-conflict-20260531-101500-ABCDEFG.toml",
    f"{STEM} (conflicted copy 2026-05-31 101500).toml",
    f"{STEM} (bench-laptop's conflicted copy 2026-05-31).toml",
    f"{STEM} (1).toml",
    f"{STEM} 2.toml",
    f"{STEM} - Copy.toml",
    f"{STEM} copy.toml",
]
BY_HOST = f"{STEM}-BENCH.toml"


@pytest.mark.parametrize("name", [*LEFT_BY_TOOLS, BY_HOST, "sunday.toml", "a.toml"])
def test_one_id_is_one_job_whatever_the_name(name: str) -> None:
    files = [CopyCandidate(f"{STEM}.toml", "x", WHO), CopyCandidate(name, "x", ("renamed",))]
    found = copies(files)
    assert len(found) == 1
    if name in LEFT_BY_TOOLS:
        assert found == {name: f"{STEM}.toml"}


@pytest.mark.parametrize("name", [*LEFT_BY_TOOLS, BY_HOST])
def test_two_ids_are_two_jobs_whatever_the_name(name: str) -> None:
    assert copies([CopyCandidate(f"{STEM}.toml", "x", WHO), CopyCandidate(name, "y", WHO)]) == {}


@pytest.mark.parametrize("name", [*LEFT_BY_TOOLS, BY_HOST])
@pytest.mark.parametrize("ids", [("", ""), ("x", ""), ("", "x")])
def test_without_ids_the_same_job_under_a_name_with_something_added_is_a_copy(name: str, ids: tuple[str, str]) -> None:
    files = [CopyCandidate(f"{STEM}.toml", ids[0], WHO), CopyCandidate(name, ids[1], WHO)]
    assert copies(files) == {name: f"{STEM}.toml"}


@pytest.mark.parametrize("name", [*LEFT_BY_TOOLS, BY_HOST])
def test_without_ids_another_occasion_is_another_job(name: str) -> None:
    assert copies([CopyCandidate(f"{STEM}.toml", "", WHO), CopyCandidate(name, "", (*WHO[:2], "2026-06-01", ""))]) == {}


def test_a_second_job_of_the_day_that_this_program_numbered_is_no_copy() -> None:
    assert copies([CopyCandidate(f"{STEM}.toml", "", WHO), CopyCandidate(f"{STEM}-2.toml", "", WHO)]) == {}


@pytest.mark.parametrize("name", LEFT_BY_TOOLS)
def test_an_unreadable_copy_is_recognised_by_a_name_that_no_person_types(name: str) -> None:
    assert copies([CopyCandidate(f"{STEM}.toml", "x", WHO), CopyCandidate(name, "", None)]) == {name: f"{STEM}.toml"}
    assert copies([CopyCandidate(f"{STEM}.toml", "x", WHO), CopyCandidate(BY_HOST, "", None)]) == {}
    assert copies([CopyCandidate(name, "", None)]) == {}


def test_several_copies_are_listed_under_one_job() -> None:
    files = [CopyCandidate(name, "x", WHO) for name in (*LEFT_BY_TOOLS, f"{STEM}.toml")]
    assert copies(files) == dict.fromkeys(LEFT_BY_TOOLS, f"{STEM}.toml")


def test_the_list_has_copies_below_their_job_and_remembers_nothing_wrong(library: Library, job: Job) -> None:
    mine = library.create(replace(job, job=replace(job.job, id="x")))
    library.create(replace(job, job=replace(job.job, id="y", machine="Tin Hare")))
    copy = mine.path.with_name(f"{mine.path.stem} (1).toml")
    copy.write_bytes(mine.data)
    for _ in range(2):  # the second time from the index
        rows = library.rows()
        names = [row.name for row in rows]
        assert names.index(copy.name) == names.index(mine.path.name) + 1
        assert [row.copy_of for row in rows if row.copy_of] == [mine.path.name]
        assert copies_in(rows, mine.path.name) == [copy.name]
        assert copies_in(rows, copy.name) == [mine.path.name]
    copy.unlink()
    assert not any(row.copy_of for row in library.rows())


def test_a_copy_with_two_versions_in_it_is_listed_below_its_job_and_says_what_it_is(library: Library, job: Job) -> None:
    mine = library.create(job)
    copy: Path = mine.path.with_name(f"{mine.path.stem} (1).toml")
    copy.write_bytes(b"<<<<<<< mine\n" + dumps(job) + b"=======\n" + dumps(job) + b">>>>>>> theirs\n")
    row = library.rows()[1]
    assert (row.copy_of, "version-control system left two versions" in row.problem) == (mine.path.name, True)


def test_a_file_from_before_ids_gets_none_when_it_is_saved_and_its_copy_stays_known(library: Library, job: Job) -> None:
    path = library.create(replace(job, job=replace(job.job, id=""))).path
    copy = path.with_name(f"{path.stem} (1).toml")
    copy.write_bytes(path.read_bytes())
    opened = library.open(path)
    JobFile(library, opened).save(replace(opened.job, job=replace(opened.job.job, notes="changed")))
    assert library.open(path).job.job.id == ""
    assert copies_in(library.rows(), path.name) == [copy.name]
