"""Machines that a workshop meets, with the physics beside each: what is to be asked for, and that it does.

Unless a case says otherwise: a track machine (front static 15 to 25, rider 28 to 38; rear 5 to 10 and 25 to 32; installed
preload 8 to 15 and 8 to 18; common practice, no published source) that is weighed and measured exactly. Its loads are
those that the springs push with at the sags a case gives: W cos(rake) = 2 k (P + x) at the front, W = m k (P + m z) at
the rear, P being preload now.
"""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest
from scipy.optimize import brentq

from judgement_jobs import PROFILES, assert_sound, put
from stanchion.job.model import (
    Adjuster,
    Coils,
    Front,
    Geometry,
    Job,
    Leg,
    LinkagePair,
    Occasion,
    Readings,
    Rear,
    Run,
    SagEnd,
    Spring,
    Stack,
    TopOut,
    Torque,
    Weights,
)
from stanchion.judgement.assess import assess
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.springs.stock import Stock, StockSpring
from stanchion.planning.spring_choice import choose
from stanchion.planning.spring_edits import as_edits
from stanchion.planning.whatif import compare
from stanchion.report.check import as_text
from stanchion.report.sheet import make_sheet
from stanchion.report.sheet_text import sheet_text
from stanchion.wording.finding_words import headline, sentence
from stanchion.wording.verdicts import SPRING_VERDICTS
from true_machines.asks import Ask, advice_at, ask_of, asks_at, ends_of, said, target_at
from true_machines.judged import Judged
from true_machines.machines import USES, Case, changed_since, sag_of
from true_machines.physics import G, fork_of, loads_of, rear_of
from true_machines.remedies import Truth
from true_machines.voices import advice_and_target, opposite_words, opposite_work, suits_beside_work
from true_machines.work_done import applied

RAKE = 24.0
FRONT_UNSPRUNG, REAR_UNSPRUNG = 14.0, 16.0
RATIO = 0.4
TURNS = 12.0
"""Turns of the fork's adjusters; each adds 1 mm."""


def machine(
    *,
    rate: float = 9.5,
    installed: float = 12.0,
    turned: float = 4.0,
    front: tuple[float, float] = (20.0, 33.0),
    rear_rate: float = 90.0,
    rear_installed: float = 10.0,
    rear_turned: float = 2.0,
    rear: tuple[float, float] = (7.5, 28.5),
) -> Job:
    """A machine that sags so, and nothing read of it yet. A turn is 1 mm at either end."""
    cosine = math.cos(math.radians(RAKE))
    static, rider = (2 * rate * (installed + turned + x) / cosine for x in front)
    rear_static, rear_rider = (RATIO * rear_rate * (rear_installed + rear_turned + RATIO * z) for z in rear)
    leg = Leg(
        spring=Spring(
            rate_n_per_mm=rate,
            free_length_mm=250.0,
            set_length_mm=250.0 - installed,
            set_length_in_mm=250.0 - installed - TURNS,
        ),
        adjuster=Adjuster(total_turns=TURNS, now=turned),
        stack=Stack(spacer_mm=100.0),
    )
    shock = Rear(
        spring=Spring(rate_n_per_mm=rear_rate, free_length_mm=180.0, set_length_mm=180.0 - rear_installed),
        collar=Adjuster(pitch_mm=1.0, total_turns=16.0, now=rear_turned),
        motion_ratio=RATIO,
        wheel_travel_mm=125.0,
        stroke_mm=50.0,
        shaft_mm=14.0,
        gas_pressure_bar=0.0,
        top_out=TopOut(fitted="no"),
    )
    return Job(
        job=Occasion(machine="Lantern 600 (invented)", rider="Test Rider", use="track"),
        front=Front(left=leg, travel_mm=125.0, top_out=TopOut(fitted="no")),
        rear=shock,
        geometry=Geometry(rake_deg=RAKE),
        weights=Weights(
            front_unsprung_kg=FRONT_UNSPRUNG,
            rear_unsprung_kg=REAR_UNSPRUNG,
            front_alone_kg=static / G + FRONT_UNSPRUNG,
            front_aboard_kg=rider / G + FRONT_UNSPRUNG,
            rear_alone_kg=rear_static / G + REAR_UNSPRUNG,
            rear_aboard_kg=rear_rider / G + REAR_UNSPRUNG,
        ),
    )


