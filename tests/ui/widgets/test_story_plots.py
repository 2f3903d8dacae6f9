"""The plots beside a machine's story: which there are for the room there is, and what is told beside them."""

from __future__ import annotations

import pytest

from judgement_jobs import PROFILES
from stanchion.planning.machine_story import story_rows
from stanchion.ui.story_lines import plot_lines
from stanchion.units.known_units import METRIC, Units
from story_jobs import weekends

JOBS = {name: job for name, job in weekends().items() if name != "x.toml"}
ROWS = story_rows([(name, JOBS[name]) for name in sorted(JOBS)], PROFILES)


def plots(width: int, height: int, *, plain: bool = False, units: Units = METRIC) -> list[str]:
    return [line.plain for line in plot_lines(ROWS, units, width, height, plain=plain)]


@pytest.mark.parametrize("plain", [False, True])
def test_with_room_sags_at_both_ends_and_in_both_states_travel_used_and_laps_are_drawn(plain: bool) -> None:
    lines = plots(50, 15, plain=plain)
    heads = [line[:21].strip() for line in lines]
    assert heads == [
        *("rider F 30.0–33.0", "aim 28–38", "static F 18.0–20.0", "aim 15–25"),
        *("rider R 28.5–29.5", "aim 25–32", "static R 7.5", "aim 5–10"),
        *("fork used 85–93 %", "", "shock used 69–72 %", "", "best lap 1:30.1", ""),
    ]
    assert {len(line) for line in lines} == {49}
    assert all(line[21:].strip(" \u2800") for line in lines[:8])


def test_in_inches_no_range_is_cut() -> None:
    assert "static F 0.709–0.787" in plots(50, 15, units=Units(lengths="in"))[2]


def test_with_little_room_there_are_those_of_the_rider_aboard() -> None:
    heads = [line[:13].strip() for line in plots(29, 10)]
    assert heads[::2] == ["sag front", "sag rear", "fork used", "shock used", "best lap"]
    assert heads[1] == "30.0–33.0"


@pytest.mark.parametrize(("width", "height"), [(1, 1), (10, 3), (200, 60)])
def test_any_room_gives_lines(width: int, height: int) -> None:
    assert plots(width, height)
    assert list(plot_lines((), METRIC, width, height, plain=False))
