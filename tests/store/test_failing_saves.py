"""Every file operation of a whole autosave fails in turn, once and for good, in every way a disk can fail.

Whatever fails, the job's file is the complete old or the complete new one, the state says that it is not saved and
why, the edits stay in memory and are put elsewhere where that can be done, and once the disk works they are saved
without being asked for anything.
"""

from __future__ import annotations

import errno
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from stanchion.job.carry import identified
from stanchion.job.codec import loads
from stanchion.job.model import Job
from stanchion.store.autosave import Autosave
from stanchion.store.jobfile import JobFile
from stanchion.store.library import Library
from stanchion.store.open_jobs import OpenJob
from stanchion.store.paths import Places
from store.conftest import judge
from store.faulty import ERRNOS, Faulty


def edited(job: Job, notes: str) -> Job:
    return replace(job, job=replace(job.job, notes=notes))


def held(data: bytes) -> Job:
    """The job of a file, without the id that the file was given."""
    return identified(loads(data).job, "")


@dataclass
class Count:
    """What came of the faults."""

    fired: int = 0
    failed: int = 0
    spilled: int = 0
    written_all_the_same: int = 0


class AtTheJobs(Faulty):
    """Fails in the jobs folder only; the state folder is on a disk that works."""

    there: frozenset[int] = frozenset()
    """Descriptors of the jobs folder and of files in it."""

    def concerns(self, arguments: tuple[object, ...]) -> bool:
        return any(self._is_there(one) for one in arguments)

    def _is_there(self, one: object) -> bool:
        return "jobs" in one.parts if isinstance(one, Path) else one in self.there if type(one) is int else False

    def open(self, path: Path, flags: int, mode: int = 0o600) -> int:
        return self._noted(super().open(path, flags, mode), path)

    def open_folder(self, folder: Path) -> int | None:
        fd = super().open_folder(folder)
        return fd if fd is None else self._noted(fd, folder)

    def _noted(self, fd: int, path: Path) -> int:
        self.there = self.there | {fd} if self._is_there(path) else self.there - {fd}
        return fd


def one_fault(places: Places, job: Job, disk: Faulty, count: Count) -> bool:
    """Save once on this disk, and once more when it is well; False where no fault fired."""
    path = Library(places, judge).create(job).path
    old = path.read_bytes()
    disk.heal()
    library = Library(places, judge, disk=disk)
    file = JobFile(library, library.open(path))
    saver = Autosave(file)
    at, disk.at, disk.calls = disk.first, disk.first, 0
    new = edited(job, f"fault {at}")
    saver.submit(new)
    saved = saver.flush(10)
    disk.at = 10**9
    state = saver.state
    count.fired += len(disk.fired)
    here = path.read_bytes()
    if saved:
        assert held(here) == new
        assert not disk.fired or state.status == "saved"
        count.written_all_the_same += bool(disk.fired)
    else:
        count.failed += 1
        assert here == old
        assert state.status in ("failed", "conflict")  # ENOENT and EEXIST can look like the work of another program
        assert state.cause
        assert saver.unsaved == new
        if state.spilled_to is not None:
            count.spilled += 1
            assert held(state.spilled_to.read_bytes()) == new
        if state.status == "conflict":
            saver.keep_mine()
    newer = edited(job, "and on")
    saver.submit(newer)
    assert saver.flush(10)
    assert saver.state.status == "saved"
    assert held(path.read_bytes()) == newer
    assert library.unsaved() == []
    assert saver.close()
    if "unlink" not in disk.fired:
        assert [one.name for one in path.parent.iterdir() if not one.name.endswith(".toml")] == []
    for one in path.parent.iterdir():
        one.unlink()
    return bool(disk.fired)


@pytest.mark.long
@pytest.mark.parametrize("number", ERRNOS, ids=errno.errorcode.get)
@pytest.mark.parametrize("for_good", [False, True], ids=["once", "for good"])
@pytest.mark.parametrize("kind", [Faulty, AtTheJobs], ids=["every disk", "the jobs' disk"])
def test_whatever_fails_no_edit_is_lost_and_none_is_called_saved_that_is_not(
    places: Places, job: Job, number: int, for_good: bool, kind: type[Faulty]
) -> None:
    count = Count()
    for at in range(1, 200):
        disk = kind(number, at, for_good=for_good, most_bytes=None if at % 2 else 100)  # ... and short writes
        disk.first = at
        if not one_fault(places, job, disk, count):
            break
    else:
        pytest.fail("a save that never ends")
    assert at > 15
    if kind is AtTheJobs and for_good:
        assert count.spilled == count.failed > 0
    print(f"{errno.errorcode[number]}: {count}")


def one_fault_in_making(places: Places, job: Job, disk: Faulty, count: Count) -> bool:
    """Begin a job on this disk, and save it once more when it is well; False where no fault fired."""
    library = Library(places, judge, disk=disk)
    made = OpenJob(library, library.begin(job), lambda held, state: None)
    saved = made.flush()
    disk.heal()
    count.fired += len(disk.fired)
    state = made.saver.state
    if saved:
        assert state.status == "saved"
        count.written_all_the_same += bool(disk.fired)
    else:
        count.failed += 1
        assert state.status == "failed"
        assert state.cause
        assert made.saver.unsaved == job
        if state.spilled_to is not None:
            count.spilled += 1
            assert held(state.spilled_to.read_bytes()) == job
    newer = edited(job, "and on")
    made.saver.submit(newer)
    assert made.flush()
    files = [one for one in places.jobs.iterdir() if one.suffix == ".toml"]
    assert files == [made.file.path]
    assert held(files[0].read_bytes()) == newer
    assert library.unsaved() == []
    assert made.close()
    if "unlink" not in disk.fired:
        assert list(places.jobs.iterdir()) == files
    for one in places.jobs.iterdir():
        one.unlink()
    return bool(disk.fired)


@pytest.mark.long
@pytest.mark.parametrize("number", ERRNOS, ids=errno.errorcode.get)
@pytest.mark.parametrize("for_good", [False, True], ids=["once", "for good"])
def test_whatever_fails_in_making_the_file_of_a_new_job_it_stays_open_and_gets_one_file(
    places: Places, job: Job, number: int, for_good: bool
) -> None:
    count = Count()
    for at in range(1, 200):
        disk = AtTheJobs(number, at, for_good=for_good, most_bytes=None if at % 2 else 100)
        if not one_fault_in_making(places, job, disk, count):
            break
    else:
        pytest.fail("a save that never ends")
    assert at > 8
    if for_good:
        assert count.spilled == count.failed > 0
    print(f"{errno.errorcode[number]}: {count}")
