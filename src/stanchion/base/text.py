"""Text from outside made safe to show: no control characters, no reordering, few combining marks.

A name in a file, a paste or a key of a TOML table may hold escape sequences that a terminal would obey. What is
stored stays as it was; what is shown goes through here first.
"""

from __future__ import annotations

import unicodedata

REPLACEMENT = "\ufffd"
"""Shown in place of a character that could do harm."""

MOST_MARKS = 2
"""Combining marks kept on one character."""

_HIDDEN = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})


def clean(text: str, longest: int | None = None) -> str:
    r"""One line of text, safe to show.

    Characters of Unicode categories Cc, Cf, Cs, Co, Cn, Zl and Zp become U+FFFD, a tab and every other kind of blank
    (Zs: some are two columns wide, one is a line) becomes a space, the text is put in form NFC, and of combining marks
    in a row only two are kept.

    Args:
        text: any text, from anywhere.
        longest: characters to show at most, >= 1; a longer text ends with an ellipsis. None: no limit.

    Returns:
        The text to show. Clean text comes back unchanged.

    >>> clean("Jo\x1b[31m")
    'Jo�[31m'
    >>> clean("a long machine name", longest=8)
    'a long …'
    """
    kept: list[str] = []
    marks = 0
    for character in unicodedata.normalize("NFC", text):
        category = unicodedata.category(character)
        marks = marks + 1 if category.startswith("M") else 0
        if marks > MOST_MARKS:
            continue
        if character == "\t" or category == "Zs":
            kept.append(" ")
        else:
            kept.append(REPLACEMENT if category in _HIDDEN else character)
    shown = "".join(kept)
    if longest is not None and len(shown) > longest:
        return shown[: longest - 1] + "…"
    return shown


def clean_lines(text: str) -> str:
    r"""Several lines of text, safe to show; each line is made clean and the line ends are kept as newlines.

    >>> clean_lines("first\r\nsecond\x07")
    'first\nsecond�'
    """
    return "\n".join(clean(line) for line in text.replace("\r\n", "\n").replace("\r", "\n").split("\n"))


def one_line(text: str, longest: int | None = None) -> str:
    r"""Several lines of text as one, safe to show; a stroke separates them, and empty lines are dropped.

    >>> one_line("tank half full\nwind from the east\n")
    'tank half full / wind from the east'
    """
    lines = clean_lines(text).split("\n")
    return clean(" / ".join(line.strip() for line in lines if line.strip()), longest)
