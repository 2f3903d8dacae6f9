"""What the readings of a state give, and when they cannot be right."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from judgement_jobs import FULL, around, codes, found, judged, put, sag_end
from stanchion.job.model import Job, Readings, SagEnd
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import load_profiles
from stanchion.judgement.results.assessment import StateFigures
from stanchion.judgement.results.findings import Severity
from stanchion.report.check import as_text


def front(static: Readings, rider: Readings = FULL.sag.front.rider, **end: object) -> Job:
    return put(FULL, sag__front=replace(FULL.sag.front, static=static, rider=rider, **end))  # type: ignore[arg-type]


def static_of(job: Job) -> StateFigures:
    return judged(job).sag.front.static


def test_sag_is_the_middle_of_both_readings_and_stiction_is_what_lies_between() -> None:
    figures = static_of(front(Readings(down_mm=(577.0,), up_mm=(583.0,))))
    assert (figures.sag_mm.value, figures.stiction_mm.value) == (20.0, 6.0)
    assert figures.verdict == "in"


def test_one_reading_each_takes_1_mm_as_its_uncertainty_and_says_so() -> None:
    # Common practice, no published source; combined by JCGM 100:2008, 5.1.2.
    figures = static_of(front(Readings(down_mm=(577.0,), up_mm=(583.0,))))
    assert figures.uncertainty_mm.value == pytest.approx(math.sqrt(1 + 0.5))
    assert figures.single_readings
    assert figures.spread_mm.problem == "single_reading"


def test_repeats_are_averaged_and_show_their_spread() -> None:
    readings = Readings(down_mm=(577.0, 578.0, 576.0), up_mm=(583.0, 583.5, 582.5))
    figures = static_of(front(readings, hanging_mm=(600.0, 600.0)))
    assert figures.sag_mm.value == 20.0
    assert figures.spread_mm.value == 2.0
    assert not figures.single_readings
    assert figures.uncertainty_mm.value is not None
    assert figures.uncertainty_mm.value < 0.6


def test_a_gauge_that_reads_travel_needs_no_l1() -> None:
    end = SagEnd(gauge="travel", static=Readings(down_mm=(23.0,), up_mm=(17.0,)), rider=around(33.0, -2.0))
    assessment = judged(put(FULL, sag__front=end))
    assert assessment.sag.front.static.sag_mm.value == 20.0
    assert assessment.sag.front.static.stiction_mm.value == 6.0
    assert assessment.sag.front.rider.stiction_mm.value == 2.0


def test_readings_in_each_other_s_place_are_a_fault_whichever_way_the_gauge_reads() -> None:
    swapped = judged(front(Readings(down_mm=(583.0,), up_mm=(577.0,))))
    assert found(swapped, "readings_swapped").severity is Severity.FAULT
    assert swapped.sag.front.static.stiction_mm.problem == "readings_swapped"
    travel = SagEnd(gauge="travel", static=Readings(down_mm=(17.0,), up_mm=(23.0,)))
    assert found(judged(put(FULL, sag__front=travel)), "travel_readings_swapped").severity is Severity.FAULT


def test_one_person_alone_has_sag_but_no_stiction() -> None:
    assessment = judged(front(Readings(down_mm=(577.0,))))
    figures = assessment.sag.front.static
    assert figures.sag_mm.value == 23.0
    assert figures.down_only
    assert figures.stiction_mm.problem == "down_only"
    assert found(assessment, "down_only").severity is Severity.NOTE
    assert "missing" not in codes(assessment)
    assert figures.uncertainty_mm.value == pytest.approx(math.sqrt(2.0))


@pytest.mark.parametrize(
    ("down", "verdict"),
    [
        (580.0, "down_only"),  # 20 mm in a target of 15 to 25: less by half the stiction, which nobody read
        (584.0, "down_only"),
        (574.0, "down_only"),  # 26 mm: stiction may be all that is above
        (590.0, "below"),  # 10 mm, and less still
        (562.0, "above"),  # 38 mm: no stiction that is allowed explains that
    ],
)
def test_half_a_pair_of_readings_is_never_called_in_target(down: float, verdict: str) -> None:
    job = front(Readings(down_mm=(down,)), Readings())
    assessment = judged(job)
    assert assessment.sag.front.static.verdict_now == verdict
    assert assessment.sag.front.advice is None or assessment.sag.front.advice.code != "pair_suits"
    assert "down only" in as_text("a.toml", job, assessment)
    if verdict == "down_only":
        assert not {"sag_low", "sag_high", "sag_borderline"}.intersection(codes(assessment))


@pytest.mark.parametrize(("gauge", "down", "up"), [("length", 595.0, 598.0), ("travel", 5.0, 2.0)])
def test_lifted_within_2_mm_of_full_extension_is_topped_out(gauge: str, down: float, up: float) -> None:
    # Common practice, no published source.
    assessment = judged(front(Readings(down_mm=(down,), up_mm=(up,)), gauge=gauge, rider=Readings()))
    assert assessment.sag.front.static.topped_out
    assert found(assessment, "topped_out").severity is Severity.NOTE
    assert assessment.sag.front.projected_static_mm.problem == "topped_out"
    nearly = up - 0.1 if gauge == "length" else up + 0.1
    assert not static_of(front(Readings(down_mm=(down,), up_mm=(nearly,)), gauge=gauge, rider=Readings())).topped_out


def test_sag_read_before_a_change_is_old_and_neither_high_nor_low() -> None:
    read = replace(sag_end(20.0, 45.0).rider, preload_at=(4.0, 4.0))
    sag = replace(FULL.sag, front=replace(FULL.sag.front, rider=read))
    job = replace(FULL, sag=sag)
    assert "sag_high" in codes(judged(job))
    changed = judged(put(job, front__left__adjuster__now=8.0))
    assert not {"sag_high", "sag_low"} & set(codes(changed))
    assert (changed.sag.front.rider.verdict_now, changed.sag.front.static.verdict_now) == ("stale", "in")
    assert "measure_again_changed" in codes(changed)


@pytest.mark.parametrize(
    ("sag", "code"),
    [
        (12.5, "sag_low"),
        (14.9, "sag_borderline"),
        (15.5, "sag_borderline"),  # inside, but by less than what the readings are good for
        (17.5, None),
        (22.5, None),
        (25.0, "sag_borderline"),
        (25.2, "sag_borderline"),
        (27.5, "sag_high"),
    ],
)
def test_sag_out_of_target_is_a_warning_of_its_own_each_way(sag: float, code: str | None) -> None:
    # Read once each: sqrt(1 + 1 / 2) mm, times 1.96 is 2.4 mm; within that it cannot be told.
    job = front(around(600.0 - sag, 2.0))
    about = [f for f in judged(job).findings if f.code in ("sag_low", "sag_high", "sag_borderline")]
    severity = Severity.NOTE if code == "sag_borderline" else Severity.WARNING
    assert [(f.code, f.severity, f.where) for f in about] == (
        [] if code is None else [(code, severity, ("sag", "front", "static"))]
    )
    verdict = {None: "in", "sag_low": "below", "sag_high": "above", "sag_borderline": "borderline"}[code]
    assert static_of(job).verdict_now == verdict


def test_the_fewer_the_repeats_that_differ_the_wider_is_borderline() -> None:
    # L1 three times alike; each reading 1 mm up and down: s 1, u 1 / sqrt 3, with t by Student and not by 2.
    # JCGM 100:2008, G.4.1: u^2 = 2 / 12 + (1/3 + 1/3) / 4; 4 degrees of freedom for the last part of it, 16 for all.
    down, up = (585.0, 586.0, 587.0), (587.0, 588.0, 589.0)
    figures = static_of(front(Readings(down_mm=down, up_mm=up), hanging_mm=(600.0,) * 3))
    assert figures.uncertainty_mm.value == pytest.approx(math.sqrt(1 / 6 + 1 / 6))
    assert figures.coverage.value == pytest.approx(2.120, abs=5e-4)  # t of 16, from memory of the same table
    assert figures.expanded_mm.value == pytest.approx(2.120 * math.sqrt(1 / 3), abs=5e-4)


def test_mountings_of_the_rider_are_each_a_repeat() -> None:
    # Every mounting moves both readings by 3 mm; three of them say what one mounting is good for, 2 degrees of freedom.
    sat = Readings(down_mm=(563.0, 566.0, 569.0), up_mm=(567.0, 570.0, 573.0))
    alone = front(sat, hanging_mm=(600.0,) * 3)
    aboard = front(FULL.sag.front.static, sat, hanging_mm=(600.0,) * 3)
    u_alone, u_aboard = static_of(alone).uncertainty_mm.value, judged(aboard).sag.front.rider.uncertainty_mm.value
    assert u_alone == pytest.approx(math.sqrt(1 / 6 + 3.0 / 2))
    assert u_aboard == pytest.approx(math.sqrt(1 / 6 + 3.0))


@pytest.mark.parametrize(
    ("static", "rider", "words"),
    [
        (around(560.0, 20.0), around(540.0, 2.0), ("friction", "friction")),
        (around(560.0, -2.0), around(540.0, 2.0), ("doubtful", "doubtful")),
        (around(540.0, 2.0), around(560.0, 2.0), ("doubtful", "doubtful")),
        (around(599.0, 1.0), around(540.0, 2.0), ("topped_out", "above")),
    ],
)
def test_what_must_be_put_right_first_stands_alone(static: Readings, rider: Readings, words: tuple[str, str]) -> None:
    assessment = judged(front(static, rider))
    assert (assessment.sag.front.static.verdict_now, assessment.sag.front.rider.verdict_now) == words
    low_or_high = [
        f.where[2] for f in assessment.findings if f.code in ("sag_low", "sag_high") and f.where[1] == "front"
    ]
    assert low_or_high == (["rider"] if "above" in words else [])


def test_a_topped_out_state_is_shown_without_a_millimetre_of_sag() -> None:
    figures = static_of(front(around(599.0, 1.0)))
    assert figures.sag_mm.value == 1.0
    assert figures.shown_mm.problem == "stands_topped_out"


@pytest.mark.parametrize(
    ("end", "use", "stiction", "code"),
    [
        # Common practice, no published source.
        ("front", "track", 8.0, None),
        ("front", "track", 9.0, "stiction_note"),
        ("front", "road", 16.0, "stiction_fault"),
        ("front", "off-road", 15.0, None),
        ("front", "off-road", 26.0, "stiction_fault"),
        ("rear", "track", 3.5, "stiction_note"),
        ("rear", "off-road", 7.0, None),  # 3 and 6 mm of 125 are 7.2 and 14.4 of 300
        ("rear", "off-road", 8.0, "stiction_note"),
        ("rear", "off-road", 15.0, "stiction_fault"),
    ],
)
def test_stiction_is_noted_and_then_a_fault(end: str, use: str, stiction: float, code: str | None) -> None:
    job = put(FULL, job__use=use, **{f"sag__{end}__rider": around(560.0, stiction)})
    about = [f for f in judged(job).findings if f.code.startswith("stiction")]
    assert [(f.code, f.where) for f in about] == ([] if code is None else [(code, ("sag", end, "rider"))])


@pytest.mark.parametrize(("stiction", "severity", "limit"), [(9.0, Severity.NOTE, 8.0), (16.0, Severity.FAULT, 15.0)])
def test_stiction_is_told_with_the_limit_it_passed(stiction: float, severity: Severity, limit: float) -> None:
    # Common practice, no published source: 8 mm is noted, 15 mm a fault.
    job = put(FULL, sag__front__rider=around(560.0, stiction))
    [finding] = [f for f in judged(job).findings if f.code.startswith("stiction")]
    assert finding.severity is severity
    assert finding.values == {"stiction_mm": stiction, "limit_mm": limit}


def test_a_tape_of_half_millimetres_tells_a_reading_beyond_l1_sooner() -> None:
    longer = front(Readings(down_mm=(598.0,), up_mm=(600.75,)))
    assert "reading_beyond_hanging" not in codes(judged(put(longer, sag__tape_resolution_mm=1.0)))
    finding = found(judged(put(longer, sag__tape_resolution_mm=0.5)), "reading_beyond_hanging")
    assert finding.values == {"reading_mm": 600.75, "hanging_mm": 600.0}


def test_readings_in_each_other_s_place_are_told_with_both_of_them() -> None:
    finding = found(judged(front(Readings(down_mm=(583.0,), up_mm=(577.0,)))), "readings_swapped")
    assert (finding.where, finding.values) == (("sag", "front", "static"), {"down_mm": 583.0, "up_mm": 577.0})


def test_two_repeats_already_have_a_spread() -> None:
    assert static_of(front(Readings(down_mm=(577.0, 578.5), up_mm=(583.0,)))).spread_mm.value == 1.5


def test_nothing_read_has_no_spread_and_waits_for_the_first_reading() -> None:
    assert static_of(front(Readings())).spread_mm.needs == (("sag", "front", "static", "down_mm", 0),)


def test_a_figure_waits_for_the_first_reading_of_each_that_is_missing() -> None:
    figures = static_of(front(Readings(up_mm=(583.0,)), hanging_mm=()))
    assert set(figures.sag_mm.needs) == {("sag", "front", "static", "down_mm", 0), ("sag", "front", "hanging_mm", 0)}


@pytest.mark.parametrize(("rider", "expected"), [(19.0, False), (18.9, True)])
def test_less_sag_with_the_rider_is_a_fault_beyond_what_a_tape_can_say(rider: float, expected: bool) -> None:
    assessment = judged(put(FULL, sag__front=sag_end(20.0, rider)))
    assert ("rider_above_static" in codes(assessment)) is expected
    if expected:
        finding = found(assessment, "rider_above_static")
        assert finding.where == ("sag", "front", "rider")
        assert finding.values == {"static_mm": pytest.approx(20.0), "rider_mm": pytest.approx(rider)}


def test_a_gauge_that_reads_travel_has_no_error_of_l1() -> None:
    # JCGM 100:2008, 5.1.2: only the two readings, 1 mm each, meet in their mean: sqrt(1 + 1) / 2
    end = SagEnd(gauge="travel", static=Readings(down_mm=(23.0,), up_mm=(17.0,)), rider=around(33.0, -2.0))
    figures = judged(put(FULL, sag__front=end)).sag.front.static
    assert figures.uncertainty_mm.value == pytest.approx(math.sqrt(0.5))


def test_a_reading_longer_than_l1_is_a_fault_beyond_what_a_tape_can_say() -> None:
    assert "reading_beyond_hanging" not in codes(judged(front(Readings(down_mm=(598.0,), up_mm=(601.0,)))))
    finding = found(judged(front(Readings(down_mm=(598.0,), up_mm=(603.0,)))), "reading_beyond_hanging")
    assert finding.severity is Severity.FAULT


def test_sag_beyond_the_travel_is_a_fault() -> None:
    assert found(judged(put(FULL, rear__wheel_travel_mm=25.0)), "sag_beyond_travel").where == ("sag", "rear", "rider")


def test_less_sag_with_the_rider_than_without_cannot_be() -> None:
    assessment = judged(put(FULL, sag__front=sag_end(33.0, 20.0)))
    assert found(assessment, "rider_above_static").severity is Severity.FAULT
    assert assessment.sag.front.advice is not None
    assert assessment.sag.front.advice.code == "measure_again_impossible"


def test_a_target_that_is_a_share_of_travel_waits_for_the_travel() -> None:
    text = b'[track.front.rider_sag]\nlow = 25\nhigh = 30\nunit = "%"\nas_share_of_travel = true\n'
    profiles = load_profiles(text)
    waiting = assess(FULL, profiles)
    assert waiting.sag.front.rider.verdict == ""
    [note] = [f for f in waiting.findings if f.code == "missing"]
    assert note.values["needs"] == (("front", "travel_mm"),)
    judged_now = assess(put(FULL, front__travel_mm=120.0), profiles)
    assert judged_now.sag.front.rider.target == (30.0, 36.0)
    assert judged_now.sag.front.rider.verdict == "in"


def test_targets_meant_for_another_travel_are_noted() -> None:
    assert "travel_not_as_meant" not in codes(judged(put(FULL, front__travel_mm=120.0)))
    assert found(judged(put(FULL, front__travel_mm=200.0)), "travel_not_as_meant").severity is Severity.NOTE


def test_with_a_top_out_spring_sag_reads_lower_by_about_the_unloaded_position() -> None:
    job = put(
        FULL, front__top_out__fitted="yes", front__top_out__rate_n_per_mm=30.0, front__top_out__works_over_mm=20.0
    )
    finding = found(judged(job), "top_out_reads_lower")
    # Balance of the two springs: (30 * 20 - 9.5 * 14) / 39.5 with 14 mm of preload now.
    assert finding.values["unloaded_mm"] == pytest.approx((600 - 133) / 39.5)
    assert finding.values["share"] == pytest.approx(30 / 39.5)
    assert "top_out_reads_lower" not in codes(judged(FULL))