def read(true: Job, doubt: str = "") -> Job:
    """The machine with its sags read."""
    return replace(true, sag=sag_of(true, doubt=doubt))


def judged(job: Job) -> Assessment:
    """What is said of it, which is sound whatever it is."""
    assessment = assess(job, PROFILES)
    assert_sound(assessment)
    return assessment


def advised(job: Job, end: str = "front") -> Ask:
    """The advice at one end, which nothing else said of that end contradicts."""
    case = Case(0, replace(job, sag=job.sag), job, "exact")
    of = Judged(case)
    against = [*opposite_work(of), *opposite_words(of), *advice_and_target(of), *suits_beside_work(of)]
    assert [one for one in against if one.where == end] == []
    advice = advice_at(of.assessment, end)
    assert advice is not None
    ask = ask_of(advice)
    assert ask is not None, advice
    return ask


def truth(true: Job, end: str = "front") -> Truth:
    """What the machine does."""
    return Truth(fork_of(true) if end == "front" else rear_of(true), loads_of(true)[end], USES[true.job.use])


def done(true: Job, ask: Ask, end: str = "front") -> Truth:
    """What the machine does once the advice was followed."""
    after = applied(true, end, ask)
    assert after is not None, ask
    return truth(after, end)


def assert_right(of: Truth) -> None:
    """Both sags in target, the adjuster in its range, installed preload in its band."""
    assert of.now <= 0.05, of.sags
    assert of.room[0] <= 0.02
    assert of.room[1] >= -0.02
    assert of.out_of_band() <= 0.02, of.installed


def at(assessment: Assessment, end: str) -> list[Finding]:
    """Everything found at one end alone, the sentence for the target with it."""
    findings_at = [one for one in assessment.findings if ends_of(one) == (end,)]
    target = target_at(assessment, end)
    return findings_at if target is None or target in findings_at else [*findings_at, target]


