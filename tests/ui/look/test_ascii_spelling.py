"""What is spelt in ASCII keeps its columns and can be told apart."""

from __future__ import annotations

import unicodedata

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from stanchion.base.text import clean
from stanchion.ui.ascii_spelling import in_ascii
from stanchion.ui.big_digits import ascii_digits


@given(st.text(st.characters(exclude_categories=("Cc", "Cs", "Cf", "M")), max_size=60))
def test_any_text_becomes_ascii_in_as_many_columns(text: str) -> None:
    shown = clean(text)
    spelt = in_ascii(shown)
    assert spelt.isascii()
    assert spelt.isprintable()
    assert len(spelt) == cell_len(shown)


@given(st.text(max_size=60))
def test_whatever_comes_nothing_beyond_ascii_is_let_through(text: str) -> None:
    assert in_ascii(text).isascii()


@given(st.text(st.characters(max_codepoint=127), max_size=80))
def test_what_is_ascii_already_stays_as_it_is(text: str) -> None:
    assert in_ascii(text) == text


def test_accents_are_left_off_and_what_cannot_be_spelt_is_marked() -> None:
    assert in_ascii("Jörg Łukasz Ångström") == "Jorg Lukasz Angstrom"
    assert in_ascii("灰色 Ω") == "???? ?"
    assert in_ascii("e\u0323x") == "ex"
    assert in_ascii("\x1b[1m─\x1b[0m") == "\x1b[1m-\x1b[0m"


def test_every_mark_of_severity_and_direction_stays_apart_from_the_others() -> None:
    marks = "✖▲•›‹►◂●○░▒█─━│"
    spelt = [in_ascii(mark) for mark in marks]
    assert all(one.strip() and one != "?" for one in spelt)
    for group in ("✖▲•", "›‹", "●○", "░▒█", "─━│"):
        assert len({in_ascii(mark) for mark in group}) == len(group)


def test_no_two_large_digits_look_alike_in_ascii() -> None:
    drawn = {one: tuple(ascii_digits(one)) for one in "0123456789-. "}
    assert len(set(drawn.values())) == len(drawn)
    for one, lines in drawn.items():
        assert {len(line) for line in lines} == {1 if one == "." else 3}
        assert all(line.isascii() for line in lines)
    assert unicodedata.normalize("NFC", "".join(ascii_digits("--.-"))).isascii()
