"""The linkage by its points in check, JSON and the hand-over sheet."""

from __future__ import annotations

from judgement_jobs import judged, put
from points_jobs import LINK_MM, PAIRS, by_points
from stanchion.job.model import Job, PointsRead
from stanchion.report.json_data import JsonData
from stanchion.report.linkage import linkage_json, linkage_rows, linkage_text
from stanchion.report.sheet import make_sheet
from stanchion.units.known_units import METRIC, Units


def test_check_names_each_figure_at_three_travels() -> None:
    job = by_points(rear__linkage=PAIRS)
    rows = dict(linkage_rows(job, judged(job), METRIC))
    assert rows["Motion ratio"] == "extended 0.454, now 0.479, full travel 0.507"
    assert rows["Progression"] == "+11.8 %"
    assert rows["Length of the link"] == f"{LINK_MM:.1f} mm, as the points have it"
    text = list(linkage_text(job, judged(job), METRIC))
    assert text[:2] == ["", "Linkage by points"]
    assert any("Pair at 90.0 mm: 44.0 mm, points 43.8 mm." in line for line in text)


def test_lengths_come_in_the_units_shown() -> None:
    job = by_points()
    assert "in" in dict(linkage_rows(job, judged(job), Units(lengths="in")))["Wheel travel"]


def test_a_job_without_points_has_no_such_section() -> None:
    job = by_points(PointsRead())
    assert not list(linkage_text(job, judged(job), METRIC))


def test_what_is_missing_is_named() -> None:
    job = put(by_points(), swingarm__pivot_to_axle_mm=None)
    [(name, words)] = linkage_rows(job, judged(job), METRIC)
    assert name == "Not known"
    assert "pivot to rear axle" in words


def test_json_has_numbers_and_the_reason_for_each_null() -> None:
    job, data = by_points(rear__linkage=PAIRS), JsonData()
    found = linkage_json(data, job, judged(job))["linkage"]
    assert found["from"] == "points"
    assert 0.45 < found["extended"]["ratio"] < 0.46
    assert found["full"]["wheel_mm"] == 125.0
    assert len(found["ratios"]) > 20
    assert found["pairs"][0] == {"wheel_mm": 30.0, "shock_mm": 14.0, "by_points_mm": found["pairs"][0]["by_points_mm"]}
    empty = linkage_json(data, Job(), judged(Job()))["linkage"]
    assert empty["now"]["ratio"] is None
    assert "linkage.now.ratio" in data.missing


def test_the_sheet_says_where_the_ratio_is_from() -> None:
    job = by_points()
    sheet = make_sheet(job, judged(job), None, METRIC)
    titles = [getattr(part, "title", "") for part in sheet.parts]
    assert "Linkage by points" in titles
