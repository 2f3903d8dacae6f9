"""The story of a machine as a table and in words."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from judgement_jobs import PROFILES, put
from stanchion.planning.machine_story import row_of, story_rows
from stanchion.report.story import BY_NAME, TABLE, row_lines, story_table
from stanchion.units.known_units import METRIC, Units
from story_jobs import occasion, ridden, weekends

ROWS = story_rows([(name, job) for name, job in weekends().items() if name != "x.toml"], PROFILES)


def cells(name: str, units: Units = METRIC) -> list[str]:
    return [BY_NAME[name].cell(row, units) for row in ROWS]


def test_each_row_shows_when_what_was_used_and_what_was_changed() -> None:
    assert cells("when") == [
        "2026-05-03",
        "  run 1 10:20",
        "  run 2 11:40",
        "2026-05-10",
        "  run 1 9:05",
        "2026-05-17",
    ]
    assert cells("front_used") == ["112/120", "112/120", "108/120", "102/120", "102/120", "–"]
    assert cells("front_rider_sag") == ["33.0", "", "", "30.0", "", "33.0"]
    assert cells("best_lap") == ["1:31.8", "1:32.4", "1:31.8", "1:30.1", "1:30.1", "–"]
    assert cells("front_adjuster") == ["6", "4", "4", "8", "8", "8"]
    assert cells("changed")[:2] == ["first on record", "first on record"]
    assert cells("changed")[3:] == ["Fork preload 2 turns in", "Fork preload 2 turns in", "nothing"]


def test_lengths_are_in_the_unit_in_use() -> None:
    assert cells("front_installed", Units(lengths="in"))[0] == "0.472"


def test_legs_that_differ_are_both_shown() -> None:
    job = occasion(3)
    split = replace(job, front=replace(job.front, right=put(job, front__left__adjuster__now=5.0).front.left))
    row = row_of("a.toml", split, None, PROFILES)
    assert BY_NAME["front_adjuster"].cell(row, METRIC) == "4/5"
    assert BY_NAME["front_installed"].cell(row, METRIC) == "12.0"


def test_the_table_has_a_cell_for_every_head_in_every_row() -> None:
    table = [line.split("\t") for line in story_table(list(ROWS), METRIC, tabs=True)]
    assert {len(row) for row in table} == {len(TABLE)}
    assert table[3][:6] == ["2026-05-03", "2", "11:40", "Grey Mule", "B. T.", "Gravel Loop"]


def test_aligned_columns_begin_below_their_heads() -> None:
    lines = list(story_table(list(ROWS), METRIC, tabs=False))
    at = lines[0].index("best_lap")
    assert [line[at : at + 6] for line in lines[1:3]] == ["1:31.8", "1:32.4"]


def test_a_row_in_full_tells_everything_of_the_run() -> None:
    job = occasion(3, rear__rebound__now=9.0)
    run = ridden(job, "9:00", 92.4, 112.0, laps=8.0, front_hot_bar=2.3, air_c=18.0, said="Dives.\nRuns wide.")
    columns = dict(row_lines(row_of("a.toml", replace(job, runs=(run,)), 0, PROFILES), METRIC))
    assert columns["Best lap"] == "1:32.4, 8 laps"
    assert columns["Used"] == "fork 112.0 mm of 120.0 mm (93 %)"
    assert columns["Fork"] == "9.50 N/mm, installed 12.0 mm, adjuster 4 turns"
    assert columns["Dampers"] == "shock rebound 9 out"
    assert columns["Sag front"] == "static 20.0 mm (ok), rider 33.0 mm (ok)"
    assert columns["Tyre front"] == "hot 2.30 bar"
    assert columns["Weather"] == "air 18.0 °C"
    assert columns["Said"] == "Dives. / Runs wide."


def test_hostile_text_can_neither_break_the_table_nor_steer_a_terminal() -> None:
    job = occasion(3, machine="a\tb\x1b[2J", rider="c\nd", venue="\x9b31m")
    job = replace(job, runs=(ridden(job, "\x1b]0;t\x07", None, said="\x1b[31m\nb"),))
    rows = [row_of("e\x1b.toml", job, at, PROFILES) for at in (None, 0)]
    table = list(story_table(rows, METRIC, tabs=True))
    assert len(table) == 3
    assert {line.count("\t") for line in table} == {len(TABLE) - 1}
    words = "".join(table) + "".join(name + text for row in rows for name, text in row_lines(row, METRIC))
    assert not {"\x1b", "\x9b", "\x07", "\n"} & set(words)


def test_a_run_on_another_day_than_its_job_is_given_its_own() -> None:
    job = occasion(3)
    job = replace(job, runs=(ridden(job, "23:40", 92.0), ridden(job, "0:20", 91.0, date=dt.date(2026, 5, 4))))
    rows = story_rows([("a.toml", job)], PROFILES)
    assert [line.split("\t")[0] for line in story_table(list(rows), METRIC, tabs=True)][1:] == [
        "2026-05-03",
        "2026-05-03",
        "2026-05-04",
    ]
    assert [BY_NAME["when"].cell(row, METRIC) for row in rows] == ["2026-05-03", "  run 1 23:40", "  run 2 05-04"]
    assert [BY_NAME["venue"].cell(row, METRIC) for row in rows] == ["Gravel Loop", "", "Gravel Loop"]


def test_a_session_is_named_where_it_begins_and_in_a_column_of_its_own() -> None:
    job = put(occasion(3), job__session="Practice")
    runs = (ridden(job, "9:40", None, session="Practice"), ridden(job, "13:00", None, session="Race"))
    rows = story_rows([("a.toml", replace(job, runs=(*runs, ridden(job, "14:00", None, session="Race"))))], PROFILES)
    assert [BY_NAME["gist"].cell(row, METRIC).split(" · ")[0] for row in rows] == [
        "Gravel Loop, Practice",
        "first on record",
        "Race",
        "nothing",
    ]
    sessions = [line.split("\t")[6] for line in story_table(list(rows), METRIC, tabs=True)]
    assert sessions == ["session", "Practice", "Practice", "Race", "Race"]