class TestTheCasesBesideWhichTheTableWasWrong:
    def test_the_machine_they_start_from_is_right(self) -> None:
        assert truth(machine()).sags == pytest.approx((20.0, 33.0), abs=1e-6)
        assert truth(machine(), "rear").sags == pytest.approx((7.5, 28.5), abs=1e-6)
        for end in ("front", "rear"):
            ask = advised(read(machine()), end)
            assert (ask.work, ask.way) == ("none", "")

    def test_four_turns_too_far_in_asks_for_turns_out_and_not_for_a_stiffer_spring(self) -> None:
        # 4 mm out takes static from 12.5 to 16.5 and rider from 29 to 33.
        true = machine(turned=8.0, front=(12.5, 29.0))
        ask = advised(read(true))
        assert (ask.work, ask.way) == ("turns", "less")
        assert 2.5 <= ask.numbers["turns"] <= 8.0
        assert_right(done(true, ask))

    def test_a_collar_too_far_in_asks_for_turns_out(self) -> None:
        # 1.2 mm out at the collar is 3 mm at the wheel: static from 4 to 7, rider from 26 to 29.
        true = machine(rear=(4.0, 26.0), rear_turned=6.0)
        ask = advised(read(true), "rear")
        assert (ask.work, ask.way) == ("turns", "less")
        assert_right(done(true, ask, "rear"))

    def test_three_mm_of_longer_spacer_does_it(self) -> None:
        # Fully in; 3 mm more brings static from 27 to 24 and rider from 40 to 37, installed from 10 to 13.
        true = machine(installed=10.0, turned=TURNS, front=(27.0, 40.0))
        ask = advised(read(true))
        assert (ask.work, ask.way) == ("spacer", "more")
        assert 2.0 <= ask.numbers["spacer_change_mm"] <= 5.0
        assert_right(done(true, ask))

    def test_four_mm_of_shorter_spacer_does_it(self) -> None:
        # Fully out; 4 mm less brings static from 12 to 16 and rider from 27 to 31, installed from 13 to 9.
        true = machine(installed=13.0, turned=0.0, front=(12.0, 27.0))
        ask = advised(read(true))
        assert (ask.work, ask.way) == ("spacer", "less")
        assert 3.0 <= ask.numbers["spacer_change_mm"] <= 5.0
        assert_right(done(true, ask))

    def test_no_room_for_less_preload_is_a_softer_spring_and_nothing_beside_it(self) -> None:
        # Fully out at 8.5 installed: half a millimetre is all there is, and static is at 24 already.
        true = machine(installed=8.5, turned=0.0, front=(24.0, 26.0))
        ask = advised(read(true))
        assert (ask.work, ask.way) == ("spring", "softer")
        assert "less" not in {way for one in asks_at(judged(read(true)), "front") for way in (one.way,)}

    def test_sags_far_apart_are_a_stiffer_spring_and_never_more_preload_beside_it(self) -> None:
        # 28 mm apart where 3 to 23 is what the targets allow: no preload brings both in.
        true = machine(front=(16.0, 44.0))
        ask = advised(read(true))
        assert (ask.work, ask.way) == ("spring", "stiffer")

    def test_a_spacer_is_not_advised_where_it_brings_only_one_sag_in(self) -> None:
        # 5 mm more would bring rider to 37, static to 9.
        true = machine(installed=9.0, turned=TURNS, front=(14.0, 42.0))
        assert advised(read(true)).work == "spring"

    def test_a_spacer_is_not_advised_that_takes_installed_preload_out_of_its_band(self) -> None:
        # 6 mm more at least, 1.5 allowed.
        true = machine(installed=13.5, turned=TURNS, front=(29.0, 44.0))
        ask = advised(read(true))
        assert (ask.work, ask.way) == ("spring", "stiffer")

    def test_never_a_sliver_of_spacer_beside_turns(self) -> None:
        # 2 mm would just do: the adjuster has 1.8 left, the band 0.2.
        true = machine(installed=14.8, turned=TURNS - 1.8, front=(26.0, 40.0))
        ask = advised(read(true))
        assert ask.work != "spacer" or ask.numbers["spacer_change_mm"] >= 0.5

    def test_the_last_of_the_adjuster_that_brings_both_in_is_enough(self) -> None:
        # The middle of the target would take 7 mm, both sags are in with the 4 there are.
        true = machine(turned=TURNS - 4.0, front=(26.0, 40.0))
        ask = advised(read(true))
        assert (ask.work, ask.way) == ("turns", "more")
        assert_right(done(true, ask))

    def test_more_turns_than_there_are_do_not_stand_beside_a_softer_spring(self) -> None:
        # 3 mm out brings rider from 20 to 23: not in, and the spacer can give no more than 1. At 4 mm apart instead of
        # the 3 wanted at least, a spring that is softer by a fifth needs preload (9 + 3 + 20) * 5/4 - 33 = 7 mm.
        true = machine(installed=9.0, turned=3.0, front=(16.0, 20.0))
        ask = advised(read(true))
        assert (ask.work, ask.way) == ("spring", "softer")

    def test_where_the_sags_hardly_differ_no_softer_spring_is_asked_for(self) -> None:
        # 0.1 mm apart, at least 3 wanted: a spring thirty times softer, with 1,000 mm of preload. What the adjuster has
        # left brings rider sag nearer, and that is asked for.
        true = machine(installed=9.0, turned=3.0, front=(22.5, 22.6))
        ask = advised(read(true))
        assert (ask.finding.code, ask.work, ask.way) == ("no_spring_needs_more", "turns", "less")
        assert ask.numbers["turns"] == pytest.approx(3.0)
        turned = applied(true, "front", ask)
        assert turned is not None
        after = read(turned)
        assert (advised(after).finding.code, advised(after).work) == ("no_spring_needs_more", "measure")

    def test_a_spacer_does_not_take_a_sag_out_of_its_target_within_what_one_reading_can_tell(self) -> None:
        # Over its limit by 7.5 mm, and the adjuster makes up for 3.3: rider sag would go from 35 to 40 or 41. One reading
        # is told to some 2.5 mm, yet 40 is more likely out of 28 to 38 than in.
        true = machine(installed=22.5, turned=TURNS - 3.3, front=(13.0, 35.0))
        read_once = SagEnd(
            hanging_mm=(600.0,),
            static=Readings(down_mm=(586.0,), up_mm=(588.0,)),
            rider=Readings(down_mm=(564.0,), up_mm=(566.0,)),
        )
        ask = advised(put(true, sag__front=read_once, sag__tape_resolution_mm=1.0))
        assert (ask.work, ask.way) == ("spring", "stiffer")

    def test_a_spacer_over_its_limit_is_made_up_for_at_the_adjuster_where_rider_sag_is_near_the_end_of_its_target(
        self,
    ) -> None:
        # Installed 15.2 mm, and 0.3 mm of sag left: 1.2 mm off the spacer comes back with 1.2 of the 8 turns in.
        true = machine(installed=15.2, turned=4.0, front=(22.0, 37.7))
        ask = advised(read(true))
        assert (ask.work, ask.way) == ("spacer", "less")
        assert_right(done(true, ask))

    def test_no_turn_is_asked_for_that_is_shown_as_none(self) -> None:
        # Static sag 0.66 mm short and rider sag 0.32 mm over: 0.17 mm at the wheel, 0.07 mm of a collar that moves 2 mm
        # a turn, would share what is missing.
        true = put(machine(rear=(4.34, 32.32)), rear__collar=Adjuster(pitch_mm=2.0, total_turns=8.0, now=1.0))
        ask = advised(read(true), "rear")
        assert ask.work == "none"

    @pytest.mark.parametrize("turned", [1.0, 3.0, 7.0, 9.0])
    def test_one_set_of_numbers_in_advice_target_and_figures(self, turned: float) -> None:
        true = machine(turned=turned, front=(24.0 - turned, 37.0 - turned))
        job = read(true)
        assessment = judged(job)
        advice, target = advice_at(assessment, "front"), target_at(assessment, "front")
        assert advice is not None
        assert target is not None
        one, other = ask_of(advice), ask_of(target)
        assert one is not None
        assert other is not None
        assert (one.work, one.way) == (other.work, other.way)
        for name in one.numbers.keys() & other.numbers.keys():
            assert one.numbers[name] == pytest.approx(other.numbers[name], abs=1e-9)
        text = " ".join(as_text("a", job, assessment).split())
        assert " ".join(sentence(advice).split()) in text
        assert_right(done(true, one) if one.work != "none" else truth(true))

    def test_what_is_measured_corrects_what_is_reckoned(self) -> None:
        # Springs 5 % under their label: only what the tape shows brings it right.
        true = machine(turned=9.0, front=(14.0, 27.0))
        labelled = put(true, front__left__spring__rate_n_per_mm=9.5 * 1.05)
        ask = advised(replace(labelled, sag=sag_of(true)))
        assert (ask.work, ask.way) == ("turns", "less")
        assert done(true, ask).now <= 0.5


