"""`stanchion check --why FIGURE` as a person types it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from stanchion.commands.command_line import main
from stanchion.commands.completion import script
from stanchion.store.samples import samples
from why_recomputed import off_by


@pytest.fixture
def well_set(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("STANCHION_HOME", str(tmp_path / "home"))
    path = tmp_path / "well_set.toml"
    path.write_bytes(next(sample.data for sample in samples() if sample.name == "well_set"))
    return path


def status(*arguments: str | Path) -> int:
    with pytest.raises(SystemExit) as end:
        main([str(argument) for argument in arguments])
    return int(end.value.code or 0)


def test_it_prints_the_formula_and_where_its_readings_stand(well_set: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert status("check", well_set, "--why", "sag.front.rider.sag_mm") == 0
    lines = capsys.readouterr().out.splitlines()
    assert "  = mean of L1, wheel hanging − (mean of rider, pushed down + mean of rider, lifted up) / 2" in lines
    assert "  = 142 − (106.167 + 111.167) / 2" in lines
    assert any("Front sag: L1, wheel hanging, reading 1, 2026-05-16" in line for line in lines)


def test_json_holds_the_steps_in_full_precision(well_set: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert status("check", well_set, "--why", "geometry.trail_mm", "--json") == 0
    (found,) = json.loads(capsys.readouterr().out)
    assert found["figure"] == "geometry.trail_mm"
    assert found["value"] == found["steps"][0]["value"]
    assert len(found["steps"]) > 3
    assert all(off_by(step) <= 1e-9 for step in found["steps"] if step["lines"])


@pytest.mark.parametrize(
    "figure", ["front.left.installed_preload_mm", "geometry.trail_mm", "predicted.front.rider.sag_mm"]
)
def test_its_uncertainty_is_that_of_check(well_set: Path, capsys: pytest.CaptureFixture[str], figure: str) -> None:
    """Only the readings that the figure was followed back to are moved; check moves all of them."""
    assert status("check", well_set, "--why", figure, "--json") == 0
    (found,) = json.loads(capsys.readouterr().out)
    status("check", well_set, "--json")
    whole = json.loads(capsys.readouterr().out)[0]["uncertainty"][figure]
    assert found["expanded"] == pytest.approx(whole["expanded"], rel=1e-9)
    assert found["largest_part"]["reading"] == whole["parts"][0]["reading"]


def test_an_absent_figure_says_what_is_missing(well_set: Path, capsys: pytest.CaptureFixture[str]) -> None:
    well_set.write_text("format = 2\n[job]\nmachine = 'x'\nrider = 'y'\ndate = 2026-05-31\n[end]\ncomplete = true\n")
    assert status("check", well_set, "--why", "front.left.installed_preload_mm") == 0
    out = capsys.readouterr().out
    assert "Installed preload, fork, left leg:" in out
    assert "free length" in out


@pytest.mark.parametrize(
    ("typed", "said"),
    [("geometry.tral_mm", "'geometry.trail_mm'"), ("geometry.baseline", "geometry.baseline.rake_deg")],
)
def test_a_path_that_is_no_figure_gets_the_nearest(
    well_set: Path, capsys: pytest.CaptureFixture[str], typed: str, said: str
) -> None:
    assert status("check", well_set, "--why", typed) == 2
    assert said in capsys.readouterr().out


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_the_shells_complete_figures(shell: str) -> None:
    assert "geometry.trail_mm" in script(shell)
