"""The linkage by points: reached from the rear shock, filled in by keys, its figures and plot beside the form."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

import make_samples
from driving import USUAL, WIDE, app_on, bench, on_disk, shown, typed
from judgement_jobs import judged, put
from points_jobs import PAIRS, by_coordinates, by_lengths, by_photograph, by_points
from stanchion.job.model import PointsRead
from stanchion.judgement.predict import points_figures
from stanchion.judgement.predict.points_figures import PointsFigures
from stanchion.report.linkage import linkage_text
from stanchion.ui.linkage_lines import linkage_pages, linkage_short, ratio_plot
from stanchion.ui.screens.linkage import LinkageScreen
from stanchion.units.known_units import METRIC
from timing import at_rest

UNREAD = put(make_samples.well_set(), rear__points=PointsRead(), swingarm__pivot_to_axle_mm=None)
UNUSED = put(by_points(), rear__points=replace(by_coordinates(), used="pairs"))


async def test_points_are_entered_by_keys_and_give_the_ratio_once_asked_for(tmp_path: Path) -> None:
    app = app_on(tmp_path, UNREAD, "rear")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert "F7 linkage" in shown(app).splitlines()[-1]
        await pilot.press("f7")
        await at_rest(pilot)
        assert isinstance(app.screen, LinkageScreen)
        assert "needs" in shown(app)
        bench(app).go_to(("swingarm", "pivot_to_axle_mm"))
        await typed(pilot, "550\n0\n")
        bench(app).go_to(("rear", "points", "shock_moved", "forward_mm"))
        await at_rest(pilot)
        assert "DO NOW" in shown(app)
        await typed(pilot, "-250\n0\n-150\n290\n")
        await at_rest(pilot)
        text = shown(app)
        assert "BY POINTS, mm" in text
        assert "Progression" in text
        assert judged(on_disk(app)).rear.motion_ratio.value == 0.5  # still the one number
        bench(app).go_to(("rear", "points", "used"))
        await pilot.press("space")
        await at_rest(pilot)
        assert on_disk(app).rear.points.used == "points"
        assert judged(on_disk(app)).rear.motion_ratio.value != 0.5


@pytest.mark.parametrize("points", [by_coordinates(), by_lengths(), by_photograph()])
def test_however_they_were_read_the_figures_are_the_same(points: PointsRead) -> None:
    job = by_points(points)
    found, usual = (points_figures.points_figures(one, judged(one)) for one in (job, by_points()))
    assert found.full.ratio.value == pytest.approx(usual.full.ratio.value or 0.0)
    assert found.progression_pct.value == pytest.approx(usual.progression_pct.value or 0.0)


def test_the_wheel_path_is_that_of_the_swingarm() -> None:
    found = points_figures.points_figures(by_points(), judged(by_points()))
    assert found.extended.back_mm.value == 0.0
    assert found.now.back_mm.value == pytest.approx(4.0, abs=0.1)


async def test_a_small_window_turns_to_the_plot_and_a_wide_one_shows_all(tmp_path: Path) -> None:
    app = app_on(tmp_path, by_points(rear__linkage=PAIRS), "linkage")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        text = shown(app)
        assert "0.454 0.479 0.507" in text
        assert "more: ^Down" in text
        await pilot.press("ctrl+down")
        await at_rest(pilot)
        assert "RATIO OVER TRAVEL" in shown(app)
    app = app_on(tmp_path, by_points(rear__linkage=PAIRS), "linkage")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        text = shown(app)
        assert "0.454 0.479 0.507" in text
        assert "MOTION RATIO OVER TRAVEL" in text
        assert "N: now, thick: measured pairs" in text
        assert "Pair at 90.0 mm: 44.0 mm, points 43.8 mm." in text


async def test_a_trial_of_another_link_is_one_number(tmp_path: Path) -> None:
    app = app_on(tmp_path, by_points(), "trial")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        bench(app).go_to(("rear", "link_mm"))
        await typed(pilot, "121\n")
        await at_rest(pilot)
        assert "Length of the link" in shown(app)


async def test_other_screens_work_nothing_of_it_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[object] = []
    found = points_figures.points_figures

    def counted(*args: object) -> PointsFigures:
        asked.append(args)
        return found(*args)  # type: ignore[arg-type]

    monkeypatch.setattr("stanchion.ui.screens.linkage.points_figures", counted)
    app = app_on(tmp_path, UNUSED, "rear")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert not asked
        await pilot.press("f7")
        await at_rest(pilot)
        assert asked


def test_no_line_is_wider_than_the_room_and_nothing_is_lost() -> None:
    job = by_points(rear__linkage=PAIRS)
    figures = points_figures.points_figures(job, judged(job))
    for width, height in ((33, 16), (50, 40)):
        pages = linkage_pages(job, figures, METRIC, width, height, at=None, plain=True)
        assert all(len(page) <= height for page in pages)
        assert all(len(line.plain) <= width for page in pages for line in page)
        text = " ".join(line.plain for page in pages for line in page)
        assert "not corrected for its lens" in text


def test_the_plot_has_both_ends_of_the_ratio() -> None:
    job = by_points()
    figures = points_figures.points_figures(job, judged(job))
    lines = [line.plain for line in ratio_plot(figures, METRIC, 30, plain=True)]
    assert lines[1] == "0.508"
    assert lines[-3] == "0.454"
    assert lines[-4].startswith("*")
    assert lines[-2].index("N") == round(17 * (figures.now.wheel_mm.value or 0.0) / (figures.ratios[-1][0]))


def test_without_wheel_travel_or_stroke_nothing_is_said_of_full_travel() -> None:
    job = by_points(rear__wheel_travel_mm=None, rear__stroke_mm=None)
    figures = points_figures.points_figures(job, judged(job))
    assert figures.full.wheel_mm.needs == (("rear", "wheel_travel_mm"),)
    assert figures.ratios == ()
    assert not figures.progression_pct.known
    (page,) = linkage_pages(job, figures, METRIC, 36, 20, at=None, plain=True)
    lines = [line.plain for line in page]
    assert lines[0].split() == ["BY", "POINTS,", "mm", "ext.", "now"]
    text = " ".join(lines)
    assert "Full travel needs wheel travel or shock stroke." in text
    assert "Progression" not in text
    short = [line.plain for line in linkage_short(figures, METRIC)]
    assert short[-1] == "Full travel needs wheel travel or shock stroke."
    assert "full travel 2" not in " ".join(linkage_text(job, judged(job), METRIC))
    by_stroke = by_points(rear__wheel_travel_mm=None)
    assert points_figures.points_figures(by_stroke, judged(by_stroke)).full.wheel_mm.known


async def test_the_next_missing_reading_is_gone_to_by_a_key(tmp_path: Path) -> None:
    app = app_on(tmp_path, UNREAD, "linkage")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        seen = []
        for _ in range(4):
            await pilot.press("ctrl+a")
            await at_rest(pilot)
            assert isinstance(app.screen, LinkageScreen)
            seen.append(bench(app).sheet.at)
        assert seen[0] == ("swingarm", "pivot_to_axle_mm")
        assert len(set(seen)) == len(seen)
        assert any(at is not None and at[:2] == ("rear", "points") for at in seen)
