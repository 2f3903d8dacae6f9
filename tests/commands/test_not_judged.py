"""A job that an error of the program keeps from being judged: it opens, work goes on, tables leave its figures out."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from driving import USUAL, a_job, app_on, shown, typed, workspace_in
from stanchion.commands import command_line
from stanchion.job.model import Job
from stanchion.judgement.predict.prediction import predict
from stanchion.judgement.track.run_figures import run_figures
from stanchion.ui.app import StanchionApp
from timing import eventually

SPOILT = "Unlucky Mule"
SOUND = "Steady Mule"


def fails_for_one(monkeypatch: pytest.MonkeyPatch) -> None:
    """Prediction and runs of one machine meet an error of the program."""
    spoil(monkeypatch, predict, "judgement.assess.predict")
    places = ("judgement.assess", "planning.machine_story", "report.runs", "report.export")
    spoil(monkeypatch, run_figures, *(f"{place}.run_figures" for place in places))


def spoil(monkeypatch: pytest.MonkeyPatch, real: Callable[..., Any], *names: str) -> None:
    def spoilt(job: Job, *more: Any, **named: Any) -> Any:
        if job.job.machine == SPOILT:
            raise ZeroDivisionError(job.job.rider)
        return real(job, *more, **named)

    for name in names:
        monkeypatch.setattr(f"stanchion.{name}", spoilt)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Two jobs, of which one cannot be judged whole."""
    workspace = workspace_in(tmp_path)
    for machine in (SPOILT, SOUND):
        workspace.create(
            a_job(
                ("front.left.spring.free_length_mm", 250.0),
                ("front.left.spring.set_length_mm", 238.0),
                ("runs.0.front_marker_mm", 100.0),
                rider="Secret Rider",
                machine=machine,
            )
        )
    workspace.close()
    monkeypatch.setenv("STANCHION_HOME", str(tmp_path))
    fails_for_one(monkeypatch)
    return tmp_path


def said(capsys: pytest.CaptureFixture[str], *argv: str) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as end:
        command_line.main(argv)
    out, err = capsys.readouterr()
    return int(str(end.value.code)), out, err


async def until(pilot: Pilot[int], true: Callable[[], bool]) -> None:
    await eventually(pilot, true, lambda: shown(pilot.app))  # type: ignore[arg-type]


def reports(home: Path) -> list[str]:
    return [path.read_text("utf-8") for path in (home / "state" / "faults").glob("fault-*.txt")]


@pytest.mark.parametrize("verb", [("export",), ("export", "--runs"), ("story",)])
def test_a_table_over_a_folder_leaves_the_figures_out_and_says_so(
    folder: Path, capsys: pytest.CaptureFixture[str], verb: tuple[str, ...]
) -> None:
    status, out, err = said(capsys, *verb)
    assert status == 2
    assert SPOILT in out
    assert SOUND in out
    [printed] = [line for line in err.splitlines() if "fault in the program, please report" in line]
    assert "unlucky-mule-secret-rider.toml" in printed
    assert reports(folder)
    assert not [report for report in reports(folder) if "Secret" in report or SPOILT in report]


def test_the_list_and_check_show_that_a_job_was_not_judged_whole(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    status, out, _ = said(capsys, "list")
    assert status == 0
    [spoilt] = [line for line in out.splitlines() if SPOILT in line]
    assert "WARNING Not judged: a fault in the program" in spoilt
    names = sorted(path.name for path in (folder / "jobs").glob("*.toml"))
    status, out, _ = said(capsys, "check", *names)
    assert status >= 1
    assert out.count("because of a fault in the program") == 2  # prediction and runs
    assert "12.0" in out
    assert len(reports(folder)) == 2


async def test_typing_goes_on_and_each_place_is_reported_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fails_for_one(monkeypatch)
    job = a_job(("front.left.spring.free_length_mm", 250.0), machine=SPOILT)
    app = app_on(tmp_path, job, "front")
    async with app.run_test(size=USUAL) as pilot:
        await pilot.press("down", "down")
        await typed(pilot, "238")
        await pilot.pause()
        assert app.session is not None
        assert app.session.job.front.left.spring.set_length_mm == 238.0
        assert app.session.assessment.front.left.installed_preload_mm.value == 12.0
        assert app.session.assessment.predicted.front.rider.sag_mm.problem == "program_fault"
        for screen in ("predict", "trial", "springs", "runs", "sag"):
            app.action_go(screen)
            await pilot.pause()
            assert app.current_mode == screen
    assert not app.faulted
    assert len([report for report in reports(tmp_path) if "not judged: prediction" in report]) == 1


async def test_a_job_that_ended_the_program_is_not_opened_again_by_itself(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = app_on(tmp_path, a_job(machine=SPOILT), "front")
    name = app.workspace.open_name
    app.workspace.report_fault(ZeroDivisionError(), {})
    app.workspace.flush()
    app.workspace.preferences.remember(name, "sag")  # what is still written as it ends takes nothing back
    app.workspace.close()
    assert app.workspace.preferences.last_place().faulted

    again = StanchionApp(workspace_in(tmp_path))
    async with again.run_test(size=USUAL) as pilot:
        assert again.current_mode == "jobs"
        assert again.session is None
        await until(pilot, lambda: "was not opened again by" in shown(again))
        await pilot.press("enter")
        await until(pilot, lambda: again.workspace.open_name == name)
    assert not again.workspace.preferences.last_place().faulted

    opened = StanchionApp(workspace_in(tmp_path))
    assert opened.workspace.open_name == name
    opened.workspace.close()


async def test_a_job_that_cannot_even_be_opened_is_reported_and_the_list_is_shown(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = app_on(tmp_path, a_job(machine=SPOILT), "front")
    app.workspace.close()

    def fails(*_: object) -> None:
        raise RecursionError

    monkeypatch.setattr("stanchion.store.open_jobs.OpenJob.kept", fails)
    again = StanchionApp(workspace_in(tmp_path))
    async with again.run_test(size=USUAL) as pilot:
        await until(pilot, lambda: "was not opened, because of a fault" in shown(again))
    assert len(reports(tmp_path)) == 1
    assert again.workspace.preferences.last_place().faulted
