"""A scale is calibrated by keys alone: from Sag to the finding on Machine; it can be undone and given up."""

from __future__ import annotations

from pathlib import Path

import pytest

from driving import USUAL, WIDE, a_job, app_on, on_disk, shown, typed
from stanchion.job.model import Calibration
from stanchion.ui.screens.calibration import CalibrationScreen
from timing import at_rest, eventually


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_a_scale_is_calibrated_by_keys(tmp_path: Path, size: tuple[int, int]) -> None:
    app = app_on(tmp_path, a_job(("weights.front_alone_kg", 95.0)), "sag")
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+d")
        await eventually(pilot, lambda: "Calibrate a scale" in shown(app))
        await pilot.press("end", "enter")
        await eventually(pilot, lambda: "Scale for both wheels" in shown(app))
        await pilot.press("enter")
        await eventually(pilot, lambda: isinstance(app.screen, CalibrationScreen))
        for text in ("blue", "0", "0.2", "50", "50.6", "100", "101.5"):
            await at_rest(pilot)
            await typed(pilot, text)
            await pilot.press("enter")
        await eventually(pilot, lambda: "there are no more" in shown(app))
        await pilot.press("enter")
        await eventually(pilot, lambda: "what the calibration gives" in shown(app))
        await pilot.press("enter")
        await eventually(pilot, lambda: on_disk(app).calibration.front.called == "blue")
        assert on_disk(app).weights.front_alone_kg == 95.0
        session = app.session
        assert session is not None
        assert "scale_off" in [finding.code for finding in session.assessment.findings]
        await pilot.press("ctrl+z")
        await eventually(pilot, lambda: on_disk(app).calibration == Calibration())


async def test_a_calibration_that_is_left_changes_nothing(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "sag")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+d")
        await eventually(pilot, lambda: "Calibrate a scale" in shown(app))
        await pilot.press("end", "enter")
        await eventually(pilot, lambda: "Scale for both wheels" in shown(app))
        await pilot.press("down", "enter")
        await eventually(pilot, lambda: isinstance(app.screen, CalibrationScreen))
        await pilot.press("b", "enter", "escape")
        await eventually(pilot, lambda: not isinstance(app.screen, CalibrationScreen))
        assert on_disk(app).calibration == Calibration()
