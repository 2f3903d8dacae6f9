"""A spacer changed under a set length that was read with the old one."""

from __future__ import annotations

from pathlib import Path

import pytest

from driving import USUAL, a_job, all_taken, app_on, bench, burst, on_disk, said, shown, typed
from timing import at_rest, eventually

STALE = "set length was read with a spacer stack of 97.5 mm"
SAG_OLD = "sag read before a change"
STACK = ("front", "left", "stack")
READ = (
    ("front.left.spring.rate_n_per_mm", 9.5),
    ("front.left.spring.free_length_mm", 250.0),
    ("front.left.spring.set_length_mm", 238.0),
)


async def test_another_spacer_asks_for_the_set_length_to_be_measured_again(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(*READ, ("front.left.stack.spacer_mm", 96.0), ("front.left.stack.washers_mm", (1.5,))))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        bench(app).go_to((*STACK, "spacer_mm"))
        await at_rest(pilot)
        assert said(app) == ""
        await typed(pilot, "98\n")
        await at_rest(pilot)
        await eventually(pilot, lambda: STALE in shown(app), lambda: shown(app))
        assert QUESTION in shown(app)
        bench(app).go_to(("front", "left", "spring", "set_length_mm"))
        await typed(pilot, "237\n")
        await eventually(pilot, lambda: STALE not in shown(app), lambda: shown(app))


@pytest.mark.parametrize("keys", ["f3 {down} 9 8 enter", "{down} 9 8 enter enter"])
async def test_so_it_does_where_all_keys_come_at_once(tmp_path: Path, keys: str) -> None:
    job = a_job(*READ, ("front.left.stack.spacer_mm", 96.0), ("front.left.stack.washers_mm", (1.5,)))
    app = app_on(tmp_path, job, "machine" if keys.startswith("f3") else "front")
    async with app.run_test(size=USUAL) as pilot:
        await all_taken(app)
        burst(app, keys.format(down="enter " * 10))
        await all_taken(app)
        assert on_disk(app).front.left.stack.spacer_mm == 98.0
        await eventually(pilot, lambda: STALE in shown(app), lambda: shown(app))


async def test_a_spacer_that_had_been_measured_wrong_leaves_the_set_length_as_it_is(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(*READ, ("front.left.stack.spacer_mm", 96.0), ("front.left.stack.washers_mm", (1.5,))))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        bench(app).go_to((*STACK, "spacer_mm"))
        await typed(pilot, "98\n")
        await eventually(pilot, lambda: QUESTION in shown(app), lambda: shown(app))
        await pilot.press("ctrl+d")
        await eventually(pilot, lambda: STALE not in shown(app), lambda: shown(app))
        assert on_disk(app).upkeep.set_lengths_with.left_mm == 99.5


async def test_a_spacer_first_entered_or_read_anew_with_its_set_length_asks_for_nothing(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(*READ))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        bench(app).go_to((*STACK, "spacer_mm"))
        await typed(pilot, "96\n")
        await at_rest(pilot)
        assert STALE not in shown(app)
        bench(app).go_to(("front", "left", "spring", "set_length_mm"))
        await typed(pilot, "237\n")
        await at_rest(pilot)
        assert STALE not in shown(app)
        assert QUESTION not in shown(app)


SAG = (("sag.front.hanging_mm", (600.0,)), ("sag.front.rider.down_mm", (565.0,)), ("sag.front.rider.up_mm", (569.0,)))
STACKED = (*READ, ("front.left.stack.spacer_mm", 96.0), ("front.left.stack.washers_mm", (1.5,)), *SAG)
QUESTION = "Spacer: 96.0 → 98.0 mm. ^D if 96.0 was wrong; otherwise a part was changed"


async def test_after_sag_a_spacer_entered_anew_is_asked_about_once_and_answered_with_one_key(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(*STACKED), "front")
    async with app.run_test(size=USUAL) as pilot:
        await eventually(pilot, lambda: "SPACER STACK" in shown(app), lambda: shown(app))
        bench(app).go_to((*STACK, "spacer_mm"))
        await typed(pilot, "98\n")
        await eventually(pilot, lambda: QUESTION in shown(app), lambda: shown(app))
        assert said(app) == ""
        assert SAG_OLD in shown(app)
        await pilot.press("ctrl+d")
        await eventually(pilot, lambda: "Corrected: front sag and runs stay valid" in said(app), lambda: shown(app))
        await eventually(pilot, lambda: QUESTION not in shown(app), lambda: shown(app))
        assert on_disk(app).sag.front.rider.stacks_mm == (99.5, 99.5)
        assert SAG_OLD not in shown(app)
        await pilot.press("ctrl+z")
        await eventually(pilot, lambda: on_disk(app).sag.front.rider.stacks_mm == (97.5, 97.5), lambda: shown(app))
        assert on_disk(app).front.left.stack.spacer_mm == 98.0


async def test_the_answer_can_be_given_in_the_field_itself(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(*STACKED), "front")
    async with app.run_test(size=USUAL) as pilot:
        await eventually(pilot, lambda: "SPACER STACK" in shown(app), lambda: shown(app))
        bench(app).go_to((*STACK, "spacer_mm"))
        await typed(pilot, "98")
        await pilot.press("ctrl+d")
        await eventually(pilot, lambda: on_disk(app).sag.front.rider.stacks_mm == (99.5, 99.5), lambda: shown(app))


async def test_what_is_typed_on_is_taken_and_leaves_the_question_for_another_part(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(*STACKED), "front")
    async with app.run_test(size=USUAL) as pilot:
        await eventually(pilot, lambda: "SPACER STACK" in shown(app), lambda: shown(app))
        bench(app).go_to((*STACK, "spacer_mm"))
        await typed(pilot, "98\n")
        bench(app).go_to(("front", "left", "oil_volume_ml"))
        await typed(pilot, "500\n")
        await eventually(pilot, lambda: QUESTION not in shown(app), lambda: shown(app))
        assert STALE in shown(app)
        assert on_disk(app).front.left.oil_volume_ml == 500.0
        assert on_disk(app).sag.front.rider.stacks_mm == (97.5, 97.5)
        await pilot.press("ctrl+d")
        await eventually(pilot, lambda: "Nothing to correct" in said(app), lambda: said(app))
