"""A machine's occasions and runs stand in the order they happened, each with what was changed since the one before."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from judgement_jobs import PROFILES, put
from stanchion.job.name_match import match_key
from stanchion.planning.machine_story import (
    chosen_rows,
    filtered,
    lap_points,
    row_of,
    sag_points,
    sag_target,
    story_rows,
    used_points,
)
from story_jobs import MACHINE, occasion, ridden, weekends


def grey_mule() -> list[tuple[str, object]]:
    return [(name, job) for name, job in weekends().items() if match_key(job.job.machine) == match_key(MACHINE)]


ROWS = story_rows(grey_mule(), PROFILES)  # type: ignore[arg-type]


class TestOrder:
    def test_occasions_stand_by_date_with_their_runs_below_them(self) -> None:
        assert [(row.file, row.at) for row in ROWS] == [
            ("a.toml", None),
            ("a.toml", 0),
            ("a.toml", 1),
            ("b.toml", None),
            ("b.toml", 0),
            ("c.toml", None),
        ]

    def test_of_one_day_the_one_ridden_first_comes_first_and_one_not_ridden_yet_last(self) -> None:
        job = occasion(3)
        jobs = {
            "a.toml": job,
            "b.toml": replace(job, runs=(ridden(job, "13:10", None),)),
            "c.toml": replace(job, runs=(ridden(job, "9:40", None),)),
        }
        assert [row.file for row in story_rows(jobs.items(), PROFILES) if row.at is None] == [
            "c.toml",
            "b.toml",
            "a.toml",
        ]

    def test_a_run_on_another_day_is_among_the_rows_of_that_day_and_those_of_a_day_go_by_their_time(self) -> None:
        job = occasion(3)
        sunday = dt.date(2026, 5, 5)
        softer = put(job, rear__rebound__now=14.0)
        runs = (
            ridden(softer, "11:00", None, session="Practice 2"),
            ridden(job, "9:30", None, session="Practice 1"),
            ridden(job, "", None, session="Practice 1"),
            ridden(job, "10:00", None, date=sunday, session="Race"),
        )
        other = replace(occasion(4), runs=(ridden(job, "8:00", None, date=sunday),))
        rows = story_rows([("a.toml", replace(job, runs=runs)), ("b.toml", other)], PROFILES)
        assert [(row.file, row.at, row.day.day) for row in rows] == [
            ("a.toml", None, 3),
            ("a.toml", 1, 3),
            ("a.toml", 2, 3),
            ("a.toml", 0, 3),
            ("b.toml", None, 4),
            ("a.toml", 3, 5),
            ("b.toml", 0, 5),
        ]
        assert [bool(row.changes) for row in rows if row.file == "a.toml"] == [False, False, False, True, True]
        assert [row.at for row in chosen_rows(rows, since=sunday, until=sunday)] == [3, 0]
        assert [row.at for row in filtered(rows, "race")] == [3]
        assert [row.at for row in filtered(rows, "2026-05-05")] == [3, 0]
        assert [row_of("a.toml", replace(job, runs=runs), at, PROFILES).at for at in (None, 0, 3)] == [None, 0, 3]

    def test_numbered_copies_count_as_numbers_do(self) -> None:
        names = ["mule-10.toml", "mule.toml", "mule-9.toml", "²-mule.toml", "7.toml"]
        rows = story_rows([(name, occasion(3)) for name in names], PROFILES)
        assert [row.file for row in rows] == ["7.toml", "mule.toml", "mule-9.toml", "mule-10.toml", "²-mule.toml"]


class TestChanges:
    def test_a_run_is_told_against_the_run_before_it(self) -> None:
        assert [change.path for change in ROWS[2].changes] == [("rear", "rebound", "now")]

    def test_a_base_setting_and_a_position_first_read_are_no_change(self) -> None:
        before = occasion(3, front__fork_height_mm=None)
        after = put(occasion(10, front__fork_height_mm=6.0), front__left__adjuster__base=4.0)
        rows = story_rows([("a.toml", before), ("b.toml", after)], PROFILES)
        assert rows[-1].changes == ()

    def test_the_first_run_is_told_against_the_occasion_before(self) -> None:
        [change] = ROWS[4].changes
        assert (change.path, change.old, change.new) == (("front", "left", "adjuster", "now"), 6.0, 8.0)

    def test_the_first_of_all_has_nothing_before_it(self) -> None:
        assert [row.first for row in ROWS] == [True, True, False, False, False, False]
        assert ROWS[0].changes == ()

    def test_readings_of_the_day_are_no_change_of_the_setup(self) -> None:
        assert ROWS[5].changes == ()  # other sags, rider and venue; all else as it was left

    def test_a_fact_written_down_later_is_no_change(self) -> None:
        jobs = [("a.toml", occasion(3)), ("b.toml", occasion(4, front__air_gap_least_mm=90.0))]
        assert story_rows(jobs, PROFILES)[1].changes == ()

    def test_what_was_changed_stays_told_when_the_row_before_is_not_chosen(self) -> None:
        assert [row.changes for row in chosen_rows(ROWS, venue="lake")] == [ROWS[3].changes, ROWS[4].changes]


class TestFigures:
    def test_a_run_has_the_preload_it_was_ridden_with(self) -> None:
        # common practice, no published source: 0.5 mm a turn, 12 mm installed
        preload = [row.assessment.front.left.preload_now_mm.value for row in ROWS[:3]]
        assert preload == pytest.approx([15.0, 14.0, 14.0])

    def test_one_row_by_itself_is_that_of_the_job_or_of_a_run(self) -> None:
        job = weekends()["a.toml"]
        rows = [row_of("a.toml", job, at, PROFILES) for at in (None, 0, 1)]
        assert [row.at for row in rows] == [None, 0, 1]
        assert all(row.file == "a.toml" for row in rows)

    def test_an_occasion_has_the_best_lap_and_the_deepest_marker_of_its_runs(self) -> None:
        assert ROWS[0].best_lap_s == 91.8
        front, rear = ROWS[0].deepest("front"), ROWS[0].deepest("rear")
        assert front is not None
        assert rear is not None
        assert (front.used_mm.value, front.available_mm.value, rear.used_mm.value) == (112.0, 120.0, 46.0)
        assert ROWS[5].best_lap_s is None
        assert ROWS[5].deepest("front") is None

    def test_plots_have_a_point_where_there_is_a_figure_and_none_where_there_is_not(self) -> None:
        assert [(point.row, point.value) for point in sag_points(ROWS, "front")] == [(0, 33.0), (3, 30.0), (5, 33.0)]
        static = sag_points(ROWS, "front", "static")
        assert [(point.row, point.value) for point in static] == [(0, 20.0), (3, 18.0), (5, 20.0)]
        assert [(point.row, point.value) for point in lap_points(ROWS)] == [(1, 92.4), (2, 91.8), (4, 90.1)]
        assert [point.value for point in used_points(ROWS, "front")] == pytest.approx([93.333, 90.0, 85.0], abs=1e-3)
        assert [point.row for point in used_points(ROWS, "rear")] == [1, 2]

    def test_the_target_is_that_of_the_profile(self) -> None:
        assert sag_target(ROWS, "front") == (28.0, 38.0)  # track; common practice, no published source
        assert sag_target((), "front") is None
        assert sag_target(ROWS, "front", "static") == (15.0, 25.0)

    def test_a_row_by_itself_reads_as_it_does_in_the_story(self) -> None:
        alone = row_of("a.toml", weekends()["a.toml"], 1, PROFILES)
        assert (alone.job.front, alone.best_lap_s, alone.at) == (ROWS[2].job.front, 91.8, 1)
        assert alone.assessment.front.left == ROWS[2].assessment.front.left
        with pytest.raises(IndexError):
            row_of("a.toml", weekends()["a.toml"], 2, PROFILES)


class TestFinding:
    @pytest.mark.parametrize(
        ("typed", "found"),
        [
            ("lake", [3, 4]),
            ("c. u.", [5]),
            ("2026-05-03", [0, 1, 2]),
            ("GRAVEL b.", [0, 1, 2]),
            ("dives", [1]),
            ("nonsense", []),
            ("", [0, 1, 2, 3, 4, 5]),
        ],
    )
    def test_words_find_venue_rider_date_and_what_was_said(self, typed: str, found: list[int]) -> None:
        assert filtered(ROWS, typed) == tuple(ROWS[at] for at in found)

    def test_rider_venue_and_time_narrow_the_rows(self) -> None:
        assert {row.file for row in chosen_rows(ROWS, rider="c. u.")} == {"c.toml"}
        days = {"since": dt.date(2026, 5, 10), "until": dt.date(2026, 5, 16)}
        assert {row.file for row in chosen_rows(ROWS, **days)} == {"b.toml"}  # type: ignore[arg-type]


class TestStopping:
    def test_it_says_how_far_it_is(self) -> None:
        reports: list[tuple[int, int]] = []
        story_rows(grey_mule(), PROFILES, lambda done, of: reports.append((done, of)))  # type: ignore[arg-type]
        assert reports == [(1, 3), (2, 3), (3, 3)]

    def test_stopped_it_gives_what_it_had(self) -> None:
        done: list[int] = []
        rows = story_rows(grey_mule(), PROFILES, lambda one, _: done.append(one), lambda: len(done) == 1)  # type: ignore[arg-type]
        assert rows == ROWS[:3]


@pytest.mark.parametrize("other", ["grey mule", "  GREY\tMule ", "Ｇrey Mule", "Grey\u00a0Mule"])
def test_a_machine_is_the_same_in_other_letters_and_spaces(other: str) -> None:
    assert match_key(other) == match_key("Grey Mule")


def test_machines_of_other_names_are_others() -> None:
    assert len({match_key(name) for name in ("Grey Mule", "Grey Mule 2", "GreyMule", "")}) == 4


def test_torques_and_hours_go_on_by_themselves() -> None:
    later = put(occasion(4), upkeep__machine_hours=12.0, upkeep__front_teeth=15.0)
    [change] = story_rows([("a.toml", occasion(3)), ("b.toml", later)], PROFILES)[1].changes
    assert change.path == ("upkeep", "front_teeth")


def test_another_chain_is_a_change_and_what_is_only_looked_at_is_none() -> None:
    before = put(
        occasion(3), drive__chain="520", drive__links=108.0, drive__acceleration_g=0.5, drive__axle_back_mm=20.0
    )
    later = put(
        occasion(4), drive__chain="520", drive__links=110.0, drive__acceleration_g=0.6, drive__axle_back_mm=10.0
    )
    [change] = story_rows([("a.toml", before), ("b.toml", later)], PROFILES)[1].changes
    assert (change.path, change.old, change.new) == (("drive", "links"), 108.0, 110.0)
