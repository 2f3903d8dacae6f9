"""The stock of springs: rows come and go, and no more springs are taken than there are."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stanchion.base.errors import OutOfRange
from stanchion.judgement.springs.stock import MOST_ROWS, Stock, StockSpring, add, left_over, put_row, remove

SOFT = StockSpring(label="soft", rate_n_per_mm=9.0, free_length_mm=250.0, count=2)
HARD = StockSpring(label="hard", rate_n_per_mm=10.0, free_length_mm=250.0, count=1)
SHOCK = StockSpring(end="rear", label="shock", rate_n_per_mm=95.0, count=1)
VAN = Stock((SOFT, SHOCK, HARD))


def test_a_row_is_added_replaced_and_taken_out() -> None:
    assert add(Stock(), SOFT).rows == (SOFT,)
    assert put_row(VAN, 1, HARD).rows == (SOFT, HARD, HARD)
    assert remove(VAN, 0).rows == (SHOCK, HARD)
    assert VAN.rows == (SOFT, SHOCK, HARD)  # nothing is changed in place


@pytest.mark.parametrize("at", [-1, 3])
def test_there_is_no_row_beyond_the_last(at: int) -> None:
    with pytest.raises(OutOfRange, match=r"from 1 to 3"):
        remove(VAN, at)
    with pytest.raises(OutOfRange):
        put_row(VAN, at, SOFT)


def test_the_van_holds_only_so_much() -> None:
    with pytest.raises(OutOfRange, match=r"at most 500"):
        add(Stock((SOFT,) * MOST_ROWS), SOFT)


def test_each_end_has_its_rows_with_their_places() -> None:
    assert VAN.of("front") == ((0, SOFT), (2, HARD))
    assert VAN.of("rear") == ((1, SHOCK),)


def test_what_is_left_after_a_job() -> None:
    after = left_over(VAN, (0, 2, 1))
    assert [row.count for row in after.rows] == [1, 0, 0]
    assert [row.count for row in left_over(VAN, (0, 0)).rows] == [0, 1, 1]


@pytest.mark.parametrize("used", [(2, 2), (0, 0, 0), (5,)])
def test_no_more_is_taken_than_there_is(used: tuple[int, ...]) -> None:
    with pytest.raises(OutOfRange):
        left_over(VAN, used)


@given(counts=st.lists(st.integers(0, 9), min_size=1, max_size=6), data=st.data())
def test_springs_taken_and_left_are_the_springs_there_were(counts: list[int], data: st.DataObject) -> None:
    stock = Stock(tuple(StockSpring(count=count) for count in counts))
    there = [at for at, count in enumerate(counts) for _ in range(count)]
    order = data.draw(st.permutations(there))
    used = order[: data.draw(st.integers(0, len(order)))]
    assert sum(row.count for row in left_over(stock, used).rows) + len(used) == sum(counts)
