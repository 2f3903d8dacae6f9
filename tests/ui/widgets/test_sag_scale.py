"""Sag against its target keeps to scale, whatever is read, and stands where it stood while readings are typed."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from driving import USUAL, WIDE, a_job, app_on, shown, typed
from stanchion.ui.sag_scale import ABOVE, BELOW, TOGETHER, end_of_scale, sag_scale
from timing import at_rest

HALF = 0.5 + 1e-6
ANY = st.floats(allow_nan=False, allow_infinity=False)
WIDTH = st.integers(3, 120)
LENGTH = st.one_of(st.just(0.0), st.floats(0.1, 400))
TRACK = ((15.0, 25.0), (28.0, 38.0))
"""Front static and rider sag (common practice, no published source)."""


def at(column: int, end: float, width: int) -> float:
    """The length in the middle of a column."""
    return end * column / (width - 1)


@given(st.lists(st.tuples(ANY, ANY), max_size=3), st.lists(ANY, max_size=3), ANY, st.integers(0, 120))
def test_any_numbers_give_a_line_of_the_width_asked_for(
    bands: list[tuple[float, float]], values: list[float], end: float, width: int
) -> None:
    line = sag_scale([("▒", band) for band in bands], [("R", value) for value in values], end, width)
    assert len(line) == width


@given(st.floats(0, 60), st.floats(0, 60), WIDTH)
def test_readings_stand_where_they_lie_to_half_a_column(static: float, rider: float, width: int) -> None:
    line = sag_scale([("░", TRACK[0]), ("▒", TRACK[1])], [("S", static), ("R", rider)], 60.0, width)
    for letter, value in (("S", static), ("R", rider)):
        column = line.index(letter if letter in line else TOGETHER)
        assert abs(column - value / 60.0 * (width - 1)) <= HALF


@given(st.tuples(st.floats(0, 59), st.floats(0, 59)).map(sorted), WIDTH)
def test_a_target_covers_what_lies_within_it_to_half_a_column(band: list[float], width: int) -> None:
    low, high = band
    line = sag_scale([("▒", (low, high))], [], 60.0, width)
    half = 60.0 / (width - 1) * HALF
    filled = [at(column, 60.0, width) for column, cell in enumerate(line) if cell == "▒"]
    if low < high:
        assert abs(filled[0] - low) <= half
        assert abs(filled[-1] - high) <= half
    else:
        assert filled == []


@given(ANY, ANY, WIDTH)
def test_more_sag_never_stands_further_to_the_left(first: float, second: float, width: int) -> None:
    low, high = sorted((first, second))
    columns = []
    for value in (low, high):
        line = sag_scale([], [("R", value)], 60.0, width)
        columns.append(next(column for column, cell in enumerate(line) if cell in ("R", BELOW, ABOVE)))
    assert columns[0] <= columns[1]


def test_a_reading_beyond_the_scale_is_shown_as_beyond_it() -> None:
    assert sag_scale([], [("S", -1.0), ("R", 61.0)], 60.0, 10) == "<────────>"
    assert sag_scale([], [("S", 0.0), ("R", 60.0)], 60.0, 10) == "S────────R"


@given(st.lists(st.tuples(LENGTH, LENGTH), max_size=4), st.sampled_from([10.0, 12.7]))
def test_the_scale_ends_at_a_round_length_past_the_targets(bands: list[tuple[float, float]], step: float) -> None:
    end = end_of_scale(bands, step)
    assert abs(end / step - round(end / step)) < 1e-9
    assert all(high < end or high == 0.0 for _, high in bands)


def lines_of(text: str) -> list[str]:
    """The scales that stand on a screen."""
    return [line.split("▏")[1].rstrip() for line in text.splitlines() if line.rstrip().endswith(("60", "50"))]


@pytest.mark.parametrize(("size", "an_end"), [(USUAL, 1), (WIDE, 2)], ids=["80x24", "120x40"])
async def test_the_scales_stand_still_while_sag_is_taken(tmp_path: Path, size: tuple[int, int], an_end: int) -> None:
    app = app_on(tmp_path, a_job(("sag.front.hanging_mm.0", 142.0)), "sag")
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        before = lines_of(shown(app))
        assert len(before) == 2 * an_end  # targets are shown before anything is read
        assert all("░" in line or "▒" in line for line in before)
        for reading in ("\n", "121\n", "125\n", "104\n", "109\n"):
            await typed(pilot, reading)
        await at_rest(pilot)
        after = lines_of(shown(app))
        assert [len(line) for line in after] == [len(line) for line in before]
        front = after[:an_end]
        # sag = L1 - (down + up) / 2: 19 and 35.5 mm, both within 15-25 and 28-38
        for letter, value in (("S", 19.0), ("R", 35.5)):
            (line,) = (line for line in front if letter in line)
            bar = line[line.index("├") : line.rindex("┤") + 1]
            assert abs(bar.index(letter) - value / 60.0 * (len(bar) - 1)) <= HALF
        assert "15–25 ok" in shown(app)
        assert "28–38 ok" in shown(app)


async def test_in_inches_the_scale_ends_at_half_an_inch(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "sag")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("escape", "i")
        await at_rest(pilot)
        # 1.4 times 38 mm is 2.09 in, 1.4 times 32 mm 1.76 in
        assert [line.rstrip().rsplit("┤")[-1] for line in shown(app).splitlines() if "┤" in line] == ["2.5", "2"]
