"""The stock of springs as a file: its content comes back, and what cannot be used is named and kept."""

from __future__ import annotations

import errno
import math
import tomllib
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from stanchion.base.errors import ChangedOnDisk, NotSaved
from stanchion.job.spec import middle_rate, specs_of
from stanchion.judgement.springs.stock import MOST_ROWS, Stock, StockSpring, add, remove
from stanchion.store.paths import Places
from stanchion.store.stock import load_stock, save_stock, stock_file
from store.faulty import Faulty
from strategies import foreign_values, values

BLUE = StockSpring(label="250 long, blue", rate_n_per_mm=9.5, free_length_mm=250.0, wire_mm=4.5, count=2)
SHOCK = StockSpring(end="rear", label="shock", rate_n_per_mm=95.0, free_length_mm=180.0)


def put(places: Places, text: str | bytes) -> None:
    places.config.mkdir(exist_ok=True)
    stock_file(places).write_bytes(text.encode() if isinstance(text, str) else text)


def tables(places: Places) -> dict[str, Any]:
    return tomllib.loads(stock_file(places).read_text("utf-8"))


def rows() -> st.SearchStrategy[StockSpring]:
    drawn: dict[str, Any] = {name: values(spec) for name, spec in specs_of(StockSpring).items() if name != "count"}
    count: dict[str, Any] = {"count": st.integers(0, 999)}
    return st.fixed_dictionaries(count, optional=drawn).map(lambda fields: StockSpring(**fields))


def test_a_stock_without_a_file_is_empty(places: Places) -> None:
    found = load_stock(places)
    assert (found.stock, found.problems, found.seen) == (Stock(), (), None)


def test_the_stock_comes_back_as_it_was_saved(places: Places) -> None:
    stock = Stock((BLUE, SHOCK))
    seen = save_stock(stock, places, None)
    found = load_stock(places)
    assert (found.stock, found.problems, found.seen) == (stock, (), seen)


def test_the_file_can_be_read_and_written_by_hand(places: Places) -> None:
    put(places, '[[spring]]\nfor = "rear"\nlabel = "by hand"\nrate_n_per_mm = 95\n')
    found = load_stock(places)
    assert found.stock.rows == (StockSpring(end="rear", label="by hand", rate_n_per_mm=95.0, count=1),)
    save_stock(found.stock, places, found.seen)
    text = stock_file(places).read_text("utf-8")
    assert text.startswith("# Your stock of springs. Lengths in mm, rates in N/mm")
    assert tables(places)["spring"] == [{"for": "rear", "label": "by hand", "rate_n_per_mm": 95.0, "count": 1}]


def test_one_spring_in_single_brackets_is_understood(places: Places) -> None:
    put(places, "[spring]\nrate_n_per_mm = 9.5\ncount = 2.0\n")
    assert load_stock(places).stock.rows == (StockSpring(rate_n_per_mm=9.5, count=2),)


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ('for = "middle"', "for: it must be one of 'front', 'rear'"),
        ('rate_n_per_mm = "9.5"', "rate_n_per_mm: a number is needed, not text"),
        ("rate_n_per_mm = nan", "rate_n_per_mm: an ordinary number"),
        ("rate_n_per_mm = -1", "between 0.1 and 1000"),
        ("rate_n_per_mm = true", "not true or false"),
        ("rate_n_per_mm = 9" + "0" * 400, "the number is too large"),
        ("count = 1.5", "count: a whole number"),
        ("count = -1", "between 0 and 999"),
        ("label = 7", "label: text in quotes"),
        (f'label = "{"x" * 60}"', "the text is too long"),
        ("mine = inf", "mine: an ordinary number"),
    ],
)
def test_a_row_that_cannot_be_used_is_named_and_kept(places: Places, row: str, said: str) -> None:
    put(places, f"[[spring]]\nrate_n_per_mm = 9.0\n[[spring]]\n{row}\n[[spring]]\nrate_n_per_mm = 9.5\n")
    found = load_stock(places)
    assert [spring.rate_n_per_mm for spring in found.stock.rows] == [9.0, 9.5]
    [problem] = found.problems
    assert problem.startswith("stock.toml: spring 2")
    assert said in problem
    before = tables(places)["spring"][1]
    save_stock(add(found.stock, BLUE), places, found.seen)
    after = tables(places)["spring"]
    assert len(after) == 4
    assert repr(after[1]) == repr(before)  # where it stood, as it was; repr, since nan differs from itself


def test_keys_this_version_does_not_know_are_written_back(places: Places) -> None:
    put(places, 'format = 1\nvan = "white"\n[[spring]]\nrate_n_per_mm = 9.5\nbin = [3, { row = "b" }]\n')
    found = load_stock(places)
    assert len(found.problems) == 1
    assert "'van' is not known" in found.problems[0]
    save_stock(add(found.stock, SHOCK), places, found.seen)
    assert tables(places)["van"] == "white"
    assert tables(places)["spring"][0]["bin"] == [3, {"row": "b"}]


@pytest.mark.parametrize(
    "text",
    [
        b"\xff\xfe",
        b"[[spring]\n",
        b"a = 1\na = 2\n",
        b"a = " + b"[" * 5000,
        b"a = " + b"9" * 6000,
        b"a." * 5000 + b"b = 1",
        b'label = "\x1b[31m"',
        b"# " + b"x" * 300_000,
    ],
    ids=["not text", "bracket", "twice", "deep", "digits", "dots", "escape", "large"],
)
def test_a_hostile_file_is_refused_at_once_and_is_not_lost(places: Places, text: bytes) -> None:
    put(places, text)
    found = load_stock(places)
    assert found.stock == Stock()
    assert len(found.problems) == 1
    assert "\x1b" not in found.problems[0]
    if found.seen is None:  # too large to be taken for ours: it is never written over
        with pytest.raises(ChangedOnDisk):
            save_stock(Stock((BLUE,)), places, found.seen)
        assert stock_file(places).read_bytes() == text
        return
    save_stock(Stock((BLUE,)), places, found.seen)
    assert load_stock(places).stock.rows == (BLUE,)
    assert stock_file(places).with_name("stock-damaged.toml").read_bytes() == text


