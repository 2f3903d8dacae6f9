"""Which earlier states of its file a job came from: the marks beside the end of the file, by which two copies find the
last state that both have in common."""

from __future__ import annotations

import re
from collections.abc import Iterable

MOST = 40
"""Marks that a file carries at most; the newest stay."""
KEY = "follows"
"""The key of the marks in the table [end]."""
LENGTH = 12
_MARKS = re.compile(rf"[0-9a-f]{{{LENGTH}}}( [0-9a-f]{{{LENGTH}}}){{0,{MOST - 1}}}")

Lineage = tuple[str, ...]
"""Marks of the states that a state came from, oldest first."""


def mark_of(sha: str) -> str:
    """The mark of a state, by the fingerprint of its file.

    >>> mark_of("0123456789abcdef")
    '0123456789ab'
    """
    return sha[:LENGTH]


def joined(*lineages: Iterable[str]) -> Lineage:
    """The marks of all, each once and where it came last, the newest of them if there are too many.

    >>> joined(("a", "b"), ("a", "c"))
    ('b', 'a', 'c')
    """
    newest_first = dict.fromkeys(reversed([mark for lineage in lineages for mark in lineage if mark]))
    return tuple(reversed(list(newest_first)[:MOST]))


def written(lineage: Lineage) -> str:
    """The marks as a file holds them."""
    return " ".join(lineage)


def read(value: object) -> Lineage | None:
    """The marks of a file; None if the value is no list of marks.

    >>> read("0123456789ab 0123456789ac"), read("x"), read(3)
    (('0123456789ab', '0123456789ac'), None, None)
    """
    return tuple(value.split(" ")) if isinstance(value, str) and _MARKS.fullmatch(value) else None
