"""The machine of a job on the gas: its swingarm in any state, its chain, what it needs, and what is found of readings."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from judgement_jobs import PROFILES, codes, found, judged, put
from stanchion.job.codec import loads
from stanchion.job.model import Balance, Drive, Job, Swingarm
from stanchion.judgement.predict.chain import axle_back_for, chain_figures
from stanchion.judgement.predict.gas import gas_figures
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.findings import Severity
from stanchion.judgement.results.gas import GasFigures
from stanchion.mechanics.chain import centres_for
from stanchion.planning.whatif import compare
from stanchion.report.check_json import as_json
from stanchion.report.gas import gas_part, gas_rows, gas_section
from stanchion.units.known_units import METRIC
from stanchion.wording.finding_words import reason, sentence
from stanchion.wording.gas_sentences import BY_HEIGHT, EARLY, SQUATS_ALL_THE_SAME, STEADY, TREND, gas_notes
from stanchion.wording.whatif_sentences import AXLE_CANNOT, AXLE_GOES, AXLE_UNKNOWN, axle_words

SAMPLES = Path(__file__).parents[3] / "sample_jobs"
JOB = put(
    replace(loads((SAMPLES / "well_set.toml").read_bytes()).job, balance=Balance()),
    swingarm=Swingarm(
        pivot_to_axle_mm=575.0, pivot_up_mm=421.0, sprocket_up_mm=434.0, sprocket_ahead_mm=60.0, measured="geometry"
    ),
    drive=Drive(chain="520", links=112.0, axle_forward_mm=10.0, axle_back_mm=15.0),
    upkeep__front_teeth=15.0,
    upkeep__rear_teeth=44.0,
)
"""The invented sport machine, with a swingarm and a chain."""
SPORT = loads((SAMPLES / "well_set.toml").read_bytes()).job
"""The sample itself: 108 links, 15 and 44 teeth."""


def gas(job: Job, **changes: Any) -> GasFigures:
    changed = put(job, **changes)
    return gas_figures(changed, judged(changed))


def anti_squat(of: GasFigures) -> float:
    assert of.stands.anti_squat_pct.value is not None
    return of.stands.anti_squat_pct.value


class TestOnTheGas:
    def test_it_is_given_for_the_usual_acceleration_of_the_use_until_one_is_entered(self) -> None:
        """0.5 g on the track: common practice, no published source."""
        usual, chosen = gas(JOB), gas(JOB, drive__acceleration_g=0.8)
        assert (usual.acceleration_g.value, usual.acceleration_g.estimate) == (0.5, True)
        assert (chosen.acceleration_g.value, chosen.acceleration_g.estimate) == (0.8, False)
        assert usual.front_kg.value > chosen.front_kg.value  # type: ignore[operator]
        assert anti_squat(usual) == anti_squat(chosen)

    def test_both_loads_are_the_whole_weight_and_the_transfer_is_by_moments(self) -> None:
        of = gas(JOB)
        front, rear = of.front_kg.value, of.rear_kg.value
        assert front is not None
        assert rear is not None
        assert front + rear == pytest.approx(246.0, abs=1e-6)
        assert 123.0 - front == pytest.approx(246.0 * 0.5 * 630.0 / 1370.0, rel=0.05)  # the machine moves a little

    def test_over_the_travel_anti_squat_goes_through_that_at_rider_sag(self) -> None:
        of = gas(JOB)
        values = [one.anti_squat_pct for one in of.over_travel]
        assert of.over_travel[0].rear_used_mm == 0.0
        assert sorted(values, reverse=True) == values
        assert values[0] > anti_squat(of) > values[-1]

    def test_without_wheel_travel_there_is_no_curve_but_what_it_needs(self) -> None:
        """No travel, stroke or gas entered: the end of the travel is nobody's figure."""
        unknown = put(JOB, rear__wheel_travel_mm=None, rear__stroke_mm=None)
        of = gas(unknown)
        assert of.stands.anti_squat_pct.known
        assert of.over_travel == ()
        words = dict(gas_rows(unknown, judged(unknown), METRIC))["  over the travel"]
        assert words.startswith("–  needs")
        assert "shock stroke" in words or "wheel travel" in words

    def test_above_the_limit_the_front_is_off_the_ground_and_nothing_else_is_said(self) -> None:
        lifts = gas(JOB).front_lifts_g.value
        assert lifts is not None
        over = gas(JOB, drive__acceleration_g=round(lifts + 0.05, 2))
        assert reason(over.front_kg) == "the front wheel is off the ground by then"
        words = [text for name, text in gas_rows(put(JOB, drive__acceleration_g=1.3), judged(JOB), METRIC) if not name]
        assert EARLY in words

    def test_small_changes_are_what_the_changed_job_says(self) -> None:
        """A sprocket 5 mm higher, and one tooth more with the same chain, entered in the job itself."""
        of = gas(JOB)
        effects = {one.change: one for one in of.effects}
        raised = gas(JOB, swingarm__sprocket_up_mm=439.0)
        assert effects["sprocket_up"].anti_squat_pct.value == pytest.approx(
            anti_squat(raised) - anti_squat(of), abs=1e-3
        )
        back = effects["rear_tooth"].axle_back_mm.value
        assert back is not None
        assert -5.0 < back < -3.0
        tooth = gas(JOB, upkeep__rear_teeth=45.0)
        assert effects["rear_tooth"].anti_squat_pct.value == pytest.approx(anti_squat(tooth) - anti_squat(of), abs=0.6)

    @pytest.mark.parametrize(
        ("change", "words"),
        [
            ({"swingarm__pivot_to_axle_mm": None}, "pivot to rear axle"),
            ({"swingarm__sprocket_ahead_mm": None}, "front sprocket ahead"),
            ({"drive__chain": "unknown"}, "chain size"),
            ({"upkeep__rear_teeth": None}, "rear sprocket"),
            ({"geometry__rear_radius_mm": None}, "rear tyre radius"),
        ],
    )
    def test_what_is_missing_is_named(self, change: dict[str, Any], words: str) -> None:
        assert words in reason(gas(JOB, **change).stands.anti_squat_pct).casefold()

    def test_with_nothing_entered_it_names_what_it_needs(self) -> None:
        bare = put(Job(), job__use="track")
        assert "pivot to rear axle" in reason(gas_figures(bare, judged(bare)).stands.anti_squat_pct)

    def test_an_axle_at_the_end_of_its_slots_is_not_offered_to_go_back(self) -> None:
        at_end = put(JOB, drive__axle_back_mm=0.0)
        assert "beyond its slots" in dict(gas_rows(at_end, judged(at_end), METRIC))["Axle 5.0 mm back"]
        assert "beyond" not in dict(gas_rows(JOB, judged(JOB), METRIC))["Axle 5.0 mm back"]

    def test_a_rear_that_squats_above_100_per_cent_says_why(self) -> None:
        notes = list(gas_notes(gas(JOB), measured_height=True))
        assert SQUATS_ALL_THE_SAME not in notes
        of = replace(gas(JOB), rear_squats_mm=Figure(0.3), anti_squat_there_pct=Figure(103.0))
        assert SQUATS_ALL_THE_SAME in gas_notes(of, measured_height=True)


