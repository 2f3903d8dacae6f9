"""Inches, kg/mm and pounds on a screen of eighty columns: nothing that matters is cut or pushed to another line."""

from __future__ import annotations

from pathlib import Path

from driving import app_on, on_disk, said, shown, typed
from judgement_jobs import put
from stanchion.job.codec import loads
from stanchion.job.spec import Kind
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.store.samples import samples
from stanchion.units.known_units import Units
from stanchion.units.quantity import show, unit_name
from stanchion.wording.finding_words import sentence
from timing import at_rest

SOFT = next(loads(sample.data).job for sample in samples() if sample.name == "soft_springs")


async def test_sag_preload_and_springs_are_whole_in_inches_and_pounds(tmp_path: Path) -> None:
    app = app_on(tmp_path, SOFT, "sag")
    async with app.run_test(size=(80, 24)) as pilot:
        await at_rest(pilot)
        for letter, words in (("i", "Lengths in in."), ("7", "Masses in lb."), ("k", "Rates in kg/mm.")):
            await pilot.press("escape")
            await typed(pilot, letter)
            assert words in said(app)
        await pilot.press("down")
        await at_rest(pilot)
        lines = [line.partition("▏")[2].strip() for line in shown(app).splitlines()]
        assert "target  0.59–0.98    1.10–1.50" in lines
        assert "verdict BELOW ±0.033 ok ±0.032" in lines
        assert "verdict edge? ±0.033 ok ±0.033" in lines
        assert sum(line.startswith("0├") for line in lines) == 2, "both ends have their scale"
        await pilot.press("f3")
        await at_rest(pilot)
        screen = shown(app)
        assert "Combined rate 1.632 kg/mm" in screen
        assert "50.4 lbf" in screen
        await pilot.press("ctrl+g")
        await at_rest(pilot)
        head = shown(app).partition("kg/mm         static")[0]
        assert "…" not in head.partition("F9 Jobs")[2]
        assert "with 0.453 in installed" in " ".join(head.split())
        assert on_disk(app).front.left.spring.rate_n_per_mm == 8.0


def test_forces_are_pounds_where_loads_are() -> None:
    pounds = Units(masses="lb")
    assert unit_name(Kind.FORCE, pounds) == "lbf"
    assert show(100.0, Kind.FORCE, pounds) == "22.5 lbf"  # 100 N / 4.4482216 N (NIST SP 811)
    assert show(100.0, Kind.FORCE, Units()) == "100 N"


def test_torques_are_named_whole_and_then_counted() -> None:
    names = ("Axle pinch bolts, both sides", "Top yoke bolts", "Fork caps", "Shock top bolt", "Shock bottom bolt, nut")
    long = (*names, "Linkage bolts to the frame, all three", "Brake caliper bolts, left and right")
    few, many = (
        sentence(Finding("torques_open", Severity.WARNING, ("upkeep",), {"count": len(of), "names": of}))
        for of in (names[:3], long)
    )
    assert "Axle pinch bolts, both sides, Top yoke bolts, Fork caps. Tighten" in few
    assert "…" not in many
    assert "Shock top bolt, Shock bottom bolt, nut and 2 more. Tighten" in many


async def test_a_list_of_changes_that_is_longer_than_its_room_is_read_page_by_page(tmp_path: Path) -> None:
    job = put(SOFT, front__left__spring__rate_n_per_mm=9.5, front__fork_height_mm=9.0, front__left__rebound__now=4.0)
    job = put(job, rear__rebound__now=4.0, rear__low_speed_compression__now=4.0, rear__collar__now=1.0)
    job = put(job, front__left__compression__now=2.0, front__left__air_gap_mm=150.0, rear__length_adjuster_mm=3.0)
    app = app_on(tmp_path, job, "runs")
    async with app.run_test(size=(80, 24)) as pilot:
        await at_rest(pilot)
        assert "lines more: ^Down" in shown(app)
        assert "Shock length adjuster" not in shown(app)
        await pilot.press("ctrl+down")
        await at_rest(pilot)
        assert "Shock length adjuster" in shown(app)
        await pilot.press("ctrl+up")
        await at_rest(pilot)
        assert "TRAVEL USED" in shown(app)