class TestReadingsThatCannotBeUsed:
    DOUBTS = ("stiction", "swapped", "impossible")

    @pytest.mark.parametrize("doubt", DOUBTS)
    @pytest.mark.parametrize("turned", [0.0, 4.0, 11.0])
    def test_no_sentence_speaks_as_if_sag_were_measured(self, doubt: str, turned: float) -> None:
        true = machine(turned=turned, front=(24.0 - turned, 37.0 - turned))
        assessment = judged(read(true, doubt))
        for finding in at(assessment, "front"):
            words = sentence(finding)
            stated = re.search(r"(now|is within|rider sag|static sag|sags?) \(?(now )?\d|in target", words)
            fault = finding.severity is Severity.FAULT  # that says which reading is wrong
            assert stated is None or fault or "predict" in words.lower(), words
            assert "orrected by the" not in words
            ask = ask_of(finding)
            assert ask is None or ask.work in ("measure", "none", "inputs") or ask.predicted, words

    @pytest.mark.parametrize("doubt", DOUBTS)
    def test_it_is_asked_to_measure_again(self, doubt: str) -> None:
        advice = advice_at(judged(read(machine(), doubt)), "front")
        assert advice is not None
        ask = ask_of(advice)
        assert ask is not None
        assert ask.work == "measure"

    def test_without_readings_the_target_is_called_predicted(self) -> None:
        for turned in (0.0, 4.0, 11.0):
            true = machine(turned=turned, front=(24.0 - turned, 37.0 - turned))
            target = target_at(judged(true), "front")
            assert target is not None
            assert "predict" in sentence(target).lower()

    def test_sags_from_before_a_change_are_not_called_measured(self) -> None:
        target = target_at(judged(changed_since(read(machine(turned=11.0, front=(13.0, 26.0))))), "front")
        assert target is None or "predict" in sentence(target).lower() or "measure" in sentence(target).lower()

    def test_a_topped_out_end_has_no_millimetre_left_over_from_a_correction(self) -> None:
        # The collar 8 mm in pushes with 0.4 · 90 · 18 N, more than the 0.4 · 90 · (12 + 0.4 · 8) it carries alone.
        true = machine(rear=(8.0, 28.5))
        # A tape that reads a little long.
        job = replace(true, sag=sag_of(machine(rear=(8.6, 29.1))))
        more = put(job, rear__collar__now=8.0)
        row = compare(job, more, PROFILES).row(("rear",), "static_captured")
        assert truth(put(true, rear__collar__now=8.0), "rear").sags[0] == 0.0
        assert row.changed.value is None or row.changed.value == pytest.approx(0.0, abs=0.01)


