"""Where a terminal has no Unicode: how that is concluded, and that what is spelt in ASCII keeps its columns."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from stanchion.text import clean
from stanchion.ui.big_digits import ascii_digits
from stanchion.ui.plain_letters import in_ascii, locale_named, only_ascii

TERM = {"TERM": "xterm-256color"}


@pytest.mark.parametrize(
    ("environ", "encoding", "ascii_alone"),
    [
        ({**TERM, "LANG": "C.UTF-8"}, "utf-8", False),
        ({**TERM, "LANG": "de_DE.utf8"}, "utf-8", False),
        ({**TERM, "LANG": "sr_RS.UTF-8@latin"}, "utf-8", False),
        ({**TERM, "LC_ALL": "C", "LANG": "C.UTF-8"}, "utf-8", True),  # POSIX: LC_ALL comes before the others
        ({**TERM, "LC_ALL": "", "LANG": "POSIX"}, "utf-8", True),  # POSIX: an empty one counts as not set
        ({**TERM, "LC_CTYPE": "POSIX", "LANG": "C.UTF-8"}, "utf-8", True),
        ({**TERM, "LANG": "de_DE.ISO-8859-1"}, "utf-8", True),
        ({**TERM, "LANG": "de_DE.ISO-8859-15@euro"}, "iso8859-15", True),
        ({**TERM, "LANG": "C.UTF-8"}, "ascii", True),
        ({**TERM, "LANG": "de_DE"}, "iso8859-1", True),
        (TERM, "utf-8", False),  # nothing is said of the terminal
        ({"TERM": "linux", "LANG": "C.UTF-8"}, "utf-8", True),
        ({"TERM": "dumb", "LANG": "C.UTF-8"}, "utf-8", True),
        ({"TERM": "vt220", "LANG": "C.UTF-8"}, "utf-8", True),
    ],
)
def test_what_the_terminal_is_said_to_be_decides(environ: Mapping[str, str], encoding: str, ascii_alone: bool) -> None:
    assert only_ascii("terminal", environ, encoding, coerced=False) is ascii_alone
    assert only_ascii("ascii", environ, encoding, coerced=False)
    assert not only_ascii("unicode", environ, encoding, coerced=False)


def test_what_python_sets_by_itself_in_the_bare_locale_says_nothing() -> None:
    # PEP 538: LC_CTYPE is set to C.UTF-8 where the locale is C
    environ = {"LC_CTYPE": "C.UTF-8", "LANG": "C"}
    assert locale_named(environ, coerced=True) == "C"
    assert locale_named(environ, coerced=False) == "C.UTF-8"
    assert locale_named({"LC_CTYPE": "C.UTF-8"}, coerced=True) == ""


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
