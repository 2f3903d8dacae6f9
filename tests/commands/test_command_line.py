"""Every verb as a person types it: what is printed, where, and the exit status."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from complete_job import complete_job
from stanchion import __version__
from stanchion.commands.command_line import main
from stanchion.job.codec import dumps, loads
from stanchion.job.model import Job, Occasion
from stanchion.store.samples import samples


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
    output = capsys.readouterr().out
    for verb in ("check", "list", "path", "sample", "sheet", "export", "import", "--jobs"):
        assert verb in output
    assert "does not approve a machine as safe" in " ".join(output.split())


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
        assert [one["format"] for one in data] == [1, 1]
        assert data[0]["front"]["left"]["installed_preload_mm"] == 12
        assert {finding["severity"] for finding in data[1]["findings"]} >= {"fault"}

    def test_a_file_that_cannot_be_read_does_not_end_the_run(
        self, files: dict[str, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        bad = tmp_path / "bad.toml"
        bad.write_bytes(files["well_set"].read_bytes()[:300])
        assert status("check", "--json", bad, tmp_path / "absent.toml", files["well_set"]) == 2
        data = json.loads(capsys.readouterr().out)
        assert [one["findings"][0]["code"] for one in data[:2]] == ["unreadable", "no_such_job"]
        assert [(one["format"], one["worst"]) for one in data] == [(1, "fault"), (1, "fault"), (1, "note")]
        assert set(data[0]["findings"][0]) == set(data[2]["findings"][0])
        assert data[2]["worst"] == "note"

    def test_an_error_of_the_program_is_not_reported_as_a_damaged_file(
        self, files: dict[str, Path], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
    ) -> None:
        def broken(*_: object) -> None:
            raise ZeroDivisionError

        monkeypatch.setattr("stanchion.commands.check.assess", broken)
        assert status("check", files["well_set"]) == 2
        output = capsys.readouterr().out
        assert "the file is sound" in output
        assert "ZeroDivisionError" in output

    def test_lengths_are_compared_with_the_job_it_was_carried_from(
        self, files: dict[str, Path], capsys: pytest.CaptureFixture[str]
    ) -> None:
        status("check", files["carried_forward"])
        assert "last time 250.0 mm" in capsys.readouterr().out


def test_path_names_the_folders_and_jobs_can_be_moved(
    home: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert status("path") == 0
    output = dict(line.split("\t") for line in capsys.readouterr().out.splitlines())
    assert output["jobs"] == str(home / "jobs")
    assert status("--jobs", tmp_path / "elsewhere", "path") == 0
    assert str(tmp_path / "elsewhere") in capsys.readouterr().out


class TestListAndImport:
    def test_an_empty_folder_says_what_to_do(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert status("list") == 0
        output = capsys.readouterr()
        assert output.out == ""  # what reads the list finds no job in it
        assert "stanchion sample" in output.err

    def test_files_are_taken_in_beside_what_is_there_and_listed_newest_first(
        self, home: Path, files: dict[str, Path], capsys: pytest.CaptureFixture[str]
    ) -> None:
        files["well_set_again"] = files["well_set"].with_name("again.toml")
        files["well_set_again"].write_bytes(files["well_set"].read_bytes().replace(b"half a tank", b"full"))
        assert status("import", files["well_set"], files["well_set_again"], files["off_road"]) == 0
        output = capsys.readouterr().out.splitlines()
        assert [line.partition(": ")[2].split(" ")[:2] for line in output] == [["imported", "as"]] * 3
        assert len(list((home / "jobs").glob("*.toml"))) == 3
        assert status("list") == 0
        lines = capsys.readouterr().out.splitlines()
        assert [line.split("\t")[1] for line in lines] == ["Nettle", "Quince no. 4", "Quince no. 4"]

    def test_a_job_that_is_there_already_is_reported_and_is_no_fault(
        self, home: Path, files: dict[str, Path], capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert status("import", files["well_set"]) == 0
        assert status("import", files["well_set"]) == 0
        assert "is in the jobs folder already, as 2026" in capsys.readouterr().out
        assert len(list((home / "jobs").glob("*.toml"))) == 1

    def test_a_file_that_cannot_be_read_is_listed_as_such_and_the_rest_too(
        self, home: Path, files: dict[str, Path], capsys: pytest.CaptureFixture[str]
    ) -> None:
        status("import", files["soft_springs"])
        (home / "jobs" / "2026-01-01-bad.toml").write_bytes(b"nonsense")
        capsys.readouterr()
        assert status("list") == 0
        output = capsys.readouterr().out
        assert "UNREADABLE" in output
        assert "FAULT" in output

    def test_a_name_that_is_not_there_is_no_unreadable_file(
        self, home: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert status("check", "zork") == 2
        output = capsys.readouterr().out
        assert output.startswith("zork: no such file or job: 'zork'")
        assert "UNREADABLE" not in output
        assert status("check", "--json", "zork") == 2
        assert json.loads(capsys.readouterr().out)[0]["findings"][0]["code"] == "no_such_job"

    def test_no_name_or_text_of_a_file_steers_the_terminal(
        self, home: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        evil = tmp_path / "evil\x1b]0;t\x07.toml"
        evil.write_bytes(dumps(Job(job=replace(Occasion(), machine="\x1b[31mred", rider="a\tb"))))
        assert status("import", evil) == 0
        assert status("list") == 0
        assert status("check", evil) == 0
        assert status("sheet", evil) == 0
        evil.write_bytes(b"nonsense")
        assert status("import", evil) == status("check", evil) == status("sheet", evil) == status("export", evil) == 2
        output = capsys.readouterr()
        assert "\x1b" not in output.out + output.err
        assert "\x07" not in output.out + output.err

    def test_damaged_and_newer_files_are_refused_with_the_reason_and_the_rest_taken_in(
        self, home: Path, files: dict[str, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        cut, newer = tmp_path / "cut.toml", tmp_path / "newer.toml"
        cut.write_bytes(files["well_set"].read_bytes()[:400])
        newer.write_bytes(files["well_set"].read_bytes().replace(b"format = 2", b"format = 99"))
        assert status("import", cut, newer, files["off_road"]) == 2
        output = capsys.readouterr().out
        assert "cut short" in output
        assert "later version" in output
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

    def test_a_sheet_is_found_by_the_name_that_list_prints(
        self, files: dict[str, Path], capsys: pytest.CaptureFixture[str]
    ) -> None:
        status("import", files["well_set"])
        capsys.readouterr()
        status("list")
        name = capsys.readouterr().out.strip().split("\t")[-1]
        assert status("sheet", name) == 0
        assert "Quince no. 4" in capsys.readouterr().out
        assert status("export", name) == 0
        assert "Quince no. 4" in capsys.readouterr().out

    def test_forced_it_overwrites_a_sheet_but_never_a_job(
        self, files: dict[str, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        out = tmp_path / "sheet.txt"
        out.write_text("old")
        assert status("sheet", files["well_set"], "-o", out, "--force") == 0
        assert "Quince" in out.read_text("utf-8")
        before = files["off_road"].read_bytes()
        for verb in ("sheet", "export"):
            assert status(verb, files["well_set"], "-o", files["off_road"], "--force") == 2
        assert "ending of a job file" in capsys.readouterr().err
        assert files["off_road"].read_bytes() == before

    def test_a_file_that_is_no_job_gives_no_sheet_and_none_is_written(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        bad, out = tmp_path / "bad.toml", tmp_path / "out.html"
        bad.write_bytes(b"nonsense")
        assert status("sheet", bad, "--html", "-o", out) == 2
        assert status("sheet", tmp_path / "not_there.toml") == 2
        assert not out.exists()
        output = capsys.readouterr()
        assert output.out == ""
        assert "not_there.toml" in output.err

    def test_runs_are_exported_a_row_each(self, files: dict[str, Path], capsys: pytest.CaptureFixture[str]) -> None:
        job = loads(files["soft_springs"].read_bytes()).job
        assert status("export", "--runs", files["soft_springs"], files["well_set"]) == 0
        rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
        ridden = [row for row in rows if row["file"] == "soft_springs.toml"]
        assert [row["run"] for row in ridden] == [str(at + 1) for at in range(len(job.runs))]
        assert ridden

    def test_a_file_that_cannot_be_read_is_named_and_the_others_are_exported(
        self, files: dict[str, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        bad = tmp_path / "bad.toml"
        bad.write_bytes(b"nonsense")
        assert status("export", bad, files["well_set"]) == 2
        output = capsys.readouterr()
        assert "bad.toml" in output.err
        assert [row["file"] for row in csv.DictReader(io.StringIO(output.out))] == ["well_set.toml"]

    def test_a_name_that_is_not_there_writes_nothing_though_the_others_are_there(
        self, files: dict[str, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        out = tmp_path / "out.csv"
        assert status("export", files["well_set"], tmp_path / "wel_set.toml", "nothing", "-o", out) == 2
        output = capsys.readouterr()
        assert output.out == ""
        assert "nothing was written" in output.err
        assert f"Most like it: {files['well_set']}" in output.err
        assert "'nothing'" in output.err
        assert not out.exists()

    def test_where_no_file_can_be_read_not_even_a_header_is_written(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        bad, out = tmp_path / "bad.toml", tmp_path / "out.csv"
        bad.write_bytes(b"nonsense")
        assert status("export", bad) == status("export", bad, "-o", out) == 2
        assert capsys.readouterr().out == ""
        assert not out.exists()

    def test_an_empty_folder_gives_a_header_and_no_rows(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert status("export") == 0
        assert list(csv.DictReader(io.StringIO(capsys.readouterr().out))) == []

    @pytest.mark.parametrize("runs", [(), ("--runs",)])
    def test_a_copy_made_by_a_sync_tool_is_no_job_of_its_own_unless_it_is_named(
        self, files: dict[str, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str], runs: tuple[str, ...]
    ) -> None:
        folder = tmp_path / "synced"
        folder.mkdir()
        name, copy = "soft.toml", "soft.sync-conflict-20260531-101500-ABCDEFG.toml"
        for one in (name, copy):
            (folder / one).write_bytes(files["soft_springs"].read_bytes())
        assert status("export", "--jobs", folder, *runs) == 0
        output = capsys.readouterr()
        assert output.err.startswith(f"left out: {copy} is another copy of {name}\n")
        assert copy not in output.out
        once = output.out
        assert status("export", folder / name, *runs) == 0
        assert capsys.readouterr() == (once, "")
        assert status("export", folder / copy, *runs) == 0
        assert len(capsys.readouterr().out.splitlines()) == len(once.splitlines())

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
        assert well["sag.front.hanging_mm"] == "142;142;142"
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


class TestUsage:
    @pytest.mark.parametrize(
        "arguments",
        [["nonsense"], ["check"], ["import"], ["sheet"], ["compare", "one.toml"], ["--nonsense"], ["sheet", "a", "b"]],
    )
    def test_what_cannot_be_understood_leaves_with_2_and_says_how_it_is_used(
        self, arguments: list[str], capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert status(*arguments) == 2
        assert "usage: stanchion" in capsys.readouterr().err

    @pytest.mark.parametrize(
        "verb", ["check", "list", "path", "sheet", "compare", "story", "export", "import", "sample"]
    )
    def test_every_verb_explains_itself(self, verb: str, capsys: pytest.CaptureFixture[str]) -> None:
        assert status(verb, "--help") == 0
        assert f"usage: stanchion {verb}" in capsys.readouterr().out

    def test_without_a_terminal_the_screen_is_refused_with_what_to_do_instead(
        self, capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert status() == 2
        assert "stanchion check" in capsys.readouterr().err

    def test_the_jobs_folder_may_be_given_before_or_after_the_verb_or_by_the_environment(
        self,
        files: dict[str, Path],
        tmp_path: Path,
        monkeypatch: pytest.MonkeyPatch,
        capsys: pytest.CaptureFixture[str],
    ) -> None:
        there = tmp_path / "elsewhere"
        assert status("--jobs", there, "import", files["well_set"]) == 0
        assert status("import", files["off_road"], "--jobs", there) == 0
        monkeypatch.setenv("STANCHION_JOBS", str(there))
        capsys.readouterr()
        assert status("list") == 0
        assert len(capsys.readouterr().out.splitlines()) == 2


@pytest.mark.parametrize("encoding", ["latin-1", "ascii", "utf-8"])
def test_a_terminal_that_lacks_letters_loses_no_sign(
    files: dict[str, Path], encoding: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown = io.TextIOWrapper(io.BytesIO(), encoding=encoding)
    monkeypatch.setattr("sys.stdout", shown)
    assert status("sheet", files["carried_forward"]) == 0
    output = shown.buffer.getvalue().decode(encoding)
    assert ("250.0 mm -> 245.0 mm (-5.0 mm)" if encoding != "utf-8" else "250.0 mm → 245.0 mm (−5.0 mm)") in output


@pytest.mark.parametrize("arguments", [["sheet", "--html"], ["export"]])
def test_what_names_its_own_encoding_is_printed_in_it_whatever_the_terminal(
    files: dict[str, Path], arguments: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    path = files["well_set"]
    path.write_bytes(path.read_bytes().replace(b"half a tank", "voll, grün".encode()))
    shown = io.TextIOWrapper(io.BytesIO(), encoding="ascii")
    monkeypatch.setattr("sys.stdout", shown)
    assert status(*arguments, path) == 0
    assert "voll, grün" in shown.buffer.getvalue().decode("utf-8")


def test_a_sample_is_checked_where_there_is_no_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    assert status("sample") == 0
    assert "Quince no. 4" in capsys.readouterr().out
    assert status("sample", "nonsense") == 2
    assert "well_set" in capsys.readouterr().err


class TestJson:
    """`list`, `story`, `compare` and `doctor` print JSON by the rules of `check --json`."""

    def printed(self, capsys: pytest.CaptureFixture[str], *arguments: str | Path, leaves: int = 0) -> Any:
        assert status(*arguments) == leaves
        return json.loads(capsys.readouterr().out)

    def test_each_says_its_format_and_why_a_value_is_null(
        self, home: Path, files: dict[str, Path], capsys: pytest.CaptureFixture[str]
    ) -> None:
        status("import", files["soft_springs"], files["half_filled"])
        (home / "jobs" / "2020-01-01-bad.toml").write_bytes(b"nonsense")
        capsys.readouterr()
        jobs = self.printed(capsys, "list", "--json")
        assert [(one["format"], one["worst"]) for one in jobs] == [(1, "note"), (1, "fault"), (1, "fault")]
        assert jobs[1]["job"]["machine"] == "Damson no. 11"
        assert (jobs[2]["file"], jobs[2]["job"]) == ("2020-01-01-bad.toml", None)
        assert "cut short" in jobs[2]["missing"]["job"]
        rows = self.printed(capsys, "story", "--json", "--machine", "damson", leaves=2)  # 2: one file is unreadable
        assert [row["run"] for row in rows[:3]] == [None, 1, 2]
        assert rows[0]["front"]["rider_sag_mm"] == 34.5
        assert rows[2]["changed"]
        for one in (*jobs, *rows):
            for where in one["missing"]:
                value = one
                for step in where.split("."):
                    value = value[step]
                assert value is None, where
        checked = self.printed(capsys, "check", "--json", files["soft_springs"], leaves=2)[0]
        assert rows[0]["rear"]["installed_preload_mm"] == checked["rear"]["installed_preload_mm"]
        assert rows[0]["job"] == checked["job"]

    def test_of_two_jobs_every_value_that_differs_is_given(
        self, files: dict[str, Path], capsys: pytest.CaptureFixture[str]
    ) -> None:
        data = self.printed(capsys, "compare", "--json", files["well_set"], files["carried_forward"])
        assert (data["format"], data["same"], data["other"]) == (
            1,
            False,
            {"file": "carried_forward.toml", "run": None},
        )
        recorded = {one["where"]: (one["one"], one["other"]) for one in data["recorded"]}
        assert recorded["front.left.spring.rate_n_per_mm"] == (9.5, 10.0)
        figures = {one["where"]: (one["one"], one["other"]) for one in data["figures"]}
        assert figures["front.rider_sag_mm"][0] != figures["front.rider_sag_mm"][1]
        assert any("9.50 N/mm → 10.00 N/mm" in line for line in data["text"])
        data = self.printed(capsys, "compare", "--json", files["well_set"], files["well_set"])
        assert (data["same"], data["recorded"], data["figures"], data["said"]) == (True, [], [], [])

    def test_doctor_says_whether_all_is_well(self, home: Path, capsys: pytest.CaptureFixture[str]) -> None:
        data = self.printed(capsys, "doctor", "--json")
        assert (data["format"], data["well"]) == (1, True)
        (home / "jobs").mkdir(parents=True)
        (home / "jobs" / "bad.toml").write_bytes(b"nonsense")
        data = self.printed(capsys, "doctor", "--json", leaves=1)
        assert not data["well"]
        (jobs,) = (one for one in data["sections"] if one["heading"] == "Job files")
        assert any(line["look"] for line in jobs["lines"])


class TestNames:
    def test_a_job_is_found_without_its_ending_here_and_in_the_jobs_folder(
        self, home: Path, files: dict[str, Path], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        status("import", files["well_set"])
        monkeypatch.chdir(files["off_road"].parent)
        (files["off_road"].parent / "2026-05-16-quince-no-4-a-q").mkdir()  # a folder is no job
        capsys.readouterr()
        assert status("list", "--names") == 0
        assert capsys.readouterr().out == "2026-05-16-quince-no-4-a-q.toml\n"
        assert status("check", "2026-05-16-quince-no-4-a-q") == 0
        assert "Quince no. 4" in capsys.readouterr().out
        assert status("sheet", "off_road") == 0
        assert "Nettle" in capsys.readouterr().out
        assert status("compare", "off_road:1", "off_road") == 2
        assert status("earlier", "2026-05-16-quince-no-4-a-q") == 0

    @pytest.mark.parametrize("verb", ["sheet", "worklist"])
    def test_what_is_wrong_with_a_file_is_said_with_its_name(
        self, tmp_path: Path, verb: str, capsys: pytest.CaptureFixture[str]
    ) -> None:
        short = tmp_path / "short.toml"
        short.write_bytes(b"format = 1\n")
        assert status(verb, short) == 2
        assert capsys.readouterr().err.startswith(f"stanchion: {short}: the file is cut short")

    def test_standard_input_is_read_for_a_single_dash(
        self, files: dict[str, Path], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        for data, verb, leaves, words in (
            (files["soft_springs"].read_bytes(), "check", 2, "Damson no. 11"),
            (files["soft_springs"].read_bytes(), "sheet", 0, "Damson no. 11"),
            (b"", "check", 2, "standard input: UNREADABLE: the file is empty"),
            (b"", "sheet", 2, "standard input: the file is empty"),
        ):
            monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(data)))
            assert status(verb, "-") == leaves
            output = capsys.readouterr()
            assert words in output.out + output.err

    @pytest.mark.parametrize(
        ("word", "output"),
        [("chek", "The nearest is 'check'"), ("zork.toml", "no such file or job: 'zork.toml'"), ("a/b", "'a/b'")],
    )
    def test_a_word_that_is_neither_verb_nor_file_is_answered_with_what_is_like_it(
        self, word: str, output: str, capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert status(word) == 2
        assert output in capsys.readouterr().err

    def test_a_path_in_place_of_a_verb_is_opened_wherever_options_stand(
        self, files: dict[str, Path], monkeypatch: pytest.MonkeyPatch
    ) -> None:
        opened: list[tuple[object, ...]] = []

        def screen(*given: object) -> int:
            opened.append(given)
            return 0

        monkeypatch.setattr("stanchion.commands.start_screen.start_screen", screen)
        folder, job = files["well_set"].parent, files["well_set"]
        for arguments in ([job], ["--jobs", folder, job], ["--jobs", folder, "well_set"], [folder], ["open", job]):
            assert status(*arguments) == 0
        assert [one[2] for one in opened] == [job, job, job, folder, job]

    def test_a_damaged_file_is_named_where_it_was_to_be_opened(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        bad = tmp_path / "bad.toml"
        bad.write_bytes(b"nonsense")
        monkeypatch.setattr("stanchion.commands.start_screen._is_terminal", lambda stream: True)
        monkeypatch.setenv("TERM", "xterm")
        assert status(bad) == 2
        assert capsys.readouterr().err.startswith(f"stanchion: {bad}: the file is cut short")


def test_two_jobs_are_compared_by_what_differs_and_nothing_else(
    files: dict[str, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    assert status("compare", files["well_set"], files["carried_forward"]) == 0
    output = capsys.readouterr().out
    assert "spring rate 9.50 N/mm → 10.00 N/mm (+0.50 N/mm)" in output
    assert "free length 250.0 mm → 245.0 mm (−5.0 mm)" in output
    assert "Venue" not in output
    assert status("compare", files["well_set"], files["well_set"]) == 0
    assert capsys.readouterr().out.strip() == "They do not differ."


class TestWorkList:
    @pytest.fixture
    def two(self, tmp_path: Path) -> tuple[Path, Path]:
        """A job with two runs, and the same one turned away from it."""
        then = replace(complete_job(), front=replace(complete_job().front, fork_height_mm=4.0))
        here, there = tmp_path / "here.toml", tmp_path / "there.toml"
        here.write_bytes(dumps(complete_job()))
        there.write_bytes(dumps(then))
        return here, there

    def test_it_is_printed_with_boxes_ways_and_cautions(
        self, two: tuple[Path, Path], capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert status("worklist", two[0], "--to", two[1]) == 0
        output = capsys.readouterr().out
        assert "[ ] Fork height: tube edge 2.0 mm lower at top yoke (from 6.0 to 4.0 mm)" in output
        assert "After raising stanchions check tyre" not in output  # this list lowers the tubes
        assert "[ ] After work: tighten" in output
        assert all(len(line) <= 78 for line in output.splitlines())
        assert status("worklist", two[1], "--to", two[0]) == 0
        raised = capsys.readouterr().out
        assert "[ ] Fork height: tube edge 2.0 mm higher at top yoke (from 4.0 to 6.0 mm)" in raised
        assert "After raising stanchions check tyre" in raised

    @pytest.mark.parametrize("run", [":2", ":latest"])
    def test_a_run_of_the_same_job_is_named_by_its_number(
        self, two: tuple[Path, Path], capsys: pytest.CaptureFixture[str], run: str
    ) -> None:
        assert status("worklist", two[0], "--to", run) == 0
        assert "(from 6.0 to 5.0 mm)" in capsys.readouterr().out

    def test_the_best_lap_of_another_job(self, two: tuple[Path, Path], capsys: pytest.CaptureFixture[str]) -> None:
        assert status("worklist", two[1], "--to", f"{two[0]}:best") == 0
        output = capsys.readouterr().out
        assert "run 2, 11:05" in output
        assert "(from 4.0 to 5.0 mm)" in output

    def test_a_missing_run_and_a_missing_work_list_are_reported(
        self, two: tuple[Path, Path], capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert status("worklist", two[0], "--to", ":9") == 2
        assert "no run '9'" in capsys.readouterr().err
        assert status("worklist", two[0]) == 2
        assert "no work list in hand" in capsys.readouterr().err


class TestStory:
    @pytest.fixture
    def folder(self, files: dict[str, Path], capsys: pytest.CaptureFixture[str]) -> Path:
        """The jobs folder, with the samples taken in."""
        status("import", *(str(path) for path in files.values()))
        status("path")
        lines = capsys.readouterr().out.splitlines()
        return Path(next(line for line in lines if line.startswith("jobs\t")).partition("\t")[2])

    def rows(self, capsys: pytest.CaptureFixture[str], *arguments: str) -> list[dict[str, str]]:
        assert status("story", "--tabs", *arguments) == 0
        return list(csv.DictReader(io.StringIO(capsys.readouterr().out), delimiter="\t"))

    def test_the_story_of_a_machine_is_ordered_by_date_with_what_was_changed(
        self, folder: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        rows = self.rows(capsys, "--machine", "quince")
        assert [row["date"] for row in rows] == ["2026-05-16", "2026-06-13"]
        assert "spring rate 9.50 N/mm → 10.00 N/mm" in rows[1]["changed"]

    def test_rider_venue_and_days_narrow_it(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        assert {row["rider"] for row in self.rows(capsys, "--rider", "m. o.")} == {"M. O."}
        assert {row["venue"] for row in self.rows(capsys, "--venue", "muddy")} == {"Muddy Acre (invented)"}
        assert {row["date"] for row in self.rows(capsys, "--since", "2026-06-01")} == {"2026-06-13"}
        assert {row["date"] for row in self.rows(capsys, "--until", "2026-05-16")} == {"2026-05-16"}

    def test_changes_are_worked_out_over_all_days_before_some_are_chosen(
        self, folder: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        [row] = self.rows(capsys, "--machine", "quince", "--since", "2026-06-01")
        assert "spring rate 9.50" in row["changed"]

    def test_without_tabs_the_columns_are_aligned_and_the_units_named(
        self, folder: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert status("story", "--machine", "damson") == 0
        lines = capsys.readouterr().out.splitlines()
        assert lines[0].index("machine") == lines[1].index("Damson")
        assert lines[-1].startswith("Lengths in mm")

    def test_a_file_that_cannot_be_read_is_named(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        (folder / "torn.toml").write_bytes(b"no = toml = here")
        assert status("story") == 2
        assert "left out: torn.toml" in capsys.readouterr().err

    def test_a_day_that_is_none_is_refused_with_how_to_write_it(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert status("story", "--since", "31.5.2026") == 2
        assert "2026-05-31" in capsys.readouterr().err

    def test_runs_are_compared_by_their_number(
        self, files: dict[str, Path], capsys: pytest.CaptureFixture[str]
    ) -> None:
        soft = files["soft_springs"]
        assert status("compare", f"{soft}:1", f"{soft}:2") == 0
        output = capsys.readouterr().out
        assert "Best lap 1:14.6 → 1:14.1 (−0.5 s)" in output
        assert "Shock rebound 12 → 10 clicks from closed (2 clicks in)" in output

    def test_a_run_that_is_not_there_is_named_with_those_that_are(
        self, files: dict[str, Path], capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert status("compare", f"{files['soft_springs']}:3", f"{files['soft_springs']}:1") == 2
        assert "has no run 3: its runs are 1 to 2" in capsys.readouterr().err
        assert status("compare", f"{files['well_set']}:0", str(files["well_set"])) == 2
        assert "has no run 0: it has no runs" in capsys.readouterr().err