class TestInputsInDoubt:
    """Predicted and measured sag apart by more than both uncertainties and a quarter of the travel."""

    @pytest.mark.parametrize(
        ("end", "changes"),
        [
            ("rear", {"rear__spring__rate_n_per_mm": 20.0}),
            ("rear", {"rear__spring__rate_n_per_mm": 360.0}),
            ("front", {"front__left__spring__rate_n_per_mm": 3.0}),
        ],
    )
    def test_one_finding_doubts_them_and_nothing_else_is_concluded(self, end: str, changes: dict[str, float]) -> None:
        assessment = judged(put(read(machine()), **changes))
        asks = asks_at(assessment, end)
        assert len({(ask.finding.code, ask.finding.where) for ask in asks if ask.work == "inputs"}) == 1
        assert [ask.words for ask in asks if ask.work in ("turns", "spacer", "spring")] == []
        sentences = " ".join(sentence(finding) for finding in at(assessment, end))
        assert "suit" not in sentences
        assert "before it is ridden" not in sentences

    def test_the_worst_thing_said_of_that_end_doubts_the_inputs(self) -> None:
        assessment = judged(put(read(machine()), rear__spring__rate_n_per_mm=20.0))
        worst = next(one for one in assessment.findings if ends_of(one) == ("rear",))
        ask = ask_of(worst)
        assert ask is not None
        assert ask.work == "inputs"
        assert worst.severity >= Severity.WARNING

    def test_inputs_that_are_right_are_not_doubted(self) -> None:
        for front in ((20.0, 33.0), (12.0, 45.0), (30.0, 45.0)):
            assert not [ask for ask in asks_at(judged(read(machine(front=front))), "front") if ask.work == "inputs"]


