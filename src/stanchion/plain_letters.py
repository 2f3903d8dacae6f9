"""What is printed where a terminal lacks a letter."""

from __future__ import annotations

import codecs

IN_PLAIN_LETTERS = "stanchion_plain"
_PLAIN = {"\u2212": "-", "\u2013": "-", "\u2192": "->", "\u2026": "...", "\u00b0": " deg", "\u00b7": "."}
"""A sign must not be lost."""


def plainly(error: UnicodeError) -> tuple[str, int]:
    """Stand-ins for letters that the encoding of a terminal lacks."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    lacking = error.object[error.start : error.end]
    return "".join(_PLAIN.get(letter, "?") for letter in lacking), error.end


codecs.register_error(IN_PLAIN_LETTERS, plainly)
