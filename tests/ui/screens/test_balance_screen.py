"""Balance, and on the brakes: reached from Prediction, filled in by keys, worked out only there."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

import make_samples
from driving import USUAL, WIDE, a_job, app_on, bench, on_disk, said, shown, typed
from judgement_jobs import judged
from stanchion.job.model import Balance, Lift, Run
from stanchion.judgement.predict.balance import balance_figures
from stanchion.judgement.predict.brakes import brakes_figures
from stanchion.mechanics import steady
from stanchion.mechanics.steady import Machine, Stance
from stanchion.report.side_view import side_view
from stanchion.ui.balance_lines import balance_pages
from stanchion.ui.screens.balance import BalanceScreen
from stanchion.units.known_units import METRIC, Units
from timing import at_rest

UNLIFTED = replace(make_samples.well_set(), balance=Balance())


async def test_lifting_the_front_is_entered_by_keys_and_changes_the_figures(tmp_path: Path) -> None:
    app = app_on(tmp_path, UNLIFTED, "predict")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert "F7 balance" in shown(app).splitlines()[-1]
        await pilot.press("f7")
        await at_rest(pilot)
        assert isinstance(app.screen, BalanceScreen)
        text = shown(app)
        assert "ON THE BRAKES, 0.90 g, usual" in text
        assert "Fork travel used ~98.2–105.4 mm" in text
        assert "Steady: no air drag, no damping," in text
        assert "~630±70" in text
        assert "Lifting the front" not in text
        await typed(pilot, ".8\n")
        await at_rest(pilot)
        assert "ON THE BRAKES, 0.80 g " in shown(app)
        await pilot.press(*["enter"] * 5)
        await at_rest(pilot)
        assert bench(app).sheet.at == ("balance", "blocked")
        assert "Block fork and shock at ride" in shown(app)
        await pilot.press("plus", "enter")
        await typed(pilot, "350\n79,5\n107.5\n")
        await at_rest(pilot)
        text = shown(app)
        assert "Lifting the front: two people, tied down, nobody under the machine." in text
        height = next(line for line in text.splitlines() if "Centre up" in line)
        assert "~" not in height
        assert "±" in height
        assert "Reading 2" in text
        balance = on_disk(app).balance
        lift = Lift(raised_mm=350.0, alone_kg=79.5, aboard_kg=107.5)
        assert balance == Balance(braking_g=0.8, blocked="yes", lifts=(lift,))
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        assert on_disk(app).balance.lifts == (Lift(raised_mm=350.0, alone_kg=79.5),)


async def test_without_weights_it_says_what_to_enter_and_takes_the_scales_there(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "predict")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("escape", "l")
        await at_rest(pilot)
        assert isinstance(app.screen, BalanceScreen)
        assert "needs" in shown(app)
        bench(app).go_to(("weights", "front_alone_kg"))
        await typed(pilot, "86.5\n83.5\n")
        await at_rest(pilot)
        assert "50.9" in shown(app)
        assert on_disk(app).weights.rear_alone_kg == 83.5


async def test_in_a_narrow_window_the_fork_on_the_brakes_stands_below_the_form(tmp_path: Path) -> None:
    app = app_on(tmp_path, UNLIFTED, "balance")
    async with app.run_test(size=(60, 24)) as pilot:
        await at_rest(pilot)
        assert "Fork travel used at 0.90 g ~98.2–105.4 mm" in shown(app)


async def test_a_wide_window_says_everything_the_figures_rest_on(tmp_path: Path) -> None:
    app = app_on(tmp_path, UNLIFTED, "balance")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        said = ""
        for _ in range(2):
            said += " ".join(line.partition("▏")[2].strip() for line in shown(app).splitlines())
            await pilot.press("ctrl+down")
            await at_rest(pilot)
        assert "TO LEAVE 10 mm" in said
        for words in (
            "without anti-dive.",
            "one holds for a slow stroke",
            "lift the front wheel on to a block and weigh",
        ):
            assert words in said


async def test_other_screens_work_nothing_of_it_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[Machine] = []
    found = steady.stance

    def counted(machine: Machine, fork_mm: float, rear_mm: float) -> Stance:
        asked.append(machine)
        return found(machine, fork_mm, rear_mm)

    monkeypatch.setattr(steady, "stance", counted)
    app = app_on(tmp_path, UNLIFTED, "sag")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await typed(pilot, "143\n")
        await pilot.press("ctrl+p")
        await at_rest(pilot)
        assert not asked
        await pilot.press("f7")
        await at_rest(pilot)
        assert asked
        await pilot.press("f5")
        await at_rest(pilot)
        count = len(asked)
        await typed(pilot, "142\n")
        await at_rest(pilot)
        assert len(asked) == count


def test_the_screen_s_lines_fit_their_room() -> None:
    for job in (make_samples.well_set(), make_samples.soft_springs(), make_samples.half_filled(), a_job()):
        a = judged(job)
        figures, states = brakes_figures(job, a), balance_figures(job, a).states
        for units in (METRIC, Units(lengths="in", masses="lb")):
            view = side_view(job, a, units, riding=("brakes",))
            for at in (("balance", "blocked"), None):
                pages = balance_pages(figures, states, units, 34, 16, at=at, view=view)
                assert max(line.cell_length for page in pages for line in page) <= 34
                assert max(map(len, pages)) <= 16


def test_a_reason_is_whole_in_a_small_window_too() -> None:
    job = make_samples.well_set()
    figures, states = brakes_figures(job, judged(job)), balance_figures(job, judged(job)).states
    for width, words in ((33, "rear lifts first"), (60, "the rear wheel lifts first")):
        (line,) = (
            line.plain
            for page in balance_pages(figures, states, METRIC, width, 16)
            for line in page
            if "at its end" in line.plain
        )
        assert line.endswith(words)
        assert len(line) <= width


async def test_the_braking_that_the_markers_stand_for_is_shown_and_looked_at(tmp_path: Path) -> None:
    runs = (Run(front_marker_mm=90.0), Run(front_marker_mm=95.0))
    app = app_on(tmp_path, replace(UNLIFTED, runs=runs), "balance")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert "Braking as ridden" in shown(app)
        assert "F7 braking as ridden" in shown(app).splitlines()[-1]
        await pilot.press("f7")
        await at_rest(pilot)
        assert "an estimate by 2 fork markers" in said(app)
        looked_at = on_disk(app).balance.braking_g
        assert looked_at is not None
        assert 0.6 < looked_at < 0.95
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        assert on_disk(app).balance.braking_g is None


async def test_without_a_marker_it_says_why_no_braking_follows(tmp_path: Path) -> None:
    app = app_on(tmp_path, UNLIFTED, "balance")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        assert "No braking follows from the runs: no run has a fork marker." in said(app)


async def test_lifting_by_steps_from_the_number_pad(tmp_path: Path) -> None:
    app = app_on(tmp_path, UNLIFTED, "balance")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+r")
        await at_rest(pilot)
        text = shown(app)
        assert "Block fork and shock at ride height" in text
        assert "Lifting the front: two people" in text
        await typed(pilot, "5\n250\n81\n115\n400\n77,5\n110\n\n\n\n")  # the 5 has nowhere to go
        await at_rest(pilot)
        text = shown(app)
        assert "LIFTING: THE END OF THE LIST" in text
        assert "One more block, 450.0 mm," in text
        assert "struts or straps out of fork and shock" in text
        lifts = (
            Lift(raised_mm=250.0, alone_kg=81.0, aboard_kg=115.0),
            Lift(raised_mm=400.0, alone_kg=77.5, aboard_kg=110.0),
        )
        assert on_disk(app).balance == Balance(blocked="yes", lifts=lifts)
        await pilot.press("enter")
        await at_rest(pilot)
        assert isinstance(app.screen, BalanceScreen)


async def test_control_a_goes_to_the_reading_that_the_brakes_wait_for(tmp_path: Path) -> None:
    job = replace(UNLIFTED, front=replace(UNLIFTED.front, travel_mm=None))
    app = app_on(tmp_path, job, "balance")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+a")
        await at_rest(pilot)
        assert bench(app).sheet.at == ("front", "travel_mm")
    app = app_on(tmp_path, UNLIFTED, "balance")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+a")
        await at_rest(pilot)
        assert "No figure needs another reading." in said(app)


@pytest.mark.parametrize(("screen", "head"), [("balance", "ON THE BRAKES"), ("gas", "ON THE GAS")])
async def test_the_machine_is_drawn_beside_its_figures(screen: str, head: str, tmp_path: Path) -> None:
    """In a wide window on the first page, over how it stands; at eighty columns by itself on the last one."""
    app = app_on(tmp_path, make_samples.well_set(), screen)
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        first = shown(app)
        assert head in first
        assert "FROM THE SIDE" in first
        assert "dotted: rider aboard" in first
        await pilot.resize_terminal(*USUAL)
        await at_rest(pilot)
        pages = [shown(app)]
        while "more: ^Down" in pages[-1]:
            await pilot.press("ctrl+down")
            await at_rest(pilot)
            pages.append(shown(app))
        assert ["FROM THE SIDE" in page for page in pages] == [False] * (len(pages) - 1) + [True]
        assert "dotted" not in pages[-1]
        assert "wheelbase" in pages[-1]
