"""Moving between the fields of a sheet, and within the text of one, by keys alone; and what a paste brings in."""

from __future__ import annotations

import random
import re
from dataclasses import replace
from pathlib import Path

import pytest
from textual import events
from textual.pilot import Pilot

from complete_job import complete_job
from driving import USUAL, a_job, app_on, bench, on_disk, shown, typed
from judgement_jobs import FULL, split
from stanchion.job.model import Job
from stanchion.ui.app import StanchionApp
from stanchion.ui.screens.dialogs import WriteText
from timing import at_rest, eventually

FORK_HEIGHT = ("front", "fork_height_mm")


async def at(pilot: Pilot[int], app: StanchionApp, path: tuple[str | int, ...]) -> None:
    await at_rest(pilot)
    bench(app).go_to(path)
    await pilot.pause()


async def test_left_and_right_lead_to_the_other_leg_from_a_field_just_entered(tmp_path: Path) -> None:
    app = app_on(tmp_path, split(FULL))
    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, app, ("front", "left", "spring", "rate_n_per_mm"))
        await pilot.press("right")
        assert bench(app).sheet.at == ("front", "right", "spring", "rate_n_per_mm")
        await pilot.press("right")  # there is nothing further right
        assert bench(app).sheet.at == ("front", "right", "spring", "rate_n_per_mm")
        await pilot.press("left")
        assert bench(app).sheet.at == ("front", "left", "spring", "rate_n_per_mm")


async def test_left_and_right_within_a_text_move_the_cursor_and_leave_it_at_its_ends(tmp_path: Path) -> None:
    app = app_on(tmp_path, split(FULL))
    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, app, ("front", "left", "spring", "rate_n_per_mm"))
        await typed(pilot, "95")
        await pilot.press("left", "full_stop")
        assert on_disk(app).front.left.spring.rate_n_per_mm == 9.5
        await pilot.press("right", "right")
        assert bench(app).sheet.at == ("front", "right", "spring", "rate_n_per_mm")
        await typed(pilot, "8")
        await pilot.press("left", "left")
        assert bench(app).sheet.at == ("front", "left", "spring", "rate_n_per_mm")


@pytest.mark.parametrize(("screen", "part"), [("front", "FORK"), ("rear", "SHOCK")])
async def test_the_heading_of_the_current_section_stays_in_sight_and_names_its_end(
    tmp_path: Path, screen: str, part: str
) -> None:
    """So that the set length of a shock is never taken for that of a fork."""
    app = app_on(tmp_path, split(FULL), screen)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        sheet = bench(app).sheet
        places = list(sheet.grid.places)
        for key in (*["down"] * len(places), "ctrl+home", *["pagedown"] * 12, *["pageup"] * 12):
            await pilot.press(key)
            await at_rest(pilot)
            assert sheet.at is not None
            heading = sheet.grid.heading_over(sheet.grid.places[sheet.at][0])
            assert heading is not None
            above = [line[:48].rstrip() for line in shown(app).splitlines()[2:]]
            current = next(at for at, line in enumerate(above) if line.startswith("›"))
            headed = [line for line in above[:current] if not line.startswith(" ")]
            assert headed[-1].startswith(heading.text.upper()), (sheet.at, "\n".join(above))
            assert part in heading.text.upper() or heading.text in ("Meant to differ", "Linkage", "Pairs: travel of")
        assert sheet.at == places[0]


async def test_pages_edges_and_tabs_reach_every_field_and_lose_nothing(tmp_path: Path) -> None:
    app = app_on(tmp_path, FULL)
    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, app, ("front", "left", "spring", "rate_n_per_mm"))
        places = list(bench(app).sheet.grid.places)
        await pilot.press("ctrl+end")
        assert bench(app).sheet.at == places[-1]
        await pilot.press("tab")
        assert bench(app).sheet.at == places[0]
        await pilot.press("shift+tab")
        assert bench(app).sheet.at == places[-1]
        await pilot.press("ctrl+home")
        assert bench(app).sheet.at == places[0]
        await pilot.press("pagedown")
        below = bench(app).sheet.at
        assert below not in (None, places[0])
        await pilot.press("pageup")
        assert bench(app).sheet.at == places[0]
        assert on_disk(app).front == FULL.front


