"""Prediction and trial, driven by keys alone."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from textual.content import Content
from textual.pilot import Pilot
from textual.widgets import Static

from complete_job import complete_job
from driving import USUAL, WIDE, a_job, app_on, bench, on_disk, shown, typed
from judgement_jobs import FULL, PROFILES, judged, put, sag_end
from sheet_jobs import JOBS, sheet
from stanchion.bench.session import Session
from stanchion.job.codec import loads
from stanchion.job.model import Balance, Job, SagEnd
from stanchion.planning.whatif import compare
from stanchion.report.check import as_text
from stanchion.ui.predicted_lines import picture_lines, predicted_lines
from stanchion.ui.present import preload_table
from stanchion.ui.screens.predict import PredictScreen
from stanchion.ui.screens.trial import TrialScreen, beside
from stanchion.units.known_units import METRIC
from timing import at_rest, eventually


async def until(pilot: Pilot[int], true: Callable[[], bool]) -> None:
    await eventually(pilot, true, lambda: shown(pilot.app))  # type: ignore[arg-type]


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_prediction_stands_beside_what_was_captured_with_the_curve(tmp_path: Path, size: tuple[int, int]) -> None:
    app = app_on(tmp_path, complete_job(), "predict")
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        assert isinstance(app.screen, PredictScreen)
        assert app.session is not None
        text = shown(app)
        front = app.session.assessment.predicted.front
        assert front.rider.sag_mm.value is not None
        assert f"{front.rider.sag_mm.value:.1f}" in text
        assert "Measured" in text
        assert "FORCE ALONG THE FORK" in text
        assert any("⠀" < character <= "⣿" for character in text)
        await pilot.press("tab")
        await at_rest(pilot)
        assert "FORCE AT THE REAR WHEEL" in shown(app)


async def test_without_loads_the_screen_says_which_reading_it_waits_for(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "predict")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert "needs" in shown(app)


def test_a_job_that_is_still_bare_rises_by_nothing_on_no_line() -> None:
    bare = Job()
    lines = " ".join(line.plain for line in beside(compare(bare, bare, PROFILES), METRIC, 34, full=False))
    assert "Vertical rise" not in lines
    known = " ".join(line.plain for line in beside(compare(FULL, FULL, PROFILES), METRIC, 34, full=False))
    assert "Vertical rise" in known


def test_turns_and_length_of_the_headroom_add_up() -> None:
    """A pitch of 1 mm, 8 turns in all, 3.75 turns in: 3.75 and 4.25 mm are 8 mm, 3.8 and 4.3 are not."""
    job = put(
        FULL,
        front__left__adjuster__pitch_mm=1.0,
        front__left__adjuster__total_turns=8.0,
        front__left__adjuster__now=3.75,
    )
    lines = " ".join(line.plain for line in preload_table((judged(job).front.left,), METRIC, 40))
    assert ("3.75 mm" in lines, "4.25 mm" in lines) == (True, True)
    text = as_text("a.toml", job, judged(job))
    assert "4.25 mm, 4.25 turns" in text
    assert "3.75 mm, 3.75 turns" in text


async def test_a_change_is_tried_beside_the_present_and_applied_with_one_key(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "trial")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert isinstance(app.screen, TrialScreen)
        assert "Unchanged" in shown(app)
        before = on_disk(app)
        await typed(pilot, "6")
        await at_rest(pilot)
        assert "1 changed" in shown(app)
        assert on_disk(app) == before
        await pilot.press("f7")
        await at_rest(pilot)
        assert on_disk(app).front.left.adjuster.now == 6
        assert "Unchanged" in shown(app)
        await pilot.press("f3")
        await at_rest(pilot)
        await pilot.press("ctrl+z")
        assert on_disk(app) == before


async def test_sags_stand_as_measured_and_as_to_be_expected(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "trial")
    async with app.run_test(size=USUAL) as pilot:
        await until(pilot, lambda: "FRONT · sag measured → to expect" in shown(app))


async def test_a_topped_out_end_shows_no_sag_and_doubted_readings_stand_as_predicted(tmp_path: Path) -> None:
    """40 mm of preload on two springs of 9.5 N/mm push harder than the 45 kg they carry (balance of forces)."""
    job = put(
        FULL,
        geometry__rake_deg=24.0,
        weights__front_unsprung_kg=15.0,
        weights__front_alone_kg=60.0,
        front__left__spring__set_length_mm=210.0,
        front__left__spring__set_length_in_mm=202.0,
        sag__front=sag_end(33.0, 20.0),
    )
    app = app_on(tmp_path, job, "trial")
    async with app.run_test(size=USUAL) as pilot:
        await until(pilot, lambda: "FRONT · sag predicted" in shown(app))
        line = next(line for line in shown(app).splitlines() if "Static sag" in line)
        assert re.search(r"Static sag +topped out topped out", line)


async def test_another_rider_is_told_of_with_the_scales_of_the_one_before(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "trial")
    async with app.run_test(size=WIDE) as pilot:
        await until(pilot, lambda: "Unchanged" in shown(app))
        bench(app).go_to(("job", "rider_mass_kg"))
        await typed(pilot, "98")
        await until(pilot, lambda: "1 changed" in shown(app))
        beside = app.screen.query_one("#beside", Static)
        assert "taken as the earlier rider's weight" in " ".join(str(beside.content).split())


async def test_what_is_tried_is_dropped_with_one_key(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "trial")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await typed(pilot, "6")
        await pilot.press("ctrl+r")
        await at_rest(pilot)
        assert "Unchanged" in shown(app)
        assert on_disk(app).front.left.adjuster.now == complete_job().front.left.adjuster.now
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        assert "1 changed" in shown(app)  # a wrong key dropped nothing for good


async def test_what_was_applied_is_taken_back_and_done_again_where_it_was_tried(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "trial")
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        before = on_disk(app)
        await typed(pilot, "6")
        await pilot.press("f7")
        await at_rest(pilot)
        assert "1 change made in the job; ^Z takes it back." in shown(app)
        after = on_disk(app)
        await pilot.press("ctrl+z")
        assert on_disk(app) == before
        await pilot.press("ctrl+y")
        assert on_disk(app) == after


async def test_undo_on_the_trial_screen_takes_back_the_trial_and_not_the_job(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "front")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("plus")
        changed = on_disk(app)
        await pilot.press("ctrl+t")
        await at_rest(pilot)
        await pilot.press("plus", "ctrl+z", "ctrl+z")
        await at_rest(pilot)
        assert on_disk(app) == changed
        assert "Unchanged" in shown(app)
        assert bench(app).name_of == "trial"


async def test_undo_and_redo_say_what_they_took_back_and_did_again(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "front")
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        assert app.session is not None
        before = app.session.job
        await pilot.press("plus", "ctrl+z")
        await at_rest(pilot)
        assert app.session.job == before
        assert "Undo: Fork" in shown(app)
        await pilot.press("ctrl+y")
        await at_rest(pilot)
        assert "Redo: Fork" in shown(app)
        assert "Undo: " not in shown(app)
        await pilot.press("ctrl+z", "ctrl+z")
        await at_rest(pilot)
        assert "nothing to undo" in shown(app)


async def test_with_nothing_to_do_again_that_is_said(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "front")
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+y")
        await at_rest(pilot)
        assert "nothing to redo" in shown(app)


async def test_a_trial_that_brings_a_fault_is_applied_only_when_that_is_meant(tmp_path: Path) -> None:
    """12 mm of preload become 40: over 15 mm installed is a fault (common practice, no published source)."""
    app = app_on(tmp_path, FULL, "trial")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        bench(app).go_to(("front", "left", "spring", "set_length_mm"))
        await typed(pilot, "210")
        for answer, kept in ((["enter"], 238.0), (["down", "enter"], 210.0)):
            await pilot.press("f7")
            await at_rest(pilot)
            assert "The change brings a fault" in shown(app)
            await pilot.press(*answer)
            await at_rest(pilot)
            assert on_disk(app).front.left.spring.set_length_mm == kept
        await pilot.press("ctrl+z")
        await pilot.press("f3", "ctrl+z")
        await at_rest(pilot)
        assert on_disk(app).front.left.spring.set_length_mm == 238.0


async def test_a_trial_without_a_change_makes_no_step_of_undo(tmp_path: Path) -> None:
    app = app_on(tmp_path, FULL, "trial")
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        await pilot.press("f3")
        await at_rest(pilot)
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        assert "nothing to undo" in shown(app)


async def test_bands_and_figures_are_shown_in_inches_with_the_digits_an_inch_needs(tmp_path: Path) -> None:
    """A range of 8 mm is 0.315 in, a band of 8 to 15 mm 0.31 to 0.59 in: an inch is exactly 25.4 mm (ISO 31-1)."""
    app = app_on(tmp_path, FULL, "front")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        await pilot.press("escape", "i")
        await at_rest(pilot)
        text = shown(app)
        assert re.search(r"Range +0\.315 in", text)
        assert "0.31–0.59" in text


async def test_estimates_stay_in_the_columns_of_their_ends(tmp_path: Path) -> None:
    """Four marks of an estimate on a line do not push the last figure onto the next, below the front's."""
    app = app_on(tmp_path, JOBS["mismatched_lengths"], "predict")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        lines = shown(app).split("\n")
        (head,) = (line for line in lines if line.count("static") == 2)
        ends = [found.end() for found in re.finditer("static|rider", head)]
        for name in ("Predicted", "Difference"):
            (row,) = (line for line in lines if line.startswith(f" {name}"))
            assert [found.end() - 1 for found in re.finditer(r"\d~", row)] == ends