class TestLimits:
    """The shock's spring is 180 mm free and 110 solid: 70 to be pressed together. Its stroke takes 50 of them."""

    COILS = Coils(solid_length_mm=110.0)

    def coils(self, installed: float, turned: float, turns: float) -> list[Finding]:
        job = put(machine(rear_installed=installed, rear_turned=turned), rear__spring__coils=self.COILS)
        job = read(put(job, rear__collar__total_turns=turns))
        return [one for one in judged(job).findings if "coil" in one.code]

    def test_coils_that_touch_as_it_is_set_are_a_fault(self) -> None:
        # 70 − 50 − (10 + 9) leaves 1 mm.
        assert [one.severity for one in self.coils(10.0, 9.0, 16.0)] == [Severity.FAULT]

    def test_coils_that_would_touch_further_in_are_a_warning_with_what_is_spare(self) -> None:
        # 70 − 50 − (10 + 2) leaves 8 mm now, 5 more than the least; fully in it would be −6.
        [bind] = self.coils(10.0, 2.0, 16.0)
        assert bind.severity is Severity.WARNING
        assert re.search(r"\b5(\.0)? mm\b|\b8(\.0)? mm\b", sentence(bind)), sentence(bind)

    def test_coils_with_room_enough_fully_in_are_no_fault(self) -> None:
        assert not [one for one in self.coils(8.0, 2.0, 5.0) if one.severity is Severity.FAULT]

    def test_a_bare_collar_read_and_set_at_one_place_is_judged_by_preload_as_it_stands(self) -> None:
        # 180 free, 168 set with 4 mm of thread showing: 12 mm of preload, which is in its band.
        job = machine(rear_installed=12.0, rear_turned=0.0)
        job = put(job, rear__collar__total_turns=None, rear__collar__now=6.0, rear__spring__set_length_at=6.0)
        assessment = judged(read(job))
        assert assessment.rear.spring.preload_now_mm.value == pytest.approx(12.0)
        headlines = [headline(one) for one in assessment.findings if ends_of(one) == ("rear",)]
        assert not [
            words for words in headlines if re.search("low|loose|high|limit|fully out", words, re.IGNORECASE)
        ], headlines

    def test_a_bare_collar_whose_preload_as_it_stands_is_out_of_band_is_not_passed(self) -> None:
        # 24 mm as it stands, the band ends at 18; counted from a fully-out that nobody knows it would be 18.
        job = machine(rear_installed=24.0, rear_turned=0.0)
        job = put(job, rear__collar__total_turns=None, rear__collar__now=6.0, rear__spring__set_length_at=6.0)
        found_ones = at(judged(read(job)), "rear")
        assert [one for one in found_ones if one.severity >= Severity.WARNING and "preload" in sentence(one)]

    def test_a_spring_that_is_loose_only_where_the_collar_never_stands_is_not_loose(self) -> None:
        # 2 mm short with the collar fully out, 8 mm of preload where it stands.
        assessment = judged(read(machine(rear_installed=-2.0, rear_turned=10.0)))
        found_ones = [one for one in at(assessment, "rear") if one.severity is Severity.FAULT]
        assert not [one for one in found_ones if "loose" in sentence(one)]

    def test_a_spring_that_is_loose_as_it_stands_is_a_fault(self) -> None:
        assessment = judged(read(machine(rear_installed=-4.0, rear_turned=1.0, rear=(20.0, 40.0))))
        assert [one for one in at(assessment, "rear") if one.severity is Severity.FAULT and "loose" in sentence(one)]

    def test_an_open_torque_is_a_warning_before_a_run_and_stands_on_the_sheet(self) -> None:
        torques = (Torque(what="axle nut", torque_nm=100.0), Torque(what="pinch bolts", torque_nm=22.0, done=True))
        job = put(read(machine()), upkeep__torques=torques)
        assessment = judged(job)
        found_ones = [one for one in assessment.findings if "axle nut" in sentence(one)]
        assert [one.severity for one in found_ones] == [Severity.WARNING]
        assert "axle nut" in sheet_text(make_sheet(job, assessment))
        assert not [one for one in assessment.findings if "pinch bolts" in sentence(one)]

    def test_an_open_torque_stays_on_a_sheet_that_is_full(self) -> None:
        job = put(read(machine(front=(3.0, 60.0))), upkeep__torques=(Torque(what="axle nut", torque_nm=100.0),))
        job = put(job, job__notes="\n".join(f"line {number}" for number in range(20)))
        assert "axle nut" in sheet_text(make_sheet(job, judged(job)))

    @pytest.mark.parametrize(("travel", "stiction", "worst"), [(125.0, 5.0, 1), (300.0, 10.0, 1), (300.0, 6.5, 0)])
    def test_rear_stiction_is_judged_in_proportion_to_the_travel(
        self, travel: float, stiction: float, worst: int
    ) -> None:
        # Note above 3 of 125 mm, fault above 6: of 300 mm above 7.2 and 14.4.
        job = put(machine(), job__use="off-road" if travel > 200.0 else "track", rear__wheel_travel_mm=travel)
        job = put(job, rear__stroke_mm=None)
        job = read(job)
        middle = 600.0 - 30.0
        readings = Readings(down_mm=(middle - stiction / 2,), up_mm=(middle + stiction / 2,))
        job = put(job, sag__rear__static=readings)
        severities = [
            int(one.severity) for one in judged(job).findings if "stiction" in one.code and "static" in one.where
        ]
        assert max(severities, default=0) == worst

    @pytest.mark.parametrize(
        ("travel", "left", "verdict"),
        [(125.0, 4.5, "near_full"), (300.0, 11.0, "near_full"), (300.0, 40.0, "used"), (300.0, 70.0, "kept_back")],
    )
    def test_a_marker_is_judged_by_a_share_of_the_travel(self, travel: float, left: float, verdict: str) -> None:
        # Near full within 4 %, never used beyond 20 %: 5 and 25 mm of 125, 12 and 60 mm of 300.
        job = read(put(machine(), front__travel_mm=travel))
        hanging = fork_of(job).hanging
        run = Run(front_marker_mm=travel - hanging - left, marker_from="hanging")
        assessment = judged(put(job, runs=(replace(run, front=job.front, rear=job.rear),)))
        assert assessment.run is not None
        assert assessment.run.front.verdict == verdict


