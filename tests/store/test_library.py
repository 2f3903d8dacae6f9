from __future__ import annotations

import datetime as dt
import errno
import os
import random
import sys
from dataclasses import replace
from pathlib import Path
from time import process_time
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from stanchion.base.errors import BadFile, NotSaved
from stanchion.job.codec import dumps, loads
from stanchion.job.edit import Edit, apply
from stanchion.job.model import Job, Occasion
from stanchion.store import listing
from stanchion.store.deleted import MOST as MOST_DELETED
from stanchion.store.deleted import Bin
from stanchion.store.disk import Disk, Entry
from stanchion.store.history import LAST, History
from stanchion.store.library import Library, encoded
from stanchion.store.listing import JobRow, Listing, matching
from stanchion.store.paths import Places
from stanchion.store.sources import content_of
from store.conftest import judge
from store.faulty import ERRNOS, Faulty
from timing import medians_ms


def a_job(machine: str = "Grey Mule", day: int = 1, **other: object) -> Job:
    rate = other.pop("rate", None)
    made = Job(job=Occasion(machine=machine, date=dt.date(2026, 5, day), **other))  # type: ignore[arg-type]
    return apply(made, Edit(("rear", "spring", "rate_n_per_mm"), rate))


# --- making and opening -------------------------------------------------------------------------------------------


def test_a_new_job_is_on_disk_at_once_and_opens_as_it_was_made(library: Library, job: Job) -> None:
    made = library.create(job)
    assert made.path == library.places.jobs / "2026-05-31-grey-mule-a-venn.toml"
    assert loads(made.path.read_bytes()).job == job
    opened = library.open(made.path)
    assert (opened.job, opened.sha, opened.data) == (job, made.sha, made.path.read_bytes())
    assert not opened.read_only
    assert not opened.edited_by_hand
    assert opened.note == ""


def test_a_second_job_of_the_day_gets_a_name_of_its_own(library: Library, job: Job) -> None:
    names = [library.create(job).path.name for _ in range(3)]
    stem = "2026-05-31-grey-mule-a-venn"
    assert names == [f"{stem}.toml", f"{stem}-2.toml", f"{stem}-3.toml"]


def test_a_name_that_differs_in_capitals_only_counts_as_taken(library: Library, job: Job) -> None:
    library.places.jobs.mkdir()
    (library.places.jobs / "2026-05-31-GREY-MULE-A-VENN.TOML").write_bytes(b"theirs")
    assert library.create(job).path.name == "2026-05-31-grey-mule-a-venn-2.toml"


def test_a_job_no_file_can_hold_is_refused_before_anything_is_written(library: Library, job: Job) -> None:
    with pytest.raises(NotSaved, match=r"cannot hold it|read back"):
        library.create(replace(job, unknown=((("x",), float("nan")),)))
    assert not library.places.jobs.exists()


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EIO, errno.EEXIST])
def test_a_job_that_cannot_be_made_is_said_and_leaves_nothing(places: Places, job: Job, number: int) -> None:
    places.jobs.mkdir()
    with pytest.raises(NotSaved):
        Library(places, judge, disk=Faulty(number, only="settle", for_good=True)).create(job)
    assert list(places.jobs.iterdir()) == []


def test_a_file_edited_by_hand_opens_and_says_so(library: Library, job: Job) -> None:
    made = library.create(job)
    made.path.write_text(made.path.read_text().replace("Grey", "Blue"))
    opened = library.open(made.path)
    assert opened.job.job.machine == "Blue Mule"
    assert opened.edited_by_hand
    assert "edited outside the program" in opened.note


def test_a_file_of_a_later_version_opens_to_look_at_only(library: Library, job: Job) -> None:
    made = library.create(job)
    made.path.write_text(made.path.read_text().replace("format = 2", "format = 99"))
    opened = library.open(made.path)
    assert opened.read_only
    assert "later version" in opened.note


@pytest.mark.skipif(sys.platform == "win32", reason="modes of POSIX systems")
def test_a_file_marked_read_only_opens_to_look_at_only(library: Library, job: Job) -> None:
    made = library.create(job)
    made.path.chmod(0o444)
    opened = library.open(made.path)
    assert opened.read_only
    assert "save as a copy" in opened.note


