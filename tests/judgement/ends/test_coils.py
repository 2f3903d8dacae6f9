"""Springs from their coils: rate, solid length, coil bind before it is ridden, and rates that do not agree."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from judgement_jobs import FULL, codes, found, judged, put, split
from stanchion.job.model import Coils, Job, TopOut
from stanchion.job.model import TesterPair as Reading
from stanchion.judgement.results.findings import Severity
from stanchion.mechanics.spring import SPRING_STEEL_MPA
from stanchion.wording.finding_words import reason, sentence

COILS = Coils(wire_mm=4.5, outer_mm=42.5, total_coils=22.0, wire="oil_tempered")
"""D = 38 mm, 20 active coils: k = 77 200 · 4.5⁴ / (8 · 38³ · 20) = 3.6058 N/mm; solid 22 · 4.5 = 99 mm.
Sum of minimum gaps 20 · (0.0015 · 38²/4.5 + 0.45) = 18.6267 mm (by hand)."""
LEFT = "front__left__spring__"


def pairs(*readings: tuple[float, float]) -> tuple[Reading, ...]:
    return tuple(Reading(length_mm=length, force_n=force) for length, force in readings)


def with_coils(coils: Coils = COILS, travel_mm: float | None = 100.0, **changes: object) -> Job:
    return put(FULL, **{f"{LEFT}coils": coils, "front__travel_mm": travel_mm}, **changes)


class TestWhatCoilsSay:
    def test_wire_coil_and_ends_give_rate_and_solid_length(self) -> None:
        figures = judged(with_coils()).springs.left
        assert figures.rate_calculated_n_per_mm.value == pytest.approx(3.605758, rel=1e-6)
        assert figures.active_coils.value == 20.0
        assert figures.solid_length_mm.value == 99.0
        assert figures.solid_length_from == "nominal"
        assert figures.required_clearance_mm.value == pytest.approx(18.626667, rel=1e-6)

    def test_the_modulus_used_is_stated_with_its_source(self) -> None:
        figures = judged(with_coils()).springs.left
        assert figures.shear_modulus_mpa.value == 77_200.0
        assert "Shigley" in figures.shear_modulus_source
        assert not figures.rate_calculated_n_per_mm.estimate

    def test_an_unknown_wire_gives_an_estimate_with_the_bounds_of_spring_steel(self) -> None:
        figures = judged(with_coils(replace(COILS, wire="unknown"))).springs.left
        low, high = figures.rate_calculated_range or (0.0, 0.0)
        assert figures.rate_calculated_n_per_mm.estimate
        assert low == pytest.approx(3.605758, rel=1e-6)
        assert high / low == pytest.approx(SPRING_STEEL_MPA[1] / SPRING_STEEL_MPA[0])
        assert low < (figures.rate_calculated_n_per_mm.value or 0.0) < high

    def test_a_measured_solid_length_wins(self) -> None:
        figures = judged(with_coils(replace(COILS, solid_length_mm=97.0))).springs.left
        assert (figures.solid_length_mm.value, figures.solid_length_from) == (97.0, "measured")

    def test_ends_left_unground_take_the_longest_solid_length_of_the_standard(self) -> None:
        figures = judged(with_coils(replace(COILS, ends="closed"))).springs.left
        assert (figures.solid_length_mm.value, figures.solid_length_from) == (105.75, "standard_limit")

    def test_missing_coils_are_asked_for_by_name_and_no_number_is_made_up(self) -> None:
        figures = judged(with_coils(Coils(wire_mm=4.5))).springs.left
        assert reason(figures.rate_calculated_n_per_mm) == ("needs coil outside diameter and coils in total")
        assert figures.rate_calculated_n_per_mm.value is None
        assert figures.coil_bind_clearance_mm.value is None

    def test_coils_that_cannot_be_wound_give_no_rate(self) -> None:
        figures = judged(with_coils(replace(COILS, outer_mm=8.0))).springs.left
        assert figures.rate_calculated_n_per_mm.problem == "out_of_range"

    def test_the_right_leg_is_the_left_until_they_are_split(self) -> None:
        job = with_coils()
        assert judged(job).springs.right == judged(job).springs.left
        apart = put(split(job), front__right__spring__coils=Coils())
        assert not judged(apart).springs.right.solid_length_mm.known
        without = put(split(job), front__right__spring_fitted=False)
        assert reason(judged(without).springs.right.solid_length_mm) == "this leg has no spring"


class TestWhatATesterSays:
    def test_the_rate_is_the_slope_through_the_readings(self) -> None:
        job = with_coils(Coils(tester=pairs((250, 0.2), (240, 95.1), (230, 189.7), (220, 285.4), (210, 380.0))))
        figures = judged(job).springs.left
        assert figures.rate_measured_n_per_mm.value == pytest.approx(9.499, abs=1e-9)
        assert figures.rate_measured_uncertainty_n_per_mm.value == pytest.approx(0.009434, abs=1e-6)

    def test_two_readings_give_a_rate_and_no_uncertainty(self) -> None:
        figures = judged(with_coils(Coils(tester=pairs((240, 95), (220, 285))))).springs.left
        assert figures.rate_measured_n_per_mm.value == pytest.approx(9.5)
        assert reason(figures.rate_measured_uncertainty_n_per_mm) == "two tester readings give no uncertainty"

    def test_one_reading_gives_no_rate(self) -> None:
        figures = judged(with_coils(Coils(tester=pairs((240, 95))))).springs.left
        assert reason(figures.rate_measured_n_per_mm) == "needs tester readings"

    @pytest.mark.parametrize("readings", [((240, 95), (220, 40)), ((240, 95), (240, 99), (240, 101))])
    def test_readings_that_do_not_rise_are_said_to_be_wrong(self, readings: tuple[tuple[float, float], ...]) -> None:
        assessment = judged(with_coils(Coils(tester=pairs(*readings))))
        assert not assessment.springs.left.rate_measured_n_per_mm.known
        assert found(assessment, "tester_disordered").where == ("front", "left", "spring")

    @given(
        rate=st.floats(1, 200),
        lengths=st.lists(st.integers(50, 300), min_size=2, max_size=8, unique=True),
    )
    def test_a_straight_spring_gives_its_rate_whatever_lengths_were_read(self, rate: float, lengths: list[int]) -> None:
        readings = pairs(*((float(length), rate * (300 - length)) for length in lengths))
        figures = judged(with_coils(Coils(tester=readings))).springs.left
        assert figures.rate_measured_n_per_mm.value == pytest.approx(rate, rel=1e-9)


class TestCoilBind:
    """Free 250, solid 99, 20 mm of preload fully in: 131 mm are left for the travel (by hand)."""

    @pytest.mark.parametrize(
        ("travel_mm", "code", "severity"),
        [
            (131.0, "coil_bind_at_the_end", Severity.FAULT),
            (131.2, "coil_bind", Severity.FAULT),
            (140.0, "coil_bind", Severity.FAULT),
            (128.5, "coil_bind_near", Severity.FAULT),  # under 3 mm: common practice, no published source
            (127.9, "coil_gaps_small", Severity.NOTE),  # under 18.63 mm, EN 13906-1
            (113.0, "coil_gaps_small", Severity.NOTE),
            (112.0, "coil_gaps_small_when_ridden", Severity.NOTE),  # under 1.5 times that, 27.94 mm
            (103.5, "coil_gaps_small_when_ridden", Severity.NOTE),
        ],
    )
    def test_what_is_left_at_full_travel_is_judged(self, travel_mm: float, code: str, severity: Severity) -> None:
        assessment = judged(with_coils(travel_mm=travel_mm, front__left__adjuster__now=16.0))
        assert assessment.springs.left.coil_bind_clearance_mm.value == pytest.approx(131.0 - travel_mm)
        finding = found(assessment, code)
        assert (finding.severity, finding.where) == (severity, ("front", "left", "spring"))
        assert [c for c in codes(assessment) if c.startswith("coil_")] == [code]

    def test_exactly_solid_is_not_said_to_bind_nothing_before_full_travel(self) -> None:
        for travel_mm in (130.97, 131.0, 131.04):
            job = with_coils(travel_mm=travel_mm, front__left__adjuster__now=16.0)
            assert sentence(found(judged(job), "coil_bind_at_the_end")) == (
                "Fork, both legs: nothing is left between the coils at full travel, at 20 mm preload. Do not ride: fit "
                "another spring."
            )
        job = with_coils(travel_mm=131.2, front__left__adjuster__now=16.0)
        assert "bind 0.2 mm before" in sentence(found(judged(job), "coil_bind"))

    def test_what_would_bind_only_further_in_is_a_warning_with_what_is_spare(self) -> None:
        # 4 turns in, 2 mm: 250 − 99 − 14 − 131 leave 6 mm now, 3 more than the least; fully in it is nothing.
        finding = found(judged(with_coils(travel_mm=131.0)), "coil_bind_further_in")
        assert finding.severity is Severity.WARNING
        assert sentence(finding) == (
            "Fork, both legs: 6.0 mm left between the coils at full travel as set now, 0.0 mm with the adjuster "
            "fully in: turn it in by 3.0 mm at most."
        )
        unknown = judged(with_coils(travel_mm=131.0, front__left__adjuster__now=None))
        assert found(unknown, "coil_bind_at_the_end").severity is Severity.FAULT

    def test_room_enough_is_not_worth_a_word(self) -> None:
        assert not [c for c in codes(judged(with_coils(travel_mm=103.0))) if c.startswith("coil_")]

    def test_the_greatest_preload_counts_and_not_the_one_set_now(self) -> None:
        out, fully_in = with_coils(front__left__adjuster__now=1.0), with_coils(front__left__adjuster__now=15.0)
        assert judged(out).springs.left.coil_bind_clearance_mm == judged(fully_in).springs.left.coil_bind_clearance_mm

    def test_packers_give_clearance_back(self) -> None:
        figures = judged(with_coils(travel_mm=120.0, front__packers_mm=10.0)).springs.left
        assert figures.coil_bind_clearance_mm.value == pytest.approx(21.0)

    def test_a_fault_at_the_present_preload_is_told_though_the_range_is_not_known(self) -> None:
        job = with_coils(
            travel_mm=136.0,
            front__left__spring__set_length_in_mm=None,
            front__left__adjuster__total_turns=None,
            front__left__adjuster__pitch_mm=0.5,
        )
        assessment = judged(job)
        assert not assessment.springs.left.coil_bind_clearance_mm.known
        assert assessment.springs.left.clearance_now_mm.value == pytest.approx(250 - 99 - 14 - 136)
        assert "at 14 mm preload" in sentence(found(assessment, "coil_bind_near"))

    def test_a_spring_no_longer_than_its_solid_length_is_a_measuring_error(self) -> None:
        assessment = judged(with_coils(replace(COILS, solid_length_mm=250.0)))
        assert found(assessment, "solid_not_shorter").severity is Severity.FAULT
        assert "coil_bind" not in codes(assessment)

    def test_the_travel_of_a_shock_spring_must_exceed_preload_and_stroke(self) -> None:
        coils = Coils(wire_mm=11.0, outer_mm=78.0, total_coils=8.0, solid_length_mm=100.0)
        job = put(FULL, rear__spring__coils=coils, rear__stroke_mm=60.0)
        figures = judged(job).springs.rear
        assert figures.usable_travel_mm.value == 80.0
        assert figures.coil_bind_clearance_mm.value == pytest.approx(80 - 60 - 12 - 15)
        job = put(job, rear__collar__now=10.0)
        assert "no more than stroke 60.0 mm plus preload 27.0 mm" in sentence(found(judged(job), "coil_bind"))
        enough = put(job, rear__stroke_mm=45.0)
        assert "coil_bind" not in codes(judged(enough))

    def test_a_length_read_off_the_stop_leaves_that_much_more(self) -> None:
        """Drawn out until a top-out spring of 20 mm touched, the leg was already 20 mm in (by hand)."""
        top_out = TopOut(fitted="yes", rate_n_per_mm=30.0, works_over_mm=20.0)
        job = with_coils(front__top_out=top_out, front__left__read_at="touching")
        assert judged(job).springs.left.coil_bind_clearance_mm.value == pytest.approx(31.0 + 20.0)
        assembled = put(job, front__left__read_at="assembled")
        reading_point = 20.0 - 9.5 * 20.0 / 30.0  # of the set length fully in
        assert judged(assembled).springs.left.coil_bind_clearance_mm.value == pytest.approx(31.0 + reading_point)

    @given(
        preload=st.floats(0, 30),
        travel=st.floats(20, 300),
        wire=st.floats(3, 6),
        more=st.floats(0.1, 20),
    )
    def test_more_travel_never_leaves_more(self, preload: float, travel: float, wire: float, more: float) -> None:
        coils = replace(COILS, wire_mm=wire)
        short = with_coils(coils, travel_mm=travel, front__left__spring__set_length_in_mm=238.0 - preload)
        less = judged(short).springs.left.coil_bind_clearance_mm.value
        longer = judged(put(short, front__travel_mm=travel + more)).springs.left.coil_bind_clearance_mm.value
        assert less is not None
        assert longer == pytest.approx(less - more)

    def test_gaps_below_half_as_much_again_are_noted_with_what_is_wanted(self) -> None:
        """18.63 mm of least gaps, half as much again 27.94 mm (EN 13906-1, as the module names it); 21 mm are left."""
        finding = found(judged(with_coils(travel_mm=110.0)), "coil_gaps_small_when_ridden")
        assert (finding.severity, finding.values["left_mm"]) == (Severity.NOTE, 21.0)
        assert finding.values["required_mm"] == pytest.approx(1.5 * 18.626667, rel=1e-6)


class TestRatesThatDoNotAgree:
    """5 %: common practice, no published source."""

    def test_a_label_far_from_the_tester_is_noted(self) -> None:
        job = with_coils(Coils(tester=pairs((240, 90), (220, 270), (200, 450))))  # 9.0; the label says 9.5
        finding = found(judged(job), "label_and_tester_differ")
        assert finding.severity is Severity.NOTE
        assert "label 9.50 N/mm, spring tester 9.00 N/mm" in sentence(finding)

    def test_of_legs_entered_apart_it_is_noted_of_the_leg_that_has_it(self) -> None:
        tester = Coils(tester=pairs((240, 90), (220, 270), (200, 450)))
        job = put(split(FULL), front__right__spring__coils=tester)
        assert found(judged(job), "label_and_tester_differ").where[:2] == ("front", "right")

    def test_a_label_near_the_tester_is_not(self) -> None:
        job = with_coils(Coils(tester=pairs((240, 91), (220, 273), (200, 455))))  # 9.1: 4.2 % off
        assert "label_and_tester_differ" not in codes(judged(job))

    def test_the_note_says_which_two_disagree(self) -> None:
        coils = replace(COILS, tester=pairs((240, 36), (220, 108)))  # 3.6, as the coils say; the label says 9.5
        assert {c for c in codes(judged(with_coils(coils))) if c.endswith("_differ")} == {
            "label_and_tester_differ",
            "label_and_coils_differ",
        }
        relabelled = with_coils(coils, front__left__spring__rate_n_per_mm=3.6)
        assert not [c for c in codes(judged(relabelled)) if c.endswith("_differ")]
        tester = replace(COILS, tester=pairs((240, 40), (220, 120)))
        both = found(judged(with_coils(tester)), "tester_and_coils_differ")
        assert both.values["share"] == pytest.approx((4.0 - 3.605758) / 4.0, rel=1e-6)

    def test_a_label_within_what_unknown_wire_may_give_is_not_doubted(self) -> None:
        unknown = replace(COILS, wire="unknown")  # 3.606 to 3.807
        assert "label_and_coils_differ" not in codes(
            judged(with_coils(unknown, front__left__spring__rate_n_per_mm=3.95))
        )
        assert "label_and_coils_differ" in codes(judged(with_coils(unknown, front__left__spring__rate_n_per_mm=4.05)))
