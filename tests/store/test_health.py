"""The condition of job files and folders; the content of a damaged file is never repeated."""

from __future__ import annotations

import errno
import os
import sys
from pathlib import Path

import pytest

from complete_job import complete_job
from judgement_jobs import put
from stanchion.job.codec import dumps
from stanchion.job.model import Attached, Job
from stanchion.store.disk import Disk, Entry
from stanchion.store.health import health_of_folder, health_of_jobs
from stanchion.store.listing import JobRow, Listing

SOUND = dumps(put(complete_job(), job__id="a1"))


def listed(folder: Path) -> list[JobRow]:
    return Listing(folder, folder / "cache", lambda job, before: ("", "")).rows()


def states(folder: Path, disk: Disk | None = None) -> dict[str, str]:
    """State and reason by file name."""
    rows = listed(folder)
    found = health_of_jobs(folder, rows, disk or Disk())
    return {rows[one.number - 1].name: f"{one.state}: {one.reason}".removesuffix(": ") for one in found}


def test_every_sort_of_file_is_recognised(tmp_path: Path) -> None:
    (tmp_path / "well.toml").write_bytes(SOUND)
    (tmp_path / "hand.toml").write_bytes(SOUND.replace(b"Quince", b"Medlar").replace(b"a1", b"b2") + b"# seen\n")
    (tmp_path / "cut.toml").write_bytes(SOUND[: len(SOUND) // 2])
    (tmp_path / "empty.toml").write_bytes(b"")
    (tmp_path / "newer.toml").write_bytes(SOUND.replace(b"format = 2", b"format = 99").replace(b"a1", b"c3"))
    (tmp_path / "other.toml").write_text("rider = 'Nobody Whatsoever'\n")
    (tmp_path / "binary.toml").write_bytes(bytes(range(256)))
    assert states(tmp_path) == {
        "well.toml": "ok",
        "hand.toml": "edited by hand",
        "cut.toml": "cut short",
        "empty.toml": "cut short",
        "newer.toml": "newer",
        "other.toml": "unreadable: it is no job, or a value in it does not fit",
        "binary.toml": "unreadable: it is no job, or a value in it does not fit",
    }


def test_a_copy_is_given_with_the_line_of_its_job(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_bytes(SOUND)
    (tmp_path / "a (1).toml").write_bytes(SOUND)
    found = health_of_jobs(tmp_path, listed(tmp_path))
    assert [(one.number, one.state, one.copy_of) for one in found] == [(1, "ok", 0), (2, "ok", 1)]


def test_attached_files_that_are_not_there_are_counted(tmp_path: Path) -> None:
    (tmp_path / "there.csv").write_bytes(b"x")
    job = Job(attached=(Attached(path="there.csv"), Attached(path="gone.jpg"), Attached(path="~nobody-at-all/x.jpg")))
    (tmp_path / "a.toml").write_bytes(dumps(job))
    (found,) = health_of_jobs(tmp_path, listed(tmp_path))
    assert (found.state, found.missing_files) == ("ok", 2)


def test_what_the_system_refuses_is_given_in_its_words(tmp_path: Path) -> None:
    class Refusing(Disk):
        def open(self, path: Path, flags: int, mode: int = 0o600) -> int:
            raise OSError(errno.EIO, "no")

    (tmp_path / "a.toml").write_bytes(SOUND)
    assert states(tmp_path, Refusing()) == {"a.toml": "unreadable: the disk reports a fault"}


def test_a_file_that_is_only_with_a_sync_service_is_not_opened_for_that_may_hang(tmp_path: Path) -> None:
    class Elsewhere(Disk):
        def scan(self, folder: Path) -> list[Entry]:
            return [Entry("a.toml", file=True, elsewhere=True)]

        def open(self, path: Path, flags: int, mode: int = 0o600) -> int:
            raise AssertionError("opened")

    (tmp_path / "a.toml").write_bytes(SOUND)
    assert "not on this machine" in states(tmp_path, Elsewhere())["a.toml"]


@pytest.mark.skipif(sys.platform == "win32", reason="pipes and links of POSIX")
def test_a_pipe_and_a_link_to_nowhere_are_unreadable_and_do_not_block(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.toml")
    (tmp_path / "link.toml").symlink_to("nowhere")
    assert states(tmp_path) == {
        "pipe.toml": "unreadable: it is not an ordinary file",
        "link.toml": "unreadable: the file or its folder is gone",
    }


def test_a_file_that_went_between_list_and_look_is_unreadable(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_bytes(SOUND)
    rows = listed(tmp_path)
    (tmp_path / "a.toml").unlink()
    assert [one.state for one in health_of_jobs(tmp_path, rows)] == ["unreadable"]


class TestFolder:
    def test_it_is_written_to_and_nothing_remains(self, tmp_path: Path) -> None:
        health = health_of_folder(tmp_path)
        assert (health.words, health.sound) == ("can be written", True)
        assert list(tmp_path.iterdir()) == []

    def test_one_that_is_not_there_is_sound_where_it_can_be_made_and_is_not_made(self, tmp_path: Path) -> None:
        health = health_of_folder(tmp_path / "a" / "b")
        assert health.sound
        assert "not there yet" in health.words
        assert list(tmp_path.iterdir()) == []

    def test_one_that_cannot_be_made_is_not(self, tmp_path: Path) -> None:
        class Refusing(Disk):
            def writable(self, path: Path, known: os.stat_result) -> bool:
                return False

        health = health_of_folder(tmp_path / "a", Refusing())
        assert not health.sound
        assert "CANNOT be made" in health.words

    def test_a_full_disk_and_a_file_in_its_place_are_reported_with_what_to_do(self, tmp_path: Path) -> None:
        class Full(Disk):
            def open(self, path: Path, flags: int, mode: int = 0o600) -> int:
                raise OSError(errno.ENOSPC, "full")

        health = health_of_folder(tmp_path, Full())
        assert (health.words, health.sound) == ("CANNOT be written: the disk is full. Free some space.", False)
        (tmp_path / "file").write_text("")
        assert (
            "CANNOT be written: there is a file where its folder should be" in health_of_folder(tmp_path / "file").words
        )