class TestTheListOfSprings:
    def test_the_rate_needed_is_that_which_gives_the_sag(self) -> None:
        # Equal springs, both adjusters at mid, 6 of 12 mm, installed 11.5: k from W cos = 2 k (17.5 + 33).
        true = machine()
        choice = choose(read(true), judged(read(true)), PROFILES, "front")
        along = loads_of(true)["front"][1] * math.cos(math.radians(RAKE))
        stays = choice.wanted_installed_mm.value or 0.0
        assert choice.needed_n_per_mm.value == pytest.approx(along / (2 * (stays + 6.0 + 33.0)), rel=1e-3)

    def test_mid_range_of_one_adjuster_counts_in_its_own_leg(self) -> None:
        # Half of the range in one leg only: W cos = k (P + 33) + k (P + 6 + 33).
        true = machine()
        legs = true.front.left
        bare = replace(legs, adjuster=Adjuster(counting="none"), spring=replace(legs.spring, set_length_in_mm=None))
        true = put(true, front__right=bare)
        choice = choose(true, judged(true), PROFILES, "front")
        along = loads_of(true)["front"][1] * math.cos(math.radians(RAKE))
        stays = choice.wanted_installed_mm.value or 0.0
        by_hand = brentq(lambda k: k * (stays + 33.0) + k * (stays + 6.0 + 33.0) - along, 1.0, 40.0)
        assert choice.needed_n_per_mm.value == pytest.approx(by_hand, rel=1e-3)

    def test_the_springs_fitted_now_keep_their_stack_where_it_is_in_band(self) -> None:
        # 9 mm installed is in its band: fitted now means as they are.
        job = read(machine(installed=9.0, turned=7.0))
        choice = choose(job, judged(job), PROFILES, "front")
        [now] = [option for option in choice.options if option.fitted_now]
        assert now.installed_mm == pytest.approx(9.0)
        assert not [edit for edit in as_edits(now, job) if "spacer_mm" in edit.path or "set_length_mm" in edit.path]

    def options(self, *springs: StockSpring, job: Job | None = None) -> dict[str, str]:
        """The verdicts by the springs' labels."""
        job = read(machine(turned=8.0, installed=9.0)) if job is None else job
        choice = choose(job, judged(job), PROFILES, "front", Stock(rows=tuple(springs)))
        found: dict[str, str] = {}
        for option in choice.options:
            labels = {fitting.spring.label for fitting in option.fittings}
            if len(labels) == 1:
                found[labels.pop()] = option.verdict
        return found

    def test_a_spring_too_long_to_go_in_does_not_suit(self) -> None:
        # 40 mm longer with a spacer of 100: the leg has room, 140 longer has none.
        spring = StockSpring(end="front", rate_n_per_mm=9.5, free_length_mm=250.0, label="same", count=2)
        verdicts = self.options(spring, replace(spring, label="long", free_length_mm=390.0))
        assert verdicts["same"].startswith("suits")
        assert not verdicts["long"].startswith("suits")

    def test_a_spring_of_another_diameter_is_to_be_checked_for_fit(self) -> None:
        job = put(read(machine(turned=8.0, installed=9.0)), front__left__spring__coils=Coils(outer_mm=37.0))
        spring = StockSpring(end="front", rate_n_per_mm=9.5, free_length_mm=250.0, label="same", count=2)
        thick = replace(spring, label="thick", outer_mm=42.0)
        verdicts = self.options(replace(spring, outer_mm=37.5), thick, job=job)
        assert verdicts["same"].startswith("suits")
        assert not verdicts["thick"].startswith("suits")

    @pytest.mark.parametrize("turned", [0.0, 4.0, 12.0])
    def test_the_first_row_is_never_labelled_worse_than_one_below_it(self, turned: float) -> None:
        job = read(machine(turned=turned, front=(24.0 - turned, 37.0 - turned)))
        options = choose(job, judged(job), PROFILES, "front").options
        suits = [SPRING_VERDICTS[option.verdict].startswith("suits") for option in options]  # also once turned
        assert suits[0] or not any(suits)


