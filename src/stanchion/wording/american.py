"""American trade words and spelling in place of British ones, for those who choose them.

The program's sentences are written in British English. Where they leave `wording/`, and where a label, a heading or a
page of the help is drawn, they go through `worded`, before anything that a person typed is put into them.
"""

from __future__ import annotations

import re
from functools import lru_cache

WORDINGS = ("british", "us")
"""What can be chosen, by its name in the settings file; the first is what the program is written in."""

AMERICAN: dict[str, str] = {
    "top yoke": "top triple clamp",
    "yoke": "triple clamp",
    "stanchion tube": "fork tube",
    "stanchion": "fork tube",
    "mudguard": "fender",
    "sidestand": "kickstand",
    "tyre": "tire",
    "disc": "rotor",
    "bump rubber": "bump stop",
    "judgement": "judgment",
    "colour": "color",
    "centre": "center",
    "coloured": "colored",
    "grey": "gray",
    "towards": "toward",
    "tick them off": "check them off",
    "ticks": "checks off",
    "ticked": "checked off",
    "tick": "check off",
}
"""British word or words, and American ones, in small letters and the singular; a plural in -s follows by itself."""

_LONGEST_FIRST = "|".join(sorted(map(re.escape, AMERICAN), key=len, reverse=True))
BRITISH = re.compile(rf"(?<![\w`.])({_LONGEST_FIRST})(s?)(?![\w`]|\.(?:toml|py)\b)", re.IGNORECASE)
"""A British word of the table, as a whole word; not the program's own name in a command: `stanchion list`."""


class _Wording:
    """The words the program uses; one for the whole program, as a language is."""

    american = False


def choose_wording(name: str) -> None:
    """Use British or American words from now on.

    Args:
        name: one of WORDINGS.
    """
    _Wording.american = name == "us"


def worded(text: str) -> str:
    """A sentence, label or heading of the program in the words chosen. Text that a person typed never comes here.

    >>> worded("Front tyre")
    'Front tyre'
    """
    return in_american(text) if _Wording.american else text


@lru_cache(2048)
def in_american(text: str) -> str:
    """The text with American words.

    >>> in_american("Stanchions raised: check tyre, mudguard and yokes."), in_american("TYRES, bar")
    ('Fork tubes raised: check tire, fender and triple clamps.', 'TIRES, bar')
    """
    return BRITISH.sub(_replaced, text)


def in_british(text: str) -> str:
    """The text with the British words for American ones, as somebody may search for them.

    >>> in_british("Fork tubes"), in_british("tire"), in_british("spring")
    ('stanchions', 'tyre', 'spring')
    """
    for american, british in _BACK.items():
        text = re.sub(rf"\b{re.escape(american)}(s?)\b", rf"{british}\1", text, flags=re.IGNORECASE)
    return text


_BACK = {american: british for british, american in AMERICAN.items() if british not in ("stanchion tube", "top yoke")}


def _replaced(match: re.Match[str]) -> str:
    british, plural = match.groups()
    american = AMERICAN[british.lower()] + plural.lower()
    if len(british) > 1 and british.isupper():
        return american.upper()
    return american[:1].upper() + american[1:] if british[:1].isupper() else american
