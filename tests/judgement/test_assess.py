"""The whole assessment: missing data, unlikely values, cautions, and how fast it is."""

from __future__ import annotations

from dataclasses import replace

import pytest

from judgement_jobs import FULL, PAIRS, codes, found, judged, put, split
from stanchion.job.model import Job, Readings
from stanchion.judgement.results.findings import Severity
from stanchion.wording.finding_words import sentence


def test_an_empty_job_has_one_note_for_each_part_in_the_order_one_would_measure() -> None:
    assessment = judged(Job())
    assert [(f.code, f.severity, f.where) for f in assessment.findings] == [
        ("missing", Severity.NOTE, where) for where in (("front", "left"), ("rear",), ("sag", "front"), ("sag", "rear"))
    ]
    fork = assessment.findings[0].values["needs"]
    assert [path[-1] for path in fork] == [  # type: ignore[attr-defined]
        "rate_n_per_mm",
        "free_length_mm",
        "set_length_mm",
        "set_length_in_mm",
        "total_turns",
        "now",
    ]
    sag = assessment.findings[2].values["needs"]
    assert [path[2:4] for path in sag] == [  # type: ignore[attr-defined]
        ("hanging_mm", 0),
        ("static", "down_mm"),
        ("static", "up_mm"),
        ("rider", "down_mm"),
        ("rider", "up_mm"),
    ]
    assert assessment.worst is Severity.NOTE


def test_each_leg_of_a_split_fork_asks_for_its_own_readings() -> None:
    leg = replace(FULL.front.left, spring=replace(FULL.front.left.spring, set_length_mm=None))
    finding = found(judged(split(FULL, leg)), "missing")
    assert finding.where == ("front", "right")
    assert finding.values["needs"] == (("front", "right", "spring", "set_length_mm"),)
    assert sentence(finding).startswith("Fork, right: ")


def test_missing_input_never_becomes_zero() -> None:
    assessment = judged(Job())
    assert assessment.front.rate_n_per_mm.value is None
    assert assessment.sag.rear.rider.sag_mm.value is None
    assert assessment.rear.wheel_rate_n_per_mm.value is None
    assert assessment.sag.front.advice is None


def test_a_rate_typed_in_another_unit_is_asked_about_with_what_it_would_be() -> None:
    # Usual fork springs 4-12 N/mm, shock springs 40-140 (common practice, no published source); 1 kgf = 9.80665 N.
    finding = found(judged(put(FULL, front__left__spring__rate_n_per_mm=0.95)), "implausible")
    assert finding.severity is Severity.WARNING
    assert "0.95 kg/mm would be 9.32 N/mm" in sentence(finding)
    assert "is outside the usual 4–12 N/mm: check" in sentence(finding)
    pounds = found(judged(put(FULL, rear__spring__rate_n_per_mm=550.0)), "implausible")
    assert "550 lb/in would be 96.32 N/mm" in sentence(pounds)
    assert "both legs" not in sentence(pounds)
    inches = found(judged(put(FULL, front__left__spring__free_length_mm=10.0)), "implausible")
    assert "10 in would be 254.0 mm" in sentence(inches)
    nearer = put(FULL, front__left__spring__free_length_mm=15.0)  # 150 mm by centimetres, shorter than they come
    assert "15 in would be 381.0 mm" in sentence(found(judged(nearer), "implausible"))
    both = put(FULL, front__left__spring__set_length_in_mm=23.0)  # 584 mm by inches, which the fork has no room for
    assert "23 cm would be 230.0 mm" in sentence(found(judged(both), "implausible"))


def test_both_ends_of_a_usual_range_are_usual() -> None:
    for rate in (4.0, 12.0):
        assert "implausible" not in codes(judged(put(FULL, front__left__spring__rate_n_per_mm=rate)))
    for rate in (40.0, 140.0):
        assert "implausible" not in codes(judged(put(FULL, rear__spring__rate_n_per_mm=rate)))


