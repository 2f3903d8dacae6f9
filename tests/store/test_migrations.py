"""Files of every format there has been open, are upgraded with a backup, and a later version's are never destroyed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from stanchion.base.errors import NotSaved
from stanchion.base.toml import TomlTable
from stanchion.job import codec
from stanchion.job.model import Job
from stanchion.store.autosave import Autosave
from stanchion.store.history import BEFORE_UPGRADE
from stanchion.store.jobfile import JobFile
from stanchion.store.library import Library

STORED = sorted(Path(__file__).with_name("data").glob("format_*.toml"))
"""One file of each format, as the version of its day wrote it. They are never written anew: add one for each format."""


def edited(job: Job, notes: str) -> Job:
    return replace(job, job=replace(job.job, notes=notes))


def taken(library: Library, source: Path) -> Path:
    library.places.jobs.mkdir()
    path = library.places.jobs / source.name
    path.write_bytes(source.read_bytes())
    return path


@pytest.fixture
def another_format(monkeypatch: pytest.MonkeyPatch) -> None:
    """A version for which today's format is an earlier one, in which machines were named in capitals."""

    def lifted(tables: TomlTable) -> TomlTable:
        occasion = tables["job"]
        return {**tables, "job": {**occasion, "machine": occasion["machine"].title()}}

    monkeypatch.setattr(codec, "MIGRATIONS", {**codec.MIGRATIONS, codec.FORMAT: lifted})
    monkeypatch.setattr(codec, "FORMAT", codec.FORMAT + 1)


def test_a_file_of_every_format_up_to_todays_is_stored() -> None:
    assert [one.name for one in STORED] == [f"format_{number}.toml" for number in range(1, codec.FORMAT + 1)]


@pytest.mark.parametrize("source", STORED, ids=lambda one: one.stem)
def test_a_stored_file_opens_with_all_its_values_and_is_saved_again(library: Library, source: Path) -> None:
    opened = library.open(taken(library, source))
    job = opened.job
    assert (opened.read_only, opened.edited_by_hand, opened.newer) == (False, False, False)
    assert job.unknown == (), "every key is still known, or was lifted"
    assert job.job.machine
    assert (job.front.left.spring.rate_n_per_mm, job.front.left.adjuster.now) == (9.5, 4)
    assert len(job.rear.linkage) == 3
    assert job.sag.front.rider.down_mm
    assert job.runs
    JobFile(library, opened).save(edited(job, "saved today"))
    assert library.open(opened.path).job == edited(job, "saved today")
    (state,) = library.history.states(opened.path)
    assert state.path.read_bytes() == source.read_bytes()
    assert (state.reason == BEFORE_UPGRADE) == (source != STORED[-1])


@pytest.mark.usefixtures("another_format")
def test_a_file_of_an_earlier_format_is_upgraded_only_with_a_backup(library: Library) -> None:
    source = STORED[-1]
    path = taken(library, source)
    opened = library.open(path)
    assert opened.upgraded
    assert not opened.edited_by_hand
    assert path.read_bytes() == source.read_bytes(), "opening writes nothing"
    library.places.state.mkdir()
    library.places.history.write_bytes(b"in the way of the backup")
    file = JobFile(library, opened)
    with pytest.raises(NotSaved, match="could not be kept"):
        file.save(edited(opened.job, "new"))
    assert path.read_bytes() == source.read_bytes()
    library.places.history.unlink()
    file.save(edited(opened.job, "new"))
    (state,) = library.history.states(path)
    assert state.reason == BEFORE_UPGRADE
    assert state.path.read_bytes() == source.read_bytes()
    assert path.read_bytes().startswith(b"format = %d\n" % codec.FORMAT)
    again = library.open(path)
    assert (again.upgraded, again.job.job.notes) == (False, "new")
    assert library.history.load(state).job == opened.job  # the backup itself opens, and can be brought back


@pytest.mark.usefixtures("another_format")
def test_the_backup_outlives_everything_that_is_kept_later(library: Library) -> None:
    opened = library.open(taken(library, STORED[-1]))
    file = JobFile(library, opened)
    file.save(edited(opened.job, "new"))
    for number in range(60):
        file.keep(edited(opened.job, str(number)), "before-bringing-back")
    assert library.history.states(opened.path)[-1].reason == BEFORE_UPGRADE


def test_a_later_versions_file_is_looked_at_and_never_written(
    library: Library, job: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as later:
        later.setattr(codec, "FORMAT", codec.FORMAT + 1)
        written = codec.dumps(job).replace(b"[front]", b"[front]\nsorcery = 3").replace(b"[job]", b'[job]\nspell = "x"')
        library.places.jobs.mkdir()
        path = library.places.jobs / "later.toml"
        path.write_bytes(written)
    opened = library.open(path)
    assert (opened.read_only, opened.newer) == (True, True)
    assert opened.job.job.machine == job.job.machine
    file = JobFile(library, opened)
    with pytest.raises(NotSaved, match="A later version of the program wrote this job"):
        file.save(edited(opened.job, "mine"))
    saver = Autosave(file)
    saver.submit(edited(opened.job, "mine"))
    assert not saver.flush()
    saver.close()
    assert [row.problem for row in library.rows()] == [""]
    assert path.read_bytes() == written
    deleted = library.delete(path)
    assert library.restore(deleted).read_bytes() == written
