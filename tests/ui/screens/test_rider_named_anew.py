"""Another name of the rider on F2 is asked about, where scales or sags were read with the rider aboard."""

from __future__ import annotations

from pathlib import Path

from driving import USUAL, a_job, app_on, on_disk, said, shown, typed
from timing import at_rest, eventually

WEIGHED = a_job(
    ("job.rider_mass_kg", 82.0),
    ("weights.front_aboard_kg", 120.0),
    ("sag.front.hanging_mm", (142.0,)),
    ("sag.front.rider.down_mm", (106.5,)),
    ("sag.front.rider.up_mm", (112.0,)),
    ("sag.front.static.down_mm", (124.0,)),
)


async def test_a_corrected_name_keeps_the_readings_and_another_rider_clears_them_in_one_step(tmp_path: Path) -> None:
    app = app_on(tmp_path, WEIGHED, "machine")
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        before = on_disk(app)
        await pilot.press("down")
        await typed(pilot, "b. t. \n")  # spelt otherwise
        await at_rest(pilot)
        assert "another rider" not in shown(app)
        await pilot.press("up")
        await typed(pilot, "B. Tarn\n")
        await eventually(pilot, lambda: "Is B. Tarn another rider than b. t." in shown(app), lambda: shown(app))
        await pilot.press("enter")
        await at_rest(pilot)
        assert (on_disk(app).sag, on_disk(app).weights) == (before.sag, before.weights)
        await pilot.press("up")
        await typed(pilot, "N. N.")
        await pilot.press("f5")  # left by another way
        await eventually(pilot, lambda: "Is N. N. another rider than B. Tarn" in shown(app), lambda: shown(app))
        await pilot.press("down", "enter")
        await eventually(pilot, lambda: on_disk(app).weights.front_aboard_kg is None)
        after = on_disk(app)
        assert not after.sag.front.rider.down_mm
        assert after.sag.front.static == before.sag.front.static
        assert "brings them back. Rider in full gear stays 82.0 kg." in said(app)
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        assert on_disk(app).sag == before.sag
        assert on_disk(app).job.rider == "N. N."
