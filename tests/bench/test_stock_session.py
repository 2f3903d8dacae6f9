"""Editing the stock of springs: typing, refusing, stepping, removing and undoing."""

from __future__ import annotations

from stanchion.bench.stock_session import StockSession
from stanchion.judgement.springs.stock import MOST_ROWS, Stock, StockSpring
from stanchion.units.known_units import METRIC, Units

RATE, COUNT, END, LABEL, FREE = ((0, name) for name in ("rate_n_per_mm", "count", "end", "label", "free_length_mm"))


def session(*rows: StockSpring, units: Units = METRIC, read_only: bool = False) -> StockSession:
    return StockSession(Stock(rows), units, read_only=read_only)


def test_what_is_typed_past_the_last_row_makes_a_row() -> None:
    stock = session()
    assert (stock.value(RATE), stock.text_of(RATE), stock.value(END)) == (None, "", StockSpring().end)
    stock.type(RATE, "9,5")
    assert stock.stock.rows == (StockSpring(rate_n_per_mm=9.5),)
    assert stock.text_of(RATE) == "9.5"


def test_what_cannot_be_read_stays_as_it_was_typed_with_its_reason_and_the_last_good_value() -> None:
    stock = session(StockSpring(rate_n_per_mm=9.5))
    stock.type(RATE, "9.5.5")
    assert stock.text_of(RATE) == "9.5.5"
    assert "decimal" in stock.drafts[RATE].reason
    assert stock.value(RATE) == 9.5
    stock.leave(RATE)
    assert stock.text_of(RATE) == "9.5.5"
    assert stock.undo(RATE)
    assert (stock.text_of(RATE), stock.value(RATE)) == ("9.5", 9.5)


def test_a_count_is_a_whole_number_and_an_empty_one_is_merely_unfinished() -> None:
    stock = session(StockSpring(count=2))
    stock.type(COUNT, "1.5")
    assert stock.drafts[COUNT].reason == "a whole number of springs is needed"
    stock.type(COUNT, "")
    assert stock.drafts[COUNT].reason == ""
    stock.leave(COUNT)
    assert (stock.text_of(COUNT), stock.value(COUNT)) == ("2", 2)
    stock.type(COUNT, "3")
    assert (stock.value(COUNT), type(stock.value(COUNT))) == (3, int)


def test_numbers_step_and_choices_go_round() -> None:
    stock = session(StockSpring(count=2))
    assert stock.nudge(COUNT, 1)
    assert stock.value(COUNT) == 3
    words = stock.options(END)
    assert set(words) == {"", "front", "rear"} or {"front", "rear"} <= set(words)
    seen = []
    for _ in words:
        seen.append(stock.value(END))
        assert stock.nudge(END, 1)
    assert sorted(seen) == sorted(words)
    assert stock.value(END) == seen[0]
    assert stock.nudge(END, -1)
    assert stock.value(END) == seen[-1]
    assert stock.options(LABEL) == ()
    assert not stock.nudge(LABEL, 1)


def test_each_visit_of_a_field_is_one_step_back_and_forward_again() -> None:
    stock = session()
    for text in ("2", "25", "250"):
        stock.type(FREE, text)
    stock.leave(FREE)
    stock.type(FREE, "240")
    assert stock.undo()
    assert stock.value(FREE) == 250.0
    assert stock.undo()
    assert stock.stock.rows == ()
    assert not stock.undo()
    assert stock.redo()
    assert len(stock.stock.rows) == 1


def test_a_row_taken_away_comes_back_and_there_is_none_past_the_last() -> None:
    kept, gone = StockSpring(label="kept"), StockSpring(label="gone")
    stock = session(gone, kept)
    assert not stock.remove(2)
    assert stock.remove(0)
    assert [row.label for row in stock.stock.rows] == ["kept"]
    assert stock.undo()
    assert [row.label for row in stock.stock.rows] == ["gone", "kept"]


def test_a_stock_of_a_later_version_is_only_looked_at() -> None:
    stock = session(StockSpring(label="blue"), read_only=True)
    stock.type(LABEL, "red")
    assert "stock" in stock.drafts[LABEL].reason
    assert not stock.nudge(COUNT, 1)
    assert not stock.remove(0)
    assert stock.stock.rows == (StockSpring(label="blue"),)


def test_a_stock_has_a_greatest_number_of_springs() -> None:
    stock = session(*(StockSpring() for _ in range(MOST_ROWS)))
    at = (MOST_ROWS, "label")
    stock.type(at, "one more")
    assert str(MOST_ROWS) in stock.drafts[at].reason
    assert len(stock.stock.rows) == MOST_ROWS
