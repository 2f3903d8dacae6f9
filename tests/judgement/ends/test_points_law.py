"""A linkage by its points gives the motion ratio, says what is wrong with it, and stands beside the measured pairs."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from judgement_jobs import codes, found, judged, put
from points_jobs import AXLE, LINK_MM, PAIRS, by_coordinates, by_lengths, by_photograph, by_points
from stanchion.job.model import LinkagePair, PointRead, PointsRead
from stanchion.judgement.ends.linkage import linkage_of_job
from stanchion.judgement.ends.linkage_places import linkage_places
from stanchion.judgement.results.findings import Severity
from stanchion.wording.finding_words import sentence


@pytest.mark.parametrize("points", [by_coordinates(), by_lengths(), by_photograph()])
def test_however_they_are_read_the_points_are_the_same(points: PointsRead) -> None:
    found_places = linkage_places(by_points(points).rear, 580.0).points
    assert found_places is not None
    assert found_places.axle == pytest.approx(AXLE)
    assert found_places.shock_moved == pytest.approx((-145.0, -118.0))
    assert found_places.link_mm == pytest.approx(LINK_MM)


def test_the_points_give_ratio_wheel_rate_and_what_follows() -> None:
    """Ratio at rider sag: see points_jobs."""
    job = by_points()
    rear, linkage = judged(job).rear, linkage_of_job(job)
    assert linkage is not None
    assert rear.motion_ratio.value == pytest.approx(linkage.motion_ratio(rear.at_travel_mm))
    assert 0.47 < (rear.motion_ratio.value or 0.0) < 0.49
    assert rear.wheel_rate_n_per_mm.known
    assert 0.0005 < (rear.motion_ratio_uncertainty.value or 0.0) < 0.03
    assert judged(job).predicted.rear.rider.sag_mm.known


def test_of_two_lengths_each_is_a_reading_that_makes_the_ratio_uncertain() -> None:
    """Each length read otherwise by the standard uncertainty of a 1 mm tape, 1/sqrt(12) mm (JCGM 100:2008, 4.3.7), the
    ratio worked out anew from all of them, and the changes added by their squares (5.1.2), times 1.96. A point whose
    lengths meet at a small angle is less certain than one read forward and up."""
    job = by_points(by_lengths())
    travel_mm = judged(job).rear.at_travel_mm

    def ratio(**changes: float) -> float:
        linkage = linkage_of_job(put(job, **changes))
        assert linkage is not None
        return linkage.motion_ratio(travel_mm)

    read = {
        "swingarm__pivot_to_axle_mm": job.swingarm.pivot_to_axle_mm,
        "rear__eye_to_eye_mm": job.rear.eye_to_eye_mm,
        "rear__points__axle_below_mm": job.rear.points.axle_below_mm,
    }
    for name in job.rear.points.names:
        for cell in ("from_pivot_mm", "from_axle_mm"):
            read[f"rear__points__{name}__{cell}"] = getattr(getattr(job.rear.points, name), cell)
    u = 1.0 / math.sqrt(12.0)
    moved = [(ratio(**{name: mm + u}) - ratio(**{name: mm - u})) / 2.0 for name, mm in read.items() if mm is not None]
    assert len(moved) == 13
    by_readings = 1.96 * math.hypot(*moved)
    assert judged(job).rear.motion_ratio_uncertainty.value == pytest.approx(by_readings, rel=0.02)
    level_and_plumb = judged(by_points()).rear.motion_ratio_uncertainty.value
    assert by_readings > 1.15 * (level_and_plumb or 0.0)


def test_pairs_win_until_the_points_are_asked_for() -> None:
    job = by_points(rear__linkage=PAIRS)
    pairs = put(job, rear__points=replace(job.rear.points, used="pairs"))
    assert judged(pairs).rear.motion_ratio != judged(job).rear.motion_ratio
    assert judged(put(pairs, rear__points=PointsRead())).rear.motion_ratio == judged(pairs).rear.motion_ratio


def test_what_is_still_to_be_read_is_named() -> None:
    points = replace(by_coordinates(), rocker=PointRead(), axle_below_mm=None)
    missing = next(
        one
        for one in judged(put(by_points(points), swingarm__pivot_to_axle_mm=None)).findings
        if one.code == "missing" and one.where == ("rear",)
    )
    assert set(missing.values["needs"]) >= {  # type: ignore[call-overload]
        ("swingarm", "pivot_to_axle_mm"),
        ("rear", "points", "axle_below_mm"),
        ("rear", "points", "rocker", "forward_mm"),
        ("rear", "points", "rocker", "up_mm"),
    }


def test_lengths_that_do_not_meet_name_their_point() -> None:
    points = replace(by_lengths(), link_far=PointRead(from_pivot_mm=100.0, from_axle_mm=100.0))
    finding = found(judged(by_points(points)), "points_impossible")
    assert finding.severity is Severity.FAULT
    assert sentence(finding).startswith("Shock, linkage points: link far end does not fit the others")


def test_a_link_that_does_not_reach_is_a_fault_with_the_travel() -> None:
    """At about 186 mm; the fault goes where so much travel is not asked for."""
    finding = found(judged(by_points(rear__wheel_travel_mm=400.0, rear__stroke_mm=None)), "points_stop")
    assert finding.severity is Severity.FAULT
    travel_mm = finding.values["travel_mm"]
    assert isinstance(travel_mm, float)
    assert 180.0 < travel_mm < 190.0
    assert "points_stop" not in codes(judged(by_points(rear__wheel_travel_mm=travel_mm - 1.0, rear__stroke_mm=None)))


def test_a_link_much_too_short_never_joins() -> None:
    finding = found(judged(by_points(rear__link_mm=40.0)), "points_stop")
    assert "does not fit between" in sentence(finding)


def test_a_shock_that_gets_longer_is_named() -> None:
    points = replace(by_coordinates(), shock_held=PointRead(forward_mm=-40.0, up_mm=-450.0))
    finding = found(judged(by_points(points)), "points_stop")
    assert finding.values["what"] in {"shock", "arm"}


def test_without_eye_to_eye_the_points_count_as_read_extended() -> None:
    assert "points_read_extended" in codes(judged(by_points(rear__eye_to_eye_mm=None)))
    assert "points_read_extended" not in codes(judged(by_points()))


def test_pairs_that_agree_say_nothing_and_pairs_that_do_not_are_named() -> None:
    assert "points_and_pairs_differ" not in codes(judged(by_points(rear__linkage=PAIRS)))
    off = (*PAIRS[:2], LinkagePair(wheel_mm=90.0, shock_mm=42.0), PAIRS[3])
    finding = found(judged(by_points(rear__linkage=off)), "points_and_pairs_differ")
    assert finding.severity is Severity.WARNING
    assert (finding.values["wheel_mm"], finding.values["pair_mm"]) == (90.0, 42.0)


def test_a_short_pair_that_a_tape_can_misread_is_not_blamed() -> None:
    """At 8 mm of wheel travel, a shock travel of 4.0 for 3.7 is 8 %, and within what a tape can misread."""
    assert "points_and_pairs_differ" not in codes(
        judged(by_points(rear__linkage=(LinkagePair(wheel_mm=8.0, shock_mm=4.0), *PAIRS)))
    )


def test_points_that_use_up_more_or_less_than_the_stroke_over_the_wheel_travel_are_noted() -> None:
    job = by_points(rear__wheel_travel_mm=125.0)
    linkage = linkage_of_job(job)
    assert linkage is not None
    there_mm = linkage.shock_travel(125.0)
    for share, packers_mm, noted in (
        (1.0, 0.0, False),
        (1.015, 0.0, False),
        (1.03, 0.0, True),
        (0.97, 0.0, True),
        (1.0, 3.0, True),
    ):
        stroke_mm = there_mm * share
        seen = judged(put(job, rear__stroke_mm=stroke_mm, rear__packers_mm=packers_mm))
        assert ("points_and_stroke_differ" in codes(seen)) is noted, share
        if noted:
            finding = found(seen, "points_and_stroke_differ")
            assert finding.severity is Severity.NOTE
            assert finding.values["points_mm"] == pytest.approx(there_mm)
            assert finding.values["stroke_mm"] == pytest.approx(stroke_mm - packers_mm)
    assert "points_and_stroke_differ" not in codes(judged(put(job, rear__stroke_mm=None)))


def test_a_longer_shock_begins_its_travel_with_the_swingarm_lower() -> None:
    short, long = (linkage_of_job(by_points(rear__length_adjuster_mm=mm)) for mm in (0.0, 4.0))
    assert short is not None
    assert long is not None
    assert long.shock_travel(100.0) < short.shock_travel(100.0)  # the ratio rises over the travel, so earlier is less
