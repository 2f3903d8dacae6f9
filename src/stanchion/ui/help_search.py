"""What the help has on some words, and its text for a window of any width."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator, Sequence

from stanchion.ui.help_reference import GENERAL
from stanchion.ui.help_text import PARTS, WIDTH, HelpPart
from stanchion.wording.american import in_british, worded
from stanchion.wording.glossary import GLOSSARY, glossary_text

FURTHEST_HANGING = 20
"""Columns by which the lines of a paragraph that follow its first hang at most."""
LABEL = re.compile(r"\S[^.:;]{0,17}?(?: {2,}(?:= )?)|[A-Z][\w ,]{0,18} = ")
"""What is explained, and the gap or sign before its explanation."""
TERMS = tuple(f"{term.name}: " for term in GLOSSARY)


def parts_about(typed: str) -> list[HelpPart]:
    """The terms and the parts of the help with these words in them; where none has the words as typed, those with each
    of them somewhere. A term is found by its other names and by American ones too, with the parts that use it.

    >>> [part.text for part in parts_about("race sag")][0].splitlines()[0]
    'Rider sag: Travel used with the rider aboard in riding position, in full'
    >>> parts_about("carburettor")
    []
    """
    wanted = " ".join(in_british(typed).casefold().split())
    words = wanted.split()
    if not words:
        return []
    return _parts_with([wanted]) or _parts_with(words)


def _parts_with(beginnings: Sequence[str]) -> list[HelpPart]:
    """The glossary's terms that have all of these, each at the beginning of a word, in one part; then the parts
    that have them, or one of those terms, those first that have them in their title."""

    def has(text: str) -> bool:
        return all(re.search(rf"\b{re.escape(one)}", text) for one in beginnings)

    terms = [term for term in GLOSSARY if has(_plain(f"{term.name}: {term.meaning} {', '.join(term.also)}"))]
    named = [_plain(term.name) for term in terms if has(_plain(", ".join((term.name, *term.also))))]
    found = [HelpPart("Words", glossary_text(WIDTH, terms))] if terms else []
    for part in (*PARTS, *(part for part in GENERAL if part.title != "Words")):
        text = _plain(f"{part.title} {part.text}")
        if has(text) or any(name in text for name in named):
            found.append(part)
    return sorted(found, key=lambda part: part.title != "Words" and not has(_plain(part.title)))


def _plain(text: str) -> str:
    return " ".join(text.casefold().split())


def fitted(text: str, width: int) -> str:
    """A text of the help in the words chosen; where a window has no room for its lines, each paragraph wrapped anew and
    hanging where its own lines hang.

    >>> print(fitted("Range   = set length fully out, less the set length with it fully\\n          in.\\nShort.", 34))
    Range   = set length fully out,
              less the set length with it
              fully in.
    Short.
    """
    whole = worded(text)
    if all(len(line) <= width for line in whole.split("\n")):
        return whole
    return "\n".join(line for lines in _paragraphs(text) for line in _wrapped([worded(one) for one in lines], width))


def _paragraphs(text: str) -> Iterator[list[str]]:
    """The lines of each paragraph."""
    lines: list[str] = []
    for line in text.split("\n"):
        if lines and not _goes_on(lines, line):
            yield lines
            lines = []
        lines.append(line)
    yield lines


def _goes_on(lines: Sequence[str], line: str) -> bool:
    """Whether a line belongs to a paragraph: it hangs, is amid a sentence, or its first word had no room before."""
    first, before = lines[0], lines[-1]
    words = line.split(maxsplit=1)
    if not words or not before or LABEL.match(line) or line.startswith(TERMS):
        return False
    if line[0] == " ":
        deep = line.startswith(" " * 3) or words[0][0].islower() or words[0] == "Also:"
        return deep and first[0] != " " and before[-1] != ":"
    amid = line[0].islower() and before[-1] not in ".:;"
    return amid or (not LABEL.match(first) and len(before) + 1 + len(words[0]) > WIDTH)


def _wrapped(lines: Sequence[str], width: int) -> list[str]:
    """The lines of a paragraph as wide as there is room; gaps within a line stay."""
    first = lines[0]
    label = LABEL.match(first)
    hanging = label.end() if label else next((len(line) - len(line.lstrip()) for line in lines[1:]), 0)
    if first.startswith(TERMS):
        hanging = 2
    own = len(first) - len(first.lstrip())
    after = " " * (max(own, min(hanging, FURTHEST_HANGING)))
    whole = " ".join([first.rstrip(), *(line.strip() for line in lines[1:])])
    return textwrap.wrap(whole, width, subsequent_indent=after, break_on_hyphens=False) or [""]
