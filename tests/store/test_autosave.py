from __future__ import annotations

import errno
import threading
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from stanchion.base.errors import BadFile, ChangedOnDisk, NotSaved
from stanchion.job.codec import loads
from stanchion.job.model import Job
from stanchion.store import autosave
from stanchion.store.autosave import Autosave, SaveState
from stanchion.store.jobfile import JobFile
from stanchion.store.library import Library, Opened, encoded
from stanchion.store.paths import Places
from store.conftest import judge
from store.faulty import ERRNOS, Faulty
from timing import HANGS_S, until


def edited(job: Job, notes: str) -> Job:
    return replace(job, job=replace(job.job, notes=notes))


def on_disk(path: Path) -> str:
    return loads(path.read_bytes()).job.job.notes


class Bench:
    """A job open on a disk that can be made to fail."""

    def __init__(self, places: Places, job: Job) -> None:
        self.disk = Faulty(errno.ENOSPC, 10**9, for_good=True)
        self.library = Library(places, judge, disk=self.disk)
        self.job = job
        self.path = self.library.create(job).path
        self.open()

    def open(self) -> None:
        self.states: list[SaveState] = []
        self.file = JobFile(self.library, self.library.open(self.path))
        self.saver = Autosave(self.file, self.states.append)

    def fail(self, number: int = errno.ENOSPC, only: str = "") -> None:
        self.disk.number, self.disk.only, self.disk.at, self.disk.calls = number, only, 1, 0

    def edit(self, notes: str) -> None:
        self.saver.submit(edited(self.job, notes))

    def theirs(self, notes: str) -> None:
        """Another program writes the file."""
        self.path.write_bytes(encoded(edited(self.job, notes)))


@pytest.fixture
def bench(places: Places, job: Job) -> Iterator[Bench]:
    bench = Bench(places, job)
    yield bench
    bench.disk.heal()
    bench.saver.close()


# --- in time ---------------------------------------------------------------------------------------------------------


def test_an_edit_is_on_disk_within_a_second(bench: Bench) -> None:
    bench.edit("one")
    assert max(autosave.FIRST_S, autosave.STEADY_S) < 1.0
    until(lambda: on_disk(bench.path) == "one")
    until(lambda: bench.saver.state.status == "saved")
    assert [state.status for state in bench.states] == ["pending", "saved"]
    assert bench.saver.state.at is not None
    assert bench.saver.unsaved is None


def test_a_steady_stream_of_edits_does_not_put_the_save_off(bench: Bench) -> None:
    start = time.monotonic()
    made = 0

    def one_more_edit() -> bool:
        nonlocal made
        bench.edit(str(made))
        made += 1
        return len({state.at for state in bench.states if state.at is not None}) >= 4

    until(one_more_edit)
    # ... and is not made at every keystroke either
    assert time.monotonic() - start >= 3 * autosave.STEADY_S
    assert made > 4


def test_handing_over_never_waits_for_a_slow_disk(places: Places, job: Job) -> None:
    library = Library(places, judge)

    writing, all_handed_over = threading.Event(), threading.Event()
    waited: list[bool] = []

    class Slow(JobFile):
        def save(self, job: Job) -> str:
            writing.set()
            waited.append(all_handed_over.wait(HANGS_S))
            return super().save(job)

    opened = library.create(job)
    saver = Autosave(Slow(library, opened))
    for number in range(300):
        saver.submit(edited(job, str(number)))
        if number == 0:
            assert writing.wait(HANGS_S)  # the disk is at work from here on
    all_handed_over.set()
    assert saver.close(timeout=HANGS_S)
    assert all(waited)
    assert on_disk(opened.path) == "299"


def test_only_the_newest_state_is_written(bench: Bench) -> None:
    for number in range(100):
        bench.edit(str(number))
    assert bench.saver.flush()
    assert on_disk(bench.path) == "99"
    assert len({state.at for state in bench.states if state.at}) == 1