async def test_a_choice_is_stepped_both_ways_and_letters_do_it_no_harm(tmp_path: Path) -> None:
    app = app_on(tmp_path, FULL)
    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, app, ("front", "left", "adjuster", "counting"))
        await typed(pilot, "x9")
        assert on_disk(app).front.left.adjuster.counting == "turns"
        await pilot.press("plus")
        assert on_disk(app).front.left.adjuster.counting == "clicks"
        await pilot.press("minus")
        assert on_disk(app).front.left.adjuster.counting == "turns"
        await pilot.press("right", "left", "tab", "up")
        assert bench(app).sheet.at == ("front", "left", "adjuster", "counting")


async def test_adjusters_counted_otherwise_ask_for_what_that_way_of_counting_needs(tmp_path: Path) -> None:
    """Rings and mm are read at both ends; where there is no adjuster nothing of it is asked."""
    app = app_on(tmp_path, FULL, "rear")
    counting = ("rear", "collar", "counting")
    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, app, counting)
        assert ("rear", "collar", "reading_out") not in bench(app).sheet.grid
        await pilot.press("plus")
        assert on_disk(app).rear.collar.counting == "clicks"
        clicked = ("rear", "collar", "total_clicks")
        assert clicked in bench(app).sheet.grid
        assert ("rear", "collar", "pitch_mm") not in bench(app).sheet.grid
        bench(app).go_to(clicked)
        await typed(pilot, "20")
        bench(app).go_to(("rear", "collar", "now"))
        await typed(pilot, "4")
        await at_rest(pilot)
        assert re.search(r"clicks +16\b", shown(app)), shown(app)
        bench(app).go_to(counting)
        await pilot.press("plus")
        assert on_disk(app).rear.collar.counting == "rings"
        assert ("rear", "collar", "reading_out") in bench(app).sheet.grid
        await pilot.press("plus", "plus")
        assert on_disk(app).rear.collar.counting == "none"
        assert [path for path in bench(app).sheet.grid.places if path[:2] == ("rear", "collar")] == [counting]
        await pilot.press("ctrl+t")
        await at_rest(pilot)
        assert ("rear", "collar", "now") not in bench(app).sheet.grid


async def test_a_top_out_spring_of_the_shock_is_asked_for_once_there_is_one(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "rear")
    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, app, ("rear", "top_out", "fitted"))
        while on_disk(app).rear.top_out.fitted != "yes":
            await pilot.press("plus")
        assert ("rear", "top_out", "rate_n_per_mm") in bench(app).sheet.grid


async def test_a_fork_sprung_by_air_asks_for_no_spring(tmp_path: Path) -> None:
    job = split(FULL)
    bare = replace(job.front.left, spring_fitted=False)
    job = replace(job, front=replace(job.front, left=bare, right=bare))
    app = app_on(tmp_path, job)
    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, app, FORK_HEIGHT)
        asked = {path[2] for path in bench(app).sheet.grid.places if path[:2] == ("front", "left")}
        assert "spring_fitted" in asked
        assert asked.isdisjoint({"spring", "adjuster", "stack"})


# --- nothing to move in ------------------------------------------------------------------------------------------------


async def test_before_the_first_run_the_keys_of_a_sheet_do_nothing(tmp_path: Path) -> None:
    job = replace(complete_job(), runs=())
    app = app_on(tmp_path, job, "runs")
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        moving = ("up", "down", "left", "right", "tab", "shift+tab", "pageup", "pagedown", "ctrl+home", "ctrl+end")
        for key in (*moving, "enter", "plus", "minus", "space", "9", "x", "ctrl+a", "ctrl+r", "ctrl+d"):
            await pilot.press(key)
        assert "NO RUN YET" in shown(app)
        assert on_disk(app).runs == ()


# --- paste and long texts ----------------------------------------------------------------------------------------------


def pasted(app: StanchionApp, text: str) -> None:
    """What a terminal delivers when somebody pastes."""
    app.post_message(events.Paste(text))


async def test_of_a_paste_the_first_line_is_taken_into_the_field_in_hand_and_made_harmless(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, app, FORK_HEIGHT)
        pasted(app, "12,5\n33")
        await at_rest(pilot)
        assert on_disk(app).front.fork_height_mm == 12.5
        assert bench(app).sheet.at == FORK_HEIGHT
        pasted(app, "")
        await at_rest(pilot)
        assert on_disk(app).front.fork_height_mm == 12.5
        await pilot.press("f2")
        await at(pilot, app, ("job", "machine"))
        pasted(app, "Grey\x1b[31m Mule\u202e\x00")
        await at_rest(pilot)
        machine = on_disk(app).job.machine
        assert machine.startswith("Grey")
        assert machine.isprintable()


