"""What is absent from the plain data, each with the reason: no null without one."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from stanchion.judgement.results.assessment import Band
from stanchion.judgement.results.codes import Problem
from stanchion.judgement.results.figures import Figure, absent

Value = Callable[[str, Figure], float | None]
"""Gives the number of a figure, and notes under its path why there is none."""

NOT_RECORDED = "not recorded"


def word(code: str, at: str, waits_for: Figure, otherwise: Problem, value: Value) -> str | None:
    """A code as plain data.

    Args:
        code: the code, or "" where there is none.
        at: its path.
        waits_for: the figure it is made from.
        otherwise: problem that says why there is no code where that figure is known.
        value: notes the reason.
    """
    if not code:
        value(at, absent(otherwise) if waits_for.known else waits_for)
    return code or None


def pair(band: Band | None, at: str, otherwise: Problem, value: Value) -> list[float] | None:
    """Both ends of a band or target as plain data; otherwise is the problem where the profile has none."""
    if band is None:
        value(at, absent(otherwise))
        return None
    return list(band)


def nulls(data: Any, at: str) -> Iterator[str]:
    """The path of every null."""
    if data is None:
        yield at
    elif isinstance(data, dict):
        for key, item in data.items():
            yield from nulls(item, f"{at}.{key}" if at else key)
    elif isinstance(data, list):
        for position, item in enumerate(data):
            yield from nulls(item, f"{at}.{position}")
