"""The sag screen's own command, by keys alone."""

from __future__ import annotations

from pathlib import Path

from driving import USUAL, a_job, app_on, on_disk, said
from stanchion.job.model import Readings
from timing import at_rest


async def test_one_key_swaps_the_readings_of_the_state_in_hand(tmp_path: Path) -> None:
    mixed_up = a_job(("sag.front.static.down_mm", (132.0,)), ("sag.front.static.up_mm", (127.0,)))
    app = app_on(tmp_path, mixed_up, "sag")
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        assert "Go to a pushed-down or lifted-up reading first" in said(app)
        await pilot.press("down", "f7")
        await at_rest(pilot)
        assert on_disk(app).sag.front.static == Readings(down_mm=(127.0,), up_mm=(132.0,))
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        assert on_disk(app).sag.front.static == mixed_up.sag.front.static
