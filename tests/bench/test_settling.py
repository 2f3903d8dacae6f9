"""Another copy of the open job, merged into it and put away: nothing goes before the merged job is on disk."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from driving import a_job, workspace_in
from stanchion.base.errors import BadFile, NotSaved
from stanchion.bench.settling import beside_copy, beside_disk, copies_of_open, keep_before, put_away
from stanchion.bench.workspace import Workspace
from stanchion.job.codec import dumps, loads
from stanchion.store.library import Opened

RATE = ("front", "left", "spring", "rate_n_per_mm")
COPY = "copy (1).toml"


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    """A workspace with a job open, and a copy of it beside it in which the spring was changed."""
    workspace = workspace_in(tmp_path)
    workspace.create(a_job(("front.left.spring.rate_n_per_mm", 9.0)))
    assert workspace.flush()
    data = (workspace.places.jobs / workspace.open_name).read_bytes()
    spring = replace(loads(data).job.front.left.spring, rate_n_per_mm=9.5)
    front = loads(data).job.front
    changed = replace(loads(data).job, front=replace(front, left=replace(front.left, spring=spring)))
    (workspace.places.jobs / COPY).write_bytes(dumps(changed))
    return workspace


def the_copy(workspace: Workspace) -> Opened:
    return workspace.library.open(workspace.places.jobs / COPY)


def test_the_copy_is_found_and_shown_beside_the_job(workspace: Workspace) -> None:
    finder = copies_of_open(workspace)
    assert finder is not None
    assert finder.look() == [COPY]
    beside = beside_copy(workspace, COPY)
    assert beside.is_copy
    assert [choice.path for choice in beside.merging.merged.choices] == [RATE]


@pytest.mark.parametrize("name", ["../x.toml", "/etc/passwd", "a/b.toml", "notes.txt"])
def test_a_name_that_is_a_path_leads_nowhere(workspace: Workspace, name: str) -> None:
    with pytest.raises(BadFile, match="is not the name of a job file"):
        beside_copy(workspace, name)


def test_without_an_open_job_there_is_nothing_to_merge(workspace: Workspace, tmp_path: Path) -> None:
    copy, empty = the_copy(workspace), workspace_in(tmp_path)
    assert copies_of_open(empty) is None
    with pytest.raises(BadFile, match="no job is open"):
        beside_copy(empty, COPY)
    with pytest.raises(BadFile, match="no job is open"):
        beside_disk(empty)
    with pytest.raises(NotSaved, match="No job is open"):
        keep_before(empty, copy)
    with pytest.raises(NotSaved, match="stays where it is"):
        put_away(empty, copy)
    assert copy.path.exists()


def test_a_copy_of_a_later_version_is_not_merged(workspace: Workspace) -> None:
    path = workspace.places.jobs / COPY
    path.write_bytes(path.read_bytes().replace(b"format = 2", b"format = 99"))
    with pytest.raises(BadFile, match="later version"):
        beside_copy(workspace, COPY)


def test_once_the_merged_job_is_on_disk_the_copy_goes_to_the_bin(workspace: Workspace) -> None:
    copy = the_copy(workspace)
    keep_before(workspace, copy)
    lying = put_away(workspace, copy)
    assert not copy.path.exists()
    assert lying.read_bytes() == copy.data


def test_a_copy_changed_meanwhile_stays(workspace: Workspace) -> None:
    copy = the_copy(workspace)
    copy.path.write_bytes(copy.data + b"# somebody\n")
    with pytest.raises(NotSaved, match="was changed meanwhile"):
        put_away(workspace, copy)
    assert copy.path.exists()


def test_a_copy_stays_where_the_file_of_the_merged_job_is_gone_or_another(workspace: Workspace) -> None:
    copy, job = the_copy(workspace), workspace.places.jobs / workspace.open_name
    before = job.read_bytes()
    job.write_bytes(copy.data)
    with pytest.raises(NotSaved, match="is not as it was written"):
        put_away(workspace, copy)
    job.write_bytes(before[:200])
    with pytest.raises(NotSaved, match=r"stays where it is: .*cut short"):
        put_away(workspace, copy)
    assert copy.path.exists()


def test_a_copy_that_is_gone_is_reported_in_plain_words(workspace: Workspace) -> None:
    copy = the_copy(workspace)
    copy.path.unlink()
    with pytest.raises(NotSaved, match="the file or its folder is gone"):
        put_away(workspace, copy)
