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

JOBS, FRONT = "JOBS, newest first", "SPRING, PER LEG"
BENCH = ("Machine                Grey Mule", "F9 Jobs")


def shows(terminal: RealTerminal, *words: str) -> None:
    """Wait for a screen."""
    terminal.wait_for(*words, seconds=60)


@pytest.fixture(params=["bytes", "protocol"])
def together(request: pytest.FixtureRequest) -> Callable[[str], bytes]:
    """What a terminal sends for Esc and a letter."""

    def sent(letter: str) -> bytes:
        return f"\x1b[{ord(letter)};3u".encode() if request.param == "protocol" else b"\x1b" + letter.encode()

    return sent


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


@pytest.mark.parametrize(
    ("keys", "over"),
    [((), BENCH), (("f1",), ("Arrows and page keys scroll",)), (("f3", "\x12"), ("1 of", "Spring rate"))],
    ids=["fields", "help", "guide"],
)
def test_it_is_the_command_and_never_text(
    terminal: RealTerminal, together: Callable[[str], bytes], keys: tuple[str, ...], over: tuple[str, ...]
) -> None:
    terminal.press(*keys)
    shows(terminal, *over)
    os.write(terminal.fd, together("j"))
    shows(terminal, JOBS, "type to filter")


@pytest.mark.long
@pytest.mark.parametrize(
    ("keys", "over"),
    [
        (("f6",), ("Warnings, worst first",)),
        (("ctrl+n",), ("A new job",)),
        (("f9",), (JOBS,)),
        (("\x06",), ("STORY of Grey Mule",)),
    ],
    ids=["warnings", "new job", "jobs", "story"],
)
def test_where_esc_goes_back_it_goes_back_and_the_letter_counts_for_nothing(
    terminal: RealTerminal, together: Callable[[str], bytes], keys: tuple[str, ...], over: tuple[str, ...]
) -> None:
    terminal.press(*keys)
    shows(terminal, *over)
    os.write(terminal.fd, together("f"))
    shows(terminal, *BENCH)
    os.write(terminal.fd, b"\x1bf")
    shows(terminal, FRONT)


def test_several_in_one_read_are_obeyed_in_turn(terminal: RealTerminal, together: Callable[[str], bytes]) -> None:
    os.write(terminal.fd, together("s") + b"\x12" + together("f") + b"\x12" + together("r") + together("j"))
    shows(terminal, JOBS)
    os.write(terminal.fd, b"Gr" + together("f"))
    shows(terminal, "0 of 1")  # Esc takes the filter away, and the letter begins another
