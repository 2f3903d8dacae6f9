"""No text from a file or a paste reaches the terminal as anything but text."""

from __future__ import annotations

import sys
import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stanchion.base.text import MOST_MARKS, REPLACEMENT, clean, clean_lines

ANY_TEXT = st.text(st.characters(), max_size=60) | st.text(
    st.sampled_from("a\u0301\u0323\u20dd\u1100\u1161\x1b\n\t\u202e")
)


@settings(deadline=None)
@given(ANY_TEXT)
def test_clean_text_has_no_character_that_a_terminal_obeys_and_no_tower_of_marks(text: str) -> None:
    marks = 0
    for character in clean(text):
        category = unicodedata.category(character)
        assert category not in {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
        marks = marks + 1 if category.startswith("M") else 0
        assert marks <= MOST_MARKS


@settings(deadline=None)
@given(ANY_TEXT)
def test_cleaning_twice_changes_nothing(text: str) -> None:
    assert clean(clean(text)) == clean(text)
    assert clean_lines(clean_lines(text)) == clean_lines(text)


@pytest.mark.parametrize(
    "text",
    [
        "\x1b[31m",  # colour
        "\x1b]52;c;QQ==\x07",  # writes the clipboard
        "\x9b31m",  # the same without an escape
        "\x9d0;title\x9c",
        "\x00",
        "\x7f",
        "\u202eabc",  # writes from right to left
        "\u200b",  # no width
        "\ufeff",
        "\ud800",
        "\u2028",
        "\ue000",
    ],
)
def test_every_known_way_to_command_a_terminal_is_shown_as_a_replacement(text: str) -> None:
    assert clean(text)[0] == REPLACEMENT
    assert clean("a" + text)[1] == REPLACEMENT


@pytest.mark.parametrize("text", ["x[/foo]y", "[@click=app.quit]x", "Zoë Ångström", "弾性", "50 % → ½", "   "])
def test_ordinary_text_in_any_script_stays_as_it_is(text: str) -> None:
    assert clean(text) == text


def test_a_letter_and_its_mark_become_one_character() -> None:
    assert clean("o\u0308") == "ö"


def test_a_tab_becomes_a_space_and_a_line_end_stays_only_where_lines_are_shown() -> None:
    assert clean("a\tb\nc") == f"a b{REPLACEMENT}c"
    assert clean_lines("a\tb\r\nc\rd\n") == "a b\nc\nd\n"


@settings(deadline=None)
@given(ANY_TEXT, st.integers(1, 20))
def test_a_text_that_is_too_long_ends_with_an_ellipsis_within_the_length(text: str, longest: int) -> None:
    shown = clean(text, longest)
    assert len(shown) <= longest
    assert shown == clean(text) or shown.endswith("…")


def test_every_kind_of_blank_is_shown_as_a_space() -> None:
    """All characters of category Zs in the Unicode character database of this Python."""
    blanks = [chr(code) for code in range(sys.maxunicode + 1) if unicodedata.category(chr(code)) == "Zs"]
    assert len(blanks) > 10
    assert {clean(f"a{blank}b") for blank in blanks} == {"a b"}
