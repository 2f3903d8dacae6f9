"""`stanchion earlier` and what `check` says of a damaged job, as a person types it."""

from __future__ import annotations

from pathlib import Path

import pytest

from driving import a_job, workspace_in
from stanchion.commands.command_line import main

RATE = ("front", "left", "spring", "rate_n_per_mm")


@pytest.fixture
def job_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A job saved in two sessions: 9.0, then 9.5."""
    monkeypatch.setenv("STANCHION_HOME", str(tmp_path))
    monkeypatch.delenv("STANCHION_JOBS", raising=False)
    monkeypatch.chdir(tmp_path)
    workspace = workspace_in(tmp_path)
    workspace.create(a_job(("front.left.spring.rate_n_per_mm", 9.0)))
    workspace.close()
    (path,) = workspace.places.jobs.iterdir()
    for value in (9.25, 9.5):
        assert not workspace.open(path.name).put(RATE, value)
        assert workspace.close()
    return path


def status(*arguments: str | Path) -> int:
    with pytest.raises(SystemExit) as end:
        main([str(argument) for argument in arguments])
    return int(end.value.code or 0)


@pytest.mark.parametrize("bare", [True, False])
def test_the_states_are_listed_newest_first_with_what_would_change(
    job_file: Path, capsys: pytest.CaptureFixture[str], bare: bool
) -> None:
    assert status("earlier", job_file.name if bare else job_file) == 0
    rows = [line.split("\t") for line in capsys.readouterr().out.splitlines()]
    assert [(row[0], row[2], row[3]) for row in rows] == [
        ("1", "start of a session", "Fork spring rate 9.50 N/mm → 9.25 N/mm (−0.25 N/mm)"),
        ("2", "start of a session", "Fork spring rate 9.50 N/mm → 9.00 N/mm (−0.50 N/mm)"),
    ]


def test_one_is_written_into_a_new_file_and_the_job_stays(job_file: Path, tmp_path: Path) -> None:
    before = job_file.read_bytes()
    out = tmp_path / "back.toml"
    assert status("earlier", job_file.name, "--bring-back", "2", "-o", out) == 0
    assert b"rate_n_per_mm = 9.0\n" in out.read_bytes()
    assert job_file.read_bytes() == before


def test_an_existing_file_is_not_overwritten(job_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = job_file.read_bytes()
    assert status("earlier", job_file, "--bring-back", "1", "-o", job_file) == 2
    assert "already exists" in capsys.readouterr().err
    assert job_file.read_bytes() == before


@pytest.mark.parametrize("number", ["0", "3", "-1"])
def test_a_state_that_is_not_there_is_said(
    job_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], number: str
) -> None:
    assert status("earlier", job_file, f"--bring-back={number}", "-o", tmp_path / "x.toml") == 2
    assert "2 are kept" in capsys.readouterr().err
    assert not (tmp_path / "x.toml").exists()


@pytest.mark.parametrize("arguments", [("--bring-back", "1"), ("-o", "x.toml")])
def test_half_a_command_is_said(job_file: Path, capsys: pytest.CaptureFixture[str], arguments: tuple[str, str]) -> None:
    assert status("earlier", job_file, *arguments) == 2
    assert "belong together" in capsys.readouterr().err


def test_a_damaged_state_is_neither_listed_as_whole_nor_written(
    job_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    newest = max((tmp_path / "state" / "history").rglob("*.toml"))
    newest.write_bytes(newest.read_bytes().replace(b"9.25", b"9.26"))
    assert status("earlier", job_file) == 0
    first, second = capsys.readouterr().out.splitlines()
    assert "cannot be opened: this earlier state is damaged" in first
    assert "9.00 N/mm" in second
    assert status("earlier", job_file, "--bring-back", "1", "-o", tmp_path / "x.toml") == 2
    assert not (tmp_path / "x.toml").exists()


def test_of_a_damaged_job_check_offers_the_newest_whole_state(
    job_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    damaged = job_file.read_bytes()[:-20]
    job_file.write_bytes(damaged)
    assert status("check", job_file) == 2
    printed = capsys.readouterr().out
    assert "cut short" in printed
    assert f"'stanchion earlier {job_file.name}' lists it and can bring it back" in printed
    assert status("earlier", job_file) == 0
    assert "cut short" in capsys.readouterr().out
    assert status("earlier", job_file, "--bring-back", "1", "-o", tmp_path / "back.toml") == 0
    assert status("check", tmp_path / "back.toml") in (0, 1)
    assert job_file.read_bytes() == damaged


def test_a_job_that_is_gone_still_has_its_states(job_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job_file.unlink()
    assert status("earlier", job_file.name) == 0
    assert "whole" in capsys.readouterr().out


def test_a_job_of_which_nothing_is_kept_says_so(job_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    other = job_file.with_name("other.toml")
    other.write_bytes(job_file.read_bytes())
    assert status("earlier", other) == 0
    assert "No earlier state of other.toml is kept." in capsys.readouterr().out
