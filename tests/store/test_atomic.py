from __future__ import annotations

import errno
import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from stanchion.base.errors import BadFile, ChangedOnDisk, NotSaved
from stanchion.base.toml import LARGEST
from stanchion.store.atomic import fingerprint, make_folder, put, read, write
from stanchion.store.disk import Disk
from stanchion.store.temporary import sweep
from store.faulty import ERRNOS, Faulty

OLD, NEW = b"old " * 300, b"new " * 1000
POSIX = pytest.mark.skipif(sys.platform == "win32", reason="modes and links of POSIX systems")


def leftovers(folder: Path) -> list[str]:
    return sorted(name.name for name in folder.iterdir() if name.name.startswith(".stanchion-"))


class Later(Disk):
    """Two minutes on."""

    def now(self) -> float:
        return super().now() + 120


# --- every call fails in turn ------------------------------------------------------------------------------------

SILENT = {"close", "give_mode", "give_owner", "lock", "unlink"}
"""Calls whose failure may leave a save whole and durable; a flush is none of them."""


@pytest.mark.parametrize("number", ERRNOS, ids=errno.errorcode.get)
@pytest.mark.parametrize("for_good", [False, True], ids=["once", "for good"])
@pytest.mark.parametrize("existing", [True, False], ids=["overwriting", "new"])
def test_a_failing_call_leaves_the_old_or_the_new_file_and_is_never_silent(
    tmp_path: Path, number: int, for_good: bool, existing: bool
) -> None:
    path = tmp_path / "job.toml"
    for at in range(1, 100):
        path.unlink(missing_ok=True)
        if existing:
            path.write_bytes(OLD)
            path.chmod(0o640)
        before = OLD if existing else None
        disk = Faulty(number, at, for_good=for_good, most_bytes=None if for_good else 1000)
        said = ""
        try:
            written = write(path, NEW, fingerprint(OLD) if existing else None, disk)
        except NotSaved as failure:
            said = str(failure)
            assert (path.read_bytes() if path.exists() else None) == before
        else:
            said = written.caution
            assert path.read_bytes() == NEW
            assert written.sha == fingerprint(NEW)
        taken = {"open"} if number == errno.EEXIST else set()  # the next name is tried
        assert said or set(disk.fired) <= SILENT | taken, f"silent about {disk.fired}"
        if "unlink" not in disk.fired:
            assert leftovers(tmp_path) == []
        for name in leftovers(tmp_path):
            (tmp_path / name).unlink()
        present = path.read_bytes() if path.exists() else None
        write(path, NEW * 2, None if present is None else fingerprint(present))  # and the next save works
        assert path.read_bytes() == NEW * 2
        if not disk.fired:
            assert at > 8
            return
    pytest.fail("a save that never ends")


def test_what_happens_after_the_swap_is_called_written_and_not_lost(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(OLD)
    written = write(path, NEW, fingerprint(OLD), Faulty(errno.EIO, only="sync_folder"))
    assert path.read_bytes() == NEW
    assert "is written, but it may not survive a power cut" in written.caution


def test_a_swap_whose_answer_was_lost_counts_as_done(tmp_path: Path) -> None:
    class Lossy(Disk):
        def replace(self, source: Path, target: Path) -> None:
            super().replace(source, target)
            raise TimeoutError(errno.ETIMEDOUT, "lost")

    path = tmp_path / "job.toml"
    path.write_bytes(OLD)
    assert write(path, NEW, fingerprint(OLD), Lossy()).sha == fingerprint(NEW)
    assert path.read_bytes() == NEW


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "the disk is full. Free some space."),
        (errno.EROFS, "the disk is read-only."),
        (errno.EACCES, "the system does not allow it."),
        (errno.EIO, "the disk reports a fault."),
    ],
)
def test_the_reason_is_said_in_plain_words(tmp_path: Path, number: int, words: str) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(OLD)
    with pytest.raises(NotSaved) as failure:
        write(path, NEW, fingerprint(OLD), Faulty(number, only="write"))
    assert words in str(failure.value)
    assert "'job.toml' is not saved" in str(failure.value)


