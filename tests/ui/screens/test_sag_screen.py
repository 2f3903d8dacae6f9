"""The sag screen's own command, by keys alone."""

from __future__ import annotations

from pathlib import Path

from driving import USUAL, a_job, app_on, on_disk, said, shown
from stanchion.job.model import Readings
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.ui.present import finding_lines
from stanchion.units.known_units import METRIC
from timing import at_rest

FAR = {"path": ("runs", 0, "front_marker_mm"), "used_mm": 140.0, "available_mm": 120.0}


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


async def test_a_reading_rounded_to_its_cell_is_marked_and_whole_on_the_current_field(tmp_path: Path) -> None:
    fine = a_job(("sag.front.static.down_mm", (117.25, 122.0)), ("sag.front.static.up_mm", (127.5, 127.0)))
    app = app_on(tmp_path, fine, "sag")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert "117.2…122 " in shown(app)
        assert "127.5 127 " in shown(app)
        await pilot.press("down")
        await at_rest(pilot)
        assert "117.2…" not in shown(app)
        assert on_disk(app).sag.front.static.down_mm == (117.25, 122.0)


def test_a_fault_without_room_for_all_of_it_is_begun_and_not_left_at_its_headline() -> None:
    fault = Finding("marker_beyond_travel", Severity.FAULT, ("runs", 0, "front_marker_mm"), FAR)
    note = Finding("topped_out", Severity.NOTE, ("sag", "rear", "static"))
    whole = [line.plain for line in finding_lines([fault], METRIC, 60, 9, "F6")]
    assert len(whole) == 3
    cut = [line.plain for line in finding_lines([fault, note], METRIC, 60, 3, "F6")]
    assert cut[:2] == whole[:2]
    assert cut[2].rstrip().endswith("+1 more: F6")
    assert cut[2].strip().startswith(whole[2].strip()[:20])
    assert all(len(line) <= 60 for line in cut)
    short = [line.plain for line in finding_lines([fault, note], METRIC, 60, 2, "F6")]
    assert short[0] == whole[0]
    assert "…" in short[1]
