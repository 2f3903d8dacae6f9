"""Every verb reports standard output that cannot be written, and not as a fault of the program."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from stanchion.base.errors import BadFile
from stanchion.store.samples import samples

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="a POSIX shell closes and fills the streams here")

VERBS = (
    "--help",
    "--version",
    "check --help",
    "check {job}",
    "check --json {job}",
    "list",
    "path",
    "sheet {job}",
    "sheet --html {job}",
    "worklist {job} --to {other}",
    "merge {job} {job} -o {new}",
    "compare {job} {other}",
    "story",
    "story --tabs",
    "export {job}",
    "export --runs",
    "import {job}",
    "earlier {job}",
    "doctor --no-keys",
    "sample",
)


@pytest.fixture
def line(tmp_path: Path) -> dict[str, str]:
    """What stands for the files of a command."""
    for sample in samples():
        (tmp_path / f"{sample.name}.toml").write_bytes(sample.data)
    home = tmp_path / "home" / "jobs"
    home.mkdir(parents=True)
    (home / "one.toml").write_bytes(samples()[0].data)
    found = {"job": "well_set.toml", "other": "carried_forward.toml", "new": "new.toml"}
    return {name: str(tmp_path / file) for name, file in found.items()}


def ran(tmp_path: Path, shell: str) -> subprocess.CompletedProcess[str]:
    environ = {**os.environ, "STANCHION_HOME": str(tmp_path / "home"), "PYTHON": sys.executable}
    environ.pop("STANCHION_JOBS", None)
    return subprocess.run(["bash", "-c", shell], capture_output=True, text=True, check=False, env=environ, timeout=120)


@pytest.mark.parametrize("verb", VERBS)
def test_a_full_disk_and_a_closed_output_are_reported_in_one_line(
    tmp_path: Path, line: dict[str, str], verb: str
) -> None:
    command = f'"$PYTHON" -m stanchion {verb.format(**line)}'
    for where, reason in ((">/dev/full", "the disk is full"), (">&-", "it is closed")):
        if reason == "the disk is full" and not Path("/dev/full").exists():
            continue
        Path(line["new"]).unlink(missing_ok=True)
        done = ran(tmp_path, f"{command} {where}")
        printed = done.stderr.splitlines()
        assert (done.returncode, printed) == (2, [f"stanchion: the output could not be written: {reason}"])
    assert not (tmp_path / "home" / "state" / "faults").exists()


def test_a_reader_that_ends_before_the_output_does_is_reported_in_one_line(
    tmp_path: Path, line: dict[str, str]
) -> None:
    many = " ".join([line["job"]] * 40)  # more than a pipe holds
    done = ran(tmp_path, f'"$PYTHON" -m stanchion check {many} | head -1 >/dev/null; exit "${{PIPESTATUS[0]}}"')
    assert done.returncode == 2
    assert done.stderr == "stanchion: the output could not be written: the program reading it has ended\n"


def test_nothing_is_reported_of_a_reader_that_takes_all_of_it(tmp_path: Path, line: dict[str, str]) -> None:
    done = ran(tmp_path, f'"$PYTHON" -m stanchion check {line["job"]} | cat; exit "${{PIPESTATUS[0]}}"')
    assert (done.returncode, done.stderr) == (0, "")
    assert "Quince no. 4" in done.stdout


def test_errors_do_not_go_into_the_output_where_standard_error_is_closed(tmp_path: Path, line: dict[str, str]) -> None:
    done = ran(tmp_path, '"$PYTHON" -m stanchion check; "$PYTHON" -m stanchion sheet no-such-job.toml 2>&-')
    assert (done.returncode, done.stdout) == (2, "")
    done = ran(tmp_path, '"$PYTHON" -m stanchion sheet no-such-job.toml 2>/dev/full')
    assert (done.returncode, done.stdout) == (2, "")


@pytest.mark.parametrize("verb", ["", "sample", "doctor"])
def test_without_standard_input_no_screen_is_opened(tmp_path: Path, line: dict[str, str], verb: str) -> None:
    done = ran(tmp_path, f'"$PYTHON" -m stanchion {verb} <&-')
    assert done.returncode in (0, 1, 2)
    assert "fault of the program" not in done.stderr


def test_a_fault_of_the_program_in_a_command_says_nothing_of_a_job(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from stanchion.commands import command_line

    def broken(argv: object) -> int:
        raise ZeroDivisionError

    monkeypatch.setenv("STANCHION_HOME", str(tmp_path))
    monkeypatch.setattr(command_line, "run", broken)
    with pytest.raises(SystemExit) as end:
        command_line.main(["list"])
    assert end.value.code == 3
    printed = capsys.readouterr().err
    assert "a fault in the program (ZeroDivisionError)" in printed
    assert "saved" not in printed
    assert len(list((tmp_path / "state" / "faults").iterdir())) == 1


def test_a_refusal_while_the_output_is_full_does_not_become_a_fault(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from stanchion.commands import command_line

    def refused(argv: object) -> int:
        raise BadFile("this is no job")

    monkeypatch.setattr(command_line, "run", refused)
    with pytest.raises(SystemExit) as end:
        command_line.main(["list"])
    assert (end.value.code, capsys.readouterr().err) == (2, "stanchion: this is no job\n")