# --- somebody else writes ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("restored", [False, True], ids=["new times", "times put back"])
def test_a_file_changed_meanwhile_is_not_overwritten(tmp_path: Path, restored: bool) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(OLD)
    known = path.stat()
    path.write_bytes(OLD.upper())
    if restored:
        os.utime(path, ns=(known.st_atime_ns, known.st_mtime_ns))
    with pytest.raises(ChangedOnDisk, match="changed by another program"):
        write(path, NEW, fingerprint(OLD))
    assert path.read_bytes() == OLD.upper()
    assert leftovers(tmp_path) == []


def test_a_change_between_the_first_look_and_the_swap_is_noticed(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(OLD)

    class Raced(Disk):
        def sync(self, fd: int) -> None:
            super().sync(fd)
            path.write_bytes(b"theirs")

    with pytest.raises(ChangedOnDisk):
        write(path, NEW, fingerprint(OLD), Raced())
    assert path.read_bytes() == b"theirs"
    assert leftovers(tmp_path) == []


def test_a_deleted_file_is_not_made_anew_without_asking(tmp_path: Path) -> None:
    with pytest.raises(ChangedOnDisk, match="deleted or moved"):
        write(tmp_path / "job.toml", NEW, fingerprint(OLD))
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_gone_is_a_failure_to_be_tried_again_and_no_conflict(tmp_path: Path) -> None:
    with pytest.raises(NotSaved, match="folder is gone") as failure:
        write(tmp_path / "stick" / "job.toml", NEW, fingerprint(OLD))
    assert not isinstance(failure.value, ChangedOnDisk)


def test_a_new_file_never_takes_a_name_in_use(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(OLD)
    with pytest.raises(ChangedOnDisk, match=r"is a file 'job\.toml' already"):
        write(path, NEW, None)
    assert path.read_bytes() == OLD
    assert leftovers(tmp_path) == []


def test_a_disk_without_links_still_takes_new_files_and_protects_old_ones(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(*_: object, **__: object) -> None:
        raise PermissionError(errno.EPERM, "no links here")

    monkeypatch.setattr(os, "link", refused)
    path = tmp_path / "job.toml"
    write(path, NEW, None)
    assert path.read_bytes() == NEW
    with pytest.raises(ChangedOnDisk):
        write(path, OLD, None)
    assert path.read_bytes() == NEW
    assert leftovers(tmp_path) == []


def test_two_writers_lose_no_edit_without_a_word(tmp_path: Path) -> None:
    """Each appends its lines to what it reads, and reads again when told that the file has changed.

    Neither gets more than three lines ahead, so that they meet however the machine shares out its time.
    """
    path = tmp_path / "job.toml"
    path.write_bytes(b"")
    writer = (
        "import random, sys, time\nfrom pathlib import Path\n"
        "from stanchion.base.errors import NotSaved\nfrom stanchion.store.atomic import fingerprint, read, write\n"
        "path, mark = Path(sys.argv[1]), sys.argv[2]\n"
        "print('ready', flush=True)\nsys.stdin.readline()\n"
        "for n in range(60):\n"
        "    time.sleep(random.random() / 40)\n"
        "    while True:\n"
        "        data = read(path)\n"
        "        if sum(not line.startswith(mark) for line in data.decode().split()) < n - 3:\n"
        "            time.sleep(0.001)\n"
        "            continue\n"
        "        try:\n"
        "            write(path, data + f'{mark}{n}\\n'.encode(), fingerprint(data))\n"
        "            break\n"
        "        except NotSaved:\n"
        "            pass\n"
    )
    both = [
        subprocess.Popen(
            [sys.executable, "-c", writer, str(path), mark], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )
        for mark in "ab"
    ]
    for one in both:
        assert one.stdout is not None
        assert one.stdout.readline() == "ready\n"
    for one in both:
        assert one.stdin is not None
        one.stdin.write("go\n")
        one.stdin.close()
    assert [one.wait(30) for one in both] == [0, 0]
    for one in both:
        assert one.stdout is not None
        one.stdout.close()
    lines = path.read_text().split()
    for mark in "ab":
        assert [line for line in lines if line.startswith(mark)] == [f"{mark}{n}" for n in range(60)]


# --- links, modes, read-only ----------------------------------------------------------------------------------------


@POSIX
@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664])
def test_the_mode_of_a_file_is_kept(tmp_path: Path, mode: int) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(OLD)
    path.chmod(mode)
    write(path, NEW, fingerprint(OLD))
    assert stat.S_IMODE(path.stat().st_mode) == mode


@POSIX
def test_new_files_and_folders_are_for_the_user_alone_whatever_the_umask(tmp_path: Path) -> None:
    old = os.umask(0)
    try:
        make_folder(tmp_path / "a" / "b")
        write(tmp_path / "a" / "b" / "job.toml", NEW, None)
        put(tmp_path / "a" / "b" / "own", NEW)
    finally:
        os.umask(old)
    assert stat.S_IMODE((tmp_path / "a").stat().st_mode) == 0o700
    assert stat.S_IMODE((tmp_path / "a" / "b").stat().st_mode) == 0o700
    assert stat.S_IMODE((tmp_path / "a" / "b" / "job.toml").stat().st_mode) == 0o600
    assert stat.S_IMODE((tmp_path / "a" / "b" / "own").stat().st_mode) == 0o600


@POSIX
def test_a_folder_that_is_there_keeps_its_mode(tmp_path: Path) -> None:
    (tmp_path / "jobs").mkdir()
    (tmp_path / "jobs").chmod(0o755)
    make_folder(tmp_path / "jobs")
    assert stat.S_IMODE((tmp_path / "jobs").stat().st_mode) == 0o755


@POSIX
@pytest.mark.parametrize("marked", [True, False])
def test_a_file_marked_read_only_is_refused_even_to_root(tmp_path: Path, marked: bool) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(OLD)
    path.chmod(0o444 if marked else 0o644)
    if marked:
        with pytest.raises(NotSaved, match=r"marked read-only.*save as a copy"):
            write(path, NEW, fingerprint(OLD))
    else:
        write(path, NEW, fingerprint(OLD))
    assert path.read_bytes() == (OLD if marked else NEW)


def test_a_folder_that_takes_no_files_is_said_to_be_so(tmp_path: Path) -> None:
    class Locked(Disk):  # root is let in anywhere, so the refusal is acted
        def open(self, path: Path, flags: int, mode: int = 0o600) -> int:
            if flags & os.O_CREAT:
                raise PermissionError(errno.EACCES, "Permission denied")
            return super().open(path, flags, mode)

    path = tmp_path / "job.toml"
    path.write_bytes(OLD)
    with pytest.raises(NotSaved, match=r"the system does not allow it\. Check who owns the file and its folder"):
        write(path, NEW, fingerprint(OLD), Locked())
    assert path.read_bytes() == OLD


@POSIX
def test_a_chain_of_links_stays_and_the_file_at_its_end_is_written(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    real = tmp_path / "real" / "job.toml"
    real.write_bytes(OLD)
    (tmp_path / "one.toml").symlink_to(real)
    (tmp_path / "two.toml").symlink_to("one.toml")
    write(tmp_path / "two.toml", NEW, fingerprint(OLD))
    assert real.read_bytes() == NEW
    assert (tmp_path / "two.toml").is_symlink()
    assert (tmp_path / "one.toml").is_symlink()
    assert leftovers(tmp_path / "real") == leftovers(tmp_path) == []


@POSIX
def test_links_that_lead_nowhere_or_in_a_circle_are_refused(tmp_path: Path) -> None:
    (tmp_path / "nowhere.toml").symlink_to(tmp_path / "gone")
    (tmp_path / "circle.toml").symlink_to("circle.toml")
    for name in ("nowhere.toml", "circle.toml"):
        for expected in (fingerprint(OLD), None):
            with pytest.raises(NotSaved):
                write(tmp_path / name, NEW, expected)
    assert not (tmp_path / "gone").exists()
    assert (tmp_path / "circle.toml").is_symlink()


@POSIX
def test_a_pipe_named_like_a_job_neither_hangs_nor_is_written(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    os.mkfifo(path)
    with pytest.raises(BadFile, match="not an ordinary file"):
        read(path)
    with pytest.raises(NotSaved):
        write(path, NEW, fingerprint(OLD))
    assert stat.S_ISFIFO(path.stat().st_mode)


def test_a_huge_file_is_refused_without_reading_it_all(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    with path.open("wb") as file:
        file.truncate(50_000_000)
    disk = Faulty(errno.EIO, 10**9, only="read")
    with pytest.raises(BadFile, match=f"larger than {LARGEST // 1000} kB"):
        read(path, disk)
    assert disk.calls <= 3


@pytest.mark.skipif(not sys.platform.startswith("linux") or os.geteuid() != 0, reason="needs the right to mount")
def test_on_a_full_disk_the_old_file_stays_and_saving_works_once_there_is_room(tmp_path: Path) -> None:
    mounted = tmp_path / "small"
    mounted.mkdir()
    if subprocess.run(["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(mounted)], check=False).returncode:
        pytest.skip("mounting is not allowed here")
    try:
        path = mounted / "job.toml"
        path.write_bytes(OLD)
        ballast = mounted / "ballast"
        for free in (0, 4096, 8192):
            ballast.write_bytes(b"")
            with ballast.open("wb") as file:
                file.write(b"x" * (64 * 1024 - 4096 - free))
            with pytest.raises(NotSaved, match="the disk is full"):
                write(path, NEW * 8, fingerprint(OLD))
            assert path.read_bytes() == OLD
            assert leftovers(mounted) == []
        ballast.unlink()
        write(path, NEW * 8, fingerprint(OLD))
        assert path.read_bytes() == NEW * 8
    finally:
        subprocess.run(["umount", str(mounted)], check=True)


# --- what dead processes left ---------------------------------------------------------------------------------------


def abandoned(folder: Path, *, alive: bool = False) -> Path:
    """A temporary file as a killed save leaves it."""

    class Killed(Disk):
        def replace(self, source: Path, target: Path) -> None:
            source.rename(keep)
            raise KeyboardInterrupt

    keep = folder / "aside"
    with pytest.raises(KeyboardInterrupt):
        put(folder / "job.toml", NEW, Killed())
    dead = subprocess.Popen([sys.executable, "-c", ""])
    dead.wait()
    process = os.getpid() if alive else dead.pid
    machine = _machine_mark(folder)
    path = folder / f".stanchion-{machine}-{process}-0123abcd.part"
    keep.rename(path)
    return path


def _machine_mark(folder: Path) -> str:
    seen: list[str] = []

    class Watching(Disk):
        def replace(self, source: Path, target: Path) -> None:
            seen.append(source.name)
            super().replace(source, target)

    put(folder / "watched", b"", Watching())
    return seen[0].split("-")[1]


def test_files_of_a_dead_process_are_removed_once_they_are_old(tmp_path: Path) -> None:
    path = abandoned(tmp_path)
    assert sweep(tmp_path) == 0  # too young
    assert path.exists()
    assert sweep(tmp_path, Later()) == 1
    assert not path.exists()


def test_what_a_living_process_is_writing_stays(tmp_path: Path) -> None:
    path = abandoned(tmp_path, alive=True)
    assert sweep(tmp_path, Later()) == 0
    assert path.exists()


def test_files_of_other_programs_are_not_removed(tmp_path: Path) -> None:
    ours = abandoned(tmp_path)
    names = [
        ours.name.replace(ours.name.split("-")[1], "00000000"),  # another machine's
        ours.name + "x",
        "x" + ours.name,
        ".stanchion-notes.part",
        "job.toml",
        ".job.toml.swp",
        "~job.tmp",
    ]
    for name in names:
        (tmp_path / name).write_bytes(b"theirs")
    folder = tmp_path / ours.name.replace("0123abcd", "0123abce")
    folder.mkdir()
    assert sweep(tmp_path, Later()) == 1
    assert all((tmp_path / name).read_bytes() == b"theirs" for name in names)
    assert folder.is_dir()
    assert not ours.exists()