UNMARKED = put(
    FULL,
    front__left__spring__rate_n_per_mm=None,
    front__left__spring__coils__wire_mm=4.8,
    front__left__spring__coils__outer_mm=34.0,
    front__left__spring__coils__total_coils=32.0,
)


async def test_a_rate_by_coils_is_marked_as_an_estimate_beside_the_sheet_and_named_on_the_hand_over(
    tmp_path: Path,
) -> None:
    a = judged(UNMARKED)
    assert a.front.rate_n_per_mm.estimate
    app = app_on(tmp_path, UNMARKED, "front")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        text = shown(app)
        assert re.search(r"Force now +\d+~ N", text)
        assert re.search(r"Combined rate [\d.]+~ N/mm", text)
    rate = a.springs.left.rate_calculated_n_per_mm.value
    assert rate is not None
    low, high = a.springs.left.rate_calculated_range or (0.0, 0.0)
    assert f"by caliper ~{rate:.2f} N/mm, {low:.2f} to {high:.2f} N/mm" in text
    assert f"N/mm {low:.2f}–{high:.2f}" in text
    assert f"~{rate:.2f} N/mm (estimate by coils, {low:.2f}–{high:.2f})" in str(sheet(UNMARKED))


async def test_what_a_figure_waits_for_is_named_whole_beside_the_sheet(tmp_path: Path) -> None:
    for screen, names in (("front", ("turns, total",)), ("rear", ("thread pitch", "turns, total"))):
        app = app_on(tmp_path / screen, a_job(), screen)
        async with app.run_test(size=USUAL) as pilot:
            await at_rest(pilot)
            beside_sheet = [line.split("▏")[1] for line in shown(app).split("\n") if "▏" in line]
            waiting = [line for line in beside_sheet if "–" in line]
            assert not [line for line in waiting if "…" in line]
            assert all(any(f"– {name}" in line for line in waiting) for name in names)


