"""Prediction: Tab goes on from the forces to the machine from the side in each state."""

from __future__ import annotations

from pathlib import Path

from driving import USUAL, WIDE, a_job, app_on, shown
from sheet_jobs import JOBS
from stanchion.judgement.predict.brakes import brakes_figures
from stanchion.judgement.predict.gas import gas_figures
from stanchion.wording.side_sentences import SIDE_NEEDS
from timing import at_rest


async def test_the_picture_goes_from_fork_to_rear_to_the_machine_and_back(tmp_path: Path) -> None:
    job = JOBS["well_set"]
    app = app_on(tmp_path, job, "predict")
    async with app.run_test(size=WIDE) as pilot:
        await pilot.press("tab", "tab")
        await at_rest(pilot)
        assert "RIDER ABOARD" in shown(app)
        assert "dotted: machine alone" in shown(app)
        await pilot.press("tab")
        await at_rest(pilot)
        assert app.session is not None
        slow = brakes_figures(job, app.session.assessment, with_ends=False).slow
        text = shown(app)
        assert "ON THE BRAKES, 0.90 g, slow stroke" in text
        assert "dotted: rider aboard" in text
        row = next(line.split("▏")[1] for line in text.splitlines() if "Fork travel used, mm" in line)
        assert row.split()[-2] == f"{slow.fork_used_mm.value:.1f}"
        await pilot.press("tab")
        await at_rest(pilot)
        gas = gas_figures(job, app.session.assessment, whole=False)
        text = shown(app)
        assert "ON THE GAS, 0.50 g" in text
        row = next(line.split("▏")[1] for line in text.splitlines() if "Rear travel used, mm" in line)
        assert row.split()[-1] == f"{gas.rear_used_mm.value:.1f}"
        await pilot.press("tab")
        await at_rest(pilot)
        assert "FORCE ALONG THE FORK" in shown(app)


async def test_in_a_small_window_the_numbers_of_two_states_stand_alone(tmp_path: Path) -> None:
    app = app_on(tmp_path, JOBS["well_set"], "predict")
    async with app.run_test(size=USUAL) as pilot:
        await pilot.press("tab", "tab", "tab")
        await at_rest(pilot)
        lines = [line.split("▏")[1].split() for line in shown(app).splitlines() if "▏" in line]
        assert ["rider", "brakes"] in lines


async def test_without_geometry_it_says_what_is_needed(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "predict")
    async with app.run_test(size=WIDE) as pilot:
        await pilot.press("tab", "tab")
        await at_rest(pilot)
        assert SIDE_NEEDS.split(",", maxsplit=1)[0] in shown(app)
