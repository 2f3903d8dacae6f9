"""Travel used on a run and what the trade reads out of it (common practice, no published source)."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from typing import Any

import pytest

from judgement_jobs import FULL, codes, found, judged, put, repeated, sag_end
from rates import one_rate
from stanchion.job.model import End, Job, TopOut
from stanchion.job.runs import new_run
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.planning.on_travel import predicted_curve
from stanchion.units.known_units import Units
from stanchion.wording.advice_values import FLAGS
from stanchion.wording.finding_tables import Words
from stanchion.wording.finding_words import reason, sentence
from stanchion.wording.phrases import fill
from stanchion.wording.run_sentences import REMEDIES, RUNS, STOPS


def ridden(job: Job | None = None, **markers: Any) -> Job:
    """A machine of 120 mm fork travel and 60 mm stroke after one run."""
    base = put(FULL if job is None else job, front__travel_mm=120.0, rear__stroke_mm=60.0, rear__wheel_travel_mm=140.0)
    return replace(base, runs=(replace(new_run(base, "10:20"), **markers),))


class TestTravelUsed:
    def test_from_the_hanging_wheel_the_marker_is_the_travel_used(self) -> None:
        run = judged(ridden(front_marker_mm=100.0, rear_marker_mm=40.0)).run
        assert run is not None
        assert (run.front.used_mm.value, run.front.left_mm.value) == (100, 20)
        assert (run.rear.used_mm.value, run.rear.left_mm.value) == (40, 20)

    def test_from_static_sag_that_sag_is_added_along_the_same_axis(self) -> None:
        run = judged(ridden(front_marker_mm=80.0, rear_marker_mm=40.0, marker_from="static")).run
        assert run is not None
        assert run.front.used_mm.value == pytest.approx(80 + 20)
        assert run.rear.used_mm.value == pytest.approx(40 + 0.4 * 7.5)  # motion ratio 0.4 at 7.5 mm of wheel

    def test_rigid_packers_shorten_what_there_is(self) -> None:
        job = put(FULL, front__packers_mm=5.0)
        run = judged(ridden(job, front_marker_mm=100.0)).run
        assert run is not None
        assert run.front.left_mm.value == 15

    def test_packers_that_fill_the_travel_leave_none_to_be_used(self) -> None:
        run = judged(put(ridden(put(FULL, front__packers_mm=60.0), front_marker_mm=30.0), front__travel_mm=60.0)).run
        assert run is not None
        assert reason(run.front.left_mm) == "the values do not fit together"

    def test_travel_may_be_measured_or_corrected_after_the_run(self) -> None:
        before = put(ridden(front_marker_mm=100.0), front__travel_mm=None)
        before = replace(before, runs=(replace(before.runs[0], front=before.front),))
        run = judged(put(before, front__travel_mm=120.0)).run
        assert run is not None
        assert run.front.left_mm.value == 20

    def test_what_a_top_out_spring_keeps_of_the_travel_cannot_be_used(self) -> None:
        """9.5 N/mm at 14 mm of preload against 30 N/mm over 20 mm: 30 (20 - x) = 9.5 (14 + x) at x = 11.83 mm."""
        top_out = TopOut(fitted="yes", rate_n_per_mm=30.0, works_over_mm=20.0)
        run = judged(ridden(put(FULL, front__top_out=top_out), front_marker_mm=100.0)).run
        assert run is not None
        assert run.front.used_mm.value == 100
        assert run.front.available_mm.value == pytest.approx(120 - (30 * 20 - 9.5 * 14) / 39.5)

    def test_the_hanging_wheel_draws_both_legs_out_by_its_weight(self) -> None:
        """9.5 N/mm at 14 mm and 8.5 at 14 mm against 30 N/mm over 20 mm in each leg, and 14 kg at 24 degrees."""
        top_out = TopOut(fitted="yes", rate_n_per_mm=30.0, works_over_mm=20.0)
        soft = replace(FULL.front.left, spring=replace(FULL.front.left.spring, rate_n_per_mm=8.5))
        job = put(FULL, front__top_out=top_out, weights__front_unsprung_kg=14.0, geometry__rake_deg=24.0)
        wheel_n = 14.0 * 9.80665 * math.cos(math.radians(24.0))
        hangs = (2 * 30 * 20 - 18.0 * 14 - wheel_n) / (60.0 + 18.0)
        for job_of_legs in (put(job, front__right=soft), put(job, front__left=soft, front__right=FULL.front.left)):
            run = judged(ridden(job_of_legs, front_marker_mm=100.0)).run
            assert run is not None
            assert run.front.available_mm.value == pytest.approx(120 - hangs)
            assert not run.front.available_mm.estimate

    @pytest.mark.parametrize("end", ["front", "rear"])
    def test_where_a_top_out_spring_is_not_measured_nothing_is_said_of_what_is_left(self, end: End) -> None:
        top_out = TopOut(fitted="yes", rate_n_per_mm=30.0)
        job = put(ridden(front_marker_mm=118.0, rear_marker_mm=58.0), **{f"{end}__top_out": top_out})
        assessment = judged(put(job, runs=(replace(job.runs[0], front=job.front, rear=job.rear),)))
        assert assessment.run is not None
        assert assessment.run.end(end).left_mm.needs == ((end, "top_out", "works_over_mm"),)
        assert assessment.run.end(end).verdict == ""
        sentences = sentence(next(f for f in assessment.findings if f.where == (end, "top_out")))
        assert "top-out works over" in sentences.lower()

    def test_the_wheel_hung_as_its_preload_was_on_the_run(self) -> None:
        """Two turns more preload since the run change nothing of what there was to use on it."""
        top_out = TopOut(fitted="yes", rate_n_per_mm=30.0, works_over_mm=20.0)
        before = ridden(put(FULL, front__top_out=top_out), front_marker_mm=100.0)
        then = judged(before).run
        since = judged(put(before, front__left__adjuster__now=8.0))
        assert then is not None
        assert since.run is not None
        assert since.run.front.available_mm.value == pytest.approx(then.front.available_mm.value)
        assert since.marker_references["front"].hanging_mm.value < 120 - then.front.available_mm.value - 0.1  # type: ignore[operator]

    def test_a_top_out_spring_of_the_shock_keeps_of_its_stroke_what_it_holds_off(self) -> None:
        """Along the shaft, with a ratio of 0.4: k (P + s) = kt (xt - s) without the wheel's weight."""
        stiff = TopOut(fitted="yes", rate_n_per_mm=300.0, works_over_mm=10.0)
        job = put(FULL, rear__top_out=stiff, rear__gas_pressure_bar=None, weights__rear_unsprung_kg=None)
        assessment = judged(ridden(job, rear_marker_mm=40.0))
        rate, preload = one_rate(job.rear.spring.rate_n_per_mm), assessment.rear.spring.preload_now_mm.value
        assert preload is not None
        hangs = (300.0 * 10.0 - rate * preload) / (300.0 + rate)
        assert hangs > 1.0
        assert assessment.run is not None
        assert assessment.run.rear.available_mm.value == pytest.approx(60.0 - hangs)
        assert assessment.run.rear.available_mm.estimate
        sentences = next(f for f in assessment.findings if f.where == ("rear", "top_out"))
        assert sentences.values["unloaded_mm"] == pytest.approx(hangs / 0.4)
        assert sentences.values["share"] == pytest.approx(300.0 / (300.0 + rate))

    def test_the_bump_rubber_is_pressed_by_what_the_shaft_goes_beyond_it(self) -> None:
        job = put(FULL, rear__bump_rubber_mm=12.0)
        run = judged(ridden(job, rear_marker_mm=52.0)).run
        assert run is not None
        assert run.rear.on_rubber_mm.value == 4  # 8 mm of stroke left, 12 mm of rubber
        sentences = sentence(found(judged(ridden(job, rear_marker_mm=58.0)), "bottoms_damping"))
        assert "10.0 mm" in sentences  # 2 mm left
        assert reason(run.front.on_rubber_mm) == "no bump rubber is recorded"

    @pytest.mark.parametrize(
        ("marker", "share", "verdict"),
        [
            (126.0, 1.05, "beyond"),
            (115.3, 115.3 / 120, "near_full"),
            (100.0, 100 / 120, "used"),
            (94.0, 94 / 120, "kept_back"),
        ],
    )
    def test_the_share_used_has_its_verdict(self, marker: float, share: float, verdict: str) -> None:
        run = judged(ridden(front_marker_mm=marker)).run
        assert run is not None
        assert run.front.share_used.value == pytest.approx(share)
        assert run.front.verdict == verdict

    def test_without_a_marker_it_waits_for_it(self) -> None:
        run = judged(ridden()).run
        assert run is not None
        assert run.front.used_mm.needs == (("runs", 0, "front_marker_mm"),)


