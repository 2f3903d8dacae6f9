"""A file goes to the system's print command; where that is not possible, the message says where the file is."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from stanchion.base.errors import NoPrinter
from stanchion.bench import printing
from stanchion.bench.printing import print_file

if sys.platform == "win32":
    pytest.skip("the print command is a shell script here", allow_module_level=True)


def print_command(folder: Path, name: str, script: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A print command of that name is the only program there is, beside those a script needs."""
    folder.mkdir()
    command = folder / name
    command.write_text(f"#!/bin/sh\n{script}\n")
    command.chmod(0o755)
    monkeypatch.setenv("PATH", str(folder))


@pytest.mark.parametrize("name", ["lp", "lpr"])
def test_the_print_command_is_given_the_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    taken = tmp_path / "taken"
    print_command(tmp_path / "bin", name, f'echo "$1" > {taken}', monkeypatch)
    print_file(tmp_path / "a sheet.txt")
    assert taken.read_text() == f"{tmp_path / 'a sheet.txt'}\n"


def test_what_the_print_command_says_is_passed_on(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    print_command(tmp_path / "bin", "lp", "echo 'lp: no default destination' >&2; exit 1", monkeypatch)
    with pytest.raises(NoPrinter, match=r"no default destination\. The sheet is in .*sheet\.txt"):
        print_file(tmp_path / "sheet.txt")


def test_without_a_print_command_it_says_where_the_file_is(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(NoPrinter, match=r"no print command \(lp or lpr\)\. The sheet is in .*sheet\.txt"):
        print_file(tmp_path / "sheet.txt")


def test_a_print_command_that_does_not_answer_is_given_up(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(printing, "PATIENCE_S", 0.2)
    print_command(tmp_path / "bin", "lp", "while :; do :; done", monkeypatch)
    with pytest.raises(NoPrinter, match="did not answer"):
        print_file(tmp_path / "sheet.txt")
