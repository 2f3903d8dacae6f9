"""A spacer changed under a set length that was read with the old one."""

from __future__ import annotations

from pathlib import Path

from desks import USUAL, a_job, app_on, bench, said, typed

STACK = ("front", "left", "stack")
READ = (
    ("front.left.spring.rate_n_per_mm", 9.5),
    ("front.left.spring.free_length_mm", 250.0),
    ("front.left.spring.set_length_mm", 238.0),
)


async def test_another_spacer_asks_for_the_set_length_to_be_measured_again(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(*READ, ("front.left.stack.spacer_mm", 96.0), ("front.left.stack.washers_mm", (1.5,))))
    async with app.run_test(size=USUAL) as pilot:
        await pilot.pause(0.3)
        bench(app).go_to((*STACK, "spacer_mm"))
        await pilot.pause(0.1)
        assert said(app) == ""
        await typed(pilot, "100\n")
        await pilot.pause(0.1)
        assert "The spacer stack is 101.5 mm now and was 97.5 mm: measure the set length again" in said(app)


async def test_a_spacer_first_entered_or_read_anew_with_its_set_length_asks_for_nothing(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(*READ))
    async with app.run_test(size=USUAL) as pilot:
        await pilot.pause(0.3)
        bench(app).go_to((*STACK, "spacer_mm"))
        await typed(pilot, "96\n")
        await pilot.pause(0.1)
        assert said(app) == ""
        bench(app).go_to(("front", "left", "spring", "set_length_mm"))
        await typed(pilot, "237\n")
        await pilot.pause(0.1)
        assert said(app) == ""
