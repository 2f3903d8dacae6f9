"""Weights on both wheels, the centre of mass, and the machine on the brakes: what each rests on, and what it says where
something is missing."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from judgement_jobs import PROFILES, judged, put
from sheet_jobs import sheet
from stanchion.job.aboard import balance_alone, without_rider_aboard
from stanchion.job.carry import without_aboard
from stanchion.job.codec import dumps, loads
from stanchion.job.edit import apply
from stanchion.job.model import Balance, Job, Lift, Weights
from stanchion.job.swingarm import Swingarm
from stanchion.judgement.predict.balance import wheel_weights
from stanchion.judgement.predict.brakes import brakes_figures
from stanchion.judgement.predict.damping import damping_figures
from stanchion.judgement.results.balance import BrakesFigures, WheelWeights
from stanchion.mechanics import steady
from stanchion.planning.whatif import compare
from stanchion.report.check import as_text
from stanchion.report.check_json import as_json
from stanchion.report.sheet_shape import Section
from stanchion.units.known_units import METRIC, Units
from stanchion.wording.balance_sentences import (
    BAND,
    BY_HEIGHT,
    BY_SHARES,
    BY_USE,
    STEADY,
    brakes_lines,
    weight_lines,
)
from stanchion.wording.finding_words import reason

SAMPLES = Path(__file__).parents[3] / "sample_jobs"
JOB = replace(loads((SAMPLES / "well_set.toml").read_bytes()).job, balance=Balance())
"""The invented sport machine: 86.5 and 83.5 kg alone, 123 and 123 kg with its rider, wheelbase 1370 mm."""
LIFTED = (Lift(raised_mm=250.0, alone_kg=81.0, aboard_kg=115.0), Lift(raised_mm=400.0, alone_kg=77.5, aboard_kg=110.0))


def weights(job: Job, state: Any = "rider") -> WheelWeights:
    return wheel_weights(job, judged(job), state)


def brakes(job: Job) -> BrakesFigures:
    return brakes_figures(job, judged(job))


class TestWeights:
    def test_scales_give_weights_share_and_the_place_along(self) -> None:
        alone = weights(JOB, "static")
        assert (alone.front_kg.value, alone.rear_kg.value, alone.total_kg.value) == pytest.approx((86.5, 83.5, 170.0))
        assert alone.front_share_pct.value == pytest.approx(100 * 86.5 / 170.0)
        standing = alone.ahead_mm.value / (86.5 / 170.0)  # type: ignore[operator]
        # a little longer than with the rider, with whom it was read: the fork by some 7 mm, the swingarm's arc takes 5
        assert standing == pytest.approx(1371.5, abs=0.5)
        straight = weights(replace(JOB, swingarm=Swingarm()), "static")
        assert straight.ahead_mm.value / (86.5 / 170.0) == pytest.approx(1376.0, abs=3.0)  # type: ignore[operator]
        assert not alone.ahead_mm.estimate

    def test_shares_give_an_estimate_without_an_uncertainty(self) -> None:
        job = put(
            JOB,
            weights__front_alone_kg=None,
            weights__rear_alone_kg=None,
            weights__machine_kg=170.0,
            weights__front_share_pct=51.0,
        )
        alone = weights(job, "static")
        assert alone.ahead_mm.estimate
        assert reason(alone.ahead_expanded_mm) == "not weighed: the weights are estimated from shares"

    def test_height_with_the_rider_is_the_usual_one_until_it_is_entered_or_measured(self) -> None:
        """560 to 700 mm: common practice, no published source."""
        usual = weights(JOB)
        assert (usual.height_mm.value, usual.height_expanded_mm.value, usual.height_from) == (630.0, 70.0, "usual")
        assert usual.height_mm.estimate
        entered = weights(put(JOB, balance__height_aboard_mm=610.0))
        assert (entered.height_mm.value, entered.height_from) == (610.0, "entered")
        assert entered.height_mm.estimate

    def test_of_the_machine_alone_there_is_no_usual_height(self) -> None:
        assert reason(weights(JOB, "static").height_mm) == "not measured: lift the front wheel on to a block and weigh"

    def test_lifting_counts_only_with_the_suspension_blocked(self) -> None:
        free = weights(replace(JOB, balance=Balance(lifts=LIFTED)))
        assert free.height_mm.value is None
        assert reason(free.height_mm).startswith("lifting counts only with the suspension blocked")
        blocked = weights(replace(JOB, balance=Balance(lifts=LIFTED, blocked="yes")))
        assert blocked.height_from == "lifted"
        assert not blocked.height_mm.estimate
        assert 300.0 < (blocked.height_mm.value or 0.0) < 900.0
        assert (blocked.lifted_deg.value or 0.0) == pytest.approx(16.5, abs=1.0)

    def test_a_lift_of_one_state_says_nothing_of_the_other(self) -> None:
        alone = (Lift(raised_mm=400.0, alone_kg=77.5),)
        job = replace(JOB, balance=Balance(lifts=alone, blocked="yes"))
        assert weights(job, "static").height_from == "lifted"
        assert weights(job).height_from == "usual"

    def test_readings_that_put_it_under_the_ground_are_refused(self) -> None:
        job = replace(JOB, balance=Balance(lifts=(Lift(raised_mm=100.0, aboard_kg=200.0),), blocked="yes"))
        assert reason(weights(job).height_mm) == ("the height of the centre of mass is in doubt: see the warning on it")

    def test_another_rider_takes_his_height_and_lifted_readings_along(self) -> None:
        job = replace(JOB, balance=Balance(lifts=LIFTED, blocked="yes", height_aboard_mm=610.0, height_alone_mm=540.0))
        left = without_aboard(job, job).balance
        assert left == balance_alone(job)
        assert [(lift.alone_kg, lift.aboard_kg) for lift in left.lifts] == [(81.0, None), (77.5, None)]
        assert (left.height_alone_mm, left.height_aboard_mm) == (540.0, None)
        cleared = job
        for edit in without_rider_aboard(job):
            cleared = apply(cleared, edit)
        assert cleared.balance == left

    def test_another_rider_tried_has_the_earlier_riders_height_as_an_estimate(self) -> None:
        job = replace(JOB, balance=Balance(lifts=LIFTED, blocked="yes"))
        tried = put(job, weights__aboard_rider_kg=76.0, job__rider_mass_kg=95.0)
        before, then = weights(job), weights(tried)
        assert (then.total_kg.value or 0.0) == pytest.approx(265.0)
        assert then.height_mm.value == pytest.approx(before.height_mm.value, abs=2.0)
        assert then.height_mm.estimate
        assert not before.height_mm.estimate

    def test_the_file_keeps_it(self) -> None:
        job = replace(JOB, balance=Balance(lifts=LIFTED, blocked="yes", braking_g=0.85, height_alone_mm=540.0))
        assert loads(dumps(job)).job == job


class TestBrakes:
    def test_the_usual_braking_is_an_estimate_until_one_is_entered(self) -> None:
        """0.9 g on the track, 0.6 g elsewhere: common practice, no published source."""
        assert (brakes(JOB).braking_g.value, brakes(JOB).braking_g.estimate) == (0.9, True)
        assert brakes(put(JOB, job__use="road")).braking_g.value == 0.6
        entered = brakes(put(JOB, balance__braking_g=0.7)).braking_g
        assert (entered.value, entered.estimate) == (0.7, False)

    def test_almost_no_braking_leaves_the_machine_at_its_sag(self) -> None:
        job = put(JOB, balance__braking_g=0.1)
        a, hardly = judged(JOB), brakes(job).slow
        sag = a.sag.front.rider.sag_mm.value or 0.0
        harder = brakes(put(JOB, balance__braking_g=0.2)).slow
        first, second = (of.fork_used_mm.value or 0.0 for of in (hardly, harder))
        assert sag < first < second
        assert first - sag == pytest.approx(second - first, rel=0.2)  # evenly from the sag on

    def test_air_squeezed_fast_dives_less(self) -> None:
        found = brakes(JOB)
        slow, fast = found.slow.fork_used_mm.value, found.fast.fork_used_mm.value
        assert slow is not None
        assert fast is not None
        assert 1.0 < slow - fast < 20.0
        without = put(JOB, front__left__air_gap_mm=None)
        assert brakes(without).slow == brakes(without).fast
        assert "air" in brakes(without).omitted

    def test_used_and_left_are_the_whole_travel(self) -> None:
        for of in (brakes(JOB).slow, brakes(JOB).fast):
            assert (of.fork_used_mm.value or 0.0) + (of.fork_left_mm.value or 0.0) == pytest.approx(120.0)

    def test_what_the_height_leaves_open_is_said(self) -> None:
        found = brakes(JOB)
        assert found.by_height is not None
        low, high = found.by_height
        assert (
            (low.fork_used_mm.value or 0.0) < (found.slow.fork_used_mm.value or 0.0) < (high.fork_used_mm.value or 0.0)
        )
        assert (
            (low.rear_lifts_g.value or 0.0) > (found.slow.rear_lifts_g.value or 0.0) > (high.rear_lifts_g.value or 0.0)
        )
        exact = brakes(put(JOB, balance__height_aboard_mm=700.0)).slow  # 630 + 70
        assert high.fork_used_mm.value == exact.fork_used_mm.value
        assert "Height ± 70.0 mm: fork travel used" in as_text("it.toml", JOB, judged(JOB))
        assert brakes(put(JOB, balance__height_aboard_mm=610.0)).by_height is None  # judged: nobody knows how well

    def test_harder_braking_than_the_rear_wheel_bears_says_so(self) -> None:
        found = brakes(put(JOB, balance__braking_g=1.3))
        assert reason(found.slow.fork_used_mm) == "the rear wheel is off the ground by then"
        assert (found.slow.rear_lifts_g.value or 0.0) < 1.3

    def test_soft_springs_come_to_the_end_before_the_braking_looked_at(self) -> None:
        job = replace(loads((SAMPLES / "soft_springs.toml").read_bytes()).job, runs=())
        found = brakes(job)
        assert found.slow.fork_left_mm.value == 0.0
        assert (found.slow.fork_ends_g.value or 0.0) < 0.9
        assert "The fork reaches its end under this braking" in as_text("soft.toml", job, judged(job))

    def test_what_is_missing_is_named(self) -> None:
        found = brakes(put(JOB, geometry__offset_mm=None))
        assert reason(found.slow.fork_used_mm) == "needs fork offset"
        unknown = brakes(put(JOB, front__travel_mm=None)).slow
        assert unknown.fork_left_mm.value is None
        assert reason(unknown.fork_used_mm) == "needs fork travel"  # beyond its end it would not go
        assert not unknown.trail_mm.known
        assert unknown.fork_ends_g.value is None

    def test_contradicting_entries_give_no_figures(self) -> None:
        found = brakes(put(JOB, front__left__spring__rate_n_per_mm=30.0))
        assert reason(found.slow.fork_used_mm) == "what was entered and the measured sag cannot both be right"

    def test_a_search_that_fails_says_so(self, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(steady, "_ROUNDS", 1)
        assert reason(brakes(JOB).slow.fork_used_mm).startswith("the travels do not settle")


class TestWhatIf:
    def test_a_stiffer_spring_shows_less_dive_and_more_trail_beside_sag(self) -> None:
        stiffer = put(JOB, front__left__spring__rate_n_per_mm=10.0)
        seen = compare(JOB, stiffer, PROFILES)
        dive, trail = seen.row(("front",), "brakes_fork_mm"), seen.row(("geometry",), "brakes_trail_mm")
        load = seen.row(("rear",), "brakes_rear_kg")
        assert dive.present.value == brakes(JOB).slow.fork_used_mm.value
        assert -10.0 < (dive.change or 0.0) < -1.0
        assert 0.2 < (trail.change or 0.0) < 5.0
        assert abs(load.change or 0.0) < 2.0

    def test_braking_to_look_at_can_be_tried_too(self) -> None:
        harder = compare(JOB, put(JOB, balance__braking_g=1.0), PROFILES)
        assert (harder.row(("front",), "brakes_fork_mm").change or 0.0) > 1.0


class TestSheet:
    def test_it_is_on_the_sheet_where_anything_is_recorded_for_it(self) -> None:
        assert "Balance" not in [part.title for part in sheet(JOB).parts if isinstance(part, Section)]
        measured = replace(JOB, balance=Balance(lifts=LIFTED, blocked="yes"))
        found = [part for part in sheet(measured).parts if isinstance(part, Section)]
        section = next(part for part in found if part.title == "On the brakes")
        assert "Fork travel used" in [line.word for line in section.lines]


class TestSamples:
    @pytest.mark.parametrize(("state", "height_mm"), [("static", 530.0), ("rider", 638.0)])
    def test_the_lifted_readings_give_the_invented_heights(self, state: Any, height_mm: float) -> None:
        found = weights(loads((SAMPLES / "well_set.toml").read_bytes()).job, state)
        assert found.height_mm.value == pytest.approx(height_mm, abs=found.height_expanded_mm.value)
        assert (found.height_expanded_mm.value or 0.0) < 40.0


class TestWords:
    def test_check_says_once_what_it_rests_on(self) -> None:
        text = as_text("it.toml", JOB, judged(JOB))
        for sentence in (STEADY, BAND, BY_HEIGHT):
            assert text.count(sentence) == 1
        measured = replace(JOB, balance=Balance(lifts=LIFTED, blocked="yes", braking_g=0.8))
        text = as_text("it.toml", measured, judged(measured))
        assert BY_HEIGHT not in text
        assert "usual" not in text.partition("\nOn the brakes\n")[2].partition("\n\n")[0]

    def test_each_estimate_says_what_would_make_it_a_measurement(self) -> None:
        shares = Weights(machine_kg=170.0, front_share_pct=51.0, rider_front_share_pct=48.0)
        of = replace(JOB, weights=shares, balance=Balance())
        text = as_text("it.toml", of, judged(of))
        for sentence in (BY_SHARES, BY_USE, BY_HEIGHT):
            assert text.count(sentence) == 1
        weighed = replace(JOB, balance=Balance(braking_g=0.8))
        text = as_text("it.toml", weighed, judged(weighed))
        assert BY_SHARES not in text
        assert BY_USE not in text

    def test_nothing_is_said_of_a_machine_that_was_not_weighed(self) -> None:
        job = loads((SAMPLES / "half_filled.toml").read_bytes()).job
        assert "Balance" not in as_text("it.toml", job, judged(job))

    def test_scales_stand_beside_a_rider_of_another_mass_and_one_reason_is_given_everywhere(self) -> None:
        heavy = put(loads((SAMPLES / "well_set.toml").read_bytes()).job, job__rider_mass_kg=96.0)
        aboard, alone = weights(heavy), weights(heavy, "static")
        assert (aboard.front_kg.value, aboard.rear_kg.value) == (123.0, 123.0)
        assert (alone.front_kg.value, alone.rear_kg.value) == (86.5, 83.5)
        assert aboard.front_share_pct.value == pytest.approx(50.0)
        assert aboard.height_mm.value == pytest.approx(weights(put(heavy, job__rider_mass_kg=76.0)).height_mm.value)
        why = "scales and masses contradict each other"
        of_ends = damping_figures(heavy, judged(heavy))
        assert reason(brakes(heavy).slow.fork_used_mm) == why
        assert reason(of_ends.front.frequency_hz) == reason(of_ends.rear.frequency_hz) == why
        text = as_text("it.toml", heavy, judged(heavy))
        assert "\nOn the brakes\n" in text
        assert "cannot both be right" not in text

    def test_a_mass_by_shares_that_the_scales_contradict_gives_no_weight(self) -> None:
        heavy = put(JOB, job__rider_mass_kg=96.0, weights__front_aboard_kg=None, weights__rear_aboard_kg=None)
        wrong = put(heavy, weights__machine_kg=250.0, weights__rider_front_share_pct=50.0)
        assert reason(weights(wrong).total_kg) == "scales and masses contradict each other"

    def test_a_low_lift_is_asked_to_be_repeated_higher(self) -> None:
        low = replace(JOB, balance=Balance(lifts=(Lift(raised_mm=150.0, aboard_kg=116.5),), blocked="yes"))
        assert "lift it further" in dict(weight_lines(weights(low), "rider", METRIC))["  Centre up"]

    def test_other_units(self) -> None:
        units = Units(lengths="in", masses="lb")
        lines = dict(brakes_lines(JOB, brakes(JOB), units))
        assert lines["Fork travel used"].endswith(" in (estimate)")
        assert lines["Rear load"].endswith(" lb (estimate)")
        assert lines["Rear wheel lifts"].endswith(" g (estimate)")

    def test_json_has_both_ways_of_the_air_and_every_reason(self) -> None:
        data = as_json("it.toml", JOB, judged(JOB))
        found = brakes(JOB)
        assert data["brakes"]["braking_g"] == 0.9
        for name in ("slow", "fast"):
            assert data["brakes"][name]["fork_used_mm"] == getattr(found, name).fork_used_mm.value
        assert data["brakes"]["slow"]["fork_ends_g"] is None
        assert data["missing"]["brakes.slow.fork_ends_g"] == "the rear wheel lifts first"
        assert data["brakes"]["lower"]["rear_lifts_g"] > data["brakes"]["higher"]["rear_lifts_g"]
        assert data["balance"]["rider"]["height_from"] == "usual"
        assert data["balance"]["static"]["height_from"] is None
