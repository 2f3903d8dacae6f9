"""However the real program is made to end, what was typed is saved, the terminal is usable, and nothing spins on."""

from __future__ import annotations

import contextlib
import os
import resource
import signal
import subprocess
import sys
import termios
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from stanchion.job.codec import loads
from stanchion.job.spec import Rate

if sys.platform == "win32":
    pytest.skip("pseudo-terminals are POSIX", allow_module_level=True)

from driving import a_job, workspace_in
from real_terminal import RealTerminal

RESTORED = (b"\x1b[?1049l", b"\x1b[?25h", b"\x1b[?2004l")
"""Main screen, cursor and plain paste given back."""
WITHIN_S = 60.0
"""A program that has not ended by then hangs, on however busy a machine: a terminal that is gone is noticed in two."""
MOST_CPU_S = 4.0
"""Starting takes about one; a process that spins for the rest of the time takes far more."""


@contextmanager
def program(home: Path, screen: str = "front") -> Iterator[RealTerminal]:
    """The program on a job of its own, at the first field of a screen."""
    workspace = workspace_in(home)
    workspace.create(a_job())
    workspace.remember(screen)
    workspace.close()
    with RealTerminal(home) as terminal:
        terminal.wait_for("Spring rate", "saved", "Esc all keys")
        yield terminal


def rate_in(home: Path) -> Rate | None:
    """The spring rate the one job of this home has on disk."""
    (path,) = (home / "jobs").glob("*.toml")
    loaded = loads(path.read_bytes())
    assert not loaded.edited_by_hand
    return loaded.job.front.left.spring.rate_n_per_mm


def close_the_window(terminal: RealTerminal) -> None:
    """The terminal is gone, as when its window is closed."""
    os.close(terminal.fd)
    terminal.fd = os.open(os.devnull, os.O_RDWR)


def end_of(pid: int) -> tuple[int, float]:
    """Exit status and processor time of a process that must end soon."""
    deadline = time.monotonic() + WITHIN_S
    while time.monotonic() < deadline:
        found, status, used = os.wait4(pid, os.WNOHANG)
        if found:
            return os.waitstatus_to_exitcode(status), used.ru_utime + used.ru_stime
        time.sleep(0.05)
    used_now = resource.getrusage(resource.RUSAGE_CHILDREN)
    raise AssertionError(f"still there {WITHIN_S} s after its terminal went away ({used_now})")


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP, signal.SIGINT])
@pytest.mark.parametrize("where", ["field", "question", "list", "earlier", "help"])
def test_told_to_end_anywhere_it_saves_and_gives_the_terminal_back(tmp_path: Path, number: int, where: str) -> None:
    with program(tmp_path) as terminal:
        terminal.press("8.75")
        terminal.wait_for("8.75")  # what the program has not read yet is lost with any program
        if where == "question":
            terminal.press("ctrl+n")
            terminal.wait_for("A new job")
        elif where == "list":
            terminal.press("f9")
            terminal.wait_for("JOBS")
        elif where == "earlier":
            terminal.press("\x05")
            terminal.wait_for("EARLIER STATES")
        elif where == "help":
            terminal.press("f1")
            terminal.wait_for("direct  after Esc")
        os.kill(terminal.pid, number)
        assert terminal.wait_end() == 128 + number
        assert all(sequence in terminal.raw for sequence in RESTORED)
        local = termios.tcgetattr(terminal.fd)[3]
        assert local & termios.ECHO
        assert local & termios.ICANON
    assert rate_in(tmp_path) == 8.75


def test_a_closed_window_saves_and_ends_as_a_hangup_does(tmp_path: Path) -> None:
    with program(tmp_path) as terminal:
        terminal.press("8.5")
        terminal.wait_for("8.5")
        close_the_window(terminal)
        terminal.status, used = end_of(terminal.pid)
        assert terminal.status == 128 + signal.SIGHUP
        assert used < MOST_CPU_S
    assert rate_in(tmp_path) == 8.5


