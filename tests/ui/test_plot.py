"""Pictures made of characters keep to scale."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from stanchion.ui.plot import Mark, curve, scale


@given(st.lists(st.floats(0.1, 5000), min_size=2, max_size=40), st.integers(2, 60), st.integers(1, 20))
def test_a_curve_has_the_columns_and_lines_asked_for(heights: list[float], width: int, height: int) -> None:
    lines = curve(list(enumerate(heights)), width, height)
    assert [len(line) for line in lines] == [width] * height
    assert all(0x2800 <= ord(character) <= 0x28FF for line in lines for character in line)


def test_a_rising_line_ends_in_the_upper_right_and_starts_in_the_lower_left() -> None:
    lines = curve([(0.0, 0.0), (120.0, 3000.0)], 20, 6)
    assert lines[0][-1] != "⠀"
    assert lines[-1][0] != "⠀"
    assert lines[0][0] == "⠀"


def test_nothing_to_draw_is_blank() -> None:
    assert curve([], 4, 2) == ["    ", "    "]


@given(st.floats(0, 120), st.integers(10, 80))
def test_a_mark_stands_at_its_share_of_the_width(at: float, width: int) -> None:
    line = scale([Mark("S", at)], 120.0, width)
    assert len(line) == width
    assert abs(line.index("S") - (width - 1) * at / 120.0) <= 0.5 + 1e-9


def test_marks_at_one_place_are_all_shown() -> None:
    line = scale([Mark("S", 30), Mark("s", 30), Mark("r", 30)], 120.0, 40)
    assert {"S", "s", "r"} <= set(line)
