"""A job file outside the jobs folder is opened, saved and kept where it is."""

from __future__ import annotations

from pathlib import Path

import pytest

from driving import TODAY, a_job, workspace_in
from stanchion.bench.settling import copies_of_open
from stanchion.bench.workspace import Workspace
from stanchion.job.codec import dumps, loads
from stanchion.job.model import Job
from stanchion.store.library import Library


@pytest.fixture
def stick(tmp_path: Path) -> Path:
    """A job file on a memory stick, with the name of another job in the jobs folder."""
    path = tmp_path / "stick" / "mule.toml"
    path.parent.mkdir()
    path.write_bytes(dumps(a_job()))
    return path


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    workspace = workspace_in(tmp_path)
    workspace.places.jobs.mkdir()
    (workspace.places.jobs / "mule.toml").write_bytes(dumps(a_job(machine="Nettle")))
    return workspace


def held(path: Path) -> Job:
    return loads(path.read_bytes()).job


def test_it_is_saved_where_it_is_with_its_earlier_states_and_the_job_of_the_same_name_stays(
    workspace: Workspace, stick: Path
) -> None:
    before = (workspace.places.jobs / "mule.toml").read_bytes()
    session = workspace.open_path(stick)
    assert workspace.opened_in_place == stick
    assert workspace.open_name == str(stick)
    assert str(stick) in workspace.notes[0]
    session.type(("front", "travel_mm"), "120")
    assert workspace.read("mule.toml").job.machine == "Nettle"
    assert workspace.flush()
    assert held(stick).front.travel_mm == 120
    assert (workspace.places.jobs / "mule.toml").read_bytes() == before
    assert len(workspace.earlier()) == 1
    session.type(("front", "travel_mm"), "a lot")  # text that cannot be read is kept for it too
    assert workspace.flush()
    other = workspace.open("mule.toml")
    assert other.job.job.machine == "Nettle"
    assert not other.unread
    assert workspace.open_name == "mule.toml"
    again = workspace.open_path(stick)
    assert again.unread == {("front", "travel_mm"): "a lot"}
    assert workspace.close()


def test_a_path_into_the_jobs_folder_is_a_job_like_any_other(workspace: Workspace, tmp_path: Path) -> None:
    (tmp_path / "link").symlink_to(workspace.places.jobs)
    workspace.open_path(tmp_path / "link" / "mule.toml")
    assert workspace.open_name == "mule.toml"
    assert workspace.opened_in_place is None


def test_the_next_start_opens_the_last_job_of_the_jobs_folder(
    workspace: Workspace, stick: Path, tmp_path: Path
) -> None:
    workspace.open("mule.toml")
    workspace.remember("rear")
    workspace.open_path(stick)
    workspace.remember("sag")
    workspace.close()
    last = workspace_in(tmp_path).last_place()
    assert (last.job, last.screen) == ("mule.toml", "rear")


def test_a_folder_of_this_start_only_is_not_remembered(workspace: Workspace, tmp_path: Path) -> None:
    workspace.open("mule.toml")
    workspace.remember("rear")
    once = Workspace(workspace.places, remembers=False)
    assert once.last_place().job == ""
    once.create(a_job(machine="Quince"))
    once.remember("sag")
    once.close()
    assert workspace_in(tmp_path).last_place().job == "mule.toml"


def test_the_next_job_from_it_goes_into_the_jobs_folder_and_says_what_it_was_carried_from(
    workspace: Workspace, stick: Path
) -> None:
    workspace.open_path(stick)
    carried = workspace.create(workspace.carried(workspace.open_name, TODAY))
    assert workspace.opened_in_place is None
    assert workspace.open_file is not None
    assert workspace.open_file.path.parent == workspace.places.jobs
    assert carried.job.job.carried_from == "../stick/mule.toml"
    assert workspace.close()


def test_the_job_it_was_carried_from_is_found_where_that_is(workspace: Workspace, stick: Path) -> None:
    stick.write_bytes(dumps(a_job(("job.id", "a1"))))
    workspace.open_path(stick)
    carried = workspace.create(workspace.carried(workspace.open_name, TODAY))
    assert carried.previous is not None
    assert workspace.flush()
    assert workspace.library.previous(carried.job) == held(stick)
    judged: list[Job | None] = []

    def judge(job: Job, before: Job | None) -> tuple[str, str]:
        judged.append(before)
        return "", ""

    assert len(Library(workspace.places, judge).rows()) == 2
    assert held(stick) in judged
    stick.write_bytes(dumps(a_job(("job.id", "b2"))))  # another job is there now
    assert workspace.library.previous(carried.job) is None
    assert workspace.close()


def test_a_job_without_an_id_is_found_by_its_path(workspace: Workspace, stick: Path) -> None:
    stick.write_bytes(dumps(a_job(machine="Quince")))  # as written by hand: a file without an id never gets one
    workspace.open_path(stick)
    carried = workspace.create(workspace.carried(workspace.open_name, TODAY))
    assert carried.job.job.carried_id == ""
    assert carried.previous == held(stick)
    assert workspace.flush()
    assert workspace.library.previous(carried.job) == held(stick)
    for other in (a_job(machine="Medlar"), a_job(("job.id", "b2"), machine="Quince")):  # another job is there now
        stick.write_bytes(dumps(other))
        assert workspace.library.previous(carried.job) is None
    assert workspace.close()


def test_no_copies_are_looked_for_and_a_copy_of_it_lies_beside_it(workspace: Workspace, stick: Path) -> None:
    workspace.open_path(stick)
    assert copies_of_open(workspace) is None
    assert workspace.open_file is not None
    copy = workspace.open_file.copy(held(stick), another_job=True)
    assert copy.path.parent == stick.parent
    assert workspace.opened_in_place == copy.path
    assert workspace.close()
