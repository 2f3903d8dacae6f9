"""What stands on the hand-over sheet of a job."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from complete_job import complete_job
from judgement_jobs import judged, put, sag_end
from sheet_jobs import JOBS, hostile, ridden, sheet
from stanchion.job.carry import carried
from stanchion.job.model import Run, Service, Torque, Upkeep
from stanchion.judgement.criteria.cautions import CAUTIONS
from stanchion.report.lines import NONE
from stanchion.report.sheet import CLOSING, NO_CHANGES, NO_WARNINGS
from stanchion.report.sheet_shape import Section, Sheet, Table
from stanchion.units.known_units import Units
from stanchion.wording.caution_sentences import CONDENSED, condensed


def row(table: Table, name: str) -> tuple[str, ...]:
    return dict(table.rows)[name]


def told(section: Section) -> str:
    return "\n".join(f"{line.word} {line.text}".strip() for line in section.lines)


def section(of: Sheet, title: str) -> Section:
    return next(one for one in of.sections if one.title.startswith(title))


class TestSetup:
    def test_both_ends_stand_side_by_side_with_their_units(self) -> None:
        setup = sheet(JOBS["soft_springs"]).setup
        assert setup.heads == ("fork, each leg", "shock")
        assert row(setup, "Spring rate") == ("8.00 N/mm", "80.00 N/mm")
        assert row(setup, "Free length") == ("250.0 mm", "165.0 mm")
        assert row(setup, "Set length out / in")[1] == "156.0 / 146.0 mm"
        assert row(setup, "Spacer stack")[0] == "104 + 1.5 + 1.5 + 4 = 111.0 mm"
        assert row(setup, "Rebound from closed") == ("10 of 24 clicks", "10 of 24 clicks")
        assert row(setup, "Compr. from closed") == ("12 of 24 clicks", "low 14 of 24 clicks")
        assert row(setup, "High-speed compr.")[1] == "2 of 4 turns"

    def test_preload_is_told_installed_and_now_with_what_the_adjuster_has_left(self) -> None:
        setup = sheet(JOBS["soft_springs"]).setup
        assert row(setup, "Installed preload") == ("20.0 mm, over limit", "9.0 mm, in band")
        assert row(setup, "Preload now") == ("28.0 mm", "12.0 mm")
        assert row(setup, "Adjuster at") == ("8 of 8 turns", "3 of 10 turns")
        assert row(setup, "Headroom out") == ("8.0 mm, 8 turns", "3.0 mm, 3 turns")
        assert row(setup, "Headroom in") == ("0.0 mm, 0 turns", "7.0 mm, 7 turns")

    def test_legs_entered_apart_have_a_column_each(self) -> None:
        setup = sheet(JOBS["mismatched_lengths"]).setup
        assert setup.heads == ("fork left", "fork right", "shock")
        assert row(setup, "Free length") == ("250.0 mm", "245.0 mm", "165.0 mm")
        assert row(setup, "Installed preload")[:2] == ("12.0 mm, in band", "7.0 mm, low")

    def test_a_leg_without_a_spring_is_said_to_have_none(self) -> None:
        job = complete_job()
        assert job.front.right is not None
        bare = replace(job.front.right, spring_fitted=False)
        setup = sheet(replace(job, front=replace(job.front, right=bare))).setup
        assert row(setup, "Spring rate")[1] == "no spring"

    def test_a_set_length_not_read_fully_out_says_where(self) -> None:
        job = put(complete_job(), rear__spring__set_length_at=2.0)
        assert row(sheet(job).setup, "Set length out / in")[2] == "168.0 mm (at 2) / 155.0 mm"

    def test_an_adjuster_counted_in_rings_is_told_in_rings(self) -> None:
        job = put(JOBS["well_set"], front__left__adjuster__counting="rings")
        assert row(sheet(job).setup, "Adjuster at")[0] == "4 rings showing"
        known = put(job, front__left__adjuster__reading_out=6.0, front__left__adjuster__reading_in=1.0)
        assert row(sheet(known).setup, "Adjuster at")[0] == "4 rings showing (6 out, 1 in)"
        mm = put(known, front__left__adjuster__counting="mm")
        assert row(sheet(mm).setup, "Adjuster at")[0] == "4 mm showing (6 out, 1 in)"

    def test_fork_and_shock_have_their_other_settings(self) -> None:
        fork, shock = sheet(complete_job()).facts
        assert dict(fork.rows) == {
            "Fork height": ("6.0 mm",),
            "Air gap": ("110.0 mm",),
            "Oil volume": ("505 ml",),
            "Oil": ("5W",),
            "Travel": ("120.0 mm, packers 2.0 mm",),
            "Top-out spring": ("fitted, both legs",),
        }
        assert row(shock, "Length adjuster") == ("2.0 mm",)
        assert row(shock, "Ratio, 12 pairs")[0].endswith(" mm")
        assert row(shock, "Wheel rate")[0].endswith(" N/mm, smooth")

    def test_air_gaps_that_differ_are_told_left_and_right(self) -> None:
        job = complete_job()
        assert job.front.right is not None
        apart = replace(job, front=replace(job.front, right=replace(job.front.right, air_gap_mm=115.0)))
        assert row(sheet(apart).facts[0], "Air gap") == ("110.0 mm / 115.0 mm",)

    def test_what_was_not_entered_takes_no_row(self) -> None:
        empty = sheet(JOBS["empty"])
        assert empty.facts == ()
        assert not [name for name, cells in empty.setup.rows if set(cells) == {NONE}]

    def test_in_inches_every_length_is_in_inches(self) -> None:
        inches = sheet(JOBS["well_set"], units=Units(lengths="in", rates="lb/in"))
        tables = (inches.setup, *inches.facts, inches.sag)
        cells = [cell for table in tables for _, cells in table.rows for cell in cells]
        assert not [cell for cell in cells if "mm" in cell]
        assert row(inches.setup, "Spacer stack")[0].startswith("3.78 + ")  # 96 mm / 25.4
        drawn = [mark.text for travel in inches.travels for mark in (travel.full, *travel.marks)]
        assert drawn
        assert all(text.endswith(" in") for text in drawn)


class TestSagAndGeometry:
    def test_sags_stand_against_target_and_prediction_with_a_verdict(self) -> None:
        sag = sheet(JOBS["soft_springs"]).sag
        assert sag.heads == ("measured", "target", "verdict", "predicted")
        captured, target, verdict, predicted = row(sag, "Front, machine alone")
        assert (target, verdict) == ("15.0–25.0 mm", "below")
        assert float(captured.removesuffix(" mm")) < 15.0
        assert predicted.endswith(" mm")
        assert row(sag, "Front, rider aboard")[2] == "in target"

    def test_an_end_that_is_topped_out_is_told_so_and_given_no_sag(self) -> None:
        """Lifted it reads 1 mm short of hanging free: the stop holds it, and the sag says nothing."""
        sag = sheet(put(JOBS["well_set"], sag__front=sag_end(1.0, 33.0))).sag
        assert row(sag, "Front, machine alone")[0] == "topped out"

    def test_readings_that_cannot_be_relied_on_are_given_no_verdict(self) -> None:
        for end in (sag_end(20.0, 33.0, stiction=25.0), sag_end(20.0, 33.0, stiction=-8.0), sag_end(33.0, 20.0)):
            sag = sheet(put(JOBS["well_set"], sag__front=end)).sag
            assert [row(sag, f"Front, {state}")[2] for state in ("machine alone", "rider aboard")] == ["in doubt"] * 2
            assert row(sag, "Rear, rider aboard")[2] == "in target"

    def test_without_a_prediction_there_is_no_column_for_it(self) -> None:
        assert sheet(JOBS["half_filled"]).sag.heads == ("measured", "target", "verdict")

    def test_an_estimate_says_about(self) -> None:
        scales = {
            "front_alone_kg": None,
            "rear_alone_kg": None,
            "front_aboard_kg": None,
            "rear_aboard_kg": None,
            "machine_kg": 180.0,
            "front_share_pct": 51.0,
            "rider_front_share_pct": 46.0,
        }
        job = JOBS["well_set"]
        for name, value in scales.items():
            job = put(job, **{f"weights__{name}": value})
        assert row(sheet(job).sag, "Front, rider aboard")[3].startswith("about ")

    def test_geometry_stands_there_where_it_is_known(self) -> None:
        geometry = sheet(JOBS["well_set"]).geometry
        assert geometry is not None
        assert row(geometry, "Rake")[1] == "23.50°"
        assert sheet(JOBS["half_filled"]).geometry is None


class TestSections:
    def test_open_warnings_come_worst_first_and_notes_are_left_out(self) -> None:
        done = replace(JOBS["soft_springs"], upkeep=Upkeep())
        words = [line.word for line in sheet(done).warnings.lines]
        assert words[0] == "FAULT"
        assert set(words[1:]) == {"WARNING"}

    def test_open_torques_come_before_everything_that_may_be_left_off(self) -> None:
        torques = (Torque(what="axle nut", torque_nm=100.0), Torque(what="yoke bolts", done=True))
        first, second, *_ = sheet(replace(JOBS["soft_springs"], upkeep=Upkeep(torques=torques))).warnings.lines
        assert (first.word, first.text) == ("WARNING", "Torques still to do before a run: axle nut, 100.0 N·m.")
        assert second.word == "FAULT"

    def test_without_a_warning_the_sheet_says_so_and_claims_no_more(self) -> None:
        assert told(sheet(JOBS["empty"]).warnings) == NO_WARNINGS

    def test_what_was_changed_is_told_with_both_values_and_the_difference(self) -> None:
        changed = section(sheet(JOBS["carried_forward"], JOBS["well_set"]), "Changed since 2026-05-16")
        assert "spring rate 9.50 N/mm → 10.00 N/mm (+0.50 N/mm)" in told(changed)
        assert "free length 250.0 mm → 245.0 mm (−5.0 mm)" in told(changed)

    def test_readings_of_the_day_are_no_changes(self) -> None:
        before = JOBS["well_set"]
        after = carried(before, "before.toml", before.job.date)
        assert told(section(sheet(after, before), "Changed since")) == NO_CHANGES

    def test_a_job_before_that_is_not_at_hand_is_named_not_passed_over(self) -> None:
        after = carried(JOBS["well_set"], "before.toml", JOBS["well_set"].job.date)
        assert "before.toml, which is not at hand" in told(section(sheet(after), "Changed"))

    def test_a_job_of_its_own_has_no_changes_to_tell(self) -> None:
        assert not [one for one in sheet(JOBS["well_set"]).sections if one.title.startswith("Changed")]

    def test_the_latest_run_is_told_with_lap_and_travel_used(self) -> None:
        job = put(complete_job(), front__top_out__fitted="no")
        run = told(section(sheet(ridden(job)), "Latest run"))
        assert "10:40, best lap 1:38.4, fork used 110.0 mm of 118.0 mm, shock used 50.0 mm of 61.0 mm" in run

    def test_the_latest_run_has_its_pressures_and_the_cold_ones_to_set(self) -> None:
        """Absolute pressure keeps its ratio, cold to hot: (2.30 + 1.01325) * 3.11325 / 3.41325 - 1.01325 = 2.009 bar."""
        run = Run(front_cold_bar=2.1, front_hot_bar=2.4, rear_hot_bar=1.9)
        job = put(complete_job(), runs=(run,), upkeep__front_wanted_bar=2.3, upkeep__rear_wanted_bar=None)
        lines = told(section(sheet(job), "Latest run"))
        assert "Tyres F/R, bar: cold 2.10/–, hot 2.40/1.90, set cold for wanted 2.01/–" in lines

    def test_who_where_when_and_what_for_stand_at_the_head(self) -> None:
        about = dict(sheet(complete_job()).about)
        assert about["Rider"] == "Test Rider, 78.0 kg in full gear"
        assert about["Venue"] == "Nowhere Ring (invented)"
        assert about["Date"] == "2026-05-16"
        assert about["Set up for"] == "track"

    def test_no_control_or_reordering_character_of_a_job_is_on_it(self) -> None:
        of = sheet(hostile())
        tables = (of.setup, *of.facts, of.sag)
        texts = [of.title, *(value for _, value in of.about), *(told(one) for one in (of.warnings, *of.sections))]
        texts += [cell for table in tables for _, cells in table.rows for cell in cells]
        for text in texts:
            assert not [c for c in text if (ord(c) < 32 and c != "\n") or 127 <= ord(c) < 160 or c == "\u202e"]


class TestCautions:
    def test_every_caution_is_condensed_into_a_sentence_or_said_at_the_end(self) -> None:
        stood_for = frozenset().union(*(codes for codes, _ in CONDENSED)) | {"judgement"}
        assert stood_for == set(CAUTIONS)

    def test_only_those_that_apply_are_said_and_work_done_is_always_checked(self) -> None:
        empty, full = sheet(JOBS["empty"]).cautions, sheet(complete_job()).cautions
        assert len(empty) == 1
        assert "torques" in empty[0]
        assert set(empty) < set(full)
        assert len(condensed(CAUTIONS)) == len(CONDENSED)

    def test_the_closing_words_put_manual_rules_and_judgement_first(self) -> None:
        assert CLOSING.index("manual") < CLOSING.index("local rules") < CLOSING.index("judgement")
        assert "does not approve a machine as safe" in CLOSING


class TestDrawn:
    def test_travels_carry_both_sags_and_their_full_length(self) -> None:
        fork, rear = sheet(JOBS["well_set"]).travels
        assert (fork.full.mm, rear.full.mm) == (120.0, 125.0)
        assert [mark.name for mark in fork.marks] == ["static", "rider"]
        rider = judged(JOBS["well_set"]).sag.front.rider.sag_mm.value
        assert fork.marks[1].mm == rider
        assert fork.marks[1].text == f"{rider:.1f} mm"

    def test_gauges_carry_the_room_both_ways_in_length_and_turns(self) -> None:
        fork, shock = sheet(JOBS["soft_springs"]).gauges
        assert (fork.out.text, fork.to_in.text) == ("8.0 mm, 8 turns", "0.0 mm, 0 turns")
        assert (shock.out.mm, shock.to_in.mm) == (3.0, 7.0)

    def test_nothing_is_drawn_of_what_is_not_known(self) -> None:
        empty = sheet(JOBS["empty"])
        assert (empty.travels, empty.bars, empty.gauges) == ((), (), ())


class TestUpkeep:
    UPKEEP = Upkeep(
        machine_hours=40.0,
        fork_oil=Service(on=dt.date(2026, 3, 1), at_hours=28.0),
        front_teeth=15.0,
        rear_teeth=43.0,
        front_tyre="soft",
        front_wanted_bar=2.1,
        torques=(
            Torque(what="Front axle", torque_nm=65.0, done=True, initials="B. T."),
            Torque(what="Yoke bolts", torque_nm=20.0),
        ),
    )

    def test_services_gearing_tyres_and_torques_have_a_line_each(self) -> None:
        upkeep = told(section(sheet(replace(JOBS["well_set"], upkeep=self.UPKEEP)), "Upkeep")).split("\n")
        assert upkeep == [
            "Hour meter 40 h; Fork oil 2026-03-01, 28 h, 12 h ago",
            "Sprockets 15 / 43 (2.87)",
            "Front tyre soft, 2.10 bar hot wanted",
            "Torques set: Front axle, 65.0 N·m, B. T.",
        ]

    def test_without_any_there_is_no_such_section(self) -> None:
        assert not [one for one in sheet(JOBS["well_set"]).sections if one.title == "Upkeep"]


def test_the_sheet_says_what_the_predicted_sag_is_without() -> None:
    full = complete_job()
    bare = replace(full, rear=replace(full.rear, gas_pressure_bar=None))
    assert not [one for one in sheet(full).sections if one.title.startswith("Predicted")]
    assert told(section(sheet(bare), "Predicted sag is without")) == "Shock: gas force."