async def test_pairs_pasted_as_lines_or_by_the_name_of_a_file_fill_their_list(tmp_path: Path) -> None:
    file = tmp_path / "bench.csv"
    file.write_text("length;force\n230,5;180\n210;370\n190;560\n", "utf-8")
    at_tester = ("front", "left", "spring", "coils", "tester")
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at(pilot, app, (*at_tester, 0, "length_mm"))
        pasted(app, "20\t190\n40\t380\n")
        await eventually(
            pilot, lambda: "enter the free length first" in " ".join(shown(app).split()), lambda: shown(app)
        )
        assert on_disk(app).front.left.spring.coils.tester == ()
        pasted(app, f"'{file}'")
        taken = "bench.csv: 3 pairs taken, 1 heading skipped."
        await eventually(pilot, lambda: taken in " ".join(shown(app).split()), lambda: shown(app))
        assert len(on_disk(app).front.left.spring.coils.tester) == 3


def notes_in(app: StanchionApp) -> str:
    return on_disk(app).job.notes


async def with_notes(pilot: Pilot[int], app: StanchionApp) -> None:
    await pilot.press("f2")
    await at(pilot, app, ("job", "notes"))


@pytest.mark.parametrize("key", ["enter", "space", "plus"])
async def test_a_field_of_several_lines_opens_with_the_keys_that_mean_more_of_it(tmp_path: Path, key: str) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        await with_notes(pilot, app)
        await pilot.press(key)
        await at_rest(pilot)
        assert isinstance(app.screen, WriteText)
        await typed(pilot, "oil\nfresh")
        await pilot.press("escape")
        await at_rest(pilot)
        assert notes_in(app) == "oil\nfresh"


async def test_letters_typed_faster_than_the_room_for_them_opens_all_get_there(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        await with_notes(pilot, app)
        for letter in "fresh oil":
            app.post_message(events.Key("space" if letter == " " else letter, letter))
        await at_rest(pilot)
        await pilot.press("escape")
        await at_rest(pilot)
        assert notes_in(app) == "fresh oil"


async def test_a_text_that_is_too_long_stays_to_be_shortened_and_nothing_of_it_is_lost(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        await with_notes(pilot, app)
        await pilot.press("enter")
        await at_rest(pilot)
        pasted(app, "a" * 2100)
        await at_rest(pilot)
        await pilot.press("escape")
        await at_rest(pilot)
        assert isinstance(app.screen, WriteText)
        assert "2100 characters: shorten it to 2000, then Esc" in shown(app)
        for _ in range(101):
            app.post_message(events.Key("backspace", None))
        await at_rest(pilot)
        await pilot.press("escape")
        await at_rest(pilot)
        assert notes_in(app) == "a" * 1999


# --- faster than the screen --------------------------------------------------------------------------------------------

KEYS_OF_A_SHEET = ("8", "5", "full_stop", "enter", "down", "up", "tab", "shift+tab", "left", "right", "plus", "minus")
FAR = ("pagedown", "pageup", "ctrl+home", "ctrl+end")
AS_DELIVERED = {"full_stop": ".", "plus": "+", "minus": "-"}


async def filled(folder: Path, screen: str, keys: list[str], *, at_once: bool) -> tuple[Job, object]:
    """The job and the field in hand after these keys, pressed one by one or all before the screen has seen any."""
    app = app_on(folder, split(FULL), screen)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        for key in keys:
            if at_once:
                app.post_message(
                    events.Key(key, AS_DELIVERED.get(key, key) if len(key) == 1 or key in AS_DELIVERED else None)
                )
            else:
                await pilot.press(key)
        for _ in range(4):
            await at_rest(pilot)
        job = on_disk(app)
        return replace(job, job=replace(job.job, id="")), bench(app).sheet.at


@pytest.mark.parametrize("screen", ["front", "rear"])
@pytest.mark.parametrize("seed", range(2))
async def test_keys_that_come_all_at_once_do_what_they_do_one_by_one(tmp_path: Path, screen: str, seed: int) -> None:
    """The focus follows a moment after the field in hand has changed from one that is chosen to one that is typed."""
    chance = random.Random(f"{screen} {seed}")
    keys = chance.choices(KEYS_OF_A_SHEET + FAR, [4, 4, 1, 6, 2, 1, 2, 1, 1, 1, 2, 2, 1, 1, 1, 1], k=50)
    one_by_one = await filled(tmp_path / "slow", screen, keys, at_once=False)
    assert await filled(tmp_path / "fast", screen, keys, at_once=True) == one_by_one
