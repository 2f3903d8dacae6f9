"""Every verb as a person types it: what is printed, where, and the exit status."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace
from pathlib import Path

import pytest

from stanchion import __version__
from stanchion.cli import main
from stanchion.job.codec import dumps, loads
from stanchion.job.model import Job, Occasion
from stanchion.samples import samples


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("STANCHION_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("STANCHION_JOBS", raising=False)
    return tmp_path / "home"


@pytest.fixture
def files(tmp_path: Path) -> dict[str, Path]:
    """The samples as files."""
    made = {}
    for sample in samples():
        made[sample.name] = tmp_path / f"{sample.name}.toml"
        made[sample.name].write_bytes(sample.data)
    return made


def status(*arguments: str | Path) -> int:
    with pytest.raises(SystemExit) as end:
        main([str(argument) for argument in arguments])
    return int(end.value.code or 0)


def test_version_and_help(capsys: pytest.CaptureFixture[str]) -> None:
    assert status("--version") == 0
    assert capsys.readouterr().out.strip() == f"stanchion {__version__}"
    assert status("--help") == 0
    told = capsys.readouterr().out
    for verb in ("check", "list", "path", "sample", "sheet", "export", "import", "--jobs"):
        assert verb in told
    assert "does not approve a machine as safe" in " ".join(told.split())


class TestCheck:
    @pytest.mark.parametrize(
        ("name", "expected"), [("well_set", 0), ("half_filled", 0), ("mismatched_lengths", 1), ("soft_springs", 2)]
    )
    def test_its_status_is_the_worst_that_was_found(self, files: dict[str, Path], name: str, expected: int) -> None:
        assert status("check", files[name]) == expected

    def test_of_several_files_the_worst_counts(self, files: dict[str, Path]) -> None:
        assert status("check", files["well_set"], files["mismatched_lengths"]) == 1

    def test_as_json_it_is_an_array_of_one_object_a_file(
        self, files: dict[str, Path], capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert status("check", "--json", files["well_set"], files["soft_springs"]) == 2
        data = json.loads(capsys.readouterr().out)
        assert [Path(one["file"]).name for one in data] == ["well_set.toml", "soft_springs.toml"]
        assert data[0]["front"]["left"]["installed_preload_mm"] == 12
        assert {finding["severity"] for finding in data[1]["findings"]} >= {"fault"}

    def test_a_file_that_cannot_be_read_does_not_end_the_run(
        self, files: dict[str, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        bad = tmp_path / "bad.toml"
        bad.write_bytes(files["well_set"].read_bytes()[:300])
        assert status("check", "--json", bad, tmp_path / "absent.toml", files["well_set"]) == 2
        data = json.loads(capsys.readouterr().out)
        assert [one["findings"][0]["code"] for one in data[:2]] == ["unreadable", "unreadable"]
        assert data[2]["worst"] == "note"

    def test_an_error_of_the_program_is_told_apart_from_a_damaged_file(
        self, files: dict[str, Path], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
    ) -> None:
        def broken(*_: object) -> None:
            raise ZeroDivisionError

        monkeypatch.setattr("stanchion.checking.assess", broken)
        assert status("check", files["well_set"]) == 2
        told = capsys.readouterr().out
        assert "the file is sound" in told
        assert "ZeroDivisionError" in told

    def test_lengths_are_compared_with_the_job_it_was_carried_from(
        self, files: dict[str, Path], capsys: pytest.CaptureFixture[str]
    ) -> None:
        status("check", files["carried_forward"])
        assert "last time 250.0 mm" in capsys.readouterr().out


def test_path_names_the_folders_and_jobs_can_be_moved(
    home: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert status("path") == 0
    told = dict(line.split("\t") for line in capsys.readouterr().out.splitlines())
    assert told["jobs"] == str(home / "jobs")
    assert status("--jobs", tmp_path / "elsewhere", "path") == 0
    assert str(tmp_path / "elsewhere") in capsys.readouterr().out


class TestListAndImport:
    def test_an_empty_folder_says_what_to_do(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert status("list") == 0
        assert "stanchion sample" in capsys.readouterr().out

    def test_files_are_taken_in_beside_what_is_there_and_listed_newest_first(
        self, home: Path, files: dict[str, Path], capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert status("import", files["well_set"], files["well_set"], files["off_road"]) == 0
        capsys.readouterr()
        assert len(list((home / "jobs").glob("*.toml"))) == 3
        assert status("list") == 0
        lines = capsys.readouterr().out.splitlines()
        assert [line.split("\t")[1] for line in lines] == ["Nettle", "Quince no. 4", "Quince no. 4"]

    def test_damaged_and_newer_files_are_refused_with_the_reason_and_the_rest_taken_in(
        self, home: Path, files: dict[str, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        cut, newer = tmp_path / "cut.toml", tmp_path / "newer.toml"
        cut.write_bytes(files["well_set"].read_bytes()[:400])
        newer.write_bytes(files["well_set"].read_bytes().replace(b"format = 1", b"format = 99"))
        assert status("import", cut, newer, files["off_road"]) == 2
        told = capsys.readouterr().out
        assert "cut short" in told
        assert "later version" in told
        assert len(list((home / "jobs").glob("*.toml"))) == 1

    def test_a_file_changed_by_hand_is_taken_in_with_a_word(
        self, files: dict[str, Path], capsys: pytest.CaptureFixture[str]
    ) -> None:
        files["well_set"].write_bytes(files["well_set"].read_bytes().replace(b"half a tank", b"full"))
        assert status("import", files["well_set"]) == 0
        assert "edited outside" in capsys.readouterr().out


class TestSheetAndExport:
    def test_a_sheet_is_printed_or_written_and_never_over_a_file(
        self, files: dict[str, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert status("sheet", files["well_set"]) == 0
        assert "Quince no. 4" in capsys.readouterr().out
        out = tmp_path / "sheet.html"
        assert status("sheet", files["well_set"], "--html", "-o", out) == 0
        assert out.read_text("utf-8").startswith("<!DOCTYPE html>")
        assert status("sheet", files["off_road"], "--html", "-o", out) == 2
        assert "left alone" in capsys.readouterr().err
        assert "Quince" in out.read_text("utf-8")

    def test_the_export_is_csv_with_one_row_a_job(
        self, files: dict[str, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        out = tmp_path / "jobs.csv"
        assert status("export", *files.values(), "-o", out) == 0
        data = out.read_bytes()
        assert data.count(b"\r\n") >= len(files) + 1  # RFC 4180: lines end with CR LF
        rows = list(csv.DictReader(io.StringIO(data.decode("utf-8"), newline="")))
        by_file = {row["file"]: row for row in rows}
        well = by_file["well_set.toml"]
        assert float(well["front.left.spring.rate_n_per_mm"]) == 9.5
        assert float(well["derived.front.left.installed_preload_mm"]) == 12
        assert well["sag.front.hanging_mm"] == "142.0;142.0;142.0"
        assert by_file["half_filled.toml"]["derived.rear.installed_preload_mm"] == ""
        assert status("export", *files.values(), "-o", out) == 2
        assert "left alone" in capsys.readouterr().err

    def test_text_of_a_job_can_neither_break_the_table_nor_be_a_formula(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        hostile = '=HYPERLINK("http://a","b"),\n\x1b[31m'
        job = Job(job=replace(Occasion(), machine=hostile, rider="+1", venue="@x", notes='a "b", c\nd'))
        path = tmp_path / "hostile.toml"
        path.write_bytes(dumps(job))
        assert loads(path.read_bytes()).job == job
        assert status("export", path) == 0
        (row,) = csv.DictReader(io.StringIO(capsys.readouterr().out))
        assert row["job.machine"].startswith("'=")
        assert (row["job.rider"], row["job.venue"]) == ("'+1", "'@x")
        assert row["job.notes"] == 'a "b", c / d'
        assert "\x1b" not in "".join(row.values())

    def test_without_files_the_whole_folder_is_exported(
        self, files: dict[str, Path], capsys: pytest.CaptureFixture[str]
    ) -> None:
        status("import", files["well_set"], files["off_road"])
        capsys.readouterr()
        assert status("export") == 0
        machines = [row["job.machine"] for row in csv.DictReader(io.StringIO(capsys.readouterr().out))]
        assert machines == ["Quince no. 4", "Nettle"]


def test_a_sample_is_checked_where_there_is_no_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    assert status("sample") == 0
    assert "Quince no. 4" in capsys.readouterr().out
    assert status("sample", "nonsense") == 2
    assert "well_set" in capsys.readouterr().err


def test_a_reader_that_has_had_enough_is_no_fault(files: dict[str, Path]) -> None:
    import subprocess
    import sys

    command = f'"{sys.executable}" -m stanchion check {files["well_set"]} | head -1'
    done = subprocess.run(["bash", "-o", "pipefail", "-c", command], capture_output=True, text=True, check=False)
    assert done.returncode == 0
    assert done.stderr == ""


def test_two_jobs_are_compared_by_what_differs_and_nothing_else(
    files: dict[str, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    assert status("compare", files["well_set"], files["carried_forward"]) == 0
    told = capsys.readouterr().out
    assert "spring rate 9.50 N/mm → 10.00 N/mm (+0.50 N/mm)" in told
    assert "free length 250.0 mm → 245.0 mm (−5.0 mm)" in told
    assert "Venue" not in told
    assert status("compare", files["well_set"], files["well_set"]) == 0
    assert capsys.readouterr().out.strip() == "They do not differ."
