"""Keys that come all at once, as over a slow line: each goes where it would have gone one by one."""

from __future__ import annotations

import asyncio
import os
import random
import zlib
from pathlib import Path

import pytest
from textual.message import Message
from textual.message_pump import MessagePump

from driving import USUAL, a_job, all_taken, app_on, burst, shown
from stanchion.ui.app import StanchionApp
from stanchion.ui.widgets.choices import Filter

JOB = a_job(("front.travel_mm", 120.0), ("front.left.spring.rate_n_per_mm", 9.5), machine="Grey Mule")


ORDERS = int(os.environ.get("STANCHION_ORDERS", "1"))
"""In so many orders the widgets have their turn, beside the usual one."""


@pytest.fixture(autouse=True, params=range(ORDERS + 1))
def order(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let every widget, screen and the application wait at random before each message, as on a machine with much to do."""
    if not request.param:
        return
    dice = random.Random(zlib.crc32(f"{request.param} {request.node.originalname}".encode()))
    dispatch = MessagePump._dispatch_message

    async def late(self: MessagePump, message: Message) -> None:
        if dice.random() < 0.5:
            for _ in range(dice.choice((1, 2, 3, 10, 40))):
                await asyncio.sleep(0)
        await dispatch(self, message)

    monkeypatch.setattr(MessagePump, "_dispatch_message", late)


@pytest.mark.parametrize("known", [False, True], ids=["screens not yet built", "screens shown before"])
async def test_digits_after_the_key_of_another_screen_go_there(tmp_path: Path, known: bool) -> None:
    app = app_on(tmp_path, JOB, "front")
    async with app.run_test(size=USUAL) as pilot:
        await all_taken(app)
        if known:
            await pilot.press("f4", "f5", "f3")
            await all_taken(app)
        burst(app, "f5 1 4 2 enter f4 8 5")
        await all_taken(app)
        assert app.session is not None
        job = app.session.job
        assert job.front == JOB.front
        assert job.sag.front.hanging_mm == (142.0,)
        assert job.rear.spring.rate_n_per_mm == 85.0
        assert app.current_mode == "rear"


@pytest.mark.parametrize("known", [False, True], ids=["screens not yet built", "screens shown before"])
async def test_what_is_typed_after_a_new_job_was_begun_goes_into_it(tmp_path: Path, known: bool) -> None:
    app = app_on(tmp_path, JOB, "machine")
    async with app.run_test(size=USUAL) as pilot:
        await all_taken(app)
        if known:
            await pilot.press("f5", "f2")
            await all_taken(app)
        old = app.session
        burst(app, "f8 f8 1 4 2 enter f2 N e w")
        await all_taken(app)
        assert app.session is not None
        assert app.session is not old
        assert app.session.job.sag.front.hanging_mm == (142.0,)
        assert app.session.job.job.machine == "New"
        assert old is not None
        assert old.job.job.machine == "Grey Mule"
        assert old.job.sag == JOB.sag


async def test_a_command_is_obeyed_after_the_digits_before_it_and_before_those_after_it(tmp_path: Path) -> None:
    app = app_on(tmp_path, JOB, "front")
    async with app.run_test(size=USUAL) as pilot:
        await all_taken(app)
        burst(app, "enter 2 5 0 enter 2 3 8 ctrl+z 2 3 7 enter")
        await all_taken(app)
        assert app.session is not None
        spring = app.session.job.front.left.spring
        assert (spring.free_length_mm, spring.set_length_mm) == (250.0, 237.0)
        await pilot.press("ctrl+z", "ctrl+z")
        spring = app.session.job.front.left.spring
        assert (spring.free_length_mm, spring.set_length_mm) == (None, None)


async def test_digits_before_a_new_job_is_begun_stay_in_the_old_one(tmp_path: Path) -> None:
    app = app_on(tmp_path, JOB, "front")
    async with app.run_test(size=USUAL):
        await all_taken(app)
        old = app.session
        burst(app, "enter 2 5 0 f8 f8 1 4 2 enter")
        await all_taken(app)
        assert app.session is not None
        assert old is not None
        assert old.job.front.left.spring.free_length_mm == 250.0
        assert app.session.job.front.left.spring.free_length_mm == 250.0  # it was carried along
        assert app.session.job.sag.front.hanging_mm == (142.0,)
        assert old.job.sag == JOB.sag


def two_jobs(folder: Path) -> StanchionApp:
    """The program with Grey Mule open, Red Heron and Red Herring in the list."""
    for name, rate in (("Red Herring", 8.0), ("Red Heron", 9.0)):
        app_on(folder, a_job(("front.left.spring.rate_n_per_mm", rate), machine=name)).workspace.close()
    return app_on(folder, JOB, "front")


async def test_enter_on_the_list_opens_what_the_letters_before_it_leave(tmp_path: Path) -> None:
    app = two_jobs(tmp_path)
    async with app.run_test(size=USUAL) as pilot:
        await all_taken(app)
        await pilot.press("f9")
        await all_taken(app)
        burst(app, "h e r o n enter f3 9 full_stop 2")
        await all_taken(app)
        assert app.session is not None
        assert app.session.job.job.machine == "Red Heron"
        assert app.session.job.front.left.spring.rate_n_per_mm == 9.2


async def test_enter_waits_until_the_list_is_filtered_by_the_last_letter(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the filter is slow to take a letter, Enter comes before the message that the letter has changed it."""
    app = two_jobs(tmp_path)
    dispatch = MessagePump._dispatch_message

    async def slowly(self: MessagePump, message: Message) -> None:
        if isinstance(self, Filter):
            for _ in range(40):
                await asyncio.sleep(0)
        await dispatch(self, message)

    async with app.run_test(size=USUAL) as pilot:
        await all_taken(app)
        await pilot.press("f9")
        await all_taken(app)
        monkeypatch.setattr(MessagePump, "_dispatch_message", slowly)
        burst(app, "h e r o n enter")
        await all_taken(app)
        assert app.session is not None
        assert app.session.job.job.machine == "Red Heron"


async def test_what_is_typed_after_a_listed_job_was_carried_forward_goes_into_the_new_one(tmp_path: Path) -> None:
    app = two_jobs(tmp_path)
    async with app.run_test(size=USUAL) as pilot:
        await all_taken(app)
        await pilot.press("f9")
        await all_taken(app)
        burst(app, "h e r r i n g f8 f8 1 4 2 enter")
        await all_taken(app)
        assert app.session is not None
        assert app.session.job.job.machine == "Red Herring"
        assert app.session.job.sag.front.hanging_mm == (142.0,)


async def test_digits_after_the_letter_of_a_command_go_where_it_leads(tmp_path: Path) -> None:
    app = app_on(tmp_path, JOB, "front")
    async with app.run_test(size=USUAL) as pilot:
        await all_taken(app)
        await pilot.press("escape")
        await all_taken(app)
        burst(app, "s 1 4 2 enter")
        await all_taken(app)
        assert app.session is not None
        assert app.session.job.front == JOB.front
        assert app.session.job.sag.front.hanging_mm == (142.0,)


@pytest.mark.parametrize("keys", ["f9 h e r o n enter f3 9 full_stop 2", "f9 h e r o n f8 f8 f3 9 full_stop 2"])
async def test_letters_and_enter_on_a_list_that_is_still_being_read_wait_for_it(tmp_path: Path, keys: str) -> None:
    app = two_jobs(tmp_path)
    async with app.run_test(size=USUAL):
        await all_taken(app)
        before = len(list((tmp_path / "jobs").glob("*.toml")))
        burst(app, keys)
        await all_taken(app)
        assert app.session is not None
        assert app.session.job.job.machine == "Red Heron"
        assert app.session.job.front.left.spring.rate_n_per_mm == 9.2
        assert app.workspace.flush()
        assert len(list((tmp_path / "jobs").glob("*.toml"))) == before + ("f8" in keys)


async def test_a_new_job_is_filled_from_its_first_field_wherever_the_cursor_was(tmp_path: Path) -> None:
    app = app_on(tmp_path, JOB, "front")
    async with app.run_test(size=USUAL) as pilot:
        await all_taken(app)
        await pilot.press("enter", "enter", "enter", "ctrl+n")
        await all_taken(app)
        burst(app, "N e w enter R enter V enter enter enter 8 full_stop 5 enter")
        await all_taken(app)
        assert app.session is not None
        assert (app.session.job.job.machine, app.session.job.job.rider) == ("New", "R")
        assert app.session.job.front.left.spring.rate_n_per_mm == 8.5


async def test_what_is_typed_goes_on_where_the_screen_is_shown_anew_meanwhile(tmp_path: Path) -> None:
    app = app_on(tmp_path, JOB, "front")
    async with app.run_test(size=USUAL) as pilot:
        await all_taken(app)
        await pilot.press("8")
        app.refresh_screens()  # as after a late word that a dialog was left, or after saving
        await pilot.press("full_stop", "5", "enter")
        await all_taken(app)
        assert app.session is not None
        assert app.session.job.front.left.spring.rate_n_per_mm == 8.5


async def test_what_is_typed_before_a_dialog_is_replaced_after_it(tmp_path: Path) -> None:
    app = app_on(tmp_path, JOB, "front")
    async with app.run_test(size=USUAL) as pilot:
        await all_taken(app)
        burst(app, "8 f6")
        await all_taken(app)
        await pilot.press("escape")
        burst(app, "7 full_stop 5 enter")
        await all_taken(app)
        assert app.session is not None
        assert app.session.job.front.left.spring.rate_n_per_mm == 7.5


async def test_a_dialog_left_and_entered_amid_a_burst_loses_nothing(tmp_path: Path) -> None:
    app = app_on(tmp_path, JOB, "front")
    async with app.run_test(size=USUAL):
        await all_taken(app)
        burst(app, "f4 8 5 enter f6 escape 1 6 5 enter f3 f4 f5 f3 8 full_stop 5 enter escape s 1 4 2 enter")
        await all_taken(app)
        assert app.session is not None
        job = app.session.job
        assert job.rear.spring.rate_n_per_mm == 85.0
        assert job.rear.spring.free_length_mm == 165.0
        assert job.front.left.spring.rate_n_per_mm == 8.5
        assert job.sag.front.hanging_mm == (142.0,)


async def test_a_command_in_a_dialog_means_nothing_later(tmp_path: Path) -> None:
    app = app_on(tmp_path, JOB, "machine")
    async with app.run_test(size=USUAL) as pilot:
        await all_taken(app)
        await pilot.press("ctrl+n")
        await all_taken(app)
        burst(app, "N e w f5 ctrl+n 9 full_stop 5 enter 2 5 0 enter")
        await all_taken(app)
        assert app.current_mode == "front"
        assert app.session is not None
        spring = app.session.job.front.left.spring
        assert (spring.rate_n_per_mm, spring.free_length_mm) == (9.5, 250.0)


async def test_where_there_is_little_room_what_is_typed_goes_where_it_is_seen_to_go(tmp_path: Path) -> None:
    app = app_on(tmp_path, JOB, "front")
    async with app.run_test(size=USUAL) as pilot:
        await all_taken(app)
        assert app.session is not None
        await pilot.resize_terminal(40, 10)
        await all_taken(app)
        await pilot.press("8", "enter", "2", "5", "1")
        await all_taken(app)
        assert "free length: 251 mm" in shown(app)
        await pilot.resize_terminal(*USUAL)
        await all_taken(app)
        spring = app.session.job.front.left.spring
        assert (spring.rate_n_per_mm, spring.free_length_mm) == (8.0, 251.0)
        await pilot.press("f4", "8", "5", "enter")
        assert app.session.job.rear.spring.rate_n_per_mm == 85.0


async def test_fields_chosen_and_fields_typed_in_turn_each_get_their_own_key(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "front")
    async with app.run_test(size=USUAL):
        await all_taken(app)
        gaps = random.Random(4)
        # two fields that are chosen lie between the set length fully in and the turns
        keys = "9 full_stop 5 enter 2 5 0 enter 2 3 8 enter enter 2 3 0 enter enter enter 8 enter 4 enter"
        for key in keys.split():
            burst(app, key)
            for _ in range(gaps.choice((0, 1, 5, 20, 60))):  # the focus moves while some keys are still waiting
                await asyncio.sleep(0)
        await all_taken(app)
        assert app.session is not None
        leg = app.session.job.front.left
        assert (leg.spring.rate_n_per_mm, leg.spring.set_length_mm, leg.spring.set_length_in_mm) == (9.5, 238.0, 230.0)
        assert (leg.adjuster.total_turns, leg.adjuster.now) == (8.0, 4.0)