class TestTheSwingarmTurned:
    def test_a_gauge_gives_what_the_heights_give(self) -> None:
        arm = gas(JOB, geometry__measured="rider").stands.arm_deg
        assert arm.value is not None
        by_heights = judged_arm(JOB)
        by_gauge = put(JOB, swingarm__pivot_up_mm=None, swingarm__arm_down_deg=by_heights)
        assert anti_squat(gas(by_gauge)) == pytest.approx(anti_squat(gas(JOB)), abs=1e-6)

    def test_measured_in_another_state_it_gives_the_same_machine(self) -> None:
        """The state of the geometry, entered by its own sags, is that state; and a rear that had sunk 10 mm further then
        makes the arm steeper now."""
        base = JOB.geometry
        same = replace(
            JOB.swingarm,
            measured="rider",
            front_sag_mm=base.front_sag_mm or 0.0,
            rear_sag_mm=base.rear_sag_mm or 0.0,
            fork_height_mm=base.fork_height_mm,
            length_adjuster_mm=base.length_adjuster_mm,
        )
        assert anti_squat(gas(put(JOB, swingarm=same))) == pytest.approx(anti_squat(gas(JOB)), abs=1e-9)
        sunk = replace(same, rear_sag_mm=(same.rear_sag_mm or 0.0) + 10.0)
        assert gas(put(JOB, swingarm=sunk)).stands.arm_deg.value > gas(JOB).stands.arm_deg.value  # type: ignore[operator]

    def test_its_own_state_asks_for_its_own_sags(self) -> None:
        of = gas(JOB, swingarm__measured="static")
        assert "front sag then" in reason(of.stands.anti_squat_pct).casefold()


