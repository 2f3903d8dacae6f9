"""A new job is open at once while its file is made; a closing job is written to the end."""

from __future__ import annotations

import errno
import threading
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from stanchion.base.errors import BadFile
from stanchion.bench.workspace import Workspace
from stanchion.job.codec import loads
from stanchion.job.model import Job
from stanchion.store.disk import Disk
from stanchion.store.drafts import Drafts, Kept
from stanchion.store.history import History
from stanchion.store.library import Library
from stanchion.store.open_jobs import ClosingJobs, OpenJob
from stanchion.store.paths import Places
from stanchion.store.settings import LastPlace, load_last_place, save_last_place
from store.conftest import judge
from store.faulty import Faulty
from timing import until


class Slow(Disk):
    """Nothing is flushed until it is let go."""

    def __init__(self) -> None:
        self.free = threading.Event()
        self.waiting = 0

    def sync(self, fd: int) -> None:
        self.waiting += 1
        assert self.free.wait(30)
        super().sync(fd)


def workspace_on(places: Places, disk: Disk) -> Workspace:
    workspace = Workspace(places)
    workspace.library = Library(places, judge, disk=disk)
    workspace.library.history = History(places.history)  # earlier states are not the subject here
    return workspace


def on_disk(path: Path) -> Job:
    return loads(path.read_bytes()).job


def note(workspace: Workspace, text: str) -> None:
    assert workspace.session is not None
    workspace.session.type(("job", "notes"), text)


def jobs_in(places: Places) -> list[str]:
    return sorted(path.name for path in places.jobs.glob("*.toml"))


@pytest.fixture
def slow() -> Iterator[Slow]:
    disk = Slow()
    yield disk
    disk.free.set()


@pytest.fixture
def failing() -> Faulty:
    return Faulty(errno.ENOSPC, 10**9, for_good=True)


