"""What stands on the hand-over sheet of a job."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from complete_job import complete_job
from judgement_jobs import FULL, judged, put, repeated_sags, sag_end
from sheet_jobs import JOBS, hostile, ridden, sheet
from stanchion import __version__
from stanchion.job.carry import carried
from stanchion.job.edit import Edit, apply
from stanchion.job.model import AsFound, Clicker, Complaint, Run, Service, Torque, Upkeep, Weights
from stanchion.job.runs import new_run
from stanchion.judgement.criteria.cautions import CAUTIONS
from stanchion.report.check_json import as_json
from stanchion.report.lines import NONE
from stanchion.report.sheet import CLOSING, NO_CHANGES, NO_FAULT, NOT_READY, make_sheet
from stanchion.report.sheet_shape import Drawings, Section, Sheet, Table
from stanchion.units.known_units import Units
from stanchion.wording.caution_sentences import CONDENSED, condensed
from stanchion.wording.finding_words import sentence


def row(table: Table, name: str) -> tuple[str, ...]:
    return dict(table.rows)[name]


def lines_of(section: Section) -> str:
    return "\n".join(f"{line.word} {line.text}".strip() for line in section.lines)


def section(of: Sheet, title: str) -> Section:
    (found,) = [part for part in of.parts if isinstance(part, Section) and part.title.startswith(title)]
    return found


def table(of: Sheet, title: str) -> Table:
    (found,) = [part for part in of.parts if isinstance(part, Table) and part.title == title]
    return found


def titles(of: Sheet) -> list[str]:
    return [part.title for part in of.parts if not isinstance(part, Drawings)]


def drawings(of: Sheet) -> Drawings:
    (found,) = [part for part in of.parts if isinstance(part, Drawings)]
    return found


SPRINGS, SETTINGS = "Springs and preload", "Settings to check"


def test_the_parts_stand_in_the_order_a_rider_and_a_crew_want() -> None:
    of = sheet(JOBS["soft_springs"], JOBS["well_set"])
    assert titles(of) == [
        "Warnings and advice",
        "Changed since 2026-05-16",
        SETTINGS,
        "Pressures",
        "Run",
        "Changes judged by riding",
        "Settings now",
        "The rider says",
        "Sag",
        "Predicted sag leaves out",
        "Geometry",
        "Axle loads",
        SPRINGS,
        "Fork",
        "Shock and linkage",
        "Damper sheet 1, fork, each leg",
        "Sheet 1. Force, N, at mm/s",
        "Sheet 1. Slope, N·s/m, at mm/s",
        "Sheet 1. A click out, N, at mm/s",
        "Frequency and damping, at rider sag",
        "Upkeep",
        "Notes",
    ]


def test_nothing_is_headed_with_nothing_below() -> None:
    for name, job in JOBS.items():
        for part in sheet(job).parts:
            assert isinstance(part, Drawings) or (part.rows if isinstance(part, Table) else part.lines), name


class TestReady:
    def test_faults_and_open_torques_stand_against_riding(self) -> None:
        torques = (Torque(what="axle nut", torque_nm=100.0), Torque(what="yoke bolts", done=True))
        ready = sheet(replace(JOBS["soft_springs"], upkeep=Upkeep(torques=torques))).ready
        assert ready.title == NOT_READY
        assert [line.word for line in ready.lines] == ["FAULT", "TORQUE"]
        assert ready.lines[1].text == "[ ] axle nut, 100.0 N·m"

    def test_an_open_torque_alone_is_enough(self) -> None:
        open_torque = Upkeep(torques=(Torque(what="axle nut", torque_nm=100.0),))
        assert sheet(replace(JOBS["well_set"], upkeep=open_torque)).ready.title == NOT_READY

    def test_without_them_the_sheet_says_so_and_never_that_the_machine_is_ready(self) -> None:
        for name in ("well_set", "empty"):
            ready = sheet(replace(JOBS[name], upkeep=Upkeep())).ready
            assert (ready.title, lines_of(ready)) == ("Before riding", NO_FAULT)


class TestSettings:
    def test_every_adjuster_says_what_it_is_counted_from_and_can_be_ticked(self) -> None:
        settings = table(sheet(JOBS["soft_springs"]), SETTINGS)
        assert settings.heads == ("position", "base", "counted from", "checked")
        assert dict(settings.rows) == {
            "Fork height": ("6.0 mm", NONE, "top yoke", "[ ]"),
            "Shock length": ("0.0 mm", NONE, "adjuster", "[ ]"),
            "Fork preload": ("8 of 8 turns", "8 (run 1)", "fully out", "[ ]"),
            "Fork compression": ("12 of 24 clicks", "12 (run 1)", "closed", "[ ]"),
            "Fork rebound": ("10 of 24 clicks", "10 (run 1)", "closed", "[ ]"),
            "Shock preload": ("3 of 10 turns", "3 (run 1)", "fully out", "[ ]"),
            "Shock rebound": ("10 of 24 clicks", "12 (run 1)", "closed", "[ ]"),
            "Shock low-speed compression": ("14 of 24 clicks", "14 (run 1)", "closed", "[ ]"),
            "Shock high-speed compression": ("2 of 4 turns", "2 (run 1)", "closed", "[ ]"),
            "Axle mark": ("28.0 mm", NONE, "swingarm scale", "[ ]"),
        }

    def test_a_base_that_was_set_is_no_run_s_and_without_any_there_is_no_column(self) -> None:
        job = put(JOBS["well_set"], rear__rebound__base=9.0)
        assert row(table(sheet(job), SETTINGS), "Shock rebound")[1] == "9"
        assert table(sheet(replace(JOBS["well_set"], runs=())), SETTINGS).heads[1] == "counted from"

    def test_legs_entered_apart_have_rows_of_their_own(self) -> None:
        names = [name for name, _ in table(sheet(complete_job()), SETTINGS).rows]
        assert {"Fork preload, left", "Fork preload, right", "Fork rebound, left", "Fork rebound, right"} <= set(names)

    def test_an_adjuster_counted_in_rings_says_what_they_read_at_its_ends(self) -> None:
        job = put(JOBS["well_set"], front__left__adjuster__counting="rings")
        assert row(table(sheet(job), SETTINGS), "Fork preload")[:2] == ("4 rings showing", "read off the adjuster")
        known = put(job, front__left__adjuster__reading_out=6.0, front__left__adjuster__reading_in=1.0)
        read = ("4 rings showing", "read off: 6 fully out, 1 fully in")
        assert row(table(sheet(known), SETTINGS), "Fork preload")[:2] == read
        mm = put(known, front__left__adjuster__counting="mm")
        assert row(table(sheet(mm), SETTINGS), "Fork preload")[0] == "4 mm showing"


class TestSprings:
    def test_both_ends_stand_side_by_side_with_their_units(self) -> None:
        springs = table(sheet(JOBS["soft_springs"]), SPRINGS)
        assert springs.heads == ("fork, each leg", "shock")
        assert row(springs, "Spring rate") == ("8.00 N/mm", "80.00 N/mm")
        assert row(springs, "Free length") == ("250.0 mm", "165.0 mm")
        assert row(springs, "Set length out / in")[1] == "156.0 / 146.0 mm"
        assert row(springs, "Spacer stack")[0] == "104 + 1.5 + 1.5 + 4 = 111.0 mm"

    def test_preload_is_given_installed_and_now_with_the_adjustment_left(self) -> None:
        springs = table(sheet(JOBS["soft_springs"]), SPRINGS)
        assert row(springs, "Installed preload") == ("20.0 mm, over limit", "9.0 mm, in band")
        assert row(springs, "Preload now") == ("28.0 mm", "12.0 mm")
        assert row(springs, "Headroom out") == ("8.0 mm, 8 turns", "3.0 mm, 3 turns")
        assert row(springs, "Headroom in") == ("0.0 mm, 0 turns", "7.0 mm, 7 turns")

    def test_legs_entered_apart_have_a_column_each(self) -> None:
        springs = table(sheet(JOBS["mismatched_lengths"]), SPRINGS)
        assert springs.heads == ("fork left", "fork right", "shock")
        assert row(springs, "Free length") == ("250.0 mm", "245.0 mm", "165.0 mm")
        assert row(springs, "Installed preload")[:2] == ("12.0 mm, in band", "7.0 mm, low")

    def test_a_leg_without_a_spring_is_said_to_have_none(self) -> None:
        job = complete_job()
        assert job.front.right is not None
        bare = replace(job.front.right, spring_fitted=False)
        springs = table(sheet(replace(job, front=replace(job.front, right=bare))), SPRINGS)
        assert row(springs, "Spring rate")[1] == "no spring"

    def test_a_set_length_not_read_fully_out_says_where(self) -> None:
        job = put(complete_job(), rear__spring__set_length_at=2.0)
        assert row(table(sheet(job), SPRINGS), "Set length out / in")[2] == "168.0 mm (at 2) / 155.0 mm"

    def test_fork_and_shock_have_their_other_facts(self) -> None:
        of = sheet(complete_job())
        assert dict(table(of, "Fork").rows) == {
            "Air gap": ("110.0 mm",),
            "Oil volume": ("505 ml",),
            "Oil": ("5W",),
            "Travel": ("120.0 mm, packers 2.0 mm",),
            "Top-out spring": ("fitted, both legs",),
            "Rubber touches at": ("100.0 mm, 1 pair",),
            "Hydraulic stop": ("6.0 mm",),
            "At full travel": ("4266 N: coil spring 2215 N, trapped air 899 N, rubber 1152 N",),
            "Frequency": ("2.44 Hz",),
        }
        shock = table(of, "Shock and linkage")
        assert row(shock, "Motion ratio")[0].endswith(" mm, 12 pairs")
        assert row(shock, "Wheel rate")[0].endswith(" N/mm, smooth")

    def test_air_gaps_that_differ_are_given_left_and_right(self) -> None:
        job = complete_job()
        assert job.front.right is not None
        apart = replace(job, front=replace(job.front, right=replace(job.front.right, air_gap_mm=115.0)))
        assert row(table(sheet(apart), "Fork"), "Air gap") == ("110.0 mm / 115.0 mm",)

    def test_what_was_not_entered_takes_no_row(self) -> None:
        for name in ("empty", "half_filled"):
            of = sheet(JOBS[name])
            tables = [part for part in of.parts if isinstance(part, Table) and part.title not in ("Sag", "Geometry")]
            assert not [row for part in tables for row in part.rows if set(row[1]) == {NONE}]
        assert titles(sheet(JOBS["empty"])) == []

    def test_in_inches_every_length_is_in_inches(self) -> None:
        inches = sheet(JOBS["well_set"], units=Units(lengths="in", rates="lb/in"))
        tables = [part for part in inches.parts if isinstance(part, Table)]
        cells = [cell for part in tables for _, cells in part.rows for cell in cells]
        assert not [cell for cell in cells if "mm" in cell]
        assert row(table(inches, SPRINGS), "Spacer stack")[0].startswith("3.78 + ")  # 96 mm / 25.4
        drawn = [mark.text for travel in drawings(inches).travels for mark in (travel.full, *travel.marks)]
        assert drawn
        assert all(text.endswith(" in") for text in drawn)


class TestSagAndGeometry:
    def test_sags_stand_against_target_and_prediction_with_a_verdict(self) -> None:
        sag = table(sheet(JOBS["soft_springs"]), "Sag")
        assert sag.heads == ("measured", "target", "verdict", "predicted")
        captured, target, verdict, predicted = row(sag, "Front, machine alone")
        assert (target, verdict) == ("15.0–25.0 mm", "below")
        assert float(captured.removesuffix(" mm")) < 15.0
        assert predicted.endswith(" mm")
        assert row(sag, "Front, rider aboard")[2] == "in target"

    def test_an_end_that_is_topped_out_is_told_so_and_given_no_sag(self) -> None:
        """Lifted it reads 1 mm short of hanging free: the stop holds it, and the sag says nothing."""
        sag = table(sheet(put(JOBS["well_set"], sag__front=sag_end(1.0, 33.0))), "Sag")
        assert row(sag, "Front, machine alone")[0] == "topped out"

    def test_readings_that_cannot_be_relied_on_are_given_no_verdict(self) -> None:
        for end in (sag_end(20.0, 33.0, stiction=25.0), sag_end(20.0, 33.0, stiction=-8.0), sag_end(33.0, 20.0)):
            sag = table(sheet(put(JOBS["well_set"], sag__front=end)), "Sag")
            assert [row(sag, f"Front, {state}")[2] for state in ("machine alone", "rider aboard")] == ["in doubt"] * 2
            assert row(sag, "Rear, rider aboard")[2] == "in target"

    def test_without_a_prediction_there_is_no_column_for_it(self) -> None:
        job = replace(JOBS["well_set"], weights=Weights())
        assert table(sheet(job), "Sag").heads == ("measured", "target", "verdict")

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
        assert row(table(sheet(job), "Sag"), "Front, rider aboard")[3].startswith("about ")

    def test_geometry_stands_there_where_it_is_known(self) -> None:
        assert row(table(sheet(JOBS["well_set"]), "Geometry"), "Rake")[1] == "23.50°"
        assert "Geometry" not in titles(sheet(JOBS["half_filled"]))

    def test_axle_loads_are_those_of_the_scales(self) -> None:
        loads = table(sheet(JOBS["soft_springs"]), "Axle loads")
        assert loads.heads == ("machine alone", "rider aboard")
        assert dict(loads.rows) == {"Front wheel": ("86.5 kg", "130.0 kg"), "Rear wheel": ("83.5 kg", "130.0 kg")}


class TestSections:
    def test_warnings_come_worst_first_and_the_advice_on_both_ends_is_always_there(self) -> None:
        advice = section(sheet(JOBS["soft_springs"]), "Warnings and advice")
        words = [line.word for line in advice.lines]
        assert words == sorted(words, reverse=True)
        assert any(line.text.startswith("Front sag: ") for line in advice.lines)
        assert (advice.lines[-1].word, advice.lines[-1].text[:9]) == ("NOTE", "Rear sag:")

    def test_what_casts_doubt_on_the_advice_comes_before_it(self) -> None:
        job = apply(JOBS["well_set"], Edit(("sag", "rear", "hanging_mm"), (618.0,)))
        texts = [line.text for line in section(sheet(job), "Warnings and advice").lines]
        (doubt,) = [at for at, text in enumerate(texts) if "springs and loads give" in text]
        assert doubt < next(at for at, text in enumerate(texts) if text.startswith("Rear sag"))
        lighter = apply(JOBS["well_set"], Edit(("weights", "machine_kg"), 150.0))
        assert "but 150.0 kg is entered, so the predicted sags are" in lines_of(section(sheet(lighter), "Warnings"))

    def test_what_was_changed_is_told_with_both_values_and_the_difference(self) -> None:
        changed = section(sheet(JOBS["carried_forward"], JOBS["well_set"]), "Changed since 2026-05-16")
        assert "spring rate 9.50 N/mm → 10.00 N/mm (+0.50 N/mm)" in lines_of(changed)
        assert "free length 250.0 mm → 245.0 mm (−5.0 mm)" in lines_of(changed)

    def test_readings_of_the_day_are_no_changes(self) -> None:
        before = JOBS["well_set"]
        after = carried(before, "before.toml", before.job.date)
        assert lines_of(section(sheet(after, before), "Changed since")) == NO_CHANGES

    def test_a_job_before_that_is_not_at_hand_is_named_not_passed_over(self) -> None:
        after = carried(JOBS["well_set"], "before.toml", JOBS["well_set"].job.date)
        assert "before.toml, which is missing or unreadable" in lines_of(section(sheet(after), "Changed"))

    def test_a_job_of_its_own_has_no_changes_to_tell(self) -> None:
        assert not [title for title in titles(sheet(JOBS["well_set"])) if title.startswith("Changed")]

    def test_every_run_has_its_lap_its_travel_used_and_what_was_changed_before_it(self) -> None:
        runs = table(sheet(JOBS["soft_springs"]), "Run")
        assert runs.heads == ("time", "lap", "fork used", "shock used", "changed before it")
        assert dict(runs.rows) == {
            "1": ("10:20", "1:14.6", "117.0 of 120.0 mm", "47.0 of 64.0 mm", NONE),
            "2": ("11:40", "1:14.1 best", "118.0 of 120.0 mm", "46.0 of 64.0 mm", "Shock rebound 2 clicks in"),
        }

    def test_the_only_lap_is_no_best_one(self) -> None:
        assert row(table(sheet(ridden(complete_job())), "Run"), "1")[1] == "1:38.4"

    def test_it_says_which_run_had_the_settings_the_machine_has_now(self) -> None:
        job = JOBS["soft_springs"]
        now = section(sheet(job), "Settings now")
        assert lines_of(now) == "As ridden in run 2, which has the best lap."
        back = replace(job, rear=job.runs[0].rear or job.rear)
        assert lines_of(section(sheet(back), "Settings now")) == "As ridden in run 1."
        changed = put(job, rear__rebound__now=11.0)
        assert lines_of(section(sheet(changed), "Settings now")).split("\n") == [
            "Not ridden yet. Changed since run 2:",
            "Shock rebound 1 click out",
        ]

    def test_a_run_of_which_nothing_was_read_is_not_ridden(self) -> None:
        ridden_twice = JOBS["soft_springs"]
        begun = replace(ridden_twice, runs=(*ridden_twice.runs, new_run(ridden_twice, "13:00")))
        assert "As ridden in run 2" in lines_of(section(sheet(begun), "Settings now"))
        turned = put(ridden_twice, rear__rebound__now=3.0)
        begun = replace(turned, runs=(*turned.runs, new_run(turned, "13:00")))
        assert "Not ridden yet. Changed since run 2:" in lines_of(section(sheet(begun), "Settings now"))
        only = replace(turned, runs=begun.runs[-1:])
        assert lines_of(section(sheet(only), "Settings now")) == "Not ridden yet."
        read = replace(only, runs=(replace(only.runs[0], laps=5.0),))
        assert lines_of(section(sheet(read), "Settings now")) == "As ridden in run 1."

    def test_a_sag_at_the_edge_and_a_preload_at_its_limit_are_told_as_on_screen(self) -> None:
        job = put(FULL, sag__front=repeated_sags(15.1, 26.0), front__left__spring__set_length_mm=235.0)
        noted = [one for one in judged(job).findings if one.code in ("sag_borderline", "preload_near_limit")]
        assert len(noted) == 2
        told = lines_of(section(sheet(job), "Warnings and advice"))
        assert all(sentence(one) in told for one in noted)

    def test_what_the_rider_said_of_each_run_is_there_the_latest_first(self) -> None:
        said = section(sheet(JOBS["soft_springs"]), "The rider says")
        assert [line.word for line in said.lines] == ["Run 2:", "Run 1:"]

    def test_the_standard_words_of_the_rider_stand_before_the_riders_own(self) -> None:
        complaints = (Complaint(where="turn_in", what="will_not_turn"), Complaint(what="vague"))
        job = put(JOBS["soft_springs"], runs=(Run(complaints=complaints, said="From lap 5."),))
        (line,) = section(sheet(job), "The rider says").lines
        assert line.text == "will not turn, turning in; vague. From lap 5."

    def test_pressures_are_those_wanted_those_of_the_latest_run_and_the_cold_one_to_set(self) -> None:
        """Absolute pressure keeps its ratio, cold to hot: (2.30 + 1.01325) * 3.11325 / 3.41325 - 1.01325 = 2.009 bar."""
        run = Run(front_cold_bar=2.1, front_hot_bar=2.4, rear_hot_bar=1.9)
        job = put(complete_job(), runs=(run,), upkeep__front_wanted_bar=2.3, upkeep__rear_wanted_bar=None)
        pressures = table(sheet(job), "Pressures")
        assert pressures.heads == ("set cold", "wanted hot", "run 1 cold", "run 1 hot")
        assert row(pressures, "Front tyre") == ("2.01 bar", "2.30 bar", "2.10 bar", "2.40 bar")
        assert row(pressures, "Rear tyre") == (NONE, NONE, NONE, "1.90 bar")

    def test_a_later_run_without_pressures_does_not_hide_them(self) -> None:
        read = Run(front_cold_bar=2.1, front_hot_bar=2.4)
        wanted = Upkeep(front_wanted_bar=2.3)
        job = replace(JOBS["well_set"], upkeep=wanted, runs=(read, Run(best_lap_s=90.0)))
        pressures = table(sheet(job), "Pressures")
        assert pressures.heads == ("set cold", "wanted hot", "run 1 cold", "run 1 hot")
        assert row(pressures, "Front tyre") == ("2.01 bar", "2.30 bar", "2.10 bar", "2.40 bar")
        apart = table(sheet(replace(job, runs=(read, Run(rear_hot_bar=1.9)))), "Pressures")
        assert apart.heads == ("set cold", "wanted hot", "last cold", "last hot")
        assert row(apart, "Front tyre, run 1") == ("2.01 bar", "2.30 bar", "2.10 bar", "2.40 bar")
        assert row(apart, "Rear tyre, run 2") == (NONE, NONE, NONE, "1.90 bar")
        after = carried(job, "before.toml", job.job.date)
        assert row(table(sheet(after), "Pressures"), "Front tyre") == (NONE, "2.30 bar", NONE, NONE)

    def test_it_says_when_it_was_written_and_by_which_version(self) -> None:
        job = JOBS["well_set"]
        of = make_sheet(job, judged(job), written=dt.datetime(2026, 5, 16, 9, 5))
        assert of.written == f"2026-05-16 09:05, stanchion {__version__}"

    def test_who_where_when_and_what_for_stand_at_the_head(self) -> None:
        about = dict(sheet(complete_job()).about)
        assert about["Rider"] == "Test Rider, 78.0 kg in full gear"
        assert about["Venue"] == "Nowhere Ring (invented)"
        assert about["Date"] == "2026-05-16"
        assert about["Set up for"] == "track"

    def test_no_control_or_reordering_character_of_a_job_is_on_it(self) -> None:
        of = sheet(hostile())
        sections = [of.ready, *(part for part in of.parts if isinstance(part, Section))]
        texts = [of.title, *(value for _, value in of.about), *map(lines_of, sections)]
        texts += [cell for part in of.parts if isinstance(part, Table) for _, cells in part.rows for cell in cells]
        for text in texts:
            assert not [c for c in text if (ord(c) < 32 and c != "\n") or 127 <= ord(c) < 160 or c == "\u202e"]


class TestCautions:
    def test_every_caution_is_condensed_into_a_sentence_or_said_at_the_end(self) -> None:
        stood_for = frozenset().union(*(codes for codes, _ in CONDENSED)) | {"judgement"}
        assert stood_for == set(CAUTIONS)

    def test_only_those_that_apply_are_said_and_work_done_is_always_checked(self) -> None:
        empty, full = sheet(JOBS["empty"]).cautions, sheet(complete_job()).cautions
        assert len(empty) == 2
        assert "torques" in empty[0]
        assert empty[1].startswith("Before riding: pump the brakes")
        assert set(empty) < set(full)
        assert len(condensed(CAUTIONS)) == len(CONDENSED)

    def test_the_closing_words_put_manual_rules_and_judgement_first(self) -> None:
        assert CLOSING.index("manual") < CLOSING.index("local rules") < CLOSING.index("judgement")
        assert "does not approve a machine as safe" in CLOSING


class TestDrawn:
    def test_travels_carry_both_sags_and_their_full_length(self) -> None:
        fork, rear = drawings(sheet(JOBS["well_set"])).travels
        assert (fork.full.mm, rear.full.mm) == (120.0, 125.0)
        assert [mark.name for mark in fork.marks][:2] == ["static", "rider"]
        rider = judged(JOBS["well_set"]).sag.front.rider.sag_mm.value
        assert fork.marks[1].mm == rider
        assert fork.marks[1].text == f"{rider:.1f} mm"

    def test_gauges_carry_the_room_both_ways_in_length_and_turns(self) -> None:
        fork, shock = drawings(sheet(JOBS["soft_springs"])).gauges
        assert (fork.out.text, fork.to_in.text) == ("8.0 mm, 8 turns", "0.0 mm, 0 turns")
        assert (shock.out.mm, shock.to_in.mm) == (3.0, 7.0)

    def test_nothing_is_drawn_of_what_is_not_known(self) -> None:
        assert not [part for part in sheet(JOBS["empty"]).parts if isinstance(part, Drawings)]


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
        upkeep = lines_of(section(sheet(replace(JOBS["well_set"], upkeep=self.UPKEEP)), "Upkeep")).split("\n")
        assert upkeep == [
            "Hour meter 40 h; Fork oil 2026-03-01, at 28 h, 12 h ago",
            "Sprockets 15 / 43 (2.87)",
            "Front tyre soft, 2.10 bar wanted hot",
            "Torques set: Front axle, 65.0 N·m, B. T.",
        ]

    def test_without_any_there_is_no_such_section(self) -> None:
        assert "Upkeep" not in titles(sheet(replace(JOBS["well_set"], upkeep=Upkeep())))


def test_the_sheet_says_what_the_predicted_sag_is_without() -> None:
    full = complete_job()
    bare = replace(full, rear=replace(full.rear, gas_pressure_bar=None))
    assert not [title for title in titles(sheet(full)) if title.startswith("Predicted")]
    assert lines_of(section(sheet(bare), "Predicted sag leaves out")) == "Shock: gas force."


def test_the_machine_as_found_is_on_the_sheet_beside_the_present_settings() -> None:
    then = put(FULL, rear__rebound=Clicker(now=10.0, total=20.0))
    found = AsFound(on=dt.date(2026, 5, 30), front_cold_bar=2.1, rear=then.rear, sag=then.sag)
    now = replace(put(then, rear__rebound=Clicker(now=8.0, total=20.0)), found=found)
    on_paper = table(make_sheet(now, judged(now)), "As found, 2026-05-30")
    assert row(on_paper, "Front tyre, cold") == ("2.10 bar", NONE)
    assert row(on_paper, "Shock rebound") == ("10 clicks out", "8 clicks out")
    assert row(on_paper, "Front sag, rider aboard") == ("33.0 mm", "33.0 mm")
    assert not any(title.startswith("As found") for title in titles(make_sheet(then, judged(then))))
    said = as_json("one.toml", now, judged(now))["as_found"]
    assert (said["on"], said["front_cold_bar"]) == ("2026-05-30", 2.1)
    assert said["positions"]["rear.rebound.now"] == 10.0
