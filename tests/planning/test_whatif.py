"""A job beside the same job changed: sags, heights, headroom and geometry move as the springs make them."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from judgement_jobs import FULL, PROFILES, judged, put, sag_end, split
from stanchion.job.aboard import weighed_again, with_rider_noted
from stanchion.job.model import ENDS, End, Job, Path, SagEnd, SecondSpring
from stanchion.mechanics.limits import G_N
from stanchion.planning.whatif import WhatIf, compare
from stanchion.planning.whatif_rows import WhatifRow
from stanchion.ui.screens.trial import beside as trial_lines
from stanchion.units.known_units import METRIC
from stanchion.wording.finding_words import sentence
from stanchion.wording.whatif_sentences import row_name
from strategies import jobs

COS = math.cos(math.radians(24.0))
MACHINE = put(
    FULL,
    geometry__rake_deg=24.0,
    geometry__offset_mm=30.0,
    geometry__wheelbase_mm=1400.0,
    geometry__front_radius_mm=298.5,
    geometry__rear_radius_mm=315.0,
    geometry__measured="rider",
    geometry__front_sag_mm=33.0,
    geometry__rear_sag_mm=28.5,
    front__travel_mm=120.0,
    rear__wheel_travel_mm=125.0,
)
"""Captured: 20 and 33 mm in front, 7.5 and 28.5 mm at the rear; nothing weighed."""


def front_kg(sag_mm: float) -> float:
    """What a scale reads where two springs of 9.5 N/mm, 14 mm preloaded, give this sag: 15 kg are unsprung."""
    return 19.0 * (14.0 + sag_mm) / COS / G_N + 15.0


def rear_kg(sag_mm: float) -> float:
    """The same for 95 N/mm, 15 mm preloaded, at a motion ratio of 0.4: 18 kg are unsprung."""
    return 95.0 * (15.0 + 0.4 * sag_mm) * 0.4 / G_N + 18.0


WEIGHED = put(
    MACHINE,
    weights__front_unsprung_kg=15.0,
    weights__rear_unsprung_kg=18.0,
    weights__front_alone_kg=front_kg(20.0),
    weights__front_aboard_kg=front_kg(33.0),
    weights__rear_alone_kg=rear_kg(7.5),
    weights__rear_aboard_kg=rear_kg(28.5),
)
"""Weighed so that the springs give just the sags that were captured."""

FRONT: Path = ("front",)
REAR: Path = ("rear",)
LEFT: Path = ("front", "left")
GEOMETRY: Path = ("geometry",)
BOTH = [pytest.param(WEIGHED, id="weighed"), pytest.param(MACHINE, id="loads told by captured sag")]


def changed(job: Job, **changes: Any) -> WhatIf:
    return compare(job, put(job, **changes), PROFILES)


def change(what_if: WhatIf, where: Path, code: str) -> float:
    by = what_if.row(where, code).change
    assert by is not None, (where, code, what_if.row(where, code))
    return by


class TestPreloadOfTheFork:
    @pytest.mark.parametrize("job", BOTH)
    def test_four_turns_lift_the_machine_by_what_they_add_and_sag_falls_by_it(self, job: Job) -> None:
        """0.5 mm a turn, no top-out spring, no air: 2 mm along the leg (common practice, no published source)."""
        what_if = changed(job, front__left__adjuster__now=8.0)
        for state in ("static", "rider"):
            assert change(what_if, FRONT, f"{state}_captured") == pytest.approx(-2.0)
        assert change(what_if, FRONT, "rise") == pytest.approx(2.0 * COS)
        assert change(what_if, REAR, "rise") == 0.0
        assert change(what_if, GEOMETRY, "rake_deg") > 0.0
        assert change(what_if, GEOMETRY, "trail_mm") > 0.0

    def test_sag_cannot_fall_below_none(self) -> None:
        stiffened = {"front__left__spring__set_length_mm": 210.0, "front__left__spring__set_length_in_mm": 202.0}
        assert changed(WEIGHED, **stiffened).row(FRONT, "static_captured").changed.value == 0.0

    def test_full_travel_need_not_be_known_for_it(self) -> None:
        unknown = put(WEIGHED, front__travel_mm=None)
        assert change(changed(unknown, front__left__adjuster__now=8.0), FRONT, "rise") == pytest.approx(2.0 * COS)

    def test_predicted_sag_stands_beside_the_captured_one(self) -> None:
        what_if = changed(put(WEIGHED, sag__front=sag_end(22.0, 36.0)), front__left__adjuster__now=8.0)
        predicted, captured = what_if.row(FRONT, "rider_predicted"), what_if.row(FRONT, "rider_captured")
        assert (predicted.present.value, predicted.changed.value) == pytest.approx((33.0, 31.0))
        assert (captured.present.value, captured.changed.value) == pytest.approx((36.0, 34.0))

    def test_headroom_goes_from_one_side_to_the_other(self) -> None:
        what_if = changed(WEIGHED, front__left__adjuster__now=8.0)
        assert change(what_if, LEFT, "headroom_out_turns") == 4.0
        assert change(what_if, LEFT, "headroom_in_turns") == -4.0
        assert change(what_if, LEFT, "headroom_in_mm") == pytest.approx(-2.0)
        assert change(what_if, LEFT, "preload_now_mm") == pytest.approx(2.0)
        assert change(what_if, LEFT, "installed_preload_mm") == 0.0

    @pytest.mark.parametrize("job", BOTH)
    def test_an_adjuster_in_one_leg_counts_by_its_share_of_the_rate(self, job: Job) -> None:
        """k_left / (k_left + k_right) = 9.5 / 19 (common practice, no published source)."""
        what_if = changed(split(job), front__left__adjuster__now=8.0)
        assert change(what_if, FRONT, "rider_captured") == pytest.approx(-1.0)
        assert {effect.added_mm for effect in what_if.preload} == {1.0}

    @pytest.mark.parametrize("job", BOTH)
    def test_without_a_top_out_spring_both_states_are_free(self, job: Job) -> None:
        what_if = changed(job, front__left__adjuster__now=8.0)
        assert [(effect.end, effect.state, effect.case, effect.case_after) for effect in what_if.preload] == [
            ("front", "static", "free", "free"),
            ("front", "rider", "free", "free"),
        ]
        for effect in what_if.preload:
            assert effect.rise_along_mm.value == pytest.approx(2.0)
            assert effect.rise_mm.value == pytest.approx(2.0 * COS)
            assert effect.sag_change_mm.value == pytest.approx(-2.0)


class TestTopOutSpring:
    """Two springs of 9.5 N/mm against top-out springs of 30 N/mm that work over 20 mm: the exact cases of a linear
    pair, common practice, no published source."""

    job = put(
        WEIGHED,
        front__top_out__fitted="yes",
        front__top_out__rate_n_per_mm=30.0,
        front__top_out__works_over_mm=20.0,
        weights__front_unsprung_kg=2.0,
        sag__front=SagEnd(),
    )

    def test_engaged_only_when_extended_the_machine_rises_in_full_and_sag_shows_its_share(self) -> None:
        what_if = changed(self.job, front__left__adjuster__now=5.0)
        [rider] = [effect for effect in what_if.preload if effect.state == "rider"]
        assert (rider.case, rider.case_after) == ("top_out_when_extended",) * 2
        assert rider.rise_along_mm.value == pytest.approx(0.5)
        assert rider.sag_change_mm.value == pytest.approx(-0.5 * 30.0 / 39.5)
        assert change(what_if, FRONT, "rise") == pytest.approx(0.5 * COS)

    def test_still_engaged_the_machine_rises_by_a_share_and_its_sag_does_not_change(self) -> None:
        light = put(self.job, weights__front_alone_kg=50.0, weights__front_aboard_kg=52.0)
        what_if = changed(light, front__left__adjuster__now=5.0)
        for effect in what_if.preload:
            assert (effect.case, effect.case_after) == ("on_top_out",) * 2
            assert effect.rise_along_mm.value == pytest.approx(0.5 * 9.5 / 39.5)
            assert effect.sag_change_mm.value == pytest.approx(0.0, abs=1e-9)
        assert change(what_if, FRONT, "rider_predicted") == pytest.approx(0.0, abs=1e-9)
        assert change(what_if, FRONT, "rise") == pytest.approx(0.5 * 9.5 / 39.5 * COS)
        assert change(what_if, GEOMETRY, "rake_deg") > 0.0


def test_topped_out_a_change_of_preload_shows_nothing() -> None:
    light = put(WEIGHED, weights__front_alone_kg=30.0, weights__front_aboard_kg=32.0, sag__front=SagEnd())
    what_if = changed(light, front__left__adjuster__now=8.0)
    assert {effect.case for effect in what_if.preload} == {"topped_out"}
    assert change(what_if, FRONT, "rise") == 0.0
    assert change(what_if, FRONT, "rider_predicted") == 0.0


class TestShock:
    @pytest.mark.parametrize("job", BOTH)
    def test_one_turn_of_the_collar_lifts_the_wheel_end_by_its_pitch_over_the_motion_ratio(self, job: Job) -> None:
        what_if = changed(job, rear__collar__now=3.0)
        [_, rider] = what_if.preload
        assert (rider.end, rider.state, rider.case, rider.added_mm) == ("rear", "rider", "free", 1.5)
        assert rider.per_mm.value == pytest.approx(2.5)
        assert rider.rise_mm.value == pytest.approx(3.75)
        assert change(what_if, REAR, "rise") == pytest.approx(3.75)
        assert change(what_if, REAR, "rider_captured") == pytest.approx(-3.75)
        assert change(what_if, FRONT, "rise") == 0.0
        assert change(what_if, GEOMETRY, "rake_deg") < 0.0

    def test_a_longer_shock_lifts_the_machine_and_leaves_sag_alone(self) -> None:
        job = put(MACHINE, rear__length_adjuster_mm=0.0, geometry__length_adjuster_mm=0.0)
        what_if = changed(job, rear__length_adjuster_mm=2.0)
        assert change(what_if, REAR, "rise") == pytest.approx(5.0)
        assert change(what_if, REAR, "rider_captured") == 0.0
        assert change(what_if, GEOMETRY, "trail_mm") < 0.0
        assert what_if.preload == ()


class TestOtherChanges:
    def test_raising_the_tubes_lowers_the_front_and_needs_no_load(self) -> None:
        job = put(MACHINE, front__fork_height_mm=5.0, geometry__fork_height_mm=5.0)
        what_if = changed(job, front__fork_height_mm=9.0)
        assert change(what_if, FRONT, "rise") == pytest.approx(-4.0 * COS)
        assert change(what_if, FRONT, "rider_captured") == 0.0
        assert change(what_if, GEOMETRY, "rake_deg") < 0.0

    @pytest.mark.parametrize("job", BOTH)
    def test_a_softer_spring_sags_more_by_the_balance_of_forces(self, job: Job) -> None:
        what_if = changed(job, front__left__spring__rate_n_per_mm=9.0)
        assert change(what_if, FRONT, "rider_captured") == pytest.approx(19.0 * 47.0 / 18.0 - 47.0)
        assert what_if.preload == ()

    def test_a_heavier_rider_moves_the_rider_state_alone(self) -> None:
        job = put(
            WEIGHED,
            weights__front_aboard_kg=None,
            weights__rear_aboard_kg=None,
            weights__rider_front_share_pct=50.0,
            job__rider_mass_kg=70.0,
        )
        what_if = changed(job, job__rider_mass_kg=80.0)
        assert change(what_if, FRONT, "static_captured") == 0.0
        assert change(what_if, FRONT, "rider_predicted") == pytest.approx(5.0 * G_N * COS / 19.0)
        assert change(what_if, FRONT, "rider_captured") == pytest.approx(5.0 * G_N * COS / 19.0)
        assert change(what_if, REAR, "rider_captured") == pytest.approx(5.0 * G_N / 15.2)
        assert what_if.row(FRONT, "rider_captured").changed.estimate

    def test_another_scale_reading_changes_what_is_predicted_and_not_what_was_measured(self) -> None:
        """It is a measurement of the same machine."""
        what_if = changed(WEIGHED, weights__front_alone_kg=front_kg(25.0))
        assert change(what_if, FRONT, "static_predicted") == pytest.approx(5.0)
        assert change(what_if, FRONT, "static_captured") == change(what_if, FRONT, "rise") == 0.0
        assert change(changed(MACHINE, weights__front_alone_kg=front_kg(25.0)), FRONT, "static_captured") == 0.0

    def test_with_more_rake_less_of_the_load_lies_along_the_fork(self) -> None:
        what_if = changed(WEIGHED, geometry__rake_deg=30.0)
        along = 19.0 * 47.0 / COS * math.cos(math.radians(30.0))
        assert change(what_if, FRONT, "rider_predicted") == pytest.approx(along / 19.0 - 47.0)
        assert change(what_if, FRONT, "rider_captured") == 0.0  # read along the leg, at whatever rake it truly has
        assert change(what_if, REAR, "rider_predicted") == 0.0

    def test_where_no_sag_is_known_preload_moves_no_geometry(self) -> None:
        extended = put(MACHINE, sag__front=SagEnd(), sag__rear=SagEnd(), geometry__measured="extended")
        what_if = changed(extended, front__left__adjuster__now=8.0)
        assert what_if.state == "extended"
        assert change(what_if, GEOMETRY, "rake_deg") == 0.0

    def test_loads_that_only_become_known_are_no_change_of_the_machine(self) -> None:
        what_if = compare(MACHINE, WEIGHED, PROFILES)
        assert not any(row.change for row in what_if.rows if row.code in ("rise", "rake_deg", "static_captured"))

    def test_what_is_set_on_the_dampers_moves_nothing(self) -> None:
        what_if = changed(MACHINE, front__left__rebound__now=3.0, rear__rebound__now=3.0, front__oil="thick")
        assert all(row.change in (0.0, None) for row in what_if.rows)

    def test_readings_taken_again_count_as_they_were_read(self) -> None:
        assert change(changed(MACHINE, sag__front=sag_end(24.0, 36.0)), FRONT, "static_captured") == pytest.approx(4.0)
        what_if = changed(MACHINE, sag__front=sag_end(20.0, 36.0))
        assert change(what_if, FRONT, "rider_captured") == pytest.approx(3.0)
        assert change(what_if, FRONT, "rise") == pytest.approx(-3.0 * COS)

    def test_without_load_and_without_sag_a_change_of_spring_says_what_it_waits_for(self) -> None:
        bare = put(MACHINE, sag__front=SagEnd(), sag__rear=SagEnd())
        row = changed(bare, front__left__adjuster__now=8.0).row(FRONT, "rise")
        assert not row.changed.known
        assert row.changed.needs


class TestWhatASagIs:
    """Measured now and to be expected then, or predicted: never one for the other."""

    @pytest.mark.parametrize(
        ("end", "why"),
        [
            pytest.param(sag_end(20.0, 33.0, stiction=25.0), "stiction", id="stiction"),
            pytest.param(sag_end(20.0, 33.0, stiction=-8.0), "swapped", id="swapped"),
            pytest.param(sag_end(33.0, 20.0), "less with the rider", id="impossible"),
        ],
    )
    def test_readings_that_cannot_be_believed_are_not_called_measured(self, end: SagEnd, why: str) -> None:
        what_if = changed(put(WEIGHED, sag__front=end), front__left__adjuster__now=8.0)
        for state in ("static", "rider"):
            row = what_if.row(FRONT, f"{state}_captured")
            assert not row.present.known, why
            assert row.present.problem == "readings_doubtful"
            assert not row.changed.known or row.changed == what_if.changed.sag.front.state(state).sag_mm
        assert change(what_if, FRONT, "rider_predicted") == pytest.approx(-2.0)

    def test_a_sag_from_before_a_change_is_not_called_measured(self) -> None:
        """Read at 4 turns; 8 are in now: the sag as it stands is the predicted one."""
        read = put(WEIGHED, sag__front__rider__preload_at=(4.0, 4.0), front__left__adjuster__now=8.0)
        assert not changed(read, front__left__adjuster__now=9.0).row(FRONT, "rider_captured").present.known

    def test_inputs_in_doubt_give_no_sag_to_expect(self) -> None:
        """A rear rate of 20 for 95 N/mm: nothing is concluded from it."""
        what_if = changed(put(WEIGHED, rear__spring__rate_n_per_mm=20.0), rear__collar__now=4.0)
        row = what_if.row(REAR, "rider_captured")
        assert row.present.value == pytest.approx(28.5)
        assert row.changed.problem == "inputs_doubted"

    def test_inputs_in_doubt_tell_no_rise_and_no_geometry(self) -> None:
        job = put(
            WEIGHED, rear__spring__rate_n_per_mm=20.0, rear__length_adjuster_mm=0.0, geometry__length_adjuster_mm=0.0
        )
        turned = changed(job, rear__collar__now=4.0)
        assert turned.row(REAR, "rise").changed.problem == "inputs_doubted"
        assert [effect.end for effect in turned.preload] == []
        for code in ("rake_deg", "trail_mm", "wheelbase_mm"):
            row = turned.row(GEOMETRY, code)
            assert row.present.known
            assert not row.changed.known
            assert "inputs_doubted" in row.changed.problem
        sound = changed(job, front__left__adjuster__now=8.0)  # the front is not in doubt, and the rear is left alone
        assert change(sound, FRONT, "rise") == pytest.approx(2.0 * COS)  # by two turns of 1 mm
        assert change(sound, REAR, "rise") == 0.0
        assert sound.row(GEOMETRY, "rake_deg").changed.known
        longer = changed(job, rear__length_adjuster_mm=2.0)  # rigid: it needs no spring
        assert longer.row(REAR, "rise").changed.value == pytest.approx(2.0 / 0.4)

    def test_topped_out_now_and_after_the_change(self) -> None:
        """0.8 mm of sag is read at the stop; far less preload lets it down: (14 - 8) mm less of two 9.5 N/mm springs."""
        loads = {"weights__front_alone_kg": front_kg(-3.0), "sag__front": sag_end(0.8, 33.0)}
        job = put(WEIGHED, **loads)
        stiffer = changed(job, front__left__adjuster__now=8.0).row(FRONT, "static_captured")
        assert stiffer.topped_out == (True, True)
        down = changed(job, front__left__spring__set_length_mm=247.0, front__left__spring__set_length_in_mm=239.0)
        assert down.row(FRONT, "static_captured").topped_out == (True, False)
        assert down.row(FRONT, "static_predicted").topped_out == (True, False)

    def test_an_end_that_will_top_out_is_told_so(self) -> None:
        longer = {"front__left__spring__set_length_mm": 210.0, "front__left__spring__set_length_in_mm": 202.0}
        what_if = changed(WEIGHED, **longer)
        assert what_if.row(FRONT, "static_captured").topped_out == (False, True)
        assert what_if.row(FRONT, "static_predicted").topped_out == (False, True)


class TestAnotherRider:
    """The scales were read with one rider aboard and another is tried: what they read more goes with the rider's mass.

    In front each kilogram more on the wheel gives g cos(rake) / k more sag along the leg, with k = 19 N/mm of both
    springs; at the rear g / (k m^2) = g / 15.2 N/mm (balance of forces).
    """

    job = put(WEIGHED, job__rider_mass_kg=60.0)
    on_front_kg = front_kg(33.0) - front_kg(20.0)
    on_rear_kg = rear_kg(28.5) - rear_kg(7.5)
    on_scales_kg = on_front_kg + on_rear_kg

    def test_sags_follow_the_difference_of_the_scales(self) -> None:
        what_if = changed(self.job, job__rider_mass_kg=72.0)
        factor = 72.0 / self.on_scales_kg
        front = self.on_front_kg * (factor - 1.0) * G_N * COS / 19.0
        rear = self.on_rear_kg * (factor - 1.0) * G_N / 15.2
        for code in ("rider_captured", "rider_predicted"):
            assert change(what_if, FRONT, code) == pytest.approx(front)
            assert change(what_if, REAR, code) == pytest.approx(rear)
        assert change(what_if, FRONT, "static_captured") == change(what_if, REAR, "static_captured") == 0.0
        assert change(what_if, FRONT, "rise") == pytest.approx(-front * COS)
        assert what_if.rider_by_scales_kg == pytest.approx(self.on_scales_kg)

    def test_it_is_told_that_the_scales_are_of_the_rider_before(self) -> None:
        codes = [finding.code for finding in changed(self.job, job__rider_mass_kg=72.0).appeared]
        assert "scales_other_rider" in codes
        assert "scales_contradict_rider" not in codes
        assert "inputs_doubted" not in codes

    def test_nothing_is_concluded_from_the_sag_of_the_rider_before(self) -> None:
        """100 kg for 60: far more sag than was measured is no sign of anything entered wrongly."""
        what_if = changed(self.job, job__rider_mass_kg=100.0)
        assert not {"inputs_doubted", "sag_not_as_predicted"} & {finding.code for finding in what_if.appeared}
        assert what_if.changed.predicted.rear.target is not None

    def test_where_the_scales_contradict_the_mass_of_the_rider_on_them_nothing_is_foreseen(self) -> None:
        what_if = changed(put(self.job, job__rider_mass_kg=70.0), job__rider_mass_kg=80.0)
        assert "scales_contradict_rider" in [finding.code for finding in what_if.changed.findings]
        assert what_if.row(FRONT, "rider_captured").changed.problem == "loads_doubted"
        assert change(what_if, FRONT, "static_captured") == 0.0

    def test_with_one_end_weighed_the_recorded_mass_is_taken(self) -> None:
        job = put(self.job, weights__rear_alone_kg=None, weights__rear_aboard_kg=None)
        what_if = changed(job, job__rider_mass_kg=75.0)
        assert change(what_if, FRONT, "rider_captured") == pytest.approx(self.on_front_kg * 0.25 * G_N * COS / 19.0)
        assert what_if.rider_by_scales_kg == 60.0

    def test_weighed_again_the_scales_are_those_of_the_rider_tried(self) -> None:
        again = put(self.job, weights__front_aboard_kg=front_kg(40.0), weights__rear_aboard_kg=rear_kg(35.0))
        what_if = compare(self.job, put(again, job__rider_mass_kg=85.0), PROFILES)
        assert change(what_if, FRONT, "rider_captured") == pytest.approx(7.0)
        assert what_if.rider_by_scales_kg is None

    @pytest.mark.parametrize("end", ENDS)
    def test_with_one_scale_read_anew_only_the_other_is_that_of_the_rider_before(self, end: End) -> None:
        """The rider before is tried at 72 kg, and one scale is read with 72 kg aboard."""
        before = put(self.job, job__rider_mass_kg=self.on_scales_kg)
        tried = with_rider_noted(put(before, job__rider_mass_kg=72.0), before)
        anew = {"front": front_kg(40.0), "rear": rear_kg(35.0)}
        other: End = "rear" if end == "front" else "front"
        mixed = judged(weighed_again(put(tried, **{f"weights__{end}_aboard_kg": anew[end]}), end))
        wholly = put(tried, **{f"weights__{one}_aboard_kg": kg for one, kg in anew.items()})
        as_read, converted = judged(put(wholly, weights__aboard_rider_kg=None)), judged(tried)
        for at, same in ((end, as_read), (other, converted)):
            sag_mm = mixed.predicted.end(at).rider.sag_mm.value
            assert sag_mm == pytest.approx(same.predicted.end(at).rider.sag_mm.value), at
        (said,) = [sentence(one) for one in mixed.findings if one.code == "scales_other_rider"]
        assert f"the {other} scale was read with {self.on_scales_kg:.1f} kg aboard" in said
        assert not [one.code for one in mixed.findings if one.code.startswith("scales_contradict")]

    def test_where_nothing_tells_the_rider_s_part_it_is_asked_for(self) -> None:
        job = put(self.job, weights__front_alone_kg=None, weights__rear_alone_kg=None)
        row = changed(job, job__rider_mass_kg=96.0).row(FRONT, "rider_captured")
        assert not row.changed.known
        assert ("weights", "rider_front_share_pct") in row.changed.needs

    def test_the_same_mass_entered_again_changes_nothing(self) -> None:
        what_if = changed(self.job, job__rider_mass_kg=60.0)
        assert (what_if.differences, what_if.rider_by_scales_kg) == ((), None)

    @settings(max_examples=40, deadline=None)
    @given(
        rate=st.floats(7.0, 12.0),
        rake=st.floats(20.0, 30.0),
        alone=st.tuples(st.floats(80.0, 110.0), st.floats(80.0, 110.0)),
        rider=st.floats(55.0, 110.0),
        share=st.floats(0.25, 0.5),
        recorded=st.floats(0.96, 1.04),
        new=st.floats(55.0, 110.0),
        misread=st.floats(-3.0, 3.0),
    )
    def test_random_machines_answer_as_the_balance_of_forces_says(
        self,
        rate: float,
        rake: float,
        alone: tuple[float, float],
        rider: float,
        share: float,
        recorded: float,
        new: float,
        misread: float,
    ) -> None:
        """Both sags as the springs truly give them, the front read up to 3 mm wrong: the change is the same."""
        cos = math.cos(math.radians(rake))

        def front_sag(on_wheel_kg: float) -> float:
            return (on_wheel_kg - 15.0) * G_N * cos / (2.0 * rate) - 14.0

        def rear_sag(on_wheel_kg: float) -> float:
            return ((on_wheel_kg - 18.0) * G_N / 0.4 / 95.0 - 15.0) / 0.4

        front, rear = alone[0] + rider * share, alone[1] + rider * (1.0 - share)
        front_new, rear_new = alone[0] + new * share, alone[1] + new * (1.0 - share)
        sags = [front_sag(alone[0]), front_sag(front), front_sag(front_new)]
        sags += [rear_sag(alone[1]), rear_sag(rear), rear_sag(rear_new)]
        assume(min(sags) > 6.0 and max(sags) < 110.0)
        job = put(
            MACHINE,
            geometry__rake_deg=rake,
            front__left__spring__rate_n_per_mm=rate,
            job__rider_mass_kg=rider * recorded,
            weights__front_unsprung_kg=15.0,
            weights__rear_unsprung_kg=18.0,
            weights__front_alone_kg=alone[0],
            weights__rear_alone_kg=alone[1],
            weights__front_aboard_kg=front,
            weights__rear_aboard_kg=rear,
            sag__front=sag_end(sags[0] + misread, sags[1] + misread),
            sag__rear=sag_end(sags[3], sags[4]),
        )
        what_if = changed(job, job__rider_mass_kg=new)
        assume(new != rider * recorded)
        assert what_if.rider_by_scales_kg == pytest.approx(rider)
        assert what_if.row(FRONT, "rider_predicted").changed.value == pytest.approx(sags[2], abs=1e-6)
        assert what_if.row(REAR, "rider_predicted").changed.value == pytest.approx(sags[5], abs=1e-6)
        assert what_if.row(FRONT, "rider_captured").changed.value == pytest.approx(sags[2] + misread, abs=1e-6)
        assert what_if.row(REAR, "rider_captured").changed.value == pytest.approx(sags[5], abs=1e-6)
        static = what_if.row(FRONT, "static_captured")
        assert static.changed.value == static.present.value


class TestWhatIsFound:
    def test_the_worst_finding_now_and_then_and_what_comes_and_goes(self) -> None:
        what_if = changed(WEIGHED, front__left__spring__set_length_mm=234.0)
        before, after = what_if.worst
        assert after is not None
        assert after.code == "preload_over_limit"
        assert after in what_if.appeared
        assert before not in what_if.appeared
        back = compare(put(WEIGHED, front__left__spring__set_length_mm=234.0), WEIGHED, PROFILES)
        assert after.code in [finding.code for finding in back.gone]

    def test_what_the_job_before_brings_is_no_work_of_the_change(self) -> None:
        before = put(WEIGHED, front__left__spring__free_length_mm=245.0)
        turned = put(WEIGHED, front__left__adjuster__now=5.0)
        what_if = compare(WEIGHED, turned, PROFILES, before)
        assert "longer_than_before" in [finding.code for finding in what_if.present.findings]
        assert not {"longer_than_before"} & {finding.code for finding in (*what_if.appeared, *what_if.gone)}

    def test_legs_entered_apart_have_rows_of_their_own(self) -> None:
        legs = {row.where: row.both_legs for row in changed(split(WEIGHED), front__right__adjuster__now=5.0).rows}
        assert legs[LEFT] is False
        assert legs[("front", "right")] is False
        assert {row.both_legs for row in changed(WEIGHED).rows if row.where == LEFT} == {True}

    def test_coil_bind_clearance_falls_with_the_greatest_preload_only(self) -> None:
        """It is judged with the adjuster fully in, so a turn does not change it and a longer spacer does."""
        job = put(WEIGHED, front__left__spring__coils__solid_length_mm=100.0)
        assert change(changed(job, front__left__adjuster__now=8.0), LEFT, "coil_bind_clearance_mm") == 0.0
        longer = changed(job, front__left__spring__set_length_mm=236.0, front__left__spring__set_length_in_mm=228.0)
        assert change(longer, LEFT, "coil_bind_clearance_mm") == pytest.approx(-2.0)


def test_the_geometry_shown_is_the_one_the_job_then_has() -> None:
    """With predicted sags alone, what is shown beforehand is what judging the changed job gives."""
    job = put(WEIGHED, sag__front=SagEnd(), sag__rear=SagEnd())
    what_if = changed(job, front__left__adjuster__now=8.0, rear__collar__now=4.0)
    for name in ("rake_deg", "trail_mm", "normal_trail_mm", "wheelbase_mm"):
        shown = what_if.row(GEOMETRY, name).changed.value
        assert shown == pytest.approx(getattr(what_if.changed.geometry, name).value, abs=1e-9)
    assert what_if.state == "rider"


ANY_JOBS = settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@ANY_JOBS
@given(jobs())
def test_a_job_beside_itself_shows_no_change(job: Job) -> None:
    what_if = compare(job, job, PROFILES)
    assert all(row.change in (0.0, None) for row in what_if.rows)
    assert (what_if.differences, what_if.preload, what_if.appeared, what_if.gone) == ((), (), (), ())


@ANY_JOBS
@given(jobs(), jobs())
def test_any_two_jobs_can_be_compared(a: Job, b: Job) -> None:
    what_if = compare(a, b, PROFILES)
    rows: list[WhatifRow] = list(what_if.rows)
    assert all(math.isfinite(row.change) for row in rows if row.change is not None)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.0, 16.0), st.floats(0.0, 16.0))
def test_more_preload_never_lowers_the_machine_nor_adds_sag(one: float, other: float) -> None:
    less, more = sorted((one, other))
    what_if = compare(
        put(WEIGHED, front__left__adjuster__now=less), put(WEIGHED, front__left__adjuster__now=more), PROFILES
    )
    assert change(what_if, FRONT, "rise") >= -1e-9
    assert change(what_if, FRONT, "rider_predicted") <= 1e-9


def test_a_change_over_is_shown_now_and_then_and_only_where_there_are_two_springs() -> None:
    """Side by side the second takes part when both are squeezed by the gap: at 25 mm less preload, over the ratio."""
    beside = put(WEIGHED, rear__spring__second=SecondSpring(arranged="side_by_side", rate_n_per_mm=30.0, gap_mm=25.0))
    tried = compare(beside, put(beside, rear__spring__second__gap_mm=29.0), PROFILES)
    row = tried.row(REAR, "change_over_mm")
    assert row.present.value == pytest.approx((25.0 - 15.0) / 0.4)
    assert row.change == pytest.approx(4.0 / 0.4)
    assert row_name(row) == "Changes over at"
    more = compare(beside, put(beside, rear__collar__now=3.0), PROFILES).row(REAR, "change_over_mm")
    pitch = beside.rear.collar.pitch_mm or 0.0
    turned = 3.0 - (beside.rear.collar.now or 0.0)
    assert more.change == pytest.approx(-turned * pitch / 0.4)
    taken_out = compare(beside, WEIGHED, PROFILES).row(REAR, "change_over_mm")
    assert taken_out.present.known
    assert not taken_out.changed.known
    assert "change_over_mm" not in [one.code for one in compare(WEIGHED, MACHINE, PROFILES).rows]


def test_the_change_over_of_both_legs_is_one_row_and_each_legs_own_where_they_differ() -> None:
    beside = put(
        WEIGHED, front__left__spring__second=SecondSpring(arranged="side_by_side", rate_n_per_mm=4.0, gap_mm=60.0)
    )
    row = compare(beside, beside, PROFILES).row(LEFT, "change_over_mm")
    assert row.both_legs
    assert row.present.value == pytest.approx(60.0 - 14.0)
    lines = [line.plain for line in trial_lines(compare(beside, beside, PROFILES), METRIC, 34, full=False)]
    assert any(line.startswith("Changes over") and line.endswith("46.0   46.0 mm") for line in lines)
    apart = compare(split(beside), put(split(beside), front__right__spring__second__gap_mm=70.0), PROFILES)
    assert apart.row(("front", "right"), "change_over_mm").change == pytest.approx(10.0)
    assert apart.row(LEFT, "change_over_mm").change == 0.0


@pytest.mark.parametrize("full", [False, True])
def test_a_unit_stands_beside_its_number_and_not_behind_topped_out(full: bool) -> None:
    """The sag of 33 mm was read with 16 mm of preload in: 52 mm of it, and nothing is left of either sag."""
    long = put(MACHINE, front__left__spring__set_length_mm=202.0, front__left__spring__set_length_in_mm=194.0)
    seen = compare(MACHINE, long, PROFILES)
    assert seen.row(FRONT, "static_captured").topped_out == (False, True)
    lines = [line.plain for line in trial_lines(seen, METRIC, 34, full=full) if "topped out" in line.plain]
    assert any(line.startswith("Static sag") and line.endswith(" 20.0 mm topped out◂") for line in lines)
    assert not any("topped out mm" in line for line in lines)
