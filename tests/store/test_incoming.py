"""Job files from a stick or a mail: checked as on opening, never written over another."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

import pytest

from stanchion.job.carry import carried
from stanchion.job.codec import dumps, loads
from stanchion.job.model import Job
from stanchion.store.incoming import EDITED, LATER, take_in
from stanchion.store.library import Library


@pytest.fixture
def stick(tmp_path: Path) -> Path:
    folder = tmp_path / "stick"
    folder.mkdir()
    return folder


def put(folder: Path, name: str, job: Job) -> Path:
    path = folder / name
    path.write_bytes(dumps(job))
    return path


def here(library: Library) -> dict[str, bytes]:
    folder = library.places.jobs
    return {path.name: path.read_bytes() for path in folder.iterdir()} if folder.exists() else {}


def test_a_job_is_taken_in_under_a_name_made_from_what_is_in_it(library: Library, stick: Path, job: Job) -> None:
    (one,) = take_in(library, [put(stick, "whatever it was called.toml", job)])
    assert (one.name, one.problem, one.note, one.already) == ("2026-05-31-grey-mule-a-venn.toml", "", "", False)
    assert loads(here(library)[one.name]).job == job


def test_a_name_that_is_taken_is_not_used_again(library: Library, stick: Path, job: Job) -> None:
    mine = library.create(replace(job, job=replace(job.job, notes="mine")))
    before = mine.path.read_bytes()
    (one,) = take_in(library, [put(stick, mine.path.name, job)])
    assert one.name == "2026-05-31-grey-mule-a-venn-2.toml"
    assert mine.path.read_bytes() == before
    assert loads(here(library)[one.name]).job == job


def test_a_job_that_is_there_already_is_not_written_twice(library: Library, stick: Path, job: Job) -> None:
    source = put(stick, "a.toml", job)
    first, second = take_in(library, [source, source])
    assert (first.already, second.already) == (False, True)
    assert first.name == second.name
    (third,) = take_in(library, [source])
    assert third.already
    assert len(here(library)) == 1


def test_a_file_of_the_jobs_folder_itself_is_not_changed(library: Library, job: Job) -> None:
    mine = library.create(job)
    (one,) = take_in(library, [mine.path])
    assert one.already
    assert list(here(library)) == [mine.path.name]


def test_what_it_was_carried_from_is_kept(library: Library, stick: Path, job: Job) -> None:
    later = carried(job, "2026-04-01-elsewhere.toml", job.job.date)
    (one,) = take_in(library, [put(stick, "later.toml", later)])
    assert loads(here(library)[one.name]).job.job.carried_from == "2026-04-01-elsewhere.toml"


@pytest.mark.parametrize("backwards", [False, True])
def test_jobs_that_follow_one_another_still_do_where_a_name_was_taken(
    library: Library, stick: Path, job: Job, backwards: bool
) -> None:
    library.create(replace(job, job=replace(job.job, notes="another machine of that name")))
    first = put(stick, "2026-05-31-grey-mule-a-venn.toml", job)
    later = carried(job, first.name, job.job.date.replace(day=1, month=6))
    second = put(stick, "2026-06-01-grey-mule-a-venn.toml", later)
    results = take_in(library, [second, first] if backwards else [first, second])
    by_source = {one.source: one for one in results}
    assert [one.source for one in results] == ([second, first] if backwards else [first, second])
    taken = library.open(library.places.jobs / by_source[second].name).job
    assert taken.job.carried_from == by_source[first].name == "2026-05-31-grey-mule-a-venn-2.toml"
    assert library.previous(taken) == job


def test_jobs_that_each_say_they_came_from_the_other_are_both_taken_in(library: Library, stick: Path, job: Job) -> None:
    files = [
        put(stick, f"{one}.toml", replace(job, job=replace(job.job, machine=one, carried_from=f"{other}.toml")))
        for one, other in (("a", "b"), ("b", "a"))
    ]
    assert [one.problem for one in take_in(library, files)] == ["", ""]


class TestRefused:
    def test_a_later_format_is_refused_for_a_copy_could_lose_what_it_holds(
        self, library: Library, stick: Path, job: Job
    ) -> None:
        source = stick / "later.toml"
        source.write_bytes(dumps(job).replace(b"format = 2", b"format = 99"))
        (one,) = take_in(library, [source])
        assert (one.name, one.problem) == ("", LATER)

    @pytest.mark.parametrize(
        ("content", "reason"),
        [
            (b"", "cut short"),
            (b"\x00\x01\x02", "line 1"),
            (b"\xff\xfe", "UTF-8"),
            (b"format = 1\n[job]\nmachine = 3\n[end]\ncomplete = true\n", "machine"),
        ],
    )
    def test_what_opening_refuses_is_refused_with_the_reason(
        self, library: Library, stick: Path, content: bytes, reason: str
    ) -> None:
        source = stick / "bad.toml"
        source.write_bytes(content)
        (one,) = take_in(library, [source])
        assert one.name == ""
        assert reason in one.problem

    def test_a_file_cut_short_is_refused(self, library: Library, stick: Path, job: Job) -> None:
        source = stick / "cut.toml"
        source.write_bytes(dumps(job)[:-40])
        (one,) = take_in(library, [source])
        assert "cut short" in one.problem

    def test_what_is_no_file_is_refused_and_does_not_hang(self, library: Library, stick: Path) -> None:
        sources = [stick, stick / "not there.toml"]
        if hasattr(os, "mkfifo"):
            os.mkfifo(stick / "pipe.toml")
            sources.append(stick / "pipe.toml")
        assert all(one.problem and not one.name for one in take_in(library, sources))
        assert here(library) == {}

    def test_the_others_are_taken_in_all_the_same(self, library: Library, stick: Path, job: Job) -> None:
        bad = stick / "bad.toml"
        bad.write_bytes(b"nonsense")
        one, other = take_in(library, [bad, put(stick, "good.toml", job)])
        assert one.problem
        assert other.name

    def test_a_folder_that_cannot_be_written_is_reported(self, library: Library, stick: Path, job: Job) -> None:
        library.places.jobs.write_text("a file where the folder should be")
        (one,) = take_in(library, [put(stick, "a.toml", job)])
        assert one.name == ""
        assert str(library.places.jobs) in one.problem


def test_a_file_changed_by_hand_is_taken_in_with_a_word(library: Library, stick: Path, job: Job) -> None:
    source = stick / "edited.toml"
    source.write_bytes(dumps(job).replace(b"Grey Mule", b"Grey Mare"))
    (one,) = take_in(library, [source])
    assert one.note == EDITED
    assert library.open(library.places.jobs / one.name).job.job.machine == "Grey Mare"


def test_keys_of_another_version_come_along(library: Library, stick: Path, job: Job) -> None:
    marked = replace(job, unknown=((("front", "coating"), "gold"),))
    (one,) = take_in(library, [put(stick, "a.toml", marked)])
    assert b"coating" in here(library)[one.name]


def test_the_file_on_the_stick_is_not_touched(library: Library, stick: Path, job: Job) -> None:
    source = put(stick, "a.toml", job)
    before = (source.read_bytes(), source.stat().st_mtime_ns)
    take_in(library, [source])
    assert (source.read_bytes(), source.stat().st_mtime_ns) == before
