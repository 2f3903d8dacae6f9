"""Esc and a letter that arrive in one read, as over ssh, through a multiplexer, or from Alt and a letter."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from driving import a_job, workspace_in

if sys.platform == "win32":
    pytest.skip("pseudo-terminals are POSIX", allow_module_level=True)

from real_terminal import RealTerminal

JOBS, FRONT = "JOBS, newest first", "FORK SPRING, PER LEG"
BENCH = ("Machine                Grey Mule", "F9 Jobs")


def shows(terminal: RealTerminal, *words: str) -> None:
    """Wait for a screen."""
    terminal.wait_for(*words, seconds=60)


TOGETHER: dict[str, Callable[[str], bytes]] = {
    "bytes": lambda letter: b"\x1b" + letter.encode(),
    "protocol": lambda letter: f"\x1b[{ord(letter)};3u".encode(),
}
"""What a terminal sends for Esc and a letter."""


@pytest.fixture
def terminal(tmp_path: Path) -> Iterator[RealTerminal]:
    """The program with a job open; in the end nothing of it was changed."""
    workspace = workspace_in(tmp_path)
    workspace.create(a_job(machine="Grey Mule"))
    workspace.remember("machine")
    workspace.close()
    (file,) = (tmp_path / "jobs").glob("*.toml")
    job = file.read_bytes()
    with RealTerminal(tmp_path) as terminal:
        shows(terminal, *BENCH)
        yield terminal
        terminal.press("ctrl+q")
        assert terminal.wait_end(60) == 0
    assert file.read_bytes() == job


def back(terminal: RealTerminal) -> None:
    """From the list of jobs to the screen to begin with."""
    terminal.press("esc")
    terminal.wait_until_gone(JOBS)
    terminal.press("f2")
    shows(terminal, *BENCH)


def test_it_is_the_command_and_never_text(terminal: RealTerminal) -> None:
    help_text, guide = ("letters search, Enter",), ("1 of", "Spring rate")
    warnings = ("Warnings, worst first",)
    for keys, over in (((), BENCH), (("f1",), help_text), (("f6",), warnings), (("f3", "\x12"), guide)):
        for together in TOGETHER.values():
            terminal.press(*keys)
            shows(terminal, *over)
            os.write(terminal.fd, together("j"))
            shows(terminal, JOBS, "type to filter")
            back(terminal)


@pytest.mark.long
def test_where_esc_goes_back_it_goes_back_and_the_letter_counts_for_nothing(terminal: RealTerminal) -> None:
    for key, over in (
        ("ctrl+n", "A new job"),
        ("f9", JOBS),
        ("\x06", "STORY of Grey Mule"),
    ):
        for together in TOGETHER.values():
            terminal.press(key)
            shows(terminal, over)
            os.write(terminal.fd, together("f"))
            terminal.wait_until_gone(over)
            shows(terminal, *BENCH)
            os.write(terminal.fd, b"\x1bf")
            shows(terminal, FRONT)
            terminal.press("f2")
            shows(terminal, *BENCH)


def test_several_in_one_read_are_obeyed_in_turn(terminal: RealTerminal) -> None:
    for together in TOGETHER.values():
        os.write(terminal.fd, together("s") + b"\x12" + together("f") + b"\x12" + together("r") + together("j"))
        shows(terminal, JOBS)
        os.write(terminal.fd, b"Gr" + together("f"))
        shows(terminal, "0 of 1")  # Esc takes the filter away, and the letter begins another
        terminal.press("esc")
        shows(terminal, JOBS, "type to filter")
        back(terminal)
