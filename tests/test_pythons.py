"""Which Pythons of a machine the checks run on."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from check import PROJECT, lowest, not_run, plan
from pythons import Python, found

pytestmark = pytest.mark.skipif(os.name == "nt", reason="the programs made here are shell scripts")


def stand_in(path: Path, answer: str) -> Path:
    """A program that does this when it is asked which Python it is."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(f"#!/bin/sh\n{answer}\n")
    path.chmod(0o755)
    return path


def test_they_are_found_on_the_path_and_where_pyenv_and_uv_keep_them_one_of_each_minor_version(tmp_path: Path) -> None:
    first = stand_in(tmp_path / "bin" / "python3.12", "echo 3 12 1")
    stand_in(tmp_path / "bin" / "python3.12-config", "echo 3 19 0")
    stand_in(tmp_path / "home" / ".pyenv" / "versions" / "3.12.0" / "bin" / "python3", "echo 3 12 0")
    newer = stand_in(tmp_path / "home" / ".pyenv" / "versions" / "3.13.2" / "bin" / "python3", "echo 3 13 2")
    kept = tmp_path / "home" / ".local" / "share" / "uv" / "python" / "cpython-3.11.9-linux" / "bin" / "python3"
    stand_in(kept, "echo 3 11 9")
    pythons = found({"PATH": str(tmp_path / "bin")}, tmp_path / "home")
    assert pythons == [Python((3, 11, 9), str(kept)), Python((3, 12, 1), str(first)), Python((3, 13, 2), str(newer))]


def test_one_that_fails_is_too_old_or_answers_nonsense_is_passed_over(tmp_path: Path) -> None:
    stand_in(tmp_path / "python3.13", "echo no such version >&2; exit 127")
    stand_in(tmp_path / "python3.12", "echo what")
    stand_in(tmp_path / "python3", "echo 3 10 13")
    (tmp_path / "python").write_text("not to be run")
    assert found({"PATH": str(tmp_path)}, tmp_path / "home") == []


def test_one_in_an_environment_is_passed_over_but_the_one_that_runs_the_checks_is_taken_for_its_version(
    tmp_path: Path,
) -> None:
    stand_in(tmp_path / "env" / "bin" / "python3", "echo 3 15 0")
    (tmp_path / "env" / "pyvenv.cfg").touch()
    (mine,) = found({"PATH": str(tmp_path / "env" / "bin")}, tmp_path / "home", Path(sys.executable))
    assert mine == Python(tuple(sys.version_info[:3]), sys.executable)


def test_all_pythons_but_the_newest_get_a_part_and_the_oldest_the_lowest_packages_too() -> None:
    pythons = [Python((3, 11, 7), "a"), Python((3, 12, 1), "b"), Python((3, 13, 0), "c")]
    runs = plan(pythons)
    assert [run.python.path for run in runs] == ["a", "b", "a"]
    assert set(lowest(PROJECT["dependencies"])) <= set(runs[-1].packages)
    assert len(lowest(PROJECT["dependencies"])) == len(PROJECT["dependencies"]) == 4
    assert not_run(pythons) == []


def test_on_a_machine_with_one_python_the_lowest_packages_are_tried_on_it_and_the_others_are_named() -> None:
    (run,) = plan([Python((3, 12, 1), "b")])
    assert run.python.path == "b"
    assert not_run([run.python]) == ["3.11", "3.13"]


def test_every_file_named_for_another_python_is_there() -> None:
    root = Path(__file__).parents[1]
    for run in plan([Python((3, 11, 7), "a"), Python((3, 12, 1), "b")]):
        named = [argument for argument in run.pytest if argument.startswith("tests/")]
        assert named
        assert [argument for argument in named if not (root / argument).exists()] == []
