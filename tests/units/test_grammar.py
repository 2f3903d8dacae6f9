"""What is typed is a number and perhaps a word, read as a person means it or refused with what to type instead."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stanchion.base.errors import BadQuantity
from stanchion.units.grammar import LONGEST, may_be_thousands, take_apart


@pytest.mark.parametrize(
    ("text", "number", "word"),
    [
        ("250", "250", ""),
        ("250.5", "250.5", ""),
        ("250,5", "250.5", ""),
        ("12,5", "12.5", ""),
        (".5", "0.5", ""),
        (",5", "0.5", ""),
        ("250.", "250", ""),
        ("+5", "5", ""),
        ("-5", "-5", ""),
        ("\u22125 mm", "-5", "mm"),  # the typographic minus is a minus, and never dropped
        ("  9.5\tin ", "9.5", "in"),
        ("250\u00a0mm", "250", "mm"),
        ("54 lb / in", "54", "lb / in"),
        ("9 7/8", "9.875", ""),
        ('9  7 / 8"', "9.875", '"'),
        ("7/8in", "0.875", "in"),
        ("-1 1/2", "-1.5", ""),
        ("15/8", "1.875", ""),
        ("1234567.123456", "1234567.123456", ""),
    ],
)
def test_a_number_is_read_as_it_is_meant(text: str, number: str, word: str) -> None:
    typed = take_apart(text)
    assert (typed.number, typed.word) == (Decimal(number), word)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "nothing was typed: type a number"),
        (" \t ", "nothing was typed: type a number"),
        ("1,250.5", "two decimal signs: type 1250.5"),
        ("1.250,5", "two decimal signs: type 1250.5"),
        ("12.5.3", "two decimal signs: type one, such as 250.5"),
        ("1,250,500", "two decimal signs: type one"),
        ("1e5", "powers of ten and sums are not read: write the number out"),
        ("1E-5 mm", "powers of ten"),
        ("9**9**9", "powers of ten and sums"),
        ("9^9^9^9", "powers of ten and sums"),
        ("1_000", "'_' does not belong in a number"),
        ("nan", "'nan' does not begin with a number: type one in the digits 0 to 9"),
        ("inf", "'inf' does not begin with a number"),
        ("-Infinity", "'-Infinity' does not begin with a number"),
        ("mm", "'mm' does not begin with a number"),
        (".", "does not begin with a number"),
        ("-", "does not begin with a number"),
        ("/", "does not begin with a number"),
        ("\u0665", "does not begin with a number"),  # Arabic five
        ("\uff15mm", "does not begin with a number"),  # full-width five
        ("\u20135 mm", "is a dash: type a minus sign"),
        ("\u20145 mm", "is a dash: type a minus sign"),
        ("7½ in", "'½' is not read: type a decimal, or a fraction such as 7 1/2"),
        ("--5", "one sign may stand before the number"),
        ("5-", "one sign may stand before the number"),
        ("5+5", "one sign may stand before the number"),
        ("- 5", "a space inside the number: type -5"),
        ("1 250", "a space inside the number: type 1250"),
        ("9 7", "a space inside the number"),
        ("12345678", "too many digits: at most 7 before the decimal sign and 6 after it"),
        ("1.1234567", "too many digits"),
        ("9 9/8", "the fraction 9/8 is not below one"),
        ("9 8/8", "the fraction 8/8 is not below one"),
        ("1/0", "the fraction 1/0 cannot be right: type halves to 64ths"),
        ("7/65", "the fraction 7/65 cannot be right"),
        ("1/2/3", "is not a fraction that can be read: type it as 9 7/8"),
        ("9-7/8", "is not a fraction that can be read"),
        ("9.5/2", "is not a fraction that can be read"),
        ("9" * (LONGEST + 1), "too long: type a number and its unit, at most 24 characters"),
        ("9" * 1_000_000, "too long"),
        ("(" * 1_000_000, "too long"),
    ],
)
def test_what_is_wrong_is_said_with_what_to_type_instead(text: str, message: str) -> None:
    with pytest.raises(BadQuantity) as refused:
        take_apart(text)
    assert message in str(refused.value)


@pytest.mark.parametrize("junk", ["\0", "\n", "$", "?", "!", ";", "\x1b", "\ud800", "\u202e"])
def test_junk_after_a_number_is_never_dropped(junk: str) -> None:
    assert take_apart(f"5{junk}mm").word == f"{junk}mm"


@settings(deadline=None)
@given(st.text(max_size=30) | st.text(st.sampled_from("0123456789.,-+/ eE_*^½\u2212\u2013\x00mn"), max_size=LONGEST))
def test_any_text_gives_a_number_and_a_word_or_a_refusal(text: str) -> None:
    try:
        typed = take_apart(text)
    except BadQuantity as refused:
        message = str(refused)
    else:
        message = ""
        assert typed.number.is_finite()
        assert abs(typed.number) < 10**7
        assert 0 <= typed.decimals <= 6
    assert message.isprintable()


@pytest.mark.parametrize(
    ("text", "doubtful"),
    [("1,250", True), ("1,250 mm", True), ("1,25", False), ("1,2500", False), ("1.250", False), ("1250", False)],
)
def test_a_comma_before_exactly_three_digits_may_part_the_thousands(text: str, doubtful: bool) -> None:
    assert may_be_thousands(text) is doubtful
