"""`stanchion merge`, as a shop registers it with its version-control system."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from driving import a_job
from stanchion.base.errors import BadFile, NotSaved
from stanchion.commands.command_line import run
from stanchion.job.codec import dumps, loads
from stanchion.job.model import Job

BASE = a_job(("front.fork_height_mm", 6.0), ("rear.rebound.now", 12.0), ("job.id", "x"))


def files(folder: Path, **jobs: Job) -> dict[str, str]:
    for name, job in jobs.items():
        (folder / f"{name}.toml").write_bytes(dumps(job))
    return {name: str(folder / f"{name}.toml") for name in jobs}


def edited(*edits: tuple[str, object]) -> Job:
    return a_job(("front.fork_height_mm", 6.0), ("rear.rebound.now", 12.0), ("job.id", "x"), *edits)


def test_what_each_changed_is_joined_and_it_leaves_with_0(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    at = files(tmp_path, a=edited(("front.fork_height_mm", 3.0)), b=edited(("rear.rebound.now", 9.0)), o=BASE)
    out = tmp_path / "c.toml"
    assert run(["merge", at["a"], at["b"], "--base", at["o"], "-o", str(out)]) == 0
    assert loads(out.read_bytes()).job == edited(("front.fork_height_mm", 3.0), ("rear.rebound.now", 9.0))
    printed = capsys.readouterr().out
    assert "Shock: rebound now: A 12, B 9; changed in B, B taken" in printed
    assert printed.endswith("Nothing is left to choose.\n")


def test_what_both_changed_is_listed_and_it_leaves_with_1(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    at = files(tmp_path, a=edited(("rear.rebound.now", 8.0)), b=edited(("rear.rebound.now", 9.0)), o=BASE)
    out = tmp_path / "c.toml"
    assert run(["merge", at["a"], at["b"], "--base", at["o"], "-o", str(out)]) == 1
    assert loads(out.read_bytes()).job.rear.rebound.now == 8.0
    assert "A 8, B 9; changed in both: TO CHOOSE, A stands\n1 field still to choose." in capsys.readouterr().out


@pytest.mark.parametrize(("take", "stands"), [("a", 8.0), ("b", 9.0)])
def test_one_side_can_be_chosen_for_all_that_is_undecided(tmp_path: Path, take: str, stands: float) -> None:
    at = files(tmp_path, a=edited(("rear.rebound.now", 8.0)), b=edited(("rear.rebound.now", 9.0)), o=BASE)
    out = tmp_path / "c.toml"
    assert run(["merge", at["a"], at["b"], "--base", at["o"], "--take", take, "-o", str(out)]) == 0
    assert loads(out.read_bytes()).job.rear.rebound.now == stands


def test_without_a_base_all_that_differs_is_undecided(tmp_path: Path) -> None:
    at = files(tmp_path, a=BASE, b=edited(("rear.rebound.now", 9.0)))
    assert run(["merge", at["a"], at["b"], "-o", str(tmp_path / "c.toml")]) == 1


def test_as_a_merge_driver_it_writes_over_its_first_file_and_over_no_other(tmp_path: Path) -> None:
    at = files(tmp_path, a=BASE, b=edited(("rear.rebound.now", 9.0)), o=BASE)
    bare = tmp_path / ".merge_file_a1"  # such systems hand over files without an ending
    Path(at["a"]).rename(bare)
    assert run(["merge", str(bare), at["b"], "--base", at["o"], "-o", str(bare)]) == 0
    assert loads(bare.read_bytes()).job.rear.rebound.now == 9.0
    with pytest.raises(NotSaved, match="already exists"):
        run(["merge", str(bare), at["b"], "-o", at["b"]])
    assert loads(Path(at["b"]).read_bytes()).job.rear.rebound.now == 9.0


def test_two_different_jobs_are_not_merged(tmp_path: Path) -> None:
    at = files(tmp_path, a=BASE, b=edited(("job.id", "y")))
    with pytest.raises(BadFile, match="two different jobs"):
        run(["merge", at["a"], at["b"], "-o", str(tmp_path / "c.toml")])
    assert not (tmp_path / "c.toml").exists()


def test_check_and_list_report_copies(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("STANCHION_HOME", str(tmp_path / "home"))
    folder = tmp_path / "jobs"
    folder.mkdir()
    name = "2026-05-31-grey-mule-b-t"
    for added in ("", " (1)"):
        (folder / f"{name}{added}.toml").write_bytes(dumps(BASE))
    run(["--jobs", str(folder), "list"])
    assert f"ANOTHER COPY of {name}.toml: " in capsys.readouterr().out
    run(["--jobs", str(folder), "check", f"{name}.toml"])
    assert f"ANOTHER COPY of this job: {name} (1).toml" in capsys.readouterr().out
    run(["--jobs", str(folder), "check", "--json", f"{name}.toml"])
    assert json.loads(capsys.readouterr().out)[0]["copies"] == [f"{name} (1).toml"]


def test_two_machines_are_not_merged_unless_that_is_asked_for(tmp_path: Path) -> None:
    mule = a_job(("job.machine", "Grey Mule"))
    at = files(tmp_path, a=mule, b=a_job(("job.machine", "Nettle")), again=a_job(("job.machine", "grey  mule")))
    out = tmp_path / "c.toml"
    with pytest.raises(BadFile, match="A is a job of 'Grey Mule', B one of 'Nettle': nothing was written"):
        run(["merge", at["a"], at["b"], "-o", str(out)])
    assert not out.exists()
    assert run(["merge", at["a"], at["again"], "-o", str(tmp_path / "d.toml")]) == 1
    assert run(["merge", at["a"], at["b"], "-o", str(out), "--different-machines"]) == 1
    assert out.exists()


def test_a_machine_that_one_of_two_renamed_is_the_same(tmp_path: Path) -> None:
    at = files(
        tmp_path,
        o=a_job(("job.machine", "Gray Mule")),
        a=a_job(("job.machine", "Gray Mule")),
        b=a_job(("job.machine", "Grey Mule 2")),
    )
    out = tmp_path / "c.toml"
    assert run(["merge", at["a"], at["b"], "--base", at["o"], "-o", str(out)]) == 0
    assert loads(out.read_bytes()).job.job.machine == "Grey Mule 2"