def test_what_cannot_be_opened_is_reported_and_not_changed(library: Library, job: Job) -> None:
    made = library.create(job)
    cut = made.data[: len(made.data) // 2]
    made.path.write_bytes(cut)
    with pytest.raises(BadFile, match="cut short"):
        library.open(made.path)
    assert made.path.read_bytes() == cut
    with pytest.raises(BadFile, match="cannot be read: the file or its folder is gone"):
        library.open(library.places.jobs / "missing.toml")
    with pytest.raises(BadFile, match="folder"):
        library.open(library.places.jobs)


def test_a_copy_goes_beside_or_where_there_is_room(library: Library, job: Job, tmp_path: Path) -> None:
    other = tmp_path / "stick"
    other.mkdir()
    assert library.copy_beside(job, other / "x.toml").path.parent == other
    (tmp_path / "no folder").write_bytes(b"")
    assert library.copy_beside(job, tmp_path / "no folder" / "x.toml").path.parent == library.places.jobs


# --- the list -------------------------------------------------------------------------------------------------------


def test_the_list_is_newest_first_and_says_what_matters(library: Library) -> None:
    old = library.create(a_job("Old One", 1, rate=90.0, venue="Lake", id="old"))
    library.create(a_job("New One", 9, rider="B. Quist", use="road", sample=True))
    library.create(a_job("Next One", 5, rate=95.0, carried_from=old.path.name, carried_id="old"))
    rows = library.rows()
    assert [row.machine for row in rows] == ["New One", "Next One", "Old One"]
    assert (rows[0].rider, rows[0].use, rows[0].sample, rows[0].date) == ("B. Quist", "road", True, dt.date(2026, 5, 9))
    assert (rows[1].severity, rows[1].headline) == ("warning", "spring 95.0 was 90.0")
    assert (rows[2].severity, rows[2].venue, rows[2].path) == ("note", "Lake", old.path)
    assert all(row.problem == "" and row.judged for row in rows)


def test_of_two_jobs_of_a_day_the_one_written_last_comes_first(library: Library) -> None:
    first, second = library.create(a_job()), library.create(a_job())
    os.utime(first.path, ns=(0, 2_000_000_000))
    os.utime(second.path, ns=(0, 1_000_000_000))
    assert [row.name for row in library.rows()] == [first.path.name, second.path.name]


def test_the_list_filters_by_every_word_whatever_its_case_or_accents(library: Library) -> None:
    library.create(a_job("Grüne Möwe", 1, venue="Lake"))
    library.create(a_job("Grey Mule", 2, venue="Lake"))
    assert [row.machine for row in library.rows("LAKE mowe")] == ["Grüne Möwe"]
    assert [row.machine for row in library.rows("2026-05-02")] == ["Grey Mule"]
    assert library.rows("lake nowhere") == []
    assert len(library.rows("  ")) == 2


def test_without_a_folder_the_list_is_empty(library: Library) -> None:
    assert library.rows() == []
    assert library.is_empty()
    assert not library.places.jobs.exists()


@pytest.mark.skipif(sys.platform == "win32", reason="names and files only POSIX systems have")
def test_nothing_in_the_folder_breaks_the_list_and_no_file_is_hidden(library: Library, job: Job) -> None:
    good = library.create(job).path.name
    folder = library.places.jobs
    (folder / "folder.toml").mkdir()
    (folder / "circle.toml").symlink_to("circle.toml")
    (folder / "nowhere.toml").symlink_to("gone")
    (folder / "2026-01-02-cut.toml").write_bytes(dumps(job)[:60])
    (folder / "empty.toml").write_bytes(b"")
    (folder / "binary.toml").write_bytes(bytes(range(256)))
    (folder / "wrong.toml").write_bytes(dumps(job).replace(b'"Grey Mule"', b"7"))
    with (folder / "huge.toml").open("wb") as file:
        file.truncate(50_000_000)
    os.mkfifo(folder / "pipe.toml")
    Path(os.fsdecode(os.fsencode(folder) + b"/\xff\x1b[2J.toml")).write_bytes(b"x")
    (folder / "notes.txt").write_bytes(b"")
    (folder / ".hidden.toml").write_bytes(b"")
    rows = {row.name: row for row in library.rows()}
    bad = {"circle.toml", "nowhere.toml", "2026-01-02-cut.toml", "empty.toml", "binary.toml", "wrong.toml"}
    bad |= {"huge.toml", "pipe.toml", os.fsdecode(b"\xff\x1b[2J.toml")}
    assert set(rows) == bad | {good}
    assert all(rows[name].problem for name in bad)
    assert "cut short" in rows["2026-01-02-cut.toml"].problem
    assert rows["2026-01-02-cut.toml"].date == dt.date(2026, 1, 2)
    assert "job.machine" in rows["wrong.toml"].problem
    assert rows[good].problem == ""
    assert {row.name for row in library.rows(judged=False)} == set(rows)


def test_a_file_that_may_not_be_read_is_listed_with_the_reason(places: Places, job: Job) -> None:
    Library(places, judge).create(job)
    disk = Faulty(errno.EACCES, only="open", for_good=True)
    assert "the system does not allow it" in Library(places, judge, disk=disk).rows()[0].problem


def test_a_folder_that_cannot_be_listed_is_said(places: Places) -> None:
    with pytest.raises(BadFile, match="jobs folder cannot be read: the disk reports a fault"):
        Library(places, judge, disk=Faulty(errno.EIO, only="scan")).rows()


def test_a_judge_that_fails_hides_no_job(places: Places, job: Job) -> None:
    def broken(job: Job, previous: Job | None) -> tuple[str, str]:
        raise ZeroDivisionError

    Library(places, broken).create(job)
    row = Library(places, broken).rows()[0]
    assert row.machine == "Grey Mule"
    assert "could not be worked out" in row.problem


def test_a_long_list_tells_how_far_it_is_and_can_be_given_up(library: Library) -> None:
    for day in range(1, 9):
        library.create(a_job(day=day))
    seen: list[tuple[int, int]] = []
    library.rows(progress=lambda done, of: seen.append((done, of)))
    assert seen == [(n, 8) for n in range(1, 9)]
    seen.clear()
    rows = library.rows(progress=lambda done, of: seen.append((done, of)), cancelled=lambda: len(seen) == 3)
    assert len(rows) == 3


def test_heads_that_were_read_are_not_read_again_on_any_thread_until_their_file_changes(
    places: Places, monkeypatch: pytest.MonkeyPatch
) -> None:
    library = Library(places, judge)
    opened = [library.create(a_job(day=day)) for day in range(1, 4)]
    monkeypatch.setattr("stanchion.store.listing.settled", lambda entry, now: True)
    read: list[str] = []
    head = content_of

    def reading(folder: Path, entry: Entry, disk: Disk) -> bytes:
        read.append(entry.name)
        return head(folder, entry, disk)

    monkeypatch.setattr(listing, "content_of", reading)
    first = library.listing.apart().rows(judged=False)
    assert len(read) == 3
    assert library.rows(judged=False) == library.listing.apart().rows(judged=False) == first
    assert len(read) == 3
    opened[0].path.write_bytes(dumps(a_job(day=9)))
    assert [row.date.day for row in library.rows(judged=False)] == [9, 3, 2]
    assert read[3:] == [opened[0].path.name]


def test_a_first_glance_reads_the_heads_only_and_says_that_nothing_is_judged(library: Library) -> None:
    library.create(a_job("Grey Mule", 2, rate=90.0))
    row = library.rows(judged=False)[0]
    assert (row.machine, row.date, row.judged, row.severity) == ("Grey Mule", dt.date(2026, 5, 2), False, "")


# --- the index is only a shortcut ------------------------------------------------------------------------------------


class CoarseDisk(Disk):
    """A disk whose clock has steps of two seconds, as FAT has, and moves only as the test says."""

    def __init__(self) -> None:
        self.clock = 1_000_000.0
        self.times: dict[str, int] = {}
        self.opened = 0

    def touch(self, name: str) -> None:
        self.times[name] = int(self.clock // 2) * 2 * 10**9

    def now(self) -> float:
        return self.clock

    def open(self, path: Path, flags: int, mode: int = 0o600) -> int:
        self.opened += path.suffix == ".toml"
        return super().open(path, flags, mode)

    def scan(self, folder: Path) -> list[Entry]:
        return [
            entry._replace(mtime_ns=self.times.get(entry.name, 0), ctime_ns=0) if entry.file else entry
            for entry in super().scan(folder)
        ]


def listed(places: Places, disk: Disk, cache: Path, mark: str = "") -> list[JobRow]:
    return Listing(places.jobs, cache, judge, mark, disk).rows()


NAMES = ("a.toml", "b.toml", "c.toml")
STEPS = st.lists(
    st.tuples(
        st.sampled_from(["write", "write", "delete", "damage index", "nothing"]),
        st.sampled_from(NAMES),
        st.sampled_from([80.0, 85.0, 90.0]),  # files of the same size
        st.sampled_from(["", *NAMES]),
        st.sampled_from([0.0, 0.4, 1.1, 2.0, 5.0]),
    ),
    max_size=12,
)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(steps=STEPS)
def test_the_list_with_the_index_is_the_list_of_every_file_read(
    tmp_path_factory: pytest.TempPathFactory, steps: list[tuple[str, str, float, str, float]]
) -> None:
    base = tmp_path_factory.mktemp("index")
    places = Places(base / "jobs", base / "config", base / "state", base / "cache")
    places.jobs.mkdir()
    disk = CoarseDisk()
    lasting = Listing(places.jobs, places.cache, judge, "", disk)
    for what, name, rate, before, wait in steps:
        path = places.jobs / name
        if what == "write":
            path.write_bytes(dumps(a_job(rate=rate, carried_from=before)))
            disk.touch(name)
        elif what == "delete":
            path.unlink(missing_ok=True)
        elif what == "damage index":
            for index in places.cache.glob("*.json"):
                data = index.read_bytes()
                index.write_bytes(
                    data[: len(data) // 2] if rate > 85 else b'{"format": 1, "mark": "", "rows": {"a": 7}}'
                )
        disk.clock += wait
        full = listed(places, disk, base / f"none{random.random()}")
        assert listed(places, disk, places.cache) == full
        assert lasting.rows() == full


def test_a_job_whose_forerunner_may_still_change_unseen_is_judged_anew(places: Places) -> None:
    disk = CoarseDisk()
    places.jobs.mkdir()
    (places.jobs / "a.toml").write_bytes(dumps(a_job(rate=90.0, carried_from="b.toml")))
    disk.touch("a.toml")
    disk.clock += 100
    for rate, severity in ((90.0, "note"), (95.0, "warning"), (90.0, "note")):  # within one step of the clock
        (places.jobs / "b.toml").write_bytes(dumps(a_job(rate=rate)))
        disk.touch("b.toml")
        row = next(row for row in listed(places, disk, places.cache) if row.name == "a.toml")
        assert row.severity == severity


def test_files_the_index_knows_are_not_read_again(places: Places) -> None:
    disk = CoarseDisk()
    places.jobs.mkdir()
    for name in NAMES:
        (places.jobs / name).write_bytes(dumps(a_job(rate=90.0)))
        disk.touch(name)
    disk.clock += 10
    first = listed(places, disk, places.cache)
    read = disk.opened
    assert listed(places, disk, places.cache) == first
    assert disk.opened == read


def test_another_judge_is_asked_anew(places: Places, job: Job) -> None:
    disk = CoarseDisk()
    Library(places, judge).create(a_job(rate=90.0))
    assert listed(places, disk, places.cache, "old bands")[0].severity == "note"
    other = Listing(places.jobs, places.cache, lambda job, before: ("fault", "new"), "new bands", disk)
    assert other.rows()[0].severity == "fault"


@pytest.mark.parametrize(
    "row",
    [
        "7",
        "[]",
        "[1,2,3,null,4]",
        '[1,2,3,null,4,"","","","",true,"","",""]',
        '[1,2,3,null,4,"","","","",1,"","","","",""]',
        '[1,2,3,[1],4,"","","","",true,"","","","",""]',
        '[1,2,3,null,99999999,"","","","",true,"","","","",""]',
        '[1.5,2,3,null,4,"","","","",true,"","","","",""]',
    ],
)
def test_an_index_with_wrong_entries_is_no_index(places: Places, row: str) -> None:
    disk = CoarseDisk()
    Library(places, judge).create(a_job(rate=90.0))
    right = listed(places, disk, places.cache)
    (index,) = places.cache.glob("*.json")
    head = index.read_text().split('"rows"')[0]
    index.write_text(f'{head}"rows": {{"{right[0].name}": {row}}}}}')
    assert listed(places, disk, places.cache) == right


def test_a_cache_that_takes_nothing_costs_time_only(places: Places) -> None:
    places.cache.write_bytes(b"in the way")
    library = Library(places, judge)
    library.create(a_job(rate=90.0))
    assert library.rows()[0].severity == "note"


def test_the_work_of_filtering_grows_no_faster_than_the_rows(tmp_path: Path) -> None:
    rows = [
        JobRow(tmp_path, f"{n}.toml", dt.date(2026, 5, 1), n, f"Machine {n}", "Å. Venn", headline="soft")
        for n in range(10_000)
    ]
    assert len(matching(rows, "machine 77")) > 100
    works = {"few": lambda: matching(rows[:1000], "machine 77"), "many": lambda: matching(rows, "machine 77")}
    taken = medians_ms(works, 9, process_time)
    assert taken["many"] < 40 * taken["few"]  # ten times the rows; where each met each it would be a hundred


# --- earlier states and deleted jobs -----------------------------------------------------------------------------------


class Clock(Disk):
    """A clock that stands still or jumps as told."""

    at = 1_800_000_000.0

    def now(self) -> float:
        return self.at


def test_the_newest_ten_states_of_each_job_are_kept(tmp_path: Path) -> None:
    disk = Clock()
    history = History(tmp_path / "history", disk)
    for n in range(25):
        history.keep(tmp_path / "a.toml", b"%d" % n)
        history.keep(tmp_path / "b.toml", b"%d" % n)
        disk.at -= n  # a clock set back does not reorder them
    states = history.states(tmp_path / "a.toml")
    assert [state.path.read_bytes() for state in states] == [b"%d" % n for n in range(24, 24 - LAST, -1)]
    assert len(history.states(tmp_path / "b.toml")) == LAST
    assert history.states(tmp_path / "sub" / "a.toml") == ()


def test_the_same_state_is_kept_once(tmp_path: Path) -> None:
    history = History(tmp_path / "history")
    assert history.keep(tmp_path / "a.toml", b"x") is not None
    assert history.keep(tmp_path / "a.toml", b"x") is None
    assert len(history.states(tmp_path / "a.toml")) == 1


def test_the_newest_whole_state_is_offered_for_a_damaged_job(tmp_path: Path, job: Job) -> None:
    history = History(tmp_path / "history")
    path = tmp_path / "a.toml"
    assert history.newest_good(path) is None
    history.keep(path, encoded(job))
    damaged = history.keep(path, encoded(a_job()))
    history.keep(path, encoded(job)[:50])
    assert damaged is not None
    data = damaged.read_bytes()
    damaged.write_bytes(data.replace(b"Grey", b"Gray"))  # rot in the history itself
    found = history.newest_good(path)
    assert found is not None
    assert found[1].job == job


def test_a_deleted_job_comes_back_under_its_name(library: Library, job: Job) -> None:
    made = library.create(job)
    deleted = library.delete(made.path)
    assert library.rows() == []
    assert library.bin.list() == (deleted,)
    library.create(job)
    assert library.restore(deleted).name == "2026-05-31-grey-mule-a-venn-2.toml"
    assert library.bin.list() == ()
    assert library.open(library.places.jobs / "2026-05-31-grey-mule-a-venn-2.toml").job == job


def test_a_damaged_job_can_be_deleted_and_comes_back_as_it_was(library: Library) -> None:
    library.places.jobs.mkdir()
    path = library.places.jobs / "broken.toml"
    path.write_bytes(b"\xff\x00")
    assert library.restore(library.delete(path)).read_bytes() == b"\xff\x00"


def test_a_job_on_another_disk_is_deleted_and_comes_back_too(places: Places, job: Job) -> None:
    made = Library(places, judge).create(job)

    class Apart(Disk):
        def replace(self, source: Path, target: Path) -> None:
            if source.parent != target.parent:
                raise OSError(errno.EXDEV, "another disk")
            super().replace(source, target)

    apart = Bin(places.bin, Apart())
    deleted = apart.take(made.path)
    assert not made.path.exists()
    assert deleted.path.read_bytes() == made.data
    assert apart.bring_back(deleted, places.jobs) == made.path


@pytest.mark.skipif(sys.platform == "win32", reason="links of POSIX systems")
def test_deleting_a_link_takes_the_link_and_keeps_what_it_showed(library: Library, job: Job, tmp_path: Path) -> None:
    made = library.create(job)
    real = tmp_path / "real.toml"
    made.path.rename(real)
    made.path.symlink_to(real)
    deleted = library.delete(made.path)
    assert not made.path.is_symlink()
    assert real.read_bytes() == made.data
    real.unlink()
    assert deleted.path.read_bytes() == made.data


@pytest.mark.parametrize("number", ERRNOS, ids=errno.errorcode.get)
def test_a_deletion_that_fails_half_way_loses_nothing(places: Places, job: Job, number: int) -> None:
    made = Library(places, judge).create(job)
    for at in range(1, 60):
        disk = Faulty(number, at)
        try:
            Bin(places.bin, disk).take(made.path)
        except NotSaved:
            assert made.path.read_bytes() == made.data
        else:
            newest = Bin(places.bin).list()[0]
            assert newest.path.read_bytes() == made.data
            assert Bin(places.bin).bring_back(newest, places.jobs) == made.path
        if not disk.fired:
            return
    pytest.fail("a deletion that never ends")


def test_emptying_the_bin_destroys_its_content_and_nothing_else(library: Library, job: Job) -> None:
    stays = library.create(job)
    for _ in range(2):
        library.delete(library.create(job).path)
    (library.places.bin / "notes.txt").write_text("mine")
    (library.places.bin / "99999999T999999999999-x.toml").write_text("no such day")
    assert library.bin.empty() == 2
    assert library.bin.list() == ()
    assert stays.path.exists()
    assert (library.places.bin / "notes.txt").exists()
    assert library.bin.empty() == 0


def test_a_bin_that_cannot_be_emptied_says_which_job_is_still_there(library: Library, job: Job) -> None:
    class Held(Disk):
        def unlink(self, path: Path) -> None:
            raise OSError(errno.EBUSY, "held")

    name = library.delete(library.create(job).path).name
    with pytest.raises(NotSaved, match=f"'{name}' is still in the bin: another program holds the file"):
        Bin(library.places.bin, Held()).empty()
    assert len(library.bin.list()) == 1


def test_a_deleted_job_that_is_gone_or_damaged_is_not_brought_back_and_says_why(library: Library, job: Job) -> None:
    deleted = library.delete(library.create(job).path)
    deleted.path.unlink()
    with pytest.raises(NotSaved, match="was not brought back: the file or its folder is gone"):
        library.bin.bring_back(deleted, library.places.jobs)
    deleted.path.mkdir()
    with pytest.raises(NotSaved, match="was not brought back: there is a folder of that name"):
        library.bin.bring_back(deleted, library.places.jobs)
    assert list(library.places.jobs.iterdir()) == []


def test_a_folder_is_not_deleted(library: Library) -> None:
    (library.places.jobs / "folder.toml").mkdir(parents=True)
    with pytest.raises(NotSaved, match="was not deleted: there is a folder of that name"):
        library.delete(library.places.jobs / "folder.toml")
    assert (library.places.jobs / "folder.toml").is_dir()


def test_the_bin_is_bounded(library: Library) -> None:
    library.places.jobs.mkdir()
    for n in range(MOST_DELETED + 5):
        path = library.places.jobs / f"{n}.toml"
        path.write_bytes(b"x")
        library.delete(path)
    kept = library.bin.list()
    assert len(kept) == MOST_DELETED
    assert kept[0].name == f"{MOST_DELETED + 4}.toml"


def test_a_hostile_name_in_the_bin_leads_nowhere(library: Library, job: Job) -> None:
    deleted = library.delete(library.create(job).path)
    assert library.restore(replace(deleted, name="../../x.toml")) == library.places.jobs / "deleted-job.toml"


def test_tidying_removes_only_files_of_a_dead_run(library: Library, job: Job) -> None:
    made = library.create(job)
    assert library.tidy() == 0
    assert made.path.exists()


def test_a_job_with_a_very_long_name_can_be_deleted_and_brought_back(library: Library) -> None:
    opened = library.create(a_job())
    long = opened.path.with_name("ä" * 122 + ".toml")  # 249 bytes: the mark before it would make the name too long
    opened.path.rename(long)
    deleted = library.delete(long)
    assert not long.exists()
    back = library.restore(deleted)
    assert back.read_bytes() == opened.data
    assert back.name.startswith("ä" * 90)


def test_the_heads_that_listings_share_are_looked_up_and_noted_under_one_lock(library: Library) -> None:
    heads = library.listing._heads

    class Watched(dict[str, Any]):
        def get(self, key: str, default: Any = None) -> Any:
            assert heads._lock.locked()
            return super().get(key, default)

        def __setitem__(self, key: str, value: Any) -> None:
            assert heads._lock.locked()
            super().__setitem__(key, value)

    library.create(Job())
    heads._rows = Watched()
    first = library.listing.apart().rows(judged=False)
    assert first == library.listing.rows(judged=False)
    assert len(first) == 1
