"""The real program in a real pseudo-terminal, from start to a saved job, as a person would use it."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from complete_job import complete_job
from stanchion.job.codec import dumps, loads
from stanchion.job.model import Job

if sys.platform == "win32":
    pytest.skip("pseudo-terminals are POSIX", allow_module_level=True)

from real_terminal import RealTerminal

RESTORED = (b"\x1b[?1049l", b"\x1b[?25h", b"\x1b[?2004l")
"""Main screen, cursor and plain paste given back."""


def job_in(home: Path) -> Job:
    """The one job of this home, read back from its file."""
    (path,) = (home / "jobs").glob("*.toml")
    return loads(path.read_bytes()).job


def begin_a_job(terminal: RealTerminal) -> None:
    """From an empty folder to the front end screen of a new job."""
    terminal.wait_for("no jobs here yet")
    terminal.press("enter")
    terminal.wait_for("A new job", "Machine")
    terminal.press("Grey Mule", "enter", "B. T.", "enter", "Gravel Loop", "enter", "enter", "enter")
    terminal.wait_for("INSTALLED PRELOAD")


def test_a_bench_to_sag_job_by_keyboard_alone_at_80x24_is_found_again_tomorrow(tmp_path: Path) -> None:
    with RealTerminal(tmp_path) as terminal:
        begin_a_job(terminal)
        for value in ("9.5", "250", "238", "", "230", "", "", "8", "4"):
            terminal.press(value, "enter") if value else terminal.press("enter")
        # common practice, no published source: free 250, set 238 out, 230 in: installed 12, range 8; 4 of 8 turns in
        terminal.wait_for("in band 8–15", "16.0 mm", "Headroom in    4.0 mm")
        terminal.press("f4")
        terminal.wait_for("LINKAGE")
        for value in ("80", "165", "154"):
            terminal.press(value, "enter")
        terminal.press("f5")
        terminal.wait_for("Hanging, L1")
        for value in ("142", "121", "125", "104", "109", "612", "603", "605", "583", "585"):
            terminal.press(value, "enter")
        terminal.wait_for("15–25 ok", "28–38 ok", "saved ")
        terminal.press("ctrl+q")
        assert terminal.wait_end() == 0
        assert all(sequence in terminal.raw for sequence in RESTORED)
    job = job_in(tmp_path)
    assert (job.job.machine, job.job.rider, job.job.venue) == ("Grey Mule", "B. T.", "Gravel Loop")
    assert (job.front.left.spring.set_length_in_mm, job.front.left.adjuster.now) == (230, 4)
    assert job.rear.spring.set_length_mm == 154
    assert job.sag.rear.rider.up_mm == (585,)
    with RealTerminal(tmp_path) as terminal:  # tomorrow
        terminal.wait_for("Hanging, L1", "Grey Mule", "142")


def test_an_edit_is_on_disk_by_itself_though_the_program_is_killed(tmp_path: Path) -> None:
    with RealTerminal(tmp_path) as terminal:
        begin_a_job(terminal)
        terminal.press("9.25")
        terminal.wait_until(lambda: job_in(tmp_path).front.left.spring.rate_n_per_mm == 9.25)
        os.kill(terminal.pid, signal.SIGKILL)
        assert terminal.wait_end() == -signal.SIGKILL
    assert job_in(tmp_path).front.left.spring.rate_n_per_mm == 9.25


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_told_to_end_it_saves_gives_the_terminal_back_and_says_so_in_its_status(tmp_path: Path, number: int) -> None:
    with RealTerminal(tmp_path) as terminal:
        begin_a_job(terminal)
        terminal.press("8.75")
        terminal.wait_for("8.75")  # what the program has not read yet is lost with any program
        os.kill(terminal.pid, number)
        assert terminal.wait_end() == 128 + number
        assert all(sequence in terminal.raw for sequence in RESTORED)
    assert job_in(tmp_path).front.left.spring.rate_n_per_mm == 8.75


def test_escape_sequences_in_a_job_never_reach_the_terminal(tmp_path: Path) -> None:
    with RealTerminal(tmp_path) as terminal:
        begin_a_job(terminal)
        terminal.press("ctrl+q")
        terminal.wait_end()
    (path,) = (tmp_path / "jobs").glob("*.toml")
    planted = rb'"x[/a]y \u001b]0;owned\u0007\u001b[31mred\u009b31m"'
    path.write_bytes(path.read_bytes().replace(b'"Grey Mule"', planted))
    with RealTerminal(tmp_path) as terminal:
        terminal.wait_for("x[/a]y")
        terminal.press("f9")
        terminal.wait_for("JOBS")
        terminal.press("esc")
        terminal.wait_for("F2 Mach")
        terminal.press("ctrl+q")
        assert terminal.wait_end() == 0
        assert b"\x1b]0;owned" not in terminal.raw
        assert b"\x1b[31mred" not in terminal.raw
        assert "\x9b".encode() not in terminal.raw


def test_without_a_terminal_it_says_what_to_do_instead(tmp_path: Path) -> None:
    env = {**os.environ, "STANCHION_HOME": str(tmp_path)}
    command = [sys.executable, "-m", "stanchion"]
    done = subprocess.run(command, env=env, stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert "stanchion check" in done.stderr


def test_a_terminal_that_cannot_show_a_screen_is_refused_in_words(tmp_path: Path) -> None:
    with RealTerminal(tmp_path, env={"TERM": "dumb"}) as terminal:
        assert terminal.wait_end() == 2
        assert "cannot show a screen" in terminal.text


def test_keys_typed_faster_than_the_screen_go_to_the_fields_they_were_meant_for(tmp_path: Path) -> None:
    with RealTerminal(tmp_path) as terminal:
        begin_a_job(terminal)
        terminal.press("f5")
        terminal.wait_for("Hanging, L1")
        os.write(
            terminal.fd, b"142\r121\r125\r104\r109\r612\r603\r605\r583\r585\r"
        )  # all in one go, as a pad can send it
        terminal.wait_for("15–25 ok", "28–38 ok", "saved ")
        terminal.press("ctrl+q")
        assert terminal.wait_end() == 0
    sag = job_in(tmp_path).sag
    assert (sag.front.hanging_mm, sag.front.static.down_mm, sag.front.rider.up_mm) == ((142,), (121,), (109,))
    assert (sag.rear.hanging_mm, sag.rear.rider.up_mm) == ((612,), (585,))


def test_a_work_list_outlives_a_kill_and_is_ticked_on_after_it(tmp_path: Path) -> None:
    jobs = tmp_path / "jobs"
    jobs.mkdir()
    (jobs / "2026-05-16-now.toml").write_bytes(dumps(complete_job()))
    with RealTerminal(tmp_path) as terminal:
        terminal.wait_for("JOBS, newest first")
        terminal.press("enter")
        terminal.wait_for("Machine")
        terminal.press("f3")
        terminal.wait_for("INSTALLED PRELOAD")
        terminal.press("\x17")  # ^W out of a field in hand, whose editor would delete a word
        terminal.wait_for("which setup is", "run 2, 11:05")
        terminal.press("enter")
        terminal.wait_for("0 of 1 done", "[ ] Fork height")
        terminal.wait_until(lambda: job_in(tmp_path).returning is not None)
        os.kill(terminal.pid, signal.SIGKILL)
        terminal.wait_end()
    with RealTerminal(tmp_path) as terminal:
        terminal.wait_for("0 of 1 done", "[ ] Fork height")
        terminal.press(" ")
        terminal.wait_for("1 of 1 done", "[x] Fork height")
        terminal.press("ctrl+q")
        assert terminal.wait_end() == 0
    job = job_in(tmp_path)
    assert job.returning is not None
    assert job.front.fork_height_mm == 5.0
