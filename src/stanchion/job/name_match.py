"""Matching names as people type them: which are the same, and which contain the words searched for."""

from __future__ import annotations

import unicodedata


def match_key(name: str) -> str:
    """The name in small letters, with single spaces and one form of each letter, as different spellings have it in
    common.

    Args:
        name: as it was typed.

    Returns:
        A key that is equal for every spelling of the name; empty if nothing was typed.

    >>> match_key(" Grey  MULE ") == match_key("grey mule")
    True
    """
    return " ".join(unicodedata.normalize("NFKC", unicodedata.normalize("NFKC", name).casefold()).split())


def plain_letters(text: str) -> str:
    """The text in small letters without accents, as it is searched.

    >>> plain_letters("Möwe")
    'mowe'
    """
    if text.isascii():
        return text.lower()
    apart = unicodedata.normalize("NFKD", text.casefold())
    return "".join(letter for letter in apart if not unicodedata.combining(letter))


def has_words(text: str, words: str) -> bool:
    """Whether every word is found in a text, in capitals or not, with accents or without.

    >>> has_words("Gravel Loop (invented)", "loop GRAV"), has_words("Gravel Loop", "lake")
    (True, False)
    """
    searched = plain_letters(text)
    return all(word in searched for word in plain_letters(words).split())


def begins(text: str, typed: str) -> bool:
    """Whether every word typed begins a word of the text.

    >>> begins("will not turn, turning in", "tu wi"), begins("packs down", "own")
    (True, False)
    """
    words = plain_letters(text).split()
    return all(any(word.startswith(one) for word in words) for one in plain_letters(typed).split())