def judged_arm(job: Job) -> float:
    """Its angle by pivot height and tyre radius, worked out here."""

    radius = job.geometry.rear_radius_mm
    assert radius is not None
    return math.degrees(math.asin((421.0 - radius) / 575.0))


class TestTheChain:
    def test_one_tooth_moves_the_axle_by_about_a_quarter_of_a_pitch(self) -> None:
        """Half a link more on the sprockets is a quarter of a pitch at the axle: common practice, no published source."""
        moves = {(one.end, one.teeth): one.back_mm.value for one in chain_figures(JOB).axle_moves}
        assert set(moves) == {("front", 14.0), ("front", 16.0), ("rear", 43.0), ("rear", 45.0)}
        for (_, teeth), back in moves.items():
            assert back is not None
            assert (back > 0.0) is (teeth in (14.0, 43.0))
            assert abs(back) == pytest.approx(15.875 / 4.0, rel=0.15)

    def test_a_chain_two_links_longer_moves_the_axle_back_by_one_pitch(self) -> None:
        back = axle_back_for(JOB, 15.0, 44.0, 114.0).value
        assert back == pytest.approx(15.875, rel=0.03)

    def test_beyond_its_slots_another_chain_is_named(self) -> None:
        tight = put(JOB, drive__axle_forward_mm=2.0)
        move = next(one for one in chain_figures(tight).axle_moves if (one.end, one.teeth) == ("rear", 45.0))
        assert move.fits is False
        assert "beyond its slots" in dict(gas_rows(tight, judged(tight), METRIC))["  rear 45 teeth"]


class TestFindings:
    def test_an_odd_number_of_links_is_counted_again(self) -> None:
        odd = judged(put(JOB, drive__links=111.0))
        assert found(odd, "chain_odd").severity is Severity.WARNING
        assert "111 links" in sentence(found(odd, "chain_odd"))
        assert "chain_odd" not in codes(judged(JOB))

    def test_a_chain_that_does_not_go_round_is_found(self) -> None:
        assert "chain_short" not in codes(judged(JOB))
        assert "too few" in sentence(found(judged(put(JOB, drive__links=104.0)), "chain_short"))
        assert "chain_short" in codes(judged(put(JOB, drive__links=40.0)))

    def test_a_chain_that_stays_slack_with_the_axle_fully_back_is_found(self) -> None:
        """The distance by hand; 116 links reach two pitches further than 112."""
        apart = 575.0 + math.hypot(60.0, 434.0 - 421.0)
        back = centres_for(15.875, 15.0, 44.0, 116.0) - apart
        held = put(JOB, drive__links=116.0, drive__axle_back_mm=math.floor(back) - 6.0)
        assert "Fit a shorter chain" in sentence(found(judged(held), "chain_long"))
        assert "chain_long" not in codes(judged(put(held, drive__axle_back_mm=math.ceil(back))))
        assert "chain_long" not in codes(judged(put(held, drive__axle_back_mm=None)))  # slots not known
        assert (
            "slack: axle up to"
            in dict(gas_rows(put(held, drive__axle_back_mm=None), judged(held), METRIC))["  as it stands"]
        )

    def test_a_tooth_too_many_says_that_the_axle_goes_forward(self) -> None:
        """Of the sample's 108 links 0.2 too few with 16 teeth, by tape."""
        tooth = put(SPORT, upkeep__front_teeth=16.0)
        words = dict(gas_rows(tooth, judged(tooth), METRIC))["  as it stands"]
        assert words == "too short: axle at least 1.2 mm forward, and further for the slack"
        assert "  as it stands" not in dict(gas_rows(SPORT, judged(SPORT), METRIC))

    def test_a_swingarm_that_cannot_reach_is_found_and_computed_nowhere(self) -> None:
        wrong = put(JOB, swingarm__pivot_up_mm=899.0)
        assert "chain_short" not in codes(judged(wrong))
        assert found(judged(wrong), "arm_impossible").severity is Severity.WARNING
        assert reason(gas(wrong).stands.anti_squat_pct).startswith("the swingarm does not reach there")

    def test_two_angles_that_differ_are_found(self) -> None:
        right = judged_arm(JOB)
        assert "arm_angles_differ" not in codes(judged(put(JOB, swingarm__arm_down_deg=right + 0.5)))
        assert "arm_angles_differ" in codes(judged(put(JOB, swingarm__arm_down_deg=right + 2.0)))

    def test_after_the_axle_was_moved_or_another_tyre_fitted_it_is_from_before(self) -> None:
        before = put(JOB, upkeep__axle_mark_mm=30.0, upkeep__rear_tyre="Invented slick")
        moved = put(before, upkeep__axle_mark_mm=34.0)
        assert found(judged(moved, before), "swingarm_stale").severity is Severity.NOTE
        tyre = put(before, upkeep__rear_tyre="Invented rain")
        assert found(judged(tyre, before), "swingarm_stale").severity is Severity.WARNING
        assert "swingarm_stale" not in codes(judged(put(before, upkeep__front_teeth=16.0), before))


