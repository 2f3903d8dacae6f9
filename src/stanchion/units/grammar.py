"""What a person may type for a quantity: a number, then perhaps a word. Nothing else is read, and nothing is guessed.

Comma and point are both decimal signs, and there is at most one. A fraction is written ``9 7/8``. There are no powers
of ten, no sums, no digits but 0 to 9. The meaning of the word is decided elsewhere.
"""

from __future__ import annotations

import re
from decimal import Decimal

from stanchion.base.errors import BadQuantity
from stanchion.base.record import record
from stanchion.base.text import clean

LONGEST = 24
"""Characters of a typed quantity at most."""
MOST_DECIMALS = 6
"""Digits after the decimal sign at most."""

_AS_TYPED = str.maketrans(dict.fromkeys("\t\u00a0\u2009\u202f", " ") | {"\u2212": "-"})
_NUMBER_THEN_WORD = re.compile(r"(?P<number>[-+0-9., /]*)(?P<word>.*)", re.DOTALL)
_DECIMAL = re.compile(r"[+-]?(?:[0-9]{1,7}(?:\.[0-9]{0,6})?|\.[0-9]{1,6})")
_TWO_NUMBERS = re.compile(
    r"\s*(?P<start>[0-9.,]+)\s*(?:[-/\u2010-\u2014\u2212]|to\b)\s*(?P<end>[0-9.,]*)\s*(?P<word>[^0-9]*.*)", re.DOTALL
)
_FRACTION = re.compile(
    r"(?P<sign>[+-]?)(?:(?P<whole>[0-9]{1,4}) +)?(?P<numerator>[0-9]{1,3}) */ *(?P<denominator>[0-9]{1,3})"
)
_POWER_OR_SUM = re.compile(r"[*^]|[eE][-+]?[0-9]")
_THOUSANDS = re.compile(r"[0-9],[0-9]{3}(?![0-9])")
_FRACTION_SIGNS = "¼½¾⅓⅔⅛⅜⅝⅞"


@record
class Typed:
    """A typed quantity in its parts."""

    number: Decimal
    digits: str
    """The number as it was typed."""
    decimals: int
    """Digits after the decimal sign."""
    fraction: bool
    word: str
    """What follows the number: a unit, or nothing."""


def take_apart(text: str) -> Typed:
    """The number and the word of a typed quantity.

    Raises:
        BadQuantity: what is wrong and what to type instead.

    >>> take_apart("12,5 mm")
    Typed(number=Decimal('12.5'), digits='12,5', decimals=1, fraction=False, word='mm')
    >>> take_apart("9 7/8").number
    Decimal('9.875')
    >>> take_apart("1e5")
    Traceback (most recent call last):
    stanchion.base.errors.BadQuantity: powers of ten and sums are not read: write the number out, such as 1200
    """
    if len(text) > LONGEST:
        raise BadQuantity(f"too long: type a number and its unit, at most {LONGEST} characters")
    text = text.translate(_AS_TYPED).strip(" ")
    if not text:
        raise BadQuantity("nothing was typed: type a number, such as 12.5")
    parts = _NUMBER_THEN_WORD.fullmatch(text)
    assert parts is not None  # noqa: S101 - both parts may be empty, so every text matches
    digits, word = parts["number"].strip(" "), parts["word"]
    if not re.search("[0-9]", digits):
        if text[0] in "\u2010\u2011\u2012\u2013\u2014":
            raise BadQuantity(f"'{text[0]}' is a dash: type a minus sign before the number")
        raise BadQuantity(f"'{clean(text)}' does not begin with a number: type one in the digits 0 to 9, such as 12.5")
    if word:
        _refuse_arithmetic(word)
    if "/" in digits:
        return Typed(_fraction(digits), digits, decimals=0, fraction=True, word=word)
    pointed = digits.replace(",", ".")
    if not _DECIMAL.fullmatch(pointed):
        raise BadQuantity(_why_no_decimal(digits))
    decimals = len(pointed.partition(".")[2])
    return Typed(Decimal(pointed), digits, decimals=decimals, fraction=False, word=word)


def take_two_apart(text: str) -> tuple[str, str] | None:
    """The two numbers of a label such as 8.5-10.5, each with the unit behind them; None where it is not of that form.

    Raises:
        BadQuantity: there is no second number yet.

    >>> take_two_apart("8,5 - 10,5 N/mm"), take_two_apart("8/10"), take_two_apart("8.5 N/mm"), take_two_apart("-5")
    (('8,5 N/mm', '10,5 N/mm'), ('8', '10'), None, None)
    """
    found = _TWO_NUMBERS.fullmatch(text) if len(text) <= LONGEST else None
    if found is None:
        return None
    if not found["end"]:
        raise BadQuantity("type the rate at the end of the stroke too, such as 8.5-10.5")
    word = found["word"]
    return f"{found['start']} {word}".rstrip(), f"{found['end']} {word}".rstrip()


def may_be_thousands(text: str) -> bool:
    """Whether exactly three digits follow a comma, so that it may be meant to separate thousands.

    >>> may_be_thousands("1,250 mm"), may_be_thousands("1,25 mm")
    (True, False)
    """
    return _THOUSANDS.search(text) is not None


def _refuse_arithmetic(word: str) -> None:
    """Say what a person may have meant by a word that no unit begins with."""
    if _POWER_OR_SUM.match(word):
        raise BadQuantity("powers of ten and sums are not read: write the number out, such as 1200")
    if word[0] == "_":
        raise BadQuantity("'_' does not belong in a number: type the digits together, such as 1200")
    if word[0] in _FRACTION_SIGNS:
        raise BadQuantity(f"'{word[0]}' is not read: type a decimal, or a fraction such as 7 1/2")


def _fraction(digits: str) -> Decimal:
    found = _FRACTION.fullmatch(digits)
    if found is None:
        raise BadQuantity(f"'{digits}' is not a fraction that can be read: type it as 9 7/8")
    whole, numerator, denominator = (int(found[name] or 0) for name in ("whole", "numerator", "denominator"))
    if not 2 <= denominator <= 64:
        raise BadQuantity(f"the fraction {numerator}/{denominator} cannot be right: type halves to 64ths, such as 7/8")
    if found["whole"] and numerator >= denominator:
        raise BadQuantity(f"the fraction {numerator}/{denominator} is not below one: check the number before it")
    value = whole + Decimal(numerator) / Decimal(denominator)
    return -value if found["sign"] == "-" else value


def _why_no_decimal(digits: str) -> str:
    """What is wrong with a number outside the grammar, and what to type."""
    signs = [character for character in digits if character in ".,"]
    if len(signs) > 1:
        last = signs[-1]
        if signs.count(last) > 1:
            return "two decimal signs: type one, such as 250.5"
        before, _, after = digits.rpartition(last)
        return f"two decimal signs: type {before.replace(signs[0], '')}.{after}"
    if re.search(r"[-+]", digits[1:]):
        return "one sign may stand before the number and none after it: type it as -5 or 5"
    if " " in digits:
        return f"a space inside the number: type {digits.replace(' ', '')}"
    return f"too many digits: at most 7 before the decimal sign and {MOST_DECIMALS} after it"