def test_coil_bind_is_named_as_set_and_with_the_adjuster_fully_in_and_a_force_beyond_it_as_out_of_reach() -> None:
    job = put(
        JOBS["soft_springs"],
        front__left__spring__coils__wire_mm=4.8,
        front__left__spring__coils__outer_mm=34.0,
        front__left__spring__coils__total_coils=32.0,
    )
    a = judged(job)
    now, fully_in = a.springs.left.clearance_now_mm.value, a.springs.left.coil_bind_clearance_mm.value
    assert now is not None
    assert fully_in is not None
    assert fully_in <= now < 0.0
    text = [line.plain for line in predicted_lines(a, METRIC, 60)]
    for name, mm in (("Left as set", now), ("Left fully in", fully_in)):
        (line,) = [line for line in text if line.startswith(name)]
        assert f"−{-mm:.1f}" in line
    picture = [line.plain for line in picture_lines(Session(job, PROFILES), "front", 27, 16, plain=True)]
    assert any(line.endswith("N if coils did not bind") for line in picture)
    assert any("full travel" in line for line in (one.plain for one in picture_lines_of("well_set")))
    assert ", as set now" in as_text("one.toml", job, a)


def picture_lines_of(name: str) -> list[Content]:
    return picture_lines(Session(JOBS[name], PROFILES), "front", 27, 16, plain=True)


def test_sags_of_loads_that_contradict_are_in_doubt_in_a_trial_too() -> None:
    sound, doubted = (put(JOBS["soft_springs"], job__rider_mass_kg=kg, sag__front=SagEnd()) for kg in (90.0, 60.0))
    for job, in_doubt in ((sound, False), (doubted, True)):
        assert judged(job).predicted.front.doubted is in_doubt
        heads = [line.plain for line in beside(compare(job, job, PROFILES), METRIC, 34, full=True)]
        assert any(line.endswith("sag predicted, in doubt") for line in heads) is in_doubt


def test_columns_for_other_air_gaps_are_there_only_where_one_is_entered() -> None:
    for name, columns in (("air_fork", ["all", "air"]), ("well_set", ["all", "air", "gap", "−5", "gap", "+5"])):
        lines = [line.plain for line in predicted_lines(judged(JOBS[name]), METRIC, 48, JOBS[name])]
        [head] = [line for line in lines if line.startswith("AT FULL")]
        assert head.split()[3:] == columns


def test_a_trial_marks_estimates_and_says_which_stroke_is_meant() -> None:
    """The height of the centre of mass is not measured in that machine, so what it does on the brakes is an estimate."""
    job = loads((Path(__file__).parents[3] / "sample_jobs" / "well_set.toml").read_bytes()).job
    job = put(job, balance=Balance())
    seen = compare(job, put(job, front__left__spring__rate_n_per_mm=10.0), PROFILES)
    dive = seen.row(("front",), "brakes_fork_mm")
    lines = [line.plain for line in beside(seen, METRIC, 34, full=False)]
    assert dive.present.value is not None
    assert dive.changed.value is not None
    (shown_as,) = [line for line in lines if line.startswith("Fork travel used ")]
    assert f"{dive.present.value:.1f}~" in shown_as
    assert f"{dive.changed.value:.1f}~" in shown_as
    (sag,) = [line for line in lines if line.startswith("Rider sag") and "~" in line] or [""]
    assert not sag  # the loads were weighed