class TestWhatIf:
    def test_a_tooth_and_a_height_show_what_they_do_on_the_gas(self) -> None:
        seen = compare(JOB, put(JOB, upkeep__front_teeth=16.0), PROFILES)
        tooth = seen.row(("swingarm",), "gas_anti_squat_pct")
        assert tooth.present.value == anti_squat(gas(JOB))
        assert (tooth.change or 0.0) < -1.0
        harder = compare(JOB, put(JOB, drive__acceleration_g=0.7), PROFILES)
        assert (harder.row(("swingarm",), "gas_front_kg").change or 0.0) < -5.0

    def test_other_teeth_say_how_far_the_axle_moves_and_whether_its_slots_let_it(self) -> None:
        """15 to 16 teeth is 3.7 mm forward, to 14 as much back: at the end of its slots it cannot, and the chain stays
        slack."""
        forward = compare(SPORT, put(SPORT, upkeep__front_teeth=16.0), PROFILES)
        assert forward.row(("swingarm",), "axle_forward_mm").change == pytest.approx(3.7, abs=0.1)
        at_end = put(SPORT, drive__axle_back_mm=0.0)
        back = compare(at_end, put(at_end, upkeep__front_teeth=14.0), PROFILES)
        assert back.row(("swingarm",), "axle_back_beyond_mm").change == pytest.approx(3.7, abs=0.1)
        assert axle_words(back) == AXLE_CANNOT
        assert back.row(("geometry",), "wheelbase_mm").change == 0.0  # it stays where it stands
        assert [one.code for one in back.appeared if one.code.startswith("chain")] == ["chain_long"]
        same = compare(SPORT, put(SPORT, drive__acceleration_g=0.7), PROFILES)
        assert not [row for row in same.rows if row.code.startswith("axle")]

    def test_without_swingarm_and_chain_there_is_no_row(self) -> None:
        bare = put(JOB, swingarm=Swingarm(), drive=Drive())
        assert not [
            row for row in compare(bare, put(bare, upkeep__front_teeth=16.0), PROFILES).rows if "gas" in row.code
        ]


