"""The real program where a terminal has no Unicode: no byte beyond ASCII leaves it, and nothing of the job is lost."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from complete_job import complete_job
from judgement_jobs import put
from stanchion.job.codec import dumps, loads
from stanchion.job.model import Job

if sys.platform == "win32":
    pytest.skip("pseudo-terminals are POSIX", allow_module_level=True)

from real_terminal import RealTerminal

BARE = {"LC_ALL": "", "LC_CTYPE": ""}
RIDER = "Jörg 灰 Ł"
SCREENS = (
    ("f3", ("INSTALLED PRELOAD", "band 8-15", "Preload now   14.6  15.0 mm", "L |==*-------| R |==*-------|", "_|")),
    ("f4", ("Wheel rate", "Headroom in", "out |", "| in")),
    ("f5", ("stiction", "target", "+-", "0|", "|60")),
    ("\x12", ("THE END OF THE LIST", "x5")),
    ("/", (" of 10 ", "##")),
    ("\x10", ("BOTH SAGS INTO", "FORCE ALONG THE FORK", "|------Ss-Rr", "S static R rider", "****")),
    ("\x14", ("now", "then", "Turns to in")),
    ("\x07", ("to in", "x2", "suits")),
    ("\x0c", ("TRAVEL USED", "RUNS", "###", " ->5.0 mm", "  C")),
    ("\x15", ("HOURS SINCE", "Gear ratio")),
    ("\x05", ("Esc all keys",)),
    ("\x17", ("Esc",)),
    ("\x06", ("STORY of", "used F", "best lap")),
    ("f2", ("SAG, mm", "Jorg ?? L", "<track>")),
    ("f6", ("worst first", "Esc goes back", "+====")),
    ("esc", ("SAG, mm",)),
    ("f1", ("letters search, Enter", "after Esc")),
    ("esc", ("SAG, mm",)),
    ("\x0e", ("A new job", "+====")),
    ("esc", ("SAG, mm",)),
    ("f9", ("JOBS, newest first",)),
)
"""The key of a screen, and what stands on it."""


def a_job_in(home: Path) -> Path:
    """A full job whose rider cannot be written in ASCII."""
    jobs = home / "jobs"
    jobs.mkdir(parents=True)
    path = jobs / "2026-05-31-grey-mule.toml"
    path.write_bytes(dumps(put(complete_job(), job__machine="Grey Mule", job__rider=RIDER)))
    return path


def kept(path: Path) -> Job:
    """The job as its file holds it."""
    return loads(path.read_bytes()).job


@pytest.mark.parametrize(
    "env",
    [
        {"LC_ALL": "C", "LANG": "C.UTF-8"},
        {**BARE, "LANG": "POSIX"},
        {"TERM": "linux"},
        {**BARE, "LANG": "xx.ISO-8859-1"},
    ],
    ids=["LC_ALL=C", "LANG=POSIX", "console", "Latin-1"],
)
@pytest.mark.long
def test_no_byte_beyond_ascii_leaves_the_program_on_any_screen(tmp_path: Path, env: dict[str, str]) -> None:
    path = a_job_in(tmp_path)
    with RealTerminal(tmp_path, env=env) as terminal:
        terminal.wait_for("JOBS, newest first", "Jorg")
        terminal.press("enter")
        terminal.wait_for("SAG, mm")
        for key, words in SCREENS:
            terminal.press(key)
            terminal.wait_for(*words)
        terminal.press("ctrl+q")
        assert terminal.wait_end() == 0
        beyond = [byte for byte in terminal.raw if byte >= 0x80]
        assert not beyond, bytes(terminal.raw)[terminal.raw.index(beyond[0]) - 40 :][:80]
    assert kept(path).job.rider == RIDER


def test_what_is_typed_keeps_its_letters_where_they_cannot_be_shown(tmp_path: Path) -> None:
    path = a_job_in(tmp_path)
    with RealTerminal(tmp_path, env={"LC_ALL": "C"}) as terminal:
        terminal.wait_for("JOBS, newest first", "Jorg")
        terminal.press("enter")
        terminal.wait_for("SAG, mm")
        terminal.press("enter", "Zoë ½", "enter")
        terminal.wait_for("Is Zoe ? another rider")
        terminal.press("\x1b")
        terminal.wait_for("| Zoe ? |")
        terminal.press("ctrl+q")
        assert terminal.wait_end() == 0
        assert terminal.raw.isascii()
    assert kept(path).job.rider == "Zoë ½"


@pytest.mark.parametrize(
    ("letters", "env", "ascii_alone"), [("ascii", {"LC_ALL": "C.UTF-8"}, True), ("unicode", {"LC_ALL": "C"}, False)]
)
def test_the_config_file_has_the_last_word(
    tmp_path: Path, letters: str, env: dict[str, str], ascii_alone: bool
) -> None:
    a_job_in(tmp_path)
    (tmp_path / "config").mkdir()
    (tmp_path / "config" / "config.toml").write_text(f"letters = '{letters}'\n", "utf-8")
    with RealTerminal(tmp_path, env=env) as terminal:
        terminal.wait_for("JOBS, newest first")
        terminal.press("enter")
        terminal.wait_for("SAG, mm", "Jorg ?? L" if ascii_alone else "Jörg")
        terminal.press("ctrl+q")
        assert terminal.wait_end() == 0
        assert terminal.raw.isascii() is ascii_alone


def test_what_a_verb_prints_to_a_bare_terminal_is_ascii_too(tmp_path: Path) -> None:
    path = a_job_in(tmp_path)
    with RealTerminal(tmp_path, "check", str(path), env={"LC_ALL": "C"}, lines=600) as terminal:
        terminal.wait_for("Grey Mule, Jorg", "N/mm", "approves a machine as safe.")
        assert terminal.wait_end() in (0, 1, 2)
        assert terminal.raw.isascii()


def test_in_another_encoding_what_is_typed_keeps_its_letters_too(tmp_path: Path) -> None:
    path = a_job_in(tmp_path)
    with RealTerminal(tmp_path, env={**BARE, "LANG": "de_DE.ISO-8859-15"}) as terminal:
        terminal.wait_for("JOBS, newest first", "Jorg")
        terminal.press("enter")
        terminal.wait_for("SAG, mm")
        terminal.press("enter")
        os.write(terminal.fd, "Größe €".encode("iso8859-15"))
        terminal.press("enter")
        terminal.wait_for("Is Grose ? another rider")
        terminal.press("\x1b")
        terminal.wait_for("| Grose ? |")
        terminal.press("ctrl+q")
        assert terminal.wait_end() == 0
    assert kept(path).job.rider == "Größe €"