class TestANewJob:
    def test_is_open_while_the_disk_still_works_on_its_file(self, places: Places, job: Job, slow: Slow) -> None:
        workspace = workspace_on(places, slow)
        session = workspace.create(job)
        until(lambda: slow.waiting > 0)
        assert jobs_in(places) == []
        state = workspace.save_state()
        assert state is not None
        assert state.status == "pending"
        note(workspace, "typed meanwhile")
        slow.free.set()
        assert workspace.flush()
        assert on_disk(places.jobs / workspace.open_name).job.notes == "typed meanwhile"
        assert session.job.job.notes == "typed meanwhile"
        assert jobs_in(places) == [workspace.open_name]
        assert workspace.close()

    def test_whose_name_was_taken_meanwhile_gets_the_next_one(self, places: Places, job: Job, slow: Slow) -> None:
        workspace = workspace_on(places, slow)
        workspace.create(job)
        wanted = workspace.open_name
        workspace.remember("front")
        until(lambda: slow.waiting > 0)
        (places.jobs / wanted).write_text("somebody else's")
        slow.free.set()
        assert workspace.flush()
        assert workspace.open_name == wanted.replace(".toml", "-2.toml")
        assert (places.jobs / wanted).read_text() == "somebody else's"
        assert on_disk(places.jobs / workspace.open_name).job.machine == "Grey Mule"
        until(lambda: workspace.preferences.last_place().job == workspace.open_name)
        assert workspace.close()

    def test_is_noted_for_the_next_start_by_no_thread_but_the_one_that_opened_it(
        self, places: Places, job: Job, slow: Slow, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        noting: list[threading.Thread] = []

        def noted(last: LastPlace, where: Places) -> None:
            noting.append(threading.current_thread())
            save_last_place(last, where)

        monkeypatch.setattr("stanchion.bench.preferences.save_last_place", noted)
        workspace = workspace_on(places, slow)
        workspace.create(job)
        workspace.remember("front")
        until(lambda: slow.waiting > 0)
        (places.jobs / workspace.open_name).write_text("somebody else's")
        slow.free.set()
        assert workspace.close()
        assert load_last_place(places).job == workspace.open_name
        assert set(noting) == {threading.current_thread()}

    def test_that_no_disk_takes_stays_open_and_is_written_later(
        self, places: Places, job: Job, failing: Faulty
    ) -> None:
        workspace = workspace_on(places, failing)
        failing.at, failing.calls = 1, 0
        workspace.create(job)
        note(workspace, "no room")
        assert not workspace.flush()
        state = workspace.save_state()
        assert state is not None
        assert state.status == "failed"
        assert "full" in state.cause
        failing.heal()
        assert workspace.flush()
        assert on_disk(places.jobs / workspace.open_name).job.notes == "no room"
        assert workspace.library.unsaved() == []
        assert workspace.close()

    def test_with_text_that_cannot_be_read_keeps_it_under_the_name_it_got(
        self, places: Places, job: Job, slow: Slow
    ) -> None:
        workspace = workspace_on(places, slow)
        workspace.create(job)
        until(lambda: slow.waiting > 0)
        places.jobs.joinpath(workspace.open_name).write_text("somebody else's")
        assert workspace.session is not None
        workspace.session.type(("front", "travel_mm"), "12o")
        slow.free.set()
        assert workspace.close()
        again = workspace_on(places, Disk())
        session = again.open(workspace.open_name)
        assert session.unread == {("front", "travel_mm"): "12o"}
        assert again.close()


class TestAJobThatIsLeft:
    def test_is_not_waited_for_and_is_written_to_the_end(self, places: Places, job: Job) -> None:
        disk = Slow()
        disk.free.set()
        workspace = workspace_on(places, disk)
        workspace.create(job)
        assert workspace.flush()
        first = workspace.open_name
        disk.free.clear()
        note(workspace, "the last word")
        workspace.create(replace(job, job=replace(job.job, rider="C. D.")))
        assert on_disk(places.jobs / first).job.notes == ""
        disk.free.set()
        assert workspace.close()
        assert on_disk(places.jobs / first).job.notes == "the last word"
        assert len(jobs_in(places)) == 2

    def test_is_the_previous_one_of_a_job_carried_from_it_with_its_last_edits(
        self, places: Places, job: Job, slow: Slow
    ) -> None:
        workspace = workspace_on(places, slow)
        slow.free.set()
        workspace.create(job)
        assert workspace.flush()
        slow.free.clear()
        note(workspace, "not on disk yet")
        session = workspace.create(workspace.carried(workspace.open_name, job.job.date))
        assert session.previous is not None
        assert session.previous.job.notes == "not on disk yet"
        slow.free.set()
        assert workspace.close()

    def test_is_opened_again_with_what_was_typed_last(self, places: Places, job: Job) -> None:
        workspace = workspace_on(places, Disk())
        workspace.create(job)
        first = workspace.open_name
        note(workspace, "typed and left")
        workspace.create(job)
        assert workspace.read(first).job.notes == "typed and left"
        assert workspace.open(first).job.job.notes == "typed and left"
        assert workspace.close()

    def test_is_moved_to_the_bin_with_what_was_typed_last(self, places: Places, job: Job) -> None:
        workspace = workspace_on(places, Disk())
        workspace.create(job)
        first = workspace.open_name
        note(workspace, "typed and left")
        workspace.create(job)
        assert on_disk(workspace.delete(first)).job.notes == "typed and left"
        with pytest.raises(BadFile):
            workspace.open(first)
        assert workspace.close()

    def test_and_cannot_be_written_is_reported_once_with_its_place_and_tried_again(
        self, places: Places, job: Job, failing: Faulty
    ) -> None:
        messages: list[str] = []
        workspace = workspace_on(places, failing)
        workspace.on_closing_unsaved = messages.append
        workspace.create(job)
        assert workspace.flush()
        first = workspace.open_name
        failing.only, failing.at, failing.calls = "replace", 1, 0
        note(workspace, "no room")
        workspace.create(job)
        until(lambda: bool(messages))
        assert f"'{first}'" in messages[0]
        assert "NOT saved" in messages[0]
        assert "full" in messages[0]
        failing.heal()
        until(lambda: on_disk(places.jobs / first).job.notes == "no room")
        assert workspace.close()
        assert len(messages) == 1
        assert workspace.library.unsaved() == []

    def test_changed_by_another_program_is_reported_and_its_edits_are_kept(self, places: Places, job: Job) -> None:
        messages: list[str] = []
        workspace = workspace_on(places, Disk())
        workspace.on_closing_unsaved = messages.append
        workspace.create(job)
        assert workspace.flush()
        first = workspace.open_name
        theirs = (places.jobs / first).read_bytes() + b"\n# theirs\n"
        (places.jobs / first).write_bytes(theirs)
        note(workspace, "mine")
        workspace.create(job)
        until(lambda: bool(messages))
        workspace.create(job)  # yet another one is in hand: it is still to be told of
        assert f"'{first}'" in workspace.closing_unsaved()
        assert workspace.flush_open()
        assert not workspace.close()
        assert (places.jobs / first).read_bytes() == theirs
        kept = workspace.library.unsaved()
        assert [on_disk(path).job.notes for path in kept] == ["mine"]
        assert str(kept[0]) in messages[0]
        assert len(messages) == 1


class TestOnSeveralThreads:
    def test_a_job_that_is_left_while_others_are_closed_is_closed_too(self, places: Places, job: Job) -> None:
        library = Library(places, judge)
        closing = ClosingJobs(lambda name, state: None)

        class LeavesAnother(OpenJob):
            def close(self) -> bool:
                closing.add(late)
                return super().close()

        late = OpenJob(library, library.begin(job), lambda open_job, state: None)
        closing.add(LeavesAnother(library, library.begin(job, [late.name]), lambda open_job, state: None))
        assert closing.close()
        assert closing.names() == []
        assert late.saver.ended

    def test_unread_text_is_given_to_one_writer_even_while_the_file_gets_its_name(
        self, places: Places, job: Job
    ) -> None:
        made: list[bool] = []

        class Watched(OpenJob):
            def _drafts_here(self) -> Drafts:
                made.append(self._kept_lock.locked())
                return super()._drafts_here()

        library = Library(places, judge)
        opened = library.begin(job)
        places.jobs.mkdir(parents=True, exist_ok=True)
        opened.path.write_text("somebody else's")
        open_job = Watched(library, opened, lambda open_job, state: None)
        open_job.keep(Kept({("front", "travel_mm"): "12o"}))
        assert open_job.close()
        assert made == [False, True]  # before any other thread knew of it, and once under its own name