class TestReports:
    def test_check_has_a_section_once_anything_is_recorded(self) -> None:
        bare = put(JOB, swingarm=Swingarm(), drive=Drive())
        assert not list(gas_section(bare, judged(bare), METRIC))
        lines = list(gas_section(JOB, judged(JOB), METRIC))
        assert lines[:2] == ["", "On the gas"]
        for words in (STEADY, TREND, BY_HEIGHT):
            assert f"  {words}" in lines

    def test_the_sheet_has_it_in_a_few_lines_once_anything_is_recorded(self) -> None:
        lines = {line.word: line.text for line in gas_part(JOB, judged(JOB), METRIC).lines}
        assert set(lines) == {"Anti-squat at sag", "At 0.50 g", "Small changes", "Chain", "Other teeth", ""}
        assert "front wheel lifts 1.0" in lines["At 0.50 g"]
        assert "rear tooth +1: +1." in lines["Small changes"]
        bare = put(JOB, swingarm=Swingarm(), drive=Drive())
        assert not gas_part(bare, judged(bare), METRIC).lines

    def test_json_has_numbers_and_the_reasons_where_there_are_none(self) -> None:
        data = as_json("it.toml", JOB, judged(JOB))
        assert data["gas"]["stands"]["anti_squat_pct"] == anti_squat(gas(JOB))
        assert len(data["gas"]["effects"]) == 6
        assert data["gas"]["chain"]["pitch_mm"] == 15.875
        bare = put(JOB, swingarm=Swingarm())
        without = as_json("it.toml", bare, judged(bare))
        assert without["gas"]["rear_squats_mm"] is None
        assert "gas.rear_squats_mm" in without["missing"]

    def test_the_axle_goes_where_the_chain_puts_it_and_the_geometry_with_it(self) -> None:
        """15 to 14 teeth is 3.7 mm back along a swingarm 12 degrees down: the wheelbase by what is level of it, and rake
        by the tilt of the axle 0.8 mm lower. Small changes on the gas go another way there, and come to the same."""
        seen = compare(SPORT, put(SPORT, upkeep__front_teeth=14.0), PROFILES)
        goes = seen.row(("swingarm",), "axle_back_mm").change or 0.0
        room = seen.row(("swingarm",), "axle_room_mm")
        assert room.present.value == 20.0
        assert room.changed.value == pytest.approx(20.0 - goes)
        lower = goes * math.sin(math.radians(12.0))
        assert seen.row(("rear",), "rise").change == pytest.approx(lower, abs=0.01)
        tilt = math.degrees(lower / 1370.0)
        assert seen.row(("geometry",), "rake_deg").change == pytest.approx(-tilt, rel=0.02)
        longer = seen.row(("geometry",), "wheelbase_mm").change
        assert longer == pytest.approx(goes * math.cos(math.radians(12.0)), abs=0.05)
        assert axle_words(seen) == AXLE_GOES
        effects = {one.change: one for one in gas(SPORT).effects}
        other_way = compare(SPORT, put(SPORT, upkeep__front_teeth=16.0), PROFILES)
        tooth = effects["front_tooth"]
        for code, by_effect in (("wheelbase_mm", tooth.wheelbase_mm), ("trail_mm", tooth.trail_mm)):
            assert other_way.row(("geometry",), code).change == pytest.approx(by_effect.value, abs=0.01)
        change = other_way.row(("swingarm",), "gas_anti_squat_pct").change
        assert change == pytest.approx(tooth.anti_squat_pct.value, abs=0.01)

    def test_on_the_brakes_the_axle_stands_there_too(self) -> None:
        seen = compare(SPORT, put(SPORT, upkeep__front_teeth=14.0), PROFILES)
        steeper = seen.row(("geometry",), "trail_mm").change
        assert steeper is not None
        assert -0.3 < steeper < -0.1
        assert seen.row(("geometry",), "brakes_trail_mm").change == pytest.approx(steeper, abs=0.1)

    def test_without_the_chain_it_says_what_to_enter(self) -> None:
        bare = put(SPORT, drive__links=None)
        seen = compare(bare, put(bare, upkeep__front_teeth=14.0), PROFILES)
        assert axle_words(seen) == AXLE_UNKNOWN
        assert axle_words(compare(bare, put(bare, rear__length_adjuster_mm=2.0), PROFILES)) == ""

    def test_a_short_chain_is_no_warning_where_the_slots_are_not_entered(self) -> None:
        tooth = put(SPORT, upkeep__front_teeth=20.0, drive__axle_forward_mm=None)
        finding = found(judged(tooth), "chain_by_slot")
        assert finding.severity is Severity.NOTE
        assert "enter how far it can go forward in its slots" in sentence(finding)
        assert "chain_short" not in codes(judged(tooth))
        assert "chain_short" in codes(judged(put(tooth, drive__axle_forward_mm=1.0)))
        assert not {"chain_short", "chain_by_slot"} & set(codes(judged(put(tooth, drive__axle_forward_mm=30.0))))