@pytest.mark.parametrize("how", ["ignored", "blocked"])
def test_with_hangups_ignored_or_held_back_a_closed_window_ends_it_all_the_same(tmp_path: Path, how: str) -> None:
    """As under nohup, and as where no hangup ever comes: then only the missing terminal itself can be noticed."""
    before = signal.getsignal(signal.SIGHUP)
    if how == "ignored":
        signal.signal(signal.SIGHUP, signal.SIG_IGN)  # a process started from here ignores it too
    else:
        signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGHUP})
    try:
        with program(tmp_path) as terminal:
            terminal.press("8.25")
            terminal.wait_for("8.25")
            close_the_window(terminal)
            terminal.status, used = end_of(terminal.pid)
            assert terminal.status in (128 + signal.SIGHUP, 128 + signal.SIGTERM)
            assert used < MOST_CPU_S
    finally:
        signal.signal(signal.SIGHUP, before)
        signal.pthread_sigmask(signal.SIG_UNBLOCK, {signal.SIGHUP})
    assert rate_in(tmp_path) == 8.25


def test_text_that_cannot_be_read_is_kept_when_the_window_is_closed(tmp_path: Path) -> None:
    with program(tmp_path) as terminal:
        terminal.press("8.5.2")
        terminal.wait_for("✖")
        close_the_window(terminal)
        terminal.status, _ = end_of(terminal.pid)
    with RealTerminal(tmp_path) as terminal:
        terminal.wait_for("8.5.2", "1 value typed before")


# --- a disk that is full, and one that has room again --------------------------------------------------------------------


def fill(ballast: Path) -> None:
    """Take all the room there is."""
    with ballast.open("wb", buffering=0) as file, contextlib.suppress(OSError):
        while True:
            file.write(b"x" * 4096)


@pytest.mark.skipif(not sys.platform.startswith("linux") or os.geteuid() != 0, reason="needs the right to mount")
def test_on_a_full_disk_the_screen_says_so_keeps_the_edit_elsewhere_and_saves_once_there_is_room(
    tmp_path: Path,
) -> None:
    jobs = tmp_path / "jobs"
    jobs.mkdir()
    if subprocess.run(["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(jobs)], check=False).returncode:
        pytest.skip("mounting is not allowed here")
    try:
        with program(tmp_path) as terminal:
            (path,) = jobs.glob("*.toml")
            old = path.read_bytes()
            ballast = jobs / "ballast"
            fill(ballast)
            terminal.press("8.125")
            terminal.wait_for("NOT SAVED", "the disk is full")
            assert path.read_bytes() == old
            assert "8.125" in terminal.text
            (spilled,) = (tmp_path / "state" / "unsaved").glob("*.toml")
            assert loads(spilled.read_bytes()).job.front.left.spring.rate_n_per_mm == 8.125
            ballast.unlink()
            terminal.wait_until_gone("NOT SAVED")
            terminal.wait_for("saved ")
            assert rate_in(tmp_path) == 8.125
            assert not spilled.exists()
            terminal.press("ctrl+q")
            assert terminal.wait_end() == 0
    finally:
        subprocess.run(["umount", str(jobs)], check=True)


# --- two programs ------------------------------------------------------------------------------------------------------


def test_two_programs_on_one_job_the_second_is_asked_and_both_edits_can_be_had(tmp_path: Path) -> None:
    with program(tmp_path) as first, RealTerminal(tmp_path) as second:
        second.wait_for("Spring rate", "saved", "Esc all keys")
        first.press("8.5")
        first.wait_until(lambda: rate_in(tmp_path) == 8.5)
        second.press("9.75")
        second.wait_for("The file was changed by somebody else")
        assert rate_in(tmp_path) == 8.5
        second.press("down", "enter")  # keep mine
        second.wait_until_gone("The file was changed by somebody else")
        second.wait_for("saved ")
        assert rate_in(tmp_path) == 9.75
    states = [loads(one.read_bytes()).job for one in (tmp_path / "state" / "history").rglob("*.toml")]
    assert 8.5 in [job.front.left.spring.rate_n_per_mm for job in states]


def test_a_screen_whose_output_goes_elsewhere_is_refused_in_words(tmp_path: Path) -> None:
    """It is drawn on standard error, where the other two may well be the terminal."""
    leader, follower = os.openpty()
    try:
        ran = subprocess.run(
            [sys.executable, "-m", "stanchion"],
            env={**os.environ, "STANCHION_HOME": str(tmp_path), "TERM": "xterm-256color"},
            stdin=follower,
            stdout=follower,
            stderr=subprocess.PIPE,
            timeout=60,
            check=False,
        )
    finally:
        os.close(leader)
        os.close(follower)
    assert ran.returncode == 2
    assert b"The screen needs a terminal" in ran.stderr
