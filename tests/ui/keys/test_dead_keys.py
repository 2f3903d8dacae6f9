"""Every key that does nothing where it is pressed says what to do instead, and messages do not pile up."""

from __future__ import annotations

from pathlib import Path

import pytest

from complete_job import complete_job
from driving import USUAL, a_job, all_taken, app_on, bench, said, shown, typed
from judgement_jobs import put
from stanchion.job.model import Torque
from stanchion.ui.messages import MOST_SHOWN
from timing import at_rest

RATE = ("front", "left", "spring", "rate_n_per_mm")
COUNTING = ("front", "left", "adjuster", "counting")


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("f2", "No job is open."),
        ("f5", "No job is open."),
        ("ctrl+p", "No job is open."),
        ("f8", "There is no job here to start the next one from."),
        ("ctrl+k", "Open a job first"),
        ("ctrl+d", "No job is chosen"),
        ("ctrl+a", "^A does nothing here."),
        ("ctrl+r", "^R does nothing here."),
    ],
)
async def test_in_an_empty_folder(tmp_path: Path, key: str, words: str) -> None:
    app = app_on(tmp_path)
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press(key)
        await all_taken(app)
        assert words in said(app)


async def test_on_a_screen_of_a_job_it_names_the_screens_where_the_key_works(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "upkeep")
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+a")
        await all_taken(app)
        assert "^A does nothing here. On Machine, Front end" in said(app)
        for _ in range(3):
            await pilot.press("ctrl+a", "ctrl+k")
        await all_taken(app)
        assert said(app).count("^A does nothing here") == 1
        assert said(app).count("^K does nothing here") == 1
        for number in range(5):
            app.say(f"Message {number}.")
        assert len(app._notifications) == MOST_SHOWN
        assert [note.message for note in app._notifications][-1] == "Message 4."


async def test_letters_typed_into_a_choice_choose_or_say_that_it_is_one(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "front")
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        app.jump(COUNTING)
        await all_taken(app)
        await typed(pilot, "mm")
        await all_taken(app)
        assert app.session is not None
        assert app.session.job.front.left.adjuster.counting == "mm"
        await typed(pilot, "95")
        await all_taken(app)
        assert said(app).startswith("'5' matches none of the words of this field.")  # of two such, only the newest
        assert "turns" in said(app)
        assert app.session.job.front.left.adjuster.counting == "mm"
        await typed(pilot, "R")
        await all_taken(app)
        assert app.session.job.front.left.adjuster.counting == "rings"
        await pilot.press("ctrl+z")
        await all_taken(app)
        assert app.session.job.front.left.adjuster.counting == "mm"


async def test_undo_of_unread_text_says_so_and_redo_brings_it_back(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(("front.left.spring.rate_n_per_mm", 9.5)), "front")
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        app.jump(RATE)
        await typed(pilot, "9.5.3")
        await all_taken(app)
        assert app.session is not None
        assert app.session.unread == {RATE: "9.5.3"}
        await pilot.press("ctrl+z")
        await all_taken(app)
        assert not app.session.unread
        assert "Undo: '9.5.3', which was not read, is dropped. ^Y brings it back." in said(app)
        await pilot.press("ctrl+y")
        await all_taken(app)
        assert app.session.unread == {RATE: "9.5.3"}
        assert "9.5.3" in shown(app)
        await pilot.press("ctrl+t", "f6")  # on the screen of a trial the list has it too
        await all_taken(app)
        assert "NOT READ" in shown(app)


async def test_unread_text_is_marked_inside_its_cell(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "sag")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert app.session is not None
        sheet = bench(app).sheet
        await typed(pilot, "1o2")
        await pilot.press("tab")
        await all_taken(app)
        line = next(line for line in shown(app).splitlines() if "1o2" in line)
        assert line.partition("1o2")[2].lstrip(" ")[:2] == "! ", line
        assert sheet.at is not None


async def test_a_torque_without_a_value_is_not_ticked_but_asked_for(tmp_path: Path) -> None:
    job = put(complete_job(), upkeep__torques=(Torque(what="axle nut"), Torque(what="top yoke", torque_nm=23.0)))
    app = app_on(tmp_path, job, "upkeep")
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("f7")
        await all_taken(app)
        assert app.session is not None
        assert [torque.done for torque in app.session.job.upkeep.torques] == [False, False]
        assert "Not ticked: axle nut has no torque yet." in said(app)
        await typed(pilot, "60")
        await pilot.press("f7", "f7")
        await all_taken(app)
        assert [(one.done, one.torque_nm) for one in app.session.job.upkeep.torques] == [(True, 60), (True, 23)]
