"""The seam over the system calls: what it makes of names, links and processes, and the words for what failed."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest

from stanchion.store.disk import DISK, advice, cause, process_alive

posix = pytest.mark.skipif(sys.platform == "win32", reason="second names of POSIX systems")


def no_links(number: int) -> object:
    def link(source: object, target: object) -> None:
        raise OSError(number, os.strerror(number))

    return link


@posix
@pytest.mark.parametrize("number", [errno.EPERM, errno.ENOTSUP, errno.EXDEV, errno.EMLINK], ids=errno.errorcode.get)
def test_on_a_disk_without_second_names_a_file_is_still_settled_but_never_over_another(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    monkeypatch.setattr(os, "link", no_links(number))
    part, taken = tmp_path / "part", tmp_path / "taken"
    part.write_text("new")
    taken.write_text("old")
    with pytest.raises(FileExistsError):
        DISK.settle(part, taken)
    dangling = tmp_path / "dangling"
    dangling.symlink_to("nowhere")
    with pytest.raises(FileExistsError):
        DISK.settle(part, dangling)
    assert (part.read_text(), taken.read_text()) == ("new", "old")
    DISK.settle(part, tmp_path / "free")
    assert (tmp_path / "free").read_text() == "new"
    assert not part.exists()


@posix
def test_a_full_disk_is_no_reason_to_settle_in_another_way(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "link", no_links(errno.ENOSPC))
    (tmp_path / "part").write_text("new")
    with pytest.raises(OSError, match="No space"):
        DISK.settle(tmp_path / "part", tmp_path / "free")
    assert not (tmp_path / "free").exists()


def test_a_process_is_alive_while_it_runs_and_in_doubt() -> None:
    assert process_alive(os.getpid())
    with subprocess.Popen([sys.executable, "-c", ""]) as gone:
        pass
    assert not process_alive(gone.pid)
    assert not process_alive(10**30)


@posix
def test_a_process_of_another_user_counts_as_alive(monkeypatch: pytest.MonkeyPatch) -> None:
    def kill(pid: int, number: int) -> None:
        raise PermissionError(errno.EPERM, "not yours")

    monkeypatch.setattr(os, "kill", kill)
    assert process_alive(1)


def test_what_failed_is_put_into_words_even_where_the_system_gives_none() -> None:
    assert (cause(OSError(errno.EDQUOT, "x")), advice(OSError(errno.EDQUOT, "x"))) == (
        "your disk quota is used up",
        "Free some space.",
    )
    assert cause(OSError(errno.EPIPE, "Broken pipe")) == "Broken pipe"
    assert cause(OSError()) == "the system gives no reason"
    assert advice(OSError()) == "Check the disk and the folder."


def test_a_file_that_another_program_has_open_on_windows_is_reported_as_such() -> None:
    held = OSError(errno.EACCES, "denied")
    held.winerror = 32  # type: ignore[attr-defined, unused-ignore]
    assert cause(held) == "another program holds the file"
