"""On the gas: reached from Prediction and from Balance, filled in by keys, worked out only there."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

import make_samples
from driving import USUAL, WIDE, app_on, bench, on_disk, said, shown, typed
from judgement_jobs import PROFILES, judged, put
from stanchion.job.model import Drive, Swingarm
from stanchion.judgement.predict.gas import gas_figures
from stanchion.mechanics import on_the_gas, steady
from stanchion.mechanics.steady import Settled
from stanchion.planning.whatif import compare
from stanchion.report.side_view import side_view
from stanchion.ui.gas_lines import gas_pages
from stanchion.ui.screens.gas import GasScreen
from stanchion.ui.screens.trial import beside
from stanchion.units.known_units import METRIC, Units
from stanchion.wording.whatif_sentences import AXLE_GOES
from timing import at_rest

BARE = put(
    replace(make_samples.well_set(), swingarm=Swingarm(), drive=Drive()),
    upkeep__front_teeth=None,
    upkeep__rear_teeth=None,
)
FULL = put(
    BARE,
    swingarm=Swingarm(pivot_to_axle_mm=575.0, pivot_up_mm=421.0, sprocket_up_mm=434.0, sprocket_ahead_mm=60.0),
    drive=Drive(chain="520", links=112.0, axle_forward_mm=10.0, axle_back_mm=3.0),
    upkeep__front_teeth=15.0,
    upkeep__rear_teeth=44.0,
)


async def test_swingarm_and_chain_are_entered_by_keys_and_give_anti_squat(tmp_path: Path) -> None:
    app = app_on(tmp_path, BARE, "predict")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert "^D on the gas" in shown(app).splitlines()[-1]
        await pilot.press("ctrl+d")
        await at_rest(pilot)
        assert isinstance(app.screen, GasScreen)
        text = shown(app)
        assert "ON THE GAS, 0.50 g, usual" in text
        assert "needs swingarm: pivot to rear" in text
        await typed(pilot, ".6\n575\n421\n\n434\n60\n\n15\n44\n")
        bench(app).go_to(("drive", "chain"))
        await at_rest(pilot)
        assert "chain size: not known" in shown(app).casefold()
        assert "GPa" not in shown(app)  # that is said of a spring's wire
        await pilot.press("5", "2", "0", "enter")
        await at_rest(pilot)
        text = shown(app)
        assert "ON THE GAS, 0.60 g " in text
        assert "Anti-squat at sag" in text
        assert on_disk(app).swingarm == replace(FULL.swingarm)
        assert on_disk(app).upkeep.rear_teeth == 44.0
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        assert "Anti-squat at sag" not in shown(app)


def test_a_trial_shows_first_what_it_changes() -> None:
    """One tooth more changes nothing at the ends: its rows would lie below the window."""
    seen = compare(FULL, put(FULL, upkeep__front_teeth=16.0), PROFILES)
    lines = [line.plain for line in beside(seen, METRIC, 34, full=False)]
    assert lines[1] == "SWINGARM"
    assert lines[2].startswith("Axle forward")
    assert "3.7" in lines[2]
    assert lines[3].startswith("Left in slots")
    assert AXLE_GOES in " ".join(lines)


async def test_what_has_no_room_stands_on_further_pages(tmp_path: Path) -> None:
    app = app_on(tmp_path, FULL, "balance")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+d")
        await at_rest(pilot)
        pages = [shown(app)]
        while "more: ^Down" in pages[-1]:
            await pilot.press("ctrl+down")
            await at_rest(pilot)
            pages.append(shown(app))
        for words in (
            "Front wheel lifts",
            "ANTI-SQUAT OVER REAR TRAVEL",
            "Rear tooth +1",
            "Links needed",
            "near 100 %",
        ):
            assert sum(words in page for page in pages) == 1, words
        assert any("beyond its slots" in page for page in pages)


async def test_a_wide_window_says_more_at_once_and_a_narrow_one_what_matters_most(tmp_path: Path) -> None:
    app = app_on(tmp_path, FULL, "gas")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        assert "FROM THE SIDE" in shown(app)
        await pilot.press("ctrl+down")
        await at_rest(pilot)
        assert "ANTI-SQUAT OVER REAR TRAVEL" in shown(app)
        assert "Rear tooth +1" in shown(app)
        await pilot.resize_terminal(60, 20)
        await at_rest(pilot)
        assert "Anti-squat at sag 109 %" in shown(app)


async def test_the_reading_says_how_it_is_taken(tmp_path: Path) -> None:
    app = app_on(tmp_path, BARE, "gas")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        bench(app).go_to(("swingarm", "sprocket_ahead_mm"))
        await at_rest(pilot)
        assert "Plumb lines from both centres" in " ".join(shown(app).split())


async def test_other_screens_work_nothing_of_it_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[float] = []
    found = steady.settled

    def counted(*args: object, **named: object) -> Settled | None:
        asked.append(0.0)
        return found(*args, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(on_the_gas, "settled", counted)
    app = app_on(tmp_path, FULL, "sag")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await typed(pilot, "143\n")
        await pilot.press("ctrl+p")
        await at_rest(pilot)
        assert not asked
        await pilot.press("ctrl+d")
        await at_rest(pilot)
        assert asked


async def test_the_next_missing_reading_is_gone_to_by_a_key(tmp_path: Path) -> None:
    app = app_on(tmp_path, BARE, "gas")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+a")
        await at_rest(pilot)
        assert bench(app).sheet.at == ("swingarm", "pivot_to_axle_mm")
        await typed(pilot, "575\n")
        seen = set()
        for _ in range(6):
            await pilot.press("ctrl+a")
            await at_rest(pilot)
            assert isinstance(app.screen, GasScreen)
            seen.add(bench(app).sheet.at)
        assert ("swingarm", "pivot_up_mm") in seen
        assert ("swingarm", "pivot_to_axle_mm") not in seen
    app = app_on(tmp_path, FULL, "gas")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+a")
        await at_rest(pilot)
        assert "No figure needs another reading." in said(app)


@pytest.mark.parametrize("units", [METRIC, Units(lengths="in", masses="lb")])
def test_no_line_is_wider_than_a_small_window_has_room_for(units: Units) -> None:
    """A line that was too long wrapped, and pushed out the one that says how to turn the page."""
    for job in (FULL, make_samples.well_set(), BARE):
        a = judged(job)
        view = side_view(job, a, units, riding=("gas",))
        pages = gas_pages(job, gas_figures(job, a), units, 34, 16, measured_height=False, view=view)
        assert max(line.cell_length for page in pages for line in page) <= 34
        assert max(map(len, pages)) <= 16


async def test_the_swingarm_is_measured_one_reading_at_a_time(tmp_path: Path) -> None:
    app = app_on(tmp_path, put(BARE, drive__chain="520", upkeep__front_teeth=15.0, upkeep__rear_teeth=44.0), "gas")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+r")
        await at_rest(pilot)
        assert "1 of 9 SWINGARM · Pivot to axle" in shown(app)
        await typed(pilot, "575\n421\n434\n60\n")
        await at_rest(pilot)
        assert "Anti-squat at sag  109 %" in shown(app)
        await typed(pilot, "\n\n112\n10\n3\n")
        await at_rest(pilot)
        assert "SWINGARM: THE END OF THE LIST" in shown(app)
        assert "All taken." in shown(app)
        await pilot.press("escape")
        await at_rest(pilot)
        assert isinstance(app.screen, GasScreen)
        assert on_disk(app).swingarm == FULL.swingarm
        assert on_disk(app).drive.links == 112.0