class TestAnotherRider:
    @pytest.mark.parametrize("heavier", [-15.0, 20.0])
    def test_a_what_if_on_the_rider_counts_where_the_scales_were_read_with_the_old_one(self, heavier: float) -> None:
        # The scales say how much of the old rider stands on each wheel; the new one sits as he does.
        true = machine()
        w = true.weights
        front = (w.front_aboard_kg or 0.0) - (w.front_alone_kg or 0.0)
        rear = (w.rear_aboard_kg or 0.0) - (w.rear_alone_kg or 0.0)
        true = put(true, job__rider_mass_kg=front + rear)
        job = read(true)
        compared = compare(job, put(job, job__rider_mass_kg=front + rear + heavier), PROFILES)
        share = front / (front + rear)
        after = put(
            true,
            weights__front_aboard_kg=(w.front_aboard_kg or 0.0) + share * heavier,
            weights__rear_aboard_kg=(w.rear_aboard_kg or 0.0) + (1.0 - share) * heavier,
        )
        for end in ("front", "rear"):
            row = compared.row((end,), "rider_captured")
            assert row.changed.value == pytest.approx(truth(after, end).sags[1], abs=0.1)
            assert compared.row((end,), "static_captured").change == pytest.approx(0.0, abs=1e-6)


class TestHanging:
    """Where a top-out spring holds the hanging wheel: 20 mm of 40 N/mm against 9.5 N/mm and the wheel's weight."""

    TOP_OUT = TopOut(fitted="yes", rate_n_per_mm=40.0, works_over_mm=20.0)

    def test_by_hand(self) -> None:
        # 2 · 9.5 (16 + x) − 2 · 40 (20 − x) = −14 g cos 24°
        true = put(machine(), front__top_out=self.TOP_OUT)
        load = -14.0 * G * math.cos(math.radians(RAKE))
        assert fork_of(true).hanging == pytest.approx((load + 2 * 40.0 * 20.0 - 2 * 9.5 * 16.0) / (2 * 9.5 + 2 * 40.0))

    def test_sag_reads_lower_by_where_the_wheel_hangs(self) -> None:
        true = put(machine(), front__top_out=self.TOP_OUT)
        [reading] = [one for one in judged(read(true)).findings if one.values.get("unloaded_mm") is not None]
        assert reading.values["unloaded_mm"] == pytest.approx(fork_of(true).hanging, abs=1e-3)

    def test_travel_available_counts_from_where_the_wheel_hangs(self) -> None:
        true = put(machine(), front__top_out=self.TOP_OUT)
        run = Run(front_marker_mm=90.0, marker_from="hanging", front=true.front, rear=true.rear)
        used = judged(put(read(true), runs=(run,))).run
        assert used is not None
        assert used.front.available_mm.value == pytest.approx(125.0 - fork_of(true).hanging, abs=1e-3)

    def test_the_shock_has_one_too(self) -> None:
        stiff = TopOut(fitted="yes", rate_n_per_mm=200.0, works_over_mm=6.0)
        true = put(machine(rear_installed=5.0, rear_turned=1.0), rear__top_out=stiff)
        hanging = rear_of(true).hanging
        assert hanging > 1.0
        found_ones = [
            one for one in judged(read(true)).findings if ends_of(one) == ("rear",) and "lower" in sentence(one)
        ]
        assert [one.values.get("unloaded_mm") for one in found_ones] == [pytest.approx(hanging, abs=1e-3)]

    def test_which_leg_is_called_left_changes_nothing(self) -> None:
        true = put(machine(), front__top_out=self.TOP_OUT)
        bare = replace(true.front.left, adjuster=Adjuster(counting="none"))
        soft = replace(bare, spring=replace(bare.spring, rate_n_per_mm=8.5, set_length_in_mm=None))
        one = put(true, front__right=soft)
        other = put(true, front__left=soft, front__right=true.front.left)
        numbers = [
            [f.values.get("unloaded_mm") for f in judged(read(job)).findings if "unloaded_mm" in f.values]
            for job in (one, other)
        ]
        assert numbers[0] == pytest.approx(numbers[1], abs=1e-9)


class TestPairsReadWithATape:
    def test_a_last_pair_a_little_short_of_full_travel_leaves_the_rest(self) -> None:
        pairs = tuple(LinkagePair(wheel_mm=z, shock_mm=RATIO * z) for z in (30.0, 60.0, 90.0, 122.0))
        job = put(read(machine()), rear__linkage=pairs, rear__motion_ratio=None, rear__stroke_mm=None)
        assessment = judged(job)
        assert assessment.predicted.rear.rider.sag_mm.value == pytest.approx(28.5, abs=0.01)
        assert assessment.rear.wheel_rate_n_per_mm.value == pytest.approx(RATIO**2 * 90.0, rel=1e-3)


def test_words_read_as_they_are_meant() -> None:
    assert said("Front sag: softer spring, more preload.") == {"softer", "more"}
    assert said("Fork: the preload adjuster is fully out and can take off no more.") == frozenset()
