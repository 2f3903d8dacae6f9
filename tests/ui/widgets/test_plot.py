"""Pictures made of characters keep to scale."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from stanchion.ui.plot import PlotMark, curve, scale, series


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


@given(st.lists(st.floats(0.1, 5000), min_size=2, max_size=40), st.integers(2, 60), st.integers(1, 20))
def test_in_ascii_a_curve_has_a_star_a_column(heights: list[float], width: int, height: int) -> None:
    lines = curve(list(enumerate(heights)), width, height, plain=True)
    assert [len(line) for line in lines] == [width] * height
    assert [[line[column] for line in lines].count("*") for column in range(width)] == [1] * width
    assert set("".join(lines)) <= {" ", "*"}


def test_nothing_to_draw_is_blank() -> None:
    assert curve([], 4, 2) == ["    ", "    "]


@given(st.floats(0, 120), st.integers(10, 80))
def test_a_mark_stands_at_its_share_of_the_width(at: float, width: int) -> None:
    line = scale([PlotMark("S", at)], 120.0, width)
    assert len(line) == width
    assert abs(line.index("S") - (width - 1) * at / 120.0) <= 0.5 + 1e-9


def test_marks_at_one_place_are_all_shown() -> None:
    line = scale([PlotMark("S", 30), PlotMark("s", 30), PlotMark("r", 30)], 120.0, 40)
    assert {"S", "s", "r"} <= set(line)


class TestSeries:
    @given(
        st.lists(st.floats(0.1, 5000), max_size=40),
        st.integers(1, 60),
        st.integers(1, 20),
        st.booleans(),
        st.one_of(st.none(), st.just((20.0, 30.0))),
    )
    def test_it_has_the_columns_and_lines_asked_for(
        self, values: list[float], width: int, height: int, plain: bool, band: tuple[float, float] | None
    ) -> None:
        lines = series(list(enumerate(values)), len(values), width, height, band, plain=plain)
        assert [len(line) for line in lines] == [width] * height
        if plain:
            assert all(line.isascii() for line in lines)

    def test_highest_stands_above_and_later_to_the_right(self) -> None:
        assert series([(0, 33.0), (2, 30.0)], 3, 3, 2, plain=True) == ["*  ", "  *"]

    def test_the_target_lies_where_its_edges_are(self) -> None:
        lines = series([(0, 33.0)], 2, 2, 3, (28.0, 38.0), plain=True)
        assert lines == ["--", "* ", "--"]

    def test_the_dots_of_a_line_fall_from_left_to_right(self) -> None:
        assert series([(0, 2.0), (1, 1.0)], 2, 2, 1) == ["⠑⢄"]

    def test_all_alike_is_drawn_in_the_middle(self) -> None:
        assert series([(0, 5.0), (1, 5.0)], 2, 3, 3, plain=True) == ["   ", "* *", "   "]