AGAIN = "bottoms_sag_unknown"


class TestWhatItMeans:
    @pytest.mark.parametrize(
        ("changes", "markers", "code", "words"),
        [
            ({}, {"front_marker_mm": 117.0}, "bottoms_air_gap", "5 mm smaller"),
            ({}, {"rear_marker_mm": 58.0}, "bottoms_damping", "Add compression; fit a stiffer"),
            (
                {"front__left__adjuster__now": 16.0, "sag__front": repeated(sag_end(13.0, 40.0))},
                {"front_marker_mm": 117.0},
                "bottoms_adjuster_in",
                "too soft",
            ),
            # Its sags are right, so that they ask for no other spring.
            (
                {"front__left__adjuster__now": 16.0},
                {"front_marker_mm": 117.0},
                "bottoms_adjuster_in",
                "no stiffer spring is needed: try a smaller air gap first",
            ),
            ({}, {"front_marker_mm": 80.0}, "travel_kept_back", "do not fit softer springs"),
            ({}, {"front_marker_mm": 130.0}, "marker_beyond_travel", "Check the reading"),
        ],
    )
    def test_each_reading_has_its_remedy_in_the_order_of_the_trade(
        self, changes: dict[str, Any], markers: dict[str, float], code: str, words: str
    ) -> None:
        assessment = judged(ridden(put(FULL, **changes), **markers))
        assert words in sentence(found(assessment, code))

    def test_with_rider_sag_too_large_preload_comes_first(self) -> None:
        job = put(FULL, sag__front__rider__down_mm=(555.0,), sag__front__rider__up_mm=(557.0,))
        sentences = sentence(found(judged(ridden(job, front_marker_mm=118.0)), "bottoms_add_preload"))
        assert "add preload first (the adjuster has 6.0 mm to add)" in sentences

    def test_near_the_end_of_the_adjuster_counts_as_at_its_end(self) -> None:
        job = put(FULL, front__left__adjuster__now=15.5)
        assert "bottoms_adjuster_in" in codes(judged(ridden(job, front_marker_mm=117.0)))
        job = put(FULL, front__left__adjuster__now=15.0)
        assert "bottoms_air_gap" in codes(judged(ridden(job, front_marker_mm=117.0)))

    def test_a_fork_without_an_adjuster_has_none_at_its_end(self) -> None:
        job = put(FULL, front__left__adjuster__counting="none", front__left__adjuster__now=None)
        assert "bottoms_air_gap" in codes(judged(ridden(job, front_marker_mm=117.0)))

    def test_an_air_gap_at_its_least_leaves_stiffer_springs(self) -> None:
        job = put(FULL, front__left__air_gap_mm=103.0, front__air_gap_least_mm=100.0)
        sentences = sentence(found(judged(ridden(job, front_marker_mm=117.0)), "bottoms_air_gap_least"))
        assert sentences == (
            "Run: fork marker: 3 mm of 120 mm travel left, and the air gap can go no smaller: fit stiffer springs."
        )
        more_room = put(job, front__left__air_gap_mm=105.0)
        assert "bottoms_air_gap" in codes(judged(ridden(more_room, front_marker_mm=117.0)))

    def test_rider_sag_read_with_other_preload_than_was_ridden_is_to_be_read_again(self) -> None:
        large = put(FULL, sag__front__rider__down_mm=(555.0,), sag__front__rider__up_mm=(557.0,))
        read = put(large, sag__front__rider__preload_at=(4.0, 4.0))  # ... with 4 turns in, and 8 ridden
        sentences = sentence(
            found(judged(ridden(put(read, front__left__adjuster__now=8.0), front_marker_mm=117.0)), AGAIN)
        )
        assert "Measure rider sag again (it was read before a change): if it is too large" in sentences
        as_read = judged(ridden(read, front_marker_mm=117.0))
        assert "bottoms_add_preload" in codes(as_read)
        kept_back = ridden(put(read, front__left__adjuster__now=8.0), front_marker_mm=50.0)
        assert not {"marker_below_sag", "travel_kept_back"} & set(codes(judged(kept_back)))

    def test_without_rider_sag_it_is_to_be_measured_first(self) -> None:
        job = put(FULL, sag__front__rider__down_mm=(), sag__front__rider__up_mm=())
        sentences = sentence(found(judged(ridden(job, front_marker_mm=117.0)), "bottoms_sag_unknown"))
        assert "Measure rider sag: if it is too large, add preload; if it is right, try a smaller air gap." in sentences

    def test_the_damping_that_is_left_is_said(self) -> None:
        job = put(FULL, front__left__compression__now=7.0, front__left__compression__total=24.0)
        sentences = sentence(found(judged(ridden(job, front_marker_mm=117.0)), "bottoms_air_gap"))
        assert "then add compression (7 clicks left); fit stiffer springs last" in sentences
        sentences = sentence(found(judged(ridden(job, front_marker_mm=80.0)), "travel_kept_back"))
        assert "reduce compression (17 clicks left); do not fit softer springs" in sentences

    def test_a_marker_short_of_rider_sag_cannot_be_right(self) -> None:
        assessment = judged(ridden(front_marker_mm=28.0))
        assert "marker_below_sag" in codes(assessment)
        assert "travel_kept_back" not in codes(assessment)

    def test_the_shock_tells_both_its_compression_adjusters(self) -> None:
        job = put(FULL, rear__low_speed_compression__now=3.0, rear__high_speed_compression__now=1.0)
        job = put(job, rear__high_speed_compression__unit="turns")
        sentences = sentence(found(judged(ridden(job, rear_marker_mm=58.0)), "bottoms_damping"))
        assert "Add compression, low-speed 3 clicks left, high-speed 1 turn left; fit a stiffer" in sentences

    @pytest.mark.parametrize(("low", "high", "code"), [(0.0, 0.0, "closed"), (0.0, 1.0, ""), (0.0, None, "closed")])
    def test_a_shock_whose_compression_is_closed_needs_a_spring(self, low: float, high: float, code: str) -> None:
        job = put(FULL, rear__low_speed_compression__now=low, rear__high_speed_compression__now=high)
        expected = "bottoms_damping_closed" if code else "bottoms_damping"
        assert expected in codes(judged(ridden(job, rear_marker_mm=58.0)))

    def test_a_shock_marker_short_of_rider_sag_cannot_be_right(self) -> None:
        """28.5 mm at the wheel is 11.4 mm of shock at a ratio of 0.4; 2 mm are a matter of reading."""
        finding = found(judged(ridden(rear_marker_mm=9.0)), "marker_below_sag")
        assert finding.where == ("runs", 0, "rear_marker_mm")
        assert finding.values["rider_mm"] == pytest.approx(11.4)
        assert "marker_below_sag" not in codes(judged(ridden(rear_marker_mm=9.5)))

    def test_the_shock_keeps_travel_back_without_a_word(self) -> None:
        assert "travel_kept_back" not in codes(judged(ridden(rear_marker_mm=30.0)))

    def test_what_was_changed_since_is_judged_by_the_next_run(self) -> None:
        job = ridden(front_marker_mm=117.0)
        assert found(judged(job), "bottoms_air_gap").severity is Severity.WARNING
        after = found(judged(put(job, front__left__air_gap_mm=105.0)), "bottoms_air_gap")
        assert after.severity is Severity.WARNING  # no air gap was recorded before: nothing says it was changed
        job = put(
            ridden(put(FULL, front__left__air_gap_mm=110.0), front_marker_mm=117.0), front__left__air_gap_mm=105.0
        )
        after = found(judged(job), "bottoms_air_gap")
        assert after.severity is Severity.NOTE
        assert sentence(after).endswith("Changed since: ride again to judge.")

    def test_the_adjuster_is_judged_as_it_was_ridden(self) -> None:
        job = ridden(put(FULL, front__left__adjuster__now=16.0), front_marker_mm=117.0)
        eased = put(job, front__left__adjuster__now=4.0)
        assert found(judged(eased), "bottoms_adjuster_in").severity is Severity.NOTE

    def test_so_is_the_collar_of_the_shock(self) -> None:
        job = ridden(put(FULL, rear__collar__now=10.0), rear_marker_mm=58.0)
        eased = put(job, rear__collar__now=2.0)
        assert found(judged(eased), "bottoms_adjuster_in").where == ("runs", 0, "rear_marker_mm")
        assert "bottoms_adjuster_in" not in codes(judged(ridden(rear_marker_mm=58.0)))

    def test_rider_sag_of_the_shock_counts_as_read_for_the_preload_that_was_ridden(self) -> None:
        large = put(FULL, sag__rear=sag_end(7.5, 45.0), sag__rear__rider__preload_at=(2.0,))
        job = ridden(large, rear_marker_mm=58.0)
        assert "bottoms_add_preload" in codes(judged(job))
        assert "bottoms_add_preload" in codes(judged(put(job, rear__collar__now=6.0)))

    def test_a_lost_millimetre_or_two_is_a_matter_of_reading(self) -> None:
        assert "marker_beyond_travel" not in codes(judged(ridden(front_marker_mm=121.5)))
        assert found(judged(ridden(front_marker_mm=122.5)), "marker_beyond_travel").severity is Severity.FAULT

    @pytest.mark.parametrize("words", RUNS.values(), ids=list(RUNS))
    def test_every_reading_is_told_in_two_lines_of_a_terminal(self, words: Words) -> None:
        values = dict.fromkeys(re.findall(r"\{(\w+):(?:length|short|count|counted|pressure)\}", words.sentence), 100.0)
        texts: dict[str, object] = {
            "changed_since_text": FLAGS["changed_since"],
            "remedy_text": REMEDIES["compression"],
            "stop_text": STOPS["rubber"],
            "clicks_unit": "clicks",
            "low_unit": "clicks",
            "high_unit": "turns",
        }
        finding = Finding("travel_kept_back", Severity.NOTE, ("runs", 0, "front_marker_mm"), values | texts)
        text = fill(words.sentence, {"path": finding.where, **finding.values}, Units())
        assert len(text) <= 215, text

    def test_well_used_travel_says_nothing(self) -> None:
        assert codes(judged(ridden(front_marker_mm=105.0, rear_marker_mm=50.0))) == codes(judged(ridden()))

    def test_only_the_latest_run_is_warned_about(self) -> None:
        job = ridden(front_marker_mm=119.0)
        later = replace(job, runs=(*job.runs, replace(new_run(job, "11:00"), front_marker_mm=100.0)))
        assert "bottoms_air_gap" in codes(judged(job))
        assert "bottoms_air_gap" not in codes(judged(later))


