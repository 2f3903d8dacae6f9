"""What was done to the machine, and what a change of chain or tyres makes stale (common practice, no published source)."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, cast

import pytest

from judgement_jobs import FULL, PAIRS, codes, found, judged, put, split
from stanchion.job.carry import carried
from stanchion.job.codec import loads
from stanchion.job.edit import Edit, apply
from stanchion.job.measured import measured_again, noted
from stanchion.job.model import (
    ChainAndTyres,
    Geometry,
    Job,
    Path,
    Readings,
    Run,
    Sag,
    SagEnd,
    Stack,
    Torque,
)
from stanchion.judgement.results.findings import Severity
from stanchion.store.samples import samples
from stanchion.wording.finding_words import sentence

BEFORE = put(
    FULL,
    upkeep__front_teeth=15.0,
    upkeep__rear_teeth=44.0,
    upkeep__axle_mark_mm=31.0,
    upkeep__front_tyre="Invented slick, soft",
    upkeep__rear_tyre="Invented slick, soft",
    geometry=Geometry(rake_deg=24.0, wheelbase_mm=1400.0),
)


def after(**changes: Any) -> Job:
    return put(BEFORE, **changes)


class TestStale:
    @pytest.mark.parametrize(
        ("change", "words"),
        [
            ({"upkeep__front_teeth": 16.0}, "gearing"),
            ({"upkeep__rear_teeth": 43.0}, "gearing"),
            ({"upkeep__rear_tyre": "Invented rain"}, "rear tyre"),
            ({"upkeep__front_teeth": 16.0, "upkeep__axle_mark_mm": 35.0}, "gearing, axle mark"),
            ({"upkeep__front_teeth": 16.0, "upkeep__rear_tyre": "Invented rain"}, "gearing, rear tyre"),
        ],
    )
    def test_other_gearing_or_another_rear_tyre_makes_motion_ratio_and_geometry_stale(
        self, change: dict[str, Any], words: str
    ) -> None:
        assessment = judged(after(**change), BEFORE)
        for code in ("motion_ratio_stale", "geometry_stale"):
            assert found(assessment, code).severity is Severity.WARNING
            assert f"{words} changed since " in sentence(found(assessment, code))

    def test_a_front_tyre_does_not_touch_the_linkage(self) -> None:
        assessment = judged(after(upkeep__front_tyre="Invented rain"), BEFORE)
        assert "motion_ratio_stale" not in codes(assessment)
        assert "Measure rake, wheelbase and tyre radius again" in sentence(found(assessment, "geometry_stale"))

    def test_both_tyres_changed_are_told_in_one_word(self) -> None:
        assessment = judged(after(upkeep__front_tyre="Invented rain", upkeep__rear_tyre="Invented rain"), BEFORE)
        assert sentence(found(assessment, "geometry_stale")).startswith(
            "Geometry: tyres changed since it was measured."
        )

    def test_without_a_tyre_changed_its_radius_need_not_be_measured(self) -> None:
        sentences = sentence(found(judged(after(upkeep__front_teeth=16.0), BEFORE), "geometry_stale"))
        assert "Measure rake, wheelbase again; if the values are the same" in sentences

    def test_an_axle_moved_for_a_slack_chain_is_a_note(self) -> None:
        assessment = judged(after(upkeep__axle_mark_mm=33.0), BEFORE)
        assert found(assessment, "motion_ratio_stale").severity is Severity.NOTE
        assert found(assessment, "geometry_stale").severity is Severity.NOTE

    def test_what_was_measured_again_is_not_stale(self) -> None:
        measured = after(upkeep__front_teeth=16.0, rear__motion_ratio=0.41, geometry__wheelbase_mm=1404.0)
        assert not {"motion_ratio_stale", "geometry_stale"} & set(codes(judged(measured, BEFORE)))

    def test_pairs_of_then_are_as_stale_as_one_ratio(self) -> None:
        before = put(BEFORE, rear__linkage=PAIRS)
        finding = found(judged(put(before, upkeep__front_teeth=16.0), before), "motion_ratio_stale")
        assert finding.where == ("rear", "linkage")

    def test_what_was_never_measured_cannot_be_stale(self) -> None:
        before = put(BEFORE, rear__motion_ratio=None, geometry=Geometry())
        found_then = codes(judged(put(before, upkeep__front_teeth=16.0), before))
        assert not {"motion_ratio_stale", "geometry_stale"} & set(found_then)

    def test_the_same_tyre_written_another_way_and_one_written_down_first_are_no_change(self) -> None:
        same = after(upkeep__rear_tyre="  invented  SLICK, soft ")
        assert "geometry_stale" not in codes(judged(same, BEFORE))
        first = put(BEFORE, upkeep__rear_tyre="", upkeep__front_teeth=None)
        assert "geometry_stale" not in codes(judged(BEFORE, first))

    def test_without_the_job_before_nothing_is_stale(self) -> None:
        assert "geometry_stale" not in codes(judged(after(upkeep__front_teeth=16.0)))


class TestWhatWasOnWhenItWasMeasured:
    def test_it_is_stale_without_the_job_before_and_over_any_number_of_occasions(self) -> None:
        job = carried(BEFORE, "a.toml", BEFORE.job.date)
        job = put(job, upkeep__front_teeth=16.0)
        for name in ("b.toml", "c.toml"):
            assert {"motion_ratio_stale", "geometry_stale"} <= set(codes(judged(job)))
            before, job = job, carried(job, name, job.job.date)
            assert {"motion_ratio_stale", "geometry_stale"} <= set(codes(judged(job, before)))

    def test_measured_again_and_still_so_is_not_stale_nor_is_the_next_occasion(self) -> None:
        before = carried(BEFORE, "a.toml", BEFORE.job.date)
        job = measured_again(put(before, upkeep__front_teeth=16.0), ratio=True)
        assert "motion_ratio_stale" not in codes(judged(job, before))
        assert "geometry_stale" in codes(judged(job, before))
        assert "motion_ratio_stale" not in codes(judged(carried(job, "b.toml", job.job.date), job))

    def test_going_back_to_the_gearing_of_then_makes_it_true_again(self) -> None:
        job = put(carried(BEFORE, "a.toml", BEFORE.job.date), upkeep__front_teeth=16.0)
        assert "geometry_stale" in codes(judged(job))
        assert "geometry_stale" not in codes(judged(put(job, upkeep__front_teeth=15.0)))

    def test_what_was_not_known_then_cannot_have_changed(self) -> None:
        job = put(BEFORE, upkeep__ratio_with=ChainAndTyres(front_teeth=15.0), upkeep__rear_teeth=40.0)
        assert "motion_ratio_stale" not in codes(judged(job))


class TestSetLength:
    SPACER: Path = ("front", "left", "stack", "spacer_mm")
    SET: Path = ("front", "left", "spring", "set_length_mm")

    def entered(self, job: Job, path: Path, value: float) -> Job:
        return noted(apply(job, Edit(path, value)), path, job)

    def test_one_read_with_another_spacer_stack_is_stale_until_it_is_read_again(self) -> None:
        job = self.entered(FULL, self.SPACER, 104.0)
        finding = found(judged(job), "set_length_stale")
        assert finding.severity is Severity.WARNING
        assert sentence(finding) == (
            "Fork, both legs: set length was read with a spacer stack of 105.0 mm, now 109.0 mm. Measure "
            "it again: until then preload follows the stack."
        )
        assert "set_length_stale" not in codes(judged(self.entered(job, self.SET, 236.0)))
        assert "set_length_stale" not in codes(judged(self.entered(job, self.SET, 238.0)))  # ... and is the same

    def test_the_old_stack_put_back_makes_it_true_again(self) -> None:
        job = self.entered(self.entered(FULL, self.SPACER, 104.0), self.SPACER, 100.0)
        assert "set_length_stale" not in codes(judged(job))

    def test_a_leg_entered_apart_is_judged_by_its_own_stack(self) -> None:
        job = self.entered(split(FULL), ("front", "right", "stack", "spacer_mm"), 104.0)
        assert [f.where[1] for f in judged(job).findings if f.code == "set_length_stale"] == ["right"]
        both = self.entered(FULL, self.SPACER, 104.0)
        apart = noted(apply(both, Edit(("front", "right"), both.front.left)), ("front", "right"), both)
        assert [f.where[1] for f in judged(apart).findings if f.code == "set_length_stale"] == ["left", "right"]

    def test_set_length_and_spacer_entered_in_one_step_belong_together(self) -> None:
        edits = (Edit(self.SET, 236.0), Edit(self.SPACER, 102.0))
        for order in (edits, edits[::-1]):
            job = FULL
            for edit in order:
                job = noted(apply(job, edit), edit.path, FULL, tried=True)
            assert "set_length_stale" not in codes(judged(job))

    def test_the_job_before_tells_with_what_it_was_read_where_nothing_is_noted(self) -> None:
        other = put(FULL, front__left__stack__spacer_mm=104.0)
        assert "set_length_stale" not in codes(judged(other))
        assert "set_length_stale" in codes(judged(other, FULL))
        assert "set_length_stale" not in codes(judged(put(other, front__left__spring__set_length_mm=236.0), FULL))

    def test_the_next_occasion_knows_it_without_the_job_before(self) -> None:
        later = put(carried(FULL, "before", FULL.job.date), front__left__stack__spacer_mm=104.0)
        assert "set_length_stale" in codes(judged(later))

    def piece(self, job: Job, name: str, value: object, *, tried: bool = False) -> Job:
        path: Path = ("front", "left", "stack", name)
        return noted(apply(job, Edit(path, value)), path, job, tried=tried)

    def first_entered(self) -> Job:
        """A new machine: set length first, then the spacer, as the guided round asks for them."""
        blank = put(FULL, front__left__stack=Stack(), front__left__spring__set_length_mm=None)
        job = self.entered(replace(blank, sag=Sag(), runs=()), self.SET, 252.0)
        return self.entered(job, self.SPACER, 140.0)

    def test_a_stack_entered_piece_by_piece_for_the_first_time_is_no_change(self) -> None:
        job = self.piece(self.first_entered(), "washers_mm", (1.6,))
        assert "set_length_stale" not in codes(judged(job))
        job = self.piece(self.piece(job, "washers_mm", (1.6, 1.6)), "seats_mm", (2.0,))
        assert "set_length_stale" not in codes(judged(job))
        assert job.upkeep.set_lengths_with.left_mm == pytest.approx(145.2)
        assert "set_length_stale" in codes(judged(self.piece(job, "washers_mm", (1.6, 2.0))))  # another washer
        assert "set_length_stale" in codes(judged(self.piece(job, "seats_mm", ())))  # one taken out

    def test_a_washer_added_on_trial_or_once_the_machine_was_measured_is_a_change(self) -> None:
        new = self.first_entered()
        read = replace(new, sag=Sag(front=SagEnd(static=Readings(down_mm=(490.0,)))))
        carried_on = carried(new, "before.toml", new.job.date)
        ridden = replace(new, runs=(Run(),))
        for job, tried in ((new, True), (read, False), (carried_on, False), (ridden, False)):
            assert "set_length_stale" in codes(judged(self.piece(job, "washers_mm", (1.6,), tried=tried)))

    def test_until_it_is_read_again_preload_follows_the_stacks(self) -> None:
        job = self.entered(FULL, self.SPACER, 98.0)
        by_stack, read_again = judged(job), judged(self.entered(job, self.SET, 240.0))
        assert by_stack.front.left.installed_preload_mm.value == pytest.approx(10.0)  # 12 mm read, spacer 2 mm shorter
        assert read_again.front.left.installed_preload_mm.value == pytest.approx(10.0)
        assert by_stack.front.left.adjuster_range_mm.value == pytest.approx(8.0)

    @pytest.mark.parametrize("read_at", ["stop", "touching", "assembled"])
    def test_wherever_it_was_read_preload_at_the_stop_changes_by_what_the_stack_does(self, read_at: str) -> None:
        fitted = {"fitted": "yes", "rate_n_per_mm": 40.0, "works_over_mm": 10.0}
        read = put(FULL, front__left__read_at=read_at, **{f"front__top_out__{name}": v for name, v in fitted.items()})

        def at_stop(job: Job) -> float:
            figures = judged(job).front.left
            assert figures.installed_preload_mm.value is not None
            assert figures.read_at_mm is not None
            return figures.installed_preload_mm.value - figures.read_at_mm

        longer = self.entered(read, self.SPACER, 104.0)
        assert at_stop(longer) - at_stop(read) == pytest.approx(4.0)
        ranges = [judged(job).front.left.adjuster_range_mm.value for job in (read, longer)]
        assert ranges[0] == pytest.approx(ranges[1])

    def test_the_spacer_that_was_advised_brings_what_was_promised_and_is_not_asked_for_again(self) -> None:
        soft = next(loads(sample.data).job for sample in samples() if sample.name == "soft_springs")
        job = self.entered(soft, ("job", "rider_mass_kg"), 75.0)
        job = put(job, weights__front_aboard_kg=121.0, weights__rear_aboard_kg=124.0)
        advice = judged(job).predicted.front.target
        assert advice is not None
        assert advice.code.startswith("shorter_spacer")
        after = judged(self.entered(job, self.SPACER, cast(float, advice.values["new_spacer_mm"])))
        now = after.predicted.front
        assert now.rider.travel_mm.value == pytest.approx(advice.values["rider_after_mm"], abs=0.05)
        assert now.static.travel_mm.value == pytest.approx(advice.values["static_after_mm"], abs=0.05)
        assert now.target is not None
        assert "spacer" not in now.target.code
        assert "set_length_stale" in codes(after)

    def test_it_waits_for_both(self) -> None:
        for unread in ("front__left__spring__set_length_mm", "front__left__stack__spacer_mm"):
            job = put(self.entered(FULL, self.SPACER, 104.0), **{unread: None})
            assert "set_length_stale" not in codes(judged(job))


class TestWheelbase:
    def test_one_set_apart_from_the_measured_one_is_noted(self) -> None:
        finding = found(judged(put(BEFORE, upkeep__wheelbase_mm=1406.0)), "wheelbase_differs")
        assert finding.severity is Severity.NOTE
        assert "wheelbase is 1406.0 mm as set, but the geometry was measured at 1400.0 mm" in sentence(finding)

    @pytest.mark.parametrize("as_set", [1400.0, 1402.0, 1398.0])
    def test_what_a_tape_may_be_off_says_nothing(self, as_set: float) -> None:
        assert "wheelbase_differs" not in codes(judged(put(BEFORE, upkeep__wheelbase_mm=as_set)))


class TestTorques:
    def test_what_is_not_tightened_yet_is_named(self) -> None:
        rows = (
            Torque(what="axle nut", torque_nm=100.0),
            Torque(what="top yoke", done=True),
            Torque(what="pinch bolts"),
        )
        finding = found(judged(put(FULL, upkeep__torques=rows)), "torques_open")
        assert finding.severity is Severity.WARNING
        assert sentence(finding) == (
            "Torques still to do (2): axle nut, pinch bolts. Tighten each to the manual's value and tick it before a run."
        )

    def test_once_all_are_done_nothing_is_said_until_the_next_occasion(self) -> None:
        done = put(FULL, upkeep__torques=(Torque(what="axle nut", torque_nm=100.0, done=True, initials="AV"),))
        assert "torques_open" not in codes(judged(done))
        assert "torques_open" in codes(judged(carried(done, "a.toml", done.job.date), done))


class TestHours:
    def test_hours_since_are_the_meter_less_what_it_read_then(self) -> None:
        job = put(FULL, upkeep__machine_hours=41.5, upkeep__fork_oil__at_hours=30.0)
        upkeep = judged(job).upkeep
        assert upkeep.fork_oil_hours.value == 11.5
        assert upkeep.shock_hours.needs == (("upkeep", "shock", "at_hours"),)

    def test_a_meter_that_ran_backwards_was_misread(self) -> None:
        job = put(FULL, upkeep__machine_hours=28.0, upkeep__fork_seals__at_hours=30.0)
        assert sentence(found(judged(job), "hours_run_backwards")) == (
            "Upkeep, fork seals: done at 30 h, but the hour meter now shows only 28 h. Correct one of them."
        )

    def test_the_gear_ratio_is_rear_teeth_over_front_teeth(self) -> None:
        assert judged(BEFORE).upkeep.gear_ratio.value == pytest.approx(44 / 15)