def test_each_reading_of_a_row_is_asked_about_by_itself() -> None:
    job = put(FULL, sag__rear=replace(FULL.sag.rear, hanging_mm=(600.0, 23.6)))
    assert found(judged(job), "implausible").where == ("sag", "rear", "hanging_mm", 1)


def test_an_unknown_use_is_judged_as_track_and_says_so() -> None:
    assessment = judged(put(FULL, job__use="ice"))
    assert found(assessment, "unknown_use").severity is Severity.WARNING
    assert assessment.sag.front.rider.target == (28.0, 38.0)


def test_worst_comes_first() -> None:
    assessment = judged(put(FULL, front__left__spring__set_length_mm=233.0, front__left__adjuster__now=16.0))
    severities = [finding.severity for finding in assessment.findings]
    assert severities == sorted(severities, reverse=True)
    assert assessment.worst is Severity.FAULT


@pytest.mark.parametrize(
    ("job", "applies", "not_yet"),
    [
        (Job(), {"judgement", "after_work_torque", "after_work_chain", "before_riding"}, {"fork_caps", "support"}),
        (put(Job(), job__use="road"), {"road_machine"}, {"rider_steadied"}),
        (put(Job(), job__use="track"), {"before_riding"}, {"road_machine"}),
        (put(Job(), front__left__spring__free_length_mm=250.0), {"fork_caps", "adjuster_end"}, {"shock_spring"}),
        (put(Job(), front__left__stack__spacer_mm=100.0), {"fork_caps", "adjuster_end"}, {"shock_spring"}),
        (put(Job(), front__left__spring__set_length_mm=238.0), {"fork_caps", "adjuster_end"}, {"shock_spring"}),
        (
            put(Job(), front__left__air_gap_mm=120.0),
            {"fork_air", "used_oil", "oil_on_discs", "bleed_extended"},
            {"shock_gas"},
        ),
        (put(Job(), front__fork_height_mm=3.0), {"fork_height"}, {"used_oil"}),
        (
            put(Job(), rear__spring__free_length_mm=180.0),
            {"shock_spring", "shock_gas", "hot_shock", "support", "keep_clear", "adjuster_end"},
            {"fork_caps"},
        ),
        (put(Job(), rear__collar__total_turns=10.0, rear__collar__now=10.0), {"adjuster_end"}, {"fork_caps"}),
        (put(Job(), rear__linkage=PAIRS), {"keep_clear", "support"}, {"fork_height"}),
        (put(Job(), rear__points__axle_below_mm=110.0), {"keep_clear", "support"}, {"chain_still"}),
        (put(Job(), swingarm__pivot_to_axle_mm=560.0), {"chain_still"}, {"lift_front"}),
        (put(Job(), drive__links=108.0), {"chain_still"}, {"lift_front"}),
        (put(Job(), sag__rear__static=Readings(down_mm=(590.0,))), {"support", "one_leg"}, {"rider_steadied"}),
        (put(Job(), sag__rear__rider=Readings(down_mm=(570.0,))), {"support", "rider_steadied"}, {"shock_gas"}),
    ],
)
def test_cautions_show_where_the_work_calls_for_them(job: Job, applies: set[str], not_yet: set[str]) -> None:
    cautions = judged(job).cautions
    assert applies <= set(cautions)
    assert not not_yet & set(cautions)
    assert cautions[-1] == "judgement"


@pytest.mark.parametrize(
    ("travel_mm", "noted"), [(107.0, True), (108.5, False), (130.0, False), (142.5, False), (144.0, True)]
)
def test_targets_meant_for_another_travel_are_noted_beyond_a_tenth(travel_mm: float, noted: bool) -> None:
    # track targets are for 120 to 130 mm; a tenth beyond them (common practice, no published source)
    assessment = judged(put(FULL, front__travel_mm=travel_mm))
    assert ("travel_not_as_meant" in codes(assessment)) is noted
    if noted:
        values = found(assessment, "travel_not_as_meant").values
        assert (values["low_mm"], values["high_mm"]) == (120.0, 130.0)