def test_the_finding_on_a_marker_stays_until_a_later_run_has_one() -> None:
    job = ridden(front_marker_mm=117.0)
    begun = replace(job, runs=(*job.runs, new_run(job, "15:00")))
    one, again = (found(judged(of), "bottoms_air_gap") for of in (job, begun))
    assert again == one
    assert again.where == ("runs", 0, "front_marker_mm")
    marked = replace(begun, runs=(*job.runs, replace(begun.runs[-1], front_marker_mm=100.0)))
    assert "bottoms_air_gap" not in codes(judged(marked))


def test_the_deepest_marker_stands_on_the_curve() -> None:
    job = ridden(front_marker_mm=100.0, rear_marker_mm=40.0)
    for end, at in (("front", 100.0), ("rear", 100.0)):  # 40 mm of stroke at a ratio of 0.4 is 100 mm of wheel
        curve = predicted_curve(job, judged(job), end, 20)  # type: ignore[arg-type]
        assert curve is not None
        assert dict(curve.marks)["marker"] == pytest.approx(at)


def test_each_state_stands_on_the_curve_where_it_is_captured_and_where_it_is_predicted() -> None:
    job = put(ridden(), weights__front_alone_kg=90.0, weights__front_aboard_kg=120.0, geometry__rake_deg=24.0)
    curve = predicted_curve(job, judged(job), "front", 20)
    assert curve is not None
    marks, predicted = dict(curve.marks), judged(job).predicted.front
    assert (marks["static_captured"], marks["rider_captured"]) == (20.0, 33.0)
    assert marks["static_predicted"] == predicted.static.travel_mm.value
    assert marks["rider_predicted"] == predicted.rider.travel_mm.value
