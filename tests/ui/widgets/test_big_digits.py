"""Digits large enough to be read from a step away."""

from __future__ import annotations

import pytest

from stanchion.ui.big_digits import HEIGHTS, SEGMENTS, big_digits


@pytest.mark.parametrize("height", HEIGHTS)
@pytest.mark.parametrize("plain", [False, True])
def test_no_two_digits_look_alike_and_each_fills_its_height(height: int, plain: bool) -> None:
    drawn = {one: big_digits(one, 40, height, plain=plain) for one in "0123456789-"}
    assert len({tuple(lines) for lines in drawn.values()}) == len(drawn)
    assert all(len(lines) == height for lines in drawn.values())
    assert {mark for lines in drawn.values() for line in lines for mark in line} == {" ", "#" if plain else "█"}


def test_the_largest_that_fits_is_drawn_and_never_more_than_the_room() -> None:
    for width in range(5, 120, 3):
        for height in (4, 5, 7, 10, 20):
            lines = big_digits("142.5", width, height)
            assert len(lines) <= height
            assert all(len(line) <= width for line in lines)
    assert len(big_digits("142.5", 48, 7)) == 7  # the pane at 80 by 24
    assert len(big_digits("142.5", 77, 18)) == 15  # at 120 by 40
    assert len(big_digits("1142.5", 77, 18)) == 11  # one digit more


def test_what_is_no_plain_number_is_left_to_small_letters() -> None:
    assert big_digits("9 7/8 in", 200, 20) == []
    assert big_digits("", 200, 20) == []
    assert set("0123456789") <= set(SEGMENTS)
    assert big_digits("1,5", 80, 7) == big_digits("1.5", 80, 7)
