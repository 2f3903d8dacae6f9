"""The rows that answer the rider's words: complete, marked as common practice, and the user's own beside them.

What a row says is common practice without a published source; the tests hold its form and what the program does with it.
"""

from __future__ import annotations

import tomllib
from typing import get_args

import pytest

from stanchion.base.bundled import shipped_data
from stanchion.job.complaint import COMPLAINTS, PLACES, SAFETY, Complaint
from stanchion.judgement.criteria.riders_words import (
    CHANGE_KINDS,
    HandKind,
    ReadingKind,
    load_riders_words,
)
from stanchion.wording.glossary import GLOSSARY

SHIPPED = load_riders_words()
OWN = """\
[mine]
what = "dives"
where = ["straight_braking"]
by_hand = ["fork_leaks"]
changes = [
  { do = "front_lower", mm = 3, why = "As we do it here.", too_far = "shakes", too_far_where = "straight" },
]
"""


def problem(text: str) -> str:
    """What is said of the only row of a file."""
    words = load_riders_words(text.encode())
    assert words.rows == SHIPPED.rows
    (said,) = words.problems
    return said


class TestRowsOfTheProgram:
    def test_every_row_is_marked_as_common_practice(self) -> None:
        rows = tomllib.loads(shipped_data("riders_words.toml").decode())
        assert {row["source"] for row in rows.values()} == {"common practice, no published source"}

    def test_every_complaint_is_answered_wherever_it_is_made(self) -> None:
        for what in COMPLAINTS[1:]:
            for where in PLACES:
                row = SHIPPED.row(Complaint(where=where, what=what))
                assert row is not None, (what, where)
                assert row.what == what

    def test_something_else_is_for_the_riders_own_words(self) -> None:
        assert SHIPPED.row(Complaint(what="other")) is None

    def test_a_complaint_and_its_place_have_one_row(self) -> None:
        assert len(SHIPPED.complaints) == sum(len(row.where) for row in SHIPPED.rows)

    def test_safety_leads_to_an_inspection_and_never_to_a_change(self) -> None:
        for row in SHIPPED.rows:
            assert bool(row.changes) is (row.what not in SAFETY), row.name
            assert row.by_hand, row.name

    def test_every_change_and_check_is_used_by_some_row(self) -> None:
        assert {change.do for row in SHIPPED.rows for change in row.changes} == set(CHANGE_KINDS)
        assert {kind for row in SHIPPED.rows for kind in row.by_hand} == set(get_args(HandKind))
        assert {kind for row in SHIPPED.rows for kind in row.readings} == set(get_args(ReadingKind))

    def test_no_change_goes_too_far_into_what_it_answers(self) -> None:
        for row in SHIPPED.rows:
            for change in row.changes:
                same_place = change.too_far == row.what and change.too_far_where in row.where
                assert not same_place, (row.name, change.do)

    def test_the_words_of_a_row_are_sentences(self) -> None:
        for row in SHIPPED.rows:
            for change in row.changes:
                assert change.why[0].isupper(), change.why
                assert change.why.endswith("."), change.why
                avoided = [word for term in GLOSSARY for word in term.never if word in change.why.lower()]
                assert not avoided, change.why


class TestRowsOfTheUser:
    def test_an_own_row_comes_first_and_those_of_the_program_stay(self) -> None:
        words = load_riders_words(OWN.encode())
        assert words.problems == ()
        assert [row.name for row in words.rows] == ["mine", *(row.name for row in SHIPPED.rows)]
        row = words.row(Complaint(where="straight_braking", what="dives"))
        assert row is not None
        assert (row.name, row.own, row.changes[0].mm) == ("mine", True, 3.0)
        turning_in = words.row(Complaint(where="turn_in", what="dives"))
        assert turning_in is not None
        assert not turning_in.own

    def test_an_own_row_of_the_same_name_takes_the_place_of_the_other(self) -> None:
        words = load_riders_words(OWN.replace("[mine]", "[dives]").encode())
        assert [row.name for row in words.rows].count("dives") == 1
        assert words.rows[0].own

    @pytest.mark.parametrize(
        ("line", "instead", "said"),
        [
            (6, '{ do = "front_lower", mm = 3, why = "x", too_far = "sings", too_far_where = "straight" },', "too_far"),
            (6, '{ do = "front_lowered", mm = 3, why = "x" },', "do must be one of"),
            (6, '{ do = "front_lower", why = "x", too_far = "shakes", too_far_where = "exit" },', "needs mm"),
            (6, '{ do = "front_lower", mm = 300, why = "x" },', "mm must be a number from"),
            (6, '{ do = "front_lower", mm = true, why = "x" },', "mm must be a number from"),
            (6, '{ do = "front_lower", mm = 3, why = "", too_far = "shakes" },', "why must be text"),
            (6, '{ do = "front_lower", mm = 3, way = "up" },', "'way' is not known"),
            (6, "7,", "a table in curly brackets"),
            (4, 'by_hand = ["everything"]', "by_hand must be a list"),
            (3, 'where = ["pit"]', "where must be a list"),
            (3, "where = []", "at least one of"),
            (2, "what = 7", "what must be one of"),
            (2, 'what = "shakes"', "a matter of safety"),
        ],
    )
    def test_a_row_that_cannot_be_used_is_named_with_its_line(self, line: int, instead: str, said: str) -> None:
        lines = OWN.splitlines()
        lines[line - 1] = instead
        words = problem("\n".join(lines))
        assert said in words
        at = {"a matter of safety": 5, "at least one of": 1}.get(said, line)
        assert words.startswith(f"line {at}, mine: "), words

    def test_a_file_that_is_no_toml_is_not_used_at_all(self) -> None:
        assert "nothing of the file is used" in problem("[mine")

    def test_many_bad_rows_are_counted(self) -> None:
        words = load_riders_words("".join(f"[r{n}]\nwhat = 1\n" for n in range(60)).encode())
        assert (len(words.problems), words.problems[-1]) == (51, "and 10 more")