def test_a_second_damaged_file_does_not_push_out_the_first(places: Places) -> None:
    for text in (b"[[one", b"[[two"):
        put(places, text)
        save_stock(Stock((BLUE,)), places, load_stock(places).seen)
    kept = sorted(path.read_bytes() for path in places.config.glob("stock-damaged*.toml"))
    assert kept == [b"[[one", b"[[two"]


def test_a_hostile_label_is_shown_as_text(places: Places) -> None:
    put(places, '[[spring]]\nlabel = "\\u001b[31m[red]\\u202e"\nrate_n_per_mm = "x"\n')
    [problem] = load_stock(places).problems
    assert "\x1b" not in problem
    assert "\u202e" not in problem
    assert "[red]" in problem


def test_a_stock_has_a_greatest_number_of_rows_and_more_are_kept_in_the_file(places: Places) -> None:
    put(places, "[[spring]]\nrate_n_per_mm = 9\n" * (MOST_ROWS + 70))
    found = load_stock(places)
    assert len(found.stock.rows) == MOST_ROWS
    assert len(found.problems) == 51
    save_stock(remove(found.stock, 0), places, found.seen)
    assert len(tables(places)["spring"]) == MOST_ROWS + 69


def test_what_another_program_wrote_meanwhile_is_not_overwritten(places: Places) -> None:
    seen = save_stock(Stock((BLUE,)), places, None)
    put(places, "[[spring]]\nrate_n_per_mm = 8\n")
    with pytest.raises(ChangedOnDisk):
        save_stock(Stock((SHOCK,)), places, seen)
    with pytest.raises(ChangedOnDisk):
        save_stock(Stock((SHOCK,)), places, None)
    assert tables(places)["spring"] == [{"rate_n_per_mm": 8}]


def test_a_file_of_a_later_version_is_read_and_not_written(places: Places) -> None:
    put(places, 'format = 2\n[[spring]]\nrate_n_per_mm = 9.5\nnew = "x"\n')
    found = load_stock(places)
    assert found.read_only
    assert "later version" in found.problems[0]
    assert found.stock.rows[0].rate_n_per_mm == 9.5
    with pytest.raises(NotSaved, match="later version"):
        save_stock(found.stock, places, found.seen)
    assert tables(places)["format"] == 2


def test_a_full_disk_leaves_the_old_stock(places: Places) -> None:
    seen = save_stock(Stock((BLUE,)), places, None)
    for at in range(1, 100):
        failing = Faulty(errno.ENOSPC, at=at)
        try:
            save_stock(Stock((SHOCK,)), places, seen, failing)
        except NotSaved:
            assert load_stock(places).stock.rows in ((BLUE,), (SHOCK,))
        if not failing.fired:
            break
        seen = save_stock(Stock((BLUE,)), places, load_stock(places).seen)
    assert at > 5  # it did fail, call by call


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow], deadline=None)
@given(
    drawn=st.lists(rows(), max_size=4),
    extra=st.dictionaries(st.text(max_size=5).map("x_".__add__), foreign_values(), max_size=2),
)
def test_any_stock_comes_back_from_its_file(places: Places, drawn: list[StockSpring], extra: dict[str, Any]) -> None:
    marked = [replace(row, unknown=tuple(sorted(extra.items(), key=lambda item: item[0]))) for row in drawn]
    stock_file(places).unlink(missing_ok=True)
    save_stock(Stock(tuple(marked)), places, None)
    assert load_stock(places).stock == Stock(tuple(marked))


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(data=st.binary(max_size=60) | st.text(max_size=60).map(lambda text: f"[[spring]]\n{text}".encode()))
def test_no_bytes_at_all_make_loading_fail(places: Places, data: bytes) -> None:
    put(places, data)
    found = load_stock(places)
    assert all(math.isfinite(middle_rate(row.rate_n_per_mm or 0.0)) for row in found.stock.rows)


def test_comments_stay_with_their_rows_and_those_of_the_program_appear_once(places: Places) -> None:
    save_stock(Stock((BLUE, SHOCK)), places, None)
    text = stock_file(places).read_text("utf-8")
    text = text.replace("format = 1\n", "format = 1  # mine\n")
    text = text.replace("rate_n_per_mm = 9.5\n", "rate_n_per_mm = 9.5  # measured\n")
    text = text.replace('label = "shock"\n', '# out on loan\nlabel = "shock"\n')
    put(places, text)
    found = load_stock(places)
    assert found.stock == Stock((BLUE, SHOCK))
    seen = save_stock(add(found.stock, BLUE), places, found.seen)
    saved = stock_file(places).read_text("utf-8")
    assert saved.startswith(text)
    save_stock(remove(load_stock(places).stock, 0), places, seen)
    saved = stock_file(places).read_text("utf-8")
    assert "# measured" not in saved
    assert '# out on loan\nlabel = "shock"\n' in saved
    assert load_stock(places).problems == ()


def test_more_comments_than_can_be_kept_are_said_and_the_file_is_not_written(places: Places) -> None:
    put(places, "format = 1\n" + "# too many of these\n" * 12_000)
    found = load_stock(places)
    assert "bytes of comments" in found.problems[0]
    assert found.read_only
