"""`stanchion doctor` as a person runs it without a terminal: what it prints, what it keeps out, its exit status."""

from __future__ import annotations

import io
import os
import shutil
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from complete_job import complete_job
from judgement_jobs import put
from stanchion import __version__
from stanchion.commands.command_line import main
from stanchion.commands.doctor import MOST_LISTED, jobs, nameless
from stanchion.commands.key_delivery import may_be_asked
from stanchion.commands.terminal_look import colours, letters, terminal
from stanchion.job.codec import dumps

NAMES = ("Zebedee", "Wolverhampton", "Pumpernickel", "Quicksilver")
"""A rider, a machine, a venue and a folder that occur nowhere else."""


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A home folder with a jobs folder that a person named, holding one sound job."""
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("USERPROFILE", str(tmp_path))
    monkeypatch.setenv("STANCHION_HOME", str(tmp_path / "Quicksilver"))
    monkeypatch.delenv("STANCHION_JOBS", raising=False)
    where = tmp_path / "Quicksilver" / "jobs"
    where.mkdir(parents=True)
    job = put(complete_job(), job__rider="Zebedee", job__machine="Wolverhampton", job__venue="Pumpernickel")
    job = replace(job, attached=())
    (where / "2026-05-31-wolverhampton-zebedee.toml").write_bytes(dumps(job))
    return where


def ran(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str]:
    with pytest.raises(SystemExit) as end:
        main(["doctor", *arguments])
    printed = capsys.readouterr()
    assert printed.err == ""
    return int(end.value.code or 0), printed.out


def test_a_healthy_program_leaves_with_0_and_tells_what_a_friend_asks_first(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    status, printed = ran(capsys)
    assert status == 0, printed
    python = ".".join(map(str, sys.version_info[:3]))
    for words in (f"stanchion {__version__}", f"Python {python}", "textual 8", "pint 0", "1 file: 1 ok", "All well."):
        assert words in printed
    assert "jobs   ~/…/jobs: can be written" in printed
    assert max(map(len, printed.splitlines())) <= 80


def test_no_name_and_no_home_is_printed_whatever_is_wrong_with_the_files(
    home: Path, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    (sound,) = home.iterdir()
    data = sound.read_bytes()
    (home / "Zebedee.toml").write_bytes(data[:500])
    (home / "Pumpernickel.toml").write_bytes(data.replace(b'use = "', b'use = "Zebedee '))
    (home / "Wolverhampton.toml").write_bytes(b'"Zebedee" = "Pumpernickel"\n')
    shutil.copy(sound, sound.with_stem(sound.stem + " (Zebedee's conflicted copy)"))
    for name in ("config.toml", "profiles.toml", "stock.toml"):
        path = tmp_path / "Quicksilver" / "config" / name
        path.parent.mkdir(exist_ok=True)
        path.write_text('Zebedee = "Pumpernickel')
    status, printed = ran(capsys)
    assert status == 1
    for name in (*NAMES, str(tmp_path), *tmp_path.parts[3:]):
        assert name.casefold() not in printed.casefold()
    assert "cut short" in printed
    assert "a copy of line" in printed
    assert printed.count("cannot be used") == 3


@pytest.mark.parametrize("left", ["unsaved/2026-05-31-a.toml", "faults/fault-20260531T101500-ab12.txt"])
def test_unsaved_edits_and_faults_of_earlier_runs_need_a_look(
    home: Path, capsys: pytest.CaptureFixture[str], left: str
) -> None:
    path = home.parent / "state" / left
    path.parent.mkdir(parents=True)
    path.write_text("")
    status, printed = ran(capsys)
    assert status == 1
    assert next(line for line in printed.splitlines() if line.startswith("!")).endswith(": 1")


def test_a_key_of_the_user_s_own_that_cannot_be_used_needs_a_look(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (home.parent / "config").mkdir()
    (home.parent / "config" / "config.toml").write_text('[keys]\n"undo" = "f1"\n')
    status, printed = ran(capsys)
    assert status == 1
    assert "! config.toml, line 2: this key is taken already" in printed


def test_unknown_settings_actions_and_themes_are_given_by_line_and_by_no_word_of_the_file(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (home.parent / "config").mkdir()
    text = '# Zebedee\nZebedee = 1\ntheme = "Pumpernickel"\n\n[units]\nlength = "in"\n[keys]\n"undoo" = "ctrl+b"\n'
    (home.parent / "config" / "config.toml").write_text(text)
    status, printed = ran(capsys)
    words = " ".join(printed.split())
    assert status == 1
    for told_of in (
        "! config.toml, line 2: this is not a setting this version knows; it is left alone. There are theme, letters, ",
        "! config.toml, line 6: this is not a setting this version knows; it is left alone. The nearest is 'lengths'.",
        "! config.toml, line 8: there is no such action. The nearest is 'undo'.",
        "! config.toml, line 3: there is no such theme; 'daylight' is used.",
    ):
        assert told_of in words
    for name in NAMES:
        assert name not in printed


def test_a_jobs_folder_that_is_a_file_is_reported_and_nothing_ends(
    home: Path, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    (tmp_path / "file").write_text("")
    status, printed = ran(capsys, "--jobs", str(tmp_path / "file"))
    assert status == 1
    assert "! jobs   ~/…: CANNOT be written" in printed
    assert "! the jobs folder cannot be listed" in printed


def test_of_very_many_files_that_are_not_well_the_rest_is_only_counted(home: Path) -> None:
    for number in range(MOST_LISTED + 5):
        (home / f"{number}.toml").write_bytes(b"")
    printed = jobs(str(home))
    assert printed[0].text == f"{MOST_LISTED + 6} files: 1 ok, {MOST_LISTED + 5} cut short"
    assert printed[-1].text == "and 5 more"


def test_an_empty_folder_is_no_fault(tmp_path: Path, home: Path) -> None:
    assert [(printed.text, printed.look) for printed in jobs(str(tmp_path / "none"))] == [("no job files", False)]


@pytest.mark.parametrize(
    ("path", "printed"),
    [
        ("/export/ann/.config/stanchion", "~/.config/stanchion"),
        ("/export/ann/Pumpernickel/jobs", "~/…/jobs"),
        ("/export/bob/.config/stanchion", "/…/…/.config/stanchion"),
        ("/media/ann/STICK", "/media/…/…"),
    ],
)
def test_a_folder_is_printed_without_names_that_a_person_gave(path: str, printed: str) -> None:
    assert nameless(Path(path), Path("/export/ann")) == printed


@pytest.mark.parametrize(
    ("environ", "printed"),
    [
        ({"TERM": "xterm"}, "16 colours, drawn in black and white"),
        ({"TERM": "linux", "COLORTERM": "truecolor"}, "16 colours, drawn in black and white"),
        ({"TERM": "linux", "NO_COLOR": ""}, "no colour, black and white (NO_COLOR is set)"),
        ({"TERM": "xterm-256color"}, "256 colours"),
        ({"TERM": "xterm-256color", "COLORTERM": "truecolor"}, "full colour"),
        ({"TERM": "dumb"}, "no colour"),
        ({"TERM": "xterm-256color", "NO_COLOR": "1"}, "no colour, shades of grey (NO_COLOR is set)"),
    ],
)
@pytest.mark.skipif(sys.platform == "win32", reason="there the console itself is asked")
def test_colours_are_concluded_as_the_program_does(environ: dict[str, str], printed: str) -> None:
    assert colours(environ) == printed


@pytest.mark.parametrize(("encoding", "look"), [("utf-8", False), ("UTF8", False), ("ascii", True), ("latin-1", True)])
def test_a_terminal_that_is_not_written_to_in_utf_8_needs_a_look(
    monkeypatch: pytest.MonkeyPatch, encoding: str, look: bool
) -> None:
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(io.BytesIO(), encoding=encoding))
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("LC_ALL", "C.UTF-8")
    printed = letters("terminal")
    assert printed.look is look
    assert ("drawn in ASCII" in printed.text) is look
    assert not letters("ascii").look
    assert "drawn in Unicode" in letters("unicode").text


def test_variables_of_the_terminal_are_shown_harmless(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "x\x1b]0;owned\x07")
    monkeypatch.setenv("COLORTERM", "")
    monkeypatch.delenv("NO_COLOR", raising=False)
    printed = terminal("terminal")[1].text
    assert "\x1b" not in printed
    assert "COLORTERM empty, NO_COLOR -" in printed


def test_the_size_of_the_terminal_is_judged(monkeypatch: pytest.MonkeyPatch) -> None:
    class Sized(io.StringIO):
        def fileno(self) -> int:
            return 1

    monkeypatch.setattr(sys, "stdout", Sized())
    for size, words, look in (
        ((80, 24), "80 columns, 24 lines", False),
        ((59, 24), "small, only the field in hand", True),
        ((60, 15), "every screen has room from 60 x 16", True),
        ((60, 16), "60 columns, 16 lines", False),
        ((0, 0), "size not known", False),
    ):
        monkeypatch.setattr(os, "get_terminal_size", lambda fd, size=size: os.terminal_size(size))
        printed = terminal("terminal")[0]
        assert (words in printed.text, printed.look) == (True, look)


def test_keys_are_not_tested_without_a_terminal() -> None:
    assert may_be_asked()