def test_leaving_writes_what_is_pending_without_waiting_until_it_is_due(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(autosave, "FIRST_S", 10 * HANGS_S)
    assert bench.saver.close()
    bench.open()
    bench.edit("last words")
    assert bench.saver.close(timeout=HANGS_S)
    assert on_disk(bench.path) == "last words"


def test_with_nothing_to_write_the_file_is_not_touched(bench: Bench) -> None:
    before = bench.path.stat()
    assert bench.saver.flush()
    assert bench.saver.close()
    assert bench.path.stat() == before
    assert bench.states == []


def test_a_listener_that_fails_does_not_stop_the_saving(places: Places, job: Job) -> None:
    library = Library(places, judge)
    opened = library.create(job)

    def broken(state: SaveState) -> None:
        raise RuntimeError

    saver = Autosave(JobFile(library, opened), broken)
    for text in ("one", "two"):
        saver.submit(edited(job, text))
        assert saver.flush()
        assert on_disk(opened.path) == text
    saver.close()


# --- failing ---------------------------------------------------------------------------------------------------------


class Refusing(JobFile):
    """A file whose disk fails while the state folder's does not."""

    number = errno.ENOSPC
    refuses = True

    def save(self, job: Job) -> str:
        if not self.refuses:
            return super().save(job)
        assert isinstance(self.disk, Faulty)
        self.disk.number, self.disk.at, self.disk.calls = self.number, 1, 0
        try:
            return super().save(job)
        finally:
            self.disk.heal()


@pytest.mark.parametrize("number", ERRNOS, ids=errno.errorcode.get)
def test_a_failed_save_is_said_kept_elsewhere_and_made_good(bench: Bench, number: int) -> None:
    target = Refusing(bench.library, bench.file.opened)
    target.number = number
    saver = Autosave(target)
    saver.submit(edited(bench.job, "one"))
    assert not saver.flush()
    state = saver.state
    assert state.status == "failed"
    assert "is not saved" in state.cause
    assert state.spilled_to is not None
    assert on_disk(state.spilled_to) == "one"
    assert on_disk(bench.path) == ""
    saver.submit(edited(bench.job, "two"))
    assert not saver.flush()
    assert on_disk(state.spilled_to) == "two"
    assert bench.library.unsaved() == [state.spilled_to]
    target.refuses = False
    assert saver.flush()
    assert saver.state.status == "saved"
    assert saver.state.cause == ""
    assert on_disk(bench.path) == "two"
    assert bench.library.unsaved() == []
    saver.close()


def test_a_failed_save_is_tried_again_without_being_asked(bench: Bench) -> None:
    target = Refusing(bench.library, bench.file.opened)
    saver = Autosave(target)
    saver.submit(edited(bench.job, "one"))
    until(lambda: saver.state.status == "failed")
    target.refuses = False
    until(lambda: saver.state.status == "saved")
    assert on_disk(bench.path) == "one"
    saver.close()


def test_where_no_disk_takes_it_the_edits_stay_in_memory_and_are_saved_once_one_does(bench: Bench) -> None:
    bench.fail(errno.ENOSPC, "write")
    bench.edit("kept")
    assert not bench.saver.flush()
    assert bench.saver.state.status == "failed"
    assert "the disk is full" in bench.saver.state.cause
    assert bench.saver.state.spilled_to is None
    assert bench.saver.unsaved == edited(bench.job, "kept")
    bench.disk.heal()
    until(lambda: on_disk(bench.path) == "kept")


def test_leaving_with_a_save_that_fails_says_so_and_leaves_the_edits_elsewhere(bench: Bench) -> None:
    bench.path.chmod(0o444)
    bench.edit("kept")
    assert not bench.saver.close()
    assert bench.saver.state.spilled_to is not None
    assert [on_disk(path) for path in bench.library.unsaved()] == ["kept"]


def test_leaving_while_the_disk_hangs_does_not_hang_and_leaves_the_edits_elsewhere(places: Places, job: Job) -> None:
    library = Library(places, judge)
    let_go, went_on = threading.Event(), threading.Event()

    class Hanging(JobFile):
        def save(self, job: Job) -> str:
            let_go.wait(HANGS_S)
            went_on.set()
            return super().save(job)

    saver = Autosave(Hanging(library, library.create(job)))
    saver.submit(edited(job, "kept"))
    assert not saver.close(timeout=0.4)
    assert not went_on.is_set()
    assert [on_disk(path) for path in library.unsaved()] == ["kept"]
    let_go.set()


def test_an_error_of_the_program_itself_does_not_end_the_saving(places: Places, job: Job) -> None:
    library = Library(places, judge)
    opened = library.create(job)

    class Broken(JobFile):
        well = False

        def save(self, job: Job) -> str:
            if not self.well:
                raise KeyError("bug")
            return super().save(job)

        def spill(self, job: Job) -> Path | None:
            raise KeyError("another")

    target = Broken(library, opened)
    saver = Autosave(target)
    saver.submit(edited(job, "one"))
    assert not saver.flush()
    assert "a fault in the program (KeyError)" in saver.state.cause
    target.well = True
    assert saver.flush()
    assert on_disk(opened.path) == "one"
    saver.close()


def test_a_save_that_may_not_survive_a_power_cut_says_so(bench: Bench) -> None:
    bench.fail(errno.EIO, "sync_folder")
    bench.edit("one")
    assert bench.saver.flush()
    assert bench.saver.state.status == "saved"
    assert "may not survive a power cut" in bench.saver.state.caution
    bench.disk.heal()
    bench.edit("two")
    assert bench.saver.flush()
    assert bench.saver.state.caution == ""


def test_a_file_that_must_not_be_written_is_not_and_a_copy_can_be_made(bench: Bench) -> None:
    bench.saver.close()
    bench.path.chmod(0o444)
    before = bench.path.read_bytes()
    bench.open()
    states = [bench.saver.state.status]
    bench.edit("changed")
    assert not bench.saver.flush()
    assert bench.path.read_bytes() == before
    opened = bench.saver.save_as_copy()
    assert opened.path != bench.path
    assert on_disk(opened.path) == "changed"
    assert [*states, bench.saver.state.status] == ["read_only", "saved"]
    bench.edit("and on")
    assert bench.saver.flush()
    assert on_disk(opened.path) == "and on"
    assert bench.path.read_bytes() == before
    assert bench.library.unsaved() == []


# --- somebody else writes -----------------------------------------------------------------------------------------------


@pytest.fixture
def conflict(bench: Bench) -> Bench:
    """Mine and theirs were both changed since the file was read."""
    bench.theirs("theirs")
    bench.edit("mine")
    assert not bench.saver.flush()
    assert bench.saver.state.status == "conflict"
    assert "changed by another program" in bench.saver.state.cause
    return bench


def states_of(bench: Bench) -> list[str]:
    return [on_disk(state.path) for state in bench.library.history.states(bench.path)]


def test_in_a_conflict_nothing_is_written_and_mine_is_kept_safe(conflict: Bench) -> None:
    conflict.edit("mine, and more")
    until(lambda: [on_disk(path) for path in conflict.library.unsaved()] == ["mine, and more"])
    assert not conflict.saver.flush()
    assert on_disk(conflict.path) == "theirs"
    assert conflict.saver.unsaved == edited(conflict.job, "mine, and more")
    assert not conflict.saver.close()
    assert on_disk(conflict.path) == "theirs"


def test_keeping_mine_keeps_theirs_among_the_earlier_states(conflict: Bench) -> None:
    conflict.saver.keep_mine()
    assert on_disk(conflict.path) == "mine"
    assert states_of(conflict)[0] == "theirs"
    assert conflict.saver.state.status == "saved"
    conflict.edit("and on")
    assert conflict.saver.flush()
    assert on_disk(conflict.path) == "and on"
    assert conflict.library.unsaved() == []


def test_taking_theirs_keeps_mine_among_the_earlier_states(conflict: Bench) -> None:
    opened = conflict.saver.take_theirs()
    assert opened.job.job.notes == "theirs"
    assert states_of(conflict)[0] == "mine"
    assert conflict.saver.state.status == "saved"
    assert conflict.saver.unsaved is None
    conflict.edit("theirs, and on")
    assert conflict.saver.flush()
    assert on_disk(conflict.path) == "theirs, and on"


def test_saving_as_a_copy_leaves_theirs_and_goes_on_with_the_copy(conflict: Bench) -> None:
    opened = conflict.saver.save_as_copy()
    conflict.edit("mine, and on")
    assert conflict.saver.flush()
    assert on_disk(conflict.path) == "theirs"
    assert on_disk(opened.path) == "mine, and on"
    assert conflict.file.path == opened.path


def test_if_theirs_cannot_be_read_the_conflict_remains(conflict: Bench) -> None:
    conflict.path.write_bytes(b"half")
    with pytest.raises(BadFile):
        conflict.saver.take_theirs()
    assert conflict.saver.state.status == "conflict"
    assert conflict.saver.unsaved is not None
    conflict.saver.keep_mine()
    assert on_disk(conflict.path) == "mine"
    assert conflict.library.history.states(conflict.path)[0].path.read_bytes() == b"half"


def test_if_mine_cannot_be_written_the_conflict_remains(conflict: Bench) -> None:
    conflict.fail(errno.ENOSPC, "write")
    with pytest.raises(NotSaved, match="the disk is full"):
        conflict.saver.keep_mine()
    with pytest.raises(NotSaved):
        conflict.saver.save_as_copy()
    with pytest.raises(NotSaved, match="could not be kept"):
        conflict.saver.take_theirs()
    assert conflict.saver.state.status == "conflict"
    assert conflict.saver.unsaved == edited(conflict.job, "mine")
    assert on_disk(conflict.path) == "theirs"


def test_a_job_deleted_by_another_is_asked_about_and_can_be_written_anew(bench: Bench) -> None:
    bench.path.unlink()
    bench.edit("mine")
    assert not bench.saver.flush()
    assert bench.saver.state.status == "conflict"
    assert "deleted or moved" in bench.saver.state.cause
    assert not bench.path.exists()
    bench.saver.keep_mine()
    assert on_disk(bench.path) == "mine"


def test_two_programs_with_one_job_open_lose_nothing(bench: Bench) -> None:
    other = Autosave(JobFile(bench.library, bench.library.open(bench.path)))
    bench.edit("first")
    assert bench.saver.flush()
    other.submit(edited(bench.job, "second"))
    assert not other.flush()
    assert other.state.status == "conflict"
    other.keep_mine()
    bench.edit("third")
    assert not bench.saver.flush()
    assert bench.saver.state.status == "conflict"
    copy = bench.saver.save_as_copy()
    assert on_disk(bench.path) == "second"
    assert on_disk(copy.path) == "third"
    assert "first" in states_of(bench)
    other.close()


def test_an_edit_made_while_theirs_are_being_read_is_kept_too(places: Places, job: Job) -> None:
    library = Library(places, judge)
    opened = library.create(job)
    late: list[Job] = [edited(job, "late")]

    class Raced(JobFile):
        def save(self, job: Job) -> str:
            raise ChangedOnDisk("changed")

        def reread(self, mine: Job | None) -> Opened:
            found = super().reread(mine)
            if late:
                saver.submit(late.pop())
            return found

    saver = Autosave(Raced(library, opened))
    saver.submit(edited(job, "mine"))
    assert not saver.flush()
    saver.take_theirs()
    assert saver.unsaved is None
    kept = [on_disk(state.path) for state in library.history.states(opened.path)]
    assert kept[:2] == ["late", "mine"]
    saver.close()


# --- earlier states -----------------------------------------------------------------------------------------------------


def test_the_state_at_the_start_of_each_session_is_kept_before_the_first_save(bench: Bench) -> None:
    for session in range(13):
        for number in range(3):
            bench.edit(f"{session}.{number}")
            assert bench.saver.flush()
        bench.saver.close()
        bench.open()
    assert states_of(bench) == [f"{session}.2" for session in range(11, 1, -1)]


def test_a_file_edited_by_hand_is_kept_byte_for_byte_before_it_is_saved_over(bench: Bench) -> None:
    bench.saver.close()
    by_hand = bench.path.read_bytes().replace(b"[job]", b"# my remark\n[job]")
    bench.path.write_bytes(by_hand)
    bench.open()
    assert bench.file.opened.edited_by_hand
    bench.job = bench.file.opened.job
    bench.edit("one")
    assert bench.saver.flush()
    state = bench.library.history.states(bench.path)[0]
    assert state.path.read_bytes() == by_hand
    assert state.reason == "edited-by-hand"
    assert b"\n# my remark\n[job]" in bench.path.read_bytes()


def test_an_earlier_state_that_cannot_be_kept_does_not_stop_the_save_but_is_said(bench: Bench) -> None:
    bench.fail(errno.EIO, "mkdir")
    bench.edit("one")
    assert bench.saver.flush()
    assert on_disk(bench.path) == "one"
    assert "earlier state" in bench.saver.state.caution
